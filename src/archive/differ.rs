//! Two workings of a job as `check --json` prints them, value by value.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value as Json;

/// Numbers that differ by less are one: the last digits of an addition, and what a subtraction leaves of equal numbers.
const SAME: f64 = 1e-12;
const NOTHING: f64 = 1e-10;

/// What differs, and how much was compared.
#[derive(Debug, Default)]
pub struct Differences {
    /// Numbers and words that both have, or one.
    pub compared: usize,
    pub posts: usize,
    pub found: Vec<Difference>,
}

/// A value that differs in some posts.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    pub posts: Vec<String>,
    /// `anchor-steel: tension on the anchors, ratio`, or `pin-yield.Z`.
    pub what: String,
    /// As they are printed; nothing where there is none.
    pub old: String,
    pub new: String,
    /// How much of the earlier value, where both are numbers; infinite from zero.
    pub by: Option<f64>,
}

/// Compares what a package carries with what its job comes to now.
pub fn differ(old: &Json, new: &Json) -> Differences {
    let mut differences = Differences::default();
    let top = |json: &Json| {
        let mut values = BTreeMap::new();
        ["ok", "verdict", "declared"].iter().for_each(|name| flat(&json[*name], name, &mut values));
        values.insert("open questions".into(), json["open"].as_array().map_or(0, Vec::len).into());
        values
    };
    let mut rows = Vec::new();
    differences.compared += compare(&top(old), &top(new), "", &mut rows);
    let posts = |json: &Json| -> BTreeMap<String, BTreeMap<String, Json>> {
        let posts = json["posts"].as_array().into_iter().flatten();
        posts.map(|post| (post["mark"].as_str().unwrap_or_default().to_string(), values(post))).collect()
    };
    let (old, mut new) = (posts(old), posts(new));
    // What a later version says beside a limit is no difference of the limit.
    let said: BTreeSet<String> = old.values().flat_map(BTreeMap::keys).filter_map(|name| field(name)).collect();
    new.values_mut().for_each(|post| post.retain(|name, _| field(name).is_none_or(|it| said.contains(&it))));
    let nothing = BTreeMap::new();
    let marks = old.keys().chain(new.keys().filter(|mark| !old.contains_key(*mark)));
    for mark in marks {
        differences.posts += 1;
        let (old, new) = (old.get(mark).unwrap_or(&nothing), new.get(mark).unwrap_or(&nothing));
        differences.compared += compare(old, new, mark, &mut rows);
    }
    for row in rows {
        let same = |known: &&mut Difference| (&known.what, &known.old, &known.new) == (&row.what, &row.old, &row.new);
        match differences.found.iter_mut().find(same) {
            Some(known) => known.posts.extend(row.posts),
            None => differences.found.push(row),
        }
    }
    // What is said of the job, then numbers, the greatest difference first, then words and what only one has.
    let order = |it: &Difference| if it.posts.is_empty() { f64::INFINITY } else { it.by.unwrap_or(-1.0) };
    differences.found.sort_by(|a, b| order(b).total_cmp(&order(a)));
    differences
}

/// `ratio` of `anchor-steel: tension, ratio`; none for what has no fields.
fn field(name: &str) -> Option<String> {
    name.rsplit_once(", ").map(|(_, field)| field.into())
}

/// All that a post comes to, by what it is called.
fn values(post: &Json) -> BTreeMap<String, Json> {
    let mut values = BTreeMap::new();
    for list in ["limits", "fits", "handed"] {
        for row in post[list].as_array().into_iter().flatten() {
            let word = |name: &str| row[name].as_str().unwrap_or_default();
            let name = match list {
                "limits" => format!("{}: {}", word("sheet"), word("limit")),
                "fits" => format!("{}: {}", word("sheet"), word("fit")),
                _ => [word("what"), word("level")].join(", ").trim_end_matches(", ").into(),
            };
            let mut unique = name.clone();
            let mut no = 1;
            while values.keys().any(|known: &String| known.starts_with(&format!("{unique},"))) {
                no += 1;
                unique = format!("{name} ({no})");
            }
            let about = ["sheet", "limit", "fit", "cite", "what", "level", "unit"];
            let fields = row.as_object().into_iter().flatten().filter(|(key, _)| !about.contains(&key.as_str()));
            fields.for_each(|(key, value)| flat(value, &format!("{unique}, {key}"), &mut values));
        }
    }
    for (name, value) in post["values"].as_object().into_iter().flatten() {
        flat(value, name, &mut values);
    }
    flat(&post["ok"], "all limits met", &mut values);
    values
}

fn flat(value: &Json, name: &str, values: &mut BTreeMap<String, Json>) {
    match value {
        // A value with its unit is one thing.
        Json::Object(fields) if !fields.contains_key("unit") => {
            fields.iter().for_each(|(key, value)| flat(value, &format!("{name}, {key}"), values));
        }
        value => drop(values.insert(name.into(), value.clone())),
    }
}

fn compare(
    old: &BTreeMap<String, Json>,
    new: &BTreeMap<String, Json>,
    mark: &str,
    rows: &mut Vec<Difference>,
) -> usize {
    let names = old.keys().chain(new.keys().filter(|name| !old.contains_key(*name)));
    let mut compared = 0;
    for name in names {
        compared += 1;
        let (a, b) = (old.get(name), new.get(name));
        if a == b {
            continue;
        }
        let by = match (a.and_then(number), b.and_then(number)) {
            (Some(a), Some(b)) if (b - a).abs() <= NOTHING.max(SAME * a.abs()) => continue,
            (Some(a), Some(b)) => Some((b - a).abs() / a.abs()),
            _ => None,
        };
        let posts = if mark.is_empty() { Vec::new() } else { vec![mark.to_string()] };
        // As many digits as it takes to see the difference.
        let (mut old, mut new) = (said(a, 6), said(b, 6));
        if old == new {
            (old, new) = (said(a, 17), said(b, 17));
        }
        rows.push(Difference { posts, what: name.clone(), old, new, by });
    }
    compared
}

/// A number, alone or with its unit.
fn number(value: &Json) -> Option<f64> {
    value.as_f64().or_else(|| value["value"].as_f64())
}

fn said(value: Option<&Json>, digits: usize) -> String {
    let Some(value) = value else { return String::new() };
    match value {
        Json::Object(of) => {
            format!("{} {}", said(of.get("value"), digits), said(of.get("unit"), digits)).trim_end().into()
        }
        Json::String(text) => text.clone(),
        Json::Number(number) => {
            let number = number.as_f64().unwrap_or(f64::NAN);
            let rounded = format!("{number:.*e}", digits - 1).parse::<f64>();
            rounded.unwrap_or(number).to_string()
        }
        Json::Null => String::new(),
        other => other.to_string(),
    }
}
