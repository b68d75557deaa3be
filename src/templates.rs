//! The templates of a run: those that are built into the program, and a job's
//! own in their place.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::Arc;

use include_dir::{Dir, DirEntry, include_dir};

use crate::diag::Checked;
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
    /// A file of the job cannot be read.
    pub fn of(job: Option<&Path>) -> Result<Templates, Failure> {
        let mut templates = Templates::built_in();
        let Some(folder) = job.map(|job| job.join("templates")).filter(|folder| folder.is_dir()) else {
            return Ok(templates);
        };
        templates.folder = folder.display().to_string();
        for (path, bytes) in read_all(&folder)? {
            if let Some(built_in) = templates.files.insert(path.clone(), bytes) {
                templates.beneath.insert(path.clone(), built_in);
            }
            templates.own.insert(path);
        }
        Ok(templates)
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
        // Comments may stand before the name.
        let name = |source: &Source| {
            source.text.lines().find_map(|line| Some(line.trim().strip_prefix("sheet ")?.trim().to_string()))
        };
        let own = name(source);
        texts.retain(|text| own.is_none() || !text.path.ends_with(".sheet") || name(&text.source) != own);
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
