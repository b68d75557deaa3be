//! Joins what the root sheet needs with what the job's files say.

use std::collections::BTreeMap;

use super::{Combination, Effect, FIELD, LOADS, ROOT, SHOP};
use crate::diag::{Complaint, Complaints};
use crate::formula::Value;
use crate::job::{Catalogue, Fact, Job, Post, find_fact as find};
use crate::quantity::{Dim, Quantity, Unit};
use crate::sheet::{Bound, Input, Library, Origin, Sheet};
use crate::source::Place;

/// Whether a place that inputs come from is a table of `job.toml`.
fn is_setting(from: &str) -> bool {
    !["posts", "combination", "grid"].contains(&from) && Catalogue::named(from).is_none()
}

/// The tables of `job.toml` that the root sheets read, each with its keys.
pub fn known_settings(library: &Library) -> BTreeMap<String, Vec<String>> {
    let mut known: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let roots = [ROOT, LOADS, SHOP, FIELD].into_iter().filter_map(|name| library.sheet(name));
    for input in roots.flat_map(|root| &root.inputs) {
        if let Some(from) = input.from.as_deref().filter(|from| is_setting(from)) {
            known.entry(from.into()).or_default().push(input.name.clone());
        }
    }
    known
}

/// What a file says of an input of the root.
fn fact_of<'a>(input: &Input, job: &'a Job, post: &'a Post) -> Option<&'a Fact> {
    match input.from.as_deref() {
        Some("posts") => find(&post.facts, &input.name),
        Some("combination" | "grid") | None => None,
        // What a post says of itself wins over what the job says of all.
        Some(table) if is_setting(table) => find(&post.facts, &input.name)
            .or_else(|| job.settings.get(table).and_then(|facts| find(facts, &input.name))),
        Some(catalogue) => post.entries.get(catalogue).and_then(|entry| find(&entry.facts, &input.name)),
    }
}

/// As many cells as a complaint names.
const NAMED: usize = 6;

/// Marks a fault that a sheet found in the cells that it comes from.
pub fn located(complaint: Complaint, root: &Sheet, job: &Job, post: &Post) -> Complaint {
    let inputs = complaint.rests_on.iter().filter_map(|name| root.input(name));
    let facts: Vec<(&Input, &Fact)> =
        inputs.filter_map(|input| Some((input, fact_of(input, job, post)?))).take(NAMED).collect();
    let in_sheet = complaint.place.as_ref().is_some_and(|place| place.source.name.ends_with(".sheet"));
    let Some((_, first)) = facts.first().filter(|_| in_sheet) else {
        return complaint.hint(format!("for post {}", post.mark));
    };
    let named =
        facts.iter().map(|(input, fact)| format!("`{}` {} ({})", input.name, fact.as_typed(), file(&fact.whence)));
    let rests_on = named.collect::<Vec<_>>().join(", ");
    let rule = complaint.place.as_ref().map_or(String::new(), Place::describe);
    let place = first.place.clone();
    complaint
        .at(place)
        .hint(format!("for post {}, from {rests_on}", post.mark))
        .hint(format!("the rule stands in {rule}"))
}

/// `posts.csv` of `posts.csv, width`.
fn file(whence: &str) -> &str {
    whence.split(", ").next().unwrap_or(whence)
}

/// The inputs of the root for a post, but for the loads.
pub fn inputs(root: &Sheet, job: &Job, post: &Post) -> (BTreeMap<String, (Bound, Origin)>, Complaints) {
    let mut inputs = BTreeMap::new();
    let mut complaints = Complaints::new();
    for input in &root.inputs {
        let Some(fact) = fact_of(input, job, post) else { continue };
        match fact.read(&input.kind) {
            Ok((value, unit)) => {
                let bound =
                    Bound { value, unit, varies: false, count: false, given: true, place: Some(fact.place.clone()) };
                inputs.insert(input.name.clone(), (bound, Origin::File(fact.whence.to_string())));
            }
            Err(complaint) => complaints.push(complaint),
        }
    }
    (inputs, complaints)
}

/// The inputs that a combination brings.
pub fn loads(
    root: &Sheet,
    combination: &Combination,
    effect: Effect,
    seismic: Effect,
) -> Vec<(String, (Bound, Origin))> {
    let force = Unit::usual(Dim::FORCE);
    let values = [
        ("P", Quantity::new(effect.p, Dim::FORCE), force.clone()),
        ("H_x", Quantity::new(effect.h_x, Dim::FORCE), force.clone()),
        ("H_y", Quantity::new(effect.h_y, Dim::FORCE), force.clone()),
        ("P_E", Quantity::new(seismic.p, Dim::FORCE), force.clone()),
        ("H_x_E", Quantity::new(seismic.h_x, Dim::FORCE), force.clone()),
        ("H_y_E", Quantity::new(seismic.h_y, Dim::FORCE), force),
        ("C_D", Quantity::number(combination.c_d.unwrap_or(1.0)), Unit::none()),
        ("f_W", Quantity::number(combination.wind()), Unit::none()),
    ];
    let mut inputs = Vec::new();
    for (name, quantity, unit) in values {
        if root.input(name).is_some() {
            let bound =
                Bound { value: Value::Quantity(quantity), unit, varies: true, count: false, given: false, place: None };
            inputs.push((name.to_string(), (bound, Origin::File("load combination".into()))));
        }
    }
    inputs
}

/// What to say of an input that the job does not give.
pub fn missing(input: &Input, job: &Job, post: &Post) -> Complaint {
    let what = if input.say.is_empty() { String::new() } else { format!(" ({})", input.say) };
    let article = if input.kind.to_string().starts_with("one of") { "" } else { "a " };
    let wanted = format!("{article}{} is wanted", input.kind);
    if let Some(catalogue) = input.from.as_deref().and_then(Catalogue::named) {
        let (thing, file) = (catalogue.column, catalogue.file());
        return match post.entries.get(catalogue.name) {
            Some(entry) => Complaint::new(format!("the {thing} `{}` has no `{}`{what}", entry.name, input.name))
                .at(entry.place.clone())
                .hint(format!("put it in a column `{}` of `{file}`; {wanted}", heading(input))),
            None => Complaint::new(format!("post {} has no {thing}", post.mark))
                .at(post.place.clone())
                .hint(format!("name a row of `{file}` in the column `{thing}` of `posts.csv`")),
        };
    }
    match input.from.as_deref() {
        Some("posts") if job.posts.iter().all(|post| find(&post.facts, &input.name).is_none()) => {
            let source = &post.place.source;
            let header = source.text.find(['\r', '\n']).unwrap_or(source.text.len());
            Complaint::new(format!("`posts.csv` has no `{}`{what}", input.name))
                .at(Place::new(source, 0..header))
                .hint(format!("add a column `{}`; {wanted}", heading(input)))
                .hint_near(&input.name, post.facts.keys().map(String::as_str))
        }
        Some("posts") => Complaint::new(format!("post {} has no `{}`{what}", post.mark, input.name))
            .at(post.place.clone())
            .hint(format!("put it in the column `{}`; {wanted}", heading(input))),
        Some(table) => {
            let complaint = Complaint::new(format!("`job.toml` has no `{}`{what}", input.name))
                .hint(format!("write it under `[{table}]`; {wanted}"));
            match job.toml.text.find(&format!("[{table}]")) {
                Some(at) => complaint.at(Place::new(&job.toml, at..at + table.len() + 2)),
                None => complaint,
            }
        }
        None => Complaint::new(format!("the root sheet does not say where `{}` comes from", input.name)),
    }
}

fn heading(input: &Input) -> String {
    match input.kind.dim() {
        Some(dim) if !dim.is_none() => format!("{} [{}]", input.name, Unit::usual(dim).name()),
        _ => input.name.clone(),
    }
}
