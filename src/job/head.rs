//! Reads `job.toml`: who, where and by which code, and the tables that sheets
//! read.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::civil::Date;

use super::answers::Answers;
use super::card::{Card, Revision};
use super::document::{parse, table_place};
use super::fact::Facts;
use super::firm::{Firm, nameless};
use super::keys::{FIRM, Keys, STATED};
use super::known::Known;
use super::loads::LoadSettings;
use super::mapping::Mapping;
use super::starter::Starter;
use crate::diag::{Diagnostic, Diagnostics, Kind::Missing};
use crate::names::visible;
use crate::quantity::Units;
use crate::source::Source;

/// Code bases whose tables and clauses are built in.
const BASES: [&str; 2] = ["IBC 2021", "IRC 2021"];

/// What `job.toml` says.
#[derive(Debug)]
pub struct Head {
    pub card: Card,
    pub revisions: Vec<Revision>,
    pub firm: Option<Firm>,
    pub basis: String,
    /// What the job is printed in.
    pub units: Units,
    pub assumptions: Vec<String>,
    pub loads: LoadSettings,
    pub mapping: Mapping,
    /// Design loads in the words of the job, for the package alone.
    pub stated: Facts,
    pub answers: Answers,
    /// Keys whose values nobody has answered for yet.
    pub starters: Vec<Starter>,
    /// The tables that sheets read.
    pub settings: BTreeMap<String, Facts>,
    /// Table, key and value, as printed in the appendix.
    pub rows: Vec<Vec<String>>,
}

impl Head {
    /// `known` gives the keys of the tables that sheets read; a key that
    /// nobody knows is a slip.
    ///
    /// Everything that is wrong in the file comes with what can be read of it
    /// all the same; nothing can of what is no TOML.
    pub fn read(source: &Arc<Source>, known: &Known) -> (Option<Head>, Diagnostics) {
        let table = match parse(source) {
            Ok(table) => table,
            Err(wrong) => return (None, wrong),
        };
        let mut keys = Keys::read(source, table.get_ref(), known);
        let head = keys.head();
        (Some(head), keys.diagnostics)
    }
}

impl Keys<'_> {
    /// `[firm]`, where there is one.
    fn firm(&mut self) -> Option<Firm> {
        let facts = self.tables.remove(FIRM)?;
        let (firm, wrong) = Firm::read(&facts);
        self.diagnostics.extend(wrong);
        if firm.name.is_empty() {
            let place = facts.get("name").map(|fact| fact.place.clone()).or_else(|| table_place(self.source, FIRM));
            let nameless = nameless();
            self.diagnostics.push(match place {
                Some(place) => nameless.at(place),
                None => nameless,
            });
        }
        Some(firm)
    }

    fn need(&mut self, table: &str, key: &str, hint: &str) -> String {
        match self.tables.get(table).and_then(|facts| facts.get(key)) {
            Some(fact) => {
                if visible(&fact.text).is_empty() {
                    let empty = Diagnostic::new(format!("`{key}` of `[{table}]` is empty")).of(Missing, key).hint(hint);
                    self.diagnostics.push(empty.at(fact.place.clone()));
                }
                fact.text.clone()
            }
            None => {
                let mut diagnostic = Diagnostic::new(format!("`[{table}]` has no `{key}`")).of(Missing, key).hint(hint);
                if let Some(place) = table_place(self.source, table) {
                    diagnostic = diagnostic.at(place);
                }
                self.diagnostics.push(diagnostic);
                String::new()
            }
        }
    }

    fn may(&self, table: &str, key: &str) -> String {
        self.tables.get(table).and_then(|facts| facts.get(key)).map_or(String::new(), |fact| fact.text.clone())
    }

    fn head(&mut self) -> Head {
        let date = self.need("job", "date", "the date that is printed on every page, such as `date = \"2026-11-02\"`");
        let date = match date.parse::<Date>() {
            Ok(date) => date,
            Err(_) => {
                if let Some(fact) = self.tables.get("job").and_then(|facts| facts.get("date")) {
                    self.diagnostics.push(
                        Diagnostic::new(format!("found `{date}`; expected a date such as `2026-11-02`"))
                            .at(fact.place.clone()),
                    );
                }
                Date::constant(2000, 1, 1)
            }
        };
        let card = Card {
            name: self.need("job", "name", "the name that is printed on every page"),
            place: self.need("job", "place", "where the structure stands"),
            number: self.may("job", "number"),
            client: self.may("job", "client"),
            date,
            revision: self.may("job", "revision"),
            prepared_by: self.need("job", "prepared_by", "who prepared the package; somebody else checks it"),
            checked_by: self.may("job", "checked_by"),
        };
        let basis = self.need("code", "basis", "write `basis = \"IBC 2021\"`");
        if !basis.is_empty() && !BASES.contains(&basis.as_str()) {
            let place = self.tables["code"]["basis"].place.clone();
            self.diagnostics.push(
                Diagnostic::new(format!("the code basis `{basis}` is not built in")).at(place).hint(
                    "built in are `IBC 2021` and `IRC 2021`, with ASCE 7-16, NDS 2018, ACI 318-19 and AISC 360-16",
                ),
            );
        }
        let firm = self.firm();
        let units = self.units();
        let loads = self.loads();
        let lists = std::mem::take(&mut self.lists);
        let of = |name: &str| lists.get(name).cloned().unwrap_or_default();
        let get = |row: &BTreeMap<String, String>, key: &str| row.get(key).cloned().unwrap_or_default();
        let revisions = of("revisions");
        let revisions =
            revisions.iter().map(|row| Revision { no: get(row, "no"), date: get(row, "date"), what: get(row, "what") });
        let mut settings = std::mem::take(&mut self.tables);
        let stated = settings.remove(STATED).unwrap_or_default();
        settings.retain(|name, _| self.known.tables.contains_key(name));
        Head {
            card,
            revisions: revisions.collect(),
            firm,
            basis,
            units,
            assumptions: of("assumptions").iter().map(|row| get(row, "text")).collect(),
            loads,
            mapping: std::mem::take(&mut self.mapping),
            stated,
            answers: std::mem::take(&mut self.answers),
            starters: std::mem::take(&mut self.starters),
            settings,
            rows: std::mem::take(&mut self.rows),
        }
    }

    fn units(&mut self) -> Units {
        let Some(fact) = self.tables.get("job").and_then(|facts| facts.get("units")) else { return Units::default() };
        Units::named(&fact.text).unwrap_or_else(|| {
            let message = format!("found `{}`; expected `imperial` or `metric`", fact.text);
            let wrong = Diagnostic::new(message).at(fact.place.clone());
            self.diagnostics.push(
                wrong.hint("it says what the job is printed in; values in the files may have any unit, either way"),
            );
            Units::default()
        })
    }

    fn loads(&mut self) -> LoadSettings {
        let wind = self.may("loads", "wind");
        if !matches!(wind.as_str(), "" | "as given" | "both signs")
            && let Some(fact) = self.tables.get("loads").and_then(|facts| facts.get("wind"))
        {
            self.diagnostics.push(
                Diagnostic::new(format!("found `{wind}`; expected `as given` or `both signs`"))
                    .at(fact.place.clone())
                    .hint("`as given`: each wind case has its own sign; `both signs`: each acts in both directions"),
            );
        }
        LoadSettings { both_signs: wind != "as given", signs: self.may("loads", "signs") }
    }
}
