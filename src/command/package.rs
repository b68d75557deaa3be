//! `socle package`: a job worked to the last page and typeset.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use rayon::prelude::*;

use super::apart::{Apart, Order};
use super::{Run, colour, note, outcome, paper, spinner, unset, verdict, work_out};
use crate::archive::{self, Archive, Carried, Kind, close};
use crate::cli::PackageArgs;
use crate::diag::{Diagnostic, Diagnostics, count, list};
use crate::engine::{self, LOADS, PostGrid, Results, Root};
use crate::files::{Failure, complain, names_in, read_at_most, say, say_of, write};
use crate::folder::Folder;
use crate::grid::decode;
use crate::job::Job;
use crate::load::{self, Confirmed, Loaded, Reading};
use crate::package::{self, DrawingFile, Figures, Package, Pages};
use crate::quantity::Units;
use crate::revision::{self, Edition};
use crate::sheet::Library;
use crate::source::Source;
use crate::templates::TITLE_BLOCK;
use crate::verdict::Verdict;
use crate::{pdf, report};

pub(super) fn package(args: &PackageArgs) -> Run {
    let confirmed = Confirmed::read(args.confirmed.as_deref())?;
    let since = args.since.as_deref().map(State::read).transpose()?;
    let asked = Asked { full: args.full, since: since.as_ref() };
    let Drafted { loaded, draft, archive } =
        drafted(Reading::of(&args.job.as_path().into(), confirmed.as_ref()), &asked)?;
    let drawings = args.drawings.as_ref().map(|folder| (folder, package::drawing_files(&loaded.job, &draft.package)));
    let sources = files(&loaded, draft, Some(&archive))?;
    let output = args.output.clone().unwrap_or_else(|| PathBuf::from("out").join(format!("{}.pdf", sources.name)));
    no_input(&args.job, &loaded, &output)?;
    let spared = || if args.replace { Ok(()) } else { spare(&output, &sources.job) };
    // Typesetting takes a while; nobody wants to wait for a refusal.
    spared()?;
    let pdf = sources.typeset()?;
    spared()?;
    write(&output, &pdf.bytes)?;
    let Sources { headline, unmet, ok, .. } = sources;
    say_of(&output, &format!("{} written, {}. {headline}\n", output.display(), count(pdf.pages, "page")))?;
    say_of(&output, &unmet)?;
    if let Some((folder, drawings)) = drawings {
        write_drawings(folder, &drawings)?;
    }
    Ok(outcome(ok))
}

/// What a job is read from is never written over, whatever is asked for.
pub(super) fn no_input(job: &Path, loaded: &Loaded, output: &Path) -> Result<(), Failure> {
    let Ok(output) = output.canonicalize() else { return Ok(()) };
    let is_it = |name: &&String| job.join(name).canonicalize().is_ok_and(|input| input == output);
    match loaded.inputs.keys().find(is_it) {
        Some(name) => Err(Diagnostic::new(format!("`{name}` is read for this job; it is not overwritten"))
            .hint("give another name for what is written")
            .into()),
        None => Ok(()),
    }
}

/// What is there stays, unless it is a package of the same job as it was written.
pub(super) fn spare(output: &Path, job: &str) -> Result<(), Failure> {
    if !output.is_file() {
        return Ok(());
    }
    let there = read_at_most(output, archive::LARGEST)?;
    Ok(archive::may_replace(&output.display().to_string(), &there, job)?)
}

/// Writes the drawings, and says which files of drawings in the folder are not of this run: whoever cuts by
/// one of those would cut what is no longer drawn.
fn write_drawings(folder: &Path, drawings: &[DrawingFile]) -> Result<(), Failure> {
    for (name, text) in drawings {
        write(&folder.join(name), text.as_bytes())?;
    }
    let is_drawing = |name: &String| [".svg", ".dxf"].iter().any(|end| name.ends_with(end));
    let others: Vec<String> = if folder.is_dir() { names_in(folder)? } else { Vec::new() };
    let others: Vec<String> = others.into_iter().filter(is_drawing).collect();
    let old: Vec<&String> = others.iter().filter(|name| drawings.iter().all(|(known, _)| known != *name)).collect();
    if !old.is_empty() {
        let message =
            format!("`{}` also has drawings that this run did not write: {}", folder.display(), list(&old, "and"));
        note(&[Diagnostic::new(message).hint("remove them if they are from an earlier state of the job")]);
    }
    say(&match drawings.len() / 2 {
        0 => "The shop and field sheets of this job have no drawings.\n".into(),
        some => {
            format!("{} written into {}, each as SVG and DXF, full size.\n", count(some, "drawing"), folder.display())
        }
    })
}

/// A package before it is typeset, and what is said when it is written.
pub struct Sources {
    /// The templates and what they read, by virtual path.
    pub files: BTreeMap<String, Vec<u8>>,
    pub date: (i32, u8, u8),
    pub digest: String,
    /// Its job, as a closing line names it.
    pub job: String,
    name: String,
    headline: String,
    /// What is not met, with what would help.
    unmet: String,
    ok: bool,
    /// It has a title block of the job's own.
    pub(super) own_block: bool,
}

/// No package takes so long to set.
const LONGEST: Duration = Duration::from_secs(30 * 60);

impl Sources {
    /// The package as a file.
    ///
    /// # Errors
    /// What the typesetter says.
    pub fn typeset(&self) -> Result<pdf::Pdf, Failure> {
        let progress = spinner("typesetting");
        let rendered = match self.own_block {
            true => self.apart(&mut Apart::start()?, false),
            false => pdf::render(self.document()).map_err(unset),
        };
        progress.finish_and_clear();
        let pdf::Pdf { bytes, pages } = rendered?;
        Ok(pdf::Pdf { bytes: close(bytes, Kind::Package, &self.job), pages })
    }

    pub(super) fn document(&self) -> pdf::Document<'_> {
        pdf::Document { files: self.files.clone(), main: MAIN, date: self.date, ident: &self.digest }
    }

    /// Sets the pages with a title block of the job's own, which is run on every sheet.
    pub(super) fn apart(&self, typesetter: &mut Apart, preview: bool) -> Result<pdf::Pdf, Failure> {
        let (files, main, ident) = (self.files.clone(), MAIN.into(), self.digest.clone());
        typesetter.set(&Order::Set { files, main, date: self.date, ident, preview }, LONGEST)
    }
}

/// The entry of a package's templates.
pub const MAIN: &str = "/templates/package/main.typ";

/// A package in its parts, and what of its job is compared with another state of it.
pub(super) struct Draft {
    package: Package,
    pages: Pages,
    pub edition: Edition,
    unmet: String,
    ok: bool,
}

/// What of a job is kept from one of its states to the next.
#[derive(Default)]
pub struct Kept {
    library: load::Kept,
    worked: Option<KeptWorked>,
    figures: Figures,
}

/// What posts came to by one library.
struct KeptWorked {
    library: Arc<Library>,
    posts: engine::Kept,
    /// By the sheet for loads.
    loads: engine::Kept,
}

impl Kept {
    /// A job's folder, read again.
    ///
    /// # Errors
    /// As for `load`.
    pub fn load(&mut self, job: &Path, confirmed: Option<&Path>) -> Result<Loaded, Failure> {
        let confirmed = Confirmed::read(confirmed)?;
        let loaded = Reading::of(&job.into(), confirmed.as_ref()).load_with(&mut self.library)?;
        if !self.worked.as_ref().is_some_and(|worked| Arc::ptr_eq(&worked.library, &loaded.library)) {
            let (library, posts, loads) = (loaded.library.clone(), engine::Kept::default(), engine::Kept::default());
            self.worked = Some(KeptWorked { library, posts, loads });
        }
        self.figures.begin();
        Ok(loaded)
    }

    /// The posts of the job that was loaded, in every combination.
    ///
    /// # Errors
    /// As for `engine::work_job`.
    pub fn work_out<'a>(&'a self, loaded: &'a Loaded) -> Result<(Root<'a>, Results), Failure> {
        work_out(loaded, self.worked.as_ref().map(|worked| &worked.posts))
    }

    /// All that the package of a job that was loaded and worked is typeset from.
    ///
    /// # Errors
    /// The posts are of too many kinds; the job's own title block does not hold to its contract.
    pub fn sources(
        &self,
        loaded: &Loaded,
        root: &Root,
        results: &Results,
        verdict: &Verdict,
    ) -> Result<Sources, Failure> {
        files(loaded, draft(loaded, root, results, verdict, false, self)?, None)
    }
}

/// Groups of posts that differ, in one package: each is some three sheets, and the typesetter has all of them in
/// memory, full packages of 200 in 3.5 GB.
const MOST_GROUPS: usize = 250;

fn draft(
    loaded: &Loaded,
    root: &Root,
    results: &Results,
    verdict: &Verdict,
    full: bool,
    kept: &Kept,
) -> Result<Draft, Failure> {
    let groups = results.groups.len();
    if groups > MOST_GROUPS {
        return Err(Diagnostic::new(format!(
            "the posts of this job are of {groups} kinds; a package holds at most {MOST_GROUPS}"
        ))
        .hint("split the building into several jobs, a folder each, and keep posts that share a roof or a frame together; or give posts that can be alike the same size, height and loads, so that they share pages")
        .hint("`socle check` works all of them as they are, and `--json` and `--csv` write every limit")
        .into());
    }
    let loads_root = match loaded.loads.groups.is_empty() {
        true => None,
        false => Some(Root::new(&loaded.job, &loaded.library, LOADS, Some(PostGrid::new(&loaded.job.posts).around()))?),
    };
    let loads_root = match &kept.worked {
        Some(worked) => loads_root.map(|root| root.keeping(&worked.loads)),
        None => loads_root,
    };
    loads_root.iter().for_each(|root| root.begin(&[]));
    let loads = loads_root.as_ref().map(|root| (root, &loaded.loads));
    let frames = engine::frames(&loaded.job, &loaded.library, &loaded.loads, results, full)?;
    let worked = engine::Worked { root, results, loads, frames };
    let (package, pages) = package::build(&worked, verdict, archive::PROGRAM, &loaded.digest, full, &kept.figures);
    let edition = edition(loaded, results, archive::PROGRAM);
    let unmet = report::failures(&loaded.job, results, paper());
    Ok(Draft { package, pages, edition, unmet, ok: results.ok() })
}

/// A state of a job: its folder, or a package that carries it.
pub enum State {
    Folder(Folder),
    Package { shown: String, carried: Carried, program: String },
}

impl State {
    /// # Errors
    /// There is nothing of this name, or it carries no job.
    pub fn read(path: &Path) -> Result<State, Failure> {
        if !path.is_file() {
            return Ok(State::Folder(path.into()));
        }
        let shown = path.display().to_string();
        let opened = archive::open(&shown, &read_at_most(path, archive::LARGEST)?)?;
        Ok(State::Package { carried: opened.archive.job(), program: opened.archive.manifest.program, shown })
    }

    pub fn shown(&self) -> String {
        match self {
            State::Folder(folder) => folder.shown(),
            State::Package { shown, .. } => shown.clone(),
        }
    }

    /// What is read of it; a folder has no confirmed values of its own.
    pub fn reading<'a>(&'a self, confirmed: Option<&'a Confirmed>) -> Reading<'a> {
        match self {
            State::Folder(folder) => Reading::of(folder, confirmed),
            State::Package { carried, .. } => carried.reading(),
        }
    }

    /// Program and version that worked it.
    pub fn program(&self) -> &str {
        match self {
            State::Folder(_) => archive::PROGRAM,
            State::Package { program, .. } => program,
        }
    }

    /// It as it is compared with another.
    ///
    /// # Errors
    /// As for `Reading::load`; the posts cannot be worked.
    pub fn edition(&self, confirmed: Option<&Confirmed>) -> Result<Edition, Failure> {
        let loaded = self.reading(confirmed).load()?;
        let (_, results) = work_out(&loaded, None)?;
        Ok(edition(&loaded, &results, self.program()))
    }
}

fn edition(loaded: &Loaded, results: &Results, program: &str) -> Edition {
    let built_in = loaded.sheets.iter().map(|(path, bytes)| (path.clone(), decode(bytes)));
    Edition { built_in: built_in.collect(), ..Edition::new(&loaded.job, results, loaded.own.clone(), program) }
}

/// What a package is asked to show.
pub struct Asked<'a> {
    pub full: bool,
    /// The job as it was.
    pub since: Option<&'a State>,
}

/// A job worked to its pages.
pub struct Drafted {
    pub loaded: Loaded,
    pub draft: Draft,
    pub archive: Archive,
}

/// A job that was loaded, worked to its pages; and its results as other programs read them.
fn worked_draft(loaded: &Loaded, full: bool) -> Result<(Draft, String), Failure> {
    let (root, results) = work_out(loaded, None)?;
    let verdict = verdict(loaded, &results);
    let draft = draft(loaded, &root, &results, &verdict, full, &Kept::default())?;
    Ok((draft, report::check_json(&root, &results, &verdict, &loaded.digest).collect()))
}

/// The results of a job as other programs read them, in the units of the sheets.
///
/// # Errors
/// As for `Reading::load`; the posts cannot be worked.
pub(super) fn results(reading: Reading) -> Result<String, Failure> {
    let loaded = Reading { printed: false, ..reading }.load()?;
    let (root, results) = work_out(&loaded, None)?;
    Ok(report::check_json(&root, &results, &verdict(&loaded, &results), &loaded.digest).collect())
}

/// The job as it was, worked with its posts in the order in which they are now.
fn earlier(reading: Reading, shown: &str, full: bool, now: &Job) -> Result<(Loaded, Draft), Failure> {
    let marks: Vec<String> = now.posts.iter().map(|post| post.mark.clone()).collect();
    let old = Reading { order: &marks, ..reading }.load();
    let old = old.and_then(|loaded| worked_draft(&loaded, full).map(|(draft, _)| (loaded, draft)));
    old.map_err(|failure| failure.hint(format!("this is about `{shown}`, the earlier job that `--since` names")))
}

/// Marks in a package what changed, and says what does not go together.
fn compare(new: &mut Draft, old: Draft) {
    let found = revision::compare(&old.edition, &new.edition);
    package::since(&mut new.package, &mut new.pages, &mut (old.package, old.pages), &found);
    let warning = package::warning(&found);
    if warning.is_empty() {
        return;
    }
    let hint = match found.entered.is_empty() {
        true => {
            "enter it in `job.toml`: a block `[[revisions]]` with `no`, `date` and `what`, and the same `revision` under `[job]`"
        }
        false => "name the job as it was at the last revision, or remove the entry from `job.toml`",
    };
    let message = warning[..1].to_lowercase() + warning[1..].trim_end_matches('.');
    complain(&report::warnings(&[Diagnostic::new(message).hint(hint)], colour(&std::io::stderr())));
}

/// Works a job to all that its package is typeset from.
///
/// # Errors
/// The input or a sheet is wrong.
pub fn sources(job: &Path, confirmed: Option<&Path>, full: bool) -> Result<Sources, Failure> {
    let confirmed = Confirmed::read(confirmed)?;
    let asked = Asked { full, since: None };
    let Drafted { loaded, draft, archive } = drafted(Reading::of(&job.into(), confirmed.as_ref()), &asked)?;
    files(&loaded, draft, Some(&archive))
}

/// A job worked to its pages, with what is worth a look said.
///
/// # Errors
/// The input or a sheet is wrong, of the job or of what it was.
pub(super) fn drafted(reading: Reading, asked: &Asked) -> Result<Drafted, Failure> {
    let confirmed = reading.confirmed;
    let loaded = reading.clone().load()?;
    note(&loaded.job.notes);
    let (mut draft, json) = worked_draft(&loaded, asked.full)?;
    note(&unstated(&draft.package));
    let json = if loaded.library.units() == Units::Imperial { json } else { results(reading)? };
    let mut archive = Archive::new(&loaded, confirmed, json.into_bytes(), asked.full);
    if let Some(since) = asked.since {
        let reading = since.reading(confirmed);
        let confirmed = reading.confirmed;
        let (old, mut earlier) = earlier(reading, &since.shown(), asked.full, &loaded.job)?;
        earlier.edition.program = since.program().into();
        archive.add_earlier(&old, confirmed, since.program());
        compare(&mut draft, earlier);
    }
    Ok(Drafted { loaded, draft, archive })
}

/// A note of the design loads of which the package says that they are not stated.
fn unstated(package: &Package) -> Diagnostics {
    let keys = package::unstated(package);
    if keys.is_empty() {
        return Diagnostics::new();
    }
    let message = format!("the design loads do not say {}: the package prints \"not stated\"", list(&keys, "and"));
    Diagnostic::new(message).hint("state them in words under `[design_loads]` in `job.toml`").into()
}

/// The files that a package is typeset from.
pub(super) fn files(loaded: &Loaded, new: Draft, archive: Option<&Archive>) -> Result<Sources, Failure> {
    let Draft { mut package, pages, unmet, ok, .. } = new;
    let mut files: BTreeMap<String, Vec<u8>> = BTreeMap::new();
    let mut attached = Vec::new();
    if let Some(archive) = archive {
        package.archive = archive::digest(&archive.list());
        for (of, bytes) in archive.attached() {
            files.insert(format!("/attached/{}", of.path), bytes);
            attached.push(of);
        }
    }
    files.insert("/attached.json".into(), json(&attached)?);
    for (path, bytes) in loaded.templates.iter().filter(|(path, _)| path.starts_with("package/")) {
        files.insert(format!("/templates/{path}"), bytes.clone());
    }
    for (refs, worked) in [(&package.loads, &pages.loads), (&package.worked, &pages.worked)] {
        for (of, worked) in refs.iter().zip(worked) {
            files.insert(of.file.clone(), json(worked)?);
        }
    }
    let sheets = || {
        let sheets = package.sheets.par_iter().zip(&pages.sheets);
        sheets.map(|(of, sheet)| Ok((of.file.clone(), json(sheet)?))).collect::<Result<Vec<_>, Failure>>()
    };
    let (whole, sheets) = rayon::join(|| json(&package), sheets);
    files.insert("/package.json".into(), whole?);
    files.extend(sheets?);
    files.insert("/guess.json".into(), json(&package::guess(&package, &pages))?);
    let (paper, width) = loaded.job.units.paper();
    files.insert("/paper.json".into(), json(&serde_json::json!({ "name": paper, "width": width }))?);
    let date = loaded.job.card.date;
    let date = (date.year().into(), date.month() as u8, date.day() as u8);
    if let Some(logo) = loaded.job.firm.as_ref().and_then(|firm| firm.logo.as_ref()) {
        files.insert(logo.virtual_path().into(), logo.bytes.clone());
    }
    files.insert(BLOCK.into(), loaded.templates[TITLE_BLOCK].clone());
    if let Some(source) = &loaded.job.title_block {
        try_block(source, &mut files, &package, date)?;
    }
    Ok(Sources {
        files,
        date,
        job: archive::job_digest(&loaded.job.card.name, &loaded.job.card.number),
        headline: package.verdict.headline.clone(),
        unmet,
        ok,
        own_block: loaded.job.title_block.is_some(),
        name: loaded.name.clone(),
        digest: loaded.digest.clone(),
    })
}

/// Where the pages find the title block, and what tries it.
const BLOCK: &str = "/templates/title-block.typ";
const TRIAL: &str = "/templates/package/trial.typ";
const AROUND: f64 = 200.0;

/// The job's own title block is held to its contract before it is set with the pages, on
/// every kind of sheet that it will stand on.
fn try_block(
    source: &Arc<Source>,
    files: &mut BTreeMap<String, Vec<u8>>,
    package: &Package,
    date: (i32, u8, u8),
) -> Result<(), Failure> {
    let refs = package.loads.iter().chain(&package.sheets).chain(&package.worked).map(|it| it.title.as_str());
    let plain = package.shop.iter().chain(&package.field).map(|it| it.title.as_str());
    let titles = ["Design loads, open questions, summary", "Key plan, load path, loads", "Schedules, appendix"];
    let heads = titles.into_iter().chain(refs).chain(plain).map(|title| ("head", title));
    let sheets: Vec<(&str, &str)> = [("cover", ""), ("head", "")].into_iter().chain(heads).collect();
    let trial = serde_json::json!({
        "firm": package.title_block, "job": package.job, "sheets": sheets, "around": AROUND,
    });
    files.insert("/title-block.json".into(), json(&trial)?);
    files.insert("/fit.json".into(), b"{}".to_vec());
    let order = Order::Try {
        name: source.name.clone(),
        text: source.text.clone(),
        files: files.clone(),
        path: BLOCK.into(),
        trial: TRIAL.into(),
        around: AROUND,
        date,
    };
    let longest = Duration::from_secs(20 + sheets.len() as u64 / 5);
    Apart::start()?.try_block(source, &order, longest)
}

pub(super) fn json(value: &impl serde::Serialize) -> Result<Vec<u8>, Failure> {
    serde_json::to_vec(value).map_err(|error| Failure::Machine(error.to_string()))
}
