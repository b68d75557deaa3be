//! The compiled program against the tree walk that makes the steps: every symbol
//! of every sheet, of every post in every combination, to the last bit.

use std::collections::BTreeMap;

use socle::engine::{self, LOADS, PostGrid, ROOT, Root, Shown};
use socle::formula::Value;
use socle::job::Job;
use socle::sheet::{Step, Worked};

use crate::jobs::library;
use crate::support::{JOBS, files_of, root as folder};

pub fn read(name: &str) -> (Job, socle::sheet::Library) {
    let files = files_of(&folder().join("fixtures").join(name));
    let library = library();
    let job = Job::read(name, &files, &engine::known_names(&library)).expect("a job in order");
    (job, library)
}

/// Every symbol by its path, as the tree walk has it.
fn walked(worked: &Worked, path: &str, found: &mut BTreeMap<String, Value>) {
    for (name, bound) in worked.bound.iter().filter(|(name, _)| !name.contains('.')) {
        found.insert(format!("{path}{name}"), bound.value.clone());
    }
    for step in &worked.steps {
        if let Step::Use(inner) = step {
            walked(inner, &format!("{path}{}.", inner.name), found);
        }
    }
}

/// The values of each sheet that was worked in a run, by its path.
fn by_path(worked: &Worked, path: &str, found: &mut BTreeMap<String, Vec<BTreeMap<String, Value>>>) {
    let own = worked.bound.iter().filter(|(name, _)| !name.contains('.'));
    let own = own.map(|(name, bound)| (name.clone(), bound.value.clone())).collect();
    found.entry(path.into()).or_default().push(own);
    for step in &worked.steps {
        if let Step::Use(inner) = step {
            by_path(inner, &format!("{path}/{}", inner.name), found);
        }
    }
}

/// Each sheet that is worked in some combination is shown once, with what it comes to in one of them, under its name, or under
/// its path where two have one name; and a limit stands on the sheet that it is of.
#[test]
fn values_that_are_shown_are_those_of_one_combination() {
    let mut compared = 0;
    for name in JOBS {
        let (mut job, library) = read(name);
        engine::derive_loads(&mut job, &library).expect("loads");
        let root = Root::new(&job, &library, ROOT, None).expect("the root");
        let results = engine::work_job(&root, &|_, _| {}).expect("results");
        for group in results.groups.iter().take(2) {
            let shown = Shown::new(&root, &results.combinations, group);
            let mut runs: BTreeMap<String, Vec<BTreeMap<String, Value>>> = BTreeMap::new();
            for run in 0..results.combinations.len() {
                by_path(shown.worked(run), ROOT, &mut runs);
            }
            let last = |path: &str| path.rsplit('/').next().expect("a name").to_string();
            let title = |path: &String| match runs.keys().filter(|other| last(other) == last(path)).count() {
                1 => last(path),
                _ => path.split('/').skip(1).collect::<Vec<_>>().join("."),
            };
            let titles: BTreeMap<String, &String> = runs.keys().map(|path| (title(path), path)).collect();
            let mut seen: BTreeMap<String, BTreeMap<String, Value>> = BTreeMap::new();
            for (key, value, _) in shown.values() {
                let (title, symbol) = key.rsplit_once('.').expect("a sheet and a symbol");
                let twice = seen.entry(title.into()).or_default().insert(symbol.into(), value);
                assert!(twice.is_none(), "{name}: {key} is shown twice");
            }
            for (title, path) in &titles {
                let all = &runs[*path];
                if all.iter().all(BTreeMap::is_empty) {
                    continue;
                }
                let values = seen.get(title).unwrap_or_else(|| panic!("{name}: {title} is not shown"));
                // What a page alone binds ends with it, in steps.
                let off = |run: &BTreeMap<String, Value>| {
                    let off = values.iter().filter(|(symbol, value)| run.get(*symbol).is_some_and(|it| it != *value));
                    off.map(|(symbol, _)| symbol.clone())
                        .chain(run.keys().filter(|it| !values.contains_key(*it)).cloned())
                        .collect()
                };
                let off: Vec<Vec<String>> = all.iter().map(off).collect();
                assert!(off.iter().any(Vec::is_empty), "{name}: {title} is as in no combination: {:?}", off[0]);
                compared += values.len();
            }
            for limit in &group.limits {
                let found = shown.find(limit.run(), limit.path()).map(|sheet| sheet.name.clone());
                assert_eq!(found.as_deref(), Some(last(limit.path()).as_str()), "{name}: {}", limit.path());
            }
        }
    }
    assert!(compared > 1000, "{compared}");
}

#[test]
fn the_program_and_the_tree_walk_agree_to_the_last_bit() {
    let mut compared = 0;
    let mut wrong = Vec::new();
    for name in JOBS {
        let (mut job, library) = read(name);
        if job.settings.contains_key("roof") {
            let root = Root::new(&job, &library, LOADS, Some(PostGrid::new(&job.posts).around()))
                .expect("the sheet for loads");
            for at in 0..job.posts.len() {
                let mut memory = root.program.memory();
                root.set(&mut memory, at);
                compare(&root, &memory, &root.work(at, None, None).worked, name, &mut compared, &mut wrong);
            }
        }
        engine::derive_loads(&mut job, &library).expect("loads");
        let root = Root::new(&job, &library, ROOT, None).expect("the root");
        let combinations = engine::combinations(&job, &library).expect("combinations");
        let mut memory = root.program.memory();
        for at in 0..job.posts.len() {
            root.set(&mut memory, at);
            for combination in &combinations {
                let loads = engine::loads_of(combination, &job.posts[at]);
                root.load(&mut memory, loads);
                let worked = root.work(at, Some(loads), Some(combination.method)).worked;
                let of = format!("{name}, {}, {}", job.posts[at].mark, combination.name);
                compare(&root, &memory, &worked, &of, &mut compared, &mut wrong);
            }
        }
    }
    assert!(wrong.is_empty(), "{} of {compared}:\n{}", wrong.len(), wrong[..wrong.len().min(30)].join("\n"));
    assert!(compared > 100_000, "{compared}");
}

fn compare(
    root: &Root,
    memory: &socle::program::Memory,
    worked: &Worked,
    of: &str,
    compared: &mut usize,
    wrong: &mut Vec<String>,
) {
    let mut found = BTreeMap::new();
    walked(worked, "", &mut found);
    let program = &root.program;
    let mut here: BTreeMap<String, f64> = BTreeMap::new();
    for symbol in program.symbols() {
        let path = program.uses[symbol.of].path.split_once('/');
        let path = path.map_or(String::new(), |(_, path)| format!("{}.", path.replace('/', ".")));
        let number = program.number(symbol, memory);
        // A sheet that is used in two branches stands under one name in both.
        let known = here.entry(format!("{path}{}", symbol.name())).or_insert(number);
        if known.is_nan() {
            *known = number;
        }
    }
    for (name, value) in &found {
        let there = program.encode(value);
        let Some(here) = here.get(name) else {
            wrong.push(format!("{of}: the program has no `{name}`"));
            continue;
        };
        *compared += 1;
        if there.to_bits() != here.to_bits() && !(there == 0.0 && *here == 0.0) {
            wrong.push(format!("{of}: {name} is {here}, the tree walk has {value:?}"));
        }
    }
}
