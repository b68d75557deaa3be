//! The lines of a job once more, from what walks say that its posts bring.

use std::collections::{BTreeMap, BTreeSet};

use socle::engine::{Derived, PostGrid, Root};
use socle::formula::BinOp::Add;
use socle::job::Job;
use socle::sheet::{Input, Method};

use super::tally::Tally;
use super::{Both, Facts, Known, Value, is_around};
use crate::walk::{Found, Number, Precise};

const SHEETS: [&str; 3] = ["frame-from-start", "frame-from-end", "frame-share"];
const AXES: [&str; 2] = ["x", "y"];

/// The values of a walk by the path of their use and their name.
pub type Walked = BTreeMap<(String, String), Found<Precise>>;

/// What a post brings, by names such as `h` and `W1.P`.
type Brought = BTreeMap<String, Value>;

fn brought(walked: &Walked) -> Brought {
    let known = walked.iter().filter_map(|((path, name), found)| {
        let found = found.as_ref().ok()?.clone();
        match path.strip_prefix("post-loads")?.strip_prefix('/') {
            None => Some((name.clone(), found)),
            Some(case) if !case.contains('/') => Some((format!("{case}.{name}"), found)),
            Some(_) => None,
        }
    });
    known.collect()
}

/// What a line reads of what its posts bring: of the case and the axis, of the case, of the axis, of the post.
fn own<'b>(brings: &'b Brought, name: &str, case: &str, axis: &str) -> Option<&'b Value> {
    let names = [format!("{case}.{name}_{axis}"), format!("{case}.{name}"), format!("{name}_{axis}"), name.into()];
    names.iter().find_map(|name| brings.get(name))
}

/// Holds what the engine makes of each line in each case to the same in many digits.
pub fn compare(
    known: &Known,
    job: &Job,
    grid: &PostGrid,
    derived: &Derived,
    walked: &[Walked],
    of: &str,
    tally: &mut Tally,
) {
    let brought: Vec<Brought> = walked.iter().map(brought).collect();
    let cases: BTreeSet<&String> = derived.shares.iter().flat_map(BTreeMap::keys).collect();
    let roots = SHEETS.map(|sheet| Root::new(job, &known.library, sheet, None).expect("a sheet of a line"));
    for (axis, name) in AXES.into_iter().enumerate() {
        for line in grid.lines(axis) {
            for case in &cases {
                let found = follow(known, &roots, grid, &brought, (axis, line, case), of, tally);
                for (post, found) in line.iter().zip(found) {
                    let share = derived.shares[*post][*case][axis];
                    let size = ["H", "X_1", "X_2"].iter().map(|name| of_line(&found, name).size()).sum::<f64>();
                    let numbers = [share.v, share.p, share.line, share.braces[0], share.braces[1]];
                    for (number, symbol) in numbers.into_iter().zip(["V", "P", "H", "X_1", "X_2"]) {
                        let mut value = of_line(&found, symbol);
                        // Pushes that cancel leave nothing.
                        value.off = value.off.max(1e-12 * size);
                        tally.shares += 1;
                        tally.near(number, &value, &|| format!("{of}, post {post}, {case} along {name}: {symbol}"));
                    }
                }
            }
        }
    }
}

fn of_line(found: &Facts, name: &str) -> Precise {
    match found.get(name) {
        Some(Value::Number(number)) => number.clone(),
        _ => Precise::exact(0.0),
    }
}

/// What the sheets of a line give for each of its posts.
fn follow(
    known: &Known,
    roots: &[Root],
    grid: &PostGrid,
    brought: &[Brought],
    (axis, line, case): (usize, &[usize], &str),
    of: &str,
    tally: &mut Tally,
) -> Vec<Facts> {
    let mut found: Vec<Facts> = vec![Facts::new(); line.len()];
    for root in roots {
        let both = Both::new(known, root);
        let sheet = &root.program.sheet;
        let gives: Vec<&str> = sheet.gives.iter().map(|give| give.name.as_str()).collect();
        let from = |source: &str| -> Vec<(&Input, &str)> {
            let inputs = root.program.facts.iter().map(|fact| &fact.input);
            let inputs = inputs.filter_map(|input| Some((input, input.from.as_ref()?)));
            inputs.filter(|(_, from)| from.source == source).map(|(input, from)| (input, from.name.as_str())).collect()
        };
        let value = |found: &[Facts], no: usize, name: &str| {
            found[no].get(name).or_else(|| own(&brought[line[no]], name, case, AXES[axis])).cloned()
        };
        let places = |no: usize| -> Facts {
            let values = grid.in_line(axis, line[no]).into_iter().map(|(key, value)| {
                let value = match value {
                    socle::formula::Value::Quantity(quantity) => Value::Number(Precise::exact(quantity.value)),
                    value => Value::Name(socle::typeset::value_text(&value)),
                };
                (key, value)
            });
            values.collect()
        };
        let mut sums = Facts::new();
        for (input, name) in from("line").into_iter().filter(|(input, _)| !places(0).contains_key(&input.key())) {
            let terms = (0..line.len()).filter_map(|no| match value(&found, no, name) {
                Some(Value::Number(term)) => Some(term),
                _ => None,
            });
            sums.insert(input.key(), Value::Number(sum(terms)));
        }
        let mut order: Vec<usize> = (0..line.len()).collect();
        if from("after").iter().any(|(_, name)| gives.contains(name)) {
            order.reverse();
        }
        for no in order {
            let mut facts = both.facts(line[no], &root.program.memory());
            facts.extend(places(no));
            facts.extend(sums.clone());
            for (source, at) in [("own", Some(no)), ("before", no.checked_sub(1)), ("after", Some(no + 1))] {
                for (input, name) in from(source) {
                    let there = at.filter(|at| *at < line.len()).and_then(|at| value(&found, at, name));
                    let nothing = || input.kind.dim().map(|_| Value::Number(Precise::exact(0.0)));
                    facts.extend(there.or_else(nothing).map(|value| (input.key(), value)));
                }
            }
            // The program gets the doubles of the same.
            let mut memory = root.program.memory();
            root.set(&mut memory, line[no]);
            for (at, fact) in root.program.facts.iter().enumerate() {
                match facts.get(&fact.input.key()).filter(|_| is_around(&fact.input)) {
                    Some(Value::Number(number)) => root.program.give(&mut memory, at, number.double),
                    Some(Value::Name(name)) => {
                        let name = root.program.encode(&socle::formula::Value::Text(name.clone()));
                        root.program.give(&mut memory, at, name);
                    }
                    _ => {}
                }
            }
            root.program.once_again(&mut memory);
            let of = format!("{of}, {case} along {}, post {}", AXES[axis], line[no]);
            let walk = both.compare(&memory, &facts, Method::Asd, &of, tally);
            for name in &gives {
                let value = walk.values.get(&(sheet.name.clone(), name.to_string()));
                found[no].extend(value.and_then(|value| Some((name.to_string(), value.as_ref().ok()?.clone()))));
            }
        }
    }
    found
}

/// What cancels to twelve digits leaves nothing.
fn sum(terms: impl Iterator<Item = Precise>) -> Precise {
    let none = Precise::exact(0.0);
    let (sum, size) = terms.fold((none.clone(), 0.0), |(sum, size), term| {
        (Precise::arithmetic(Add, &sum, &term).expect("a sum"), size + term.size())
    });
    if sum.double.abs() > 1e-12 * size { sum } else { none }
}
