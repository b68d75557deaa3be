//! A job in metric units: what it prints, and that it is worked like any other.

use serde_json::Value;
use socle::drawing::Drawing;
use socle::quantity::{Unit, Units};

use crate::drawings::unreadable;
use crate::jobs::{chapters, lines, package_in};
use crate::support::{Job, root, socle, stderr, stdout};

const JOB: &str = "tests/metric";

/// The metric job, to be changed.
fn copy() -> Job {
    Job::copy_from("tests", "metric")
}

/// What a publication, a file of the job or the code's own line says stays as it
/// is there; a formula is read by its words, not by its source.
const AS_PUBLISHED: [&str; 11] =
    ["src", "raw", "inputs", "sources", "source", "caution", "doubt", "cite", "table", "clauses", "codes"];

/// Every text of the model with the way to it, but for what is quoted.
fn texts(value: &Value, way: &str, raw: bool, found: &mut Vec<(String, String)>) {
    match value {
        Value::String(text) => found.push((way.into(), text.clone())),
        Value::Array(items) => items.iter().for_each(|item| texts(item, way, raw, found)),
        Value::Object(fields) => {
            let raw = raw || fields.get("raw").and_then(Value::as_str).is_some_and(|raw| !raw.is_empty());
            for (name, field) in fields {
                // Rows that wait to be held against the publication are told in its units.
                let row = way.ends_with("/open") && name == "values";
                if !(AS_PUBLISHED.contains(&name.as_str()) || row || raw && name == "substituted") {
                    texts(field, &format!("{way}/{name}"), raw, found);
                }
            }
        }
        _ => {}
    }
}

/// An inch, a foot or a pound in a text.
pub fn imperial(text: &str) -> Option<String> {
    const UNITS: [&str; 21] = [
        "ft", "lbf", "psi", "psf", "plf", "ksi", "kip", "pcf", "klf", "pli", "mph", "yd", "ft²", "ft³", "in²", "in³",
        "in⁴", "yd³", "feet", "inches", "pounds",
    ];
    if text == "in" || UNITS.contains(&text) || text.contains('″') {
        return Some(text.into());
    }
    let words: Vec<&str> = text.split(|c: char| !(c.is_alphanumeric() || ".,²³⁴".contains(c))).collect();
    let number = |word: &str| word.ends_with(|c: char| c.is_ascii_digit());
    let unit = |word: &str| UNITS.contains(&word) || word == "in";
    let stays = text.contains("No. 4 in") || text.contains(" in a row");
    words.windows(2).find(|pair| number(pair[0]) && unit(pair[1]) && !stays).map(|pair| pair.join(" "))
}

/// A moment on an inch has the dimension of a force, and is none.
#[test]
fn a_moment_on_a_length_has_its_unit() {
    let inch = Unit::parse("lbf in/in").expect("a unit");
    let metre = Units::Metric.print(&inch);
    assert_eq!((inch.pretty().as_str(), metre.pretty().as_str()), ("lbf·in/in", "kN·m/m"));
    // 1 in lbf on an inch: 4.448222 N, 0.0254 m on 0.0254 m.
    assert!((metre.from_base(1.0) - 4.448222e-3).abs() < 1e-9);
    let (_, pages) = package_in(&root().join(JOB));
    assert!(serde_json::to_string(&pages.worked).expect("a model").contains("kN·m/m"));
}

#[test]
fn a_metric_job_shows_no_inch_and_no_pound() {
    let (package, pages) = package_in(&root().join(JOB));
    let mut found = Vec::new();
    texts(&serde_json::to_value(&package).expect("JSON"), "", false, &mut found);
    for chapter in chapters(&pages) {
        texts(&serde_json::to_value(chapter).expect("JSON"), "chapter", false, &mut found);
    }
    for sheet in &pages.sheets {
        texts(&serde_json::to_value(sheet).expect("JSON"), "sheet", false, &mut found);
    }
    // A rule of thumb whose number is one of feet and degrees.
    let stays = |text: &str| text.contains("W/50 in ft");
    let wrong: Vec<String> = found
        .iter()
        .filter(|(_, text)| !stays(text))
        .filter_map(|(way, text)| Some(format!("{way}: `{}` in {text}", imperial(text)?)))
        .collect();
    assert!(found.len() > 5_000, "{} texts", found.len());
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), found.len(), wrong[..wrong.len().min(40)].join("\n"));
    assert_eq!(package.force, "kN");
}

/// `check` in metric units too, and messages.
#[test]
fn the_terminal_is_metric_too() {
    let output = socle(&["check", JOB, "--all"]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    let text = stdout(&output);
    let wrong: Vec<String> = text.lines().filter_map(|line| Some(format!("{} in {line}", imperial(line)?))).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(text.contains(" kN") && text.contains(" MPa") && text.contains(" mm"));

    let job = copy();
    job.edit("job.toml", "mean_height = \"2.9 m\"", "mean_height = 2.9").edit("job.toml", "\"51 m/s\"", "\"10 m/s\"");
    let output = socle(&["check", &job.path().display().to_string()]);
    assert_eq!(output.status.code(), Some(2));
    let text = stderr(&output);
    assert!(text.contains("expected a length, such as `2.9 m`"), "{text}");
    assert!(text.contains("is 10 m/s") && !text.contains("mph"), "{text}");
}

/// A post stands on a foot, and inches have fractions.
#[test]
fn words_that_are_no_units_stay() {
    for (said, metric) in [
        ("2.1 for a foot that is fixed", "2.1 for a foot that is fixed"),
        ("a bending member 3-1/2 in or thicker", "a bending member 88.9 mm or thicker"),
        ("1/2 in, or 1-1/4 to 2-1/2 in", "12.7 mm, or 31.75 to 63.5 mm"),
        ("force on an inch, load on a foot", "force on a millimeter, load on a meter"),
    ] {
        assert_eq!(Units::Metric.words(said), metric);
    }
}

#[test]
fn other_units_than_these_two_are_refused() {
    let job = copy();
    job.edit("job.toml", "units = \"metric\"", "units = \"SI\"");
    let output = socle(&["check", &job.path().display().to_string()]);
    assert_eq!(output.status.code(), Some(2));
    assert!(stderr(&output).contains("found `SI`; expected `imperial` or `metric`"), "{}", stderr(&output));
}

fn checked(job: &Job) -> Value {
    checked_with(job, 0)
}

fn checked_with(job: &Job, status: i32) -> Value {
    let output = socle(&["check", &job.path().display().to_string(), "--json"]);
    assert_eq!(output.status.code(), Some(status), "{}", stderr(&output));
    serde_json::from_str(&stdout(&output)).expect("JSON")
}

/// A value as somebody would give it who has a rule in inches.
fn in_inches(value: f64, unit: &str) -> Option<(f64, &'static str)> {
    const NEWTON: f64 = 4.4482216152605;
    let psi = NEWTON / (25.4 * 25.4) * 1e6;
    Some(match unit {
        "mm" => (value / 25.4, "in"),
        "m" => (value / 0.3048, "ft"),
        "kN" => (value * 1e3 / NEWTON, "lbf"),
        "MPa" => (value * 1e6 / psi, "psi"),
        "kPa" => (value * 1e3 / psi * 144.0, "psf"),
        "kN/m^3" => (value * 1e3 / NEWTON * 0.3048_f64.powi(3), "pcf"),
        "m/s" => (value / 0.44704, "mph"),
        _ => return None,
    })
}

fn csv_in_inches(text: &str) -> String {
    let mut lines = text.lines();
    let header: Vec<&str> = lines.next().expect("a header").split(',').collect();
    let units: Vec<&str> =
        header.iter().map(|name| name.split_once('[').map_or("", |(_, unit)| unit.trim_end_matches(']'))).collect();
    let named = header.iter().zip(&units).map(|(name, unit)| match in_inches(1.0, unit) {
        Some((_, inches)) => name.replace(unit, inches),
        None => name.to_string(),
    });
    let mut out = vec![named.collect::<Vec<_>>().join(",")];
    for line in lines {
        let cell = |(cell, unit): (&str, &&str)| {
            let value = cell.parse().ok().and_then(|value: f64| in_inches(value, unit));
            value.map_or(cell.to_string(), |(value, _)| format!("{value:?}"))
        };
        out.push(line.split(',').zip(&units).map(cell).collect::<Vec<_>>().join(","));
    }
    out.join("\n") + "\n"
}

fn toml_in_inches(text: &str) -> String {
    let line = |line: &str| {
        let value = line.split_once(" = \"").and_then(|(key, value)| {
            let (number, unit) = value.trim_end_matches('"').split_once(' ')?;
            let (value, unit) = in_inches(number.parse().ok()?, unit)?;
            Some(format!("{key} = \"{value:?} {unit}\""))
        });
        value.unwrap_or_else(|| line.replace("units = \"metric\"", "units = \"imperial\""))
    };
    text.lines().map(line).collect::<Vec<_>>().join("\n")
}

/// Two runs, but for values that are told in other units. Which of two combinations
/// governs that come to the same is left to the last digit, and with it what a limit
/// comes to beside its ratio.
fn same(metric: &Value, other: &Value, slack: f64, compared: &mut usize) {
    match (metric, other) {
        (Value::Object(a), Value::Object(b)) => {
            let tied = a.get("combination") != b.get("combination");
            let loose = |name: &str| match name {
                "digest" | "open" | "job" | "combination" => true,
                // An interval rests on how many digits were typed.
                "values" | "interval" | "close" | "reacts" | "steps" => slack > 0.0,
                "demand" | "capacity" => tied,
                _ => false,
            };
            for (name, value) in a.iter().filter(|(name, _)| !loose(name)) {
                same(value, b.get(name).unwrap_or_else(|| panic!("no {name}")), slack, compared);
            }
        }
        (Value::Array(a), Value::Array(b)) => {
            assert_eq!(a.len(), b.len());
            a.iter().zip(b).for_each(|(a, b)| same(a, b, slack, compared));
        }
        (Value::Number(a), Value::Number(b)) => {
            let (a, b) = (a.as_f64().expect("a number"), b.as_f64().expect("a number"));
            assert!((a - b).abs() <= slack * a.abs().max(b.abs()).max(1e-3), "{a} and {b}");
            *compared += 1;
        }
        _ => assert_eq!(metric, other),
    }
}

/// What a job is printed in changes no number, nor do the units it is typed in.
#[test]
fn a_metric_job_comes_to_the_same() {
    let metric = checked(&copy());
    let printed = copy();
    printed.edit("job.toml", "units = \"metric\"", "units = \"imperial\"");
    let mut compared = 0;
    same(&metric, &checked(&printed), 0.0, &mut compared);
    assert!(compared > 3_000, "{compared} numbers");

    let inches = copy();
    for file in ["posts.csv", "bases.csv", "foundations.csv", "anchors.csv"] {
        inches.write(file, csv_in_inches(&inches.read(file)));
    }
    inches.write("job.toml", toml_in_inches(&inches.read("job.toml")));
    compared = 0;
    same(&metric, &checked(&inches), 1e-9, &mut compared);
    assert!(compared > 1_000, "{compared} numbers");
}

/// What a frame analysis exports: a title row, semicolons, decimal commas, units in
/// round brackets.
#[test]
fn an_export_in_kilonewtons_is_read() {
    let job = Job::copy("cart-barn");
    let inches = checked_with(&job, 1);
    let newtons = 4.4482216152605;
    for (unit, size) in [("kN", newtons * 1e-3), ("daN", newtons * 0.1)] {
        let mut out =
            format!("Export\n\nmark;case;P ({unit});H_x ({unit});H_y ({unit});w_x ({unit}/m);w_y ({unit}/m)\n");
        for line in
            std::fs::read_to_string(root().join("fixtures/cart-barn/reactions.csv")).expect("a file").lines().skip(1)
        {
            let cell = |(at, cell): (usize, &str)| match cell.parse::<f64>() {
                Ok(value) => format!("{:?}", value * size / if at < 5 { 1.0 } else { 0.3048 }).replace('.', ","),
                Err(_) => cell.to_string(),
            };
            out += &(line.split(',').enumerate().map(cell).collect::<Vec<_>>().join(";") + "\n");
        }
        job.write("reactions.csv", out);
        let mut compared = 0;
        same(&inches, &checked_with(&job, 1), 1e-9, &mut compared);
        assert!(compared > 1_000, "{compared} numbers");
    }
}

/// A decision on a value holds, however the job is printed.
#[test]
fn a_decision_holds_in_other_units() {
    let job = copy();
    let decision = |value: &str| {
        format!(
            "\n[[decisions]]\nwhat = \"vertical wind on open slats\"\nvalue = \"{value}\"\nby = \"A. Engineer\"\nlicence = \"1\"\ndate = \"2026-11-20\"\n"
        )
    };
    let text = job.read("job.toml");
    for (value, holds) in
        [("p_v 0.6 kPa", true), ("p_v 12.53 psf", true), ("p_v 12.6 psf", false), ("p_v 0.61 kPa", false)]
    {
        job.write("job.toml", format!("{text}{}", decision(value)));
        let output = socle(&["check", &job.path().display().to_string(), "--open"]);
        let open = stdout(&output).contains("what = \"vertical wind on open slats\"");
        assert_eq!(!open, holds, "{value}: {}{}", stdout(&output), stderr(&output));
    }
}

/// A4, and no drawing wider than it is.
#[test]
fn a_metric_job_is_on_a4() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("metric.pdf");
    let output = socle(&["package", JOB, "-o", &path.display().to_string()]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    let pdf = lopdf::Document::load(&path).expect("a PDF");
    for (no, page) in pdf.get_pages() {
        let page = pdf.get_dictionary(page).expect("a page");
        let side = |at: usize| {
            page.get(b"MediaBox").and_then(|it| it.as_array()).expect("a size")[at].as_float().expect("points")
        };
        assert!(
            (side(2) - 595.28).abs() < 0.1 && (side(3) - 841.89).abs() < 0.1,
            "page {no}: {} × {}",
            side(2),
            side(3)
        );
    }
    let (package, pages) = package_in(&root().join(JOB));
    let drawings: Vec<&Drawing> = lines(&pages)
        .filter_map(|line| match line {
            socle::package::Line::Figure { drawing, .. } => Some(drawing),
            _ => None,
        })
        .chain(package.shop.iter().chain(&package.field).flat_map(|sheet| sheet.drawings()))
        .chain(&package.plan.drawing)
        .chain(package.load_path.as_ref().map(|path| &path.drawing))
        .collect();
    assert!(drawings.len() > 5, "{} drawings", drawings.len());
    for drawing in drawings {
        assert!(drawing.width <= 507.3, "{} is {} wide", drawing.alt, drawing.width);
        assert!(drawing.scale.is_empty() || drawing.scale.starts_with("1:"), "{}", drawing.scale);
        assert_eq!(unreadable(drawing), None, "{}", drawing.alt);
    }
}
