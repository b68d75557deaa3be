//! The worked pages: what is worked, where a printed value comes from, and that
//! what is not worked is listed.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;
use socle::package::{Line, RankedLimit, Worked};

use crate::jobs::{chapters, lines, package_of};
use crate::support::{JOBS, Job};

/// The sections of a chapter as a template reads them.
fn sections(chapter: &Worked) -> Vec<Value> {
    chapter.sections.iter().map(|section| serde_json::to_value(section).expect("JSON")).collect()
}

fn array<'a>(value: &'a Value, name: &str) -> &'a [Value] {
    value[name].as_array().map_or(&[], Vec::as_slice)
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or("")
}

/// No two inputs of a list are called alike, for what a reader would look for would stand there twice.
#[test]
fn inputs_of_a_list_have_names_of_their_own() {
    for job in JOBS {
        let pages = package_of(job).1;
        for items in lines(&pages).filter_map(|line| if let Line::Inputs { items } = line { Some(items) } else { None })
        {
            let names: BTreeSet<&str> = items.iter().map(|item| item.symbol.src.as_str()).collect();
            assert_eq!(names.len(), items.len(), "{job}: {names:?}");
        }
    }
}

/// Every printed input equals a printed value of the same post and combination:
/// it names the line, and there the same number stands for the same column.
#[test]
fn every_printed_input_is_a_printed_value_of_its_column() {
    for job in JOBS {
        let pages = package_of(job).1;
        let mut followed = 0;
        for chapter in chapters(&pages) {
            let sections = sections(chapter);
            let lines = || sections.iter().flat_map(|section| array(section, "lines"));
            // What each line prints for each column; a look-up prints several values.
            let mut printed: BTreeMap<(String, String), BTreeSet<String>> = BTreeMap::new();
            for line in lines().filter(|line| line["no"].is_string()) {
                for row in array(line, "rows") {
                    for at in array(row, "at") {
                        let column = text(at).rsplit('@').next().expect("a column").to_string();
                        let here = printed.entry((text(&line["no"]).into(), column)).or_default();
                        let values =
                            std::iter::once(&row["value"]).chain(array(row, "values").iter().map(|it| &it["value"]));
                        here.extend(
                            values
                                .filter(|it| it.is_object())
                                .map(|it| format!("{} {}", text(&it["number"]), text(&it["unit"]))),
                        );
                    }
                }
            }
            for fact in lines().flat_map(|line| array(line, "items")).filter(|item| item["no"].is_string()) {
                for row in array(fact, "rows") {
                    let letters: Vec<&str> = text(&row["tag"]).split(' ').filter(|it| !it.is_empty()).collect();
                    for column in chapter.columns.iter().map(|it| it.letter.as_str()) {
                        if letters.is_empty() || letters.contains(&column) {
                            let value = format!("{} {}", text(&row["value"]["number"]), text(&row["value"]["unit"]));
                            printed.entry((text(&fact["no"]).into(), column.into())).or_default().insert(value);
                        }
                    }
                }
            }
            let inputs = lines().filter(|line| line["kind"] == "inputs").flat_map(|line| array(line, "items"));
            // Of inputs with many values only the lines are named.
            let rows = inputs.flat_map(|item| array(item, "rows"));
            for row in rows.filter(|row| row["value"]["number"] != "") {
                let Some(line) = row["from"]["link"].as_str().filter(|line| !line.starts_with(['A', 'Q'])) else {
                    continue;
                };
                for at in array(row, "at") {
                    // `R.39 a` is a line in another column.
                    let column = match text(&row["from"]["words"]).split_once(' ') {
                        Some((_, column)) => column.to_string(),
                        None => text(at).rsplit('@').next().expect("a column").to_string(),
                    };
                    let value = format!("{} {}", text(&row["value"]["number"]), text(&row["value"]["unit"]));
                    let there = printed.get(&(line.to_string(), column.clone()));
                    let there = there.unwrap_or_else(|| {
                        panic!("{job}: {line} prints nothing for column {column}, which {at} reads")
                    });
                    assert!(there.contains(&value), "{job}: {at} reads {value}; {line} prints {there:?}");
                    followed += 1;
                }
            }
        }
        assert!(followed > 70, "{job}: {followed} inputs were followed");
    }
}

/// A line that takes the value of another name because the job gives one is no line, and
/// what decided that is given.
#[test]
fn what_only_renames_is_no_line() {
    let pages = package_of("orchard-pergola").1;
    let sections: Vec<Value> = chapters(&pages).flat_map(sections).collect();
    let lines = || sections.iter().flat_map(|section| array(section, "lines"));
    let symbols: Vec<&str> = lines().map(|line| text(&line["symbol"]["alt"])).collect();
    assert!(symbols.len() > 100, "{symbols:?}");
    for renamed in ["bar size", "tie size"] {
        assert!(!symbols.contains(&renamed), "{renamed} is a line");
    }
    let facts: Vec<&str> =
        lines().flat_map(|line| array(line, "items")).map(|item| text(&item["symbol"]["alt"])).collect();
    assert!(facts.contains(&"bar") && facts.contains(&"pad"), "{facts:?}");
}

/// The sign for degrees stands close to its number, in tables, lines and words.
#[test]
fn degrees_stand_close_to_their_number() {
    for job in JOBS {
        let (package, pages) = package_of(job);
        let worked = chapters(&pages).map(serde_json::to_string);
        let sheets = pages.sheets.iter().map(serde_json::to_string).chain([serde_json::to_string(&package)]);
        let words: String = worked.chain(sheets).map(|it| it.expect("JSON")).collect();
        assert!(words.contains('°'), "{job}");
        for apart in [" °\"", " °,", " °:", "\"unit\":\"°\""] {
            assert!(!words.contains(apart), "{job}: {apart}");
        }
    }
}

/// A limit of half or more is worked where it governs, for each pair of base and
/// foundation; what governs a post is worked for it; what is not worked is listed.
#[test]
fn what_governs_is_worked_and_the_rest_is_listed() {
    for job in JOBS {
        let json = Job::copy(job).check_json();
        let pages = package_of(job).1;
        let mut worked: BTreeSet<(String, String, String)> = BTreeSet::new();
        let mut listed: BTreeSet<String> = BTreeSet::new();
        for kind in &pages.worked {
            let post =
                |letter: &str| kind.columns.iter().find(|it| it.letter == letter).expect("a column").post.clone();
            for section in sections(kind) {
                for line in array(&section, "lines").iter().filter(|line| line["kind"] == "limit") {
                    for row in array(line, "rows") {
                        for at in array(row, "at") {
                            let (path, letter) = text(at).rsplit_once('@').expect("a place");
                            let sheet = path.rsplit('/').next().unwrap_or("").to_string();
                            let say = array(line, "say").iter().map(|it| text(&it["text"])).collect::<String>();
                            worked.insert((format!("{sheet}: {say}"), post(letter), text(&row["ratio"]).into()));
                        }
                    }
                }
            }
            listed.extend(kind.low.iter().map(|it| crate::extend::spans(&it.say)));
            listed.extend(kind.fits.iter().map(|it| crate::extend::spans(&it.say)));
        }
        for post in array(&json, "posts") {
            let ratio = |limit: &Value| limit["ratio"].as_f64();
            for limit in array(post, "limits") {
                let name = format!("{}: {}", text(&limit["sheet"]), text(&limit["limit"]).replace('`', ""));
                let is_worked = worked.iter().any(|(known, ..)| *known == name);
                // One of several uses of a sheet says which it is.
                let limit_words = text(&limit["limit"]).replace('`', "");
                let says = |say: &str| say == limit_words || say.starts_with(&format!("{limit_words} ("));
                let is_listed = listed.iter().any(|say| says(&say.replace('`', "")));
                assert!(is_worked || is_listed || text(&limit["limit"]).contains('`'), "{job}: {name} is nowhere");
                if ratio(limit).is_some_and(|ratio| ratio >= 0.5) {
                    assert!(is_worked, "{job}: {name} of half or more is not worked");
                }
            }
            // What loads press on hardest stands there with its own numbers.
            let pressed = array(post, "limits").iter().filter(|limit| !text(&limit["combination"]).is_empty());
            let governing =
                pressed.max_by(|a, b| ratio(a).unwrap_or(0.0).total_cmp(&ratio(b).unwrap_or(0.0))).expect("a limit");
            let shown = format!("{:.3}", ratio(governing).expect("a ratio"));
            let name = format!("{}: {}", text(&governing["sheet"]), text(&governing["limit"]));
            let there = worked.iter().any(|(known, post_of, ratio)| {
                *known == name && *ratio == shown && post_of.split(", ").any(|mark| mark == text(&post["mark"]))
            });
            assert!(there, "{job}: {name} of {} is not worked with its numbers", post["mark"]);
        }
    }
}

/// Where a limit comes to the same in posts that differ, one of them is named, wherever
/// it is: in the ranks, beside the combination that governs it, where it is listed, and
/// where it is worked.
#[test]
fn of_equal_limits_one_governs_everywhere() {
    for job in JOBS {
        let (package, pages) = package_of(job);
        for it in package.governing.iter() {
            let same = |other: &&RankedLimit| {
                other.limit == it.limit && other.ratio == it.ratio && other.combination == it.name
            };
            let ranked: Vec<&RankedLimit> = package.ranking.limits.iter().filter(same).collect();
            let named: Vec<&str> = ranked.iter().map(|it| it.marks.as_str()).collect();
            assert!(ranked.is_empty() || named.contains(&it.marks.as_str()), "{job}: {it:?}, {named:?}");
        }
        for limit in package.ranking.limits.iter() {
            let listed = pages.worked.iter().flat_map(|kind| &kind.low).find(|low| low.no == limit.line);
            if let Some(low) = listed {
                assert!(low.post == limit.marks, "{job}: {limit:?}, {low:?}");
                continue;
            }
            let posts = pages.worked.iter().flat_map(|kind| {
                let lines = sections(kind).into_iter().flat_map(|section| array(&section, "lines").to_vec());
                let rows = lines.filter(|line| line["no"] == limit.line.as_str());
                let rows = rows.flat_map(|line| array(&line, "rows").to_vec());
                let rows = rows.filter(|row| row["ratio"] == limit.ratio.as_str());
                let letters = rows.flat_map(|row| array(&row, "at").to_vec());
                let post = |at: Value| {
                    let letter = text(&at).rsplit_once('@').map(|(_, letter)| letter.to_string());
                    kind.columns.iter().find(|it| Some(&it.letter) == letter.as_ref()).map(|it| it.post.clone())
                };
                letters.filter_map(post).collect::<Vec<_>>()
            });
            let posts: Vec<String> = posts.collect();
            assert!(posts.contains(&limit.marks), "{job}: {limit:?} is worked in {posts:?}");
        }
    }
}

#[test]
#[ignore = "for eyes"]
fn what_the_columns_are_for() {
    for job in JOBS {
        let pages = package_of(job).1;
        for kind in &pages.worked {
            println!("{job} {}", kind.title);
            for column in &kind.columns {
                let mut said = Vec::new();
                for section in sections(kind) {
                    for line in array(&section, "lines").iter().filter(|line| line["kind"] == "limit") {
                        for row in array(line, "rows") {
                            if array(row, "at").iter().any(|at| text(at).ends_with(&format!("@{}", column.letter))) {
                                said.push(format!(
                                    "{} {}",
                                    array(line, "say").iter().map(|it| text(&it["text"])).collect::<String>(),
                                    text(&row["ratio"])
                                ));
                            }
                        }
                    }
                }
                println!("  {} {} {}: {}", column.letter, column.post, column.what, said.join("; "));
            }
        }
    }
}
