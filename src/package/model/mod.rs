//! The package as the templates read it: strings that are already rounded,
//! numbered and ordered. The templates lay it out and never calculate.
//!
//! `package.json` holds a [`Package`]; each chapter of worked pages stands in a file
//! of its own (`kind-1.json`, …, a [`Worked`]), and so does the calculation sheet of
//! each group (`sheet-1.json`, …, a [`Calculation`]).

mod appendix;
mod basis;
mod calculation;
mod cover;
mod open;
mod plain;
mod plan;
mod reactions;
mod summary;
mod worked;

use serde::Serialize;

pub use crate::typeset::{Math, Shown as Printed};

pub use appendix::{Clause, InputFile, Report, TableSource};
pub use basis::{Assumption, Code, OwnFile, OwnRow};
pub use calculation::{Calculation, ForceRow, TopLimit};
pub use cover::{Failure, JobCard, Revision, Verdict};
pub use open::{Declared, Open, OpenDecision, OpenDefault, OpenValue};
pub use plain::{HoldPart, PlainSheet, PlainValue, ScheduleTable};
pub use plan::{HandedRow, KeyPlan, LoadPath, RoofPage, RoofRow, Sideways};
pub use reactions::{BalanceRow, Case, Combination, CombinationRow, GroupRef, PagesRef, ReactionRow};
pub use summary::SummaryRow;
pub use worked::{
    Candidate, CandidateRow, ColumnHead, FactItem, FitRow, InputItem, InputRow, LimitRow, Line, LookedUp, LookupRow,
    LowLimit, Row, Section, Side, SkippedRow, ValueRow, Whence, Worked,
};

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
    pub plan: KeyPlan,
    pub roof: Option<RoofPage>,
    pub load_path: Option<LoadPath>,
    pub assumptions: Vec<Assumption>,
    /// Sheets and tables of the job itself, which are not part of the program.
    pub own: Vec<OwnFile>,
    /// What this package does not cover, by name.
    pub not_covered: Vec<String>,
    pub cases: Vec<Case>,
    pub combinations: Vec<Combination>,
    /// Forces handed to others.
    pub handed: Vec<HandedRow>,
    /// What the posts bring, and what reaches the ground.
    pub balance: Vec<BalanceRow>,
    pub groups: Vec<GroupRef>,
    /// Pages on which loads are worked out, the calculation sheets, and the worked
    /// pages of each kind of base and foundation.
    pub loads: Vec<PagesRef>,
    pub sheets: Vec<PagesRef>,
    pub kinds: Vec<PagesRef>,
    pub schedules: Vec<ScheduleTable>,
    pub shop: Vec<PlainSheet>,
    pub field: Vec<PlainSheet>,
    pub inputs: Vec<InputFile>,
    pub reports: Vec<Report>,
    /// Rows of tables that were looked up, with where they come from.
    pub sources: Vec<TableSource>,
    pub clauses: Vec<Clause>,
}
