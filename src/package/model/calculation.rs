//! The calculation sheet of a group: one page that an engineer can initial.

use serde::Serialize;

use super::{ColumnHead, LimitRow, Math, Span};
use crate::drawing::Drawing;

/// `sheet-1.json`.
#[derive(Debug, Serialize)]
pub struct Calculation {
    /// `Posts A1, A3`.
    pub title: String,
    pub marks: Vec<String>,
    pub ok: bool,
    /// The post in words, and what it chose: base, foundation, anchors.
    pub facts: Vec<(String, String)>,
    /// What the combinations that govern bring to it.
    pub forces: Vec<ForceRow>,
    pub sketch: Option<Drawing>,
    /// The ten highest.
    pub limits: Vec<TopLimit>,
    /// Limits of the group in all, and how many of them are met.
    pub all: usize,
    pub met: usize,
    pub fits: usize,
    pub fits_met: usize,
    /// Numbers of the assumptions that its sheets make.
    pub assumptions: String,
    /// Where its sheets are worked.
    pub worked: String,
}

#[derive(Debug, Serialize)]
pub struct ForceRow {
    pub head: ColumnHead,
    /// `P`, `H_x`, `H_y`, each with its unit.
    pub values: Vec<String>,
}

#[derive(Debug, Serialize)]
pub struct TopLimit {
    pub line: String,
    pub say: Vec<Span>,
    pub sheet: String,
    pub cite: String,
    pub symbolic: Math,
    /// Of this group, in the combination that governs.
    pub row: LimitRow,
    pub combination: String,
}
