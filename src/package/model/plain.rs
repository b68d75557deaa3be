//! Shop and field sheets, and schedules.

use serde::Serialize;

use super::{Printed, Span};
use crate::drawing::Drawing;

#[derive(Debug, Serialize)]
pub struct ScheduleTable {
    pub title: String,
    pub header: Vec<String>,
    pub rows: Vec<Vec<String>>,
}

/// A page for the shop or the site.
#[derive(Debug, Serialize)]
pub struct PlainSheet {
    pub title: String,
    /// What is not met of its posts, which puts them on hold; empty where all is met.
    pub hold: Vec<HoldPart>,
    /// Titles of the job's own sheets that say something here.
    pub own: Vec<String>,
    pub facts: Vec<(String, String)>,
    pub figures: Vec<(Vec<Span>, Drawing)>,
    pub values: Vec<PlainValue>,
    pub words: Vec<Vec<Span>>,
}

/// A limit that is not met, where it stands, and for which posts.
#[derive(Debug, Serialize)]
pub struct HoldPart {
    pub marks: String,
    pub limit: String,
    pub line: String,
}

#[derive(Debug, Serialize)]
pub struct PlainValue {
    pub say: Vec<Span>,
    pub value: Printed,
}
