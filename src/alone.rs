//! One sheet alone, worked from values that stand in no job: typed as
//! `NAME=VALUE`, or in the rows of a file. Opens nothing.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::diag::{Checked, Diagnostic, Diagnostics, Kind::Missing, list};
use crate::grid::{Column, Grid};
use crate::job::{Fact, Facts, Rows, Whence};
use crate::program::Program;
use crate::quantity::Decimals;
use crate::sheet::{Bound, Context, Input, Library, Methods, Must, Origin, Sheet, Step, Verdict, Work, Worked, work};
use crate::source::{Place, Source};

/// What was typed, by the names of the inputs.
///
/// # Errors
/// An input without `=`, or one that is given twice.
pub fn typed(inputs: &[String]) -> Checked<Facts> {
    let mut facts = Facts::new();
    let mut diagnostics = Diagnostics::new();
    for input in inputs {
        match typed_one(input) {
            Ok((name, fact)) => {
                if let Some(first) = facts.get(&name) {
                    let again = Place::new(&fact.place.source, 0..name.len());
                    diagnostics.push(
                        Diagnostic::new(format!("`{name}` is given twice: `{}` and `{}`", first.text, fact.text))
                            .at(again),
                    );
                }
                facts.insert(name, fact);
            }
            Err(diagnostic) => diagnostics.push(diagnostic),
        }
    }
    if diagnostics.is_empty() { Ok(facts) } else { Err(diagnostics) }
}

/// `D=3/4 in` as a fact.
fn typed_one(input: &str) -> Result<(String, Fact), Diagnostic> {
    let source = Source::new("command line", input);
    let Some((name, value)) = input.split_once('=') else {
        return Err(Diagnostic::new(format!("found `{input}`; an input is written `NAME=VALUE`"))
            .at(Place::new(&source, 0..input.len()))
            .hint("a value with a space in it goes in quotes: D=\"3/4 in\""));
    };
    let fact = Fact {
        text: value.trim().into(),
        unit: None,
        place: Place::new(&source, name.len() + 1..input.len()),
        whence: Whence::new("", name.trim()),
        decimals: Decimals::Point,
    };
    Ok((name.trim().into(), fact))
}

/// Columns of a file of rows that are about the row and no input of a sheet.
const ABOUT: [&str; 6] = ["id", "source", "kind", "note", "tolerance", "tolerance_kind"];

/// A sheet, and what it can be given.
pub struct Alone<'a> {
    sheet: Arc<Sheet>,
    library: &'a Library,
    /// What sheets that it uses take from a file, given by the column's name.
    below: Vec<Input>,
}

impl<'a> Alone<'a> {
    /// # Errors
    /// The sheet cannot be compiled.
    pub fn new(sheet: &Arc<Sheet>, library: &'a Library) -> Checked<Alone<'a>> {
        let facts = Program::new(library, sheet)?.facts.into_iter().map(|fact| fact.input);
        let below = facts.filter(|input| sheet.input(&input.name).is_none()).collect();
        Ok(Alone { sheet: sheet.clone(), library, below })
    }

    /// Inputs and the name that each is given by, the sheet's own first.
    fn inputs(&self) -> impl Iterator<Item = (&Input, &str)> {
        let own = self.sheet.inputs.iter().map(|input| (input.as_ref(), input.name.as_str()));
        own.chain(self.below.iter().filter_map(|input| Some((input, input.from.as_ref()?.name.as_str()))))
    }

    fn names(&self) -> impl Iterator<Item = &str> {
        self.inputs().map(|(_, name)| name)
    }

    /// Works the sheet with what was typed.
    ///
    /// # Errors
    /// What is no input, and all that is absent; an input that cannot be
    /// read; what the sheet refuses.
    pub fn work(&self, typed: Facts) -> Checked<Worked> {
        let given: BTreeSet<String> = typed.keys().cloned().collect();
        let unknown = self.unknown(&typed);
        let (inputs, mut diagnostics) = self.read(typed);
        diagnostics.extend(unknown);
        if diagnostics.is_empty() {
            diagnostics.extend(self.absent(&given));
        }
        if diagnostics.is_empty() { self.worked(inputs) } else { Err(diagnostics) }
    }

    /// Works the sheet once for each row of a file, with `typed` in every one.
    /// A row may carry columns of its own.
    ///
    /// # Errors
    /// All that is wrong in any of the rows.
    pub fn rows(&self, grid: &Grid, typed: &Facts) -> Checked<Vec<Worked>> {
        let mut diagnostics = self.unknown(typed);
        let mut all = Vec::new();
        let rows = Rows::new(grid, &grid.source.name);
        for row in 0..grid.rows.len() {
            match self.row(&rows, row, typed) {
                Ok(worked) => all.push(worked),
                Err(more) => diagnostics.extend(more),
            }
        }
        if diagnostics.is_empty() { Ok(all) } else { Err(diagnostics) }
    }

    /// The same for one row.
    ///
    /// # Errors
    /// What is wrong in it.
    pub fn row(&self, rows: &Rows, row: usize, typed: &Facts) -> Checked<Worked> {
        let mut facts = rows.facts(row, |_| true);
        facts.extend(typed.clone());
        let (inputs, wrong) = self.read(facts);
        let worked = if wrong.is_empty() { self.worked(inputs) } else { Err(wrong) };
        let line = || format!("on line {}", rows.grid.line(row));
        worked.map_err(|wrong| wrong.into_iter().map(|diagnostic| diagnostic.hint(line())).collect())
    }

    /// A note of each column that is no input of the sheet: it may be kept for
    /// oneself, or be a slip that leaves a default in force.
    pub fn unread(&self, grid: &Grid) -> Diagnostics {
        let there = |name: &str| grid.columns.iter().any(|column| column.name == name);
        let about = |name: &str| ABOUT.contains(&name) || name.starts_with("expect ");
        let unread =
            grid.columns.iter().filter(|column| !about(&column.name) && self.names().all(|name| column.name != name));
        let note = |column: &Column| {
            let (sheet, name) = (&self.sheet.name, &column.name);
            Diagnostic::new(format!("the sheet `{sheet}` has no input `{name}`: the column is not read"))
                .at(grid.place(&column.cell))
                .hint_near(name, self.names().filter(|name| !there(name)))
        };
        unread.map(note).collect()
    }

    /// The inputs by their name, and by what they are for the sheets below.
    fn read(&self, mut facts: Facts) -> (Inputs, Diagnostics) {
        let (mut inputs, mut diagnostics) = (Inputs::default(), Diagnostics::new());
        for (input, name) in self.inputs() {
            let Some(fact) = facts.remove(name) else { continue };
            match fact.read(&input.kind, &input.written()) {
                Ok((value, unit)) => {
                    let bound = Bound { place: Some(fact.place), ..Bound::given(value, unit) };
                    let given = (bound, Origin::File(fact.whence.to_string()));
                    if self.sheet.input(&input.name).is_some() {
                        inputs.own.insert(input.name.clone(), given.clone());
                    }
                    inputs.by_key.insert(input.key(), given);
                }
                Err(diagnostic) => diagnostics.push(diagnostic),
            }
        }
        (inputs, diagnostics)
    }

    fn worked(&self, inputs: Inputs) -> Checked<Worked> {
        let name = &self.sheet.name;
        let given = |input: &Input| inputs.by_key.get(&input.key()).cloned().map(Ok);
        let missing = |input: &Input| {
            let what = format!("the sheet `{name}` needs `{}`: {}, {}", input.name, input.kind, input.say);
            Some(Diagnostic::new(what).of(Missing, &input.name))
        };
        let (library, method) = (self.library, self.sheet.method.map(Methods::basic));
        let context = Context { library, method, facts: &given, missing: &missing, lacking: &BTreeSet::new() };
        let Work { worked, diagnostics } = work(&self.sheet, inputs.own, &context);
        if diagnostics.is_empty() { Ok(worked) } else { Err(diagnostics) }
    }

    /// What was typed and is no input.
    fn unknown(&self, typed: &Facts) -> Diagnostics {
        let unknown = typed.iter().filter(|(name, _)| self.names().all(|known| known != *name));
        let complain = |(name, fact): (&String, &Fact)| {
            let start = fact.place.span.start.saturating_sub(name.len() + 1);
            Diagnostic::new(format!("the sheet `{}` has no input `{name}`", self.sheet.name))
                .at(Place::new(&fact.place.source, start..start + name.len()))
                .nearest(name, self.names())
        };
        unknown.map(complain).collect()
    }

    /// What the sheet needs and nobody typed.
    fn absent(&self, given: &BTreeSet<String>) -> Option<Diagnostic> {
        let inputs = self.sheet.inputs.iter().map(AsRef::as_ref);
        let absent: Vec<&Input> =
            inputs.filter(|input| input.default.is_none() && !input.optional && !given.contains(&input.name)).collect();
        let names: Vec<&str> = absent.iter().map(|input| input.name.as_str()).collect();
        let what = format!("the sheet `{}` also needs {}", self.sheet.name, list(&names, "and"));
        let hint = |diagnostic: Diagnostic, input: &&Input| {
            diagnostic.hint(format!("{}: {}, {}", input.name, input.kind, input.say))
        };
        (!absent.is_empty()).then(|| absent.iter().fold(Diagnostic::new(what), hint))
    }
}

/// What was given, as a sheet takes it.
#[derive(Default)]
struct Inputs {
    own: BTreeMap<String, (Bound, Origin)>,
    by_key: BTreeMap<String, (Bound, Origin)>,
}

/// Whether every limit of a sheet and of those it uses is met.
pub fn all_met(worked: &Worked) -> bool {
    worked.steps.iter().all(|step| match step {
        Step::Must { verdict, .. } => verdict.ok,
        Step::Use(inner) => all_met(inner),
        _ => true,
    })
}

/// A limit or fit that was worked.
pub struct Limit<'a> {
    /// Its words, behind the names of the sheets that were used on the way to it: `at-seat: smallest leg of the weld`.
    pub name: String,
    /// The sheet that it stands in.
    pub sheet: &'a str,
    pub rule: &'a Must,
    pub verdict: &'a Verdict,
}

/// All of a sheet and of those it uses.
pub fn limits(worked: &Worked) -> Vec<Limit<'_>> {
    fn collect<'a>(worked: &'a Worked, prefix: &str, found: &mut Vec<Limit<'a>>) {
        for step in &worked.steps {
            match step {
                Step::Must { rule, verdict } => {
                    let name = format!("{prefix}{}", rule.say);
                    // No limit hides behind another that is called the same.
                    let again = |at: usize| if at == 1 { name.clone() } else { format!("{name} ({at})") };
                    let free = (1..).map(again).find(|name| found.iter().all(|known| known.name != *name));
                    let sheet = worked.sheet.name.as_str();
                    found.push(Limit { name: free.unwrap_or(name), sheet, rule, verdict });
                }
                Step::Use(inner) => collect(inner, &format!("{prefix}{}: ", inner.name), found),
                _ => {}
            }
        }
    }
    let mut found = Vec::new();
    collect(worked, "", &mut found);
    found
}
