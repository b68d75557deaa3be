//! `socle package`: a job worked to the last page and typeset.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use rayon::prelude::*;

use super::{Run, colour, note, outcome, paper, spinner, unset, verdict, work_out};
use crate::cli::PackageArgs;
use crate::diag::{Diagnostic, Diagnostics, count, list};
use crate::engine::{self, LOADS, PostGrid, Results, Root};
use crate::files::{Failure, names_in, say, write};
use crate::job::Job;
use crate::load::{self, Loaded};
use crate::package::{self, DrawingFile, Figures, Package, Pages};
use crate::revision::{self, Edition};
use crate::sheet::Library;
use crate::source::Source;
use crate::templates::TITLE_BLOCK;
use crate::verdict::Verdict;
use crate::{pdf, report};

pub(super) fn package(args: &PackageArgs) -> Run {
    let (loaded, draft) = drafted(&args.job, args.confirmed.as_deref(), args.full, args.since.as_deref())?;
    let drawings = args.drawings.as_ref().map(|folder| (folder, package::drawing_files(&loaded.job, &draft.package)));
    let Sources { files, date, digest, name, headline, unmet, ok } = files(&loaded, draft)?;
    let progress = spinner("typesetting");
    let rendered = pdf::render(pdf::Document { files, main: MAIN, date, ident: &digest });
    progress.finish_and_clear();
    let pdf = rendered.map_err(unset)?;
    let output = args.output.clone().unwrap_or_else(|| PathBuf::from("out").join(format!("{name}.pdf")));
    write(&output, &pdf.bytes)?;
    say(&format!("{} written, {}. {headline}\n", output.display(), count(pdf.pages, "page")))?;
    say(&unmet)?;
    if let Some((folder, drawings)) = drawings {
        write_drawings(folder, &drawings)?;
    }
    Ok(outcome(ok))
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
    name: String,
    headline: String,
    /// What is not met, with what would help.
    unmet: String,
    ok: bool,
}

/// The entry of a package's templates.
pub const MAIN: &str = "/templates/package/main.typ";

/// A package in its parts, and what of its job is compared with another state of it.
struct Draft {
    package: Package,
    pages: Pages,
    edition: Edition,
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
        let loaded = load::load_again(job, confirmed, &mut self.library)?;
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
        files(loaded, draft(loaded, root, results, verdict, false, self)?)
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
    let program = concat!("socle ", env!("CARGO_PKG_VERSION"));
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
    let (package, pages) = package::build(&worked, verdict, program, &loaded.digest, full, &kept.figures);
    let edition = Edition::new(&loaded.job, results, loaded.own.clone(), program);
    let unmet = report::failures(&loaded.job, results, paper());
    Ok(Draft { package, pages, edition, unmet, ok: results.ok() })
}

/// A job that was loaded, worked to its pages.
fn worked_draft(loaded: &Loaded, full: bool) -> Result<Draft, Failure> {
    let (root, results) = work_out(loaded, None)?;
    draft(loaded, &root, &results, &verdict(loaded, &results), full, &Kept::default())
}

/// The job as it was, worked with its posts in the order in which they are now.
fn earlier(folder: &Path, confirmed: Option<&Path>, full: bool, now: &Job) -> Result<Draft, Failure> {
    if folder.is_file() {
        let message = format!("`{}` is a file; `--since` needs the folder of a job", folder.display());
        return Err(Diagnostic::new(message)
            .hint("changes are found from the earlier files of the job, not from its package: keep a copy of the folder at each revision, and name that")
            .into());
    }
    let marks: Vec<String> = now.posts.iter().map(|post| post.mark.clone()).collect();
    let old = load::load(folder, confirmed, true, &marks).and_then(|loaded| worked_draft(&loaded, full));
    old.map_err(|failure| match failure {
        Failure::Wrong(mut wrong) => {
            let hint = format!("this is about `{}`, the earlier job that `--since` names", folder.display());
            wrong.iter_mut().take(1).for_each(|first| first.hints.push(hint.clone()));
            Failure::Wrong(wrong)
        }
        machine => machine,
    })
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
    eprint!("{}", report::warnings(&[Diagnostic::new(message).hint(hint)], colour(&std::io::stderr())));
}

/// Works a job to all that its package is typeset from. `since` is the folder of
/// the job as it was.
///
/// # Errors
/// The input or a sheet is wrong, of the job or of what it was.
pub fn sources(job: &Path, confirmed: Option<&Path>, full: bool, since: Option<&Path>) -> Result<Sources, Failure> {
    let (loaded, draft) = drafted(job, confirmed, full, since)?;
    files(&loaded, draft)
}

fn drafted(job: &Path, confirmed: Option<&Path>, full: bool, since: Option<&Path>) -> Result<(Loaded, Draft), Failure> {
    let loaded = load::load(job, confirmed, true, &[])?;
    note(&loaded.job.notes);
    let mut new = worked_draft(&loaded, full)?;
    note(&unstated(&new.package));
    if let Some(folder) = since {
        compare(&mut new, earlier(folder, confirmed, full, &loaded.job)?);
    }
    Ok((loaded, new))
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
fn files(loaded: &Loaded, new: Draft) -> Result<Sources, Failure> {
    let Draft { package, pages, unmet, ok, .. } = new;
    let mut files: BTreeMap<String, Vec<u8>> = BTreeMap::new();
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
        headline: package.verdict.headline.clone(),
        unmet,
        ok,
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
    let block = pdf::Block { source, files, path: BLOCK, trial: TRIAL, around: AROUND, date };
    Ok(pdf::check_block(&block)?)
}

pub(super) fn json(value: &impl serde::Serialize) -> Result<Vec<u8>, Failure> {
    serde_json::to_vec(value).map_err(|error| Failure::Machine(error.to_string()))
}
