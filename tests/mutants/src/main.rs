//! Plants errors in a copy of the program, and runs the tests against each; README.md.

mod plant;
mod report;
mod run;
mod sites;

use std::path::{Path, PathBuf};

const USAGE: &str = "plant | build | time [--shard 1/2] [--tests NAME,NAME] | run [--shard 1/2] [--sites 1,2] [--tests NAME] [--budget 60] | report [--write]
  --into DIR     where the copy stands
  --sample 360   how many errors are drawn
  --seed 18";

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let given = |name: &str| {
        let at = args.iter().position(|arg| arg == name)?;
        Some(args.get(at + 1).unwrap_or_else(|| panic!("{name} has no value")).as_str())
    };
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let into = PathBuf::from(given("--into").unwrap_or_else(|| panic!("{USAGE}")));
    let (shard, of) = given("--shard").unwrap_or("1/1").split_once('/').expect("--shard 1/2");
    let shard = run::Shard { no: shard.parse().expect("a number"), of: of.parse().expect("a number") };
    let number = |name: &str, or: u64| given(name).map_or(or, |text| text.parse().expect("a number"));
    match args.first().map(String::as_str) {
        Some("plant") => plant::plant(&root, &into, number("--sample", 360) as usize, number("--seed", 18)),
        Some("build") => println!("{}", run::binary(&into).display()),
        Some("time") => run::time(&into, shard, given("--tests")),
        Some("run") => {
            let sites = given("--sites").map(|list| list.split(',').map(|no| no.parse().expect("a number")).collect());
            run::run(&into, shard, sites, given("--tests"), number("--budget", 60) as f64);
        }
        Some("report") => report::report(&root, &into, args.iter().any(|arg| arg == "--write")),
        _ => panic!("{USAGE}"),
    }
}
