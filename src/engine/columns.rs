//! The columns and keys that a job can have: what the sheets say of each where
//! they need it, and those that are read without a sheet.

use std::collections::{BTreeMap, BTreeSet};

use super::{LOADS, ROOT, facts};
use crate::diag::list;
use crate::job::{CATALOGUES, Catalogue};
use crate::quantity::{Decimals, Unit, Units, read_any};
use crate::sheet::{Input, Library, Sheet, Stmt};

/// A column of a file, or a key of a table of `job.toml`.
#[derive(Debug)]
pub struct Column {
    /// `posts`, `site`.
    pub source: String,
    pub name: String,
    /// As it stands over a column: `width [in]`.
    pub heading: String,
    pub say: String,
    /// `length`, `pressure [psf]`, `one of x or y`; empty for what no sheet reads.
    pub kind: String,
    pub bounds: Vec<String>,
    /// What is taken where a job says nothing.
    pub default: Option<String>,
    /// The default is the most severe answer.
    pub safe: bool,
    /// It may be left out.
    pub optional: bool,
    /// `kind is made`: when alone it is read.
    pub only: Vec<String>,
    /// Who reads it.
    pub sheets: Vec<String>,
}

impl Column {
    /// What it is known by: its file or table, and its name.
    pub fn named(&self) -> (String, String) {
        (self.source.clone(), self.name.clone())
    }

    /// Says in other units what the sheets leave in those of the code.
    fn print_in(&mut self, units: Units) {
        self.heading = units.advice(&self.heading);
        let texts = [&mut self.say].into_iter().chain(&mut self.bounds).chain(&mut self.default);
        texts.for_each(|text| *text = units.words(text));
    }

    /// Whether it is a key of a table of `job.toml`.
    pub fn is_key(&self) -> bool {
        !is_file(&self.source)
    }

    /// Its kind with the units and the bounds: `length, > 0 in`; `one of x or y`.
    pub fn range(&self) -> String {
        let kind = [&self.kind].into_iter().filter(|kind| !kind.is_empty());
        kind.chain(&self.bounds).map(String::as_str).collect::<Vec<_>>().join(", ")
    }

    /// The same in words: `length, above 0 in`.
    pub fn plain_range(&self) -> String {
        let split: Vec<(&str, &str)> = self.bounds.iter().filter_map(|bound| bound.split_once(' ')).collect();
        let lower = split.iter().filter(|(op, _)| op.starts_with('>')).count();
        let bound = |(op, value): &(&str, &str)| match *op {
            // Where a sheet asks for more, nothing is not enough.
            ">" | ">=" if lower > 1 && value.starts_with("0 ") => None,
            ">=" => Some(format!("{value} or more")),
            ">" => Some(format!("above {value}")),
            "<=" => Some(format!("{value} at most")),
            _ => Some(format!("under {value}")),
        };
        let kind = match self.kind.as_str() {
            "" | "text" => None,
            "date" => Some("a date such as 2026-11-02".to_string()),
            kind => Some(kind.to_string()),
        };
        kind.into_iter().chain(split.iter().filter_map(bound)).collect::<Vec<_>>().join(", ")
    }
}

/// Source, column and words of what the program reads itself.
const PLAIN: [(&str, &str, &str); 46] = [
    ("posts", "mark", "name of the post on every page"),
    ("posts", "x [ft]", "where it is on the key plan, across"),
    ("posts", "y [ft]", "where it is on the key plan, up the sheet"),
    ("posts", "base", "a row of bases.csv"),
    ("posts", "foundation", "a row of foundations.csv"),
    ("posts", "anchor", "a row of anchors.csv"),
    ("posts", "P_CASE [lbf]", "axial force in a load case, such as P_D or P_W1, down positive"),
    ("posts", "H_x_CASE [lbf]", "shear along x in a load case, such as H_x_W1"),
    ("posts", "H_y_CASE [lbf]", "shear along y in a load case, such as H_y_W1"),
    ("posts", "w_x [lbf/ft]", "wind on the post itself along x, in every wind case that is given and has no w_x_CASE"),
    ("posts", "w_y [lbf/ft]", "the same along y"),
    (
        "posts",
        "w_x_CASE [lbf/ft]",
        "wind on the post itself along x in one wind case, such as w_x_W1: a size without a sign, which H does not include and with which it acts",
    ),
    ("posts", "w_y_CASE [lbf/ft]", "the same along y, such as w_y_W1"),
    ("posts", "source", "where its loads come from; demo marks invented data"),
    ("posts", "node", "its node in a frame analysis, by which reactions.csv may name it"),
    ("reactions", "mark", "the post: its mark, or its node where posts.csv has a column node"),
    ("reactions", "case", "the load case: D, L, Lr, S, R, E_x, E_y, or a wind that begins with W, such as W1"),
    ("reactions", "P [lbf]", "axial force of the post on its base in this case, down positive"),
    ("reactions", "H_x [lbf]", "shear along x in this case"),
    ("reactions", "H_y [lbf]", "shear along y in this case"),
    (
        "reactions",
        "w_x [lbf/ft]",
        "wind on the post itself along x, in wind cases alone: a size without a sign, which H does not include and with which it acts",
    ),
    ("reactions", "w_y [lbf/ft]", "the same along y"),
    ("job", "units", "imperial or metric: what the pages are printed in; values may be typed in either"),
    ("job", "name", "name printed on every page"),
    ("job", "place", "where the structure stands"),
    ("job", "number", "number of the job"),
    ("job", "client", "who it is for"),
    ("job", "revision", "revision of the package"),
    ("job", "prepared_by", "who prepared the package"),
    ("job", "checked_by", "who checked it"),
    (
        "loads",
        "wind",
        "as given: each way that the wind blows is a case of its own, as for a [roof]; both signs: the cases hold one way, and each also acts with all its signs turned",
    ),
    ("loads", "none", "a table [loads.none]: kinds of load that the job does not have, each with the reason"),
    ("loads", "cases", "a table [loads.cases]: names of an analysis for load cases, such as \"Snow\" = \"S\""),
    ("loads", "columns", "a table [loads.columns]: headings of an exported reactions.csv, such as \"FZ\" = \"P\""),
    ("loads", "signs", "the sign convention of the reactions, in words"),
    ("design_loads", "floor", "floor live load used for the reactions, in words for the cover"),
    ("design_loads", "roof_live", "roof live load, in words"),
    ("design_loads", "snow", "ground and flat roof snow load and their factors, in words"),
    ("design_loads", "wind", "wind speed, risk category, exposure and internal pressure, in words"),
    ("design_loads", "earthquake", "ground motion, category, system and base shear, in words"),
    ("design_loads", "soil", "bearing values, in words"),
    ("design_loads", "flood", "flood hazard area and elevations, or that there is none, in words"),
    ("design_loads", "special", "special loads, in words"),
    ("design_loads", "rain", "rain load on the roof, in words"),
    ("", "report", "number of its evaluation report"),
    ("", "report_date", "date of that report"),
];

fn is_file(source: &str) -> bool {
    ["posts", "reactions"].contains(&source) || Catalogue::named(source).is_some()
}

/// Keys of `job.toml`, by their table, that may also be columns of `posts.csv`: a key holds
/// for all posts, a column of its name for the posts that have something in it.
pub fn keys_by_post(library: &Library) -> BTreeMap<String, Vec<String>> {
    let mut tables: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for column in columns(library).into_iter().filter(|it| !it.sheets.is_empty() && facts::is_per_post(&it.source)) {
        tables.entry(column.source).or_default().push(column.name);
    }
    tables
}

/// Every column once, in the units of the library: the files first, then the tables of `job.toml`.
pub fn columns(library: &Library) -> Vec<Column> {
    let mut found: BTreeMap<(&str, &str), Vec<(&Sheet, &Input)>> = BTreeMap::new();
    for (sheet, input) in library.columns() {
        let Some(from) = input.from.as_ref().filter(|from| super::is_setting(&from.source) || is_file(&from.source))
        else {
            continue;
        };
        found.entry((&from.source, &from.name)).or_default().push((sheet, input));
    }
    let files = ["posts", "reactions"].into_iter().chain(CATALOGUES.iter().map(|catalogue| catalogue.name));
    let tables: BTreeSet<&str> = found
        .keys()
        .map(|(source, _)| *source)
        .chain(PLAIN.iter().map(|(source, ..)| *source))
        .filter(|name| !name.is_empty() && !is_file(name))
        .collect();
    let choosers = choosers(library);
    let mut all = Vec::new();
    for source in files.chain(tables) {
        let catalogue = Catalogue::named(source).is_some();
        if catalogue {
            all.push(plain(source, "name", "name of the row, to which a post refers"));
            all.push(plain(source, "source", "where its values come from; demo marks invented data"));
        }
        let own = PLAIN.iter().filter(|(of, ..)| *of == source || of.is_empty() && catalogue);
        all.extend(own.map(|(_, name, say)| plain(source, name, say)));
        let mut read: Vec<Column> = found
            .iter()
            .filter(|((of, name), _)| *of == source && !all.iter().any(|own| own.source == source && own.name == *name))
            .map(|((_, name), readers)| column(source, name, readers, &choosers))
            .collect();
        read.sort_by_key(|column| column.name.to_lowercase());
        all.extend(read);
    }
    all.iter_mut().for_each(|column| column.print_in(library.units()));
    all
}

fn plain(source: &str, heading: &str, say: &str) -> Column {
    Column {
        source: source.into(),
        name: heading.split(" [").next().unwrap_or(heading).into(),
        heading: heading.into(),
        say: say.into(),
        kind: String::new(),
        bounds: Vec::new(),
        default: None,
        safe: false,
        optional: false,
        only: Vec::new(),
        sheets: Vec::new(),
    }
}

fn column(source: &str, name: &str, readers: &[(&Sheet, &Input)], choosers: &[Chooser]) -> Column {
    let (sheet, input) = readers[0];
    let heading = if super::is_setting(source) { name.to_string() } else { heading(input) };
    let units = input.written();
    let units: Vec<&str> = units.iter().map(Unit::name).filter(|name| !name.is_empty()).collect();
    let kind = match units.as_slice() {
        [] => input.kind.to_string().replace('`', ""),
        [_] if !super::is_setting(source) => noun(input),
        units => format!("{} [{}]", noun(input), units.join(" or ")),
    };
    let mut bounds: Vec<String> = Vec::new();
    for (sheet, input) in readers {
        for (op, bound) in &input.bounds {
            tighten(&mut bounds, op.text(), sheet.source.text[bound.span.clone()].trim());
        }
    }
    // The words that most sheets have for it, of these the longest.
    let alike = |say: &str| readers.iter().filter(|(_, other)| other.say == say).count();
    let says = readers.iter().map(|(_, input)| input.say.as_str());
    let say = says.clone().max_by_key(|say| (alike(say), say.len())).unwrap_or_default();
    let names: BTreeSet<&str> = readers.iter().map(|(sheet, _)| sheet.name.as_str()).collect();
    Column {
        source: source.into(),
        name: name.into(),
        heading,
        say: all_said(say, says).replace('`', ""),
        kind,
        bounds,
        default: input.default_value(sheet),
        safe: input.safe,
        optional: input.optional,
        only: choosers.iter().filter_map(|chooser| chooser.only(&names)).collect(),
        sheets: names.into_iter().map(String::from).collect(),
    }
}

/// Words, and those that differ from them in one word alone: `the nearest pin, bolt or screw`.
fn all_said<'a>(say: &str, says: impl Iterator<Item = &'a str>) -> String {
    let words: Vec<&str> = say.split(' ').collect();
    let differ = |other: &&str| {
        let other: Vec<&str> = other.split(' ').collect();
        let mut places = (0..words.len()).filter(|at| other.len() == words.len() && other[*at] != words[*at]);
        places.next().filter(|_| places.next().is_none()).map(|at| (at, other[at].to_string()))
    };
    let others: BTreeSet<(usize, String)> = says.filter_map(|other| differ(&other)).collect();
    let Some((at, _)) = others.first().filter(|(first, _)| others.iter().all(|(at, _)| at == first)) else {
        return say.into();
    };
    let named = [words[*at]].into_iter().chain(others.iter().map(|(_, word)| word.as_str()));
    let named = list(&named.collect::<Vec<_>>(), "or").replace('`', "");
    words[..*at]
        .iter()
        .copied()
        .chain([named.as_str()])
        .chain(words[at + 1..].iter().copied())
        .collect::<Vec<_>>()
        .join(" ")
}

/// Adds a bound, such as `<=` and `2 in`: of two on one side the tighter one stays.
fn tighten(bounds: &mut Vec<String>, op: &str, value: &str) {
    let number = |text: &str| read_any(text, Some(&Unit::none()), Decimals::Point);
    let upper = op.starts_with('<');
    let other = bounds.iter().position(|known| known.starts_with('<') == upper);
    let looser = other.and_then(|at| {
        let known = bounds[at].split_once(' ')?.1;
        let (known, new) = (number(known)?.quantity.value, number(value)?.quantity.value);
        Some((known > new) == upper && known != new)
    });
    match (other, looser) {
        (Some(at), Some(true)) => bounds[at] = format!("{op} {value}"),
        (Some(at), Some(false)) if op.len() < 2 && bounds[at].ends_with(&format!("= {value}")) => {
            bounds[at] = format!("{op} {value}");
        }
        (Some(_), Some(false)) => {}
        _ => bounds.push(format!("{op} {value}")),
    }
}

/// `width [in]`.
fn heading(input: &Input) -> String {
    match input.written().first().filter(|unit| !unit.name().is_empty()) {
        Some(unit) => format!("{} [{}]", input.column(), unit.name()),
        None => input.column().to_string(),
    }
}

/// What it is, without an article.
fn noun(input: &Input) -> String {
    let noun = facts::noun(input);
    noun.split_once(' ').map_or(noun.clone(), |(_, noun)| noun.to_string())
}

/// A column that chooses who stands in open places.
struct Chooser {
    column: String,
    /// What is worked for each value of it.
    below: BTreeMap<String, BTreeSet<String>>,
    /// What is worked whatever its value.
    always: BTreeSet<String>,
}

impl Chooser {
    /// `kind is made`, if these sheets are worked for some values alone.
    fn only(&self, sheets: &BTreeSet<&str>) -> Option<String> {
        let holds = |below: &BTreeSet<String>| sheets.iter().any(|sheet| below.contains(*sheet));
        if holds(&self.always) {
            return None;
        }
        let values: Vec<&String> =
            self.below.iter().filter(|(_, below)| holds(below)).map(|(value, _)| value).collect();
        match values.len() {
            0 => None,
            all if all == self.below.len() => None,
            _ => Some(format!("{} is {}", self.column, list(&values, "or").replace('`', ""))),
        }
    }
}

fn choosers(library: &Library) -> Vec<Chooser> {
    let mut found: BTreeMap<String, BTreeMap<String, BTreeSet<String>>> = BTreeMap::new();
    for sheet in library.sheets() {
        sheet.walk(&mut |stmt| {
            let Stmt::Place(place) = stmt else { return };
            let values = found.entry(place.column.clone()).or_default();
            for (value, candidate) in &place.choices {
                reach(library, &candidate.sheet, "", values.entry(value.clone()).or_default());
            }
        });
    }
    let chooser = |(column, below): (String, BTreeMap<String, BTreeSet<String>>)| {
        let mut always = BTreeSet::new();
        [ROOT, LOADS].iter().for_each(|root| reach(library, root, &column, &mut always));
        Chooser { column, below, always }
    };
    found.into_iter().map(chooser).collect()
}

/// A sheet and all that it uses, but for what a column chooses.
fn reach(library: &Library, name: &str, but: &str, found: &mut BTreeSet<String>) {
    let Some(sheet) = library.sheet(name) else { return };
    if !found.insert(name.into()) {
        return;
    }
    sheet.walk(&mut |stmt| match stmt {
        Stmt::Use(usage) => reach(library, &usage.sheet, but, found),
        Stmt::Place(place) if place.column != but => {
            place.choices.iter().for_each(|(_, candidate)| reach(library, &candidate.sheet, but, found));
        }
        _ => {}
    });
}
