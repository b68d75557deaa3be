//! `posts.csv` in, a calculation package out.
//!
//! ```text
//! files ──> job ──> sheets ──> results ──> package ──> PDF
//! ```
//!
//! One direction: a module uses only those that stand above it here. `command`
//! holds a file for each command; `load` is what they begin with.

// They end the program where nobody can hear them: `files` says what there is to say.
#![deny(clippy::print_stdout, clippy::print_stderr)]

pub mod source;

pub mod names;

pub mod kept;

pub mod diag;

pub mod legible;

pub mod quantity;

pub mod workbook;

pub mod grid;

pub mod formula;

pub mod job;

pub mod sheet;

pub mod program;

pub mod typeset;

pub mod engine;

pub mod verdict;

pub mod alone;

pub mod validate;

pub mod revision;

pub mod choose;

pub mod drawing;

pub mod package;

pub mod pdf;

pub mod report;

pub mod files;

pub mod folder;

pub mod templates;

pub mod fresh;

pub mod load;

pub mod archive;

pub mod cli;

pub mod command;
