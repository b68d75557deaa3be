//! The templates of a run: those that are built into the program, and the
//! sheets and tables of a job, which take their place or stand beside them. How
//! a page looks is built in: what a package has to say of a job, its verdict and
//! its conditions, is not the job's to leave out.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::Arc;

use include_dir::{Dir, DirEntry, include_dir};

use crate::diag::{Checked, Diagnostic, Diagnostics};
use crate::engine::{ROOTS, TABLES};
use crate::files::Failure;
use crate::folder::Folder;
use crate::grid::{Grid, decode};
use crate::names::nearest;
use crate::package::figure_kinds;
use crate::sheet::{FigureKind, Library, Text};
use crate::source::Source;

static BUILT_IN: Dir = include_dir!("$CARGO_MANIFEST_DIR/templates");

/// By their paths below `templates/`.
pub struct Templates {
    pub files: BTreeMap<String, Vec<u8>>,
    /// Which of them are the job's own.
    own: BTreeSet<String>,
    /// Where the job's own stand, for diagnostics.
    folder: String,
    /// The built-in text of a file that the job has too.
    beneath: BTreeMap<String, Vec<u8>>,
    /// The sheets are of another version, whose figures this one does not draw.
    foreign: bool,
}

/// As many sheets a job has of its own.
const MOST: usize = 300;

impl Templates {
    pub fn built_in() -> Templates {
        fn add(dir: &Dir, files: &mut BTreeMap<String, Vec<u8>>) {
            for entry in dir.entries() {
                match entry {
                    DirEntry::Dir(dir) => add(dir, files),
                    DirEntry::File(file) => {
                        files.insert(file.path().to_string_lossy().replace('\\', "/"), file.contents().to_vec());
                    }
                }
            }
        }
        let mut files = BTreeMap::new();
        add(&BUILT_IN, &mut files);
        Templates { files, own: BTreeSet::new(), folder: String::new(), beneath: BTreeMap::new(), foreign: false }
    }

    /// The built-in ones, and those of a job if there is one.
    ///
    /// # Errors
    /// There is no such job; a file of it cannot be read, or is neither a sheet
    /// nor a table.
    pub fn of(job: Option<&Path>) -> Result<Templates, Failure> {
        let templates = Templates::built_in();
        match job {
            None => Ok(templates),
            Some(job) => templates.with_those_of(&job.into()),
        }
    }

    /// These with the sheets and tables of another version in the place of the built-in ones.
    pub fn with_sheets(mut self, sheets: &BTreeMap<String, Vec<u8>>) -> Templates {
        self.foreign = self.sheets() != *sheets;
        self.files.retain(|path, _| !is_sheet_or_table(path));
        self.files.extend(sheets.iter().map(|(path, bytes)| (path.clone(), bytes.clone())));
        self
    }

    /// The built-in sheets and tables, under what a job has of its own.
    pub fn sheets(&self) -> BTreeMap<String, Vec<u8>> {
        let built_in = self.files.iter().filter(|(path, _)| !self.own.contains(*path)).chain(&self.beneath);
        built_in
            .filter(|(path, _)| is_sheet_or_table(path))
            .map(|(path, bytes)| (path.clone(), bytes.clone()))
            .collect()
    }

    /// These and those of a job.
    ///
    /// # Errors
    /// As for `of`.
    pub fn with_those_of(mut self, job: &Folder) -> Result<Templates, Failure> {
        let templates = &mut self;
        if !job.is_dir("templates") {
            return match misnamed(job) {
                Some(diagnostic) => Err(diagnostic.into()),
                None if job.is_file("job.toml") => Ok(self),
                None => Err(no_job(job).into()),
            };
        }
        templates.folder = job.shown_path("templates");
        let mut files = job.read_all("templates")?;
        files.retain(|(path, _)| !path.split('/').any(of_the_system));
        let misplaced: Diagnostics = files.iter().filter_map(|(path, _)| misplaced(path)).collect();
        if !misplaced.is_empty() {
            return Err(misplaced.into());
        }
        let sheets = files.iter().filter(|(path, _)| path.ends_with(".sheet")).count();
        if sheets > MOST {
            let what = format!("`templates` has {sheets} sheets; a job has at most {MOST} of its own");
            return Err(Diagnostic::new(what).into());
        }
        for (path, bytes) in files {
            if let Some(built_in) = templates.files.insert(path.clone(), bytes) {
                templates.beneath.insert(path.clone(), built_in);
            }
            templates.own.insert(path);
        }
        Ok(self)
    }

    /// A built-in table as it is written.
    ///
    /// # Errors
    /// There is none of this name.
    pub fn table(name: &str) -> Checked<Grid> {
        let file = BUILT_IN.get_file(format!("tables/{name}.csv"));
        let file = file.ok_or_else(|| Diagnostic::new(format!("there is no table `{name}`")))?;
        Grid::read(&Source::new(format!("templates/tables/{name}.csv"), decode(file.contents())))
    }

    /// The job's own.
    pub fn own(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.own.iter().map(|path| (path.as_str(), self.files[path].as_slice()))
    }

    /// The text of the job's own title block.
    pub fn title_block(&self) -> Option<Arc<Source>> {
        let bytes = self.own.get(TITLE_BLOCK).and_then(|path| self.files.get(path))?;
        Some(Source::new(format!("{}/{TITLE_BLOCK}", self.folder), decode(bytes)))
    }

    /// # Errors
    /// Everything that is wrong with a sheet or a table; one of the job's own
    /// that nothing uses.
    pub fn library(&self) -> Checked<Library> {
        let library = self.loaded()?;
        let unused = library.unused(&ROOTS, &TABLES);
        if unused.is_empty() { Ok(library) } else { Err(unused) }
    }

    /// The library, whether or not all of the job's own is used.
    ///
    /// # Errors
    /// Everything that is wrong with a sheet or a table.
    pub fn loaded(&self) -> Checked<Library> {
        Library::load(&self.texts(), self.figures().as_deref())
    }

    /// The library with a sheet from elsewhere, which takes the place of the one of its name.
    ///
    /// # Errors
    /// Everything that is wrong with a sheet or a table.
    pub fn library_with(&self, source: &Arc<Source>) -> Checked<Library> {
        let mut texts = self.texts();
        // Comments may stand before the name.
        let name = |source: &Source| {
            source.text.lines().find_map(|line| Some(line.trim().strip_prefix("sheet ")?.trim().to_string()))
        };
        let own = name(source);
        texts.retain(|text| own.is_none() || !text.path.ends_with(".sheet") || name(&text.source) != own);
        texts.push(Text { path: format!("sheets/own/{}", source.name), source: source.clone(), own: true });
        Library::load(&texts, self.figures().as_deref())
    }

    fn figures(&self) -> Option<Vec<FigureKind>> {
        if self.foreign { None } else { Some(figure_kinds()) }
    }

    /// Sheets and tables as texts; a job's stand beside the built-in ones.
    fn texts(&self) -> Vec<Text> {
        let mut texts = Vec::new();
        for (path, bytes) in &self.files {
            let mut add = |folder: &str, bytes: &[u8], own: bool| {
                texts.push(Text {
                    path: path.clone(),
                    source: Source::new(format!("{folder}/{path}"), decode(bytes)),
                    own,
                });
            };
            if let Some(built_in) = self.beneath.get(path) {
                add("templates", built_in, false);
            }
            let own = self.own.contains(path);
            add(if own { &self.folder } else { "templates" }, bytes, own);
        }
        texts
    }
}

/// What a job's own title block is called, and the built-in one, which shows how.
pub const TITLE_BLOCK: &str = "title-block.typ";

const SHEETS: &str = "sheets of a job are in `templates/sheets` and end in `.sheet`";
const TABLES_OF_A_JOB: &str = "tables of a job are in `templates/tables` and end in `.csv`";

/// What a file of the job is that is neither a sheet nor a table where these belong.
fn misplaced(path: &str) -> Option<Diagnostic> {
    let (folder, below) = path.split_once('/').unwrap_or(("", path));
    let is_sheet = folder == "sheets" && path.ends_with(".sheet");
    let is_table = folder == "tables" && path.ends_with(".csv") && !below.contains('/');
    if is_sheet || is_table || path == TITLE_BLOCK {
        return None;
    }
    if folder == "package" {
        let message = format!("a job cannot change how its pages look: `templates/{path}` is not read");
        let diagnostic = Diagnostic::new(message).hint(
            "the pages of a package are built in, but for the title block, which is `templates/title-block.typ`; remove this folder",
        );
        return Some(diagnostic.hint(format!("{SHEETS}; {TABLES_OF_A_JOB}")));
    }
    let diagnostic = Diagnostic::new(format!("`templates/{path}` is neither a sheet nor a table that is read"));
    if path.ends_with(".typ") {
        let hint = "a title block of the job's own is `templates/title-block.typ`; `socle sheets new title-block --job JOB` writes one";
        return Some(diagnostic.hint(hint));
    }
    let hint = match path.rsplit('.').next() {
        Some("sheet") => SHEETS.into(),
        Some("csv") => TABLES_OF_A_JOB.into(),
        _ => format!("{SHEETS}; {TABLES_OF_A_JOB}; anything else belongs outside `templates`"),
    };
    Some(match nearest(folder, ["sheets", "tables"]).filter(|near| *near != folder) {
        Some(near) => diagnostic.hint(format!("did you mean `templates/{near}/{below}`?")).hint(hint),
        None => diagnostic.hint(hint),
    })
}

/// Of GRAMMAR.md and of what is for pages and new jobs the working of a job is free.
fn is_sheet_or_table(path: &str) -> bool {
    path.starts_with("sheets/") && path.ends_with(".sheet") || path.starts_with("tables/")
}

/// What to say of a folder that is not there.
pub fn no_folder(folder: &Folder) -> Diagnostic {
    let Folder::Disk(folder) = folder else {
        return Diagnostic::new(format!("`{}` has no files of a job", folder.shown()));
    };
    if !folder.is_file() {
        return Diagnostic::new(format!("there is no folder `{}`", folder.display()));
    }
    let diagnostic = Diagnostic::new(format!("`{}` is a file; expected the folder of a job", folder.display()));
    match folder.parent().filter(|parent| parent.join("job.toml").is_file()) {
        Some(parent) if parent.as_os_str().is_empty() => diagnostic.hint("did you mean `.`?"),
        Some(parent) => diagnostic.hint(format!("did you mean `{}`?", parent.display())),
        None => diagnostic,
    }
}

/// What to say of a folder without `job.toml`, and of what was meant, it seems.
fn no_job(folder: &Folder) -> Diagnostic {
    const JOB: &str = "a job is a folder with `job.toml`, `posts.csv` and `bases.csv`, and may have `templates`";
    if !folder.is_dir("") {
        return no_folder(folder).hint(JOB);
    }
    let diagnostic = Diagnostic::new(format!("there is no `job.toml` in `{}`", folder.shown()));
    let mut names = folder.names_in("").unwrap_or_default();
    names.retain(|name| !name.starts_with('.'));
    if let Some(near) = nearest("job.toml", names.iter().map(String::as_str)) {
        return diagnostic.hint(format!("`{near}` is not read: call it `job.toml` if it is that"));
    }
    match names.iter().find(|below| folder.is_file(&format!("{below}/job.toml"))) {
        Some(below) => diagnostic.hint(format!("did you mean `{}`?", folder.shown_path(below))),
        None => diagnostic.hint(JOB),
    }
}

/// Files that a system or an editor puts into a folder by itself.
fn of_the_system(name: &str) -> bool {
    name.starts_with('.') || matches!(name, "Thumbs.db" | "desktop.ini")
}

/// A folder of the job that was to be `templates`.
fn misnamed(job: &Folder) -> Option<Diagnostic> {
    let names = job.names_in("").ok()?;
    let name = names.iter().find(|name| nearest(name, ["templates"]).is_some() && job.is_dir(name))?;
    Some(
        Diagnostic::new(format!("the folder `{name}` of the job is not read"))
            .hint("a job's own sheets and tables are in a folder `templates`, in lowercase"),
    )
}
