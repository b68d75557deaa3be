//! Starter values, and the new jobs that are made of them.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use serde_json::Value as Json;

use crate::metric::imperial;
use crate::support::{Job, limit, one_line, root, socle, stderr, stdout};

/// What is open of a kind in a job.
fn open<'a>(json: &'a Json, asks: &str) -> Vec<&'a Json> {
    json["open"].as_array().expect("open").iter().filter(|it| it["asks"] == asks).collect()
}

fn check(folder: &Path) -> (Option<i32>, Json) {
    let output = socle(&["check".as_ref(), folder.as_os_str(), "--json".as_ref()]);
    (output.status.code(), serde_json::from_str(&stdout(&output)).unwrap_or_else(|_| panic!("{}", stderr(&output))))
}

/// The pergola with marks in each place where a value can stand.
fn marked() -> Job {
    let job = Job::copy("orchard-pergola");
    for (from, to) in [
        ("name = \"Orchard pergola\"", "name = \"Orchard pergola ?\""),
        ("date = \"2026-11-02\"\nrevision", "date = \"2026-11-02 ?\"\nrevision"),
        ("basis = \"IBC 2021\"", "basis = \"IBC 2021 ?\""),
        ("wind = \"as given\"", "wind = \"as given ?\""),
        ("L = \"no floor and no storage above\"", "L = \"no floor and no storage above ?\""),
        ("V = \"115 mph\"", "V = \"115 mph ?\""),
        ("S_S = 0.264", "S_S = \"0.264 ?\""),
    ] {
        job.edit("job.toml", from, to);
    }
    for mark in ["A1", "B1"] {
        let row = if mark == "A1" { "knife 8 ?" } else { "knife 6 ?" };
        job.set("posts.csv", mark, "height", "9 ?").set("posts.csv", mark, "base", row);
        job.set("posts.csv", mark, "grade", if mark == "A1" { "No.1 ?" } else { "Select Structural ?" });
    }
    job.set("bases.csv", "knife 6", "standoff", "2 ?");
    job.set("anchors.csv", "rod 1/2", "rod_grade", "F1554 Grade 36 ?");
    job.set("posts.csv", "A2", "x", "16 ?");
    job
}

/// A value is read without its mark, in every kind of place, and is open as long as
/// it has one: nothing else changes.
#[test]
fn a_marked_value_is_read_and_open() {
    let (plain, job) = (Job::copy("orchard-pergola").check_json(), marked());
    let json = job.check_json();
    assert_eq!(json["posts"], plain["posts"]);
    let starters = open(&json, "starter");
    let say = |it: &&Json| format!("{}.{} {}", it["of"], it["key"], it["value"]).replace('"', "");
    let said: Vec<String> = starters.iter().map(say).collect();
    let wanted = [
        "anchors.rod 1/2.rod_grade F1554 Grade 36",
        "bases.knife 6.standoff 2 in",
        "code.basis IBC 2021",
        "job.date 2026-11-02",
        "job.name Orchard pergola",
        "loads.wind as given",
        "loads.none.L no floor and no storage above",
        "posts.base knife 8, knife 6",
        "posts.grade No.1, Select Structural",
        "posts.height 9 ft",
        "posts.x 16 ft",
        "seismic.S_S 0.264",
        "site.V 115 mph",
    ];
    assert_eq!(said, wanted);
    assert_eq!(starters[1]["posts"], serde_json::json!(["B1", "B3"]), "those that stand on it");
    assert_eq!(starters[9]["posts"], serde_json::json!(["A1", "B1"]));
    assert_eq!(starters[12]["what"], "basic wind speed for the risk category");
    assert!(json["headline"].as_str().expect("a headline").ends_with("and 13 starter values."), "{}", json["headline"]);
    assert_eq!(json["verdict"], "met, subject to what is open");
    for other in ["decision", "confirmation", "assumption"] {
        assert_eq!(open(&json, other), open(&plain, other));
    }
    let printed = stdout(&socle(&["check".as_ref(), job.path().as_os_str(), "--open".as_ref()]));
    let printed = one_line(&printed);
    assert!(printed.contains("# bases.csv, knife 6: # standoff = \"2 in\""), "{printed}");
    assert!(printed.contains("# job.toml, under [site]: # V = \"115 mph\" (basic wind speed for"), "{printed}");
    // On the page of what is open they have numbers, posts and room for initials.
    let (package, _) = crate::jobs::package_in(&job.path());
    let starters = &package.open.starters;
    assert_eq!(starters.iter().map(|it| it.values.len()).sum::<usize>(), wanted.len());
    let height = ("height".to_string(), "9 ft".to_string());
    let with_height = starters.iter().find(|it| it.values.contains(&height)).expect("the height");
    assert_eq!(with_height.posts, "A1, B1");
    // A new job has one line for a row of a catalogue.
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shed");
    assert!(socle(&["new".as_ref(), path.as_os_str(), "--like".as_ref(), "carport".as_ref()]).status.success());
    let (package, _) = crate::jobs::package_in(&path);
    let places: Vec<&str> = package.open.starters.iter().map(|it| it.place.as_str()).collect();
    assert_eq!(places.iter().filter(|place| place.starts_with("bases.csv")).count(), 1, "{places:?}");
    assert!(package.open.starters.len() < 16, "{places:?}");
}

/// A decision that carries a mark has not been taken.
#[test]
fn a_marked_decision_is_no_answer() {
    let job = Job::copy("orchard-pergola");
    let block = |by: &str| {
        format!(
            "\n[[decisions]]\nwhat = \"snow on open slats, as a fraction of their plan\"\nvalue = \"snow_share 0.5\"\nby = \"{by}\"\nlicence = \"PE 1, demo\"\ndate = \"2026-11-20\"\n"
        )
    };
    let toml = job.read("job.toml");
    let count = |by: &str| {
        job.write("job.toml", format!("{toml}{}", block(by)));
        open(&job.check_json(), "decision").len()
    };
    assert_eq!(count("E. Engineer ?"), count("E. Engineer") + 1);
}

/// A question mark alone is no value: what is wanted is said in the words of the
/// column, once for a column, and nothing else is said of it.
#[test]
fn a_bare_question_mark_is_told_what_is_wanted() {
    let job = Job::copy("orchard-pergola");
    job.set("posts.csv", "A1", "height", "?").set("posts.csv", "B1", "height", " ? ");
    job.edit("job.toml", "V = \"115 mph\"", "V = \"?\"");
    job.edit("job.toml", "half_inch = \"yes\"", "half_inch = \" ?\"");
    let said = job.diagnostic();
    for wanted in [
        "`height` has a question mark and no value",
        "expected: height from the base to the beam (length, ",
        "the same in 2 cells of this column",
        "`V` has a question mark and no value",
        "expected: basic wind speed for the risk category (speed [mph], >= 80 mph, <= 250 mph)",
        "`half_inch` has a question mark and no value",
    ] {
        assert!(one_line(&said).contains(wanted), "{wanted}: {said}");
    }
    assert!(said.contains("3 things to fix"), "{said}");
}

/// A column of one's own may ask what it likes.
#[test]
fn a_column_of_ones_own_is_no_starter_value() {
    let job = Job::copy("orchard-pergola");
    let posts = job.read("posts.csv");
    let rows =
        posts.lines().enumerate().map(|(at, row)| format!("{row},{}\n", if at == 0 { "my note" } else { "ok ?" }));
    job.write("posts.csv", rows.collect::<String>());
    assert_eq!(open(&job.check_json(), "starter").len(), 0);
}

/// A new job in a folder of its own, and what was said.
fn new(dir: &Path, args: &[&str]) -> (PathBuf, String) {
    let folder = dir.join(args.join("").replace("--", "-"));
    let mut all = vec!["new".to_string(), folder.display().to_string()];
    all.extend(args.iter().map(|arg| arg.to_string()));
    let output = socle(&all);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    (folder, stdout(&output))
}

fn files(folder: &Path) -> BTreeMap<String, String> {
    let entries = std::fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry"));
    let read = |entry: std::fs::DirEntry| {
        let name = entry.file_name().to_string_lossy().into_owned();
        (name, std::fs::read_to_string(entry.path()).expect("a text"))
    };
    entries.map(read).collect()
}

/// All kinds of new jobs are met as they are written, without a note or an error, on
/// starter values alone; the marks taken away, on the same numbers, without any.
#[test]
fn every_new_job_works_at_once() {
    let dir = tempfile::tempdir().expect("a folder");
    let mut seen = 0;
    for like in ["pergola", "carport", "porch", "barn"] {
        for base in ["made", "rated"] {
            for units in ["imperial", "metric"] {
                for reactions in [false, true] {
                    let mut args = vec!["--like", like, "--base", base, "--units", units];
                    args.extend(reactions.then_some("--reactions"));
                    let (folder, said) = new(dir.path(), &args);
                    let plain = socle(&["check".as_ref(), folder.as_os_str()]);
                    assert_eq!(stderr(&plain), "", "{args:?}");
                    assert!(said.contains("socle check") && said.contains("socle package"), "{said}");
                    let (code, json) = check(&folder);
                    let headline = json["headline"].as_str().expect("a headline");
                    assert_eq!(code, Some(0), "{args:?}: {headline}");
                    let starters = open(&json, "starter").len();
                    assert!(starters > 80 && headline.contains(&format!("{starters} starter values")), "{headline}");
                    let texts = files(&folder);
                    assert_eq!(texts.contains_key("reactions.csv"), reactions);
                    assert_eq!(texts.contains_key("anchors.csv"), like != "porch");
                    for (name, text) in &texts {
                        assert!(
                            text.lines().all(|line| !line.starts_with('#') || line.chars().count() <= 100),
                            "{name}"
                        );
                        let foreign = |line: &&str| match units {
                            "metric" => line.starts_with('#') && imperial(line).is_some() || line.contains(" [in]"),
                            _ => line.contains("mm]"),
                        };
                        assert_eq!(text.lines().find(foreign), None, "{args:?} {name}");
                        std::fs::write(folder.join(name), text.replace(" ?", "")).expect("written");
                    }
                    let (code, answered) = check(&folder);
                    assert_eq!((code, open(&answered, "starter").len()), (Some(0), 0), "{args:?}");
                    assert_eq!(json["posts"], answered["posts"], "{args:?}");
                    seen += 1;
                }
            }
        }
    }
    assert_eq!(seen, 32);
}

/// Only what a kind of base needs stands in its file, and every column and key has
/// its words.
#[test]
fn a_new_job_says_what_each_value_is() {
    let dir = tempfile::tempdir().expect("a folder");
    let (folder, _) = new(dir.path(), &["--like", "carport", "--base", "rated"]);
    let texts = files(&folder);
    let rows = |name: &str| texts[name].lines().filter(|line| !line.starts_with('#')).collect::<Vec<_>>();
    let bases = rows("bases.csv")[0];
    assert!(bases.contains("download [lbf]") && !bases.contains("blade") && !bases.contains("floor_screw"), "{bases}");
    for name in ["posts.csv", "bases.csv", "foundations.csv", "anchors.csv"] {
        for heading in rows(name)[0].split(',') {
            let said = texts[name].lines().any(|line| {
                line.strip_prefix(&format!("#   {heading}: ")).is_some_and(|words| !words.trim().is_empty())
            });
            assert!(said, "{name}: nothing is said of {heading}");
        }
    }
    let toml = &texts["job.toml"];
    let lines: Vec<&str> = toml.lines().collect();
    for (at, line) in lines.iter().enumerate().filter(|(_, line)| line.contains(" = \"") && !line.starts_with('#')) {
        let reason = lines[..at].iter().rev().find(|line| line.starts_with('[')) == Some(&"[loads.none]");
        assert!(
            reason || lines[at - 1].starts_with("# ") && !lines[at - 1].contains(" = "),
            "nothing is said of {line}"
        );
    }
    assert!(
        toml.contains("# basic wind speed for the risk category; speed [mph], 80 mph or more, 250 mph at most\nV = ")
    );
    // What may be left out has its default, and is right when its `#` is taken away.
    assert!(toml.contains("1 assumed if left out\n# K_zt = \"1\"\n"), "{toml}");
    let (_, before) = check(&folder);
    std::fs::write(folder.join("job.toml"), toml.replace("# K_zt", "K_zt")).expect("written");
    let (code, after) = check(&folder);
    assert_eq!((code, &before["posts"]), (Some(0), &after["posts"]));
}

/// What a new job has as a comment, another way to say the same or a name of an analysis, is
/// right when its `#` is taken away.
#[test]
fn what_is_put_away_in_a_new_job_works() {
    let dir = tempfile::tempdir().expect("a folder");
    let (folder, _) = new(dir.path(), &["--reactions"]);
    let texts = files(&folder);
    let (_, before) = check(&folder);
    let mut toml = texts["job.toml"].clone();
    for (from, to) in [
        ("# [loads.cases]\n# \"Snow\" = ", "[loads.cases]\n\"Snow\" = "),
        ("# [loads.columns]\n# \"Joint\"", "[loads.columns]\n\"Joint\""),
        ("# \"FZ\" = ", "\"FZ\" = "),
        ("# \"-FX\" = ", "\"-FX\" = "),
        ("# S_DS = ", "S_DS = "),
        ("# S_D1 = ", "S_D1 = "),
        ("# sdc = ", "sdc = "),
        ("S_S = ", "# S_S = "),
        ("site_class = ", "# site_class = "),
        ("# V = ", "V = "),
        ("# dressed = ", "dressed = "),
    ] {
        assert!(toml.contains(from), "{from}\n{toml}");
        toml = toml.replacen(from, to, 1);
    }
    std::fs::write(folder.join("job.toml"), toml).expect("written");
    // The analysis has other names, and shears of the other sign.
    let row = |line: &str| {
        let mut cells: Vec<String> = line.split(',').map(String::from).collect();
        if let Some(shear) = cells.get_mut(3).filter(|_| !line.starts_with('#')) {
            *shear = if shear.starts_with("H_x") { shear.clone() } else { format!("-{shear}").replace("-0", "0") };
        }
        cells.join(",") + "\n"
    };
    let reactions: String = texts["reactions.csv"].lines().map(row).collect();
    let reactions = reactions.replace("\nmark,case,P [lbf],H_x [lbf]", "\nJoint,case,FZ [lbf],FX [lbf]");
    std::fs::write(folder.join("reactions.csv"), reactions.replace(",S,", ",Snow,")).expect("written");
    let posts =
        texts["posts.csv"].replace(",width [in],depth [in],", ",nominal,").replace(",7 1/2 ?,7 1/2 ?,", ",8x8,");
    std::fs::write(folder.join("posts.csv"), posts).expect("written");
    let (code, after) = check(&folder);
    assert_eq!(code, Some(0), "{}", stderr(&socle(&["check".as_ref(), folder.as_os_str()])));
    let shear = |json: &Json| limit(json, "A1", "shear normal to the blade on a cheek")["demand"].clone();
    assert_eq!(shear(&before), shear(&after));
}

/// The words of a new job on classes of soil say what the table of the code says.
#[test]
fn a_new_job_says_what_the_classes_of_soil_are() {
    let dir = tempfile::tempdir().expect("a folder");
    let (folder, _) = new(dir.path(), &[]);
    let said = one_line(&files(&folder)["job.toml"].replace("\n# ", " "));
    let (_, said) = said.split_once("By that table").expect("the classes");
    let table = std::fs::read_to_string(root().join("templates/tables/presumptive-soil.csv")).expect("the table");
    let rows: Vec<&str> = table.lines().filter(|line| line.starts_with("class ")).collect();
    assert_eq!(rows.len(), 5);
    for row in rows {
        // The material may have commas in quotes; numbers have none.
        let class = row.split(',').next().expect("a class");
        let numbers: Vec<&str> = row.split(',').filter(|cell| cell.parse::<f64>().is_ok()).collect();
        let (_, words) = said.split_once(class).expect("the class");
        let words = words.split(';').next().expect("words");
        assert!(words.contains(&format!("{} psf and {} psf/ft", numbers[0], numbers[1])), "{class}: {words}");
    }
}

/// A starter value that is taken away is asked for or has a default that is counted
/// as open: the job does not answer in its place.
#[test]
fn what_is_taken_out_of_a_new_job_is_asked_for() {
    let dir = tempfile::tempdir().expect("a folder");
    let (folder, _) = new(dir.path(), &["--like", "porch", "--reactions"]);
    let toml = std::fs::read_to_string(folder.join("job.toml")).expect("job.toml");
    let (_, whole) = check(&folder);
    let mut asked = 0;
    for line in toml.lines().filter(|line| line.ends_with(" ?\"") && !line.starts_with('#')) {
        std::fs::write(folder.join("job.toml"), toml.replacen(&format!("{line}\n"), "", 1)).expect("written");
        let (code, json) = check(&folder);
        let name = line.split(" = ").next().expect("a key");
        match code {
            Some(2) => {
                let output = socle(&["check".as_ref(), folder.as_os_str()]);
                assert!(stderr(&output).contains(name), "{line}: {}", stderr(&output));
                asked += 1;
            }
            _ => assert!(open(&json, "starter").len() < open(&whole, "starter").len(), "{line}: {}", json["headline"]),
        }
    }
    assert!(asked > 12, "{asked}");
}

#[test]
fn a_new_job_is_a_package_too() {
    let dir = tempfile::tempdir().expect("a folder");
    let (folder, _) = new(dir.path(), &["--units", "metric"]);
    let pdf = dir.path().join("new.pdf");
    let output = socle(&["package".as_ref(), folder.as_os_str(), "-o".as_ref(), pdf.as_os_str()]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    assert!(stdout(&output).contains("starter values") && pdf.is_file());
}

/// Nothing is written over.
#[test]
fn a_folder_that_is_not_empty_is_refused() {
    let dir = tempfile::tempdir().expect("a folder");
    std::fs::write(dir.path().join("mine.txt"), "mine").expect("written");
    let output = socle(&["new".as_ref(), dir.path().as_os_str()]);
    assert_eq!(output.status.code(), Some(2));
    assert!(stderr(&output).contains("is not empty; nothing was written"), "{}", stderr(&output));
    assert_eq!(files(dir.path()).len(), 1);
    let file = dir.path().join("mine.txt");
    let output = socle(&["new".as_ref(), file.as_os_str()]);
    assert!(stderr(&output).contains("is a file; nothing was written"), "{}", stderr(&output));
}
