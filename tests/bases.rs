//! Bases in a whole job: a round standoff is the same both ways; a rated base takes
//! all its loads together, heat, and the height of its fasteners.

use crate::support::{Job, limit};

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
        for symbol in
            ["pull.c_x", "pull.c_y", "quake-pull.c_x", "quake-pull.c_y", "anchor-forces.c_x", "anchor-forces.c_y"]
        {
            let found = value(&json, mark, symbol);
            assert!((found - at).abs() < 1e-9, "{job}, {mark}: {symbol} is {found}, not {at}");
        }
        for (along, normal) in [("o_x", "o_y"), ("u_x", "u_y")] {
            let [along, normal] = [along, normal].map(|symbol| value(&json, mark, &format!("anchor-plate.{symbol}")));
            assert!((along - normal).abs() < 1e-9, "{job}, {mark}: the plate reaches out {along} and {normal}");
        }
    }
}

/// The ratio of a limit of a post.
fn ratio(job: &Job, mark: &str, part: &str) -> f64 {
    limit(&job.check_json(), mark, part)["ratio"].as_f64().expect("a ratio")
}

/// On `foot 6`: 1.15 kip up, 4 kip down, 0.62 kip each way, and 4,000 lbf ft against
/// 0.31 kip on 8 ft with 14 lbf/ft on the post. Without the download 0.6D + 0.6W
/// governs, with it D + 0.75S + 0.45W, the wind pressing down.
#[test]
fn a_base_rated_for_moment_takes_all_its_loads_together() {
    let rated = |interaction: &str| {
        let job = Job::copy("creek-porch");
        job.edit("bases.csv", "name,kind,", "name,kind,moment_rated,interaction,moment_x [lbf ft],moment_y [lbf ft],");
        job.edit("bases.csv", "foot 6,rated,", &format!("foot 6,rated,yes,{interaction},4000,4000,"));
        job.edit("bases.csv", "foot 4,rated,", "foot 4,rated,no,,,,");
        job.edit("job.toml", "brace_x = \"other\"", "brace_x = \"none\"");
        job
    };
    let uplift = 0.6 * (1.98 - 1.15) / 1.15;
    let download = (1.15 + 0.75 * 2.10 + 0.45 * 1.98) / 4.0;
    let moment = (310.0 * 8.0 + 14.0 * 8.0 * 4.0) / 4000.0;
    let shears = (310.0 + 14.0 * 8.0 + 14.0 * 4.0) / 620.0;
    for (interaction, wanted) in [
        ("", download + 0.45 * (moment + shears)),
        ("all added", download + 0.45 * (moment + shears)),
        ("download apart", uplift + 0.6 * (moment + shears)),
        ("only uplift and moments", uplift + 0.6 * moment),
    ] {
        let found = ratio(&rated(interaction), "P2", "axial load, shears and moments together");
        assert!((found - wanted).abs() < 1e-3, "{interaction}: {found}, not {wanted}");
    }
}

#[test]
fn sustained_heat_lowers_the_values_of_a_report() {
    let job = Job::copy("creek-porch");
    let parts =
        ["download on the base", "uplift on the base", "shear on the base along x", "shear on the base along y"];
    let cool = parts.map(|part| ratio(&job, "P2", part));
    job.edit("job.toml", "[wood]\n", "[wood]\ntemperature = \"100 to 125 F\"\n");
    for (part, cool) in parts.iter().zip(cool) {
        let hot = ratio(&job, "P2", part);
        assert!(cool > 0.0 && (hot * 0.8 - cool).abs() < 1e-9, "{part}: {cool}, {hot}");
    }
    job.edit("bases.csv", "name,kind,", "name,kind,temperature_factor,");
    job.edit("bases.csv", "foot 6,rated,", "foot 6,rated,0.9,");
    job.edit("bases.csv", "foot 4,rated,", "foot 4,rated,,");
    let hot = ratio(&job, "P2", "uplift on the base");
    assert!((hot * 0.9 - cool[1]).abs() < 1e-9, "{hot}");
}

/// Uplift on four screws, and the shears 3-1/2 in above the floor: the base, 5-1/2 in
/// square, presses 1-3/8 in from its middle; the screws are 1-1/2 and 1-1/4 in from it.
#[test]
fn the_shear_of_a_rated_base_tips_it_on_its_screws() {
    let job = Job::copy("creek-porch");
    let (along, across) = (0.6 * (310.0 + 14.0 * 8.0 / 2.0) * 3.5, 0.6 * 14.0 * 4.0 * 3.5);
    // The screw at the corner that goes up takes the smaller moment alone.
    let most = 0.6 * 830.0 / 4.0 + along / (2.0 * (1.5 + 1.375)) + across / 2.5;
    let json = job.check_json();
    let found = limit(&json, "P2", "uplift on the screws")["demand"].as_f64().expect("a demand");
    assert!((found - 4.0 * most).abs() < 1.0, "{found}, not {}", 4.0 * most);
    // The pier and the floor get the shear where the fasteners are.
    let barn = Job::copy("cart-barn").check_json();
    assert_eq!(value(&barn, "D3", "reported-base.y_top"), 4.0);
}

/// The demonstration's seat is thick for that: 3/8 in of steel bends between
/// the blade and a pipe of 2-3/8 in, where a pipe as wide as the blade holds it.
#[test]
fn a_blade_on_a_narrower_standoff_is_held_where_it_crosses_it() {
    let part = "bending of the seat between blade and standoff";
    let job = Job::copy("orchard-pergola");
    assert!(ratio(&job, "A2", part) < 1.0);
    let welds = |json: &serde_json::Value| {
        let posts = json["posts"].as_array().expect("posts");
        let post = posts.iter().find(|post| post["mark"] == "A2").expect("A2");
        let limits = post["limits"].as_array().expect("limits");
        let weld = limits.iter().find(|limit| limit["sheet"] == "blade-weld" && limit["limit"] == "weld metal");
        weld.expect("the weld of the blade")["ratio"].as_f64().expect("a ratio")
    };
    let held = welds(&job.check_json());
    job.set("bases.csv", "knife 8", "seat_thick", "3/8");
    let thin = limit(&job.check_json(), "A2", part).clone();
    assert!(thin["ok"] == false && thin["ratio"].as_f64() > Some(1.0), "{thin}");
    // A bar in line with the blade, and as wide as it, holds the whole weld.
    job.set("bases.csv", "knife 8", "leg_shape", "bar");
    job.set("bases.csv", "knife 8", "leg", "4 1/2");
    job.set("bases.csv", "knife 8", "leg_thick", "1/2");
    job.set("bases.csv", "knife 8", "leg_steel", "A36");
    let json = job.check_json();
    assert!(welds(&json) < 0.95 * held, "{held}, {}", welds(&json));
    let sheets =
        json["posts"].as_array().expect("posts").iter().flat_map(|post| post["limits"].as_array().expect("limits"));
    let on_a_bar = sheets.filter(|limit| limit["limit"] == part).count();
    assert_eq!(on_a_bar, 2, "only `knife 6` is left on a pipe");
}
