//! Random jobs, each of their sheets worked by the program and, in numbers of 48 digits, by a plain
//! walk over their trees: every symbol and every limit of every post in every combination, what posts
//! bring to their lines, the lines, and the earthquake. `PROPTEST_CASES=1000` works that many.

mod agree;
mod alone;
mod draw;
mod line;
mod tally;
mod typed;

use std::collections::BTreeMap;

use proptest::test_runner::RngSeed;
use rayon::prelude::*;
use socle::diag::Diagnostics;
use socle::engine::{self, LOADS, PostGrid, ROOT, Root};
use socle::formula::Kind;
use socle::job::Job;
use socle::program::{Memory, Program};
use socle::quantity::Unit;
use socle::sheet::{Input, Library, Method};
use socle::templates::Templates;

use agree::{Named, agree, named};
use draw::{Files, Values};
use tally::Tally;

use crate::walk::{Number, Precise, Table, Walk, factor, unsure};

type Value = crate::walk::Value<Precise>;
type Tables = BTreeMap<String, Table<Precise>>;
type Facts = BTreeMap<String, Value>;

/// The sheets that are worked once for a job.
const OF_JOB: [&str; 2] = ["seismic-site", "earthquake-overstrength"];

/// The sheets that no job comes to: a framer works them alone. Their check values are worked in both ways.
const ALONE: [&str; 3] = ["anchor-standoff", "brace-thrust", "braced-bent"];

/// Beyond this two values are not the same, where doubles can have as many digits.
const SAME: f64 = 1e-9;

/// By so many times what rounding was reckoned to come to a value may be off in which terms cancel.
const ROOM: f64 = 4.0;

struct Known {
    library: Library,
    tables: Tables,
    values: Values,
}

impl Known {
    fn new() -> Known {
        let templates = Templates::built_in();
        let tables = templates.files.iter().filter_map(|(path, bytes)| {
            let name = path.strip_prefix("tables/")?.strip_suffix(".csv")?;
            Some((name.to_string(), Table::read(std::str::from_utf8(bytes).expect("a text"))))
        });
        let tables = tables.collect();
        Known { library: templates.library().expect("the built-in sheets"), tables, values: Values::read() }
    }
}

#[test]
fn random_jobs_come_to_the_same_by_the_program_and_in_many_more_digits() {
    let config = crate::support::cases(25);
    let RngSeed::Fixed(seed) = config.rng_seed else { unreachable!("it is fixed") };
    let known = Known::new();
    let jobs = 0..u64::from(config.cases);
    let work = |no: u64| {
        let seed = seed.wrapping_mul(1_000_003).wrapping_add(no);
        work(&known, &known.values.job(seed), &format!("job {seed}"))
    };
    let tally = jobs.into_par_iter().map(work).reduce(Tally::default, Tally::plus);
    let tally = ALONE.iter().fold(tally, |tally, sheet| tally.plus(alone::work(&known, sheet)));
    println!("{}", tally.told(&known.library));
    assert!(tally.wrong.is_empty(), "{} are wrong:\n{}", tally.wrong.len(), tally.shown_wrong());
    tally.enough(&known.library, config.cases as usize);
}

/// The factors of units by what they are defined as.
#[test]
fn units_are_what_they_are_defined_as() {
    for name in Unit::names().chain(["lbf/ft", "in^4", "kip ft", "psf/ft", "kN/m^3", "lbf/in^2"]) {
        let unit = Unit::parse(name).expect("a unit");
        let precise = factor(unit.name()).to_f64().value();
        assert!((unit.to_base(1.0) / precise - 1.0).abs() < 1e-15, "{name}: {} and {precise}", unit.to_base(1.0));
    }
}

/// Works a job in both ways.
fn work(known: &Known, files: &Files, of: &str) -> Tally {
    let mut tally = Tally::one();
    if let Err(wrong) = compare(known, files, of, &mut tally) {
        tally.refuse(of, &wrong);
    }
    tally
}

/// # Errors
/// Why the job is refused; what can be worked of it is compared all the same.
fn compare(known: &Known, files: &Files, of: &str, tally: &mut Tally) -> Result<(), Diagnostics> {
    let library = &known.library;
    let mut job = Job::read("drawn", files, &engine::known_names(library))?;
    let grid = PostGrid::new(&job.posts);
    let mut brought = Vec::new();
    if job.settings.contains_key("roof") {
        let root = Root::new(&job, library, LOADS, Some(grid.around()))?;
        let both = Both::new(known, &root);
        for at in 0..job.posts.len() {
            let mut memory = root.program.memory();
            root.set(&mut memory, at);
            let facts = both.facts(at, &memory);
            let walk = both.compare(&memory, &facts, Method::Asd, &format!("{of}, {}", job.posts[at].mark), tally);
            brought.push(walk.values);
        }
    }
    let derived = engine::derive_loads(&mut job, library)?;
    if !derived.shares.is_empty() {
        line::compare(known, &job, &grid, &derived, &brought, of, tally);
    }
    if job.cases().iter().any(|case| case.starts_with('E')) {
        for sheet in OF_JOB {
            let root = Root::new(&job, library, sheet, None)?;
            let both = Both::new(known, &root);
            let mut memory = root.program.memory();
            root.set(&mut memory, 0);
            both.compare(&memory, &both.facts(0, &memory), Method::Asd, of, tally);
        }
    }
    let combinations = engine::combinations(&job, library)?;
    let root = Root::new(&job, library, ROOT, None)?;
    let both = Both::new(known, &root);
    let mut memory = root.program.memory();
    let mut wrong = Diagnostics::new();
    for (at, post) in job.posts.iter().enumerate() {
        wrong.extend(root.set(&mut memory, at));
        let mut facts = both.facts(at, &memory);
        tally.posts += 1;
        let mut faulty = false;
        for combination in &combinations {
            let loads = engine::loads_of(combination, post);
            let of = format!("{of}, {}, {}", post.mark, combination.name);
            tally.effect(combination, post, &of);
            root.load(&mut memory, loads);
            both.bring(&mut facts, &memory);
            faulty |= both.compare(&memory, &facts, combination.method, &of, tally).faulty;
            if memory.faulty && wrong.is_empty() {
                wrong.extend(root.work(at, Some(loads), Some(combination.method)).diagnostics);
            }
            tally.combinations += 1;
        }
        if memory.faulty != faulty {
            tally.wrong(format!(
                "{of}, {}: the program lacks something: {}, the walk: {faulty}",
                post.mark, memory.faulty
            ));
        }
    }
    if wrong.is_empty() { Ok(()) } else { Err(wrong) }
}

/// A sheet as a program, and what is walked beside it.
struct Both<'a> {
    known: &'a Known,
    root: &'a Root<'a>,
    named: Named<'a>,
}

impl<'a> Both<'a> {
    fn new(known: &'a Known, root: &'a Root<'a>) -> Both<'a> {
        Both { known, root, named: named(&root.program) }
    }

    /// What the job says of a post and of all posts, as it was typed, and what the engine hands in beside it.
    fn facts(&self, at: usize, memory: &Memory) -> Facts {
        let program = &self.root.program;
        let mut found = Facts::new();
        for (no, fact) in program.facts.iter().enumerate().filter(|(_, fact)| !fact.varies) {
            let said = self.root.fact(&fact.input, &self.root.job.posts[at]);
            let value = match (said, &fact.input.kind) {
                (Some(said), Kind::Quantity(_) | Kind::Count) => {
                    let heading = said.unit.as_ref().map_or("", |unit| unit.name());
                    let double = said.read(&fact.input.kind, &fact.units).ok().and_then(|(value, _)| match value {
                        socle::formula::Value::Quantity(quantity) => Some(quantity.value),
                        _ => None,
                    });
                    double.map(|double| Value::Number(typed::read(&said.text, heading, double)))
                }
                (Some(said), Kind::Choice(_) | Kind::Text) => Some(Value::Name(said.text.clone())),
                (Some(said), Kind::Date) => Some(Value::Date(said.text.clone())),
                (None, _) if is_around(&fact.input) => handed(program, no, memory),
                (None, _) => None,
            };
            found.extend(value.map(|value| (fact.input.key(), value)));
        }
        found
    }

    /// The loads of a combination.
    fn bring(&self, facts: &mut Facts, memory: &Memory) {
        let program = &self.root.program;
        for (no, fact) in program.facts.iter().enumerate().filter(|(_, fact)| fact.varies) {
            facts.remove(&fact.input.key());
            facts.extend(handed(program, no, memory).map(|value| (fact.input.key(), value)));
        }
    }

    /// Works the sheet once more, from the same facts, and holds all that it comes to to what is in the memory.
    fn compare<'f>(
        &'f self,
        memory: &Memory,
        facts: &'f Facts,
        method: Method,
        of: &str,
        tally: &mut Tally,
    ) -> Walk<'f, Precise> {
        unsure();
        let walk = Walk::new(&self.known.library, &self.known.tables, facts, method).root(&self.root.program.sheet);
        tally.unsure += unsure();
        agree(&self.root.program, &self.named, memory, &walk, of, tally);
        walk
    }
}

/// Where a sheet reads what the engine finds in the places of posts and in the cases of the job.
const AROUND: [&str; 6] = ["grid", "cases", "own", "line", "before", "after"];

fn is_around(input: &Input) -> bool {
    input.from.as_ref().is_some_and(|from| AROUND.contains(&from.source.as_str()))
}

/// What the engine hands to a sheet.
fn handed(program: &Program, fact: usize, memory: &Memory) -> Option<Value> {
    Some(match program.fact_value(fact, memory.get(program.facts[fact].slot))? {
        socle::formula::Value::Quantity(quantity) => Value::Number(Precise::exact(quantity.value)),
        socle::formula::Value::Text(name) => Value::Name(name),
        socle::formula::Value::Date(_) => unreachable!("a date is typed"),
    })
}
