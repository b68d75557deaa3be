//! What was tried for each post, the best first.

use super::paper::{Paper, met};
use super::rows::write;
use crate::choose::{Found, Order, Outcome, Trial, Tried};
use crate::diag::count;
use crate::job::{CATALOGUES, some_marks, some_posts};
use crate::quantity::{number, number_fixed};

/// Runs of marks that a line has room for.
const MARKS: usize = 12;

/// How much is printed.
#[derive(Clone, Copy, Debug)]
pub struct Shown {
    /// Of each post so many that pass, and so many near misses.
    pub most: usize,
    /// What cannot be worked too, and why.
    pub all: bool,
}

/// `head`: the name and the place of the job; `marks`: of all its posts.
pub fn choices(
    head: &(String, String),
    marks: &[String],
    tried: &[Tried],
    order: &Order,
    shown: Shown,
    paper: Paper,
) -> String {
    let mut out = paper.paragraph(&format!("{}, {}", head.0, head.1));
    let by = match order {
        Order::Ratio => "the lowest demand/capacity ratio first".to_string(),
        Order::Kinds(_) => "the fewest kinds over the job first".into(),
        Order::Column(sums) => format!("the least {} first", sums.column),
    };
    out.push_str(&paper.paragraph(&format!("Each post is tried with the others as they are; {by}.")));
    // Posts that differ, and not in this, are told of together.
    let mut told: Vec<([String; 2], Vec<String>)> = Vec::new();
    for tried in tried {
        let text = post(tried, order, shown, paper);
        match told.iter_mut().find(|(known, _)| *known == text) {
            Some((_, of)) => of.extend(posts(marks, tried)),
            None => told.push((text, posts(marks, tried))),
        }
    }
    for ([pass, table], of) in told {
        let named = some_posts(&of, MARKS);
        let head = format!("{}{}: {pass}", named[..1].to_uppercase(), &named[1..]);
        out.push_str(&format!("\n{}{table}", paper.paragraph(&head)));
    }
    out
}

fn posts(marks: &[String], tried: &Tried) -> Vec<String> {
    tried.posts.iter().map(|post| marks[*post].clone()).collect()
}

/// How many choices pass, and the table of them.
fn post(tried: &Tried, order: &Order, Shown { most, all }: Shown, paper: Paper) -> [String; 2] {
    let (passing, misses) = (order.passing(tried), order.misses(tried));
    let unworked: Vec<(&Trial, &String)> = tried
        .trials
        .iter()
        .filter_map(|trial| match &trial.outcome {
            Outcome::CannotBeWorked(why) => Some((trial, why)),
            Outcome::Worked(_) => None,
        })
        .collect();
    let mut pass = match passing.len() {
        0 => "nothing passes".to_string(),
        many => format!("{many} of {} pass", tried.trials.len()),
    };
    if !unworked.is_empty() {
        pass.push_str(&format!("; {} cannot be worked", unworked.len()));
    }
    let mut out = String::new();
    let row = |trial: &&Trial| row(trial, order);
    let mut rows: Vec<Vec<String>> = passing.iter().take(most).map(row).collect();
    rows.extend(misses.iter().take(most).map(row));
    // What the post has now is always shown.
    let shown =
        |trial: &Trial| passing.iter().take(most).chain(misses.iter().take(most)).any(|it| std::ptr::eq(*it, trial));
    rows.extend(
        tried
            .trials
            .iter()
            .filter(|trial| trial.is_now() && trial.found().is_some() && !shown(trial))
            .map(|it| row(&it)),
    );
    if !rows.is_empty() {
        out.push_str(&table(order, rows, paper));
    }
    let left = [(passing.len(), "more passes", "more pass"), (misses.len(), "more does not pass", "more do not pass")];
    for (many, one, several) in left.into_iter().filter(|(many, ..)| *many > most) {
        let more = many - most;
        out.push_str(&format!("  {more} {}\n", if more == 1 { one } else { several }));
    }
    for rule in tried.never_met() {
        let text = format!("Whatever is chosen, this is not met: {}. Remedy: {}.", rule.say, rule.remedy);
        out.push_str(&paper.paragraph(&text));
    }
    let told = unworked.iter().filter(|(trial, _)| all || trial.is_now());
    let told: Vec<Vec<String>> = told.map(|(trial, why)| vec![chosen(trial), (*why).clone()]).collect();
    if !told.is_empty() {
        out.push_str(&paper.table(2, &["cannot be worked", "why"], told, &[]));
    }
    [pass, out]
}

/// `knife 8 on pier 16 with rod 1/2`.
fn chosen(trial: &Trial) -> String {
    let names = (0..CATALOGUES.len()).map(|at| trial.choice.name(at)).filter(|name| !name.is_empty());
    let now = if trial.is_now() { " (now)" } else { "" };
    format!("{}{now}", names.collect::<Vec<_>>().join(" / "))
}

fn table(order: &Order, rows: Vec<Vec<String>>, paper: Paper) -> String {
    let mut head: Vec<&str> = CATALOGUES.iter().map(|catalogue| catalogue.column).collect();
    let mut right = vec![head.len()];
    if let Order::Column(sums) = order {
        head.push(&sums.column);
        right.push(head.len());
    }
    head.extend(["ratio", "governing limit", ""]);
    paper.table(2, &head, rows, &right)
}

fn row(trial: &Trial, order: &Order) -> Vec<String> {
    let mut row: Vec<String> = (0..CATALOGUES.len()).map(|at| trial.choice.name(at).to_string()).collect();
    if let Order::Column(sums) = order {
        row.push(sum(sums, trial));
    }
    let found = trial.found();
    row.push(found.map_or(String::new(), |found| ratio(found.ratio)));
    row.push(found.map_or(String::new(), |found| found.limit.clone() + &more(found)));
    let now = if trial.is_now() { ", now" } else { "" };
    let verdict = met(trial.passes());
    row.push(if trial.is_now() { format!("{verdict}{now}") } else { verdict });
    row
}

/// How much else is not met.
fn more(found: &Found) -> String {
    match found.failed.len() {
        0 | 1 => String::new(),
        many => format!(" and {} more", many - 1),
    }
}

fn sum(sums: &crate::choose::Sums, trial: &Trial) -> String {
    format!("{} {}", number(sums.of(&trial.choice), 6), sums.unit.pretty()).trim_end().to_string()
}

fn ratio(ratio: Option<f64>) -> String {
    ratio.filter(|ratio| ratio.is_finite()).map_or("–".into(), |ratio| number_fixed(ratio, 3))
}

/// Posts for which nothing passes, each with what comes nearest.
pub fn misses(marks: &[String], tried: &[Tried], order: &Order, paper: Paper) -> String {
    let mut told: Vec<(String, Vec<String>)> = Vec::new();
    for tried in tried.iter().filter(|tried| order.passing(tried).is_empty()) {
        let nearest = order.misses(tried).first().map(|trial| {
            let found = trial.found();
            let limit = found.map_or("", |found| found.limit.as_str());
            let ratio = ratio(found.and_then(|found| found.ratio));
            let more = found.map_or(String::new(), more);
            format!("nearest is {}, stopped by {limit}, ratio {ratio}{more}", chosen(trial))
        });
        let nearest = nearest.unwrap_or_else(|| format!("{} cannot be worked", count(tried.trials.len(), "choice")));
        match told.iter_mut().find(|(known, _)| *known == nearest) {
            Some((_, of)) => of.extend(posts(marks, tried)),
            None => told.push((nearest, posts(marks, tried))),
        }
    }
    let line = |(nearest, of): &(String, Vec<String>)| {
        paper.paragraph(&format!("{}: nothing passes; {nearest}", some_marks(of, MARKS)))
    };
    told.iter().map(line).collect()
}

/// A row for each post and what was tried for it, the best first.
pub fn choices_csv(marks: &[String], tried: &[Tried], order: &Order) -> String {
    let mut head = vec!["mark"];
    head.extend(CATALOGUES.iter().map(|catalogue| catalogue.column));
    head.extend(["now", "verdict", "ratio", "limit", "cite", "combination", "why not worked"]);
    if let Order::Column(sums) = order {
        head.push(&sums.column);
    }
    let mut rows: Vec<Vec<String>> = vec![head.into_iter().map(String::from).collect()];
    let mut of_posts: Vec<(usize, &Tried)> =
        tried.iter().flat_map(|tried| tried.posts.iter().map(move |post| (*post, tried))).collect();
    of_posts.sort_by_key(|(post, _)| *post);
    for (post, tried) in of_posts {
        let unworked = tried.trials.iter().filter(|trial| trial.found().is_none());
        for trial in order.passing(tried).into_iter().chain(order.misses(tried)).chain(unworked) {
            let mut row = vec![marks[post].clone()];
            row.extend((0..CATALOGUES.len()).map(|at| trial.choice.name(at).to_string()));
            row.push(if trial.is_now() { "yes" } else { "no" }.into());
            match &trial.outcome {
                Outcome::Worked(found) => row.extend([
                    if found.ok { "met" } else { "not met" }.into(),
                    found.ratio.filter(|ratio| ratio.is_finite()).map_or(String::new(), |ratio| ratio.to_string()),
                    found.limit.clone(),
                    found.cite.clone(),
                    found.combination.clone(),
                    String::new(),
                ]),
                Outcome::CannotBeWorked(why) => {
                    row.extend([String::from("not worked")].into_iter().chain(std::iter::repeat_n(String::new(), 4)));
                    row.push(why.clone());
                }
            }
            if let Order::Column(sums) = order {
                row.push(sums.of(&trial.choice).to_string());
            }
            rows.push(row);
        }
    }
    write(&rows)
}
