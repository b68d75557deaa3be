//! Properties: units round-trip, lengths scale, the order of rows is nothing.

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;
use proptest::strategy::ValueTree;
use socle::quantity::{Decimals, Unit, Units, number, read};

use crate::support::{Job, cases, socle, stderr, stdout};

proptest! {
    #![proptest_config(cases(256))]

    #[test]
    fn units_round_trip(value in -1e6f64..1e6, at in 0..Unit::names().count()) {
        let name = Unit::names().nth(at).expect("a unit");
        let unit = Unit::simple(name).expect("a unit");
        let back = unit.from_base(unit.to_base(value));
        prop_assert!((back - value).abs() <= 1e-12 * value.abs());
    }

    #[test]
    fn lengths_read_back(sixteenths in 0u32..4000) {
        let inches = f64::from(sixteenths) / 16.0;
        let (whole, rest) = (sixteenths / 16, sixteenths % 16);
        let typed = [
            format!("{inches} in"),
            format!("{whole} {rest}/16 in"),
            format!("{whole}-{rest}/16\""),
            format!("{} ft {} in", whole / 12, f64::from(whole % 12) + f64::from(rest) / 16.0),
            format!("{}'-{} {rest}/16\"", whole / 12, whole % 12),
            format!("{} mm", inches * 25.4),
        ];
        for text in typed {
            let reading = read(&text, &Unit::all(&["in"]), None, Decimals::Point).expect(&text);
            prop_assert!((reading.quantity.value - inches).abs() < 1e-9, "{} is {}", text, reading.quantity.value);
        }
    }

    #[test]
    fn slopes_read_as_rise_over_run(rise in 0u32..24) {
        let reading = read(&format!("{rise}:12"), &Unit::all(&["deg"]), None, Decimals::Point).expect("a slope");
        let rise = f64::from(rise) / 12.0;
        prop_assert!((reading.quantity.value.tan() - rise).abs() < 1e-12);
    }

    #[test]
    fn printed_numbers_are_near(value in 1e-6f64..1e9, digits in 3usize..8) {
        let printed: f64 = number(value, digits).replace(',', "").parse().expect("a number");
        prop_assert!((printed - value).abs() <= 0.5000001 * 10f64.powi(1 - digits as i32) * value * 1.0001);
    }
}

/// What stands in a cell that nobody reads may be a quantity of any kind.
#[test]
fn powers_beyond_all_are_printed_in_metric_units() {
    for text in ["1 s/in^127/in/in", "2 lbf/in^127/ft", "3 in^127 in"] {
        assert!(Units::Metric.typed(text, None, Decimals::Point).is_some(), "{text}");
    }
}

#[test]
fn the_order_of_rows_is_nothing() {
    let job = Job::copy("creek-porch");
    let before = job.check_json();
    let text = job.read("posts.csv");
    let mut lines: Vec<&str> = text.lines().collect();
    lines[1..].reverse();
    job.write("posts.csv", lines.join("\n"));
    let after = job.check_json();
    for post in before["posts"].as_array().expect("posts") {
        let other =
            after["posts"].as_array().expect("posts").iter().find(|other| other["mark"] == post["mark"]).expect("it");
        assert_eq!(post["limits"], other["limits"]);
        assert_eq!(post["values"], other["values"]);
    }
}

/// The ratios of a job by post and limit.
fn ratios_of(json: &serde_json::Value) -> BTreeMap<String, f64> {
    let mut ratios = BTreeMap::new();
    for post in json["posts"].as_array().expect("posts") {
        for limit in post["limits"].as_array().expect("limits") {
            // ACI 318-19 17.8 asks for one of two limits, by how large the parts are.
            let either = limit["sheet"] == "anchor-interaction";
            let what = if either { "either" } else { limit["limit"].as_str().expect("a limit") };
            let name = format!("{} {} {what}", post["mark"], limit["sheet"]);
            // A sheet that is used twice is held to the heavier one.
            let ratio = ratios.entry(name).or_insert(0.0f64);
            *ratio = ratio.max(limit["ratio"].as_f64().unwrap_or(0.0));
        }
    }
    ratios
}

/// A load other than dead load that grows in one case, whatever the case, never
/// lowers a ratio: the combinations without it are checked as well.
#[test]
fn a_larger_load_never_lowers_a_ratio() {
    let (mut compared, mut grew) = (0, 0);
    for (name, case) in [
        ("creek-porch", "S"),
        ("creek-porch", "Lr"),
        ("creek-porch", "W"),
        ("cart-barn", "S"),
        ("cart-barn", "L"),
        ("cart-barn", "W1"),
        ("cart-barn", "W2"),
        ("cart-barn", "E_x"),
    ] {
        let job = Job::copy(name);
        let before = ratios_of(&job.check_json());
        let file = if name == "cart-barn" { "reactions.csv" } else { "posts.csv" };
        let text = job.read(file);
        let header: Vec<&str> = text.lines().next().expect("a header").split(',').collect();
        let grown = |row: &str| -> String {
            let cells: Vec<&str> = row.split(',').collect();
            let here = |at: usize| match file {
                "reactions.csv" => cells[1] == case && at >= 2,
                _ => header[at].split(' ').next().is_some_and(|name| name.ends_with(&format!("_{case}"))),
            };
            let grow = |(at, cell): (usize, &&str)| match cell.parse::<f64>() {
                Ok(value) if here(at) => (value * 1.15).to_string(),
                _ => cell.to_string(),
            };
            cells.iter().enumerate().map(grow).collect::<Vec<_>>().join(",")
        };
        let rows: Vec<String> = text.lines().skip(1).map(grown).collect();
        let larger = format!("{}\n{}\n", header.join(","), rows.join("\n"));
        assert_ne!(larger, text, "{name} has no load {case} to grow");
        job.write(file, larger);
        let after = job.check_json();
        // A post that tips is told so, and its pad is worked no farther.
        let fits =
            |post: &serde_json::Value| post["fits"].as_array().expect("fits").iter().all(|fit| fit["ok"] == true);
        let posts = after["posts"].as_array().expect("posts").iter();
        let tipped: Vec<String> = posts.filter(|post| !fits(post)).map(|post| post["mark"].to_string()).collect();
        let after = ratios_of(&after);
        for (limit, ratio) in &before {
            if tipped.iter().any(|mark| limit.starts_with(&format!("{mark} "))) {
                continue;
            }
            // Uplift takes from the pressed side of a post that wind bends (NDS 3.9.1).
            if limit.ends_with("bending, less tension") {
                continue;
            }
            let Some(now) = after.get(limit) else { continue };
            assert!(*now >= ratio - 1e-9, "{name}, {case}: {limit} falls from {ratio} to {now}");
            compared += 1;
            grew += usize::from(*now > ratio + 1e-9);
        }
    }
    assert!(compared > 1000 && grew > 100, "{compared} {grew}");
}

/// The highest ratio of each limit that loads enter, by post, sheet and limit.
fn loaded(json: &serde_json::Value) -> BTreeMap<String, f64> {
    let mut ratios = BTreeMap::new();
    for post in json["posts"].as_array().expect("posts") {
        let limits = post["limits"].as_array().expect("limits").iter();
        for limit in limits.filter(|limit| limit["combination"] != "") {
            let ratio = ratios.entry(format!("{} {} {}", post["mark"], limit["sheet"], limit["limit"])).or_insert(0.0);
            *ratio = f64::max(*ratio, limit["ratio"].as_f64().unwrap_or(0.0));
        }
    }
    ratios
}

/// A kind of load that a job comes to have never lowers a ratio of any limit,
/// whichever way it acts: every combination is worked without it too.
#[test]
fn one_more_load_case_never_lowers_a_ratio() {
    let (mut compared, mut grew) = (0, 0);
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    for kind in ["L", "Lr", "S", "R", "W", "E"] {
        let with = Job::copy("cart-barn");
        let text = with.read("reactions.csv");
        let marks: BTreeSet<&str> = text.lines().skip(1).filter_map(|row| row.split(',').next()).collect();
        let mut rows = vec![text.lines().next().expect("a header").to_string()];
        for mark in marks {
            for case in ["D", "L", "Lr", "S", "R", "W1", "W2", "E_x", "E_y"] {
                let mut draw = |most: f64| {
                    let range = if case == "D" { 0.5 * most..most } else { -most..most };
                    range.new_tree(&mut runner).expect("a number").current().round()
                };
                let shear = if case.starts_with(['W', 'E']) { 600.0 } else { 60.0 };
                let wind = match case {
                    "W1" => "26,0",
                    "W2" => "0,26",
                    _ => "0,0",
                };
                let forces = [draw(2000.0), draw(shear), draw(shear)].map(|it| it.to_string());
                rows.push(format!("{mark},{case},{},{wind}", forces.join(",")));
            }
        }
        with.edit("job.toml", "R = \"the roof drains freely\"", "");
        with.write("reactions.csv", rows.join("\n"));
        let without = Job::copy("cart-barn");
        without.edit("job.toml", "R = \"the roof drains freely\"", &format!("{kind} = \"none, for a test\""));
        let of_kind = |row: &&String| {
            row.split(',').nth(1).is_some_and(|case| match kind {
                "W" | "E" => case.starts_with(kind),
                _ => case == kind,
            })
        };
        let kept: Vec<&str> = rows.iter().filter(|row| !of_kind(row)).map(String::as_str).collect();
        without.write("reactions.csv", kept.join("\n"));
        let (before, after) = (loaded(&without.check_json()), loaded(&with.check_json()));
        for (limit, ratio) in &before {
            let now = after[limit];
            assert!(now >= *ratio, "{kind}: {limit} falls from {ratio} to {now}");
            compared += 1;
            grew += usize::from(now > *ratio);
        }
    }
    assert!(compared > 1000 && grew > 100, "{compared} {grew}");
}

#[test]
fn a_closed_pipe_is_no_failure() {
    let output = std::process::Command::new("sh")
        .args(["-c", &format!("{} sheets | head -1", env!("CARGO_BIN_EXE_socle"))])
        .output()
        .expect("a shell");
    assert!(!stdout(&output).is_empty());
    assert!(stderr(&output).is_empty(), "{}", stderr(&output));
}

/// Rows of the check values of a sheet, as arguments of `work`.
fn known_inputs(sheet: &str) -> Vec<Vec<(String, String)>> {
    let mut all = Vec::new();
    let folder = crate::support::root().join("tests/check-values");
    let mut files: Vec<_> =
        std::fs::read_dir(folder).expect("check values").map(|e| e.expect("an entry").path()).collect();
    files.sort();
    for path in files
        .iter()
        .filter(|path| path.file_name().is_some_and(|n| n.to_string_lossy().starts_with(&format!("{sheet}--"))))
    {
        let text = std::fs::read_to_string(path).expect("a file");
        let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).flexible(true).from_reader(text.as_bytes());
        let header: Vec<String> = reader.headers().expect("a header").iter().map(String::from).collect();
        let about = ["id", "tolerance", "tolerance_kind", "source", "kind", "note"];
        for row in reader.records().step_by(7).take(12) {
            let row = row.expect("a row");
            let cells = header.iter().zip(row.iter()).filter(|(name, cell)| {
                !cell.is_empty() && !about.contains(&name.as_str()) && !name.starts_with("expect ")
            });
            let cells = cells.map(|(name, cell)| {
                let (name, unit) =
                    name.split_once('[').map_or((name.trim(), ""), |(n, u)| (n.trim(), u.trim_end_matches(']')));
                (name.to_string(), format!("{cell} {unit}").trim().to_string())
            });
            all.push(cells.collect());
        }
    }
    all
}

fn work(sheet: &str, inputs: &[(String, String)]) -> Option<serde_json::Value> {
    let args: Vec<String> = inputs.iter().map(|(name, value)| format!("{name}={value}")).collect();
    let all: Vec<&str> = ["work", sheet].into_iter().chain(args.iter().map(String::as_str)).chain(["--json"]).collect();
    let output = socle(&all);
    matches!(output.status.code(), Some(0 | 1)).then(|| serde_json::from_slice(&output.stdout).expect("JSON"))
}

/// The sheets that have check values.
fn known_sheets() -> BTreeSet<String> {
    let folder = std::fs::read_dir(crate::support::root().join("tests/check-values")).expect("check values");
    let names = folder.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned());
    names
        .filter_map(|name| Some(name.split_once("--")?.0.to_string()))
        .filter(|name| name != "tables" && name != "combinations")
        .collect()
}

/// A reduction factor that is made smaller never lowers the ratio of a limit of
/// loads, nor raises an adjusted value, in any sheet that has such factors.
#[test]
fn no_reduction_factor_raises_a_capacity() {
    let factors =
        ["C_M", "C_t", "C_i", "C_F", "C_M_v", "C_t_v", "C_fu", "C_D", "C_g", "C_Delta", "C_eg", "lambda_a", "phi"];
    let (mut compared, mut sheets) = (0, BTreeSet::new());
    for sheet in &known_sheets() {
        let with = known_inputs(sheet)
            .into_iter()
            .filter(|inputs| inputs.iter().any(|(name, _)| factors.contains(&name.as_str())));
        for inputs in with.take(5) {
            let Some(before) = work(sheet, &inputs) else { continue };
            for at in (0..inputs.len()).filter(|at| factors.contains(&inputs[*at].0.as_str())) {
                let mut lower = inputs.clone();
                let value: f64 = lower[at].1.parse().expect("a factor");
                lower[at].1 = (value * 0.85).to_string();
                // A clause may leave no smaller one, and refuse it.
                let Some(after) = work(sheet, &lower) else { continue };
                let ratios = |json: &serde_json::Value| -> Vec<f64> {
                    json["limits"]
                        .as_array()
                        .expect("limits")
                        .iter()
                        .map(|l| l["ratio"].as_f64().unwrap_or(0.0))
                        .collect()
                };
                let (a, b) = (ratios(&before), ratios(&after));
                if a.len() == b.len() {
                    let worse = a.iter().zip(&b).all(|(a, b)| *b >= a - 1e-12);
                    assert!(worse, "{sheet} {:?}: {a:?} {b:?}", lower[at]);
                    compared += 1;
                    sheets.insert(sheet.clone());
                }
                for (name, value) in before["values"].as_object().expect("values") {
                    let pair = (value["value"].as_f64(), after["values"][name]["value"].as_f64());
                    if let ((Some(before), Some(after)), true) = (pair, name.ends_with('\'')) {
                        let falls = after <= before + 1e-9 * before.abs();
                        assert!(falls, "{sheet} {:?}: {name} rises from {before} to {after}", lower[at]);
                    }
                }
            }
        }
    }
    assert!(compared > 100 && sheets.len() > 10, "{compared} {sheets:?}");
}

/// Lengths by a factor and forces by its square leave every stress, and so
/// every ratio, as it was, in the sheets whose formulas hide no unit.
#[test]
fn ratios_do_not_depend_on_size() {
    let k = 1.5;
    for sheet in ["column", "end-bearing", "pin-yield", "block-shear", "column-bending", "shear-at-pins"] {
        let (mut compared, mut ratios) = (0, 0);
        for inputs in known_inputs(sheet).into_iter().take(6) {
            let scaled: Vec<(String, String)> = inputs
                .iter()
                .map(|(name, value)| {
                    let Some((number, unit)) = value.split_once(' ') else { return (name.clone(), value.clone()) };
                    let Ok(number) = number.parse::<f64>() else { return (name.clone(), value.clone()) };
                    let power = match unit {
                        "in" | "ft" => 1,
                        "lbf" | "kip" => 2,
                        "lbf ft" | "lbf in" | "kip in" | "kip ft" => 3,
                        _ => 0,
                    };
                    (name.clone(), format!("{} {unit}", number * f64::powi(k, power)))
                })
                .collect();
            let one = work(sheet, &inputs).expect("it works");
            // A clause may cover no pin that large.
            let Some(two) = work(sheet, &scaled) else { continue };
            for (a, b) in
                one["limits"].as_array().expect("limits").iter().zip(two["limits"].as_array().expect("limits"))
            {
                let (Some(a), Some(b)) = (a["ratio"].as_f64(), b["ratio"].as_f64()) else { continue };
                assert!((a - b).abs() <= 1e-9 * a.abs().max(1.0), "{sheet}: {a} {b}");
                ratios += 1;
            }
            for (name, value) in one["values"].as_object().expect("values") {
                let unit = value["unit"].as_str().unwrap_or("");
                let (Some(a), Some(b)) = (value["value"].as_f64(), two["values"][name]["value"].as_f64()) else {
                    continue;
                };
                let power = match unit {
                    "" | "psi" | "ksi" | "deg" => 0,
                    "in" | "ft" => 1,
                    "lbf" | "kip" | "in^2" => 2,
                    "lbf ft" | "lbf in" | "kip in" | "kip ft" | "in^3" => 3,
                    _ => continue,
                };
                // The term for small diameters has a size of its own; it is not taken here.
                if name == "K_D" {
                    continue;
                }
                let wanted = a * f64::powi(k, power);
                assert!((b - wanted).abs() <= 1e-9 * wanted.abs().max(1e-12), "{sheet} {name}: {a} {b}");
                compared += 1;
            }
        }
        let limited = !["pin-yield", "block-shear"].contains(&sheet);
        assert!(compared > 5 && (ratios > 0) == limited, "{sheet}: {compared} values and {ratios} ratios compared");
    }
}

fn anchor(n: u32, spacing: f64, edge: f64) -> f64 {
    let inputs = [
        ("f_c'", "3000 psi".to_string()),
        ("h_ef", "6 in".into()),
        ("k_c", "24".into()),
        ("n_x", n.to_string()),
        ("n_y", "1".into()),
        ("s_x", format!("{spacing} in")),
        ("s_y", "0 in".into()),
        ("c_x1", format!("{edge} in")),
        ("c_x2", "40 in".into()),
        ("c_y1", "40 in".into()),
        ("c_y2", "40 in".into()),
    ];
    let inputs: Vec<(String, String)> = inputs.into_iter().map(|(name, value)| (name.to_string(), value)).collect();
    let json = work("anchor-breakout", &inputs).expect("it works");
    json["values"]["N_cbg"]["value"].as_f64().expect("a number")
}

/// An edge that moves closer never raises what an anchor holds, and two anchors
/// three depths apart hold twice as much as one.
#[test]
fn anchors_near_edges_and_far_apart() {
    let one = anchor(1, 0.0, 40.0);
    assert!((anchor(2, 18.0, 40.0) / one - 2.0).abs() < 1e-12);
    let mut last = f64::INFINITY;
    for edge in [40.0, 12.0, 9.0, 7.0, 5.0, 3.0, 2.0] {
        let now = anchor(1, 0.0, edge);
        assert!(now <= last, "{edge}");
        last = now;
    }
    assert!(last < one);
}
