//! What a package carries of the job that it was made of: every input, each sheet and table, the results, and a
//! list of these with their digests. The package alone is the archive: from it the job can be worked again, in
//! ten years and by another version of the program.
//!
//! | path | what |
//! | --- | --- |
//! | `archive.json` | the list, [`Manifest`]; its own digest stands on the cover and among the document's keywords |
//! | `job/…` | the files of the job, as they are in its folder |
//! | `confirmed.toml` | values that a firm has confirmed for all jobs |
//! | `sheets/…`, `tables/…` | the built-in sheets and tables |
//! | `results.json` | what `check --json` prints |
//! | `earlier/…` | of the job as it was, the same, where the package marks what changed since |

mod closing;
mod differ;
mod manifest;
mod open;
mod replace;
mod versions;

use std::collections::BTreeMap;

use crate::folder::Folder;
use crate::load::{Confirmed, Loaded, Reading};

pub use closing::{Closing, Kind, close, closing, job_digest};
pub use differ::{Difference, Differences, differ};
pub use manifest::{Attached, Manifest, Part, digest};
pub use open::{Added, LARGEST, Opened, open};
pub use replace::may_replace;
pub use versions::{BUILD, ENGINE, PROGRAM, changes_since};

/// The paths of what has one.
pub const LIST: &str = "archive.json";
pub const RESULTS: &str = "results.json";
const CONFIRMED: &str = "confirmed.toml";
const JOB: &str = "job/";
const EARLIER: &str = "earlier/";

/// Files by path, and what is said of them.
#[derive(Clone, Debug)]
pub struct Archive {
    pub manifest: Manifest,
    pub files: BTreeMap<String, Vec<u8>>,
}

/// A job as an archive has it.
pub struct Carried {
    pub job: Folder,
    pub confirmed: Option<Confirmed>,
    /// The built-in sheets and tables, by their paths below `templates/`.
    pub sheets: BTreeMap<String, Vec<u8>>,
}

impl Carried {
    pub fn reading(&self) -> Reading<'_> {
        Reading { sheets: Some(&self.sheets), ..Reading::of(&self.job, self.confirmed.as_ref()) }
    }
}

impl Archive {
    /// Of a job that was worked, and of what it was, if its package marks what changed since.
    pub fn new(loaded: &Loaded, confirmed: Option<&Confirmed>, results: Vec<u8>, full: bool) -> Archive {
        let mut files = carried(loaded, confirmed);
        files.insert(RESULTS.into(), results);
        let manifest = Manifest::new(loaded, full, &files);
        Archive { manifest, files }
    }

    /// Puts in the job as it was.
    pub fn add_earlier(&mut self, loaded: &Loaded, confirmed: Option<&Confirmed>, program: &str) {
        let earlier = carried(loaded, confirmed);
        // Sheets that are those of the job itself are not carried twice.
        let other = |(path, bytes): &(String, Vec<u8>)| self.files.get(path) != Some(bytes) || path.starts_with(JOB);
        let earlier: Vec<(String, Vec<u8>)> = earlier.into_iter().filter(other).collect();
        self.files.extend(earlier.into_iter().map(|(path, bytes)| (format!("{EARLIER}{path}"), bytes)));
        self.manifest.earlier = Some(loaded.name.clone());
        self.manifest.earlier_program = program.into();
        self.manifest.list(&self.files);
    }

    /// The list as it is attached.
    pub fn list(&self) -> Vec<u8> {
        self.manifest.text().into_bytes()
    }

    /// The job itself.
    pub fn job(&self) -> Carried {
        self.carried("", &self.manifest.folder)
    }

    /// The job as it was.
    pub fn earlier(&self) -> Option<Carried> {
        let name = self.manifest.earlier.as_ref()?;
        let mut earlier = self.carried(EARLIER, name);
        for (path, bytes) in self.job().sheets {
            earlier.sheets.entry(path).or_insert(bytes);
        }
        earlier.confirmed = earlier.confirmed.or_else(|| self.job().confirmed);
        Some(earlier)
    }

    fn carried(&self, above: &str, name: &str) -> Carried {
        let below = |folder: &str| {
            let folder = format!("{above}{folder}");
            let files = self.files.iter();
            files.filter_map(move |(path, bytes)| Some((path.strip_prefix(&folder)?.to_string(), bytes.clone())))
        };
        let sheets = |folder: &'static str| below(folder).map(move |(path, bytes)| (format!("{folder}{path}"), bytes));
        let confirmed = self.files.get(&format!("{above}{CONFIRMED}"));
        Carried {
            job: Folder::Held { shown: name.into(), files: below(JOB).collect() },
            confirmed: confirmed.map(|bytes| Confirmed { shown: CONFIRMED.into(), bytes: bytes.clone() }),
            sheets: sheets("sheets/").chain(sheets("tables/")).collect(),
        }
    }
}

/// What is put in and what it is worked with.
fn carried(loaded: &Loaded, confirmed: Option<&Confirmed>) -> BTreeMap<String, Vec<u8>> {
    let job = loaded.inputs.iter().map(|(path, bytes)| (format!("{JOB}{path}"), bytes.clone()));
    let sheets = loaded.sheets.iter().map(|(path, bytes)| (path.clone(), bytes.clone()));
    let confirmed = confirmed.map(|confirmed| (CONFIRMED.to_string(), confirmed.bytes.clone()));
    job.chain(sheets).chain(confirmed).collect()
}
