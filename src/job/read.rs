//! A whole job, from the bytes of its files.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::answers::{Answers, CONFIRMATIONS};
use super::card::{Card, Revision};
use super::catalogue::{CATALOGUES, Catalogue, Entries};
use super::fact::{Facts, is_date};
use super::firm::Firm;
use super::head::Head;
use super::headings::name_columns;
use super::known::Known;
use super::loads::{CASE, LoadSettings, case_names};
use super::mapping::{Mapping, NAMING};
use super::posts::{Catalogued, Post, posts};
use super::reactions::{REACTIONS, lateral_cases, table};
use super::starter::{Marked, Starter};
use super::tables::Tables;
use super::wind::wind_on_posts;
use crate::diag::{Checked, Diagnostic, Diagnostics, Kind::Meant, not_also_missing};
use crate::grid::{Cell, Grid, decode};
use crate::names::plain;
use crate::quantity::Units;
use crate::source::Source;
use crate::workbook::no_value;

/// A file of the job as it was read.
#[derive(Debug)]
pub struct InputFile {
    /// The file that would hold all of its table.
    pub name: String,
    /// The same, or the file or sheet that stands in its place.
    pub shown: String,
    pub header: Vec<String>,
    /// What each column is known by.
    pub names: Vec<String>,
    pub rows: Vec<Vec<String>>,
}

#[derive(Debug)]
pub struct Job {
    /// As it was named.
    pub folder: String,
    pub card: Card,
    pub revisions: Vec<Revision>,
    /// Whose calculations these are, where the job says.
    pub firm: Option<Firm>,
    /// The text of the job's own title block.
    pub title_block: Option<Arc<Source>>,
    pub basis: String,
    /// What it is printed in.
    pub units: Units,
    pub assumptions: Vec<String>,
    pub loads: LoadSettings,
    /// What the analysis of the reactions calls cases and columns.
    pub mapping: Mapping,
    /// Design loads in the words of the job, by the items of IBC 1603.1.
    pub stated: Facts,
    pub answers: Answers,
    /// Values that nobody has answered for yet.
    pub starters: Vec<Starter>,
    /// Every other table of `job.toml`.
    pub settings: BTreeMap<String, Facts>,
    pub posts: Vec<Post>,
    /// All that a post could choose.
    pub catalogues: Catalogued,
    /// Every row of `posts.csv` is a post, and its place is known.
    pub placed: bool,
    /// The load cases that no file gives, but a sheet worked out.
    pub derived: BTreeSet<String>,
    pub files: Vec<InputFile>,
    /// The sheets that are read in place of files.
    pub tables: Tables,
    pub toml: Arc<Source>,
    /// What stands in the files and nobody reads.
    pub notes: Diagnostics,
}

impl Job {
    /// `files` by name: `job.toml`, `posts.csv`, `bases.csv` and the other
    /// catalogues. `folder` names them in diagnostics. `known` gives the names
    /// that sheets read.
    ///
    /// # Errors
    /// Everything that is wrong in any of the files.
    pub fn read(folder: &str, files: &BTreeMap<String, Vec<u8>>, known: &Known) -> Checked<Job> {
        match Job::read_all(folder, files, known) {
            (Some(job), wrong) if wrong.is_empty() => Ok(job),
            (_, mut wrong) => {
                not_also_missing(&mut wrong);
                Err(wrong)
            }
        }
    }

    /// As much of a job as can be known, and everything that is wrong in any of
    /// the files.
    pub fn read_all(folder: &str, files: &BTreeMap<String, Vec<u8>>, known: &Known) -> (Option<Job>, Diagnostics) {
        let (tables, wrong, notes) = Tables::of(folder, files);
        let mut reading = Reading { folder, files, known, tables, wrong, notes };
        let job = reading.job();
        let Reading { mut wrong, mut notes, tables, .. } = reading;
        tables.in_words(&mut wrong);
        tables.in_words(&mut notes);
        (job.map(|job| Job { notes, tables, ..job }), wrong)
    }

    /// Puts the posts in the order of these marks; others stand behind them.
    pub fn order(&mut self, marks: &[String]) {
        let places: BTreeMap<String, usize> = marks.iter().enumerate().map(|(at, mark)| (plain(mark), at)).collect();
        self.posts.sort_by_key(|post| places.get(&plain(&post.mark)).copied().unwrap_or(usize::MAX));
    }

    /// Prints of the logo, among the inputs as read, which bytes it is made of.
    pub fn seal_logo(&mut self) {
        let Some(logo) = self.firm.as_ref().and_then(|firm| firm.logo.as_ref()) else { return };
        let rows = self.files.iter_mut().filter(|file| file.name == "job.toml").flat_map(|file| &mut file.rows);
        for row in rows.filter(|row| row[..2] == ["firm", "logo"]) {
            row[2] = format!("{}, {} bytes, sha256 {}…", logo.file, logo.bytes.len(), logo.digest);
        }
    }

    /// The first thing that marks the job's data as a demonstration.
    pub fn demo(&self) -> bool {
        self.posts.iter().any(|post| post.demo)
    }

    /// Every load case that some post names.
    pub fn cases(&self) -> Vec<String> {
        case_names(self.posts.iter().flat_map(|post| post.reactions.keys()))
    }
}

/// What a job is read from, and what was found.
struct Reading<'a> {
    folder: &'a str,
    files: &'a BTreeMap<String, Vec<u8>>,
    known: &'a Known,
    tables: Tables,
    wrong: Diagnostics,
    notes: Diagnostics,
}

impl Reading<'_> {
    /// What was read, whatever was wrong beside it.
    fn keep<T>(&mut self, (read, wrong): (T, Diagnostics)) -> T {
        self.wrong.extend(wrong);
        read
    }

    fn source(&mut self, name: &str) -> Option<Arc<Source>> {
        if let Some(sheet) = self.tables.sheet(name) {
            return Some(sheet.clone());
        }
        let Some(bytes) = self.files.get(name) else {
            let wrong = Diagnostic::new(format!("there is no `{name}` in `{}`", self.folder))
                .hint("a job is a folder with `job.toml`, `posts.csv` and `bases.csv`");
            self.wrong.push(self.tables.hints(name).into_iter().fold(wrong, Diagnostic::hint));
            return None;
        };
        Some(Source::new(format!("{}/{name}", self.folder), decode(bytes)))
    }

    /// A file whose headings have these columns, each under its one name; and which
    /// of its cells are marked as nobody's answer. `table` is the one that it is part of.
    fn grid(&mut self, name: &str, table: &str, sought: &[&str], mapping: &Mapping) -> Option<(Grid, Marked)> {
        let source = self.source(name)?;
        let sought = mapping.sought(sought);
        let mut grid = Grid::read_below(&source, &sought).map_err(|more| self.wrong.extend(more)).ok()?;
        let marked = Marked::take(&mut grid);
        let headings = name_columns(&mut grid, (table, name), self.known, mapping);
        self.wrong.extend(headings.wrong);
        self.wrong.extend(marked.wrong(&grid, table, self.known));
        self.wrong.extend(no_values(&grid));
        self.notes.append(&mut grid.notes);
        self.notes.extend(headings.notes);
        Some((grid, marked))
    }

    fn job(&mut self) -> Option<Job> {
        let toml = self.source("job.toml");
        let (mut head, wrong) = toml.as_ref().map_or((None, Diagnostics::new()), |toml| Head::read(toml, self.known));
        let mapping = head.as_mut().map(|head| std::mem::take(&mut head.mapping)).unwrap_or_default();
        let none = Mapping::default();
        let cases = Mapping { columns: Vec::new(), cases: mapping.cases.clone() };
        let posts_read = self.grid("posts.csv", "posts", &["mark"], &cases);
        self.wrong.extend(wrong);
        if let (Some(head), true) = (&mut head, self.files.contains_key(CONFIRMATIONS))
            && let Some(source) = self.source(CONFIRMATIONS)
        {
            self.wrong.extend(head.answers.add(&source).err().into_iter().flatten());
        }
        let (mut inputs, mut rows_marked) = (Vec::new(), Vec::new());
        let mut catalogues = Catalogued::new();
        for catalogue in &CATALOGUES {
            let file = catalogue.file();
            if !catalogue.required && !self.tables.has(&file) {
                continue;
            }
            let parts = self.tables.parts(&file).to_vec();
            let parts = if parts.is_empty() { vec![file.clone()] } else { parts };
            let read = parts.iter().filter_map(|part| Some((part, self.grid(part, catalogue.name, &["name"], &none)?)));
            let read: Vec<(&String, (Grid, Marked))> = read.collect();
            if read.is_empty() {
                continue;
            }
            let whole = read.len() == parts.len();
            let grids = read.iter().map(|(part, (grid, _))| (part.as_str(), grid));
            let called = self.tables.name(&file);
            let entries = self.keep(Entries::read(catalogue, &called, grids, whole));
            catalogues.insert(catalogue.name, entries);
            for (part, (grid, marked)) in read {
                let shown = if parts.len() > 1 { part.clone() } else { called.clone() };
                inputs.push(InputFile { shown, ..as_read(&file, &grid, &marked) });
                rows_marked.push((catalogue, grid, marked));
            }
        }
        let (grid, marked) = posts_read?;
        let optional = CATALOGUES.iter().filter(|catalogue| !catalogue.required);
        let lacking = optional.filter(|catalogue| !self.tables.has(&catalogue.file()));
        let lacking: Diagnostics = lacking.filter_map(|catalogue| lacks(catalogue, &grid)).collect();
        self.wrong.extend(lacking);
        let mut posts = self.keep(posts(&grid, &catalogues));
        let mut starters = marked.by_column(&grid, "posts");
        for (catalogue, grid, marked) in &rows_marked {
            starters.extend(marked.by_row(grid, catalogue.name, &chosen(&posts, catalogue)));
        }
        let (mut cases_read, mut columns_read) = (BTreeSet::new(), BTreeSet::new());
        if self.tables.has(REACTIONS) {
            let before = self.wrong.len();
            match self.grid(REACTIONS, "reactions", &NAMING, &mapping) {
                Some((grid, marked)) => {
                    self.wrong.extend(add_reactions(&mut posts, &grid, &mapping));
                    if let Some(case) = grid.column("case") {
                        cases_read.extend(grid.rows.iter().map(|row| row[case].text.clone()));
                    }
                    columns_read.extend(grid.columns.iter().map(|column| column.cell.text.clone()));
                    starters.extend(marked.by_column(&grid, REACTIONS.trim_end_matches(".csv")));
                    let shown = self.tables.name(REACTIONS);
                    inputs.push(InputFile { shown, ..as_read(REACTIONS, &grid, &marked) });
                }
                // What its cases are is not known.
                None => {
                    let unknown = self.wrong.split_off(before);
                    self.wrong.extend(unknown.into_iter().map(|diagnostic| diagnostic.of(Meant, CASE)));
                }
            }
        }
        let headings = grid.columns.iter().map(|column| column.cell.text.clone()).collect();
        self.notes.extend(mapping.idle(&cases_read, &headings, &columns_read));
        let (head, toml) = (head?, toml?);
        if posts.is_empty() {
            return None;
        }
        self.wrong.extend(wind_on_posts(&mut posts, head.settings.contains_key("roof")));
        self.wrong.extend(lateral_cases(&grid, &case_names(posts.iter().flat_map(|post| post.reactions.keys()))));
        if self.tables.has(REACTIONS) && head.loads.signs.is_empty() {
            self.wrong.push(
                Diagnostic::new(format!("`[loads]` in `job.toml` does not give the sign convention of `{REACTIONS}`"))
                    .hint("write `signs = \"…\"`: which way P, H_x and H_y point, and whether they act on the base or on the post"),
            );
        }
        let placed = posts.len() == grid.rows.len() && posts.iter().all(|post| post.placed);
        let header = ["table", "key", "value"].map(String::from).into();
        let toml_as_read =
            InputFile { name: "job.toml".into(), shown: "job.toml".into(), names: Vec::new(), header, rows: head.rows };
        let posts_as_read = InputFile { shown: self.tables.name("posts.csv"), ..as_read("posts.csv", &grid, &marked) };
        let files = [toml_as_read, posts_as_read].into_iter().chain(inputs).collect();
        starters.extend(head.starters);
        Some(Job {
            folder: self.folder.into(),
            card: head.card,
            revisions: head.revisions,
            firm: head.firm,
            title_block: None,
            basis: head.basis,
            units: head.units,
            assumptions: head.assumptions,
            loads: head.loads,
            mapping,
            stated: head.stated,
            answers: head.answers,
            starters,
            settings: head.settings,
            posts,
            catalogues,
            placed,
            derived: BTreeSet::new(),
            files,
            tables: Tables::default(),
            toml,
            notes: Diagnostics::new(),
        })
    }
}

/// Adds the reactions of `reactions.csv` to those that stand in `posts.csv`.
fn add_reactions(posts: &mut [Post], grid: &Grid, mapping: &Mapping) -> Diagnostics {
    let marks: Vec<&str> = posts.iter().map(|post| post.mark.as_str()).collect();
    let (known, wrong) = called(posts);
    let (mut table, mut slack, mut diagnostics) = table(grid, &marks, &known, mapping);
    diagnostics.extend(wrong);
    for post in posts {
        post.slack.extend(slack.remove(&post.mark).unwrap_or_default());
        for (case, reaction) in table.remove(&post.mark).unwrap_or_default() {
            if post.reactions.insert(case.clone(), reaction).is_some() {
                diagnostics.push(
                    Diagnostic::new(format!(
                        "case {case} of post {} is given in `posts.csv` and in `{REACTIONS}`",
                        post.mark
                    ))
                    .at(post.place.clone())
                    .hint("leave it out of one of them"),
                );
            }
        }
    }
    diagnostics
}

/// The mark of each post by the plain names that reactions may call it by: itself, and the
/// node of the analysis on which it stands.
fn called(posts: &[Post]) -> (BTreeMap<String, &str>, Diagnostics) {
    let mut known: BTreeMap<String, &str> = posts.iter().map(|post| (plain(&post.mark), post.mark.as_str())).collect();
    let mut wrong = Diagnostics::new();
    for (post, node) in posts.iter().filter_map(|post| Some((post, post.facts.get("node")?))) {
        if let Some(other) = known.insert(plain(&node.text), &post.mark).filter(|other| *other != post.mark) {
            let what = format!("`{}` is the node of post {} and names post {other} too", node.text, post.mark);
            wrong
                .push(Diagnostic::new(what).at(node.place.clone()).hint("a name in the reactions is that of one post"));
        }
    }
    (known, wrong)
}

fn as_read(name: &str, grid: &Grid, marked: &Marked) -> InputFile {
    let typed = |(row, cells): (usize, &Vec<Cell>)| {
        cells.iter().enumerate().map(|(column, cell)| marked.as_typed(&cell.text, row, column)).collect()
    };
    InputFile {
        name: name.into(),
        shown: name.into(),
        header: grid.columns.iter().map(|column| column.cell.text.clone()).collect(),
        names: grid.columns.iter().map(|column| column.name.clone()).collect(),
        rows: grid.rows.iter().enumerate().map(typed).collect(),
    }
}

/// The posts that chose each row of a catalogue, by plain names.
fn chosen(posts: &[Post], catalogue: &Catalogue) -> BTreeMap<String, BTreeSet<String>> {
    let mut chosen: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for post in posts {
        if let Some(entry) = post.entries.get(catalogue.name) {
            chosen.entry(plain(&entry.name)).or_default().insert(plain(&post.mark));
        }
    }
    chosen
}

/// Cells that somebody reads and that hold no value: a formula's error, a formula
/// that was never worked, a name that a spreadsheet took for a date.
fn no_values(grid: &Grid) -> Diagnostics {
    const NAMES: [&str; 5] = ["mark", "name", "base", "foundation", "anchor"];
    let mut wrong = Diagnostics::new();
    for (at, column) in grid.columns.iter().enumerate().filter(|(_, column)| column.read) {
        for cell in grid.rows.iter().map(|row| &row[at]) {
            let place = || grid.place(cell);
            if let Some((what, hint)) = no_value(&cell.text) {
                wrong.push(Diagnostic::new(format!("{}: {what}", column.name)).at(place()).hint(hint));
            } else if NAMES.contains(&column.name.as_str()) && is_date(&cell.text) {
                let what = format!("{}: found the date `{}`; expected a name", column.name, cell.text);
                wrong.push(
                    Diagnostic::new(what)
                        .at(place())
                        .hint("a spreadsheet turns a name such as `1-2` into a date: set the format of the cell to Text, and type the name again"),
                );
            }
        }
    }
    wrong
}

/// What to say where the posts choose from a file that is not there.
fn lacks(catalogue: &Catalogue, posts: &Grid) -> Option<Diagnostic> {
    let (file, column) = (catalogue.file(), posts.column(catalogue.column)?);
    let cell = posts.rows.iter().map(|row| &row[column]).find(|cell| !cell.text.is_empty())?;
    let diagnostic = Diagnostic::new(format!("the job has no `{file}`, in which `{}` should be a row", cell.text));
    Some(diagnostic.at(posts.place(cell)).hint(format!("write `{file}`, with a row for each {}", catalogue.column)))
}
