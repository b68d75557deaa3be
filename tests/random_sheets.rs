//! Random sheets, worked by the compiled program and by a plain walk over their
//! trees: the same to the last bit.

mod texts;

use std::cell::Cell;
use std::collections::BTreeMap;
use std::fmt;

use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use socle::formula::Kind;
use socle::program::{Fact, Held, Memory, Program};
use socle::sheet::{Library, Method, Text};
use socle::source::Source;

use crate::walk::{Found, No, Table, Walk};
use texts::{Draw, texts};

type Value = crate::walk::Value<f64>;

/// Two posts, and for each these combinations in one memory.
const RUNS: [Method; 5] = [Method::Asd, Method::Strength, Method::Strength, Method::Asd, Method::Asd];

/// Some of them are in the table `marks`, in capitals or not.
const GRADES: [&str; 4] = ["No.1", "no.1", "NO.2", "elsewhere"];

/// Sheets and tables by their path, and what their facts are drawn from.
struct Case {
    texts: BTreeMap<String, String>,
    facts: Vec<u16>,
}

impl fmt::Debug for Case {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        for (path, text) in &self.texts {
            writeln!(f, "--- {path}\n{text}")?;
        }
        write!(f, "--- facts {:?}", self.facts)
    }
}

fn cases() -> impl Strategy<Value = Case> {
    let numbers = |many| prop::collection::vec(any::<u16>(), 0..many);
    (numbers(700), numbers(200)).prop_map(|(sheets, facts)| Case { texts: texts(&sheets), facts })
}

/// How much was compared.
#[derive(Default)]
struct Tally {
    symbols: Cell<usize>,
    values: Cell<usize>,
    limits: Cell<usize>,
    unreached: Cell<usize>,
    sound: Cell<usize>,
    runs: Cell<usize>,
}

fn add(to: &Cell<usize>, many: usize) {
    to.set(to.get() + many);
}

#[test]
fn random_sheets_come_to_the_same_bits_by_the_program_and_by_a_walk_over_their_trees() {
    let config = Config { failure_persistence: None, max_shrink_iters: 20_000, ..crate::support::cases(1_000) };
    let tally = Tally::default();
    let result = TestRunner::new(config).run(&cases(), |case| check(&case, &tally).map_err(TestCaseError::fail));
    if let Err(error) = result {
        panic!("{error}");
    }
    let Tally { symbols, values, limits, unreached, sound, runs } = tally;
    let [symbols, values, limits, unreached, sound, runs] =
        [symbols, values, limits, unreached, sound, runs].map(Cell::into_inner);
    println!(
        "{symbols} symbols compared, {values} with a value; {limits} limits; {unreached} uses not reached; \
         {sound} of {runs} posts without a fault"
    );
    assert!(symbols > 50_000 && values * 3 > symbols && limits > 1_000 && unreached > 500, "too little was compared");
    assert!(sound * 20 > runs && sound < runs, "{sound} of {runs}");
}

fn check(case: &Case, tally: &Tally) -> Result<(), String> {
    let text = |(path, text): (&String, &String)| Text {
        path: path.clone(),
        source: Source::new(path.clone(), text.clone()),
        own: false,
    };
    let said =
        |wrong: socle::diag::Diagnostics| format!("{:#?}", wrong.iter().map(|one| &one.message).collect::<Vec<_>>());
    let library = Library::load(&case.texts.iter().map(text).collect::<Vec<_>>(), Some(&[])).map_err(said)?;
    let sheet = library.sheet("whole").expect("the sheet that uses the others").clone();
    let mut program = Program::new(&library, &sheet).map_err(said)?;
    GRADES.iter().for_each(|name| program.learn(name));
    let tables = case.texts.iter().filter_map(|(path, text)| {
        let name = path.strip_prefix("tables/")?.strip_suffix(".csv")?;
        Some((name.to_string(), Table::read(text)))
    });
    let tables: BTreeMap<String, Table<f64>> = tables.collect();
    let mut draw = Draw::new(&case.facts);
    let mut memory = program.memory();
    for _ in 0..2 {
        program.clear(&mut memory);
        let mut facts = BTreeMap::new();
        set(&program, false, &mut draw, &mut memory, &mut facts);
        program.run_once(&mut memory);
        let mut faulty = false;
        for method in RUNS {
            set(&program, true, &mut draw, &mut memory, &mut facts);
            program.run(&mut memory, method);
            let [walk, other] = [method, if method == Method::Asd { Method::Strength } else { Method::Asd }]
                .map(|method| Walk::new(&library, &tables, &facts, method).root(&sheet));
            faulty |= walk.faulty;
            compare(&program, &memory, &walk, &other, tally)
                .map_err(|wrong| format!("{wrong}\n{method:?} {facts:?}"))?;
        }
        add(&tally.runs, 1);
        add(&tally.sound, usize::from(!faulty));
        if memory.faulty != faulty {
            return Err(format!("the program is faulty: {}, the walk: {faulty}\n{facts:?}", memory.faulty));
        }
    }
    Ok(())
}

/// Facts of a post, or the loads of a combination.
fn set(program: &Program, varies: bool, draw: &mut Draw, memory: &mut Memory, facts: &mut BTreeMap<String, Value>) {
    for fact in program.facts.iter().filter(|fact| fact.varies == varies) {
        let key = fact.from.as_ref().map_or(fact.input.name.clone(), |from| format!("{}.{}", from.source, from.name));
        let key = if key.starts_with("leaf.") { fact.input.name.clone() } else { key };
        let number = match drawn(fact, draw) {
            Some(value) => {
                let number = code(program, &value);
                facts.insert(key, value);
                number
            }
            None => {
                facts.remove(&key);
                fact.default.unwrap_or(f64::NAN)
            }
        };
        memory.set(fact.slot, number);
    }
}

fn drawn(fact: &Fact, draw: &mut Draw) -> Option<Value> {
    if draw.of(12) == 11 {
        return None;
    }
    Some(match &fact.input.kind {
        Kind::Choice(names) => Value::Name(names[draw.of(names.len())].clone()),
        Kind::Text => Value::Name(draw.one(&GRADES).into()),
        Kind::Count => Value::Number(draw.one(&[1.0, 2.0, 3.0, 0.0, 50.0, 2.5, -1.0])),
        _ if draw.of(4) == 3 => Value::Number(draw.one(&[0.0, -0.0, -2.5, 50.0, 50.0 - 1e-9, 1e-12, -1e-200, 1e300])),
        _ => Value::Number(draw.one(&[1.0, 3.0, 0.7, 1.5, 2.0, 4.25, 12.0, 30.0, 0.1])),
    })
}

fn code(program: &Program, value: &Value) -> f64 {
    match value {
        Value::Number(number) => *number,
        Value::Name(name) => program.texts().find(name).map_or(f64::NAN, f64::from),
        Value::Date(_) => unreachable!("no random sheet speaks of a date"),
    }
}

fn compare(
    program: &Program,
    memory: &Memory,
    walk: &Walk<f64>,
    other: &Walk<f64>,
    tally: &Tally,
) -> Result<(), String> {
    let method = Some(walk.method);
    // Two branches may use one sheet under one name: then all of its slots but
    // those of the branch that was entered are without a value.
    let mut numbers: BTreeMap<(String, String), Vec<f64>> = BTreeMap::new();
    for symbol in program.symbols() {
        let number = program.number(symbol, memory);
        let path = program.uses[symbol.of].path.clone();
        if matches!(symbol.held, Held::Truth | Held::Date) {
            return Err(format!("`{}` holds {:?}", symbol.name(), symbol.held));
        }
        numbers.entry((path, symbol.name().into())).or_default().push(number);
    }
    let elsewhere = |path: &str| {
        walk.elsewhere
            .iter()
            .any(|other| path.strip_prefix(other.as_str()).is_some_and(|rest| rest.is_empty() || rest.starts_with('/')))
    };
    for (key, numbers) in &numbers {
        let (path, name) = key;
        let missing = if elsewhere(path) { No::Elsewhere } else { No::Missing };
        let found: Found<f64> = walk.values.get(key).cloned().unwrap_or(Err(missing));
        let same = |found: &Found<f64>| {
            let wanted = found.as_ref().map_or(f64::NAN, |value| code(program, value));
            let here: Vec<f64> = numbers.iter().copied().filter(|number| !number.is_nan()).collect();
            if wanted.is_nan() { here.is_empty() } else { here.len() == 1 && here[0].to_bits() == wanted.to_bits() }
        };
        let right = match &found {
            // What the method does not change is worked for both.
            Err(No::Elsewhere) => {
                let there = other.values.get(key).cloned().unwrap_or(Err(No::Missing));
                numbers.iter().all(|number| number.is_nan()) || same(&there)
            }
            found => same(found),
        };
        add(&tally.symbols, 1);
        add(&tally.values, usize::from(found.is_ok()));
        if !right {
            return Err(format!("`{name}` of {path} is {numbers:?}, the walk has {found:?}"));
        }
    }
    let mut symbols = walk.values.keys().filter(|key| !walk.on_page.contains(*key) && !key.1.contains('.'));
    if let Some(key) = symbols.find(|key| !numbers.contains_key(*key)) {
        return Err(format!("the program has no `{}` of {}", key.1, key.0));
    }
    let mut reached: BTreeMap<&str, usize> = BTreeMap::new();
    for used in &program.uses {
        *reached.entry(used.path.as_str()).or_default() += usize::from(program.reached(used, memory, method));
    }
    for (path, many) in reached {
        add(&tally.unreached, usize::from(many == 0));
        if many != usize::from(walk.reached.contains(path)) {
            return Err(format!("{path} is reached {many} times, in the walk: {}", walk.reached.contains(path)));
        }
    }
    let mut outcomes = BTreeMap::new();
    for limit in &program.limits {
        if let Some(outcome) = program.outcome(limit, memory, method) {
            let key = (program.uses[limit.of].path.clone(), std::sync::Arc::as_ptr(&limit.rule));
            let sides = outcome.sides.map(|sides| sides.map(f64::to_bits));
            if outcomes.insert(key, (outcome.ok, sides)).is_some() {
                return Err(format!("a limit is met with twice: {:?}", limit.rule));
            }
        }
    }
    add(&tally.limits, outcomes.len());
    let walked =
        walk.outcomes.iter().map(|(key, (ok, sides))| (key.clone(), (*ok, sides.map(|sides| sides.map(f64::to_bits)))));
    let walked: BTreeMap<_, _> = walked.collect();
    if outcomes != walked {
        return Err(format!("limits: {outcomes:?}, in the walk {walked:?}"));
    }
    Ok(())
}
