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

impl Reaction {
    /// Sets P, H_x or H_y by its place.
    pub fn set(&mut self, part: usize, force: f64) {
        *[&mut self.p, &mut self.h_x, &mut self.h_y][part] = force;
    }
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

/// A column that holds a reaction: which part, of which case, if there is such
/// a case.
pub fn load_column(name: &str) -> Option<(usize, String)> {
    column(name).filter(|(_, case)| kind(case).is_some())
}

/// The same, whatever the case is called.
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
                reaction.set(part, force.value);
            }
            Ok(_) => {}
            Err(complaint) => complaints.push(complaint),
        }
    }
    if complaints.is_empty() { Ok(reactions) } else { Err(complaints) }
}

/// `reactions.csv`, as a frame analysis exports it: a row for each post and
/// load case. Gives the reactions of each post, by its mark.
///
/// # Errors
/// A mark that is no post, a post or a case that is missing, a row that stands
/// twice, a cell that is no force.
pub(super) fn table(grid: &Grid, marks: &[&str]) -> Checked<BTreeMap<String, BTreeMap<String, Reaction>>> {
    use super::read::need_column;
    let mark_at = need_column(grid, "mark", "which names a post")?;
    let case_at = need_column(grid, "case", "which names a load case, such as D, S or W1")?;
    let mut parts = [0; 3];
    for (part, name) in parts.iter_mut().zip(["P", "H_x", "H_y"]) {
        *part = need_column(grid, name, "a reaction of the post on its base")?;
    }
    let mut complaints = Complaints::new();
    let mut found: BTreeMap<String, BTreeMap<String, Reaction>> = BTreeMap::new();
    for row in &grid.rows {
        let (mark, case) = (&row[mark_at], &row[case_at]);
        if !marks.contains(&mark.text.as_str()) {
            let complaint = Complaint::new(format!("there is no post `{}` in `posts.csv`", mark.text));
            complaints.push(complaint.at(grid.place(mark)).nearest(&mark.text, marks.iter().copied()));
            continue;
        }
        if kind(&case.text).is_none() {
            complaints.push(
                Complaint::new(format!("`{}` is not a load case", case.text))
                    .at(grid.place(case))
                    .hint("the cases are D, L, Lr, S, R, W and what follows it (W1, W_up), E_x and E_y"),
            );
            continue;
        }
        let mut reaction = Reaction::default();
        for (part, column) in parts.iter().enumerate() {
            let cell = &row[*column];
            let heading = &grid.columns[*column];
            if cell.text.is_empty() {
                let what = format!("post {}, case {} has no {}", mark.text, case.text, heading.name);
                complaints.push(Complaint::new(what).at(grid.place(cell)).hint("write 0 where it is nothing"));
                continue;
            }
            let fact = Fact {
                text: cell.text.clone(),
                unit: heading.unit.clone(),
                place: grid.place(cell),
                whence: format!("post {}, case {}, {}", mark.text, case.text, heading.name),
                comma_decimals: grid.comma_decimals,
            };
            match fact.read(&Kind::Quantity(Dim::FORCE)) {
                Ok((Value::Quantity(force), _)) => reaction.set(part, force.value),
                Ok(_) => {}
                Err(complaint) => complaints.push(complaint),
            }
        }
        let known = found.entry(mark.text.clone()).or_default();
        if known.insert(case.text.clone(), reaction).is_some() {
            complaints.push(
                Complaint::new(format!("case {} of post {} stands twice", case.text, mark.text)).at(grid.place(mark)),
            );
        }
    }
    let cases = case_names(found.values().flat_map(BTreeMap::keys));
    for mark in marks {
        let of = found.get(*mark);
        let missing: Vec<&String> = cases.iter().filter(|case| !of.is_some_and(|of| of.contains_key(*case))).collect();
        if of.is_none() || !missing.is_empty() {
            let what = match of {
                None => format!("post {mark} is not in `{}`", grid.source.name),
                Some(_) => format!("post {mark} has no row for {}", crate::diag::list(&missing, "and")),
            };
            let place = crate::source::Place::new(&grid.source, grid.columns[mark_at].cell.span.clone());
            complaints.push(
                Complaint::new(what)
                    .at(place)
                    .hint("write every post in every case, with zeros where a case does nothing"),
            );
        }
    }
    if complaints.is_empty() { Ok(found) } else { Err(complaints) }
}
