//! What a program and a walk come to, held to each other.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use socle::formula::BinOp;
use socle::program::{Memory, Program, Symbol};

use super::Value;
use super::tally::Tally;
use crate::walk::{No, Number, Precise, Walk};

/// The symbols by the path of their use and their name; two branches may use one sheet under one name.
pub type Named<'a> = BTreeMap<(&'a str, &'a str), Vec<&'a Symbol>>;

pub fn named(program: &Program) -> Named<'_> {
    let mut symbols = Named::new();
    for symbol in program.symbols() {
        symbols.entry((program.uses[symbol.of].path.as_str(), symbol.name())).or_default().push(symbol);
    }
    symbols
}

/// Every symbol and every limit.
pub fn agree(program: &Program, named: &Named, memory: &Memory, walk: &Walk<Precise>, of: &str, tally: &mut Tally) {
    tally.walks += 1;
    let mut reached = BTreeSet::new();
    for used in program.uses.iter().filter(|used| program.reached(used, memory, Some(walk.method))) {
        *tally.sheets.entry(used.sheet.name.clone()).or_default() += 1;
        reached.insert(used.path.as_str());
    }
    if !reached.into_iter().eq(walk.reached.iter().map(String::as_str)) {
        tally.wrong(format!("{of}: the program and the walk reach other sheets"));
    }
    // Both are in the order of paths and names.
    let mut walked = walk.values.iter().peekable();
    for ((path, name), symbols) in named {
        let numbers = symbols.iter().map(|symbol| program.number(symbol, memory));
        let numbers: Vec<f64> = numbers.filter(|number| !number.is_nan()).collect();
        let told = || format!("{of}: `{name}` of {path}");
        let is_elsewhere = || walk.elsewhere.iter().any(|other| is_below(path, other));
        let at = |key: &(String, String)| (key.0.as_str(), key.1.as_str()).cmp(&(*path, *name));
        while let Some((key, found)) = walked.next_if(|(key, _)| at(key).is_lt()) {
            // What is renamed on a page is no symbol.
            if found.is_ok() && !key.1.contains('.') && !walk.on_page.contains(key) {
                tally.wrong(format!("{of}: the program has no `{}` of {}", key.1, key.0));
            }
        }
        let found = walked.next_if(|(key, _)| at(key).is_eq());
        match found.map(|(_, found)| found) {
            Some(Err(No::Elsewhere)) => {}
            None if is_elsewhere() => {}
            None | Some(Err(No::Missing)) if numbers.is_empty() => {}
            Some(Ok(Value::Number(value))) if numbers.len() == 1 => tally.number(numbers[0], value, &told),
            Some(Ok(Value::Name(value))) if numbers.len() == 1 => {
                tally.names += 1;
                let number = program.texts().find(value).map_or(f64::NAN, f64::from);
                if number != numbers[0] {
                    tally.wrong(format!("{} is not {value}", told()));
                }
            }
            // Dates are only compared.
            Some(Ok(Value::Date(_))) => {}
            found => tally.wrong(format!("{} is {numbers:?}, in the walk {found:?}", told())),
        }
    }
    let mut limits = 0;
    for limit in &program.limits {
        let Some(outcome) = program.outcome(limit, memory, Some(walk.method)) else { continue };
        let path = &program.uses[limit.of].path;
        let told = || format!("{of}: {} of {path}", limit.rule.say);
        let Some((ok, sides)) = walk.outcomes.get(&(path.clone(), Arc::as_ptr(&limit.rule))) else {
            tally.wrong(format!("{} is not met with in the walk", told()));
            continue;
        };
        limits += 1;
        if *ok != outcome.ok {
            tally.wrong(format!("{} is met: {}, in the walk: {ok}", told(), outcome.ok));
        }
        match (outcome.sides, sides) {
            (Some(numbers), Some([demand, capacity])) => {
                tally.number(numbers[0], demand, &told);
                tally.number(numbers[1], capacity, &told);
                if numbers[1] > 0.0
                    && let Some(ratio) = Precise::arithmetic(BinOp::Div, demand, capacity)
                {
                    tally.ratios += 1;
                    tally.number(numbers[0] / numbers[1], &ratio, &told);
                }
            }
            (None, None) => {}
            _ => tally.wrong(format!("{} has two sides in one of both", told())),
        }
    }
    if limits != walk.outcomes.len() {
        tally.wrong(format!("{of}: {limits} limits, in the walk {}", walk.outcomes.len()));
    }
    tally.limits += limits;
}

/// Whether a use of a sheet is another one or stands in it.
fn is_below(path: &str, other: &str) -> bool {
    path.strip_prefix(other).is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
}
