//! Whether every kind of load is accounted for: given for each post, worked out,
//! or declared absent with a reason.

use std::collections::{BTreeMap, BTreeSet};

use crate::diag::{Diagnostic, Diagnostics, Kind::Missing, list};
use crate::job::{CASE, Job, kind_of_load, load_heading};
use crate::source::Place;

/// The kinds that a job can be without, and what they are in words.
const KINDS: [(&str, &str); 6] = [
    ("L", "live load"),
    ("Lr", "roof live load"),
    ("S", "snow load"),
    ("R", "rain load"),
    ("W", "wind load"),
    ("E", "earthquake load"),
];

/// What a site and a roof are worked out to.
const FROM_ROOF: [&str; 4] = ["Lr", "S", "W", "E"];

/// Kinds of load of which nobody says anything, and those of which two things
/// are said. `given` are the cases that the files of the job hold.
pub fn unaccounted(job: &Job, given: &[String]) -> Diagnostics {
    let kinds: BTreeSet<&str> = given.iter().filter_map(|case| kind_of_load(case)).collect();
    let roof = job.settings.contains_key("roof");
    let derived = |kind: &str| roof && FROM_ROOF.contains(&kind);
    let mut diagnostics = Diagnostics::new();
    for (kind, reason) in &job.answers.none {
        let how = match (kinds.contains(kind.as_str()), derived(kind)) {
            (true, _) => "and posts have it",
            (_, true) => "and it is worked out from `[roof]`",
            _ => continue,
        };
        let message = format!("`[loads.none]` says that there is no {kind}, {how}");
        diagnostics.push(Diagnostic::new(message).at(reason.place.clone()).hint("leave one of them out"));
    }
    let missing: Vec<(&str, &str)> = KINDS
        .into_iter()
        .filter(|(kind, _)| !kinds.contains(kind) && !derived(kind) && !job.answers.none.contains_key(*kind))
        .collect();
    if !missing.is_empty() {
        let names: Vec<String> = missing.iter().map(|(kind, words)| format!("{kind} ({words})")).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let mut diagnostic = Diagnostic::new(format!(
            "nothing says what the posts carry of {}",
            list(&names, "and").replace('`', "")
        ))
        .of(Missing, CASE)
        .hint(
            "give it for every post, in columns such as `P_S` or in `reactions.csv`, with zeros where a post has none",
        )
        .hint("or say in `job.toml` that there is none, and why; the cover prints it:")
        .hint("    [loads.none]");
        for (kind, words) in &missing {
            diagnostic = diagnostic.hint(format!("    {kind} = \"why there is no {words}\""));
        }
        let head = job.toml.text.find("[loads]").map(|at| at..at + "[loads]".len());
        diagnostics.push(match head {
            Some(span) => diagnostic.at(Place::new(&job.toml, span)),
            None => diagnostic,
        });
    }
    diagnostics.extend(incomplete(job));
    for (one, other) in [("E_x", "E_y"), ("E_y", "E_x")] {
        if given.iter().any(|case| case == one) && !given.iter().any(|case| case == other) {
            diagnostics.push(Diagnostic::new(format!("the posts have a case {one} and no case {other}")).hint(
                "an earthquake acts in both directions: give both, with zeros for a post that has no part in one",
            ));
        }
    }
    diagnostics
}

/// A lateral case in columns of `posts.csv` that says nothing of one of its
/// parts: a wind that lifts also pushes, along one axis or the other.
fn incomplete(job: &Job) -> Diagnostics {
    let Some(posts) = job.files.iter().find(|file| file.name == "posts.csv") else { return Diagnostics::new() };
    let mut cases: BTreeMap<String, [bool; 3]> = BTreeMap::new();
    for heading in &posts.header {
        if let Some((part, case)) =
            load_heading(heading).filter(|(part, case)| *part < 3 && case.starts_with(['W', 'E']))
        {
            cases.entry(case).or_default()[part] = true;
        }
    }
    let parts = ["P", "H_x", "H_y"];
    let lacks = cases.iter().filter_map(|(case, known)| {
        // An earthquake along one axis need not push along the other.
        let wanted = |part: usize| !known[part] && !matches!((case.as_str(), part), ("E_x", 2) | ("E_y", 1));
        let missing: Vec<String> =
            (0..3).filter(|part| wanted(*part)).map(|part| format!("{}_{case}", parts[part])).collect();
        let message = format!("the case {case} has no column {}", list(&missing, "and"));
        (!missing.is_empty()).then(|| {
            let source = &job.posts[0].place.source;
            Diagnostic::new(message)
                .at(Place::new(source, 0..source.text.find(['\r', '\n']).unwrap_or(0)))
                .hint("add it, with zeros where the case has no such part: nothing is taken as zero that nobody gave")
        })
    });
    lacks.collect()
}
