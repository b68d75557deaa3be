//! `socle choose`: what of the catalogues holds each post, and the best of it written into
//! `posts.csv`.

use std::collections::BTreeMap;

use super::{Outcome, Run, note, outcome, paper, posts_named, spinner, work_out};
use crate::choose::{Change, Order, Tried, changed, fewest, sums, try_all};
use crate::cli::ChooseArgs;
use crate::diag::Diagnostic;
use crate::files::{read_file, say, write};
use crate::job::{CATALOGUES, Job};
use crate::load::{Confirmed, Reading, all, load};
use crate::names::plain;
use crate::report;

const POSTS: &str = "posts.csv";

pub(super) fn choose(args: &ChooseArgs) -> Run {
    let loaded = load(&args.job, args.confirmed.as_deref(), true)?;
    note(&loaded.job.notes);
    if args.write && loaded.job.tables.sheet(POSTS).is_some() {
        return Err(Diagnostic::new(format!("`--write` changes `{POSTS}`, and the posts of this job stand in {}", loaded.job.tables.called(POSTS)))
            .hint("a workbook is not written: run it without `--write`, and type the names into the sheet yourself; or save the sheet as `posts.csv`, and take it out of the workbook")
            .into());
    }
    let (job, library) = (loaded.job, loaded.library);
    let asked = match args.post.is_empty() {
        true => (0..job.posts.len()).collect(),
        false => posts_named(&job, &args.post)?,
    };
    let sums = match args.by.as_str() {
        "ratio" | "kinds" => None,
        column => Some(sums(&job, column).map_err(|wrong| all(wrong, library.units()))?),
    };
    let now = Now::of(&job);
    let head = (job.card.name.clone(), job.card.place.clone());
    let bar = spinner("trying every choice");
    // Kinds are counted over the whole job.
    let wide = (0..job.posts.len()).collect::<Vec<_>>();
    let tried = try_all(job, &library, if args.by == "kinds" { &wide } else { &asked });
    bar.finish_and_clear();
    let mut tried = tried.map_err(|wrong| all(wrong, library.units()))?;
    let (order, told) = match sums {
        Some(sums) => (Order::Column(sums), String::new()),
        None if args.by == "kinds" => {
            let (rows, exact) = fewest(&tried);
            let told = kinds(&rows, exact);
            (Order::Kinds(rows), told)
        }
        None => (Order::Ratio, String::new()),
    };
    tried.iter_mut().for_each(|tried| tried.posts.retain(|post| asked.contains(post)));
    tried.retain(|tried| !tried.posts.is_empty());
    let passes = tried.iter().all(|tried| !order.passing(tried).is_empty());
    if args.csv {
        say(&report::choices_csv(&now.marks, &tried, &order))?;
        return Ok(outcome(passes));
    }
    if args.write {
        return put(args, &now, &tried, &order);
    }
    let shown = report::Shown { most: if args.all { usize::MAX } else { args.most }, all: args.all };
    say(&report::choices(&head, &now.marks, &tried, &order, shown, paper()))?;
    if !told.is_empty() {
        say(&format!("\n{}", paper().paragraph(&told)))?;
    }
    let missed = report::misses(&now.marks, &tried, &order, paper());
    let end = match passes {
        true => "`--write` puts the best for each post into posts.csv.".to_string(),
        false => missed,
    };
    say(&format!("\n{}", paper().paragraph(end.trim_end())))?;
    Ok(outcome(passes))
}

/// `Fewest kinds, 4: base knife 8; foundation pier 16; anchor rod 1/2`.
fn kinds(rows: &[(usize, String)], exact: bool) -> String {
    let named: Vec<String> = rows.iter().map(|(at, name)| format!("{} {name}", CATALOGUES[*at].column)).collect();
    let way = match exact {
        true => "no fewer rows of the catalogs are enough for all posts",
        false => "found by removing one row at a time: there may be fewer",
    };
    format!("{} kinds: {}; {way}.", rows.len(), named.join("; "))
}

/// What `posts.csv` says now.
struct Now {
    marks: Vec<String>,
    chosen: Vec<[String; CATALOGUES.len()]>,
}

impl Now {
    fn of(job: &Job) -> Now {
        let chosen = job.posts.iter().map(|post| {
            std::array::from_fn(|at| {
                post.entries.get(CATALOGUES[at].name).map_or(String::new(), |entry| entry.name.clone())
            })
        });
        Now { marks: job.posts.iter().map(|post| post.mark.clone()).collect(), chosen: chosen.collect() }
    }
}

/// Writes the best of each post, if there is one for each and they hold together.
fn put(args: &ChooseArgs, now: &Now, tried: &[Tried], order: &Order) -> Run {
    let missed = report::misses(&now.marks, tried, order, paper());
    if !missed.is_empty() {
        say(&format!("{missed}Nothing was written.\n"))?;
        return Ok(Outcome::NotMet);
    }
    let mut changes = Vec::new();
    let mut of_posts: Vec<(usize, &Tried)> =
        tried.iter().flat_map(|tried| tried.posts.iter().map(move |post| (*post, tried))).collect();
    of_posts.sort_by_key(|(post, _)| *post);
    for (post, tried) in &of_posts {
        let Some(best) = order.passing(tried).first().map(|trial| trial.choice.clone()) else { continue };
        for (at, catalogue) in CATALOGUES.iter().enumerate() {
            let (old, new) = (&now.chosen[*post][at], best.name(at));
            if plain(old) != plain(new) {
                let mark = now.marks[*post].clone();
                changes.push(Change { mark, column: catalogue.column, old: old.clone(), new: new.into() });
            }
        }
    }
    if changes.is_empty() {
        say("posts.csv already has the best for each post; nothing was written.\n")?;
        return Ok(Outcome::Met);
    }
    let path = args.job.join(POSTS);
    if !path.is_file() {
        return Err(Diagnostic::new(format!("there is no `{POSTS}` in `{}` to write into", args.job.display()))
            .hint("only CSV files can be changed; write the names into this one yourself")
            .into());
    }
    let bytes = changed(&path.display().to_string(), &read_file(&path)?, &changes)?;
    // All together, as `check` will work them: a post's neighbours have changed too.
    let with = BTreeMap::from([(POSTS.to_string(), bytes.clone())]);
    let confirmed = Confirmed::read(args.confirmed.as_deref())?;
    let folder = args.job.as_path().into();
    let loaded = Reading { others: with, ..Reading::of(&folder, confirmed.as_ref()) }.load()?;
    let (_, results) = work_out(&loaded, None)?;
    let group = |post: usize| &results.groups[results.group_of[post]];
    let fails = of_posts.iter().map(|(post, _)| *post).filter(|post| !group(*post).ok());
    let mut told = String::new();
    for post in fails {
        let limit = group(post).governing().map_or("", |limit| limit.rule().say.as_str());
        told.push_str(
            &paper().paragraph(&format!("{}: {limit} is not met with all of these together", now.marks[post])),
        );
    }
    let named = |name: &str| if name.is_empty() { "nothing".to_string() } else { format!("\"{name}\"") };
    let lines =
        changes.iter().map(|it| format!("{}: {} {} → {}\n", it.mark, it.column, named(&it.old), named(&it.new)));
    let lines: String = lines.collect();
    if !told.is_empty() {
        say(&format!("{lines}{told}Nothing was written: choose for fewer posts at a time, with --post.\n"))?;
        return Ok(Outcome::NotMet);
    }
    write(&path, &bytes)?;
    say(&format!("{lines}{} written; each of these posts passes in it.\n", path.display()))?;
    Ok(Outcome::Met)
}
