//! Every cell, key and column of the example jobs, taken away one at a time:
//! what changes a ratio or a verdict is asked for, declared, or counted as open.
//! None passes in silence.

use std::collections::BTreeMap;

use rayon::prelude::*;
use serde_json::Value;

use crate::support::{JOBS, Job, root, socle, stderr};

/// Something that is taken away, and the job's file without it.
struct Without {
    job: &'static str,
    file: String,
    /// The column or key.
    name: String,
    what: String,
    text: String,
}

/// Ratio and verdict of each limit and fit, by post, sheet and words.
type Limits = BTreeMap<(String, String, String), (Option<f64>, bool)>;

fn limits(json: &Value) -> Limits {
    let mut found = Limits::new();
    for post in json["posts"].as_array().expect("posts") {
        for (list, words) in [("limits", "limit"), ("fits", "fit")] {
            for limit in post[list].as_array().expect("a list") {
                let text = |key: &str| limit[key].as_str().expect("a text").to_string();
                let key = (post["mark"].as_str().expect("a mark").into(), text("sheet"), text(words));
                let ratio = limit.get("ratio").and_then(Value::as_f64);
                found.insert(key, (ratio, limit["ok"].as_bool().expect("met or not")));
            }
        }
    }
    found
}

/// What is open, of which kind, by what it is called.
fn open(json: &Value) -> Vec<String> {
    let of = |open: &Value| format!("{} {} {} {}", open["asks"], open["what"], open["key"], open["value"]);
    json["open"].as_array().expect("a list").iter().map(of).collect()
}

fn check(job: &Job) -> Result<Value, String> {
    let output = socle(&["check".as_ref(), job.path().as_os_str(), "--json".as_ref()]);
    match output.status.code() {
        Some(0 | 1) => Ok(serde_json::from_slice(&output.stdout).expect("JSON")),
        Some(2) => Err(stderr(&output)),
        code => panic!("{code:?}: {}", stderr(&output)),
    }
}

/// Every way to take one thing away from a job.
fn all(job: &'static str) -> Vec<Without> {
    let mut found = Vec::new();
    let folder = root().join("fixtures").join(job);
    for entry in std::fs::read_dir(&folder).expect("the job") {
        let path = entry.expect("an entry").path();
        let file = path.file_name().expect("a name").to_string_lossy().into_owned();
        let text = std::fs::read_to_string(&path).expect("a text");
        let mut add = |name: &str, what: String, text: String| {
            found.push(Without { job, file: file.clone(), name: name.into(), what, text });
        };
        if file.ends_with(".toml") {
            let lines: Vec<&str> = text.split_inclusive('\n').collect();
            for (at, line) in lines.iter().enumerate() {
                let Some((key, _)) = line.split_once(" = ").filter(|_| !line.starts_with([' ', '#'])) else { continue };
                if line.trim_end().ends_with('[') {
                    continue;
                }
                let rest: String =
                    lines.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, line)| *line).collect();
                add(key, format!("{key} of line {}", at + 1), rest);
            }
        } else {
            let separator = if text.lines().next().expect("a heading").contains(';') { b';' } else { b',' };
            let mut reader = csv::ReaderBuilder::new();
            let mut reader = reader.has_headers(false).delimiter(separator).from_reader(text.as_bytes());
            let rows: Vec<Vec<String>> =
                reader.records().map(|row| row.expect("a row").iter().map(String::from).collect()).collect();
            let write = |rows: &[Vec<String>]| {
                let mut writer = csv::WriterBuilder::new().delimiter(separator).from_writer(Vec::new());
                rows.iter().for_each(|row| writer.write_record(row).expect("memory"));
                String::from_utf8(writer.into_inner().expect("memory")).expect("text")
            };
            for column in 0..rows[0].len() {
                let heading = rows[0][column].trim_start_matches('\u{feff}');
                let name = heading.split('[').next().unwrap_or(heading).trim().to_string();
                let mut without = rows.clone();
                without.iter_mut().for_each(|row| drop(row.remove(column)));
                add(&name, format!("column {name}"), write(&without));
                for row in 1..rows.len() {
                    if rows[row][column].is_empty() {
                        continue;
                    }
                    let mut without = rows.clone();
                    without[row][column].clear();
                    add(&name, format!("{name} of {}", rows[row][0]), write(&without));
                }
            }
        }
    }
    found
}

/// Why taking a thing away passed in silence; none if it did not.
fn silent(without: &Without, base: &Value) -> Option<String> {
    let job = Job::copy(without.job);
    job.write(&without.file, &without.text);
    let json = match check(&job) {
        Ok(json) => json,
        // It is asked for.
        Err(message) => return message.trim().is_empty().then(|| "refused without a word".into()),
    };
    let (before, after) = (limits(base), limits(&json));
    if before == after {
        return None;
    }
    // It is counted as open, by its name.
    let known = open(base);
    if open(&json).iter().any(|open| !known.contains(open) && open.contains(&without.name)) {
        return None;
    }
    // A limit that was met says so: it is asked for by its remedy.
    if after.iter().any(|(key, (_, ok))| !ok && before.get(key).is_none_or(|(_, ok)| *ok)) {
        return None;
    }
    // The most severe answer was taken: no limit is easier to meet, none is gone from a job that still passes.
    let easier = before.iter().find_map(|(key, (ratio, ok))| match after.get(key) {
        None if json["ok"] == true => Some(format!("{key:?} is gone")),
        None => None,
        Some((now, fits)) => {
            let less = matches!((ratio, now), (Some(ratio), Some(now)) if *now < ratio - 1e-9);
            (less || (*fits && !ok)).then(|| format!("{key:?}: {ratio:?} {ok} was, {now:?} {fits} is"))
        }
    });
    easier
}

#[test]
fn nothing_is_taken_away_in_silence() {
    let base: BTreeMap<&str, Value> =
        JOBS.into_iter().map(|name| (name, check(&Job::copy(name)).expect("it works"))).collect();
    let all: Vec<Without> = JOBS.into_iter().flat_map(all).collect();
    assert!(all.len() > 700, "{} things were taken away", all.len());
    let found: Vec<String> = all
        .par_iter()
        .filter_map(|without| {
            let why = silent(without, &base[without.job])?;
            Some(format!("{}/{}, without {}: {why}", without.job, without.file, without.what))
        })
        .collect();
    assert!(found.is_empty(), "{} of {} passed in silence:\n{}", found.len(), all.len(), found.join("\n"));
}

/// A declared absence changes nothing but the declaration.
#[test]
fn a_declaration_changes_the_declaration_alone() {
    for name in JOBS {
        let job = Job::copy(name);
        let before = check(&job).expect("it works");
        let declared = before["declared"].as_object().expect("declared").clone();
        assert!(!declared.is_empty(), "{name}");
        for (kind, reason) in &declared {
            let reason = reason.as_str().expect("a reason");
            job.edit("job.toml", &format!("{kind} = \"{reason}\""), &format!("{kind} = \"another reason\""));
        }
        let after = check(&job).expect("it works");
        assert_eq!(limits(&before), limits(&after), "{name}");
        assert_eq!(open(&before), open(&after), "{name}");
        assert_eq!(before["verdict"], after["verdict"], "{name}");
        assert_ne!(before["declared"], after["declared"], "{name}");
    }
}
