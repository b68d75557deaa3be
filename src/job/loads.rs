//! Nominal reactions at a post's base, per load case, and how cases and columns
//! of reactions are named.

use std::collections::BTreeSet;

use crate::diag::{Diagnostic, Kind::Meant};
use crate::grid::same_name;
use crate::quantity::Dim;

/// Axial force (down positive) and shears, in pounds, and the wind on the post
/// itself, which the shears do not hold, in pounds an inch.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Reaction {
    pub p: f64,
    pub h_x: f64,
    pub h_y: f64,
    pub w_x: f64,
    pub w_y: f64,
}

/// A load on a length.
const LINE: Dim = Dim::of(-1, 1);

/// The parts of a reaction, each with its dimension.
pub const PARTS: [(&str, Dim); 5] =
    [("P", Dim::FORCE), ("H_x", Dim::FORCE), ("H_y", Dim::FORCE), ("w_x", LINE), ("w_y", LINE)];

/// From here on the parts are wind on the post itself.
pub(super) const WIND: usize = 3;

impl Reaction {
    /// Nothing but what a file leaves out as zero: of the wind on the post it has
    /// to speak.
    pub(super) fn unsaid() -> Reaction {
        Reaction { w_x: f64::NAN, w_y: f64::NAN, ..Reaction::default() }
    }

    /// Sets a part by its place.
    pub fn set(&mut self, part: usize, value: f64) {
        *[&mut self.p, &mut self.h_x, &mut self.h_y, &mut self.w_x, &mut self.w_y][part] = value;
    }
}

/// `[loads]` of `job.toml`.
#[derive(Clone, Debug, Default)]
pub struct LoadSettings {
    /// Each wind case acts as given and reversed.
    pub both_signs: bool,
    pub signs: String,
}

/// Kinds of load that a case's name can begin with, in the order of a page.
const KINDS: [&str; 7] = ["D", "L", "Lr", "S", "R", "W", "E"];

/// The kind of a case, `W` of `W_up`; none if the name is no load case.
pub fn kind(case: &str) -> Option<&'static str> {
    match case {
        "D" => Some("D"),
        "L" => Some("L"),
        "Lr" => Some("Lr"),
        "S" => Some("S"),
        "R" => Some("R"),
        _ if case.starts_with('W') => Some("W"),
        "E_x" | "E_y" => Some("E"),
        _ => None,
    }
}

/// All cases in the order of a page.
pub fn case_names<'a>(cases: impl IntoIterator<Item = &'a String>) -> Vec<String> {
    let names: BTreeSet<&String> = cases.into_iter().collect();
    let mut names: Vec<String> = names.into_iter().cloned().collect();
    names.sort_by_key(|name| KINDS.iter().position(|known| kind(name) == Some(known)));
    names
}

/// A column that holds a reaction: which part, of which case, if there is such
/// a case.
pub fn load_column(name: &str) -> Option<(usize, String)> {
    column(name).filter(|(_, case)| kind(case).is_some())
}

/// The same, whatever the case is called.
pub fn column(name: &str) -> Option<(usize, String)> {
    let plain = name.trim().replace([' ', '-'], "_");
    for (part, (prefix, _)) in PARTS.into_iter().enumerate() {
        let Some(head) = plain.get(..prefix.len()).filter(|head| same_name(head, prefix)) else { continue };
        let Some(case) = plain[head.len()..].strip_prefix('_') else { continue };
        // `Ex` and `ex` are the case that a page calls `E_x`.
        let case = match case {
            "Ex" => "E_x",
            "Ey" => "E_y",
            case => case,
        };
        return Some((part, case.to_string()));
    }
    None
}

/// What a diagnostic about a load case as such is about: where one cannot be
/// read, none is missed.
pub const CASE: &str = "load case";

/// What to say of a case that is none.
pub fn no_case(name: &str) -> Diagnostic {
    Diagnostic::new(format!("`{name}` is not a load case"))
        .of(Meant, CASE)
        .hint("the cases are D, L, Lr, S, R, E_x, E_y, and W with the name of the wind, such as W1 or W_up")
}
