//! What was typed, and its help. Opens nothing.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

use crate::quantity::Units;

/// Checks what holds timber posts to the ground, line by line, and writes
/// a calculation package that an engineer can check, mark up and seal.
#[derive(Debug, Parser)]
#[command(name = "socle", version, max_term_width = 100, after_help = EXIT)]
pub struct Cli {
    #[command(subcommand)]
    pub command: Command,
}

const EXIT: &str = "Exit status: 0 all limits met; 1 calculated, some limit not met, or a check value off; 2 the input or a sheet is wrong; 3 the machine failed.

A package is not for construction until a licensed design professional has reviewed and sealed it.";

#[derive(Debug, Subcommand)]
pub enum Command {
    /// Writes a new job that works, every value of it marked as a starter value
    New(NewArgs),
    /// Checks a job: what governs each post, what is not met, what is open
    Check(CheckArgs),
    /// Tries every base, foundation and anchor of the catalogs for each post, the best first
    Choose(ChooseArgs),
    /// Writes a job's calculation package as a PDF
    Package(PackageArgs),
    /// Says what changed between two states of a job, folders or packages
    Compare(CompareArgs),
    /// Works the job that a package carries again, and compares every value and every page with it
    Reopen(ReopenArgs),
    /// Checks a job and writes its package on every save, and prints what changed
    Watch(WatchArgs),
    /// Works one sheet alone and prints its steps
    Work(WorkArgs),
    /// Lists the sheets or the columns that they read, prints a sheet, or checks one of your own
    Sheets(SheetsArgs),
    /// Works the check values that ship with the program: what it comes to beside what is published
    Validate(ValidateArgs),
    /// Prints what a shell needs to complete commands and options
    Completions(CompletionsArgs),
    /// Writes the manual, a page for each command
    Man(ManArgs),
    /// Sets pages for the program that has started it
    #[command(hide = true, name = APART)]
    Apart,
}

/// What the program starts itself with.
pub const APART: &str = "set-pages-apart";

#[derive(Debug, Args)]
pub struct NewArgs {
    /// The folder to write it into: one that does not exist yet, or is empty
    #[arg(value_name = "DIR")]
    pub folder: PathBuf,
    /// What is built. A porch is on a wood floor, the others on concrete piers
    #[arg(long, value_enum, default_value = "pergola")]
    pub like: Like,
    /// Bases made in a shop, or rated by an evaluation report [default: made for a pergola or carport, rated for a porch
    /// or barn]
    #[arg(long, value_enum)]
    pub base: Option<NewBase>,
    /// Loads are typed in reactions.csv, as a frame analysis prints them, not calculated from a roof
    #[arg(long)]
    pub reactions: bool,
    /// The units that it is written and printed in
    #[arg(long, value_enum, default_value = "imperial")]
    pub units: NewUnits,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Like {
    /// Open slats on knee-braced posts
    Pergola,
    /// A pitched roof on knee-braced posts
    Carport,
    /// A monoslope roof on posts that stand on a wood floor
    Porch,
    /// An open barn: a larger pitched roof without walls
    Barn,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum NewBase {
    Made,
    Rated,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum NewUnits {
    Imperial,
    Metric,
}

impl NewUnits {
    pub fn units(self) -> Units {
        match self {
            NewUnits::Imperial => Units::Imperial,
            NewUnits::Metric => Units::Metric,
        }
    }
}

#[derive(Debug, Args)]
pub struct CompletionsArgs {
    /// The shell
    pub shell: Shell,
}

#[derive(Debug, Args)]
pub struct ManArgs {
    /// The folder for the pages: socle.1, socle-check.1 and so on
    pub folder: PathBuf,
}

#[derive(Debug, Args)]
pub struct CheckArgs {
    /// The job's folder, with job.toml, posts.csv and bases.csv
    pub job: PathBuf,
    /// Print JSON for other programs
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// Print what is open as blocks that can be filled in: decisions, values to confirm, assumed and starter values
    #[arg(long, conflicts_with_all = ["json", "csv"])]
    pub open: bool,
    /// A file of confirmed values that serves all jobs, as `[[confirmed]]` blocks
    #[arg(long, value_name = "FILE")]
    pub confirmed: Option<PathBuf>,
    /// Print CSV: a row for each limit of each post
    #[arg(long)]
    pub csv: bool,
    /// Write the schedules into this folder: posts.csv, and a list of what to order for each trade
    #[arg(long, value_name = "DIR", conflicts_with_all = ["json", "csv", "open"])]
    pub schedules: Option<PathBuf>,
    /// Write a workbook: summary, limits, what is open, schedules and inputs, a sheet each
    #[arg(long, value_name = "FILE.xlsx", conflicts_with_all = ["json", "csv", "open", "schedules"])]
    pub xlsx: Option<PathBuf>,
    /// Print every limit of every post, not only the one that governs it
    #[arg(long, conflicts_with_all = ["json", "csv", "open", "schedules", "xlsx"])]
    pub all: bool,
    /// Print every limit of this post, and what goes together; may be given several times, with or without `--all`
    #[arg(long, value_name = "MARK", conflicts_with_all = ["json", "csv", "open", "schedules", "xlsx"])]
    pub post: Vec<String>,
}

#[derive(Debug, Args)]
pub struct ChooseArgs {
    /// The job's folder, with job.toml, posts.csv and the catalogs
    pub job: PathBuf,
    /// What is best: `ratio`, the lowest demand/capacity ratio; `kinds`, the fewest rows of the catalogs over the
    /// job; or a column of the catalogs, such as `my cost`, the least sum of base, foundation and anchors
    #[arg(long, value_name = "ORDER", default_value = "ratio")]
    pub by: String,
    /// Only this post; may be given several times
    #[arg(long, value_name = "MARK")]
    pub post: Vec<String>,
    /// How many that pass, and how many near misses, to print for each post
    #[arg(long, value_name = "N", default_value_t = 5)]
    pub most: usize,
    /// Print all that pass, all that do not, and what cannot be worked and why
    #[arg(long)]
    pub all: bool,
    /// Print CSV: a row for each post and what was tried for it
    #[arg(long, conflicts_with = "all")]
    pub csv: bool,
    /// Write the best for each post into posts.csv, those cells and nothing else
    #[arg(long, conflicts_with_all = ["csv", "all"])]
    pub write: bool,
    /// A file of confirmed values that serves all jobs, as `[[confirmed]]` blocks
    #[arg(long, value_name = "FILE")]
    pub confirmed: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct PackageArgs {
    /// The job's folder, with job.toml, posts.csv and bases.csv
    pub job: PathBuf,
    /// A file of confirmed values that serves all jobs, as `[[confirmed]]` blocks
    #[arg(long, value_name = "FILE")]
    pub confirmed: Option<PathBuf>,
    /// Work every limit of every post, not only those of half or more
    #[arg(long)]
    pub full: bool,
    /// The job at an earlier revision, its folder or its package: marks in the margin what has changed since, and
    /// lists it
    #[arg(long, value_name = "DIR | PDF")]
    pub since: Option<PathBuf>,
    /// Also write the drawings of the shop and field sheets into this folder, full size: an SVG and a DXF
    /// of each
    #[arg(long, value_name = "DIR")]
    pub drawings: Option<PathBuf>,
    /// Where to write it; `-` is standard output [default: out/NAME.pdf]
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Overwrite a file that is no package, belongs to another job, or was sealed, signed or marked up
    #[arg(long)]
    pub replace: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Exit status: 0 nothing changed; 1 something did; 2 one of them cannot be read or worked.")]
pub struct CompareArgs {
    /// The earlier state: the folder of a job, or a package
    #[arg(value_name = "OLD")]
    pub old: PathBuf,
    /// The later state: the folder of a job, or a package
    #[arg(value_name = "NEW")]
    pub new: PathBuf,
    /// List ratios that moved by more than this
    #[arg(long, value_name = "RATIO", default_value_t = 0.01)]
    pub moved: f64,
    /// A file of confirmed values that serves all jobs, for what is a folder
    #[arg(long, value_name = "FILE")]
    pub confirmed: Option<PathBuf>,
    /// Print JSON for other programs
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
#[command(
    after_help = "Exit status: 0 the package is what its job comes to; 1 something differs or was changed; 2 it is no package, or its job cannot be worked."
)]
pub struct ReopenArgs {
    /// The package, whatever seal, signature or mark-up was added to it
    #[arg(value_name = "PDF")]
    pub package: PathBuf,
    /// Write all that it carries into this folder: one that does not exist yet, or is empty. The job is in `job`
    #[arg(long, value_name = "DIR")]
    pub into: Option<PathBuf>,
    /// Also set its pages where the job has a title block of its own. That is a template, which is run
    #[arg(long)]
    pub title_block: bool,
    /// Print JSON for other programs
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub struct WatchArgs {
    /// The job's folder, with job.toml, posts.csv and bases.csv
    pub job: PathBuf,
    /// A file of confirmed values that serves all jobs, as `[[confirmed]]` blocks
    #[arg(long, value_name = "FILE")]
    pub confirmed: Option<PathBuf>,
    /// Only check: write no package
    #[arg(long)]
    pub no_pdf: bool,
    /// Look at the files from time to time, for a folder that does not tell of saves, as on a network drive
    #[arg(long)]
    pub poll: bool,
    /// Where to write the package [default: out/NAME.pdf]
    #[arg(short, long, value_name = "FILE", conflicts_with = "no_pdf")]
    pub output: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct WorkArgs {
    /// Name of the sheet
    pub sheet: String,
    /// Inputs, such as D="3/4 in" G=0.5
    #[arg(value_name = "NAME=VALUE")]
    pub inputs: Vec<String>,
    /// Print JSON for other programs
    #[arg(long)]
    pub json: bool,
    /// Work it once for each row of a CSV file and print the rows with all symbols appended, `ok` for the row, and
    /// `ratio: WORDS` and `verdict: WORDS` for each limit
    #[arg(long, value_name = "FILE", conflicts_with = "json")]
    pub rows: Option<PathBuf>,
    /// Write the worked sheet as a page of a notebook, a PDF
    #[arg(short, long, value_name = "FILE", conflicts_with_all = ["json", "rows"])]
    pub output: Option<PathBuf>,
    /// The date to print on that page, such as 2026-11-02; without it there is none
    #[arg(long, requires = "output")]
    pub date: Option<String>,
    /// What values are printed in, whatever they were typed in: imperial or metric, the page on letter or A4 paper
    /// [default: imperial]
    #[arg(long, value_parser = Units::NAMES, conflicts_with_all = ["json", "rows"])]
    pub units: Option<String>,
    /// Also use the sheets and tables of this job
    #[arg(long, value_name = "DIR")]
    pub job: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct SheetsArgs {
    /// Print the sheet NAME; check a FILE of your own; list what the job in the folder JOB has of its own; or
    /// `new NAME --job JOB`: begin a sheet of your own, `new title-block` a title block
    #[arg(value_name = "NAME | FILE | JOB | new NAME", num_args = 0..=2)]
    pub what: Vec<String>,
    /// Print the columns that a job can have: all, or those of posts, reactions, bases, foundations, anchors, job.toml or a
    /// table of it, such as roof
    #[arg(long, value_name = "FILE", num_args = 0..=1, default_missing_value = "", conflicts_with = "what")]
    pub columns: Option<String>,
    /// The units of the columns that are printed
    #[arg(long, value_enum, default_value = "imperial", requires = "columns")]
    pub units: NewUnits,
    /// Also use the sheets and tables of this job
    #[arg(long, value_name = "DIR")]
    pub job: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct ValidateArgs {
    /// Only those of this sheet
    pub sheet: Option<String>,
    /// Print every value, with its source, and not only a line for each sheet
    #[arg(long)]
    pub all: bool,
    /// Print JSON for other programs: every value, and what bears on each limit
    #[arg(long, conflicts_with_all = ["all", "csv"])]
    pub json: bool,
    /// Print CSV: a row for each value
    #[arg(long, conflicts_with = "all")]
    pub csv: bool,
    /// Write a verification report, a PDF: method, sources, every value, and the limits that have none
    #[arg(short, long, value_name = "FILE", conflicts_with_all = ["sheet", "all", "json", "csv"])]
    pub output: Option<PathBuf>,
    /// The date to print on that report, such as 2026-11-02; without it there is none
    #[arg(long, requires = "output")]
    pub date: Option<String>,
}
