//! Load combinations: the rows of the code's table, spread over the job's
//! wind and seismic cases and their signs.

use std::collections::{BTreeMap, BTreeSet};

use super::Earthquake;
use super::asked::{Asked, Looked};
use crate::diag::{Checked, Diagnostic, list};
use crate::formula::Value;
use crate::job::{Job, Reaction};
use crate::names::same_name;
use crate::quantity::number;
use crate::sheet::{Library, Method, Published, Table};

#[derive(Clone, Debug)]
pub struct Combination {
    /// `0.6D + 0.6W1`.
    pub name: String,
    pub method: Method,
    /// `ASCE 7-16 2.4.1, 7`.
    pub clause: String,
    /// The set of the table that it is of, which is read as a whole.
    pub set: String,
    /// Factor of each load case.
    pub factors: Vec<(String, f64)>,
    /// Load duration factor of an ASD combination.
    pub c_d: Option<f64>,
    /// The row that it is read from, by its place in the table of these.
    pub duration: Option<usize>,
    /// The overstrength factor of its earthquake, whether or not it is worked with
    /// it; 1 for none.
    pub omega: f64,
    /// The part of D that is the vertical effect of an earthquake.
    e_v: f64,
}

/// What one combination brings to a post's base, in pounds.
pub type Effect = Reaction;

impl Combination {
    /// The part of the effect that an earthquake brings.
    pub fn seismic(&self, reactions: &BTreeMap<String, Reaction>) -> Effect {
        let earthquake = self.seismic_case().map(|(case, factor)| (case.as_str(), *factor));
        summed(earthquake.into_iter().chain([("D", self.e_v)]), reactions)
    }

    /// The dead load in the axial load, without the vertical effect of an earthquake.
    pub fn dead(&self, reactions: &BTreeMap<String, Reaction>) -> f64 {
        let factor: f64 =
            self.factors.iter().filter(|(case, _)| case == "D").map(|(_, factor)| factor - self.e_v).sum();
        factor * reactions.get("D").copied().unwrap_or_default().p
    }

    /// What a sheet reads of a combination under a name, as factors of the nominal
    /// reactions of a post; none for what is no force.
    pub fn terms(&self, name: &str) -> Option<Vec<(String, f64)>> {
        Some(match name {
            "P" | "H_x" | "H_y" | "w_x" | "w_y" | "brace_x_1" | "brace_x_2" | "brace_y_1" | "brace_y_2" => {
                self.factors.clone()
            }
            "P_D" => {
                let dead = self.factors.iter().filter(|(case, _)| case == "D");
                dead.map(|(case, factor)| (case.clone(), factor - self.e_v)).collect()
            }
            "P_E" | "H_x_E" | "H_y_E" => {
                let earthquake = self.seismic_case().cloned();
                let vertical = std::iter::once(("D".to_string(), self.e_v)).filter(|(_, e_v)| *e_v != 0.0);
                earthquake.into_iter().chain(vertical).collect()
            }
            _ => return None,
        })
    }

    /// How much of D, among these terms, grows as the vertical effect of an earthquake does.
    pub fn vertical(&self, name: &str) -> f64 {
        if name == "P_D" { 0.0 } else { self.e_v }
    }

    /// The seismic case in it, with its factor.
    pub fn seismic_case(&self) -> Option<&(String, f64)> {
        self.factors.iter().find(|(case, _)| case.starts_with('E'))
    }

    pub fn effect(&self, reactions: &BTreeMap<String, Reaction>) -> Effect {
        summed(self.factors.iter().map(|(case, factor)| (case.as_str(), *factor)), reactions)
    }
}

fn summed<'a>(factors: impl Iterator<Item = (&'a str, f64)>, reactions: &BTreeMap<String, Reaction>) -> Effect {
    let acting = factors.filter_map(|(case, factor)| Some((factor, reactions.get(case)?)));
    acting.fold(Effect::default(), |sum, (factor, reaction)| sum.plus(factor, reaction))
}

/// The tables that are read here: no sheet names them.
pub const TABLES: [&str; 2] = ["load-combinations", "load-duration"];

/// The edition of ASCE 7 that both built-in code bases, IBC 2021 and IRC 2021,
/// take their combinations from.
const EDITION: &str = "7-16";

/// Every combination of the job's cases, ASD first, in the code's order.
///
/// # Errors
/// A table that they rest on is missing, or has no such factor.
pub fn combinations(
    job: &Job,
    library: &Library,
    earthquake: Option<Earthquake>,
) -> Checked<(Vec<Combination>, Asked)> {
    let [table, durations] = TABLES.map(|name| known_table(library, name));
    let (table, durations) = (table?, self::durations(durations?)?);
    let cases = job.cases();
    let (e_v, e_h) = earthquake.map_or((0.0, 0.0), |earthquake| (earthquake.e_v, earthquake.e_h));
    let omega_of = |case: &str| earthquake.map_or(1.0, |earthquake| earthquake.overstrength_of(case));
    let cantilevers = |case: &str| earthquake.is_some_and(|earthquake| earthquake.cantilevers_in(case));
    let mut known: BTreeSet<String> = BTreeSet::new();
    let mut found: Vec<Combination> = Vec::new();
    let mut asked = Asked::default();
    let mut sets: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for row in table.each() {
        let text = |name: &str| match row.get(name) {
            Some(Value::Text(text)) => text.clone(),
            Some(Value::Quantity(quantity)) => number(quantity.value, 6),
            _ => String::new(),
        };
        if text("edition") != EDITION {
            continue;
        }
        let factor = |name: &str| match row.get(name) {
            Some(Value::Quantity(quantity)) => quantity.value,
            _ => 0.0,
        };
        let set = format!("{EDITION}, {}, {}", text("method"), text("clause"));
        sets.entry(set.clone()).or_default().push(format!("{}: {}", text("no"), set_name(&factor)));
        let basic = if text("method") == "asd" { Method::Asd } else { Method::Strength };
        let clause = format!("ASCE {EDITION} {}, {}", text("clause"), text("no"));
        let here = |case: &&str| factor(case) != 0.0 && cases.iter().any(|known| known == case);
        let dead = ["D"].into_iter().find(here);
        let variable: Vec<&str> = ["L", "Lr", "S", "R"].into_iter().filter(here).collect();
        // Without the earthquake an overstrength combination is a basic one.
        let laterals: Vec<(Method, Option<(String, f64)>)> = match factor("E_mh") {
            0.0 => {
                let acting = laterals(job, &cases, factor("W"), factor("E_h") * e_h).into_iter().map(Some);
                acting.chain([None]).map(|lateral| (basic, lateral)).collect()
            }
            share => {
                let acting = laterals(job, &cases, 0.0, share).into_iter();
                let with = |(case, factor): (String, f64)| {
                    let omega = omega_of(&case);
                    let method = over(basic, cantilevers(&case)).filter(|_| omega > 1.0)?;
                    Some((method, Some((case, factor * omega))))
                };
                acting.filter_map(with).collect()
            }
        };
        // Effects of loads that do not act are investigated too (2.3.1, 2.4.1): a
        // row stands for its sum, and for each without some of its variable loads.
        for left_out in 0..1_u32 << variable.len() {
            let acting = variable.iter().enumerate().filter(|(at, _)| left_out >> at & 1 == 0);
            let acting: Vec<(String, f64)> = acting.map(|(_, case)| (case.to_string(), factor(case))).collect();
            for (method, lateral) in &laterals {
                // The vertical effect is part of the earthquake.
                let e_v = lateral.as_ref().map_or(0.0, |_| factor("E_v") * e_v);
                let dead = dead.map(|dead| (dead.to_string(), factor(dead) + e_v));
                let factors: Vec<(String, f64)> =
                    dead.into_iter().chain(acting.iter().cloned()).chain(lateral.clone()).collect();
                // What another row says already, or one that speaks of loads the
                // job does not have, is nothing new.
                if factors.is_empty() || !known.insert(format!("{method:?} {factors:?}")) {
                    continue;
                }
                let shortest = method.is_asd().then(|| shortest(&factors, &durations));
                let (c_d, duration) = shortest.map_or((None, None), |(c_d, row)| (Some(c_d), row));
                let omega = lateral.as_ref().map_or(1.0, |(case, _)| omega_of(case));
                let (name, clause, set) = (name(&factors), clause.clone(), set.clone());
                found.push(Combination { name, method: *method, clause, set, factors, c_d, duration, omega, e_v });
            }
        }
    }
    found.sort_by_key(|combination| combination.method);
    // A set of combinations is read in the publication as a whole.
    for (name, rows) in sets {
        let source = format!("ASCE {EDITION} {}", name.rsplit(", ").next().unwrap_or_default());
        let doubt = String::new();
        let row = Published { name, values: rows.join("; "), source, doubt, recalled: true };
        asked.read(Looked { table: table.name.clone(), title: table.title.clone(), row });
    }
    let [_, durations] = TABLES;
    let mut read = BTreeSet::new();
    for (at, row) in known_table(library, durations)?.each().enumerate() {
        let of = |case: &String| row.get("case") == Some(&&Value::Text(letter(case).into()));
        // Of two rows the first is read.
        if cases.iter().any(of) && read.insert(format!("{:?}", row.get("case"))) {
            asked.row(durations, at);
        }
    }
    Ok((found, asked))
}

/// The kind of load of a case: `W` of `W1`.
fn letter(case: &str) -> &str {
    if case.starts_with(['W', 'E']) { &case[..1] } else { case }
}

/// The sum that a row of the table stands for.
fn set_name(factor: &dyn Fn(&str) -> f64) -> String {
    let loads = ["D", "L", "Lr", "S", "R", "W", "E_v", "E_h", "E_mh"];
    let factors: Vec<(String, f64)> = loads.iter().map(|load| (load.to_string(), factor(load))).collect();
    name(&factors.into_iter().filter(|(_, factor)| *factor != 0.0).collect::<Vec<_>>())
}

fn known_table<'a>(library: &'a Library, name: &str) -> Checked<&'a Table> {
    library
        .table(name)
        .map(|table| &**table)
        .ok_or_else(|| Diagnostic::new(format!("the table `{name}` is missing")).into())
}

/// C_D by the kind of load and the place of its row, the first of each: a job's own stand
/// first.
fn durations(table: &Table) -> Checked<BTreeMap<String, (f64, usize)>> {
    const KINDS: [&str; 7] = ["D", "L", "Lr", "S", "R", "W", "E"];
    let twice = table.rows_twice(1);
    if !twice.is_empty() {
        return Err(twice);
    }
    let mut found = BTreeMap::new();
    for (at, row) in table.each().enumerate() {
        let case = match row.get("case") {
            Some(Value::Text(case)) => KINDS.into_iter().find(|kind| same_name(kind, case)).ok_or(case.as_str()),
            _ => Err(""),
        };
        let case = case.map_err(|case| {
            Diagnostic::new(format!("the table `load-duration` has a row for `{case}`, which is not a kind of load"))
                .hint(format!("it has a row for each of {}", list(&KINDS, "and")))
        })?;
        match row.get("C_D") {
            Some(Value::Quantity(factor)) if factor.value > 0.0 && factor.value <= 2.0 => {
                found.entry(case.to_string()).or_insert((factor.value, at));
            }
            _ => {
                return Err(Diagnostic::new(format!("the table `load-duration` has no factor for {case}"))
                    .hint("`C_D` is more than 0 and at most 2 (NDS 2018 Table 2.3.2)")
                    .into());
            }
        }
    }
    Ok(found)
}

/// The wind and seismic cases of a row, each with its factor and sign; none for
/// a row that has neither.
fn laterals(job: &Job, cases: &[String], wind: f64, earthquake: f64) -> Vec<(String, f64)> {
    let of = |letter: char, factor: f64, both: &dyn Fn(&String) -> bool| -> Vec<(String, f64)> {
        let named = cases.iter().filter(move |case| case.starts_with(letter));
        named
            .flat_map(|case| {
                let signs: &[f64] = if both(case) { &[1.0, -1.0] } else { &[1.0] };
                signs.iter().map(move |sign| (case.clone(), sign * factor))
            })
            .collect()
    };
    match (wind != 0.0, earthquake != 0.0) {
        // Wind that was worked out has a case of its own for each direction.
        (true, _) => of('W', wind, &|case| job.loads.both_signs && !job.derived.contains(case)),
        (_, true) => of('E', earthquake, &|_| true),
        _ => Vec::new(),
    }
}

/// The overstrength combinations of a method for one direction: for anchors by
/// strength alone, and for all that holds cantilevers at their bases.
fn over(basic: Method, cantilevers: bool) -> Option<Method> {
    match (basic.is_asd(), cantilevers) {
        (true, true) => Some(Method::AsdCantilevers),
        (true, false) => None,
        (false, true) => Some(Method::StrengthCantilevers),
        (false, false) => Some(Method::StrengthAnchors),
    }
}

/// The load duration factor of the shortest load in a combination, with its row.
fn shortest(factors: &[(String, f64)], durations: &BTreeMap<String, (f64, usize)>) -> (f64, Option<usize>) {
    let of = |case: &str| durations.get(letter(case)).map_or((1.0, None), |(c_d, row)| (*c_d, Some(*row)));
    let all = factors.iter().map(|(case, _)| of(case));
    all.reduce(|most, next| if next.0 > most.0 { next } else { most }).unwrap_or((0.0, None))
}

fn name(factors: &[(String, f64)]) -> String {
    let mut name = String::new();
    for (at, (case, factor)) in factors.iter().enumerate() {
        let sign = match (at, *factor < 0.0) {
            (0, false) => "",
            (0, true) => "−",
            (_, false) => " + ",
            (_, true) => " − ",
        };
        let size = if factor.abs() == 1.0 { String::new() } else { number(factor.abs(), 4) };
        name.push_str(&format!("{sign}{size}{case}"));
    }
    name
}
