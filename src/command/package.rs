//! `socle package`: a job worked to the last page and typeset.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::{Run, colour, note, outcome, spinner, work_out};
use crate::cli::PackageArgs;
use crate::diag::{Diagnostic, count};
use crate::engine::{self, LOADS, PostGrid, Root};
use crate::files::{Failure, say, write};
use crate::job::Job;
use crate::load::{Loaded, load};
use crate::package::{self, Package, Pages};
use crate::revision::{self, Edition};
use crate::verdict::Verdict;
use crate::{pdf, report};

pub(super) fn package(args: &PackageArgs) -> Run {
    let Sources { files, date, digest, name, headline, ok } =
        sources(&args.job, args.confirmed.as_deref(), args.full, args.since.as_deref())?;
    let progress = spinner("typesetting");
    let rendered = pdf::render(pdf::Document { files, main: MAIN, date, ident: &digest });
    progress.finish_and_clear();
    let pdf = rendered.map_err(|lines| {
        Failure::Wrong(
            lines
                .into_iter()
                .map(|line| Diagnostic::new(format!("the package could not be typeset: {line}")))
                .collect(),
        )
    })?;
    let output = args.output.clone().unwrap_or_else(|| PathBuf::from("out").join(format!("{name}.pdf")));
    write(&output, &pdf.bytes)?;
    say(&format!("{} written, {}. {headline}\n", output.display(), count(pdf.pages, "page")))?;
    Ok(outcome(ok))
}

/// A package before it is typeset, and what is said when it is written.
pub struct Sources {
    /// The templates and what they read, by virtual path.
    pub files: BTreeMap<String, Vec<u8>>,
    pub date: (i32, u8, u8),
    pub digest: String,
    name: String,
    headline: String,
    ok: bool,
}

/// The entry of a package's templates.
pub const MAIN: &str = "/templates/package/main.typ";

/// A package in its parts, and what of its job is compared with another state of it.
struct Draft {
    package: Package,
    pages: Pages,
    edition: Edition,
    ok: bool,
}

/// Groups of posts that differ, in one package: each is some three sheets, and the typesetter has all of them in
/// memory, full packages of 200 in 3.5 GB.
const MOST_GROUPS: usize = 250;

fn draft(loaded: &Loaded, full: bool) -> Result<Draft, Failure> {
    let (root, results) = work_out(loaded)?;
    let groups = results.groups.len();
    if groups > MOST_GROUPS {
        return Err(Diagnostic::new(format!(
            "the posts of this job are of {groups} kinds; a package holds {MOST_GROUPS} at most"
        ))
        .hint("make a job of each part of the building, a folder each, with posts that share a roof or a frame in one; or give posts that can be alike the same size, height and loads, so that they share their pages")
        .hint("`socle check` works out all of them as they are, and `--json` and `--csv` write every limit")
        .into());
    }
    let verdict = Verdict::new(&loaded.job, &loaded.library, &results, &loaded.loads.groups);
    let program = concat!("socle ", env!("CARGO_PKG_VERSION"));
    let loads_root = match loaded.loads.groups.is_empty() {
        true => None,
        false => Some(Root::new(&loaded.job, &loaded.library, LOADS, Some(PostGrid::new(&loaded.job.posts).around()))?),
    };
    let loads = loads_root.as_ref().map(|root| (root, &loaded.loads));
    let frames = engine::frames(&loaded.job, &loaded.library, &loaded.loads, &results, full)?;
    let worked = engine::Worked { root: &root, results: &results, loads, frames };
    let (package, pages) = package::build(&worked, &verdict, program, &loaded.digest, full);
    let edition = Edition::new(&loaded.job, &results, loaded.own.clone(), program);
    Ok(Draft { package, pages, edition, ok: results.ok() })
}

/// The job as it was, worked with its posts in the order in which they are now.
fn earlier(folder: &Path, confirmed: Option<&Path>, full: bool, now: &Job) -> Result<Draft, Failure> {
    if folder.is_file() {
        let message = format!("`{}` is a file; `--since` needs the folder of a job", folder.display());
        return Err(Diagnostic::new(message)
            .hint("changes are worked out from the files of the job as they were, not from its package: keep a copy of the folder at each revision, and name that")
            .into());
    }
    let marks: Vec<String> = now.posts.iter().map(|post| post.mark.clone()).collect();
    let old = load(folder, confirmed, true, &marks).and_then(|loaded| draft(&loaded, full));
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
        false => "name the job as it was at the last revision, or take the entry out of `job.toml`",
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
    let loaded = load(job, confirmed, true, &[])?;
    note(&loaded.job.notes);
    let mut new = draft(&loaded, full)?;
    if let Some(folder) = since {
        compare(&mut new, earlier(folder, confirmed, full, &loaded.job)?);
    }
    let Draft { package, pages, ok, .. } = new;
    let mut files: BTreeMap<String, Vec<u8>> = BTreeMap::new();
    for (path, bytes) in loaded.templates.iter().filter(|(path, _)| path.starts_with("package/")) {
        files.insert(format!("/templates/{path}"), bytes.clone());
    }
    files.insert("/package.json".into(), json(&package)?);
    for (refs, worked) in [(&package.loads, &pages.loads), (&package.worked, &pages.worked)] {
        for (of, worked) in refs.iter().zip(worked) {
            files.insert(of.file.clone(), json(worked)?);
        }
    }
    for (of, sheet) in package.sheets.iter().zip(&pages.sheets) {
        files.insert(of.file.clone(), json(sheet)?);
    }
    files.insert("/guess.json".into(), json(&package::guess(&package, &pages))?);
    let (paper, width) = loaded.job.units.paper();
    files.insert("/paper.json".into(), json(&serde_json::json!({ "name": paper, "width": width }))?);
    let date = loaded.job.card.date;
    Ok(Sources {
        files,
        date: (date.year().into(), date.month() as u8, date.day() as u8),
        headline: package.verdict.headline.clone(),
        ok,
        name: loaded.name.clone(),
        digest: loaded.digest.clone(),
    })
}

fn json(value: &impl serde::Serialize) -> Result<Vec<u8>, Failure> {
    serde_json::to_vec(value).map_err(|error| Failure::Machine(error.to_string()))
}
