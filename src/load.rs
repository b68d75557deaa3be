//! A job's folder, read and understood: what every command begins with.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use sha2::{Digest, Sha256};

use crate::diag::{Diagnostic, Diagnostics, once};
use crate::engine::{self, Derived, ROOT, Root};
use crate::files::{Failure, read_file};
use crate::folder::Folder;
use crate::grid::decode;
use crate::job::{
    CATALOGUES, CONFIRMATIONS, Catalogue, Job, Known, LOGO_BYTES, REACTIONS, is_part, slip_of_folder, strangers,
    strangers_of_catalogue,
};
use crate::pdf;
use crate::quantity::Units;
use crate::sheet::{Library, Sheet};
use crate::source::Source;
use crate::templates::{Templates, no_folder};
use crate::workbook::is_workbook;

/// A job's files, read and understood.
pub struct Loaded {
    pub name: String,
    pub job: Job,
    /// The worked loads, where the job has a roof.
    pub loads: Derived,
    pub library: Arc<Library>,
    pub templates: BTreeMap<String, Vec<u8>>,
    /// The built-in sheets and tables that it was worked with, by their paths below `templates/`.
    pub sheets: BTreeMap<String, Vec<u8>>,
    /// Every file that it rests on, by its path in its folder.
    pub inputs: BTreeMap<String, Vec<u8>>,
    /// The texts of its own sheets and tables, by their paths in its folder.
    pub own: BTreeMap<String, String>,
    pub digest: String,
}

/// Files of a job's folder; those that are not there are missed when they are needed.
fn job_files() -> impl Iterator<Item = String> {
    ["job.toml", "posts.csv", REACTIONS, CONFIRMATIONS]
        .map(String::from)
        .into_iter()
        .chain(CATALOGUES.iter().map(Catalogue::file))
}

/// The library of a job, kept while its own sheets and tables do not change.
#[derive(Default)]
pub struct Kept(Option<KeptLibrary>);

struct KeptLibrary {
    own: BTreeMap<String, Vec<u8>>,
    known: Known,
    library: Arc<Library>,
}

impl Kept {
    /// The library of these templates, and the names that it reads.
    fn library(&mut self, templates: &Templates) -> Result<&mut KeptLibrary, Failure> {
        let own = || templates.own().map(|(path, bytes)| (path.to_string(), bytes.to_vec())).collect();
        let kept = match self.0.take().filter(|kept| kept.own == own()) {
            Some(kept) => kept,
            None => {
                let library = templates.library()?;
                named_sheet(&library, ROOT)?;
                KeptLibrary { own: own(), known: engine::known_names(&library), library: Arc::new(library) }
            }
        };
        Ok(self.0.insert(kept))
    }
}

impl KeptLibrary {
    /// The library as it prints in these units.
    fn printed_in(&mut self, units: Units, templates: &Templates) -> Result<Arc<Library>, Failure> {
        if self.library.units() != units {
            match Arc::get_mut(&mut self.library).filter(|library| library.units() == Units::Imperial) {
                Some(library) => library.print_in(units),
                None => self.library = Arc::new(templates.library()?.printed_in(units)),
            }
        }
        Ok(self.library.clone())
    }
}

/// A file of confirmed values that serves all jobs.
#[derive(Clone, Debug)]
pub struct Confirmed {
    /// As messages name it.
    pub shown: String,
    pub bytes: Vec<u8>,
}

impl Confirmed {
    /// # Errors
    /// There is no such file, or the machine cannot read it.
    pub fn read(path: Option<&Path>) -> Result<Option<Confirmed>, Failure> {
        let read = |path: &Path| Ok(Confirmed { shown: path.display().to_string(), bytes: read_file(path)? });
        path.map(read).transpose()
    }
}

/// Where a job is read from, and how it is taken.
#[derive(Clone)]
pub struct Reading<'a> {
    pub folder: &'a Folder,
    pub confirmed: Option<&'a Confirmed>,
    /// For people, who read a job in its own units.
    pub printed: bool,
    /// Marks of posts, where these are to be worked in the order of another state of the job.
    pub order: &'a [String],
    /// Bytes in the place of some of its files.
    pub others: BTreeMap<String, Vec<u8>>,
    /// The built-in sheets and tables of another version in the place of those of this one.
    pub sheets: Option<&'a BTreeMap<String, Vec<u8>>>,
}

impl<'a> Reading<'a> {
    pub fn of(folder: &'a Folder, confirmed: Option<&'a Confirmed>) -> Reading<'a> {
        Reading { folder, confirmed, printed: true, order: &[], others: BTreeMap::new(), sheets: None }
    }

    /// # Errors
    /// Everything in its files that is wrong, or a file that the machine cannot read.
    pub fn load(self) -> Result<Loaded, Failure> {
        self.load_with(&mut Kept::default())
    }

    /// The same with the library that was kept, if it is still that of the job.
    ///
    /// # Errors
    /// As for `load`.
    pub fn load_with(self, kept: &mut Kept) -> Result<Loaded, Failure> {
        load_from(self, kept)
    }
}

/// A job of the machine. `printed` is as in `Reading`.
///
/// # Errors
/// As for `Reading::load`.
pub fn load(folder: &Path, confirmed: Option<&Path>, printed: bool) -> Result<Loaded, Failure> {
    let confirmed = Confirmed::read(confirmed)?;
    Reading { printed, ..Reading::of(&folder.into(), confirmed.as_ref()) }.load()
}

fn load_from(reading: Reading, kept: &mut Kept) -> Result<Loaded, Failure> {
    let Reading { folder, confirmed, printed, order, mut others, sheets } = reading;
    if !folder.is_dir("") {
        return Err(no_folder(folder).hint("a job is a folder with `job.toml`, `posts.csv` and `bases.csv`").into());
    }
    let names = folder.names_in("")?;
    let folder_name = folder.shown();
    let Folders { parts, wrong: odd, notes: left } = folders(folder, &folder_name, &names)?;
    let mut files = BTreeMap::new();
    for name in job_files().chain(parts) {
        if let Some(bytes) = others.remove(&name) {
            files.insert(name, bytes);
        } else if folder.has(&name) {
            let bytes = folder.read(&name)?;
            files.insert(name, bytes);
        }
    }
    // A program that has a workbook open puts another beside it.
    for name in names.iter().filter(|name| is_workbook(name) && !name.starts_with(['.', '~'])) {
        files.insert(name.clone(), folder.read(name)?);
    }
    let built_in = Templates::built_in();
    let built_in = match sheets {
        Some(sheets) => built_in.with_sheets(sheets),
        None => built_in,
    };
    let templates = built_in.with_those_of(folder)?;
    let kept = kept.library(&templates)?;
    let (strange, unread) = strangers(&folder_name, &names, &job_files().collect::<Vec<_>>());
    let (job, mut wrong) = Job::read_all(&folder_name, &files, &kept.known);
    wrong.extend(strange.into_iter().chain(odd));
    files.retain(|name, _| !job.as_ref().is_some_and(|job| job.tables.leaves(name)));
    let Some(mut job) = job else { return Err(all(wrong, Units::Imperial)) };
    job.order(order);
    wrong.extend(bring_logo(folder, &mut job, &mut files)?);
    job.title_block = templates.title_block();
    let library = kept.printed_in(if printed { job.units } else { Units::Imperial }, &templates)?;
    job.notes.extend(unread.into_iter().chain(left));
    if let Some(Confirmed { shown, bytes }) = confirmed {
        wrong.extend(job.answers.add(&Source::new(shown.clone(), decode(bytes))).err().into_iter().flatten());
    }
    let loads = match engine::derive_loads(&mut job, &library) {
        Ok(loads) if wrong.is_empty() => loads,
        loads => {
            let root = Root::new(&job, &library, ROOT, None)?;
            // One fault does not hide the others.
            wrong.extend(match loads {
                Ok(_) if job.posts.iter().all(|post| post.reactions.contains_key("D")) => {
                    engine::work_job(&root, &|_, _| {}).err().unwrap_or_default()
                }
                loads => loads.err().into_iter().flatten().chain(engine::lacking(&root)).collect(),
            });
            job.tables.in_words(&mut wrong);
            return Err(all(wrong, library.units()));
        }
    };
    files.extend(templates.own().map(|(path, bytes)| (format!("templates/{path}"), bytes.to_vec())));
    // What a firm has confirmed is an input like the others: it stands in the digest.
    let firm = confirmed.map(|confirmed| ("--confirmed", confirmed.bytes.as_slice()));
    let inputs = files.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice()));
    let digest = digest(firm.into_iter().chain(inputs));
    let own = templates.own().map(|(path, bytes)| (format!("templates/{path}"), decode(bytes))).collect();
    Ok(Loaded {
        name: folder.name().unwrap_or_else(|| "package".into()),
        job,
        loads,
        library,
        sheets: templates.sheets(),
        templates: templates.files,
        inputs: files,
        own,
        digest,
    })
}

/// The folders in which rows of catalogues stand.
#[derive(Default)]
struct Folders {
    /// `bases/made.csv`.
    parts: Vec<String>,
    wrong: Diagnostics,
    notes: Diagnostics,
}

fn folders(folder: &Folder, folder_name: &str, names: &[String]) -> Result<Folders, Failure> {
    let mut found = Folders::default();
    for name in names.iter().filter(|name| !name.starts_with('.') && folder.is_dir(name)) {
        let is_catalogue = Catalogue::named(name).is_some();
        let Some(slip) = slip_of_folder(folder_name, name).map(Some).or(is_catalogue.then_some(None)) else { continue };
        let mut others = folder.names_in(name)?;
        let is_dir = |other: &String| folder.is_dir(&format!("{name}/{other}"));
        others.iter_mut().filter(|other| is_dir(other)).for_each(|other| other.push('/'));
        let parts = others.iter().filter(|name| is_part(name));
        match slip {
            Some(slip) => found.wrong.extend(Some(slip).filter(|_| parts.count() > 0)),
            None => {
                found.parts.extend(parts.map(|part| format!("{name}/{part}")));
                let (wrong, notes) = strangers_of_catalogue(folder_name, name, &others);
                found.wrong.extend(wrong);
                found.notes.extend(notes);
            }
        }
    }
    Ok(found)
}

/// Reads the logo of the firm. Its bytes count as those of the other files do.
fn bring_logo(
    folder: &Folder,
    job: &mut Job,
    files: &mut BTreeMap<String, Vec<u8>>,
) -> Result<Option<Diagnostic>, Failure> {
    let Some(firm) = &mut job.firm else { return Ok(None) };
    let path = match firm.logo_path() {
        Ok(Some(path)) => path.to_string(),
        Ok(None) => return Ok(None),
        Err(wrong) => return Ok(Some(wrong)),
    };
    if !folder.is_file(&path) {
        let missing = firm.logo_fault(format!("there is no file `{}`", folder.shown_path(&path)));
        return Ok(Some(missing.hint("`logo` of `[firm]` names an SVG or a PNG in the folder of the job")));
    }
    if folder.leads_out(&path) {
        let outside = firm.logo_fault(format!("the logo `{path}` is a link that leads out of the folder of the job"));
        return Ok(Some(outside.hint("copy the file itself into the folder, so that the folder is the whole job")));
    }
    // No more is read than a logo can have, whatever the file is.
    let bytes = folder.read_at_most(&path, LOGO_BYTES + 1)?;
    if let Err(wrong) = firm.take_logo(bytes.clone(), pdf::proportion) {
        return Ok(Some(wrong));
    }
    files.insert(path, bytes);
    job.seal_logo();
    Ok(None)
}

/// All that is wrong, each thing once, with advice in the units of the job.
pub fn all(mut wrong: Diagnostics, units: Units) -> Failure {
    once(&mut wrong);
    wrong.iter_mut().flat_map(|diagnostic| &mut diagnostic.hints).for_each(|hint| *hint = units.advice(hint));
    wrong.into()
}

/// SHA-256 over names, lengths and contents.
pub fn digest<'a>(files: impl Iterator<Item = (&'a str, &'a [u8])>) -> String {
    let mut hash = Sha256::new();
    for (name, bytes) in files {
        hash.update(format!("{name}\0{}\0", bytes.len()));
        hash.update(bytes);
    }
    let hex: String = hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect();
    format!("sha256:{hex}")
}

/// A text that the user named.
///
/// # Errors
/// There is no such file, or the machine cannot read it.
pub fn source(path: &Path) -> Result<Arc<Source>, Failure> {
    Ok(Source::new(path.display().to_string(), decode(&read_file(path)?)))
}

/// # Errors
/// There is no sheet of this name.
pub fn named_sheet<'a>(library: &'a Library, name: &str) -> Result<&'a Arc<Sheet>, Failure> {
    library.sheet(name).ok_or_else(|| {
        Diagnostic::new(format!("there is no sheet `{name}`"))
            .nearest(name, library.sheets().map(|sheet| sheet.name.as_str()))
            .hint("`socle sheets` lists them")
            .into()
    })
}
