//! Wind on the posts themselves, where it is given: in a column for each wind
//! case, or in one for all that are given. Nobody else knows whether the
//! reactions leave it out, so it is never taken as zero.

use super::fact::Fact;
use super::loads::{PARTS, WIND, kind};
use super::posts::Post;
use super::reactions::wind_size;
use crate::diag::{Diagnostic, Diagnostics, Kind::Missing, list};
use crate::formula::Kind;
use crate::source::Place;

/// Enters it into the wind cases that are given; `roof` says that there are
/// others, which are worked out.
pub fn wind_on_posts(posts: &mut [Post], roof: bool) -> Diagnostics {
    let mut diagnostics = Diagnostics::new();
    let mut lacking: Vec<(&str, &str)> = Vec::new();
    // One fault of the job is said once.
    let mut said = [false; 2];
    let header = posts.first().map(|post| post.header.clone());
    for Post { mark, facts, reactions, slack, .. } in posts {
        let winds = reactions.keys().filter(|case| kind(case) == Some("W")).count();
        for (axis, (name, _)) in PARTS[WIND..].iter().enumerate() {
            let all = facts.get(*name);
            let value = match all.map(wind_size).transpose() {
                Ok(value) => value,
                Err(diagnostic) => {
                    diagnostics.push(diagnostic);
                    continue;
                }
            };
            if winds == 0 {
                let fact = all.filter(|_| !said[axis] && (roof || value > Some(0.0)));
                said[axis] |= fact.is_some();
                diagnostics.extend(fact.map(|fact| nowhere(name, fact, roof)));
            }
            for (case, reaction) in reactions.iter_mut() {
                let h = [reaction.h_x, reaction.h_y][axis];
                let w = if axis == 0 { &mut reaction.w_x } else { &mut reaction.w_y };
                if kind(case) != Some("W") {
                    *w = 0.0;
                    continue;
                }
                if w.is_nan() && value.is_none() {
                    if lacking.last() != Some(&(mark, name)) {
                        lacking.push((mark, name));
                    }
                    continue;
                }
                let size = if w.is_nan() { value.unwrap_or_default() } else { *w };
                if let Some(all) = all.filter(|_| w.is_nan()) {
                    let off = all.slack(&Kind::Quantity(PARTS[WIND + axis].1));
                    slack.entry(case.clone()).or_default().set(WIND + axis, off);
                }
                *w = if h < 0.0 { -size } else { size };
            }
        }
    }
    diagnostics.extend(header.filter(|_| !lacking.is_empty()).map(|header| missing(&lacking, header)));
    diagnostics
}

/// What is given for all wind cases, where none is given.
fn nowhere(name: &str, fact: &Fact, roof: bool) -> Diagnostic {
    if roof {
        Diagnostic::new(format!("the wind on the posts is given, `{name}`, and also calculated from `[roof]`"))
            .at(fact.place.clone())
            .hint(format!("leave out the column `{name}`, or remove `[roof]` from `job.toml` and give the wind cases"))
    } else {
        Diagnostic::new(format!("the wind on the post, `{name}`, acts in wind cases, and no wind case is given"))
            .at(fact.place.clone())
            .hint("give the reactions of the wind cases: `P_W1 [lbf]`, `H_x_W1 [lbf]`, `H_y_W1 [lbf]`")
    }
}

/// Posts and columns that they lack, said once for the job.
fn missing(lacking: &[(&str, &str)], header: Place) -> Diagnostic {
    let mut names: Vec<&str> = lacking.iter().map(|(_, name)| *name).collect();
    names.sort_unstable();
    names.dedup();
    let mut marks: Vec<&str> = lacking.iter().map(|(mark, _)| *mark).collect();
    marks.dedup();
    let few = match marks.as_slice() {
        marks @ ([_] | [_, _] | [_, _, _]) => list(marks, "and"),
        [first, second, rest @ ..] => format!("`{first}`, `{second}` and {} more", rest.len()),
        [] => String::new(),
    };
    let headings: Vec<String> = names.iter().map(|name| format!("{name} [lbf/ft]")).collect();
    Diagnostic::new(format!("the wind on the posts themselves is not given: {} of {few}", list(&names, "and")))
        .of(Missing, names[0])
        .at(header)
        .hint(format!(
            "give {} in `posts.csv`, the wind per foot of the post: it acts in every wind case of the post; write 0 where no wind reaches the post, or where its reactions include that wind",
            list(&headings, "and")
        ))
        .hint("a case has its own in columns such as `w_x_W1 [lbf/ft]`, or in `w_x [lbf/ft]` and `w_y [lbf/ft]` of `reactions.csv`")
        .hint("`socle work wind-members q_z=\"20 psf\" member=flat face=\"7.5 in\"` calculates it from the velocity pressure and the width of the post (ASCE 7-16 29.4)")
}
