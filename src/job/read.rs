//! A whole job, from the bytes of its files.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::answers::{Answers, CONFIRMATIONS};
use super::card::{Card, Revision};
use super::catalogue::{CATALOGUES, Catalogue, Entries};
use super::fact::Facts;
use super::head::Head;
use super::loads::{CASE, LoadSettings, case_names};
use super::posts::{Catalogued, Post, posts};
use super::reactions::{REACTIONS, table};
use super::wind::wind_on_posts;
use crate::diag::{Checked, Diagnostic, Diagnostics, Kind::Meant};
use crate::grid::{Grid, decode};
use crate::source::Source;

/// A file of the job as it was read.
#[derive(Debug)]
pub struct InputFile {
    pub name: String,
    pub header: Vec<String>,
    pub rows: Vec<Vec<String>>,
}

#[derive(Debug)]
pub struct Job {
    /// As it was named.
    pub folder: String,
    pub card: Card,
    pub revisions: Vec<Revision>,
    pub basis: String,
    pub assumptions: Vec<String>,
    pub loads: LoadSettings,
    pub answers: Answers,
    /// Every other table of `job.toml`.
    pub settings: BTreeMap<String, Facts>,
    pub posts: Vec<Post>,
    /// Every row of `posts.csv` is a post, and its place is known.
    pub placed: bool,
    /// The load cases that no file gives, but a sheet worked out.
    pub derived: BTreeSet<String>,
    pub files: Vec<InputFile>,
    pub toml: Arc<Source>,
}

impl Job {
    /// `files` by name: `job.toml`, `posts.csv`, `bases.csv` and the other
    /// catalogues. `folder` names them in diagnostics. `known` gives the keys of
    /// the tables that sheets read.
    ///
    /// # Errors
    /// Everything that is wrong in any of the files.
    pub fn read(
        folder: &str,
        files: &BTreeMap<String, Vec<u8>>,
        known: &BTreeMap<String, Vec<String>>,
    ) -> Checked<Job> {
        match Job::read_all(folder, files, known) {
            (Some(job), wrong) if wrong.is_empty() => Ok(job),
            (_, wrong) => Err(wrong),
        }
    }

    /// As much of a job as can be known, and everything that is wrong in any of
    /// the files.
    pub fn read_all(
        folder: &str,
        files: &BTreeMap<String, Vec<u8>>,
        known: &BTreeMap<String, Vec<String>>,
    ) -> (Option<Job>, Diagnostics) {
        let mut diagnostics = Diagnostics::new();
        let source = |name: &str| -> Checked<Arc<Source>> {
            let bytes = files.get(name).ok_or_else(|| {
                Diagnostic::new(format!("there is no `{name}` in `{folder}`"))
                    .hint("a job is a folder with `job.toml`, `posts.csv` and `bases.csv`")
            })?;
            Ok(Source::new(format!("{folder}/{name}"), decode(bytes)))
        };
        let mut keep = |more: Diagnostics| diagnostics.extend(more);
        let toml = source("job.toml").map_err(&mut keep).ok();
        let grid = source("posts.csv").and_then(|source| Grid::read(&source)).map_err(&mut keep).ok();
        let mut head = None;
        if let Some(toml) = &toml {
            let (read, more) = Head::read(toml, known);
            keep(more);
            head = read;
        }
        if let (Some(head), true) = (&mut head, files.contains_key(CONFIRMATIONS)) {
            source(CONFIRMATIONS).and_then(|source| head.answers.add(&source)).map_err(&mut keep).ok();
        }
        let mut inputs = Vec::new();
        let mut catalogues = Catalogued::new();
        for catalogue in &CATALOGUES {
            let file = catalogue.file();
            if !catalogue.required && !files.contains_key(&file) {
                continue;
            }
            let grid = source(&file).and_then(|source| Grid::read(&source));
            if let Ok(grid) = grid.map_err(&mut keep) {
                let (entries, more) = Entries::read(catalogue, &grid);
                keep(more);
                catalogues.extend(entries.map(|entries| (catalogue.name, entries)));
                inputs.push(as_read(&file, grid));
            }
        }
        let Some(grid) = grid else { return (None, diagnostics) };
        let optional = CATALOGUES.iter().filter(|catalogue| !catalogue.required);
        let lacking = optional.filter(|catalogue| !files.contains_key(&catalogue.file()));
        keep(lacking.filter_map(|catalogue| lacks(catalogue, &grid)).collect());
        let (mut posts, more) = posts(&grid, &catalogues);
        keep(more);
        if files.contains_key(REACTIONS) {
            match source(REACTIONS).and_then(|source| Grid::read(&source)) {
                Ok(grid) => {
                    keep(add_reactions(&mut posts, &grid));
                    inputs.push(as_read(REACTIONS, grid));
                }
                // What its cases are is not known.
                Err(more) => keep(more.into_iter().map(|diagnostic| diagnostic.of(Meant, CASE)).collect()),
            }
        }
        let (Some(head), Some(toml), false) = (head, toml, posts.is_empty()) else { return (None, diagnostics) };
        keep(wind_on_posts(&mut posts, head.settings.contains_key("roof")));
        let stated = !head.loads.signs.is_empty();
        if files.contains_key(REACTIONS) && !stated {
            keep(
                Diagnostic::new(format!("`[loads]` in `job.toml` does not say the sign convention of `{REACTIONS}`"))
                    .hint("write `signs = \"…\"`: which way P, H_x and H_y point, and whether they act on the base or on the post")
                    .into(),
            );
        }
        let placed = posts.len() == grid.rows.len() && posts.iter().all(|post| post.placed);
        let header = ["table", "key", "value"].map(String::from).into();
        let toml_as_read = InputFile { name: "job.toml".into(), header, rows: head.rows };
        let files = [toml_as_read, as_read("posts.csv", grid)].into_iter().chain(inputs).collect();
        let job = Job {
            folder: folder.into(),
            card: head.card,
            revisions: head.revisions,
            basis: head.basis,
            assumptions: head.assumptions,
            loads: head.loads,
            answers: head.answers,
            settings: head.settings,
            posts,
            placed,
            derived: BTreeSet::new(),
            files,
            toml,
        };
        (Some(job), diagnostics)
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

/// Adds the reactions of `reactions.csv` to those that stand in `posts.csv`.
fn add_reactions(posts: &mut [Post], grid: &Grid) -> Diagnostics {
    let marks: Vec<&str> = posts.iter().map(|post| post.mark.as_str()).collect();
    let (mut table, mut diagnostics) = table(grid, &marks);
    for post in posts {
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

fn as_read(name: &str, grid: Grid) -> InputFile {
    InputFile {
        name: name.into(),
        header: grid.columns.into_iter().map(|column| column.cell.text).collect(),
        rows: grid.rows.into_iter().map(|row| row.into_iter().map(|cell| cell.text).collect()).collect(),
    }
}

/// What to say where the posts choose from a file that is not there.
fn lacks(catalogue: &Catalogue, posts: &Grid) -> Option<Diagnostic> {
    let (file, column) = (catalogue.file(), posts.column(catalogue.column)?);
    let cell = posts.rows.iter().map(|row| &row[column]).find(|cell| !cell.text.is_empty())?;
    let diagnostic = Diagnostic::new(format!("the job has no `{file}`, where `{}` should be a row", cell.text));
    Some(diagnostic.at(posts.place(cell)).hint(format!("write `{file}`, a row for each {}", catalogue.column)))
}
