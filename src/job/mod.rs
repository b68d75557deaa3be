//! A job as its files say it: who, where, by which code, and a row of facts
//! for every post. Reads cells; what a fact must be is asked by whoever needs
//! it. Knows no sheet.

mod card;
mod catalogue;
mod fact;
mod loads;
mod read;

pub use card::{Card, Revision};
pub use catalogue::{CATALOGUES, Catalogue, Entry};
pub use fact::{Fact, Facts, find_fact};
pub use loads::{LoadSettings, Reaction, case_names, load_column};
pub use read::{InputFile, Job, Post, REACTIONS, row_facts};
