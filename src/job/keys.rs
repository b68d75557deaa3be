//! The tables and keys of `job.toml` by their one names, with their texts: what is
//! unknown, moved, twice or no text is said.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::civil::Date;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::answers::Answers;
use super::document::as_text;
use super::fact::{Fact, Facts, Whence};
use super::known::Known;
use super::mapping::{CASES, COLUMNS, Mapping};
use super::starter::{Starter, as_typed, unanswered, unmarked};
use crate::diag::{Diagnostic, Diagnostics, Kind::Unreadable, list};
use crate::names::{meant, nearest, same_name};
use crate::quantity::Decimals;
use crate::source::{Place, Source};

/// The names that every `job.toml` can have; sheets add tables of their own.
const TABLES: &[(&str, &[&str])] = &[
    ("job", &["name", "place", "number", "client", "date", "revision", "prepared_by", "checked_by", "units"]),
    (FIRM, &["name", "address", "licence", "logo"]),
    ("code", &["basis"]),
    ("loads", &["wind", "signs", "none", CASES, COLUMNS]),
    (STATED, &["floor", "roof_live", "snow", "wind", "earthquake", "soil", "flood", "special", "rain"]),
];

/// Whose calculations these are, for the title block.
pub(super) const FIRM: &str = "firm";

/// What a job says in words of its design loads, by the items of IBC 1603.1.
pub(super) const STATED: &str = "design_loads";

/// Kinds of load that a job may say it has not.
const ABSENT: [&str; 6] = ["L", "Lr", "S", "R", "W", "E"];

/// What stands in `job.toml` besides tables of one value a key.
const LISTS: [(&str, &str); 4] = [
    ("assumptions", "a list of texts"),
    ("revisions", "written as `[[revisions]]`"),
    ("decisions", "written as `[[decisions]]`"),
    ("confirmed", "written as `[[confirmed]]`"),
];

/// Keys of earlier versions, and where what they said stands now.
const MOVED: [(&str, &str, &str); 7] = [
    (
        "roof",
        "accepted",
        "what an engineer decides goes under `[[decisions]]`, with the name and license of whoever decided it: remove this key, and run `socle check JOB --open`, which prints the blocks to fill in",
    ),
    ("loads", "S_DS", SEISMIC),
    ("loads", "rho", SEISMIC),
    ("site", "S_D1", SEISMIC),
    ("site", "S_1", SEISMIC),
    ("site", "sdc", SEISMIC),
    (
        "site",
        "Omega_0",
        "it belongs to the system of a direction: write it under `[seismic]`, as `Omega_x` for earthquakes along x and `Omega_y` for those along y",
    ),
];

const SEISMIC: &str = "move it to `[seismic]`, where everything about earthquakes goes: S_DS and S_D1 (and S_1), or S_S, S_1 and site_class; sdc and rho follow from them, and are given only where they are to differ";

/// What a `job.toml` holds.
pub(super) struct Keys<'a> {
    pub source: &'a Arc<Source>,
    pub known: &'a Known,
    pub diagnostics: Diagnostics,
    /// Table, key and value, as printed in the appendix.
    pub rows: Vec<Vec<String>>,
    pub tables: BTreeMap<String, Facts>,
    pub answers: Answers,
    pub mapping: Mapping,
    /// Keys whose values nobody has answered for yet.
    pub starters: Vec<Starter>,
    /// `[[revisions]]` and `assumptions`.
    pub lists: BTreeMap<String, Vec<BTreeMap<String, String>>>,
}

impl<'a> Keys<'a> {
    /// `known` gives the keys of the tables that sheets read.
    pub fn read(source: &'a Arc<Source>, root: &DeTable, known: &'a Known) -> Keys<'a> {
        let mut keys = Keys {
            source,
            known,
            diagnostics: Vec::new(),
            rows: Vec::new(),
            tables: BTreeMap::new(),
            answers: Answers::default(),
            mapping: Mapping::default(),
            starters: Vec::new(),
            lists: BTreeMap::new(),
        };
        keys.all(root);
        keys
    }

    fn keys(&self, table: &str) -> Option<Vec<String>> {
        let fixed =
            TABLES.iter().find(|(name, _)| *name == table).map(|(_, keys)| keys.iter().map(|key| key.to_string()));
        let own = self.known.tables.get(table).cloned();
        match (fixed, own) {
            (None, None) => None,
            (fixed, own) => Some(fixed.into_iter().flatten().chain(own.into_iter().flatten()).collect()),
        }
    }

    fn all(&mut self, root: &DeTable) {
        for (name, value) in root {
            let place = Place::new(self.source, name.span());
            let table: &str = name.get_ref();
            match (table, value.get_ref()) {
                ("assumptions", DeValue::Array(items)) => {
                    for item in items.iter() {
                        if let Some((text, typed)) = self.text(item, "", "assumptions") {
                            self.rows.push(vec![String::new(), "assumptions".into(), typed]);
                            self.lists
                                .entry("assumptions".into())
                                .or_default()
                                .push([("text".to_string(), text)].into());
                        }
                    }
                }
                ("revisions", DeValue::Array(items)) => {
                    for item in items.iter() {
                        let Some(revision) = self.revision(item) else { continue };
                        let text =
                            ["no", "date", "what"].map(|key| revision.get(key).cloned().unwrap_or_default()).join(", ");
                        self.rows.push(vec!["revisions".into(), String::new(), text]);
                        self.lists.entry("revisions".into()).or_default().push(revision);
                    }
                }
                ("decisions" | "confirmed", _) => {
                    self.diagnostics.extend(self.answers.read(table, value, self.source).unwrap_or_default());
                }
                (_, DeValue::Table(rows)) => match self.keys(table) {
                    Some(keys) => self.table(table, rows, &keys),
                    None => {
                        self.unknown_table(table, place);
                        // What it holds is not missing.
                        let meant = nearest(table, self.table_names()).map(String::from);
                        if let Some((meant, keys)) =
                            meant.and_then(|meant| Some((self.keys(&meant)?, meant)).map(|(keys, meant)| (meant, keys)))
                            && !root.contains_key(meant.as_str())
                        {
                            self.table(&meant, rows, &keys);
                        }
                    }
                },
                (_, DeValue::Array(all)) if self.keys(table).is_some() => {
                    self.diagnostics.push(
                        Diagnostic::new(format!("`{table}` of `job.toml` must be a single table"))
                            .at(place)
                            .hint(format!("write it once, as `[{table}]`")),
                    );
                    // What it holds is not missing.
                    if let (Some(DeValue::Table(rows)), Some(keys)) =
                        (all.first().map(Spanned::get_ref), self.keys(table))
                    {
                        self.table(table, rows, &keys);
                    }
                }
                _ => {
                    if let Some((_, wanted)) = LISTS.iter().find(|(name, _)| *name == table) {
                        let what = format!("`{table}` of `job.toml` must be {wanted}");
                        self.diagnostics.push(Diagnostic::new(what).at(place));
                        continue;
                    }
                    let unknown = Diagnostic::new(format!("unknown key `{table}` at the top of `job.toml`")).at(place);
                    let tables = self.tables_with(table);
                    self.diagnostics.push(match tables.is_empty() {
                        true => unknown.hint_near(table, LISTS.map(|(name, _)| name)).hint(self.all_tables()),
                        false => unknown.hint(format!("it goes under {}", list(&tables, "or"))),
                    });
                }
            }
        }
    }

    fn unknown(&mut self, key: &Spanned<Cow<str>>, known: &[String], table: &str) {
        let name: &str = key.get_ref();
        let unknown =
            Diagnostic::new(format!("unknown key `{name}` in `[{table}]`")).at(Place::new(self.source, key.span()));
        let (tables, file) = (self.tables_with(name), self.known.file_of(name));
        self.diagnostics.push(match file {
            _ if !tables.is_empty() => unknown.hint(format!("`{name}` goes under {}", list(&tables, "or"))),
            Some(file) => unknown.hint(format!("`{name}` is a column of {file}")),
            None => unknown.nearest(name, known.iter().map(String::as_str)),
        });
    }

    /// The tables that have a key, as a message names them.
    fn tables_with(&self, key: &str) -> Vec<String> {
        let has = |table: &&str| self.keys(table).is_some_and(|keys| keys.iter().any(|known| same_name(known, key)));
        self.table_names().into_iter().filter(has).map(|table| format!("[{table}]")).collect()
    }

    fn table_names(&self) -> Vec<&str> {
        let fixed = TABLES.iter().map(|(name, _)| *name);
        let own = self.known.tables.keys().map(String::as_str);
        fixed.chain(own.filter(|own| !TABLES.iter().any(|(name, _)| name == own))).collect()
    }

    fn unknown_table(&mut self, table: &str, place: Place) {
        let mut unknown = Diagnostic::new(format!("unknown table `[{table}]` in `job.toml`")).at(place);
        unknown = match LISTS.iter().find(|(name, _)| same_name(name, table)) {
            Some((name, how)) => unknown.hint(format!("`{name}` is {how}")),
            None => unknown.hint_near(table, self.table_names()),
        };
        self.diagnostics.push(unknown.hint(self.all_tables()));
    }

    fn all_tables(&self) -> String {
        let tables: Vec<String> = self.table_names().into_iter().map(|name| format!("[{name}]")).collect();
        format!(
            "the tables are {}; and there are `[[revisions]]`, `[[decisions]]` and `[[confirmed]]`",
            list(&tables, "and")
        )
    }

    /// A revision: its number or letter, its date and what was changed.
    fn revision(&mut self, item: &Spanned<DeValue>) -> Option<BTreeMap<String, String>> {
        const KEYS: [&str; 3] = ["no", "date", "what"];
        let DeValue::Table(row) = item.get_ref() else {
            self.diagnostics.push(
                Diagnostic::new("a revision is a table with `no`, `date` and `what`")
                    .at(Place::new(self.source, item.span()))
                    .hint("write `[[revisions]]`, and below it `no = \"A\"`, `date = \"2026-11-02\"` and `what = \"first issue\"`"),
            );
            return None;
        };
        let mut revision = BTreeMap::new();
        for (key, value) in row {
            let Some(name) = self.key(key, &KEYS.map(String::from), "revisions") else { continue };
            let Some((text, _)) = self.text(value, "revisions", &name) else { continue };
            if name == "date" && text.parse::<Date>().is_err() {
                let wrong = Diagnostic::new(format!("found `{text}`; expected a date such as `2026-11-02`"));
                self.diagnostics.push(wrong.at(Place::new(self.source, value.span())));
            }
            if revision.insert(name.clone(), text).is_some() {
                self.twice(key, &name, "revisions");
            }
        }
        for lacks in KEYS.iter().filter(|key| row.iter().all(|(known, _)| !same_name(known.get_ref(), key))) {
            self.diagnostics
                .push(Diagnostic::new(format!("a revision has no `{lacks}`")).at(Place::new(self.source, item.span())));
        }
        Some(revision)
    }

    /// The one name of a key; none for one that is unknown, which is said.
    fn key(&mut self, key: &Spanned<Cow<str>>, known: &[String], table: &str) -> Option<String> {
        let found = meant(key.get_ref(), known.iter().map(String::as_str)).first().map(|name| name.to_string());
        if found.is_none() {
            self.unknown(key, known, table);
        }
        found
    }

    fn twice(&mut self, key: &Spanned<Cow<str>>, name: &str, table: &str) {
        self.diagnostics.push(
            Diagnostic::new(format!("`{name}` appears twice in `[{table}]`"))
                .at(Place::new(self.source, key.span()))
                .hint("keys that differ only in capitals, spaces, hyphens or underscores are the same: leave one out"),
        );
    }

    fn table(&mut self, table: &str, rows: &DeTable, known: &[String]) {
        let mut facts = BTreeMap::new();
        for (key, value) in rows {
            if let Some((.., hint)) = MOVED.iter().find(|(of, old, _)| *of == table && same_name(old, key.get_ref())) {
                let message = format!("`{}` of `[{table}]` is no longer read", key.get_ref());
                let place = Place::new(self.source, key.span());
                self.diagnostics.push(Diagnostic::new(message).at(place).hint(*hint));
                continue;
            }
            let Some(name) = self.key(key, known, table) else { continue };
            let name = name.as_str();
            if let (("loads", "none"), DeValue::Table(none)) = ((table, name), value.get_ref()) {
                self.none(none);
                continue;
            }
            if let ("loads", CASES | COLUMNS) = (table, name) {
                self.names(name, value);
                continue;
            }
            let lines = if (table, name) == (FIRM, "address") { self.lines(value) } else { None };
            let lines = lines.map(|lines| (lines.clone(), lines));
            let Some((text, typed)) = lines.or_else(|| self.text(value, table, name)) else {
                let wrong = self.diagnostics.pop();
                self.diagnostics.extend(wrong.map(|wrong| wrong.of(Unreadable, name)));
                continue;
            };
            let printed = if table == FIRM { typed.trim().replace('\n', ", ") } else { typed };
            self.rows.push(vec![table.into(), name.into(), printed]);
            let fact = Fact {
                text,
                unit: None,
                place: Place::new(self.source, value.span()),
                whence: Whence::new("job.toml", name),
                decimals: Decimals::Point,
            };
            if facts.insert(name.to_string(), fact).is_some() {
                self.twice(key, name, table);
            }
        }
        self.tables.insert(table.into(), facts);
    }

    /// `[loads.none]`: kinds of load that there are not, each with the reason.
    fn none(&mut self, rows: &DeTable) {
        for (key, value) in rows {
            let place = Place::new(self.source, key.span());
            let Some(name) = meant(key.get_ref(), ABSENT).first().copied() else {
                let message = format!("`{}` is not a kind of load that a job can be without", key.get_ref());
                self.diagnostics.push(Diagnostic::new(message).at(place).hint(
                    "the kinds are L, Lr, S, R, W and E; there is always a dead load D, and zeros for a single case go with the reactions",
                ));
                continue;
            };
            let Some((text, typed)) = self.text(value, "loads.none", name) else { continue };
            if text.trim().is_empty() {
                let message = format!("the job does not say why it has no {name}");
                self.diagnostics.push(Diagnostic::new(message).at(place).hint(
                    "write the reason in quotes, such as `L = \"no floor\"`: the cover prints it, and an engineer accepts it",
                ));
            }
            self.rows.push(vec!["loads.none".into(), name.into(), typed]);
            let place = Place::new(self.source, value.span());
            let whence = Whence::new("job.toml", name);
            let fact = Fact { text, unit: None, place, whence, decimals: Decimals::Point };
            if self.answers.none.insert(name.into(), fact).is_some() {
                self.twice(key, name, "loads.none");
            }
        }
    }

    /// `[loads.cases]`, `[loads.columns]`: names of an analysis, and what they are here.
    fn names(&mut self, table: &str, value: &Spanned<DeValue>) {
        let (of, example) = (format!("loads.{table}"), if table == CASES { "Snow\" = \"S" } else { "FZ\" = \"P" });
        let DeValue::Table(rows) = value.get_ref() else {
            let wrong = Diagnostic::new(format!("`{table}` of `[loads]` is a table"));
            let hint = format!("write `[{of}]`, and below it a line for each name, such as `\"{example}\"`");
            self.diagnostics.push(wrong.at(Place::new(self.source, value.span())).hint(hint));
            return;
        };
        for (key, value) in rows {
            let name: &str = key.get_ref();
            let Some((text, typed)) = self.text(value, &of, name) else { continue };
            self.rows.push(vec![of.clone(), name.into(), typed]);
            let places = [key.span(), value.span()].map(|span| Place::new(self.source, span));
            let added = match table {
                CASES => self.mapping.add_case(name, &text, places),
                _ => self.mapping.add_column(name, &text, places),
            };
            self.diagnostics.extend(added.err());
        }
    }

    /// What a key says, and as it was typed; a value that is marked as nobody's
    /// answer is noted.
    fn text(&mut self, value: &Spanned<DeValue>, table: &str, name: &str) -> Option<(String, String)> {
        let place = Place::new(self.source, value.span());
        let Some(typed) = as_text(value, self.source) else {
            let wrong = Diagnostic::new("found a list or a table; expected a text or a number");
            self.diagnostics.push(wrong.at(place));
            return None;
        };
        let (text, marked) = unmarked(&typed);
        if marked && text.is_empty() {
            self.diagnostics.push(unanswered(table, name, self.known).at(place));
            return None;
        }
        if marked {
            let (of, name, value) = (table.into(), name.into(), text.clone());
            self.starters.push(Starter { of, row: String::new(), name, value, posts: None });
        }
        let typed = as_typed(&text, marked);
        Some((text, typed))
    }

    /// A list of texts as the lines of one.
    fn lines(&self, value: &Spanned<DeValue>) -> Option<String> {
        let DeValue::Array(items) = value.get_ref() else { return None };
        let lines: Option<Vec<String>> = items.iter().map(|item| as_text(item, self.source)).collect();
        Some(lines?.join("\n"))
    }
}
