//! What the worked pages leave behind for the rest of the package: where each
//! formula, limit and clause stands, what was assumed and what was looked up.

use std::collections::{BTreeMap, BTreeSet};

use super::awaited::Awaited;
use super::model::Span;
use crate::engine::Limit;

/// Where lines came to stand, for links and for the index of clauses.
#[derive(Default)]
pub struct Ledger {
    /// Citation to line numbers.
    pub clauses: BTreeMap<String, Vec<String>>,
    /// The line that holds a limit, by path and place in the sheet.
    pub limits: BTreeMap<(String, usize), String>,
    /// Rows that were looked up, by table and keys.
    pub rows: BTreeMap<(String, String), UsedRow>,
    /// Assumptions in the order in which they were met, each once.
    pub assumptions: Vec<(Vec<Span>, String)>,
    pub not_covered: Vec<Vec<Span>>,
    /// The numbers of what was taken where the job gives none, by file and column.
    pub questions: BTreeMap<String, String>,
    /// The numbers of rows that wait to be confirmed, and of decisions.
    pub(super) awaited: Awaited,
    /// Posts that are worked by a sheet of the job's own, by its name.
    pub(super) own_sheets: BTreeMap<String, BTreeSet<usize>>,
    /// Rows of the job's own that were looked up, by table and place.
    pub(super) own_rows: BTreeMap<(String, usize), OwnUse>,
}

/// A row of a table, and the lines that use it.
pub struct UsedRow {
    pub source: String,
    pub recalled: bool,
    pub caution: String,
    pub lines: Vec<String>,
}

/// The lines that use a row of the job's own.
#[derive(Default)]
pub(super) struct OwnUse {
    /// It is read before one of the program.
    pub instead: bool,
    pub lines: Vec<String>,
}

impl Ledger {
    pub(super) fn cite(&mut self, cite: &str, no: &str) {
        if !cite.is_empty() {
            self.clauses.entry(cite.into()).or_default().push(no.into());
        }
    }

    /// The number of an assumption, old or new.
    pub(super) fn assume(&mut self, text: Vec<Span>, cite: &str) -> String {
        let same = |known: &(Vec<Span>, String)| spans_text(&known.0) == spans_text(&text);
        let at = self.assumptions.iter().position(same).unwrap_or_else(|| {
            self.assumptions.push((text.clone(), cite.into()));
            self.assumptions.len() - 1
        });
        format!("A{}", at + 1)
    }

    /// The line of a limit of a group.
    pub fn line_of(&self, limit: &Limit) -> String {
        let key = (limit.path().to_string(), limit.rule().span.start);
        self.limits.get(&key).cloned().unwrap_or_default()
    }
}

pub(super) fn spans_text(spans: &[Span]) -> String {
    let text = spans.iter().map(|span| match span {
        Span::Markup(text) | Span::Text(text) => text.as_str(),
        Span::Math(math) => math.alt.as_str(),
    });
    text.collect()
}
