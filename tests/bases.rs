//! Bases in a whole job: a round standoff is the same both ways.

use crate::support::Job;

/// A value of a post, as `check --json` gives it.
fn value(json: &serde_json::Value, mark: &str, symbol: &str) -> f64 {
    let posts = json["posts"].as_array().expect("posts");
    let post = posts.iter().find(|post| post["mark"] == mark).expect("the post");
    post["values"][symbol]["value"].as_f64().unwrap_or_else(|| panic!("{mark} has no {symbol}"))
}

#[test]
fn a_round_standoff_is_the_same_both_ways() {
    for (job, mark, at) in [
        ("cart-barn", "A2", (8.0 + 0.707 * 3.5) / 4.0),
        ("orchard-pergola", "A1", (6.0 + 0.707 * 2.375) / 4.0),
        ("orchard-pergola", "B1", (6.0 + 0.707 * 1.9) / 4.0),
    ] {
        let json = Job::copy(job).check_json();
        for symbol in ["pull.c_x", "pull.c_y", "quake-pull.c_x", "quake-pull.c_y", "anchor-forces.c_x", "anchor-forces.c_y"] {
            let found = value(&json, mark, symbol);
            assert!((found - at).abs() < 1e-9, "{job}, {mark}: {symbol} is {found}, not {at}");
        }
        for (along, normal) in [("o_x", "o_y"), ("u_x", "u_y")] {
            let [along, normal] = [along, normal].map(|symbol| value(&json, mark, &format!("anchor-plate.{symbol}")));
            assert!((along - normal).abs() < 1e-9, "{job}, {mark}: the plate reaches out {along} and {normal}");
        }
    }
}
