//! A folder of files that is read: on the machine, or held in memory as a package carries it. Paths are
//! relative, with `/` between names.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use crate::diag::Diagnostic;
use crate::files::{self, Failure};

#[derive(Clone, Debug)]
pub enum Folder {
    Disk(PathBuf),
    /// `shown` is what messages call it.
    Held {
        shown: String,
        files: BTreeMap<String, Vec<u8>>,
    },
}

impl From<&Path> for Folder {
    fn from(path: &Path) -> Folder {
        Folder::Disk(path.into())
    }
}

impl Folder {
    /// As messages name it.
    pub fn shown(&self) -> String {
        match self {
            Folder::Disk(path) => path.display().to_string(),
            Folder::Held { shown, .. } => shown.clone(),
        }
    }

    /// A path in it, as messages name it.
    pub fn shown_path(&self, path: &str) -> String {
        match self {
            Folder::Disk(folder) => folder.join(path).display().to_string(),
            Folder::Held { shown, .. } => format!("{shown}/{path}"),
        }
    }

    /// Its own name, without what is above.
    pub fn name(&self) -> Option<String> {
        match self {
            Folder::Disk(path) => Some(path.canonicalize().ok()?.file_name()?.to_string_lossy().into_owned()),
            Folder::Held { shown, .. } => Some(shown.clone()),
        }
    }

    /// Whether there is a folder of this path; the empty path is itself.
    pub fn is_dir(&self, path: &str) -> bool {
        match self {
            Folder::Disk(folder) => folder.join(path).is_dir(),
            Folder::Held { files, .. } => path.is_empty() || files.keys().any(|file| below(file, path).is_some()),
        }
    }

    pub fn is_file(&self, path: &str) -> bool {
        match self {
            Folder::Disk(folder) => folder.join(path).is_file(),
            Folder::Held { files, .. } => files.contains_key(path),
        }
    }

    /// Whether something has this path.
    pub fn has(&self, path: &str) -> bool {
        match self {
            Folder::Disk(folder) => folder.join(path).exists(),
            Folder::Held { .. } => self.is_file(path) || self.is_dir(path),
        }
    }

    /// The names of what stands in a folder of it, in order.
    ///
    /// # Errors
    /// The machine cannot read it.
    pub fn names_in(&self, path: &str) -> Result<Vec<String>, Failure> {
        match self {
            Folder::Disk(folder) => files::names_in(&folder.join(path)),
            Folder::Held { files, .. } => {
                let names = files.keys().filter_map(|file| below(file, path)?.split('/').next());
                Ok(names.collect::<BTreeSet<_>>().into_iter().map(String::from).collect())
            }
        }
    }

    /// # Errors
    /// There is no such file, or the machine cannot read it.
    pub fn read(&self, path: &str) -> Result<Vec<u8>, Failure> {
        match self {
            Folder::Disk(folder) => {
                if self.has(path) && self.leads_out(path) {
                    return Err(self.link_out(path));
                }
                if self.has(path) && !self.is_file(path) {
                    let wrong = Diagnostic::new(format!("`{}` is no regular file", self.shown_path(path)));
                    return Err(wrong.hint("remove it, or put a file in its place").into());
                }
                files::read_file(&folder.join(path))
            }
            Folder::Held { files, .. } => files.get(path).cloned().ok_or_else(|| self.missing(path)),
        }
    }

    /// So many bytes of a file, or all if it has fewer.
    ///
    /// # Errors
    /// As for `read`.
    pub fn read_at_most(&self, path: &str, most: usize) -> Result<Vec<u8>, Failure> {
        match self {
            Folder::Disk(folder) => files::read_at_most(&folder.join(path), most),
            Folder::Held { files, .. } => {
                let bytes = files.get(path).ok_or_else(|| self.missing(path))?;
                Ok(bytes[..bytes.len().min(most)].to_vec())
            }
        }
    }

    /// Every file below a folder of it, by its path from there.
    ///
    /// # Errors
    /// The machine cannot read one of them.
    pub fn read_all(&self, path: &str) -> Result<Vec<(String, Vec<u8>)>, Failure> {
        match self {
            Folder::Disk(folder) => {
                if self.leads_out(path) {
                    return Err(self.link_out(path));
                }
                let mut found = Vec::new();
                for below in files::below(&folder.join(path))? {
                    let whole = if path.is_empty() { below.clone() } else { format!("{path}/{below}") };
                    let bytes = self.read(&whole)?;
                    found.push((below, bytes));
                }
                Ok(found)
            }
            Folder::Held { files, .. } => {
                let files = files.iter().filter_map(|(file, bytes)| Some((below(file, path)?.into(), bytes.clone())));
                Ok(files.collect())
            }
        }
    }

    /// Whether a file of it is a link that leads elsewhere.
    pub fn leads_out(&self, path: &str) -> bool {
        let Folder::Disk(folder) = self else { return false };
        match (folder.join(path).canonicalize(), folder.canonicalize()) {
            (Ok(file), Ok(folder)) => !file.starts_with(folder),
            _ => true,
        }
    }

    fn link_out(&self, path: &str) -> Failure {
        Diagnostic::new(format!("`{}` is a link that leads out of the folder of the job", self.shown_path(path)))
            .hint("copy what it leads to into the folder, so that the folder is the whole job")
            .into()
    }

    fn missing(&self, path: &str) -> Failure {
        files::missing(&self.shown_path(path)).into()
    }
}

/// The path of a file from a folder that it stands below.
fn below<'a>(file: &'a str, folder: &str) -> Option<&'a str> {
    if folder.is_empty() { Some(file) } else { file.strip_prefix(folder)?.strip_prefix('/') }
}
