//! Shop and field sheets, and schedules.

use std::sync::Arc;

use serde::{Serialize, Serializer};

use super::{Printed, Span};
use crate::drawing::Drawing;

#[derive(Debug, Serialize)]
pub struct ScheduleTable {
    pub title: String,
    pub header: Vec<String>,
    pub rows: Vec<Vec<String>>,
    /// Which rows changed, by their places.
    pub changed: Vec<usize>,
}

/// A sheet for the shop or the site.
#[derive(Debug, Serialize)]
pub struct PlainSheet {
    pub title: String,
    /// It stands under the one before on a page that has room for both.
    pub follows: bool,
    /// What is not met of its posts, which puts them on hold; empty where all is met.
    pub hold: Vec<HoldPart>,
    /// Titles of the job's own sheets that say something here.
    pub own: Vec<String>,
    /// What differs between its posts: a row for each kind under the headings, or the one kind there is.
    pub head: Vec<Vec<Span>>,
    pub kinds: Vec<Vec<String>>,
    /// Rows of columns of figures that stand under each other.
    pub figures: Vec<Vec<Vec<PlainFigure>>>,
    /// Left and right.
    pub columns: [Vec<PlainItem>; 2],
    pub changed: bool,
}

#[derive(Debug, Serialize)]
pub struct PlainFigure {
    pub say: Vec<Span>,
    #[serde(serialize_with = "whole")]
    pub drawing: Arc<Drawing>,
}

/// A drawing that others may share.
fn whole<S: Serializer>(drawing: &Drawing, serializer: S) -> Result<S::Ok, S::Error> {
    drawing.serialize(serializer)
}

/// A heading, a value with its words, or words.
#[derive(Debug, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum PlainItem {
    Heading(Vec<Span>),
    Value(PlainValue),
    Words(Vec<Span>),
}

impl PlainSheet {
    pub fn items(&self) -> impl Iterator<Item = &PlainItem> {
        self.columns.iter().flatten()
    }

    pub fn values(&self) -> impl Iterator<Item = &PlainValue> {
        self.items().filter_map(|item| match item {
            PlainItem::Value(value) => Some(value),
            _ => None,
        })
    }

    pub fn words(&self) -> impl Iterator<Item = &[Span]> {
        self.items().filter_map(|item| match item {
            PlainItem::Heading(words) | PlainItem::Words(words) => Some(words.as_slice()),
            PlainItem::Value(_) => None,
        })
    }

    pub fn drawings(&self) -> impl Iterator<Item = &Drawing> {
        self.figures.iter().flatten().flatten().map(|figure| &*figure.drawing)
    }
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
