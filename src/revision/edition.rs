//! A job as it is compared with another state of itself.

use std::collections::BTreeMap;

use super::inputs::{InputRow, rows};
use super::limits::{Stands, stands};
use crate::engine::Results;
use crate::job::{Job, Revision};

/// A job, worked: a folder now, or what a package carries of one.
#[derive(Debug)]
pub struct Edition {
    /// What it calls itself.
    pub revision: String,
    pub date: String,
    pub revisions: Vec<Revision>,
    /// Program and version that worked it.
    pub program: String,
    pub inputs: Vec<InputRow>,
    /// The texts of its own sheets and tables, by their paths in its folder.
    pub own: BTreeMap<String, String>,
    /// Of the built-in ones, where they may be those of another version.
    pub built_in: BTreeMap<String, String>,
    pub stands: Vec<Stands>,
}

impl Edition {
    pub fn new(job: &Job, results: &Results, own: BTreeMap<String, String>, program: &str) -> Edition {
        // A revision has a date of its own; before any is entered there is that of the job.
        let entered = job.revisions.iter().find(|entry| entry.no == job.card.revision);
        Edition {
            revision: job.card.revision.clone(),
            date: entered.map_or(job.card.date.to_string(), |entry| entry.date.clone()),
            revisions: job.revisions.clone(),
            program: program.into(),
            inputs: rows(job),
            own,
            built_in: BTreeMap::new(),
            stands: stands(job, results),
        }
    }
}
