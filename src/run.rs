//! One function for each command: the map of the program.

use std::collections::{BTreeMap, BTreeSet};
use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use sha2::{Digest, Sha256};

use crate::alone::{self, Alone};
use crate::cli::{CheckArgs, Cli, Command, PackageArgs, SheetsArgs, WorkArgs};
use crate::diag::{Diagnostic, Diagnostics, count, once};
use crate::engine::{self, Column, Derived, LOADS, PostGrid, ROOT, Results, Root};
use crate::files::{Failure, names_in, read_file, say, say_all, write};
use crate::grid::{self, Grid, decode};
use crate::job::{CATALOGUES, CONFIRMATIONS, Catalogue, Job, REACTIONS, strangers};
use crate::package::{Package, Pages};
use crate::quantity::Units;
use crate::revision::{self, Edition};
use crate::sheet::{Library, Sheet};
use crate::source::Source;
use crate::templates::Templates;
use crate::verdict::Verdict;
use crate::{package, pdf, report};

/// How a run ended.
enum Outcome {
    Met,
    NotMet,
}

type Run = Result<Outcome, Failure>;

pub fn run(cli: Cli) -> ExitCode {
    let result = match cli.command {
        Command::Check(args) => said(check(&args), args.json),
        Command::Package(args) => package(&args),
        Command::Work(args) => work_sheet(&args),
        Command::Sheets(args) => sheets(&args),
    };
    match result {
        Ok(Outcome::Met) => ExitCode::from(0),
        Ok(Outcome::NotMet) => ExitCode::from(1),
        Err(Failure::Wrong(diagnostics)) => {
            eprint!("{}", report::diagnostics(&diagnostics, std::io::stderr().is_terminal()));
            ExitCode::from(2)
        }
        Err(Failure::Machine(message)) => {
            eprintln!("error: {message}");
            ExitCode::from(3)
        }
    }
}

/// A program that reads JSON is told in JSON that the job was not worked.
fn said(run: Run, json: bool) -> Run {
    if let (Err(Failure::Wrong(diagnostics)), true) = (&run, json) {
        say(&report::not_worked_json(diagnostics))?;
    }
    run
}

fn check(args: &CheckArgs) -> Run {
    // Other programs read the units of the sheets, whatever the job is printed in.
    let loaded = load(&args.job, args.confirmed.as_deref(), !args.json, &[])?;
    note(&loaded.job.notes);
    let (root, results) = work_out(&loaded)?;
    let verdict = Verdict::new(&loaded.job, &loaded.library, &results, &loaded.loads.groups);
    if args.json {
        say_all(report::check_json(&root, &results, &verdict, &loaded.digest))?;
    } else if args.open {
        say(&report::open_questions(&loaded.job, &verdict))?;
    } else if args.csv {
        say(&report::check_csv(&loaded.job, &results))?;
    } else if let Some(folder) = &args.schedules {
        let made = results.groups.iter().map(|group| (group, engine::made(&root, &results, group)));
        let files = report::schedule_files(&engine::schedules(&loaded.job, &made.collect::<Vec<_>>()));
        for (name, text) in files {
            let path = folder.join(name);
            write(&path, text.as_bytes())?;
            say(&format!("{} written\n", path.display()))?;
        }
    } else {
        say_all(report::check_table(&loaded.job, &results, &verdict, std::io::stdout().is_terminal()))?;
    }
    Ok(outcome(results.ok()))
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
    eprint!("{}", report::warnings(&[Diagnostic::new(message).hint(hint)], std::io::stderr().is_terminal()));
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

fn package(args: &PackageArgs) -> Run {
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

/// Says on standard error what is worth a look.
fn note(notes: &[Diagnostic]) {
    eprint!("{}", report::notes(notes, std::io::stderr().is_terminal()));
}

fn work_sheet(args: &WorkArgs) -> Run {
    let library = Templates::of(args.job.as_deref())?.library()?;
    let alone = Alone::new(named_sheet(&library, &args.sheet)?, &library)?;
    let typed = alone::typed(&args.inputs)?;
    let Some(path) = &args.rows else {
        let worked = alone.work(typed)?;
        say(&if args.json { report::work_json(&worked) } else { report::work_steps(&worked) })?;
        return Ok(outcome(alone::all_met(&worked)));
    };
    let grid = Grid::read(&source(path)?)?;
    let added = |column: &&grid::Column| report::is_verdict(&column.name);
    if let Some(column) = grid.columns.iter().find(added) {
        return Err(Diagnostic::new(format!("`{}` is a column that `--rows` adds", column.name))
            .at(grid.place(&column.cell))
            .hint("take it out, or give it another name, so that it is plain which verdict is which")
            .into());
    }
    let worked = alone.rows(&grid, &typed)?;
    note(&alone.unread(&grid));
    say(&report::rows_csv(&grid, &worked))?;
    Ok(outcome(worked.iter().all(alone::all_met)))
}

fn sheets(args: &SheetsArgs) -> Run {
    let templates = Templates::of(args.job.as_deref())?;
    if let Some(file) = &args.columns {
        say(&report::column_list(&columns_of(file, &templates.library()?)?))?;
        return Ok(Outcome::Met);
    }
    match &args.name {
        None => say(&report::sheet_list(&templates.library()?))?,
        // A name with a dot or a slash is a file of the user's own.
        Some(name) if name.contains(['/', '.', '\\']) => {
            let library = templates.library_with(&source(Path::new(name))?)?;
            say(&format!("{name} is in order; {} sheets were checked with it\n", library.sheets().count() - 1))?;
        }
        Some(name) => say(&named_sheet(&templates.library()?, name)?.source.text)?,
    }
    Ok(Outcome::Met)
}

/// The columns of a file or table; all of them without a name.
fn columns_of(file: &str, library: &Library) -> Result<Vec<Column>, Failure> {
    let mut columns = engine::columns(library);
    let wanted = file.trim_end_matches(".csv");
    let known: BTreeSet<String> = columns.iter().map(|column| column.source.clone()).collect();
    match wanted {
        "" => {}
        "job.toml" => columns.retain(|column| engine::is_setting(&column.source)),
        _ => columns.retain(|column| column.source == wanted),
    }
    if columns.is_empty() {
        return Err(Diagnostic::new(format!("there is no file or table `{file}`"))
            .nearest(wanted, known.iter().map(String::as_str))
            .hint("`socle sheets --columns` prints them all")
            .into());
    }
    Ok(columns)
}

/// A text that the user named.
fn source(path: &Path) -> Result<Arc<Source>, Failure> {
    Ok(Source::new(path.display().to_string(), decode(&read_file(path)?)))
}

/// A job's files, read and understood.
struct Loaded {
    name: String,
    job: Job,
    /// The worked loads, where the job has a roof.
    loads: Derived,
    library: Library,
    templates: BTreeMap<String, Vec<u8>>,
    /// The texts of its own sheets and tables, by their paths in its folder.
    own: BTreeMap<String, String>,
    digest: String,
}

/// Files of a job's folder; those that are not there are missed when they are needed.
fn job_files() -> impl Iterator<Item = String> {
    ["job.toml", "posts.csv", REACTIONS, CONFIRMATIONS]
        .map(String::from)
        .into_iter()
        .chain(CATALOGUES.iter().map(Catalogue::file))
}

/// `printed`: for people, who read a job in its own units. `order`: marks of posts,
/// where these are to be worked in the order of another state of the job.
fn load(folder: &Path, confirmed: Option<&Path>, printed: bool, order: &[String]) -> Result<Loaded, Failure> {
    if !folder.is_dir() {
        return Err(Diagnostic::new(format!("there is no folder `{}`", folder.display()))
            .hint("a job is a folder with `job.toml`, `posts.csv` and `bases.csv`")
            .into());
    }
    let mut files = BTreeMap::new();
    for name in job_files() {
        let path = folder.join(&name);
        if path.exists() {
            files.insert(name, read_file(&path)?);
        }
    }
    let templates = Templates::of(Some(folder))?;
    let library = templates.library()?;
    named_sheet(&library, ROOT)?;
    let folder_name = folder.display().to_string();
    let (strange, unread) = strangers(&folder_name, &names_in(folder)?, &job_files().collect::<Vec<_>>());
    let (job, mut wrong) = Job::read_all(&folder_name, &files, &engine::known_names(&library));
    wrong.extend(strange);
    let Some(mut job) = job else { return Err(all(wrong, Units::Imperial)) };
    job.order(order);
    let library = if printed { library.printed_in(job.units) } else { library };
    job.notes.extend(unread);
    // What a firm has confirmed is an input like the others: it stands in the digest.
    if let Some(path) = confirmed {
        wrong.extend(job.answers.add(&source(path)?).err().into_iter().flatten());
        files.insert("--confirmed".into(), read_file(path)?);
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
            return Err(all(wrong, library.units()));
        }
    };
    let own = || templates.own().map(|(path, bytes)| (format!("templates/{path}"), bytes));
    let digest = digest(files.iter().map(|(name, bytes)| (name.clone(), bytes.as_slice())).chain(own()));
    let own = own().map(|(path, bytes)| (path, decode(bytes))).collect();
    let name =
        folder.canonicalize().ok().and_then(|path| path.file_name().map(|name| name.to_string_lossy().into_owned()));
    Ok(Loaded {
        name: name.unwrap_or_else(|| "package".into()),
        job,
        loads,
        library,
        templates: templates.files,
        own,
        digest,
    })
}

/// All that is wrong, each thing once, with advice in the units of the job.
fn all(mut wrong: Diagnostics, units: Units) -> Failure {
    once(&mut wrong);
    wrong.iter_mut().flat_map(|diagnostic| &mut diagnostic.hints).for_each(|hint| *hint = units.advice(hint));
    wrong.into()
}

/// SHA-256 over names, lengths and contents.
fn digest<'a>(files: impl Iterator<Item = (String, &'a [u8])>) -> String {
    let mut hash = Sha256::new();
    for (name, bytes) in files {
        hash.update(format!("{name}\0{}\0", bytes.len()));
        hash.update(bytes);
    }
    let hex: String = hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect();
    format!("sha256:{hex}")
}

/// A job's posts in every combination; all that is wrong with any is said at once.
fn work_out(loaded: &Loaded) -> Result<(Root<'_>, Results), Failure> {
    let bar = spinner("working");
    let root = Root::new(&loaded.job, &loaded.library, ROOT, None)?;
    let results = engine::work_job(&root, &|done, total| {
        bar.set_message(format!("working: group {done} of {total}"));
        bar.tick();
    });
    bar.finish_and_clear();
    Ok((root, results.map_err(|wrong| all(wrong, loaded.library.units()))?))
}

/// Shown only after a while, and only to a person.
fn spinner(message: &str) -> ProgressBar {
    let bar = ProgressBar::new_spinner().with_style(ProgressStyle::default_spinner()).with_message(message.to_string());
    if !std::io::stderr().is_terminal() {
        bar.set_draw_target(ProgressDrawTarget::hidden());
    }
    bar.enable_steady_tick(std::time::Duration::from_millis(120));
    bar
}

fn named_sheet<'a>(library: &'a Library, name: &str) -> Result<&'a Arc<Sheet>, Failure> {
    library.sheet(name).ok_or_else(|| {
        Diagnostic::new(format!("there is no sheet `{name}`"))
            .nearest(name, library.sheets().map(|sheet| sheet.name.as_str()))
            .hint("`socle sheets` lists them")
            .into()
    })
}

fn outcome(ok: bool) -> Outcome {
    if ok { Outcome::Met } else { Outcome::NotMet }
}

fn json(value: &impl serde::Serialize) -> Result<Vec<u8>, Failure> {
    serde_json::to_vec(value).map_err(|error| Failure::Machine(error.to_string()))
}
