//! The package as the templates read it: strings that are already rounded,
//! numbered and ordered. The templates lay it out and never calculate.
//!
//! `package.json` holds a [`Package`]; each chapter of worked pages stands in a file
//! of its own (`worked-1.json`, …, a [`Worked`]), and so does the calculation sheet of
//! each group (`sheet-1.json`, …, a [`Calculation`]).

mod appendix;
mod basis;
mod calculation;
mod cover;
mod open;
mod plain;
mod plan;
mod reactions;
mod since;
mod summary;
mod worked;

use serde::Serialize;

pub use crate::typeset::{Math, Shown as Printed};

pub use appendix::{Cited, Clause, InputFile, InputLine, InputTable, Report, TableSource};
pub use basis::{Assumption, Code, OwnFile, OwnRow};
pub use calculation::{Calculation, ForceRow, Reacting, SideFormula, SizeLimit, TopLimit, UnfitLine};
pub use cover::{DesignLoad, Failure, Inspection, JobCard, Revision, TitleBlock, Verdict};
pub use open::{Declared, Open, OpenDecision, OpenDefault, OpenStarters, OpenValue};
pub use plain::{HoldPart, PlainFigure, PlainItem, PlainSheet, PlainValue, ScheduleTable};
pub use plan::{KeyPlan, LoadPath, PlanChanges, RoofPage, RoofRow, Sideways};
pub use reactions::{
    BalanceRow, Case, Combination, CombinationSet, Governing, GroupRef, HandedForce, HandedRow, PagesRef, ReactionRow,
    ReactionTable,
};
pub use since::{Since, SinceInput, SinceLimit, SinceSheet};
pub use summary::{RankedLimit, Ranking, SummaryRow};
pub use worked::{
    Candidate, CandidateRow, ColumnHead, FactItem, FitRow, InputItem, InputRow, LimitRow, Line, LookedUp, LookupRow,
    LowLimit, RatioCell, RatioRow, RatioTable, Row, Section, Side, SkippedRow, ValueRow, Whence, Worked,
};

/// A run of prose. `Markup` comes from a sheet and is evaluated; `Text` comes
/// from a user's file and is printed as it stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Span {
    Markup(String),
    Text(String),
    Math(Math),
}

/// A sentence of the program's own.
#[derive(Debug, Serialize)]
pub struct Words {
    pub text: String,
    pub changed: bool,
}

impl From<String> for Words {
    fn from(text: String) -> Words {
        Words { text, changed: false }
    }
}

#[derive(Debug, Serialize)]
pub struct Package {
    /// Stands in the header or footer of every page.
    pub job: JobCard,
    /// Where the job has a firm, or a title block of its own.
    pub title_block: Option<TitleBlock>,
    /// Program and version.
    pub program: String,
    /// The units at the heads of columns of forces, and of wind on posts.
    pub force: &'static str,
    pub line_load: &'static str,
    /// `sha256:…` over all input files.
    pub digest: String,
    /// The digest of the list of all that the package carries; empty where it carries nothing.
    pub archive: String,
    /// Some row is marked as demonstration data.
    pub demo: bool,
    pub verdict: Verdict,
    pub open: Open,
    pub revisions: Vec<Revision>,
    /// What changed, where it was asked for.
    pub since: Option<Since>,
    /// Design loads as IBC 1603.1 lists them.
    pub design_loads: Vec<DesignLoad>,
    pub inspections: Vec<Inspection>,
    pub codes: Vec<Code>,
    /// A line for posts that are alike, the highest ratio first.
    pub summary: Vec<SummaryRow>,
    pub ranking: Ranking,
    pub plan: KeyPlan,
    pub roof: Option<RoofPage>,
    pub load_path: Option<LoadPath>,
    pub assumptions: Vec<Assumption>,
    /// Sheets and tables of the job itself, which are not part of the program.
    pub own: Vec<OwnFile>,
    /// What this package does not cover, by name.
    pub not_covered: Vec<Words>,
    pub cases: Vec<Case>,
    pub reactions: Vec<ReactionTable>,
    pub combinations: Vec<Combination>,
    /// The same in few lines, and what W and E stand for in them.
    pub combination_sets: Vec<CombinationSet>,
    pub combination_key: String,
    pub governing: Vec<Governing>,
    /// Forces handed to others, the greatest of each group.
    pub handed: Vec<HandedRow>,
    /// How the loads came to be, and what their sums say, in words.
    pub load_model: Words,
    pub equilibrium: Words,
    /// What the posts bring, and what reaches the ground.
    pub balance: Vec<BalanceRow>,
    pub groups: Vec<GroupRef>,
    /// Pages on which loads are worked out, the calculation sheets, and the worked
    /// pages of the posts.
    pub loads: Vec<PagesRef>,
    pub sheets: Vec<PagesRef>,
    pub worked: Vec<PagesRef>,
    pub schedules: Vec<ScheduleTable>,
    pub shop: Vec<PlainSheet>,
    pub field: Vec<PlainSheet>,
    pub inputs: Vec<InputFile>,
    pub reports: Vec<Report>,
    /// Rows of tables that were looked up, with where they come from.
    pub sources: Vec<TableSource>,
    pub clauses: Vec<Cited>,
}
