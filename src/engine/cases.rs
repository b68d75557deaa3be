//! The load cases of a job as a whole: whether every kind of load is accounted for
//! (given for each post, worked out, or declared absent with a reason), and what
//! sheets ask of them.

use std::collections::BTreeSet;

use crate::diag::{Diagnostic, Diagnostics, Kind::Missing, list};
use crate::formula::Value;
use crate::job::{CASE, Job, Reaction, kind_of_load, table_place};

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

/// As many load cases a job can have.
const MOST: usize = 120;

/// Kinds of load of which nobody says anything, and those of which two things
/// are said. `given` are the cases that the files of the job hold.
pub fn unaccounted(job: &Job, given: &[String]) -> Diagnostics {
    let kinds: BTreeSet<&str> = given.iter().filter_map(|case| kind_of_load(case)).collect();
    let roof = job.settings.contains_key("roof");
    let derived = |kind: &str| roof && FROM_ROOF.contains(&kind);
    let mut diagnostics = Diagnostics::new();
    if given.len() > MOST {
        diagnostics.push(
            Diagnostic::new(format!(
                "the posts are given reactions in {} load cases; expected at most {MOST}",
                given.len()
            ))
            .hint("each wind case stands in a dozen load combinations: give those that can govern")
            .at(job.posts[0].header.clone()),
        );
        return diagnostics;
    }
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
    diagnostics.extend(lifting(job));
    for (one, other) in [("E_x", "E_y"), ("E_y", "E_x")] {
        if given.iter().any(|case| case == one) && !given.iter().any(|case| case == other) {
            diagnostics.push(Diagnostic::new(format!("the posts have a case {one} and no case {other}")).hint(
                "an earthquake acts in both directions: give both, with zeros for a post that has no part in one",
            ));
        }
    }
    diagnostics
}

/// A dead load that lifts the whole structure, by which the signs of its file are the other way round.
fn lifting(job: &Job) -> Option<Diagnostic> {
    let given = job.posts.iter().filter_map(|post| post.reactions.get("D"));
    let total: f64 = given.map(|reaction| reaction.p).sum();
    let lifts = total < 0.0 && !job.derived.contains("D");
    lifts.then(|| {
        Diagnostic::new(format!(
            "the sign of P is the other way round: found {} of D on all posts together; expected more than 0, P positive down",
            job.units.force(total),
        ))
        .hint(match job.files.iter().any(|file| file.name.starts_with("reactions")) {
            true => "turn the sign in `job.toml`, below `[loads.columns]`: `\"-FZ\" = \"P\"`, with the heading of your file in place of `FZ`",
            false => "write the numbers with the other sign: P is what the post brings down",
        })
    })
}

/// What the load cases of a job are to a sheet: whether there are any of a kind, `W`;
/// whether they are `worked` out from a roof; which way the winds push along an axis.
pub fn of_cases(asked: &str, job: &Job) -> Value {
    let yes = |is: bool| if is { "yes" } else { "no" };
    let of = match asked {
        "worked" => yes(job.settings.contains_key("roof")).into(),
        "wind_x" => pushes(job, 0),
        "wind_y" => pushes(job, 1),
        kind => yes(job.cases().iter().any(|case| kind_of_load(case) == Some(kind))).into(),
    };
    Value::Text(of)
}

/// A push of the winds along an axis that is a smaller part of the greatest one is what an analysis
/// leaves over.
const LEFT_OVER: f64 = 0.01;

/// Which way the wind cases push all posts together.
fn pushes(job: &Job, axis: usize) -> String {
    let cases = job.cases().into_iter().filter(|case| kind_of_load(case) == Some("W"));
    let of =
        |case: &String| -> Vec<&Reaction> { job.posts.iter().filter_map(|post| post.reactions.get(case)).collect() };
    let cases: Vec<Vec<&Reaction>> = cases.map(|case| of(&case)).collect();
    let total = |of: &Vec<&Reaction>| of.iter().fold([0.0; 2], |[x, y], it| [x + it.h_x, y + it.h_y]);
    let totals: Vec<[f64; 2]> = cases.iter().map(total).collect();
    let greatest = totals.iter().flatten().fold(0.0, |most: f64, push| most.max(push.abs()));
    let counts = |sign: f64| totals.iter().any(|push| sign * push[axis] > LEFT_OVER * greatest);
    let (plus, minus) = (counts(1.0), counts(-1.0));
    // Wind on the posts alone, whose tops something else holds, is worked both ways.
    let on_posts = |of: &Vec<&Reaction>| {
        let parts = |it: &&&Reaction| if axis == 0 { (it.h_x, it.w_x) } else { (it.h_y, it.w_y) };
        of.iter().all(|it| parts(&it).0 == 0.0) && of.iter().any(|it| parts(&it).1 > 0.0)
    };
    let turned = job.loads.both_signs;
    let (plus, minus) = if cases.iter().any(on_posts) { (true, true) } else { (plus, minus) };
    let name = ["x", "y"][axis];
    match (plus || turned && minus, minus || turned && plus) {
        (true, true) => "both ways".into(),
        (true, false) => format!("toward +{name} only"),
        (false, true) => format!("toward -{name} only"),
        (false, false) => "not at all".into(),
    }
}
