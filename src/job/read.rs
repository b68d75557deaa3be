//! Reads `job.toml`, `posts.csv` and the catalogues from their bytes.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::civil::Date;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::catalogue::{CATALOGUES, Catalogue, Entry, entries};
use super::{Card, Fact, Facts, LoadSettings, Reaction, Revision, loads};
use crate::diag::{Checked, Complaint, Complaints};
use crate::grid::{Grid, decode, same_name};
use crate::source::{Place, Source};

/// A file of the job as it was read.
#[derive(Debug)]
pub struct InputFile {
    pub name: String,
    pub header: Vec<String>,
    pub rows: Vec<Vec<String>>,
}

#[derive(Debug)]
pub struct Post {
    pub mark: String,
    /// Where it stands, in feet.
    pub at: [f64; 2],
    pub demo: bool,
    /// By the column's name.
    pub facts: Facts,
    /// What it chose from each catalogue: its base, its foundation, its anchors.
    pub entries: BTreeMap<&'static str, Entry>,
    pub reactions: BTreeMap<String, Reaction>,
    /// The row, for complaints about what it lacks.
    pub place: Place,
}

impl Post {
    pub fn base(&self) -> &str {
        self.entries.get("bases").map_or("", |base| base.name.as_str())
    }
}

#[derive(Debug)]
pub struct Job {
    pub card: Card,
    pub revisions: Vec<Revision>,
    pub basis: String,
    pub assumptions: Vec<String>,
    pub loads: LoadSettings,
    /// Every other table of `job.toml`.
    pub settings: BTreeMap<String, Facts>,
    pub posts: Vec<Post>,
    pub files: Vec<InputFile>,
    pub toml: Arc<Source>,
}

/// The names that every `job.toml` can have; sheets add tables of their own.
const TABLES: &[(&str, &[&str])] = &[
    ("job", &["name", "place", "number", "client", "date", "revision", "prepared_by", "checked_by"]),
    ("code", &["basis"]),
    ("loads", &["wind", "S_DS", "rho", "signs"]),
];

/// Code bases whose tables and clauses are built in.
const BASES: [&str; 2] = ["IBC 2021", "IRC 2021"];

/// Columns that have a meaning of their own.
const POST_COLUMNS: [&str; 4] = ["mark", "x", "y", "source"];

impl Job {
    /// `files` by name: `job.toml`, `posts.csv`, `bases.csv` and the other
    /// catalogues. `folder` names them in complaints. `known` gives the keys of the tables that sheets
    /// read; a key that nobody knows is a slip.
    ///
    /// # Errors
    /// Everything that is wrong in any of the files.
    pub fn read(
        folder: &str,
        files: &BTreeMap<String, Vec<u8>>,
        known: &BTreeMap<String, Vec<String>>,
    ) -> Checked<Job> {
        let mut complaints = Complaints::new();
        let source = |name: &str| -> Checked<Arc<Source>> {
            let bytes = files.get(name).ok_or_else(|| {
                Complaint::new(format!("there is no `{name}` in `{folder}`"))
                    .hint("a job is a folder with `job.toml`, `posts.csv` and `bases.csv`")
            })?;
            Ok(Source::new(format!("{folder}/{name}"), decode(bytes)))
        };
        let mut keep = |more: Complaints| complaints.extend(more);
        let toml = source("job.toml").map_err(&mut keep).ok();
        let posts = source("posts.csv").and_then(|source| Grid::read(&source)).map_err(&mut keep).ok();
        let head = toml.as_ref().and_then(|toml| Head::read(toml, known).map_err(&mut keep).ok());
        let mut grids = Vec::new();
        let mut catalogues = Catalogued::new();
        for catalogue in &CATALOGUES {
            let file = catalogue.file();
            if !catalogue.required && !files.contains_key(&file) {
                continue;
            }
            let grid = source(&file).and_then(|source| Grid::read(&source));
            let read = grid.and_then(|grid| Ok((entries(catalogue, &grid)?, grid)));
            if let Ok((rows, grid)) = read.map_err(&mut keep) {
                catalogues.insert(catalogue.name, rows);
                grids.push(as_read(&file, &grid));
            }
        }
        let Some(posts) = posts.filter(|_| catalogues.contains_key("bases")) else { return Err(complaints) };
        let lacking = CATALOGUES.iter().filter(|catalogue| !files.contains_key(&catalogue.file()));
        keep(lacking.filter_map(|catalogue| lacks(catalogue, &posts)).collect());
        let mut read = read_posts(&posts, &catalogues).map_err(&mut keep).ok();
        if let (Some(posts), true) = (&mut read, files.contains_key(REACTIONS)) {
            let grid = source(REACTIONS).and_then(|source| Grid::read(&source));
            let added = grid.and_then(|grid| add_reactions(posts, &grid).map(|()| grid));
            if let Ok(grid) = added.map_err(&mut keep) {
                grids.push(as_read(REACTIONS, &grid));
            }
        }
        let (Some(head), Some(read), Some(toml)) = (head, read, toml) else { return Err(complaints) };
        let stated = !head.loads.signs.is_empty();
        if files.contains_key(REACTIONS) && !stated {
            keep(
                Complaint::new(format!("`[loads]` in `job.toml` does not say the sign convention of `{REACTIONS}`"))
                    .hint("write `signs = \"…\"`: which way P, H_x and H_y point, and whether they act on the base or on the post")
                    .into(),
            );
        }
        if !complaints.is_empty() {
            return Err(complaints);
        }
        let mut inputs = vec![
            InputFile {
                name: "job.toml".into(),
                header: vec!["table".into(), "key".into(), "value".into()],
                rows: head.rows,
            },
            as_read("posts.csv", &posts),
        ];
        inputs.extend(grids);
        Ok(Job {
            card: head.card,
            revisions: head.revisions,
            basis: head.basis,
            assumptions: head.assumptions,
            loads: head.loads,
            settings: head.settings,
            posts: read,
            files: inputs,
            toml,
        })
    }

    /// The first thing that marks the job's data as a demonstration.
    pub fn demo(&self) -> bool {
        self.posts.iter().any(|post| post.demo)
    }

    /// Every load case that some post names.
    pub fn cases(&self) -> Vec<String> {
        loads::case_names(self.posts.iter().flat_map(|post| post.reactions.keys()))
    }
}

/// Reactions from a frame analysis, in a file of their own.
pub const REACTIONS: &str = "reactions.csv";

/// Adds the reactions of `reactions.csv` to those that stand in `posts.csv`.
fn add_reactions(posts: &mut [Post], grid: &Grid) -> Checked<()> {
    let marks: Vec<&str> = posts.iter().map(|post| post.mark.as_str()).collect();
    let mut table = loads::table(grid, &marks)?;
    let mut complaints = Complaints::new();
    for post in posts {
        for (case, reaction) in table.remove(&post.mark).unwrap_or_default() {
            if post.reactions.insert(case.clone(), reaction).is_some() {
                complaints.push(
                    Complaint::new(format!(
                        "case {case} of post {} stands in `posts.csv` and in `{REACTIONS}`",
                        post.mark
                    ))
                    .at(post.place.clone())
                    .hint("leave it out of one of them"),
                );
            }
        }
    }
    if complaints.is_empty() { Ok(()) } else { Err(complaints) }
}

fn as_read(name: &str, grid: &Grid) -> InputFile {
    InputFile {
        name: name.into(),
        header: grid.columns.iter().map(|column| column.cell.text.clone()).collect(),
        rows: grid.rows.iter().map(|row| row.iter().map(|cell| cell.text.clone()).collect()).collect(),
    }
}

/// The cells of a row that are not empty, by the names of their columns.
pub fn row_facts(grid: &Grid, row: usize, file: &str) -> Facts {
    let cells = grid.columns.iter().zip(&grid.rows[row]).filter(|(_, cell)| !cell.text.is_empty());
    cells
        .map(|(column, cell)| {
            let fact = Fact {
                text: cell.text.clone(),
                unit: column.unit.clone(),
                place: grid.place(cell),
                whence: format!("{file}, {}", column.name),
                comma_decimals: grid.comma_decimals,
            };
            (column.name.clone(), fact)
        })
        .collect()
}

pub(super) fn need_column(grid: &Grid, name: &str, what: &str) -> Result<usize, Complaint> {
    grid.column(name).ok_or_else(|| {
        let end = grid.columns.last().map_or(0, |column| column.cell.span.end);
        let start = grid.columns.first().map_or(0, |column| column.cell.span.start);
        Complaint::new(format!("there is no column `{name}`, {what}"))
            .at(Place::new(&grid.source, start..end))
            .nearest(name, grid.columns.iter().map(|column| column.name.as_str()).filter(|known| !known.contains("_W")))
    })
}

/// The rows of every catalogue that the job has.
/// What to say where the posts choose from a file that is not there.
fn lacks(catalogue: &Catalogue, posts: &Grid) -> Option<Complaint> {
    let (file, column) = (catalogue.file(), posts.column(catalogue.column)?);
    let cell = posts.rows.iter().map(|row| &row[column]).find(|cell| !cell.text.is_empty())?;
    let complaint = Complaint::new(format!("there is no `{file}` in the job, which `{}` is to stand in", cell.text));
    Some(complaint.at(posts.place(cell)).hint(format!("write `{file}`, a row for each {}", catalogue.column)))
}

type Catalogued = BTreeMap<&'static str, BTreeMap<String, Entry>>;

fn read_posts(grid: &Grid, catalogues: &Catalogued) -> Checked<Vec<Post>> {
    let mut complaints = Complaints::new();
    let wants = [
        "which names a post on every page",
        "its place on the key plan, across",
        "its place on the key plan, up the sheet",
        "which says where its loads come from (`demo` for invented ones)",
    ];
    let mut columns = [0; 4];
    for (at, (name, what)) in POST_COLUMNS.iter().zip(wants).enumerate() {
        match need_column(grid, name, what) {
            Ok(found) => columns[at] = found,
            Err(complaint) => complaints.push(complaint),
        }
    }
    for catalogue in CATALOGUES.iter().filter(|catalogue| catalogue.required) {
        let what = format!("which names a row of `{}`", catalogue.file());
        complaints.extend(need_column(grid, catalogue.column, &what).err());
    }
    if grid.rows.is_empty() {
        complaints.push(Complaint::new(format!("`{}` has no posts", grid.source.name)));
    }
    if !complaints.is_empty() {
        return Err(complaints);
    }
    let mut posts: Vec<Post> = Vec::new();
    for (at, row) in grid.rows.iter().enumerate() {
        match read_post(grid, at, columns, catalogues) {
            Ok(post) if posts.iter().any(|other| other.mark == post.mark) => {
                let first = posts.iter().find(|other| other.mark == post.mark).map(|other| other.place.describe());
                complaints.push(
                    Complaint::new(format!("the mark `{}` stands twice", post.mark))
                        .at(grid.place(&row[columns[0]]))
                        .hint(format!("the first stands in {}", first.unwrap_or_default())),
                );
            }
            Ok(post) => {
                let near = |other: &&Post| (0..2).all(|axis| (other.at[axis] - post.at[axis]).abs() < 0.02);
                if let Some(other) = posts.iter().find(near) {
                    let message = format!("post {} stands where post {} stands", post.mark, other.mark);
                    complaints.push(Complaint::new(message).at(post.place.clone()).hint("look at `x` and `y`"));
                }
                posts.push(post);
            }
            Err(more) => complaints.extend(more),
        }
    }
    if complaints.is_empty() { Ok(posts) } else { Err(complaints) }
}

fn read_post(grid: &Grid, at: usize, columns: [usize; 4], catalogues: &Catalogued) -> Checked<Post> {
    use crate::formula::{Kind, Value};
    let [mark_at, x_at, y_at, source_at] = columns;
    let row = &grid.rows[at];
    let mark = row[mark_at].text.clone();
    let mut complaints = Complaints::new();
    let empty = |cell: usize, what: &str| {
        Complaint::new(format!("row {}: {what}", at + 2)).at(grid.place(&row[cell])).label("this cell is empty")
    };
    if mark.is_empty() {
        complaints.push(empty(mark_at, "a post without a mark"));
    }
    if row[source_at].text.is_empty() {
        complaints.push(
            empty(source_at, "nothing says where the loads of this post come from")
                .hint("write it in the column `source`, such as `by hand, 2026-11-02`; `demo` marks invented data"),
        );
    }
    let mut place = [0.0; 2];
    for (value, column) in place.iter_mut().zip([x_at, y_at]) {
        let fact = Fact {
            text: row[column].text.clone(),
            unit: grid.columns[column].unit.clone(),
            place: grid.place(&row[column]),
            whence: format!("post {mark}, {}", grid.columns[column].name),
            comma_decimals: grid.comma_decimals,
        };
        match fact.read(&Kind::Quantity(crate::quantity::Dim::LENGTH)) {
            Ok((Value::Quantity(length), _)) => *value = length.value / 12.0,
            Ok(_) => {}
            Err(complaint) => complaints.push(complaint),
        }
    }
    let mut chosen = BTreeMap::new();
    for catalogue in &CATALOGUES {
        let Some(cell) = grid.column(catalogue.column).map(|at| &row[at]) else { continue };
        let (thing, name) = (catalogue.column, &cell.text);
        if name.is_empty() && !catalogue.required {
            continue;
        }
        // A file that is not there, or is wrong, was complained of.
        let Some(rows) = catalogues.get(catalogue.name) else { continue };
        match rows.values().find(|entry| entry.name.eq_ignore_ascii_case(name)) {
            Some(entry) => drop(chosen.insert(catalogue.name, entry.clone())),
            None => complaints.push(
                Complaint::new(format!("post {mark}: there is no {thing} `{name}` in `{}`", catalogue.file()))
                    .at(grid.place(cell))
                    .nearest(name, rows.keys().map(String::as_str)),
            ),
        }
    }
    let reactions = loads::reactions(grid, at, &mark).map_err(|more| complaints.extend(more)).unwrap_or_default();
    if !complaints.is_empty() {
        return Err(complaints);
    }
    let facts = row_facts(grid, at, "posts.csv");
    let is_demo = |facts: &Facts| {
        facts.iter().any(|(name, fact)| same_name(name, "source") && fact.text.to_lowercase().starts_with("demo"))
    };
    let span = row[0].span.start..row.iter().rev().find(|cell| !cell.text.is_empty()).map_or(0, |cell| cell.span.end);
    Ok(Post {
        mark,
        at: place,
        demo: is_demo(&facts) || chosen.values().any(|entry| is_demo(&entry.facts)),
        facts: facts.into_iter().filter(|(name, _)| loads::column(name).is_none()).collect(),
        entries: chosen,
        reactions,
        place: Place::new(&grid.source, span),
    })
}

/// What `job.toml` says.
struct Head {
    card: Card,
    revisions: Vec<Revision>,
    basis: String,
    assumptions: Vec<String>,
    loads: LoadSettings,
    settings: BTreeMap<String, Facts>,
    /// Table, key and value, as printed in the appendix.
    rows: Vec<Vec<String>>,
}

impl Head {
    fn read(source: &Arc<Source>, known: &BTreeMap<String, Vec<String>>) -> Checked<Head> {
        let table = DeTable::parse(&source.text).map_err(|error| {
            let mut complaint = Complaint::new(format!("`job.toml` can not be read: {}", error.message()));
            if let Some(span) = error.span() {
                complaint = complaint.at(Place::new(source, span));
            }
            complaint.hint("a line reads `key = \"text in quotes\"` or `key = 12.5`")
        })?;
        let mut reader = HeadReader {
            source,
            known,
            complaints: Vec::new(),
            rows: Vec::new(),
            tables: BTreeMap::new(),
            lists: BTreeMap::new(),
        };
        reader.all(table.get_ref());
        let head = reader.head();
        if reader.complaints.is_empty() { Ok(head) } else { Err(reader.complaints) }
    }
}

struct HeadReader<'a> {
    source: &'a Arc<Source>,
    known: &'a BTreeMap<String, Vec<String>>,
    complaints: Complaints,
    rows: Vec<Vec<String>>,
    tables: BTreeMap<String, Facts>,
    /// `[[revisions]]` and `assumptions`.
    lists: BTreeMap<String, Vec<BTreeMap<String, String>>>,
}

impl HeadReader<'_> {
    fn keys(&self, table: &str) -> Option<Vec<String>> {
        let fixed =
            TABLES.iter().find(|(name, _)| *name == table).map(|(_, keys)| keys.iter().map(|key| key.to_string()));
        let own = self.known.get(table).cloned();
        match (fixed, own) {
            (None, None) => None,
            (fixed, own) => Some(fixed.into_iter().flatten().chain(own.into_iter().flatten()).collect()),
        }
    }

    fn all(&mut self, root: &DeTable) {
        for (name, value) in root {
            let place = Place::new(self.source, name.span());
            let table: &str = name.get_ref();
            match (table, value.get_ref()) {
                ("assumptions", DeValue::Array(items)) => {
                    for item in items.iter() {
                        if let Some(text) = self.text(item) {
                            self.rows.push(vec![String::new(), "assumptions".into(), text.clone()]);
                            self.lists
                                .entry("assumptions".into())
                                .or_default()
                                .push([("text".to_string(), text)].into());
                        }
                    }
                }
                ("revisions", DeValue::Array(items)) => {
                    for item in items.iter() {
                        let DeValue::Table(row) = item.get_ref() else { continue };
                        let mut revision = BTreeMap::new();
                        for (key, value) in row {
                            if !["no", "date", "what"].contains(&key.get_ref().as_ref()) {
                                self.unknown(key, &["no", "date", "what"].map(String::from), "revisions");
                            } else if let Some(text) = self.text(value) {
                                revision.insert(key.get_ref().to_string(), text);
                            }
                        }
                        let text =
                            ["no", "date", "what"].map(|key| revision.get(key).cloned().unwrap_or_default()).join(", ");
                        self.rows.push(vec!["revisions".into(), String::new(), text]);
                        self.lists.entry("revisions".into()).or_default().push(revision);
                    }
                }
                (_, DeValue::Table(rows)) => match self.keys(table) {
                    Some(keys) => self.table(table, rows, &keys),
                    None => {
                        let known: Vec<String> =
                            TABLES.iter().map(|(name, _)| name.to_string()).chain(self.known.keys().cloned()).collect();
                        self.complaints.push(
                            Complaint::new(format!("unknown table `[{table}]` in `job.toml`"))
                                .at(place)
                                .nearest(table, known.iter().map(String::as_str)),
                        );
                    }
                },
                _ => {
                    let list = [("assumptions", "a list of texts"), ("revisions", "written as `[[revisions]]`")];
                    if let Some((_, wanted)) = list.iter().find(|(name, _)| *name == table) {
                        let what = format!("`{table}` of `job.toml` is {wanted}");
                        self.complaints.push(Complaint::new(what).at(place));
                        continue;
                    }
                    let mut known: Vec<&str> = vec!["assumptions", "revisions"];
                    known.extend(TABLES.iter().map(|(name, _)| *name));
                    self.complaints.push(
                        Complaint::new(format!("unknown key `{table}` at the top of `job.toml`"))
                            .at(place)
                            .nearest(table, known),
                    );
                }
            }
        }
    }

    fn unknown(&mut self, key: &Spanned<std::borrow::Cow<str>>, known: &[String], table: &str) {
        let name: &str = key.get_ref();
        self.complaints.push(
            Complaint::new(format!("unknown key `{name}` in `[{table}]`"))
                .at(Place::new(self.source, key.span()))
                .nearest(name, known.iter().map(String::as_str)),
        );
    }

    fn table(&mut self, table: &str, rows: &DeTable, known: &[String]) {
        let mut facts = BTreeMap::new();
        for (key, value) in rows {
            let name: &str = key.get_ref();
            if !known.iter().any(|known| same_name(known, name)) {
                self.unknown(key, known, table);
                continue;
            }
            let Some(text) = self.text(value) else { continue };
            self.rows.push(vec![table.into(), name.into(), text.clone()]);
            let fact = Fact {
                text,
                unit: None,
                place: Place::new(self.source, value.span()),
                whence: format!("job.toml, {name}"),
                comma_decimals: false,
            };
            facts.insert(name.to_string(), fact);
        }
        self.tables.insert(table.into(), facts);
    }

    /// A value as it is typed; numbers, dates and truths count as text here.
    fn text(&mut self, value: &Spanned<DeValue>) -> Option<String> {
        match value.get_ref() {
            DeValue::String(text) => Some(text.to_string()),
            DeValue::Boolean(yes) => Some(if *yes { "yes" } else { "no" }.into()),
            DeValue::Integer(_) | DeValue::Float(_) | DeValue::Datetime(_) => {
                Some(self.source.text[value.span()].to_string())
            }
            DeValue::Array(_) | DeValue::Table(_) => {
                self.complaints.push(
                    Complaint::new("found a list or a table; a text or a number is wanted")
                        .at(Place::new(self.source, value.span())),
                );
                None
            }
        }
    }

    fn need(&mut self, table: &str, key: &str, hint: &str) -> String {
        match self.tables.get(table).and_then(|facts| facts.get(key)) {
            Some(fact) => fact.text.clone(),
            None => {
                let at = self.source.text.find(&format!("[{table}]"));
                let mut complaint = Complaint::new(format!("`[{table}]` has no `{key}`")).hint(hint);
                if let Some(at) = at {
                    complaint = complaint.at(Place::new(self.source, at..at + table.len() + 2));
                }
                self.complaints.push(complaint);
                String::new()
            }
        }
    }

    fn may(&self, table: &str, key: &str) -> String {
        self.tables.get(table).and_then(|facts| facts.get(key)).map_or(String::new(), |fact| fact.text.clone())
    }

    fn head(&mut self) -> Head {
        let date = self.need("job", "date", "the date that stands on every page, such as `date = \"2026-11-02\"`");
        let date = match date.parse::<Date>() {
            Ok(date) => date,
            Err(_) => {
                if let Some(fact) = self.tables.get("job").and_then(|facts| facts.get("date")) {
                    self.complaints.push(
                        Complaint::new(format!("found `{date}`; a date such as `2026-11-02` is wanted"))
                            .at(fact.place.clone()),
                    );
                }
                Date::constant(2000, 1, 1)
            }
        };
        let card = Card {
            name: self.need("job", "name", "the name that stands on every page"),
            place: self.need("job", "place", "where the structure stands"),
            number: self.may("job", "number"),
            client: self.may("job", "client"),
            date,
            revision: self.may("job", "revision"),
            prepared_by: self.need("job", "prepared_by", "who worked the package out; somebody else checks it"),
            checked_by: self.may("job", "checked_by"),
        };
        let basis = self.need("code", "basis", "write `basis = \"IBC 2021\"`");
        if !basis.is_empty() && !BASES.contains(&basis.as_str()) {
            let place = self.tables["code"]["basis"].place.clone();
            self.complaints.push(
                Complaint::new(format!("the code basis `{basis}` is not built in")).at(place).hint(
                    "built in are `IBC 2021` and `IRC 2021`, with ASCE 7-16, NDS 2018, ACI 318-19 and AISC 360-16",
                ),
            );
        }
        let loads = self.loads();
        let lists = std::mem::take(&mut self.lists);
        let of = |name: &str| lists.get(name).cloned().unwrap_or_default();
        let get = |row: &BTreeMap<String, String>, key: &str| row.get(key).cloned().unwrap_or_default();
        let revisions = of("revisions");
        let revisions =
            revisions.iter().map(|row| Revision { no: get(row, "no"), date: get(row, "date"), what: get(row, "what") });
        let mut settings = std::mem::take(&mut self.tables);
        settings.retain(|name, _| self.known.contains_key(name));
        Head {
            card,
            revisions: revisions.collect(),
            basis,
            assumptions: of("assumptions").iter().map(|row| get(row, "text")).collect(),
            loads,
            settings,
            rows: std::mem::take(&mut self.rows),
        }
    }

    fn loads(&mut self) -> LoadSettings {
        let wind = self.may("loads", "wind");
        if !matches!(wind.as_str(), "" | "as given" | "both signs")
            && let Some(fact) = self.tables.get("loads").and_then(|facts| facts.get("wind"))
        {
            self.complaints.push(
                Complaint::new(format!("found `{wind}`; `as given` or `both signs` is wanted"))
                    .at(fact.place.clone())
                    .hint("`as given`: each wind case has its own sign; `both signs`: each acts in both directions"),
            );
        }
        let mut number = |key: &str| -> Option<f64> {
            let fact = self.tables.get("loads")?.get(key)?.clone();
            match fact.read(&crate::formula::Kind::NUMBER) {
                Ok((crate::formula::Value::Quantity(quantity), _)) if quantity.value >= 0.0 => Some(quantity.value),
                Ok(_) => {
                    self.complaints.push(Complaint::new(format!("`{key}` is not below zero")).at(fact.place));
                    None
                }
                Err(complaint) => {
                    self.complaints.push(complaint);
                    None
                }
            }
        };
        let (s_ds, rho) = (number("S_DS"), number("rho"));
        LoadSettings {
            both_signs: wind != "as given",
            s_ds,
            rho: rho.unwrap_or(1.0),
            signs: self.may("loads", "signs"),
        }
    }
}
