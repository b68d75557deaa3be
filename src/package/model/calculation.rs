//! The calculation sheet of a group: one page that an engineer can initial.

use serde::Serialize;

use super::{ColumnHead, LimitRow, Math, Printed, Span};
use crate::drawing::Drawing;

/// `sheet-1.json`.
#[derive(Debug, Serialize)]
pub struct Calculation {
    /// `Posts A1, A3`.
    pub title: String,
    pub marks: Vec<String>,
    /// Posts that come to the same ratios in other combinations.
    pub alike: Vec<String>,
    pub ok: bool,
    /// The post in words, and what it chose: base, foundation, anchors.
    pub facts: Vec<(String, String)>,
    /// Which of them changed, by their places.
    pub changed: Vec<usize>,
    /// What the combinations that govern bring to it.
    pub forces: Vec<ForceRow>,
    /// The unit of the forces.
    pub units: String,
    pub sketch: Drawing,
    /// The ten highest that loads press on; all that are not met.
    pub limits: Vec<TopLimit>,
    /// Sizes and distances of half or more of what they may be.
    pub sizes: Vec<SizeLimit>,
    pub reacts: Reacting,
    /// What a typed length may be off.
    pub slack: &'static str,
    /// Limits of the group in all, and how many of them are met.
    pub all: usize,
    pub met: usize,
    pub fits: usize,
    pub fits_met: usize,
    /// What of the group does not go together.
    pub unfit: Vec<UnfitLine>,
    /// Numbers of the assumptions that its sheets make.
    pub assumptions: String,
}

#[derive(Debug, Serialize)]
pub struct ForceRow {
    pub head: ColumnHead,
    /// `P`, `H_x`, `H_y`.
    pub values: Vec<String>,
    pub changed: bool,
}

#[derive(Debug, Serialize)]
pub struct TopLimit {
    pub line: String,
    pub say: Vec<Span>,
    pub sheet: String,
    pub cite: String,
    pub symbolic: Math,
    /// How demand and capacity are worked.
    pub formulas: Vec<SideFormula>,
    /// Of this group, in the combination that governs.
    pub row: LimitRow,
    /// The verdict may turn within what typed values may be off.
    pub close: bool,
    pub combination: String,
}

#[derive(Debug, Serialize)]
pub struct SideFormula {
    pub symbol: Math,
    pub symbolic: Math,
    /// Where what it comes from is printed for this post.
    pub substituted: Option<Math>,
    pub value: Printed,
}

#[derive(Debug, Serialize)]
pub struct UnfitLine {
    pub line: String,
    pub say: Vec<Span>,
    pub cite: String,
    pub remedy: String,
}

#[derive(Debug, Serialize)]
pub struct SizeLimit {
    pub line: String,
    pub say: Vec<Span>,
    pub ratio: String,
    pub close: bool,
    pub changed: bool,
}

/// How the ratio that governs reacts, in words; names of columns and keys stand between backquotes.
#[derive(Debug, Serialize)]
pub struct Reacting {
    /// Inputs, each with the percent by which the ratio changes for one percent of it.
    pub inputs: Vec<String>,
    /// Other sizes and grades, each with the ratio that would govern.
    pub steps: Vec<String>,
    pub loads: String,
}
