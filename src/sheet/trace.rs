//! Which inputs of a sheet a symbol comes from, through the formulas, tables
//! and sheets between them.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::Library;
use super::tree::{Sheet, Stmt, Use};

/// The inputs that some symbols of a sheet come from, nearest first.
pub fn inputs<'a>(library: &Library, sheet: &Sheet, symbols: impl IntoIterator<Item = &'a str>) -> Vec<String> {
    let (mut rules, mut uses): (BTreeMap<&str, Vec<&str>>, BTreeMap<&str, &Use>) = (BTreeMap::new(), BTreeMap::new());
    sheet.walk(&mut |stmt| match stmt {
        Stmt::Let(rule) => {
            let of = rules.entry(&rule.name).or_default();
            for case in &rule.cases {
                of.extend(case.value.symbols());
                of.extend(case.when.iter().flat_map(|when| when.symbols()));
            }
        }
        Stmt::Take(rule) => {
            for (name, ..) in &rule.names {
                rules.entry(name).or_default().extend(rule.keys.iter().flat_map(|(key, _)| key.symbols()));
            }
        }
        Stmt::Use(rule) => drop(uses.insert(&rule.name, rule)),
        _ => {}
    });
    let mut found = Vec::new();
    let mut queue: VecDeque<String> = symbols.into_iter().map(String::from).collect();
    let mut met: BTreeSet<String> = BTreeSet::new();
    while let Some(symbol) = queue.pop_front() {
        if !met.insert(symbol.clone()) {
            continue;
        }
        if sheet.input(&symbol).is_some() {
            found.push(symbol);
        } else if let Some(of) = rules.get(symbol.as_str()) {
            queue.extend(of.iter().map(|name| name.to_string()));
        } else if let Some((name, inner)) = symbol.split_once('.')
            && let Some(rule) = uses.get(name)
            && let Some(below) = library.sheet(&rule.sheet)
        {
            queue.extend(passed(rule, &inputs(library, below, [inner])));
        }
    }
    found
}

/// The symbols that are passed to inputs of a sheet that is used.
fn passed(rule: &Use, inputs: &[String]) -> Vec<String> {
    let args = inputs.iter().filter_map(|input| rule.args.iter().find(|(name, ..)| name == input));
    args.flat_map(|(.., expr)| expr.symbols()).map(String::from).collect()
}

/// The inputs of a sheet that inputs of one that it uses come from.
pub fn above(library: &Library, sheet: &Sheet, rule: &Use, inputs_below: &[String]) -> Vec<String> {
    let passed = passed(rule, inputs_below);
    inputs(library, sheet, passed.iter().map(String::as_str))
}
