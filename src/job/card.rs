//! The head of `job.toml`: what stands on every page.

use jiff::civil::Date;

#[derive(Clone, Debug)]
pub struct Card {
    pub name: String,
    pub place: String,
    pub number: String,
    pub client: String,
    pub date: Date,
    pub revision: String,
    pub prepared_by: String,
    pub checked_by: String,
}

#[derive(Clone, Debug)]
pub struct Revision {
    pub no: String,
    pub date: String,
    pub what: String,
}
