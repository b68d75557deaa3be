//! The closed world in which a package is typeset: the files it is given, the
//! fonts it carries, the date of the job. Nothing of the machine enters.

use std::collections::BTreeMap;

use typst::diag::{FileError, FileResult, PackageError};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_kit::fonts::FontStore;

use crate::legible::typefaces;

pub struct Closed {
    library: LazyHash<Library>,
    fonts: FontStore,
    main: FileId,
    /// The templates, or why one of them cannot be read.
    sources: BTreeMap<String, FileResult<Source>>,
    files: BTreeMap<String, Bytes>,
    today: Option<Datetime>,
}

/// The identifier of a file of the project; its path starts with a slash.
fn id(path: &str) -> Result<FileId, String> {
    let path = VirtualPath::new(path).map_err(|error| format!("`{path}` is not a path: {error}"))?;
    Ok(RootedPath::new(VirtualRoot::Project, path).intern())
}

/// A template, or why it cannot be read.
fn source(path: &str, bytes: &[u8]) -> Result<FileResult<Source>, String> {
    let id = id(path)?;
    let text = str::from_utf8(bytes).map_err(FileError::from);
    Ok(text.map(|text| Source::new(id, text.into())))
}

impl Closed {
    pub fn new(files: BTreeMap<String, Vec<u8>>, main: &str, date: (i32, u8, u8)) -> Result<Closed, String> {
        let mut fonts = FontStore::new();
        fonts.extend(typefaces().iter().cloned());
        let mut sources = BTreeMap::new();
        for (path, bytes) in files.iter().filter(|(path, _)| path.ends_with(".typ")) {
            sources.insert(path.clone(), source(path, bytes)?);
        }
        Ok(Closed {
            library: LazyHash::new(Library::builder().build()),
            fonts,
            main: id(main)?,
            sources,
            files: files.into_iter().map(|(path, bytes)| (path, Bytes::new(bytes))).collect(),
            today: Datetime::from_ymd(date.0, date.1, date.2),
        })
    }

    /// The same world with other files and another date; one that is as it was stays, and so does one
    /// that is not among them.
    pub fn with(mut self, files: BTreeMap<String, Vec<u8>>, date: (i32, u8, u8)) -> Result<Closed, String> {
        for (path, bytes) in files {
            if self.files.get(&path).is_some_and(|known| known.as_slice() == bytes) {
                continue;
            }
            if path.ends_with(".typ") {
                self.sources.insert(path.clone(), source(&path, &bytes)?);
            }
            self.set(&path, bytes);
        }
        self.today = Datetime::from_ymd(date.0, date.1, date.2);
        Ok(self)
    }

    /// Puts a file in, in the place of one of its name.
    pub fn set(&mut self, path: &str, bytes: Vec<u8>) {
        self.files.insert(path.into(), Bytes::new(bytes));
    }

    fn find<'a, T>(&self, files: &'a BTreeMap<String, T>, id: FileId) -> FileResult<&'a T> {
        let path = id.get();
        if let VirtualRoot::Package(package) = path.root() {
            return Err(FileError::Package(PackageError::NotFound(package.clone())));
        }
        let path = path.vpath().get_with_slash();
        files.get(path).ok_or_else(|| FileError::NotFound(path.into()))
    }
}

impl World for Closed {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        self.fonts.book()
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.find(&self.sources, id)?.clone()
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.find(&self.files, id).cloned()
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.fonts.font(index)
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        self.today
    }
}
