//! Key plan, roof and load path.

use serde::Serialize;

use crate::drawing::Drawing;

#[derive(Debug, Default, Serialize)]
pub struct KeyPlan {
    /// None for a job without posts.
    pub drawing: Option<Drawing>,
    /// What the letters and numbers beside the posts stand for.
    pub key: Vec<(String, String)>,
    /// Mark, and what belongs under it, where the posts stand too close for that.
    pub posts: Vec<(String, String)>,
    pub notes: Vec<String>,
    /// What the plan prints of each post, by its mark. No page prints it apart.
    #[serde(skip)]
    pub stands: Vec<(String, String)>,
    pub changed: PlanChanges,
}

/// What of the key plan changed: the drawing, which of its posts, lines of its key
/// and of its list by their places.
#[derive(Debug, Default, Serialize)]
pub struct PlanChanges {
    pub drawing: bool,
    pub posts: Vec<String>,
    pub key: Vec<usize>,
    pub list: Vec<usize>,
}

/// The roof in section, and the net pressures of its winds.
#[derive(Debug, Serialize)]
pub struct RoofPage {
    pub drawing: Drawing,
    /// The halves of the roof: `toward −y`, `toward +y`.
    pub halves: [String; 2],
    pub rows: Vec<RoofRow>,
    pub changed: bool,
}

#[derive(Debug, Serialize)]
pub struct RoofRow {
    pub case: String,
    /// `+y, across the ridge`.
    pub toward: String,
    /// Net pressure on each half, over all posts.
    pub pressures: [String; 2],
    pub changed: bool,
}

/// How loads go from the roof to the ground.
#[derive(Debug, Serialize)]
pub struct LoadPath {
    pub drawing: Drawing,
    /// From the top down, by the numbers of the drawing.
    pub down: Vec<String>,
    /// What holds the tops, along each axis.
    pub sideways: Vec<Sideways>,
    pub changed: bool,
    /// Which steps down changed, by their places.
    pub changed_down: Vec<usize>,
}

#[derive(Debug, Serialize)]
pub struct Sideways {
    /// `x`, `y`, or both.
    pub axis: String,
    pub marks: String,
    /// `knee braces`, `a cantilever`, …
    pub by: String,
    /// How it works, and who designs it.
    pub how: String,
    pub changed: bool,
}
