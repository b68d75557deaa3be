//! One sheet alone, worked from values that stand in no job: typed as
//! `NAME=VALUE`, or in the rows of a file. Opens nothing.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::diag::{Checked, Complaint, Complaints, list};
use crate::grid::Grid;
use crate::job::{Fact, Facts, Rows};
use crate::sheet::{Bound, Context, Input, Library, Origin, Sheet, Step, Work, Worked, work};
use crate::source::{Place, Source};

/// `D=3/4 in` as a fact.
///
/// # Errors
/// There is no `=` in it.
pub fn typed(input: &str) -> Result<(String, Fact), Complaint> {
    let source = Source::new("command line", input);
    let Some((name, value)) = input.split_once('=') else {
        return Err(Complaint::new(format!("found `{input}`; an input is written `NAME=VALUE`"))
            .at(Place::new(&source, 0..input.len()))
            .hint("a value with a blank in it stands in quotes: D=\"3/4 in\""));
    };
    let fact = Fact {
        text: value.trim().into(),
        unit: None,
        place: Place::new(&source, name.len() + 1..input.len()),
        whence: format!("`{}`", name.trim()).into(),
        comma_decimals: false,
    };
    Ok((name.trim().into(), fact))
}

/// Works a sheet with facts as its inputs. In `strict` runs a fact that is no
/// input is a slip, and all that is absent is said at once; rows of a file may
/// carry columns of their own.
///
/// # Errors
/// An input that can not be read, or is absent where it is needed; what the sheet refuses.
pub fn work_alone(sheet: &Arc<Sheet>, mut facts: Facts, library: &Library, strict: bool) -> Checked<Worked> {
    let mut inputs = BTreeMap::new();
    let mut complaints = Complaints::new();
    for input in &sheet.inputs {
        let Some(fact) = facts.remove(&input.name) else { continue };
        match fact.read(&input.kind) {
            Ok((value, unit)) => {
                let bound = Bound { value, unit, varies: false, count: false, given: true, place: Some(fact.place) };
                inputs.insert(input.name.clone(), (bound, Origin::File(fact.whence.to_string())));
            }
            Err(complaint) => complaints.push(complaint),
        }
    }
    if strict {
        complaints.extend(no_inputs(sheet, &facts));
        if complaints.is_empty() {
            complaints.extend(absent(sheet, |name| inputs.contains_key(name)));
        }
    }
    if !complaints.is_empty() {
        return Err(complaints);
    }
    let missing = |input: &Input| {
        Complaint::new(format!("the sheet `{}` needs `{}`: {}, {}", sheet.name, input.name, input.kind, input.say))
    };
    let context = Context { library, method: sheet.method, missing: &missing };
    let Work { worked, complaints } = work(sheet, inputs, &context);
    if complaints.is_empty() { Ok(worked) } else { Err(complaints) }
}

/// Typed inputs that the sheet does not have.
fn no_inputs(sheet: &Sheet, typed: &Facts) -> Complaints {
    let unknown = typed.iter().filter(|(name, _)| sheet.input(name).is_none());
    let complain = |(name, fact): (&String, &Fact)| {
        let start = fact.place.span.start.saturating_sub(name.len() + 1);
        Complaint::new(format!("the sheet `{}` has no input `{name}`", sheet.name))
            .at(Place::new(&fact.place.source, start..start + name.len()))
            .nearest(name, input_names(sheet))
    };
    unknown.map(complain).collect()
}

/// All inputs that a sheet needs and does not get.
fn absent(sheet: &Sheet, given: impl Fn(&str) -> bool) -> Option<Complaint> {
    let absent: Vec<&Input> =
        sheet.inputs.iter().filter(|input| input.default.is_none() && !given(&input.name)).collect();
    let names: Vec<&str> = absent.iter().map(|input| input.name.as_str()).collect();
    let complaint = Complaint::new(format!("the sheet `{}` also needs {}", sheet.name, list(&names, "and")));
    let explain =
        |complaint: Complaint, input: &&Input| complaint.hint(format!("{}: {}, {}", input.name, input.kind, input.say));
    (!absent.is_empty()).then(|| absent.iter().fold(complaint, explain))
}

/// Works a sheet once for each row of a file, with `typed` in every one.
///
/// # Errors
/// All that is wrong in any of the rows.
pub fn work_rows(sheet: &Arc<Sheet>, grid: &Grid, typed: &Facts, library: &Library) -> Checked<Vec<Worked>> {
    let mut complaints = no_inputs(sheet, typed);
    let mut worked = Vec::new();
    let rows = Rows::new(grid, &grid.source.name);
    for row in 0..grid.rows.len() {
        let mut facts = rows.facts(row, |_| true);
        facts.extend(typed.clone());
        match work_alone(sheet, facts, library, false) {
            Ok(done) => worked.push(done),
            Err(more) => {
                complaints.extend(more.into_iter().map(|complaint| complaint.hint(format!("in row {}", row + 2))))
            }
        }
    }
    if complaints.is_empty() { Ok(worked) } else { Err(complaints) }
}

/// Columns of a file of rows that are about the row and no input of a sheet.
const ABOUT: [&str; 6] = ["id", "source", "kind", "note", "tolerance", "tolerance_kind"];

/// A note of each column that is no input of the sheet: it may be kept for
/// oneself, or be a slip that leaves a default in force.
pub fn unread(sheet: &Sheet, grid: &Grid) -> Complaints {
    let own = |name: &str| ABOUT.contains(&name) || name.starts_with("expect ") || sheet.input(name).is_some();
    let unread = grid.columns.iter().filter(|column| !own(&column.name));
    let note = |column: &crate::grid::Column| {
        let free = input_names(sheet).filter(|name| grid.columns.iter().all(|column| column.name != *name));
        Complaint::new(format!("the sheet `{}` has no input `{}`: the column is not read", sheet.name, column.name))
            .at(grid.place(&column.cell))
            .hint_near(&column.name, free)
    };
    unread.map(note).collect()
}

fn input_names(sheet: &Sheet) -> impl Iterator<Item = &str> {
    sheet.inputs.iter().map(|input| input.name.as_str())
}

/// Whether every limit of a sheet and of those it uses is met.
pub fn all_met(worked: &Worked) -> bool {
    worked.steps.iter().all(|step| match step {
        Step::Must { verdict, .. } => verdict.ok,
        Step::Use(inner) => all_met(inner),
        _ => true,
    })
}
