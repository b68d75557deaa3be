//! Properties: units round-trip, lengths scale, the order of rows is nothing.

use proptest::prelude::*;
use socle::quantity::{Dim, Unit, number, read};

use crate::support::{Job, socle, stderr, stdout};

proptest! {
    #[test]
    fn units_round_trip(value in -1e6f64..1e6, at in 0usize..28) {
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
            let reading = read(&text, Dim::LENGTH, None, false).expect(&text);
            prop_assert!((reading.quantity.value - inches).abs() < 1e-9, "{} is {}", text, reading.quantity.value);
        }
    }

    #[test]
    fn printed_numbers_are_near(value in 1e-6f64..1e9, digits in 3usize..8) {
        let printed: f64 = number(value, digits).replace(',', "").parse().expect("a number");
        prop_assert!((printed - value).abs() <= 0.5000001 * 10f64.powi(1 - digits as i32) * value * 1.0001);
    }
}

/// Doubling every length of a pin with the angle at zero quadruples its yield
/// loads: stresses are the same, areas are four times as large.
#[test]
fn yield_loads_scale_with_area() {
    let run = |scale: f64| -> serde_json::Value {
        let args: Vec<String> = [("D", 0.375), ("l_m", 0.25), ("l_s", 1.7)]
            .iter()
            .map(|(name, value)| format!("{name}={} in", value * scale))
            .chain(["F_em=87 ksi", "F_es=5600 psi", "F_yb=45 ksi", "theta=0 deg", "--json"].map(String::from))
            .collect();
        let all: Vec<&str> = ["work", "pin-yield"].into_iter().chain(args.iter().map(String::as_str)).collect();
        let output = socle(&all);
        assert!(output.status.success(), "{}", stderr(&output));
        serde_json::from_slice(&output.stdout).expect("JSON")
    };
    let (one, two) = (run(1.0), run(2.0));
    for mode in ["Z_Im", "Z_Is", "Z_IIIs", "Z_IV", "Z"] {
        let value = |json: &serde_json::Value| json["values"][mode]["value"].as_f64().expect("a number");
        assert!((value(&two) / value(&one) - 4.0).abs() < 1e-12, "{mode}");
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

#[test]
fn a_larger_load_never_lowers_a_ratio() {
    let job = Job::copy("creek-porch");
    let ratios = |json: &serde_json::Value| -> Vec<f64> {
        let limits = json["posts"][0]["limits"].as_array().expect("limits").iter();
        limits.filter_map(|limit| limit["ratio"].as_f64()).collect()
    };
    let mut last = ratios(&job.check_json());
    for snow in ["1.5", "2.5", "4.0"] {
        job.set("posts.csv", "P1", "P_S", snow);
        let next = ratios(&job.check_json());
        assert!(last.iter().zip(&next).all(|(a, b)| b >= a), "{last:?} {next:?}");
        last = next;
    }
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
