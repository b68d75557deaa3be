//! The package as the templates read it: strings that are already rounded,
//! numbered and ordered. The templates lay it out and never calculate.
//!
//! `package.json` holds a [`Package`]; each group's worked pages stand in a
//! file of their own (`group-1.json`, …, a [`Group`]), so that a change in one
//! post leaves the other pages as they were.

use serde::Serialize;

use crate::drawing::Drawing;
pub use crate::typeset::{Math, Shown as Printed};

/// A run of prose. `Markup` comes from a sheet and is evaluated; `Text` comes
/// from a user's file and is printed as it stands.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Span {
    Markup(String),
    Text(String),
    Math(Math),
}

#[derive(Debug, Serialize)]
pub struct Package {
    /// Stands in the header or footer of every page.
    pub job: JobCard,
    /// Program and version.
    pub program: String,
    /// The paper is A4, and no letter page.
    pub metric: bool,
    /// The units at the heads of columns of forces, and of wind on posts.
    pub force: &'static str,
    pub line_load: &'static str,
    /// `sha256:…` over all input files.
    pub digest: String,
    /// Some row is marked as demonstration data.
    pub demo: bool,
    pub verdict: Verdict,
    pub open: Open,
    pub revisions: Vec<Revision>,
    pub codes: Vec<Code>,
    pub summary: Vec<SummaryRow>,
    pub plan: Drawing,
    /// What the letters and numbers of the plan stand for.
    pub plan_key: Vec<(String, String)>,
    pub assumptions: Vec<Assumption>,
    /// Sheets and tables of the job itself, which are not part of the program.
    pub own: Vec<OwnFile>,
    /// What this package does not cover, by name.
    pub not_covered: Vec<String>,
    pub cases: Vec<Case>,
    pub combinations: Vec<Combination>,
    /// Forces handed to others, the greatest of each group.
    pub handed: Vec<HandedRow>,
    /// What the posts bring, and what reaches the ground.
    pub balance: Vec<BalanceRow>,
    pub groups: Vec<GroupRef>,
    /// Pages on which loads are worked out, and those for shop and site.
    pub loads: Vec<PagesRef>,
    /// What each line came to for every group: of the loads, and of the posts.
    pub load_values: Vec<ValueTable>,
    pub values: Vec<ValueTable>,
    pub schedules: Vec<ScheduleTable>,
    pub shop: Vec<PlainSheet>,
    pub field: Vec<PlainSheet>,
    pub inputs: Vec<InputFile>,
    pub reports: Vec<Report>,
    /// Rows of tables that were looked up, with where they come from.
    pub sources: Vec<TableSource>,
    pub clauses: Vec<Clause>,
}

#[derive(Debug, Serialize)]
pub struct JobCard {
    pub name: String,
    pub place: String,
    pub number: String,
    pub client: String,
    pub date: String,
    pub revision: String,
    pub prepared_by: String,
    /// Empty when nobody is named yet: a line is left free.
    pub checked_by: String,
}

#[derive(Debug, Serialize)]
pub struct Verdict {
    pub ok: bool,
    /// The sentence that `check` closes with.
    pub headline: String,
    /// One line for each limit that is not met, with its remedy.
    pub failures: Vec<Failure>,
}

#[derive(Debug, Serialize)]
pub struct Failure {
    pub marks: String,
    pub limit: String,
    pub remedy: String,
    /// Number of the line where it stands, e.g. `B2.14`.
    pub line: String,
}

/// What is left to be answered, and what has been.
#[derive(Debug, Serialize)]
pub struct Open {
    pub decisions: Vec<OpenDecision>,
    /// Rows from memory, a table after the other.
    pub values: Vec<OpenValue>,
    pub declared: Vec<Declared>,
    pub assumed: Vec<OpenDefault>,
}

/// What a clause leaves to a licensed engineer.
#[derive(Debug, Serialize)]
pub struct OpenDecision {
    /// `Q1`.
    pub no: String,
    pub what: String,
    pub value: String,
    pub cite: String,
    pub posts: String,
    /// Who decided it, by which licence, when; empty while it is open.
    pub answer: String,
    /// Why an answer that was given does not hold.
    pub why: String,
}

/// A row of a table that was written down from memory.
#[derive(Debug, Serialize)]
pub struct OpenValue {
    pub no: String,
    /// The title of its table.
    pub table: String,
    pub row: String,
    pub values: String,
    pub source: String,
    pub doubt: String,
    /// Who read it in which publication, and when; empty while it is open.
    pub answer: String,
    pub why: String,
}

/// A kind of load that the job says it does not have.
#[derive(Debug, Serialize)]
pub struct Declared {
    /// `L, live load`.
    pub kind: String,
    pub reason: String,
}

/// What was taken for an input that the job does not give.
#[derive(Debug, Serialize)]
pub struct OpenDefault {
    pub no: String,
    /// `site.K_zt`.
    pub input: String,
    pub value: String,
    pub say: String,
    pub posts: String,
}

#[derive(Debug, Serialize)]
pub struct Revision {
    pub no: String,
    pub date: String,
    pub what: String,
}

#[derive(Debug, Serialize)]
pub struct Code {
    pub short: String,
    /// Publication, title, edition.
    pub title: String,
}

#[derive(Debug, Serialize)]
pub struct SummaryRow {
    pub mark: String,
    pub group: usize,
    /// As the order list has it: size, length, wood.
    pub post: String,
    pub base: String,
    /// The governing limit in words, and its sheet's title.
    pub limit: String,
    pub sheet: String,
    pub cite: String,
    pub combination: String,
    /// `"0.664"`; `"–"` for a limit that is not a ratio.
    pub ratio: String,
    /// The same as a number for the bar; none where there is no ratio.
    pub fill: Option<f64>,
    pub ok: bool,
    /// Open questions that the post rests on.
    pub open: usize,
    pub line: String,
    /// Limits met, limits in all.
    pub met: usize,
    pub limits: usize,
}

#[derive(Debug, Serialize)]
pub struct Assumption {
    /// `"A1"`.
    pub no: String,
    pub text: Vec<Span>,
    pub cite: String,
}

#[derive(Debug, Serialize)]
pub struct OwnFile {
    /// Its path in the folder of the job.
    pub file: String,
    pub title: String,
    /// How it stands to what is built in: "in place of the built-in one",
    /// "3 rows added".
    pub stands: String,
    /// The sheets that use it, and the posts that are worked by it.
    pub used: String,
    /// Of a table, the rows that the job reads.
    pub rows: Vec<OwnRow>,
}

#[derive(Debug, Serialize)]
pub struct OwnRow {
    /// Cell by cell, with headings and units.
    pub row: String,
    pub source: String,
    /// "in place of the built-in row", or nothing.
    pub stands: String,
    /// Lines that read it.
    pub lines: Vec<String>,
}

#[derive(Debug, Serialize)]
pub struct Case {
    pub name: String,
    pub what: String,
}

#[derive(Debug, Serialize)]
pub struct Combination {
    pub name: String,
    pub method: String,
    pub clause: String,
    /// Load duration factor; empty for strength combinations.
    pub c_d: String,
}

#[derive(Debug, Serialize)]
pub struct GroupRef {
    pub no: usize,
    pub title: String,
    pub marks: Vec<String>,
    pub file: String,
    /// Nominal reactions, one row a load case, then every combination.
    pub reactions: Vec<ReactionRow>,
    pub combinations: Vec<CombinationRow>,
}

#[derive(Debug, Serialize)]
pub struct PagesRef {
    pub title: String,
    pub file: String,
}

#[derive(Debug, Serialize)]
pub struct ReactionRow {
    pub case: String,
    pub p: String,
    pub h_x: String,
    pub h_y: String,
    /// Wind on the post itself, in pounds a foot.
    pub w_x: String,
    pub w_y: String,
}

#[derive(Debug, Serialize)]
pub struct HandedRow {
    pub marks: Vec<String>,
    pub what: String,
    pub value: String,
    pub combination: String,
}

/// One load case over all posts, in pounds: what roof, beams and posts bring and
/// what the bases hand on, down, along x and along y.
#[derive(Debug, Serialize)]
pub struct BalanceRow {
    pub case: String,
    pub brought: [String; 3],
    pub ground: [String; 3],
}

#[derive(Debug, Serialize)]
pub struct CombinationRow {
    pub name: String,
    pub method: String,
    pub c_d: String,
    pub p: String,
    pub h_x: String,
    pub h_y: String,
    /// Highest ratio among all limits in this combination; `"–"` if none.
    pub ratio: String,
    /// This combination governs some limit of the group.
    pub governs: bool,
    /// This combination holds the group's highest ratio.
    pub highest: bool,
}

#[derive(Debug, Serialize)]
pub struct InputFile {
    pub name: String,
    pub header: Vec<String>,
    /// Rows as read, before any unit was applied.
    pub rows: Vec<Vec<String>>,
}

#[derive(Debug, Serialize)]
pub struct Report {
    pub base: String,
    pub number: String,
    pub date: String,
    pub source: String,
}

#[derive(Debug, Serialize)]
pub struct TableSource {
    pub table: String,
    /// The key that was looked up, e.g. `"Douglas Fir-Larch, No.1, posts"`.
    pub row: String,
    pub source: String,
    /// `"published"` or `"recalled"`.
    pub kind: String,
    pub caution: String,
    /// Lines that use it.
    pub lines: Vec<String>,
}

#[derive(Debug, Serialize)]
pub struct Clause {
    pub cite: String,
    /// Line numbers; each is also a label in the document.
    pub lines: Vec<String>,
}

#[derive(Debug, Serialize)]
pub struct ScheduleTable {
    pub title: String,
    pub header: Vec<String>,
    pub rows: Vec<Vec<String>>,
}

/// A page for the shop or the site.
#[derive(Debug, Serialize)]
pub struct PlainSheet {
    pub title: String,
    /// What is not met of its posts, which puts them on hold; empty where all is met.
    pub hold: Vec<HoldPart>,
    /// Titles of the job's own sheets that say something here.
    pub own: Vec<String>,
    pub facts: Vec<(String, String)>,
    pub figures: Vec<(Vec<Span>, Drawing)>,
    pub values: Vec<PlainValue>,
    pub words: Vec<Vec<Span>>,
}

/// A limit that is not met, where it stands, and for which posts.
#[derive(Debug, Serialize)]
pub struct HoldPart {
    pub marks: String,
    pub limit: String,
    pub line: String,
}

#[derive(Debug, Serialize)]
pub struct PlainValue {
    pub say: Vec<Span>,
    pub value: Printed,
}

/// The worked pages of one group of equal posts: `group-N.json`.
#[derive(Debug, Serialize)]
pub struct Group {
    pub no: usize,
    /// `Group 2: posts A1, A3`, `Shop sheet: posts …`.
    pub title: String,
    pub marks: Vec<String>,
    pub demo: bool,
    /// The post in words, and what it chose: base, foundation, anchors.
    pub facts: Vec<(String, String)>,
    pub verdict: bool,
    /// All limits of the group, those too that stand on pages of another.
    pub limits: Vec<LimitRow>,
    pub sections: Vec<Section>,
}

#[derive(Debug, Serialize)]
pub struct LimitRow {
    /// Where its formula stands.
    pub line: String,
    pub say: Vec<Span>,
    pub ratio: String,
    pub ok: bool,
}

/// Values of up to six groups side by side.
#[derive(Debug, Serialize)]
pub struct ValueTable {
    /// The marks of each group.
    pub columns: Vec<String>,
    pub blocks: Vec<ValueBlock>,
}

/// One use of a sheet.
#[derive(Debug, Serialize)]
pub struct ValueBlock {
    pub title: String,
    /// The sheet comes from the job and not from the program.
    pub own: bool,
    /// `blade/at-seat`: the use, by the names of the sheets above it.
    pub path: String,
    /// For each column; empty if no load enters.
    pub combinations: Vec<String>,
    pub rows: Vec<ValueRow>,
}

#[derive(Debug, Serialize)]
pub struct ValueRow {
    /// The line of its formula; empty for what only enters a sheet.
    pub line: String,
    /// A symbol, or what a limit says.
    pub symbol: Option<Math>,
    pub say: Vec<Span>,
    pub unit: String,
    /// For each column.
    pub cells: Vec<ValueCell>,
}

/// Empty where a group has no such line.
#[derive(Debug, Default, Serialize)]
pub struct ValueCell {
    pub value: String,
    pub note: String,
    /// Where the group is worked by another line than the row's.
    pub line: String,
    pub failed: bool,
}

/// One sheet, worked in one load combination.
#[derive(Debug, Serialize)]
pub struct Section {
    /// 1 for a sheet that the root uses, 2 for one that such a sheet uses, ….
    pub depth: usize,
    pub sheet: String,
    pub title: String,
    /// What of it comes from the job and not from the program: the sheet, rows
    /// of tables. Empty where nothing does.
    pub own: Vec<String>,
    /// `"0.6D + 0.6W1"`; empty if no load enters.
    pub combination: String,
    pub c_d: String,
    pub lines: Vec<Line>,
}

// Lines are built once and written out; their size is nothing to save on.
#[allow(clippy::large_enum_variant)]
#[derive(Debug, Serialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub enum Line {
    Heading {
        text: String,
    },
    Prose {
        spans: Vec<Span>,
    },
    Note {
        spans: Vec<Span>,
    },
    /// What the user's files say of the posts, each with a number of its own.
    Facts {
        file: String,
        items: Vec<FactItem>,
    },
    /// Values that come into a sheet from lines above.
    Inputs {
        items: Vec<InputItem>,
    },
    /// A worked line. `symbolic` is the whole right-hand side in symbols,
    /// `substituted` the same with numbers (absent if nothing to substitute).
    Step {
        no: String,
        say: Vec<Span>,
        /// Empty for the program's own arithmetic.
        cite: String,
        symbol: Math,
        symbolic: Option<Math>,
        substituted: Option<Math>,
        value: Printed,
        /// Units in which symbols enter as plain numbers ("D in in, giving psi").
        raw: String,
    },
    /// A case formula: every case is printed, the taken one is marked.
    Cases {
        no: String,
        say: Vec<Span>,
        cite: String,
        symbol: Math,
        cases: Vec<CaseRow>,
        substituted: Option<Math>,
        value: Printed,
        raw: String,
    },
    /// `least(…)` or `greatest(…)`: every candidate, the governing one named.
    Candidates {
        no: String,
        say: Vec<Span>,
        cite: String,
        symbol: Math,
        /// `"least of"` or `"greatest of"`.
        which: String,
        candidates: Vec<Candidate>,
        value: Printed,
    },
    /// Values looked up in a table.
    Lookup {
        no: String,
        say: Vec<Span>,
        cite: String,
        table: String,
        keys: Vec<(String, String)>,
        values: Vec<LookedUp>,
        /// The rows that the values lie between: `"7.5 °: −0.6, −0.3"`.
        ends: Vec<String>,
        source: String,
        caution: String,
        /// Words for a row of the job's own.
        own: String,
    },
    Figure {
        no: String,
        say: Vec<Span>,
        drawing: Drawing,
    },
    /// What was not taken, in one line.
    Skipped {
        spans: Vec<Span>,
    },
    /// What has to go together, in one line.
    Fit {
        no: String,
        say: Vec<Span>,
        cite: String,
        ok: bool,
        remedy: String,
    },
    Limit {
        no: String,
        say: Vec<Span>,
        cite: String,
        /// `"≤"` or `"≥"`, as written: demand and capacity are in the order
        /// demand, capacity whatever the sign.
        demand: Side,
        capacity: Side,
        /// The limit as written, in symbols.
        symbolic: Math,
        ratio: String,
        fill: Option<f64>,
        ok: bool,
        remedy: String,
        /// "governed by D + S: ratio 0.71", when another combination than
        /// the one printed here governs this limit; else empty.
        elsewhere: String,
    },
}

#[derive(Debug, Serialize)]
pub struct FactItem {
    pub no: String,
    pub symbol: Math,
    pub say: Vec<Span>,
    pub value: Printed,
}

#[derive(Debug, Serialize)]
pub struct InputItem {
    pub symbol: Math,
    pub value: Printed,
    pub from: Whence,
}

/// Where a value comes from: the number of a line (then `link` holds it), or
/// words.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Whence {
    pub words: String,
    pub link: Option<String>,
}

#[derive(Debug, Serialize)]
pub struct CaseRow {
    pub value: Math,
    pub condition: Vec<Span>,
    pub taken: bool,
}

#[derive(Debug, Serialize)]
pub struct Candidate {
    pub symbolic: Math,
    /// Where the candidate is itself a formula, with numbers.
    pub substituted: Option<Math>,
    pub value: Printed,
    pub governs: bool,
}

#[derive(Debug, Serialize)]
pub struct LookedUp {
    pub symbol: Math,
    pub value: Printed,
}

#[derive(Debug, Serialize)]
pub struct Side {
    /// `"demand"` or `"capacity"` in symbols, e.g. `f_c` or `n Z'`.
    pub symbolic: Math,
    pub substituted: Option<Math>,
    pub value: Printed,
}
