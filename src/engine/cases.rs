//! Whether every kind of load is accounted for: given for each post, worked out,
//! or declared absent with a reason.

use std::collections::BTreeSet;

use crate::diag::{Diagnostic, Diagnostics, Kind::Missing, list};
use crate::job::{CASE, Job, kind_of_load, table_place};

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
            (_, true) => "and it is calculated from `[roof]`",
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
            "the job does not say what the posts carry of {}",
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
        diagnostics.push(match table_place(&job.toml, "loads") {
            Some(place) => diagnostic.at(place),
            None => diagnostic,
        });
    }
    for (one, other) in [("E_x", "E_y"), ("E_y", "E_x")] {
        if given.iter().any(|case| case == one) && !given.iter().any(|case| case == other) {
            diagnostics.push(Diagnostic::new(format!("the posts have a case {one} and no case {other}")).hint(
                "an earthquake acts in both directions: give both, with zeros for a post that has no part in one",
            ));
        }
    }
    diagnostics
}
