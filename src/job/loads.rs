//! Nominal reactions at a post's base, per load case.

use std::collections::BTreeMap;

use crate::diag::{Checked, Complaint, Complaints};
use crate::formula::{Kind, Value};
use crate::grid::{Grid, same_name};
use crate::quantity::Dim;

use super::Fact;

/// Axial force (down positive) and shears, in pounds.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Reaction {
    pub p: f64,
    pub h_x: f64,
    pub h_y: f64,
}

/// `[loads]` of `job.toml`.
#[derive(Clone, Debug, Default)]
pub struct LoadSettings {
    /// Each wind case acts as given and reversed.
    pub both_signs: bool,
    pub s_ds: Option<f64>,
    pub rho: f64,
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
    let mut names: Vec<String> = cases.into_iter().cloned().collect();
    names.sort_by_key(|name| (KINDS.iter().position(|known| kind(name) == Some(known)), name.clone()));
    names.dedup();
    names
}

/// A column that holds a reaction: which part, of which case.
pub(super) fn column(name: &str) -> Option<(usize, String)> {
    let plain = name.trim().replace([' ', '-'], "_");
    for (part, prefix) in ["P_", "H_x_", "H_y_"].into_iter().enumerate() {
        let Some(head) = plain.get(..prefix.len()).filter(|head| same_name(head, prefix)) else { continue };
        let case = &plain[head.len()..];
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

/// The reactions of one row.
pub(super) fn reactions(grid: &Grid, row: usize, mark: &str) -> Checked<BTreeMap<String, Reaction>> {
    let mut reactions: BTreeMap<String, Reaction> = BTreeMap::new();
    let mut complaints = Complaints::new();
    for (at, heading) in grid.columns.iter().enumerate() {
        let Some((part, case)) = column(&heading.name) else { continue };
        if kind(&case).is_none() {
            if row == 0 {
                complaints.push(
                    Complaint::new(format!("`{case}` is not a load case"))
                        .at(grid.place(&heading.cell))
                        .hint("the cases are D, L, Lr, S, R, W and what follows it (W1, W_up), E_x and E_y"),
                );
            }
            continue;
        }
        let reaction = reactions.entry(case).or_default();
        let cell = &grid.rows[row][at];
        // An empty cell is no load: a frame analysis leaves zeros out.
        if cell.text.is_empty() {
            continue;
        }
        let fact = Fact {
            text: cell.text.clone(),
            unit: heading.unit.clone(),
            place: grid.place(cell),
            whence: format!("post {mark}, {}", heading.name),
            comma_decimals: grid.comma_decimals,
        };
        match fact.read(&Kind::Quantity(Dim::FORCE)) {
            Ok((Value::Quantity(force), _)) => {
                *[&mut reaction.p, &mut reaction.h_x, &mut reaction.h_y][part] = force.value;
            }
            Ok(_) => {}
            Err(complaint) => complaints.push(complaint),
        }
    }
    if complaints.is_empty() { Ok(reactions) } else { Err(complaints) }
}
