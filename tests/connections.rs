//! What holds a post to its base: the steel of screws, what pins are and how they are bored for, and which rules
//! of a sheet are limits.

use socle::package::PlainSheet;

use crate::extend::spans;
use crate::jobs::package_in;
use crate::support::{Job, limit, one_line, socle, stdout};

/// The sheets for the shop, their values as `words: value` and their instructions.
fn shop(job: &Job) -> String {
    let (package, _) = package_in(&job.path());
    let of = |sheet: &PlainSheet| {
        let values = sheet.values().map(|it| format!("{}: {}{}", spans(&it.say), it.value.number, it.value.unit));
        let words = sheet.words().map(spans);
        values.chain(words).collect::<Vec<_>>().join("\n")
    };
    package.shop.iter().map(of).collect::<Vec<_>>().join("\n")
}

/// Four 1/4 in lags whose wood holds 4,815 lbf, and whose steel does not hold 4,000.
fn lags(more: &[&str]) -> serde_json::Value {
    let given = [
        "P=-4000 lbf",
        "H_along=0 lbf",
        "H_across=0 lbf",
        "C_D=1.6",
        "G=0.5",
        "E_wood=1600000 psi",
        "kind_of_wood=softwood",
        "service=dry",
        "fabrication=dry",
        "sill_t=7.5 in",
        "sill_w=7.5 in",
        "seat=3/16 in",
        "seat_l=5 in",
        "seat_w=5 in",
        "F_e_seat=61850 psi",
        "fastener=lag",
        "D=1/4 in",
        "L=6 in",
        "n=2",
        "rows=2",
        "s=3 in",
        "s_row=3 in",
        "a_end=6 in",
        "e=2 in",
    ];
    let output = socle(&[&["work", "floor-fasteners", "--json"], &given[..], more].concat());
    serde_json::from_slice(&output.stdout).expect("JSON")
}

/// NDS 2018 11.2.3 and 12.2.1.4: the steel is always a limit, by its tensile strength or by a report.
#[test]
fn the_steel_of_screws_in_withdrawal_is_always_checked() {
    let ratio = |json: &serde_json::Value| {
        let limits = json["limits"].as_array().expect("limits");
        let steel = limits.iter().find(|limit| limit["limit"] == "tension in the steel of a screw").expect("the limit");
        steel["ratio"].as_f64().expect("a ratio")
    };
    let on_root = 60000.0 * std::f64::consts::PI * 0.173f64.powi(2) / 4.0 / 2.0;
    assert!((ratio(&lags(&[])) - 1000.0 / on_root).abs() < 1e-4 && on_root > 705.0 && on_root < 705.3);
    assert!((ratio(&lags(&["T_screw=0 lbf"])) - 1000.0 / on_root).abs() < 1e-4, "0 is not known");
    assert!((ratio(&lags(&["T_screw=1250 lbf"])) - 0.8).abs() < 1e-9, "a report counts before the table");
}

/// What the steel is made of is open until the job says so.
#[test]
fn the_steel_of_floor_screws_is_open_until_it_is_given() {
    let job = Job::copy("creek-porch");
    let open = |job: &Job| stdout(&socle(&["check".as_ref(), job.path().as_os_str(), "--open".as_ref()]));
    assert!(!open(&job).contains("floor_screw_F_u"), "{}", open(&job));
    job.edit("bases.csv", "floor_screw_F_u [ksi]", "floor_screw_F_u (old) [ksi]");
    assert!(open(&job).contains("floor_screw_F_u"), "{}", open(&job));
}

/// NDS 2018 12.1.7.1 for pins that are driven, 12.1.3.2 for bolts; a taper is ordered as long as it was deducted.
#[test]
fn holes_follow_what_the_pins_are() {
    let job = Job::copy("orchard-pergola");
    let pins = shop(&job);
    for words in [
        "lead hole for a pin in the wood: 15/32″ to 1/2″",
        "tapered end of a pin, at most: 1/8″",
        "length of the pins, at most: 6 3/4″",
    ] {
        assert!(pins.contains(words), "{words}:\n{pins}");
    }
    assert!(!pins.contains("hole for a bolt"), "{pins}");
    for base in ["knife 8", "knife 6"] {
        job.set("bases.csv", base, "pin_kind", "bolts").set("bases.csv", base, "pin_taper", "0");
        job.set("bases.csv", base, "pin_length", if base == "knife 8" { "8" } else { "6" });
    }
    let bolts = shop(&job);
    for words in ["hole for a bolt in the wood: 17/32″ to 9/16″", "Put a washer or a plate under each head and nut."]
    {
        assert!(bolts.contains(words), "{words}:\n{bolts}");
    }
    assert!(!bolts.contains("lead hole") && !bolts.contains("plug") && !bolts.contains("Taper"), "{bolts}");
    // Bolts that end in the wood would need their heads let in.
    job.set("bases.csv", "knife 8", "pin_length", "7");
    let text = one_line(&stdout(&socle(&["check".as_ref(), job.path().as_os_str()])));
    assert!(text.contains("the bolts go through the post"), "{text}");
}

/// A taper and play in the slot both take strength from the pins.
#[test]
fn taper_and_play_weaken_the_pins() {
    let ratio =
        |job: &Job| limit(&job.check_json(), "A2", "uplift and shear on the pins")["ratio"].as_f64().expect("a ratio");
    let job = Job::copy("orchard-pergola");
    let before = ratio(&job);
    job.set("bases.csv", "knife 8", "pin_taper", "1");
    let tapered = ratio(&job);
    job.set("bases.csv", "knife 8", "pin_taper", "1/4").set("bases.csv", "knife 8", "slot", "5/8");
    let loose = ratio(&job);
    assert!(tapered > before * 1.001 && loose > before * 1.001, "{before} {tapered} {loose}");
}

/// NDS 2018 12.3.5.3: half of a tapered tip bears, in tear-out as in yielding.
#[test]
fn the_tip_of_a_lag_screw_does_not_hold_the_wood() {
    let json = Job::copy("cart-barn").check_json();
    let allowed = |words: &str| limit(&json, "A2", words)["capacity"].as_f64().expect("a capacity");
    // Screws of 1/2 by 4 in through plates of 3/8 in on both faces; the tip is 5/16 in long.
    let t = 2.0 * (4.0 - 3.0 / 8.0 - 5.0 / 16.0 / 2.0);
    // Two in a row, 2 1/2 in apart, under dead load.
    assert!((allowed("row tear-out at the pins") - 2.0 * 170.0 * 0.9 * t * 2.5).abs() < 1e-6);
    // In wind; the screws stand in the middle of 7 1/2 in.
    assert!((allowed("shear of the wood at the pins") - 2.0 / 3.0 * 170.0 * 1.6 * t * 3.75 / 4.0).abs() < 1e-6);
}

/// A rule that no clause states is a fit, and advice is a note.
#[test]
fn limits_are_rules_of_a_code() {
    let seat = [
        "b=7.5 in",
        "d=7.5 in",
        "seat_b=6 in",
        "seat_d=5 in",
        "slot=1/2 in",
        "slot_run=4 in",
        "F_c=1000 psi",
        "C_D=1",
        "C_M=1",
        "C_t=1",
        "C_F=1",
        "C_i=1",
        "P=5 kip",
        "seat=steel",
    ];
    let output = socle(&[&["work", "end-bearing", "--json"], &seat[..]].concat());
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let named = |list: &str| {
        json[list].as_array().expect(list).iter().any(|it| it.to_string().contains("end grain that bears on the seat"))
    };
    assert!(named("fits") && !named("limits"), "{json:#}");
    // A round bar of 1 in: r is 1/4 in, so 24 in are 200 times that over K of 2.1.
    let rod = |h: &str| {
        let given = ["P=10 lbf", "V_x=0 lbf", "V_y=0 lbf", "y=0 in", "F_y=36 ksi", "shape=round", "x=1 in"];
        socle(&[&["work", "standoff", h], &given[..]].concat())
    };
    let (short, long) = (rod("h=23.7 in"), rod("h=23.9 in"));
    assert!(!stdout(&short).contains("slenderness of the standoff is over 200"), "{}", stdout(&short));
    assert!(stdout(&long).contains("slenderness of the standoff is over 200"), "{}", stdout(&long));
    assert_eq!((short.status.code(), long.status.code()), (Some(0), Some(0)));
}
