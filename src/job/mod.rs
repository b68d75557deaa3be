//! A job as its files say it: who, where, by which code, and a row of facts
//! for every post. Reads cells; what a fact must be is asked by whoever needs
//! it. Knows no sheet.
//!
//! A file uses only those that stand above it here.

mod card;

mod marks;

mod fact;

mod rows;

mod catalogue;

mod loads;

mod known;

mod loadlike;

mod mapping;

mod headings;

mod starter;

mod document;

mod answers;

mod firm;

mod keys;

mod head;

mod reactions;

mod posts;

mod wind;

mod folder;

mod tables;

mod read;

pub use answers::{Answer, Answers, CONFIRMATIONS};
pub use card::{Card, Revision};
pub use catalogue::{CATALOGUES, Catalogue, Entries, Entry, is_part};
pub use document::table_place;
pub use fact::{Fact, Facts, Whence};
pub use firm::{BYTES as LOGO_BYTES, Firm, Logo};
pub use folder::{slip_of_folder, strangers, strangers_of_catalogue};
pub use known::Known;
pub use loads::{ALL, CASE, LoadSettings, PARTS, Reaction, WIND, case_names, kind as kind_of_load, load_column};
pub use mapping::{Alias, Mapping};
pub use marks::{some_marks, some_posts};
pub use posts::{Catalogued, Post};
pub use reactions::REACTIONS;
pub use read::{InputFile, Job};
pub use rows::Rows;
pub use starter::{Starter, unmarked};
pub use tables::Tables;
