//! Loads: cases, combinations, and what they come to.

use serde::Serialize;

#[derive(Debug, Serialize)]
/// Load cases of one kind.
pub struct Case {
    pub names: Vec<String>,
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

/// The combinations of one clause, those that differ by wind or earthquake alone
/// written once.
#[derive(Debug, Serialize)]
pub struct CombinationSet {
    pub method: String,
    pub clause: String,
    pub c_d: String,
    pub names: Vec<String>,
    pub changed: bool,
}

/// A combination that governs some limit.
#[derive(Debug, Serialize)]
pub struct Governing {
    pub name: String,
    pub method: String,
    pub c_d: String,
    /// How many limits it governs; posts that are alike count as one.
    pub limits: usize,
    /// The posts in which it brings about the highest ratio, and their forces.
    pub marks: String,
    pub p: String,
    pub h_x: String,
    pub h_y: String,
    pub ratio: String,
    /// The limit that has it.
    pub limit: String,
    pub changed: bool,
}

#[derive(Debug, Serialize)]
pub struct GroupRef {
    pub no: usize,
    pub title: String,
    pub marks: Vec<String>,
    pub file: String,
}

#[derive(Debug, Serialize)]
pub struct PagesRef {
    pub title: String,
    pub file: String,
}

/// Nominal reactions, a column for posts with the same ones.
#[derive(Debug, Serialize)]
pub struct ReactionTable {
    pub columns: Vec<String>,
    pub rows: Vec<ReactionRow>,
}

#[derive(Debug, Serialize)]
pub struct ReactionRow {
    pub case: String,
    /// `P`, `H_x`, `w_y`.
    pub what: String,
    /// Wind on the post itself, which is no force but a force along a length.
    pub wind: bool,
    pub cells: Vec<String>,
    /// Which of them are worked line by line.
    pub worked: Vec<bool>,
    pub changed: bool,
}

/// A force that others design for, wherever it comes up, the largest first: at the
/// level of the ASD combinations and at that of the strength combinations.
#[derive(Debug, Serialize)]
pub struct HandedRow {
    pub what: String,
    pub asd: Vec<HandedForce>,
    pub strength: Vec<HandedForce>,
    /// What of each is not named, in words.
    pub rest: [String; 2],
    pub changed: bool,
}

#[derive(Debug, Serialize)]
pub struct HandedForce {
    /// Its posts, and as many of them as a line names.
    #[serde(skip)]
    pub posts: Vec<String>,
    pub marks: String,
    pub value: String,
    pub combination: String,
}

/// One load case over all posts: what roof, beams and posts bring, where that was
/// worked out, and what the bases hand on, down, along x and along y.
#[derive(Debug, Serialize)]
pub struct BalanceRow {
    pub case: String,
    pub brought: Option<[String; 3]>,
    pub ground: [String; 3],
    pub changed: bool,
}
