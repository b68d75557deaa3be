//! One function for each command: the map of the program, and the only file
//! that reads a job's files or writes outputs.

use std::collections::BTreeMap;
use std::io::{ErrorKind, IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use sha2::{Digest, Sha256};

use crate::cli::{CheckArgs, Cli, Command, Csv, PackageArgs, SheetsArgs, WorkArgs};
use crate::diag::{Complaint, Complaints, list};
use crate::embedded;
use crate::engine::{self, Column, GroupResult, LOADS, PostGrid, ROOT, Results, Root};
use crate::grid::{Grid, decode};
use crate::job::{CATALOGUES, Catalogue, Fact, Job, REACTIONS, Rows};
use crate::package;
use crate::pdf;
use crate::program::Program;
use crate::report;
use crate::sheet::{Bound, Context, Library, Origin, Rests, Sheet, Step, Text, Work, Worked, work};
use crate::source::{Place, Source};

/// How a run ended.
enum Outcome {
    Met,
    NotMet,
}

/// Why a run did not end.
enum Failure {
    /// The input or a sheet is wrong.
    Wrong(Complaints),
    /// The machine failed.
    Machine(String),
}

impl From<Complaints> for Failure {
    fn from(complaints: Complaints) -> Failure {
        Failure::Wrong(complaints)
    }
}

impl From<Complaint> for Failure {
    fn from(complaint: Complaint) -> Failure {
        Failure::Wrong(complaint.into())
    }
}

type Run = Result<Outcome, Failure>;

pub fn run(cli: Cli) -> ExitCode {
    let result = match cli.command {
        Command::Check(args) => check(&args),
        Command::Package(args) => package(&args),
        Command::Work(args) => work_sheet(&args),
        Command::Sheets(args) => sheets(&args),
    };
    match result {
        Ok(Outcome::Met) => ExitCode::from(0),
        Ok(Outcome::NotMet) => ExitCode::from(1),
        Err(Failure::Wrong(complaints)) => {
            eprint!("{}", report::complaints(&complaints, std::io::stderr().is_terminal()));
            ExitCode::from(2)
        }
        Err(Failure::Machine(message)) => {
            eprintln!("error: {message}");
            ExitCode::from(3)
        }
    }
}

fn check(args: &CheckArgs) -> Run {
    let loaded = load(&args.job)?;
    let (root, results) = work_out(&loaded)?;
    let text = if args.json {
        report::check_json(&root, &results, &loaded.digest)
    } else {
        match args.csv {
            Some(Csv::Limits) => report::check_csv(&loaded.job, &results),
            Some(Csv::Schedules) => {
                let made = results.groups.iter().map(|group| (group, engine::made(&root, &results, group)));
                report::schedules_csv(&engine::schedules(&loaded.job, &made.collect::<Vec<_>>()))
            }
            None => report::check_table(&loaded.job, &results, std::io::stdout().is_terminal()),
        }
    };
    say(&text)?;
    Ok(outcome(results.ok()))
}

fn package(args: &PackageArgs) -> Run {
    let loaded = load(&args.job)?;
    let (root, results) = work_out(&loaded)?;
    let program = concat!("socle ", env!("CARGO_PKG_VERSION"));
    let loads_root = match loaded.loads.is_empty() {
        true => None,
        false => Some(Root::new(&loaded.job, &loaded.library, LOADS, Some(PostGrid::new(&loaded.job.posts)))?),
    };
    let loads = loads_root.as_ref().map(|root| (root, loaded.loads.as_slice()));
    let worked = engine::Worked { root: &root, results: &results, loads };
    let (package, pages) = package::build(&worked, program, &loaded.digest);
    let mut files: BTreeMap<String, Vec<u8>> = BTreeMap::new();
    for (path, bytes) in loaded.templates.iter().filter(|(path, _)| path.starts_with("package/")) {
        files.insert(format!("/templates/{path}"), bytes.clone());
    }
    files.insert("/package.json".into(), json(&package)?);
    for (file, group) in &pages {
        files.insert(file.clone(), json(group)?);
    }
    let date = loaded.job.card.date;
    let progress = spinner("typesetting");
    let rendered = pdf::render(pdf::Document {
        files,
        main: "/templates/package/main.typ",
        date: (date.year().into(), date.month() as u8, date.day() as u8),
        ident: &loaded.digest,
    });
    progress.finish_and_clear();
    let pdf = rendered.map_err(|lines| {
        Failure::Wrong(
            lines.into_iter().map(|line| Complaint::new(format!("the package could not be typeset: {line}"))).collect(),
        )
    })?;
    let output = args.output.clone().unwrap_or_else(|| PathBuf::from("out").join(format!("{}.pdf", loaded.name)));
    write(&output, &pdf.bytes)?;
    let pages = crate::diag::count(pdf.pages, "page");
    say(&format!("{} written, {pages}. {}\n", output.display(), package.verdict.headline))?;
    Ok(outcome(results.ok()))
}

fn work_sheet(args: &WorkArgs) -> Run {
    let library = library(args.job.as_deref())?;
    let sheet = named_sheet(&library, &args.sheet)?.clone();
    if let Some(path) = &args.rows {
        let source = Source::new(path.display().to_string(), decode(&read_file(path)?));
        let grid = Grid::read(&source)?;
        let known = args.inputs.iter().map(|input| split_input(input)).collect::<Result<Vec<_>, _>>()?;
        let mut complaints = Complaints::new();
        let mut worked = Vec::new();
        let rows = Rows::new(&grid, &path.display().to_string());
        for row in 0..grid.rows.len() {
            let mut facts = rows.facts(row, |_| true);
            facts.extend(known.iter().cloned());
            match work_alone(&sheet, facts, &library, false) {
                Ok(done) => worked.push(done),
                Err(more) => {
                    complaints.extend(more.into_iter().map(|complaint| complaint.hint(format!("in row {}", row + 2))))
                }
            }
        }
        if !complaints.is_empty() {
            return Err(complaints.into());
        }
        say(&report::rows_csv(&grid, &worked))?;
        return Ok(Outcome::Met);
    }
    let facts = args.inputs.iter().map(|input| split_input(input)).collect::<Result<BTreeMap<_, _>, _>>()?;
    let worked = work_alone(&sheet, facts, &library, true)?;
    say(&if args.json { report::work_json(&worked) } else { report::work_steps(&worked) })?;
    Ok(outcome(all_met(&worked)))
}

fn sheets(args: &SheetsArgs) -> Run {
    if let Some(file) = &args.columns {
        say(&report::column_list(&columns_of(file, &library(args.job.as_deref())?)?))?;
        return Ok(Outcome::Met);
    }
    let Some(name) = &args.name else {
        say(&report::sheet_list(&library(args.job.as_deref())?))?;
        return Ok(Outcome::Met);
    };
    // A name with a dot or a slash is a file of the user's own.
    if name.contains(['/', '.', '\\']) {
        let source = Source::new(name.clone(), decode(&read_file(Path::new(name))?));
        let mut texts = texts(&templates(args.job.as_deref())?);
        texts.retain(|text| {
            !text.source.text.lines().any(|line| source.text.lines().next() == Some(line) && line.starts_with("sheet "))
        });
        texts.push(Text { path: format!("sheets/own/{name}"), source, own: true });
        let library = Library::load(&texts, &package::figure_kinds())?;
        say(&format!("{name} is in order; {} sheets were checked with it\n", library.sheets().count() - 1))?;
        return Ok(Outcome::Met);
    }
    let library = library(args.job.as_deref())?;
    say(&named_sheet(&library, name)?.source.text)?;
    Ok(Outcome::Met)
}

/// The columns of a file or table; all of them without a name.
fn columns_of(file: &str, library: &Library) -> Result<Vec<Column>, Failure> {
    let mut columns = engine::columns(library);
    let wanted = file.trim_end_matches(".csv");
    let known: Vec<String> = columns.iter().map(|column| column.source.clone()).collect();
    match wanted {
        "" => {}
        "job.toml" => columns.retain(|column| engine::is_setting(&column.source)),
        _ => columns.retain(|column| column.source == wanted),
    }
    if columns.is_empty() {
        return Err(Complaint::new(format!("there is no file or table `{file}`"))
            .nearest(wanted, known.iter().map(String::as_str))
            .hint("`socle sheets --columns` prints them all")
            .into());
    }
    Ok(columns)
}

/// A job's files, read and understood.
struct Loaded {
    name: String,
    job: Job,
    /// The worked loads, where the job has a roof.
    loads: Vec<GroupResult>,
    library: Library,
    templates: BTreeMap<String, Vec<u8>>,
    digest: String,
}

/// Files of a job's folder; those that are not there are missed when they are needed.
fn job_files() -> impl Iterator<Item = String> {
    ["job.toml", "posts.csv", REACTIONS].map(String::from).into_iter().chain(CATALOGUES.iter().map(Catalogue::file))
}

fn load(folder: &Path) -> Result<Loaded, Failure> {
    if !folder.is_dir() {
        return Err(Complaint::new(format!("there is no folder `{}`", folder.display()))
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
    let templates = templates(Some(folder))?;
    let library = Library::load(&texts(&templates), &package::figure_kinds())?;
    named_sheet(&library, ROOT)?;
    let mut job = Job::read(&folder.display().to_string(), &files, &engine::known_settings(&library))?;
    let slips = engine::misspelt(&job, &library);
    if !slips.is_empty() {
        return Err(slips.into());
    }
    let loads = engine::derive_loads(&mut job, &library)?;
    let own = templates.own.iter().map(|path| (format!("templates/{path}"), &templates.files[path]));
    let digest = digest(files.iter().map(|(name, bytes)| (name.clone(), bytes)).chain(own));
    let name =
        folder.canonicalize().ok().and_then(|path| path.file_name().map(|name| name.to_string_lossy().into_owned()));
    Ok(Loaded {
        name: name.unwrap_or_else(|| "package".into()),
        job,
        loads,
        library,
        templates: templates.files,
        digest,
    })
}

/// SHA-256 over names, lengths and contents.
fn digest<'a>(files: impl Iterator<Item = (String, &'a Vec<u8>)>) -> String {
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
    Ok((root, results?))
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

/// Templates in use, and which of them are the job's own.
struct Templates {
    files: BTreeMap<String, Vec<u8>>,
    own: Vec<String>,
    /// Where the job's own stand, for complaints.
    folder: String,
    /// The built-in text of a table that the job adds to.
    beneath: BTreeMap<String, Vec<u8>>,
}

fn templates(job: Option<&Path>) -> Result<Templates, Failure> {
    let built_in = embedded::templates().into_iter().map(|(path, bytes)| (path, bytes.to_vec()));
    let mut templates =
        Templates { files: built_in.collect(), own: Vec::new(), folder: String::new(), beneath: BTreeMap::new() };
    let Some(folder) = job.map(|job| job.join("templates")).filter(|folder| folder.is_dir()) else {
        return Ok(templates);
    };
    templates.folder = folder.display().to_string();
    let mut waiting = vec![folder.clone()];
    while let Some(dir) = waiting.pop() {
        for entry in std::fs::read_dir(&dir).map_err(|error| machine(&dir, &error))? {
            let path = entry.map_err(|error| machine(&dir, &error))?.path();
            if path.is_dir() {
                waiting.push(path);
                continue;
            }
            let below = path.strip_prefix(&folder).unwrap_or(&path).to_string_lossy().replace('\\', "/");
            if let Some(built_in) = templates.files.insert(below.clone(), read_file(&path)?) {
                templates.beneath.insert(below.clone(), built_in);
            }
            templates.own.push(below);
        }
    }
    templates.own.sort();
    Ok(templates)
}

/// Sheets and tables as texts; a job's table stands beside the built-in one.
fn texts(templates: &Templates) -> Vec<Text> {
    let mut texts = Vec::new();
    for (path, bytes) in &templates.files {
        let own = templates.own.contains(path);
        if let Some(built_in) = templates.beneath.get(path).filter(|_| path.starts_with("tables/")) {
            texts.push(Text {
                path: path.clone(),
                source: Source::new(format!("templates/{path}"), decode(built_in)),
                own: false,
            });
        }
        let shown = if own { format!("{}/{path}", templates.folder) } else { format!("templates/{path}") };
        texts.push(Text { path: path.clone(), source: Source::new(shown, decode(bytes)), own });
    }
    texts
}

fn library(job: Option<&Path>) -> Result<Library, Failure> {
    Ok(Library::load(&texts(&templates(job)?), &package::figure_kinds())?)
}

fn named_sheet<'a>(library: &'a Library, name: &str) -> Result<&'a Arc<Sheet>, Failure> {
    library.sheet(name).ok_or_else(|| {
        let known: Vec<&str> = library.sheets().map(|sheet| sheet.name.as_str()).collect();
        Complaint::new(format!("there is no sheet `{name}`"))
            .nearest(name, known)
            .hint("`socle sheets` lists them")
            .into()
    })
}

/// `D=3/4 in` as a fact.
fn split_input(input: &str) -> Result<(String, Fact), Complaint> {
    let source = Source::new("command line", input);
    let Some((name, value)) = input.split_once('=') else {
        return Err(Complaint::new(format!("found `{input}`; an input is written `NAME=VALUE`"))
            .at(Place::new(&source, 0..input.len()))
            .hint("a value with a blank in it stands in quotes: D=\"3/4 in\""));
    };
    let fact = Fact {
        text: value.trim().into(),
        unit: None,
        place: Place::new(&source, name.len() + 1..input.len()),
        whence: format!("`{}`", name.trim()).into(),
        comma_decimals: false,
    };
    Ok((name.trim().into(), fact))
}

/// Works a sheet with facts as its inputs. In `strict` runs a fact that is no
/// input is a slip; rows of a file may carry columns of their own.
fn work_alone(
    sheet: &Arc<Sheet>,
    mut facts: BTreeMap<String, Fact>,
    library: &Library,
    strict: bool,
) -> Result<Worked, Complaints> {
    // What a sheet that is used takes from a file is given by its column's name.
    let below: Vec<crate::sheet::Input> = Program::new(library, sheet)?
        .facts
        .into_iter()
        .map(|fact| fact.input)
        .filter(|input| !sheet.inputs.iter().any(|own| own.name == input.name))
        .collect();
    let mut inputs = BTreeMap::new();
    let mut columns: BTreeMap<String, (Bound, Origin)> = BTreeMap::new();
    let mut complaints = Complaints::new();
    let own = sheet.inputs.iter().map(|input| (input, input.name.as_str(), true));
    let others = below.iter().filter_map(|input| Some((input, input.from.as_ref()?.name.as_str(), false)));
    for (input, name, own) in own.chain(others) {
        let Some(fact) = facts.remove(name) else { continue };
        match fact.read(&input.kind) {
            Ok((value, unit)) => {
                let (place, rests) = (Some(fact.place.clone()), Rests::default());
                let bound = Bound { value, unit, varies: false, count: false, given: true, place, rests };
                let given = (bound, Origin::File(fact.whence.to_string()));
                if own {
                    inputs.insert(input.name.clone(), given.clone());
                }
                columns.insert(input.key(), given);
            }
            Err(complaint) => complaints.push(complaint),
        }
    }
    if strict {
        for (name, fact) in &facts {
            let own = sheet.inputs.iter().map(|input| input.name.as_str());
            let known = own.chain(below.iter().filter_map(|input| Some(input.from.as_ref()?.name.as_str())));
            let start = fact.place.span.start.saturating_sub(name.len() + 1);
            complaints.push(
                Complaint::new(format!("the sheet `{}` has no input `{name}`", sheet.name))
                    .at(Place::new(&fact.place.source, start..start + name.len()))
                    .nearest(name, known),
            );
        }
    }
    let absent: Vec<&str> = sheet
        .inputs
        .iter()
        .filter(|input| input.default.is_none() && !inputs.contains_key(&input.name))
        .map(|input| input.name.as_str())
        .collect();
    if complaints.is_empty() && !absent.is_empty() && strict {
        let mut complaint = Complaint::new(format!("the sheet `{}` also needs {}", sheet.name, list(&absent, "and")));
        for input in sheet.inputs.iter().filter(|input| absent.contains(&input.name.as_str())) {
            complaint = complaint.hint(format!("{}: {}, {}", input.name, input.kind, input.say));
        }
        complaints.push(complaint);
    }
    if !complaints.is_empty() {
        return Err(complaints);
    }
    let given = |input: &crate::sheet::Input| columns.get(&input.key()).cloned();
    let missing = |input: &crate::sheet::Input| {
        let (sheet, name) = (&sheet.name, &input.name);
        Some(Complaint::new(format!("the sheet `{sheet}` needs `{name}`: {}, {}", input.kind, input.say)))
    };
    let Work { worked, complaints } =
        work(sheet, inputs, &Context { library, method: sheet.method, facts: &given, missing: &missing });
    if complaints.is_empty() { Ok(worked) } else { Err(complaints) }
}

fn all_met(worked: &Worked) -> bool {
    worked.steps.iter().all(|step| match step {
        Step::Must { verdict, .. } => verdict.ok,
        Step::Use(inner) => all_met(inner),
        _ => true,
    })
}

fn outcome(ok: bool) -> Outcome {
    if ok { Outcome::Met } else { Outcome::NotMet }
}

fn json(value: &impl serde::Serialize) -> Result<Vec<u8>, Failure> {
    serde_json::to_vec(value).map_err(|error| Failure::Machine(error.to_string()))
}

fn machine(path: &Path, error: &std::io::Error) -> Failure {
    Failure::Machine(format!("`{}`: {error}", path.display()))
}

fn read_file(path: &Path) -> Result<Vec<u8>, Failure> {
    std::fs::read(path).map_err(|error| match error.kind() {
        ErrorKind::NotFound => Complaint::new(format!("there is no file `{}`", path.display())).into(),
        _ => machine(path, &error),
    })
}

/// Writes beside the target and renames, so that a package is whole or absent.
fn write(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let attempt = || -> std::io::Result<()> {
        std::fs::create_dir_all(folder)?;
        let mut file = beside(folder)?;
        file.write_all(bytes)?;
        file.persist(path).map_err(|error| error.error)?;
        Ok(())
    };
    attempt().map_err(|error| machine(path, &error))
}

/// A new file that others may read, as far as the user's umask lets them.
#[cfg(unix)]
fn beside(folder: &Path) -> std::io::Result<tempfile::NamedTempFile> {
    use std::os::unix::fs::PermissionsExt;
    tempfile::Builder::new().permissions(std::fs::Permissions::from_mode(0o666)).tempfile_in(folder)
}

#[cfg(not(unix))]
fn beside(folder: &Path) -> std::io::Result<tempfile::NamedTempFile> {
    tempfile::NamedTempFile::new_in(folder)
}

/// Prints to standard output; a reader who has seen enough is no failure.
fn say(text: &str) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            Err(Failure::Machine(format!("standard output: {error}")))
        }
        _ => Ok(()),
    }
}
