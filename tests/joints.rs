//! The post where braces, blade and pins cut it, on the example jobs.

use crate::support::{Job, limit};

fn ratio(job: &Job, mark: &str, words: &str) -> f64 {
    limit(&job.check_json(), mark, words)["ratio"].as_f64().unwrap_or_else(|| panic!("{mark}: {words} has no ratio"))
}

#[test]
fn the_brace_foot_is_worked_on_what_the_mortises_leave() {
    let words = "bending and compression at the brace foot";
    let job = Job::copy("cart-barn");
    let (one, both) = (ratio(&job, "D1", words), ratio(&job, "D2", words));
    job.edit("job.toml", "mortise_width = \"1 1/2 in\"", "mortise_width = \"2 in\"");
    assert!(ratio(&job, "D1", words) > one && ratio(&job, "D2", words) > both);
    job.edit("job.toml", "mortise_width = \"2 in\"", "mortise_width = \"0 in\"");
    job.edit("job.toml", "mortise_depth = \"3 in\"", "mortise_depth = \"0 in\"");
    let whole = ratio(&job, "D2", words);
    assert!(whole < both, "{whole} {both}");
    let open = |job: &Job| job.check_json()["open"].to_string().contains("knee-brace housing");
    assert!(!open(&job));
    job.edit("job.toml", "housing = \"0 in\"", "housing = \"1/2 in\"");
    assert!(ratio(&job, "D2", words) > whole);
    // NDS 4.4.3.2 allows no notch there in a beam: for a post that is decided.
    assert!(open(&job));
}

#[test]
fn cuts_for_braces_are_asked_for_where_there_are_braces() {
    for key in ["mortise_width", "mortise_depth", "housing"] {
        let job = Job::copy("cart-barn");
        let line = job.read("job.toml").lines().find(|line| line.starts_with(key)).expect("the key").to_string();
        job.edit("job.toml", &format!("{line}\n"), "");
        let text = job.diagnostic();
        assert!(text.contains(&format!("has no `{key}`")), "{text}");
    }
    // No knee braces, no question.
    let porch = Job::copy("creek-porch").read("job.toml");
    assert!(!porch.contains("knee braces") && !porch.contains("mortise"), "{porch}");
    Job::copy("creek-porch").check_json();
}

#[test]
fn shear_normal_to_the_blade_is_held_by_a_cheek() {
    let words = "shear normal to the blade on a cheek";
    let job = Job::copy("orchard-pergola");
    let before = ratio(&job, "A2", words);
    job.set("bases.csv", "knife 8", "slot", "5/8");
    assert!(ratio(&job, "A2", words) > before);
}

#[test]
fn the_eased_mouth_of_the_slot_bears_nothing() {
    let json = Job::copy("orchard-pergola").check_json();
    let post = json["posts"].as_array().expect("posts").iter().find(|post| post["mark"] == "A1").expect("A1");
    let area = post["values"]["end-bearing.A_brg"]["value"].as_f64().expect("an area");
    // A seat of 6 in by 6 in, a slot of 9/16 in, and the leg of 3/16 in of the weld on both sides of it.
    assert!((area - (36.0 - 6.0 * (9.0 + 2.0 * 3.0) / 16.0)).abs() < 1e-9, "{area}");
}

#[test]
fn fire_retardant_wood_is_refused_with_the_way_out() {
    let job = Job::copy("creek-porch");
    job.edit("job.toml", "fire_retardant = \"no\"", "fire_retardant = \"yes\"");
    let json = job.check_json();
    assert_eq!(json["ok"], false);
    assert_eq!(limit(&json, "P1", "without fire-retardant chemicals")["ok"], false);
}

#[test]
fn a_blade_on_a_single_pin_is_a_pin_connected_member() {
    let job = Job::copy("orchard-pergola");
    assert_eq!(limit(&job.check_json(), "B1", "plate beyond a single pin")["ok"], true);
    job.set("bases.csv", "knife 6", "pin_hole", "1/2").set("bases.csv", "knife 6", "blade_top", "1 1/4");
    let json = job.check_json();
    assert_eq!(limit(&json, "B1", "play of a single pin in its hole")["ok"], false);
    assert_eq!(limit(&json, "B1", "plate beyond a single pin")["ok"], false);
    // Two pins are a bolted connection.
    let others = json["posts"].as_array().expect("posts").iter().filter(|post| post["mark"] == "A1");
    for post in others {
        assert!(post["limits"].as_array().expect("limits").iter().all(|limit| limit["sheet"] != "pin-connected"));
    }
}
