//! What a line of a worked sheet rests on: from a limit back to what the files
//! say, through renames, inputs and the sheets above and below.

use std::collections::{BTreeMap, BTreeSet};

use crate::formula::{Expr, Node};
use crate::sheet::{Bound, Decide, Given, Let, Origin, Step, Worked};

/// A line of a sheet: what a step binds or tests, or what the sheet above works
/// out on the way in.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// Where its rule begins in the sheet.
    Step(usize),
    /// The input that is worked out.
    Entry(String),
    /// A drawing, or a run of prose, by the place of its step among all of the sheet.
    Aside(usize),
}

/// A line of one use of a sheet.
pub type LineAt = (String, Place);

/// Where a symbol has its value from.
pub enum Source<'a> {
    /// A line, and the symbol that it binds.
    Line(LineAt, String),
    /// A file, a load combination, the neighbours in a line, or the sheet's default.
    Fact { given: &'a Given, bound: &'a Bound },
    /// The sheet that uses it says it in so many words.
    Said,
}

/// The sheets of one post in one load combination.
pub struct Chain<'a> {
    /// The sheets that no other uses, in order.
    pub roots: Vec<&'a Worked>,
    /// By their paths, with the path of the sheet above.
    sheets: BTreeMap<String, (&'a Worked, Option<String>)>,
}

impl<'a> Chain<'a> {
    pub fn new(root: &'a Worked) -> Chain<'a> {
        Chain::of(vec![root])
    }

    pub fn of(roots: Vec<&'a Worked>) -> Chain<'a> {
        fn walk<'a>(
            worked: &'a Worked,
            path: &str,
            above: Option<&str>,
            sheets: &mut BTreeMap<String, (&'a Worked, Option<String>)>,
        ) {
            sheets.insert(path.into(), (worked, above.map(String::from)));
            for step in &worked.steps {
                if let Step::Use(inner) = step {
                    walk(inner, &format!("{path}/{}", inner.name), Some(path), sheets);
                }
            }
        }
        let mut sheets = BTreeMap::new();
        roots.iter().for_each(|root| walk(root, &root.name, None, &mut sheets));
        Chain { roots, sheets }
    }

    pub fn find(&self, path: &str) -> Option<&'a Worked> {
        self.sheets.get(path).map(|(worked, _)| *worked)
    }

    /// The sheet above the one at a path.
    pub fn above(&self, path: &str) -> Option<(&'a Worked, &str)> {
        let above = self.sheets.get(path)?.1.as_deref()?;
        Some((self.find(above)?, above))
    }

    /// Where a symbol that is named in the sheet at a path has its value from.
    pub fn source(&self, path: &str, name: &str) -> Source<'a> {
        self.follow(path, name, &mut Vec::new())
    }

    /// The symbols by which it was decided whose value it has.
    pub fn decided_by(&self, path: &str, name: &str) -> Vec<(String, String)> {
        let mut decided = Vec::new();
        self.follow(path, name, &mut decided);
        decided
    }

    fn follow(&self, path: &str, name: &str, decided: &mut Vec<(String, String)>) -> Source<'a> {
        let Some((worked, above)) = self.sheets.get(path) else { return Source::Said };
        if let Some(given) = worked.given.iter().find(|given| given.input.name == name) {
            let Some(bound) = worked.bound.get(name) else { return Source::Said };
            return match (&given.origin, above) {
                (Origin::Symbol(symbol), Some(above)) => self.follow(above, symbol, decided),
                (Origin::Formula(expr), _) if expr.symbols().is_empty() => Source::Said,
                (Origin::Formula(_), Some(_)) => Source::Line((path.into(), Place::Entry(name.into())), name.into()),
                _ => Source::Fact { given, bound },
            };
        }
        if let Some((used, symbol)) = name.split_once('.') {
            let stands = worked.places.get(used).map_or(used, String::as_str);
            return self.follow(&format!("{path}/{stands}"), symbol, decided);
        }
        let mut steps = worked.steps.iter().filter_map(|step| match step {
            Step::Let { rule, taken } if rule.name == name => Some(match self.renamed(path, rule, *taken) {
                Some(symbol) => {
                    decided.extend(choice(path, rule, *taken));
                    self.follow(path, symbol, decided)
                }
                None => Source::Line((path.into(), Place::Step(rule.span.start)), name.into()),
            }),
            Step::Rename(rule) if rule.name == name => {
                let symbol = rule.cases[0].value.symbols().first().copied();
                Some(symbol.map_or(Source::Said, |symbol| self.follow(path, symbol, decided)))
            }
            Step::Take { rule, .. } if rule.names.iter().any(|(known, ..)| known == name) => {
                Some(Source::Line((path.into(), Place::Step(rule.span.start)), name.into()))
            }
            _ => None,
        });
        steps.next().unwrap_or(Source::Said)
    }

    /// The symbol whose value a rule merely takes by what the job says, with no clause for it:
    /// that is no line, and whoever reads it names where that symbol is from.
    fn renamed<'r>(&self, path: &str, rule: &'r Let, taken: usize) -> Option<&'r str> {
        let Node::Symbol(_) = &rule.cases[taken].value.node else { return None };
        if rule.cite.is_some() || rule.raw.is_some() {
            return None;
        }
        let worked_out = |(path, name): (String, String)| matches!(self.source(&path, &name), Source::Line(..));
        if choice(path, rule, taken).any(worked_out) {
            return None;
        }
        let symbol = rule.cases[taken].value.symbols().first().copied()?;
        (!matches!(self.source(path, symbol), Source::Said)).then_some(symbol)
    }

    /// The step of a line; none for what the sheet above works out.
    pub fn step(&self, (path, place): &LineAt) -> Option<&'a Step> {
        let Place::Step(start) = place else { return None };
        self.find(path)?.steps.iter().find(|step| starts_at(step) == Some(*start))
    }

    /// The symbols that a line reads, each with the path of the sheet in which it
    /// is named.
    pub fn operands(&self, line: &LineAt) -> Vec<(String, String)> {
        let (path, place) = line;
        let of = |path: &str, exprs: &[&Expr]| {
            let mut found: Vec<(String, String)> = Vec::new();
            for symbol in exprs.iter().flat_map(|expr| expr.symbols()) {
                let symbol = (path.to_string(), symbol.to_string());
                if !found.contains(&symbol) {
                    found.push(symbol);
                }
            }
            found
        };
        match place {
            Place::Entry(name) => {
                let Some(worked) = self.find(path) else { return Vec::new() };
                let given = worked.given.iter().find(|given| given.input.name == *name);
                match (given.map(|given| &given.origin), self.above(path)) {
                    (Some(Origin::Formula(expr)), Some((_, above))) => of(above, &[expr]),
                    _ => Vec::new(),
                }
            }
            Place::Aside(_) => Vec::new(),
            Place::Step(_) => match self.step(line) {
                Some(Step::Let { rule, taken }) => of(path, &[&rule.cases[*taken].value]),
                Some(Step::Take { rule, .. }) => of(path, &rule.keys.iter().map(|(key, _)| key).collect::<Vec<_>>()),
                Some(Step::Must { rule, .. }) => of(path, &[&rule.condition]),
                _ => Vec::new(),
            },
        }
    }

    /// The symbols by which it was decided that a line is worked as it is.
    pub fn conditions(&self, line: &LineAt) -> Vec<(String, String)> {
        let Some(Step::Let { rule, taken }) = self.step(line) else { return Vec::new() };
        choice(&line.0, rule, *taken).collect()
    }

    /// The first value of an input, by its key, in any of the sheets.
    pub fn given(&self) -> BTreeMap<String, &'a Bound> {
        let mut found = BTreeMap::new();
        for (worked, _) in self.sheets.values() {
            for given in &worked.given {
                if let (Origin::File(_), Some(bound)) = (&given.origin, worked.bound.get(&given.input.name)) {
                    found.entry(given.input.key()).or_insert(bound);
                }
            }
        }
        found
    }

    /// What sheets leave to an engineer: the values, and the path of the sheet in which they
    /// are named.
    pub fn decisions(&self) -> Vec<(&str, &'a Decide, &'a [Bound])> {
        let steps =
            self.sheets.iter().flat_map(|(path, (worked, _))| worked.steps.iter().map(move |step| (path, step)));
        let found = steps.filter_map(|(path, step)| match step {
            Step::Decide { rule, values } => Some((path.as_str(), &**rule, values.as_slice())),
            _ => None,
        });
        found.collect()
    }

    /// Every line of every sheet, but for the limits.
    pub fn lines(&self) -> BTreeSet<LineAt> {
        let mut lines = BTreeSet::new();
        for (path, (worked, _)) in &self.sheets {
            for given in &worked.given {
                if matches!(&given.origin, Origin::Formula(expr) if !expr.symbols().is_empty()) {
                    lines.insert((path.clone(), Place::Entry(given.input.name.clone())));
                }
            }
            let steps = worked.steps.iter().filter(|step| match step {
                Step::Must { .. } => false,
                Step::Let { rule, taken } => self.renamed(path, rule, *taken).is_none(),
                _ => true,
            });
            lines.extend(steps.filter_map(starts_at).map(|start| (path.clone(), Place::Step(start))));
        }
        lines
    }
}

/// The symbols by which it was decided that a case of a rule is taken: those of the cases
/// before it were not so, which decides as much.
fn choice(path: &str, rule: &Let, taken: usize) -> impl Iterator<Item = (String, String)> {
    let when = rule.cases[..=taken].iter().filter_map(|case| case.when.as_ref()).flat_map(|when| when.symbols());
    when.map(move |symbol| (path.to_string(), symbol.to_string()))
}

/// Where the rule of a numbered step begins in its sheet.
pub fn starts_at(step: &Step) -> Option<usize> {
    match step {
        Step::Let { rule, .. } => Some(rule.span.start),
        Step::Take { rule, .. } => Some(rule.span.start),
        Step::Must { rule, .. } => Some(rule.span.start),
        _ => None,
    }
}
