//! Loads: cases, combinations, and what they come to.

use serde::Serialize;

#[derive(Debug, Serialize)]
pub struct Case {
    pub name: String,
    pub what: String,
}

#[derive(Debug, Serialize)]
pub struct Combination {
    pub name: String,
    pub method: String,
    pub clause: String,
    /// Load duration factor; empty for strength combinations.
    pub c_d: String,
}

#[derive(Debug, Serialize)]
pub struct GroupRef {
    pub no: usize,
    pub title: String,
    pub marks: Vec<String>,
    pub file: String,
    /// Nominal reactions, one row a load case, then every combination.
    pub reactions: Vec<ReactionRow>,
    pub combinations: Vec<CombinationRow>,
}

#[derive(Debug, Serialize)]
pub struct PagesRef {
    pub title: String,
    pub file: String,
}

#[derive(Debug, Serialize)]
pub struct ReactionRow {
    pub case: String,
    pub p: String,
    pub h_x: String,
    pub h_y: String,
    /// Wind on the post itself, as `Package::line_load` says.
    pub w_x: String,
    pub w_y: String,
}

/// One load case over all posts: what roof, beams and posts bring and
/// what the bases hand on, down, along x and along y.
#[derive(Debug, Serialize)]
pub struct BalanceRow {
    pub case: String,
    pub brought: [String; 3],
    pub ground: [String; 3],
}

#[derive(Debug, Serialize)]
pub struct CombinationRow {
    pub name: String,
    pub method: String,
    pub c_d: String,
    pub p: String,
    pub h_x: String,
    pub h_y: String,
    /// Highest ratio among all limits in this combination; `"–"` if none.
    pub ratio: String,
    /// This combination governs some limit of the group.
    pub governs: bool,
    /// This combination holds the group's highest ratio.
    pub highest: bool,
}
