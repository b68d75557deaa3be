//! All sheets and tables of a run, the built-in ones and a job's own, checked
//! against one another before anything is worked.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::Table;
use super::check::{FigureKind, Signature, check};
use super::own::{Own, What};
use super::parse::parse;
use super::texts::Texts;
use super::tree::{Input, Sheet, Stmt, Use};
use crate::diag::{Checked, Diagnostic, Diagnostics, list};
use crate::quantity::{Unit, Units};
use crate::source::{Place, Source};

/// A template file: its path below `templates/`, the name it is shown by, its text.
pub struct Text {
    pub path: String,
    pub source: Arc<Source>,
    /// It comes from the job and not from the program.
    pub own: bool,
}

#[derive(Debug)]
pub struct Library {
    pub(super) sheets: BTreeMap<String, Arc<Sheet>>,
    pub(super) tables: BTreeMap<String, Arc<Table>>,
    /// What values are printed in.
    pub(super) units: Units,
    /// Path below `sheets/`, by sheet name: the subject it is filed under.
    paths: BTreeMap<String, String>,
    own: Vec<Own>,
    /// The names of all sheets, uses and open places: what is no file of a job.
    sources: BTreeSet<String>,
    /// The names that tables hold, as the numbers that programs work with.
    texts: Texts,
}

impl Library {
    /// Reads and checks every `.sheet` and every table. A later text of the
    /// same path takes the place of an earlier one; a later table adds its
    /// rows before those of the earlier one. Without kinds of figures none is checked or drawn: those of another
    /// version may have had other inputs.
    ///
    /// # Errors
    /// Everything that is wrong with any of them.
    pub fn load(texts: &[Text], figures: Option<&[FigureKind]>) -> Checked<Library> {
        let mut diagnostics = Diagnostics::new();
        let mut library = Library {
            sheets: BTreeMap::new(),
            tables: BTreeMap::new(),
            units: Units::Imperial,
            paths: BTreeMap::new(),
            own: Vec::new(),
            sources: BTreeSet::new(),
            texts: Texts::default(),
        };
        let mut parsed = BTreeMap::new();
        for text in texts {
            let result = if text.path.ends_with(".sheet") {
                library.add_sheet(text, texts, &mut parsed)
            } else if text.path.starts_with("tables/") && text.path.ends_with(".csv") {
                library.add_table(text, texts)
            } else {
                Ok(())
            };
            diagnostics.extend(result.err().into_iter().flatten());
        }
        if diagnostics.is_empty() {
            library.open_places(&mut parsed, &mut diagnostics);
            library.join(&mut parsed, &mut diagnostics);
            library.sources = sources(&parsed);
        }
        if diagnostics.is_empty() {
            library.check_all(parsed, figures, &mut diagnostics);
            diagnostics.extend(library.columns_disagree());
            let taken = library.taken().into_iter();
            let taken = taken.filter_map(|(name, keys)| Some((library.tables.get(name)?, keys)));
            diagnostics.extend(taken.flat_map(|(table, keys)| table.rows_twice(keys)));
        }
        for table in library.tables.values_mut() {
            if let Some(table) = Arc::get_mut(table) {
                table.pack(&mut library.texts);
            }
        }
        if diagnostics.is_empty() { Ok(library) } else { Err(diagnostics) }
    }

    fn add_sheet(&mut self, text: &Text, texts: &[Text], parsed: &mut BTreeMap<String, Sheet>) -> Checked<()> {
        if texts.iter().any(|other| other.own && !text.own && other.path == text.path) {
            return Ok(());
        }
        let sheet = Sheet { own: text.own, ..parse(&text.source)? };
        if let Some(other) = parsed.get(&sheet.name) {
            return Err(Diagnostic::new(format!(
                "the sheet `{}` is in `{}` and in `{}`",
                sheet.name, other.source.name, text.source.name
            ))
            .hint("give one of them another name, or put it at the other's path to take its place")
            .into());
        }
        self.note_own(text, What::Sheet, &sheet.name, &sheet.title, texts);
        self.paths.insert(sheet.name.clone(), text.path.trim_start_matches("sheets/").into());
        parsed.insert(sheet.name.clone(), sheet);
        Ok(())
    }

    fn add_table(&mut self, text: &Text, texts: &[Text]) -> Checked<()> {
        let name = text.path.rsplit('/').next().unwrap_or(&text.path).trim_end_matches(".csv").to_string();
        let mut table = Table::read(&name, &text.source)?;
        if text.own {
            table = table.of_the_job();
        }
        self.note_own(text, What::Table, &name, &table.title, texts);
        match self.tables.remove(&name) {
            None => self.tables.insert(name, Arc::new(table)),
            Some(known) => {
                let mut known =
                    Arc::try_unwrap(known).unwrap_or_else(|_| unreachable!("tables are shared after loading"));
                known.put_first(table, &text.source)?;
                self.tables.insert(name, Arc::new(known))
            }
        };
        Ok(())
    }

    fn note_own(&mut self, text: &Text, what: What, name: &str, title: &str, texts: &[Text]) {
        if text.own {
            let instead = texts.iter().any(|other| !other.own && other.path == text.path);
            let (path, name, title) = (text.path.clone(), name.to_string(), title.to_string());
            self.own.push(Own { path, what, name, title, instead, source: text.source.clone() });
        }
    }

    /// Fills in who can stand in each open place.
    fn open_places(&self, parsed: &mut BTreeMap<String, Sheet>, diagnostics: &mut Diagnostics) {
        // Of two that clash, the job's own is complained of.
        let mut sheets: Vec<&Sheet> = parsed.values().collect();
        sheets.sort_by_key(|sheet| sheet.own);
        let standing = sheets.into_iter().filter_map(|sheet| {
            let stands = sheet.stands.clone()?;
            Some((sheet.name.clone(), stands.clone(), sheet.place(&stands.span)))
        });
        let standing: Vec<(String, super::tree::Stands, Place)> = standing.collect();
        let mut known: BTreeSet<String> = BTreeSet::new();
        for sheet in parsed.values_mut() {
            let mut each = |stmt: &mut Stmt| {
                let Stmt::Place(place) = stmt else { return };
                let Some(place) = Arc::get_mut(place) else { return };
                known.insert(place.name.clone());
                for (name, stands, at) in standing.iter().filter(|(_, stands, _)| stands.place == place.name) {
                    let taken = place.choices.iter().find(|(value, _)| *value == stands.value);
                    let message = if stands.column != place.column {
                        format!("`{}` is chosen by `{}`, not by `{}`", place.name, place.column, stands.column)
                    } else if let Some((_, other)) = taken {
                        format!(
                            "`{}` stands as `{}` too when {} is {}",
                            other.sheet, place.name, place.column, stands.value
                        )
                    } else {
                        let (span, args) = (place.span.clone(), Vec::new());
                        let choice = Use { sheet: name.clone(), span, name: name.clone(), args, from: Vec::new() };
                        place.choices.push((stands.value.clone(), choice));
                        continue;
                    };
                    diagnostics.push(Diagnostic::new(message).at(at.clone()));
                }
            };
            walk_mut(&mut sheet.body, &mut each);
        }
        for (_, stands, at) in standing.iter().filter(|(_, stands, _)| !known.contains(&stands.place)) {
            let diagnostic = Diagnostic::new(format!("there is no open place `{}`", stands.place)).at(at.clone());
            diagnostics.push(diagnostic.nearest(&stands.place, known.iter().map(String::as_str)));
        }
    }

    /// Puts the sheets that join another at its end, after those that they read.
    fn join(&self, parsed: &mut BTreeMap<String, Sheet>, diagnostics: &mut Diagnostics) {
        let joins = |sheet: &Sheet| Some((sheet.name.clone(), sheet.joins.clone()?));
        let mut waiting: Vec<(String, (String, std::ops::Range<usize>))> = parsed.values().filter_map(joins).collect();
        while !waiting.is_empty() {
            let reads = |name: &String, other: &String| {
                parsed[name].inputs.iter().any(|input| input.from.as_ref().is_some_and(|from| from.source == *other))
            };
            let free = |(name, _): &(String, _)| !waiting.iter().any(|(other, _)| other != name && reads(name, other));
            let Some(next) = waiting.iter().position(free) else {
                let names: Vec<&str> = waiting.iter().map(|(name, _)| name.as_str()).collect();
                let (name, (_, span)) = &waiting[0];
                let message = format!("{} join a sheet and read one another", list(&names, "and"));
                let hint = "each would have to be worked before the other: let one of them read what the other reads, or make one sheet of them";
                diagnostics.push(Diagnostic::new(message).at(parsed[name].place(span)).hint(hint));
                return;
            };
            let (name, (root, span)) = waiting.remove(next);
            let place = parsed[&name].place(&span);
            let names: Vec<String> = parsed.keys().cloned().collect();
            match parsed.get_mut(&root) {
                Some(sheet) => {
                    let end = sheet.source.text.len();
                    let (args, from) = (Vec::new(), Vec::new());
                    let usage = Use { sheet: name.clone(), span: end..end, name, args, from };
                    sheet.body.push(Stmt::Use(Arc::new(usage)));
                }
                None => diagnostics.push(
                    Diagnostic::new(format!("there is no sheet `{root}` to join"))
                        .at(place)
                        .nearest(&root, names.iter().map(String::as_str)),
                ),
            }
        }
    }

    /// Declarations of one column of a file that say different things of it.
    fn columns_disagree(&self) -> Diagnostics {
        let mut first: BTreeMap<(&str, &str), (&Sheet, &Input)> = BTreeMap::new();
        let mut diagnostics = Diagnostics::new();
        let mut columns: Vec<(&Sheet, &Input)> = self.columns().collect();
        columns.sort_by_key(|(sheet, _)| sheet.own);
        for (sheet, input) in columns {
            let Some(from) = &input.from else { continue };
            let (other, known) = *first.entry((&from.source, &from.name)).or_insert((sheet, input));
            let what = if !known.same_kind(input) {
                format!("{} here, and {} in `{}`", input.kind.named(), known.kind.named(), other.name)
            } else if known.written() != input.written() {
                let say = |input: &Input| input.written().iter().map(Unit::name).collect::<Vec<_>>().join("` or `");
                format!("in `{}` here, and in `{}` in `{}`", say(input), say(known), other.name)
            } else if known.otherwise(other) != input.otherwise(sheet) {
                let say =
                    |value: Option<String>| value.map_or("without a default".into(), |it| format!("{it} by default"));
                let (here, there) = (input.otherwise(sheet), known.otherwise(other));
                format!("{} here, and {} in `{}`", say(here), say(there), other.name)
            } else {
                continue;
            };
            let message = format!("the column `{}` of {} is {what}", from.name, from.source);
            let hint = "all sheets that read a column agree on its kind, its default and its unit; `socle sheets --columns` prints them";
            diagnostics.push(Diagnostic::new(message).at(sheet.place(&input.span)).hint(hint));
        }
        diagnostics
    }

    /// How many of its first columns name a row of a table, by what the sheets ask for.
    pub fn keys(&self, table: &str) -> usize {
        self.taken().get(table).map_or(1, |keys| (*keys).max(1))
    }

    /// The tables that sheets look rows up in, each with how many keys at most.
    fn taken(&self) -> BTreeMap<&str, usize> {
        let mut taken = BTreeMap::new();
        for sheet in self.sheets.values() {
            sheet.walk(&mut |stmt| {
                if let Stmt::Take(take) = stmt {
                    let keys: &mut usize = taken.entry(take.table.as_str()).or_default();
                    *keys = take.keys.len().max(*keys);
                }
            });
        }
        taken
    }

    /// Every declaration of something that comes from a file of the job, with
    /// the sheet that it stands in.
    pub fn columns(&self) -> impl Iterator<Item = (&Sheet, &Input)> {
        let inputs =
            self.sheets.values().flat_map(|sheet| sheet.inputs.iter().map(|input| (sheet.as_ref(), input.as_ref())));
        inputs.filter(|(_, input)| self.of_a_file(input))
    }

    /// Whether an input that comes `from` this comes from a sheet, not from a
    /// file of the job.
    pub fn is_sheet(&self, source: &str) -> bool {
        self.sources.contains(source)
    }

    /// Whether an input comes from a file of the job unless it is passed.
    pub fn of_a_file(&self, input: &Input) -> bool {
        input.from.as_ref().is_some_and(|from| !self.is_sheet(&from.source))
    }

    pub fn units(&self) -> Units {
        self.units
    }

    pub fn texts(&self) -> &Texts {
        &self.texts
    }

    /// What is wrong with a sheet that comes to more uses of sheets than a reader, and a memory, can bear.
    fn too_many_uses(parsed: &BTreeMap<String, Sheet>) -> Option<Diagnostic> {
        fn count<'p>(
            name: &'p str,
            parsed: &'p BTreeMap<String, Sheet>,
            known: &mut BTreeMap<&'p str, Option<usize>>,
        ) -> usize {
            match (known.get(name), parsed.get(name)) {
                (Some(count), _) => count.unwrap_or(0),
                (None, None) => 0,
                (None, Some(sheet)) => {
                    // One that uses itself is told of elsewhere.
                    known.insert(name, None);
                    let below = uses(sheet).into_iter().filter_map(|usage| parsed.get_key_value(&usage.sheet));
                    let below = below.fold(1, |sum: usize, (used, _)| sum.saturating_add(count(used, parsed, known)));
                    known.insert(name, Some(below));
                    below
                }
            }
        }
        let mut known = BTreeMap::new();
        let (name, sheet) = parsed.iter().find(|(name, _)| count(name, parsed, &mut known) > USES)?;
        let what = format!("`{name}` comes to more than {USES} sheets, with those that its sheets use");
        Some(
            Diagnostic::new(what)
                .at(sheet.place(&(0..0)))
                .hint("a sheet that is used twice counts twice, with all below it"),
        )
    }

    /// Checks each sheet after the ones that it uses, so that their outputs are known.
    fn check_all(
        &mut self,
        mut parsed: BTreeMap<String, Sheet>,
        figures: Option<&[FigureKind]>,
        diagnostics: &mut Diagnostics,
    ) {
        if let Some(many) = Library::too_many_uses(&parsed) {
            diagnostics.push(many);
            return;
        }
        let mut done = BTreeMap::new();
        while let Some(name) = parsed.keys().next().cloned() {
            self.check_one(&name, &mut Vec::new(), &mut parsed, figures, &mut done, diagnostics);
        }
    }

    fn check_one(
        &mut self,
        name: &str,
        trail: &mut Vec<String>,
        parsed: &mut BTreeMap<String, Sheet>,
        figures: Option<&[FigureKind]>,
        done: &mut BTreeMap<String, Option<Signature>>,
        diagnostics: &mut Diagnostics,
    ) {
        let Some(mut sheet) = parsed.remove(name) else { return };
        trail.push(name.into());
        for usage in uses(&sheet) {
            if let Some(at) = trail.iter().position(|above| *above == usage.sheet) {
                let mut circle = trail[at..].to_vec();
                circle.push(usage.sheet.clone());
                diagnostics.push(
                    Diagnostic::new(format!("sheets use each other in a circle: {}", circle.join(" -> ")))
                        .at(sheet.place(&usage.span)),
                );
                done.insert(usage.sheet.clone(), None);
            }
            self.check_one(&usage.sheet, trail, parsed, figures, done, diagnostics);
        }
        trail.pop();
        let signature =
            check(&mut sheet, &self.tables, figures, done, &self.sources).map_err(|more| diagnostics.extend(more)).ok();
        done.insert(name.into(), signature);
        self.sheets.insert(name.into(), Arc::new(sheet));
    }

    pub fn sheet(&self, name: &str) -> Option<&Arc<Sheet>> {
        self.sheets.get(name)
    }

    pub fn table(&self, name: &str) -> Option<&Arc<Table>> {
        self.tables.get(name)
    }

    pub fn tables(&self) -> impl Iterator<Item = &Arc<Table>> {
        self.tables.values()
    }

    pub fn sheets(&self) -> impl Iterator<Item = &Arc<Sheet>> {
        self.sheets.values()
    }

    /// The sheets and tables that come from the job and not from the program.
    pub fn own(&self) -> &[Own] {
        &self.own
    }

    /// The path of a sheet below `sheets/`.
    pub fn path(&self, sheet: &str) -> Option<&str> {
        self.paths.get(sheet).map(String::as_str)
    }

    /// The folder that a sheet is filed under, e.g. `wood`.
    pub fn subject(&self, sheet: &str) -> &str {
        self.path(sheet).and_then(|path| path.split_once('/')).map_or("", |(folder, _)| folder)
    }
}

/// Calls `f` on every statement of a tree that nobody shares yet.
pub(super) fn walk_mut(body: &mut [Stmt], f: &mut impl FnMut(&mut Stmt)) {
    for stmt in body {
        f(stmt);
        match stmt {
            Stmt::When(when) => {
                if let Some(when) = Arc::get_mut(when) {
                    walk_mut(&mut when.body, f);
                    walk_mut(&mut when.otherwise, f);
                }
            }
            Stmt::Page(page) => {
                if let Some(page) = Arc::get_mut(page) {
                    walk_mut(&mut page.body, f);
                }
            }
            _ => {}
        }
    }
}

/// The names of all sheets, uses and open places.
fn sources(parsed: &BTreeMap<String, Sheet>) -> BTreeSet<String> {
    let mut names: BTreeSet<String> = parsed.keys().cloned().collect();
    for sheet in parsed.values() {
        sheet.walk(&mut |stmt| match stmt {
            Stmt::Use(usage) => drop(names.insert(usage.name.clone())),
            Stmt::Place(place) => drop(names.insert(place.name.clone())),
            _ => {}
        });
    }
    names
}

fn uses(sheet: &Sheet) -> Vec<Usage> {
    let mut found = Vec::new();
    sheet.walk(&mut |stmt| {
        let one = |usage: &Use| Usage { sheet: usage.sheet.clone(), span: usage.span.clone() };
        match stmt {
            Stmt::Use(usage) => found.push(one(usage)),
            Stmt::Place(place) => found.extend(place.choices.iter().map(|(_, usage)| one(usage))),
            _ => {}
        }
    });
    found
}

/// As many uses a sheet comes to, with all below it.
const USES: usize = 5_000;

/// A `use`, apart from its tree, which the check changes.
struct Usage {
    sheet: String,
    span: std::ops::Range<usize>,
}
