//! The templates of a run: those that are built into the program, and a job's
//! own in their place.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::Arc;

use include_dir::{Dir, DirEntry, include_dir};

use crate::diag::{Checked, Diagnostic, Diagnostics};
use crate::files::{Failure, read_all};
use crate::grid::decode;
use crate::package::figure_kinds;
use crate::sheet::{Library, Text};
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
}

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
        Templates { files, own: BTreeSet::new(), folder: String::new(), beneath: BTreeMap::new() }
    }

    /// The built-in ones, and those of a job if there is one.
    ///
    /// # Errors
    /// There is no such job; a file that is no template; one that can not be read.
    pub fn of(job: Option<&Path>) -> Result<Templates, Failure> {
        let mut templates = Templates::built_in();
        let Some(job) = job else { return Ok(templates) };
        let folder = job.join("templates");
        if !folder.is_dir() && !job.join("job.toml").is_file() {
            return Err(Diagnostic::new(format!("there is no job in `{}`", job.display()))
                .hint("a job is a folder with `job.toml`, `posts.csv` and `bases.csv`, and may have `templates`")
                .into());
        }
        if !folder.is_dir() {
            return Ok(templates);
        }
        templates.folder = folder.display().to_string();
        let found = read_all(&folder)?;
        let wrong: Diagnostics = found.iter().filter_map(|(path, _)| templates.no_template(path)).collect();
        if !wrong.is_empty() {
            return Err(wrong.into());
        }
        for (path, bytes) in found {
            if let Some(built_in) = templates.files.insert(path.clone(), bytes) {
                templates.beneath.insert(path.clone(), built_in);
            }
            templates.own.insert(path);
        }
        Ok(templates)
    }

    /// What to say of a file below `templates` that nothing would read.
    fn no_template(&self, path: &str) -> Option<Diagnostic> {
        let name = path.rsplit('/').next().unwrap_or(path);
        let (folder, _) = path.split_once('/').unwrap_or(("", path));
        let here = match folder {
            // Files that the system or an editor leaves behind.
            _ if name.starts_with('.') => true,
            "sheets" => path.ends_with(".sheet"),
            "tables" => path.ends_with(".csv") && path.matches('/').count() == 1,
            // A page may bring in files of its own, but none that is nearly a built-in one.
            "package" => !self.files.keys().any(|known| known != path && known.eq_ignore_ascii_case(path)),
            _ => false,
        };
        (!here).then(|| {
            Diagnostic::new(format!("`{}/{path}` is no template", self.folder))
                .hint("sheets stand in `templates/sheets`, as `NAME.sheet`; tables in `templates/tables`, as `NAME.csv`; pages in `templates/package`")
        })
    }

    /// The job's own.
    pub fn own(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.own.iter().map(|path| (path.as_str(), self.files[path].as_slice()))
    }

    /// # Errors
    /// Everything that is wrong with a sheet or a table.
    pub fn library(&self) -> Checked<Library> {
        Library::load(&self.texts(), &figure_kinds())
    }

    /// The library with a sheet from elsewhere, which takes the place of the one of its name.
    ///
    /// # Errors
    /// Everything that is wrong with a sheet or a table.
    pub fn library_with(&self, source: &Arc<Source>) -> Checked<Library> {
        let mut texts = self.texts();
        let head = source.text.lines().next().filter(|line| line.starts_with("sheet "));
        texts.retain(|text| !text.source.text.lines().any(|line| Some(line) == head));
        texts.push(Text { path: format!("sheets/own/{}", source.name), source: source.clone(), own: true });
        Library::load(&texts, &figure_kinds())
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
