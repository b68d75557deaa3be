//! `[loads.cases]` and `[loads.columns]` of `job.toml`: what an analysis calls its load
//! cases and the columns of its reactions, and what these are called here.

use std::collections::BTreeSet;

use super::loadlike::guess;
use super::loads::{PARTS, WIND, case_of, column_of, no_case};
use crate::diag::{Diagnostic, list};
use crate::grid::Column;
use crate::names::{meant, turned, visible};
use crate::source::Place;

/// A name of the analysis.
#[derive(Clone, Debug)]
pub struct Alias {
    /// As the analysis writes it.
    pub typed: String,
    /// The load case, or the column of `reactions.csv`.
    pub name: String,
    /// The numbers of this column have the other sign here.
    pub turned: bool,
    place: Place,
}

#[derive(Debug, Default)]
pub struct Mapping {
    pub cases: Vec<Alias>,
    pub columns: Vec<Alias>,
}

/// The tables below `[loads]` that map names.
pub const CASES: &str = "cases";
pub const COLUMNS: &str = "columns";

/// The columns of `reactions.csv` that are no part of a reaction.
pub const NAMING: [&str; 2] = ["mark", "case"];

/// What two names of an analysis have to differ in: signs tell `Vent +X` from `Vent -X`.
fn label(text: &str) -> String {
    visible(text).split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// The columns of `reactions.csv`.
pub fn columns_of_reactions() -> Vec<&'static str> {
    NAMING.into_iter().chain(PARTS.map(|(part, _)| part)).collect()
}

/// A line of one of the tables, as it is written in `job.toml`.
pub fn line(typed: &str, name: &str) -> String {
    format!("{} = \"{name}\"", toml::Value::String(visible(typed)))
}

impl Mapping {
    /// Adds a line: `typed` is `name` here. `places` are those of the two.
    ///
    /// # Errors
    /// `name` is no load case; `typed` is another one here already; either stands in
    /// another line.
    pub fn add_case(&mut self, typed: &str, name: &str, places: [Place; 2]) -> Result<(), Diagnostic> {
        let [place, there] = places;
        let Some(name) = case_of(name) else { return Err(no_case(name).at(there)) };
        let winds = |own: &str| own.starts_with('W') && name.starts_with('W');
        if let Some(own) = case_of(typed).filter(|own| *own != name && !winds(own)) {
            let what = format!("`{typed}` is the load case {own} here, and cannot be {name}");
            return Err(Diagnostic::new(what)
                .at(place)
                .hint("give the case another name in the analysis, and map that"));
        }
        let alias = Alias { typed: visible(typed), name, turned: false, place };
        let alone = "load cases are not added up here: combine the two in the analysis, each with the factor 1, and export the combination";
        add(&mut self.cases, alias, CASES, alone)
    }

    /// The same for a column of `reactions.csv`. A minus before `typed` or before `name`
    /// turns the sign of its numbers.
    ///
    /// # Errors
    /// As for a case; only the sign of a force can be turned, and by one minus.
    pub fn add_column(&mut self, typed: &str, name: &str, places: [Place; 2]) -> Result<(), Diagnostic> {
        let [place, there] = places;
        let known = columns_of_reactions();
        let (heading, other) = (visible(typed), turned(name));
        let behind = turned(&heading);
        let turned = behind.is_some() != other.is_some();
        let idle = (behind.is_some() && other.is_some()).then(|| {
            let what = format!("`{heading}` and `{name}` both have a minus, and the sign would stay as it is");
            Diagnostic::new(what).at(there.clone()).hint("write one minus to turn the sign, and none to keep it")
        });
        let minus = if other.is_some() { name } else { typed };
        let (heading, name) = (behind.unwrap_or(heading), other.as_deref().unwrap_or(name));
        // A post is what its mark names.
        let wanted = if label(name) == "post" { "mark" } else { name };
        let Some(name) = meant(wanted, known.iter().copied()).first().copied() else {
            return Err(Diagnostic::new(format!("`{name}` is not a column of `reactions.csv`")).at(there).hint(
                format!(
                    "its columns are {}: the mark of the post, the load case and what it brings",
                    list(&known, "and")
                ),
            ));
        };
        let signless = (turned && !PARTS[..WIND].iter().any(|(part, _)| *part == name)).then(|| {
            let what = format!("the minus of `{minus}` would turn the sign of `{name}`, which has none");
            Diagnostic::new(what).at(place.clone()).hint("a minus goes with a heading that is P, H_x or H_y")
        });
        if let Some(own) = meant(&heading, known.iter().copied()).first().filter(|own| **own != name) {
            let what = format!("`{heading}` is the column `{own}` here, and cannot be `{name}`");
            return Err(Diagnostic::new(what).at(place).hint("give the column another heading, and map that"));
        }
        let alias = Alias { typed: heading, name: name.into(), turned, place };
        add(&mut self.columns, alias, COLUMNS, "one column of the file holds it: leave the other line out")?;
        // What the heading is, is said all the same.
        idle.or(signless).map_or(Ok(()), Err)
    }

    pub fn is_empty(&self) -> bool {
        self.cases.is_empty() && self.columns.is_empty()
    }

    /// The one name of a load case, by what the analysis calls it or by a name of ours.
    pub fn case(&self, typed: &str) -> Option<String> {
        let mapped = self.cases.iter().find(|alias| label(&alias.typed) == label(typed));
        mapped.map(|alias| alias.name.clone()).or_else(|| case_of(typed))
    }

    /// What a heading of `reactions.csv` is.
    pub fn column(&self, heading: &Column) -> Option<&Alias> {
        let is =
            |alias: &&Alias| [&heading.name, &heading.cell.text].iter().any(|text| label(text) == label(&alias.typed));
        self.columns.iter().find(is)
    }

    /// The column of `posts.csv` that a heading stands for: `P_S` of `P_Neige`.
    pub fn load_column(&self, heading: &str) -> Option<String> {
        let found = self.cases.iter().flat_map(|alias| (0..PARTS.len()).map(move |part| (part, alias)));
        let mut found = found.filter(|(part, alias)| headings(*part, alias).contains(&label(heading)));
        found.next().map(|(part, alias)| column_of(part, &alias.name))
    }

    /// The names under which columns stand in an export, each with its own first.
    pub fn sought<'a>(&'a self, columns: &[&'a str]) -> Vec<Vec<&'a str>> {
        let names = |column: &&'a str| {
            let mapped = self.columns.iter().filter(|alias| alias.name == *column).map(|alias| alias.typed.as_str());
            std::iter::once(*column).chain(mapped).collect()
        };
        columns.iter().map(names).collect()
    }

    /// Notes of names that stand nowhere: not among the `cases` and headings of the reactions,
    /// or the headings of the posts, `loads`.
    pub fn idle(
        &self,
        cases: &BTreeSet<String>,
        loads: &BTreeSet<String>,
        columns: &BTreeSet<String>,
    ) -> Vec<Diagnostic> {
        let has = |texts: &BTreeSet<String>, name: &str| texts.iter().any(|text| label(text).starts_with(&label(name)));
        let used = |alias: &&Alias| {
            cases.iter().any(|case| label(case) == label(&alias.typed))
                || (0..PARTS.len()).any(|part| headings(part, alias).iter().any(|heading| has(loads, heading)))
        };
        let note = |alias: &Alias, what: &str| {
            Diagnostic::new(format!("no {what} is called `{}`, which is {} here", alias.typed, alias.name))
                .at(alias.place.clone())
        };
        let idle = self.cases.iter().filter(|alias| !used(alias)).map(|alias| note(alias, "load case"));
        let of_file = self.columns.iter().filter(|alias| !has(columns, &alias.typed));
        idle.chain(of_file.map(|alias| note(alias, "column of `reactions.csv`"))).collect()
    }

    /// In words, for who checks the reactions: `Neige is S`.
    pub fn said(&self) -> Vec<String> {
        let turned = |alias: &Alias| if alias.turned { " with the other sign" } else { "" };
        let all = self.columns.iter().chain(&self.cases);
        all.map(|alias| format!("{} is {}{}", alias.typed, alias.name, turned(alias))).collect()
    }
}

/// How a column of `posts.csv` for a case of the analysis may be headed.
fn headings(part: usize, alias: &Alias) -> [String; 2] {
    ["_", " "].map(|joint| label(&format!("{}{joint}{}", PARTS[part].0, alias.typed)))
}

/// Adds a name that is in no other line; `alone` says why two are not one.
fn add(all: &mut Vec<Alias>, alias: Alias, table: &str, alone: &str) -> Result<(), Diagnostic> {
    if alias.typed.is_empty() {
        return Err(Diagnostic::new(format!("a name in `[loads.{table}]` is empty")).at(alias.place));
    }
    if all.iter().any(|known| label(&known.typed) == label(&alias.typed)) {
        return Err(Diagnostic::new(format!("`{}` appears twice in `[loads.{table}]`", alias.typed))
            .at(alias.place)
            .hint("names that differ only in capitals or spaces are the same: leave one out"));
    }
    if let Some(known) = all.iter().find(|known| known.name == alias.name) {
        let what = format!("`{}` and `{}` are both {} in `[loads.{table}]`", known.typed, alias.typed, alias.name);
        return Err(Diagnostic::new(what).at(alias.place).hint(alone));
    }
    all.push(alias);
    Ok(())
}

/// Words of analyses, English, French and German, for what is called otherwise here; of
/// what is nearly certain alone.
const WORDS: [(&str, &str); 26] = [
    ("node", "mark"),
    ("nœud", "mark"),
    ("noeud", "mark"),
    ("knoten", "mark"),
    ("joint", "mark"),
    ("support", "mark"),
    ("appui", "mark"),
    ("case", "case"),
    ("cas", "case"),
    ("lc", "case"),
    ("lastfall", "case"),
    ("dead", "D"),
    ("poids", "D"),
    ("permanent", "D"),
    ("permanente", "D"),
    ("permanentes", "D"),
    ("eigengewicht", "D"),
    ("live", "L"),
    ("exploitation", "L"),
    ("snow", "S"),
    ("neige", "S"),
    ("schnee", "S"),
    ("wind", "W1"),
    ("vent", "W1"),
    ("rain", "R"),
    ("pluie", "R"),
];

/// What a word of an analysis is likely to be here.
pub fn likely(typed: &str) -> Option<&'static str> {
    let label = label(typed);
    let words = label.split(|c: char| !c.is_alphanumeric()).collect::<Vec<_>>();
    WORDS.iter().find(|(word, _)| words.contains(word)).map(|(_, name)| *name)
}

/// The line that says what a column of the reactions is; none where nothing tells.
pub fn likely_line(heading: &str) -> Option<String> {
    let name = likely(heading).filter(|name| NAMING.contains(name)).map(String::from);
    let name = name.or_else(|| guess(heading).map(|guess| guess.reaction()).filter(|name| !name.contains(' ')));
    name.map(|name| line(heading, name.trim_matches('`')))
}
