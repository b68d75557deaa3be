//! Piers, pads and their concrete in whole jobs.

use crate::jobs::package_of;
use crate::support::{Job, limit};

/// The barn, post A2 pushed sideways by what lasts: 2,600 lb of dead load in `H_x`, on a pier of so much.
fn barn_on_piers(half_inch: &str) -> Job {
    let job = Job::copy("cart-barn");
    job.edit("foundations.csv", ",pad,4", ",pier,4");
    job.edit("foundations.csv", ",22,square,7 1/2,", ",72,square,24,");
    job.edit("reactions.csv", "A2,D,5400,55,", "A2,D,5400,2600,");
    for (case, load, push) in [("L", 2100, 20), ("Lr", 2500, 25), ("S", 6400, 65)] {
        job.edit("reactions.csv", &format!("A2,{case},{load},{push},"), &format!("A2,{case},{load},0,"));
    }
    job.edit("job.toml", "frost =", &format!("half_inch = \"{half_inch}\"\nfrost ="));
    job
}

#[test]
fn the_pressure_on_a_pier_is_doubled_for_wind_and_not_for_what_lasts() {
    let [no, yes] = ["no", "yes"].map(|half_inch| barn_on_piers(half_inch).check_json());
    let [no, yes] = [&no, &yes].map(|json| limit(json, "A2", "depth of the pier for shear, nonconstrained"));
    // Undoubled, a combination with the whole of the shear governs.
    assert!(no["combination"].as_str().expect("one").contains(['W', 'E']), "{no}");
    // With the doubling, D alone does, and has none.
    assert_eq!(yes["combination"], "D", "{yes}");
    // That is what it is for half an inch that does harm, where nothing blows or shakes.
    let calm = barn_on_piers("no");
    for (case, loads) in
        [("W1", "-5200,880,0,26,0"), ("W2", "2050,0,760,0,26"), ("E_x", "1150,620,0,0,0"), ("E_y", "900,0,540,0,0")]
    {
        calm.edit("reactions.csv", &format!("A2,{case},{loads}"), &format!("A2,{case},0,0,0,0,0"));
    }
    let calm = calm.check_json();
    // There the vertical effect of the earthquake is left, 7 percent of the dead load; doubled, it would be a third less.
    let depth = |limit: &serde_json::Value| limit["demand"].as_f64().expect("a depth");
    let share = depth(yes) / depth(limit(&calm, "A2", "depth of the pier for shear, nonconstrained"));
    assert!(share > 0.9 && share < 1.0, "{share}");
}

#[test]
fn the_dead_load_of_a_post_holds_its_pad_against_sliding() {
    let job = Job::copy("cart-barn");
    let ratio = |job: &Job| {
        let json = job.check_json();
        let found = limit(&json, "A2", "sliding");
        (found["ratio"].as_f64().expect("a ratio"), found["capacity"].as_f64().expect("a force"), found.to_string())
    };
    let (before, ..) = ratio(&job);
    job.edit("reactions.csv", "A2,D,5400,", "A2,D,6400,");
    let (after, ..) = ratio(&job);
    assert!(after < before, "a heavier roof slides less: {before} to {after}");
    // Snow is no dead load: it presses on the pad and holds nothing.
    job.edit("reactions.csv", "A2,S,6400,", "A2,S,9400,");
    assert_eq!(ratio(&job).0, after);
}

#[test]
fn a_guard_against_tipping_is_no_limit_that_governs() {
    let json = Job::copy("cart-barn").check_json();
    let post = &json["posts"][0];
    let names = |of: &str, name: &str| -> Vec<String> {
        post[of].as_array().expect("a list").iter().map(|it| it[name].as_str().expect("words").to_string()).collect()
    };
    assert!(names("fits", "fit").iter().any(|words| words == "the factored load stays on the pad"), "{post}");
    assert!(
        !names("limits", "limit").iter().any(|words| words.contains("stays on") || words.contains("load on the pad"))
    );
}

#[test]
fn concrete_in_frost_is_as_strong_as_its_exposure_asks() {
    let job = Job::copy("orchard-pergola");
    job.set("foundations.csv", "pier 16", "f_c'", "3000");
    let json = job.check_json();
    let found = limit(&json, "A1", "concrete strength for its exposure");
    assert_eq!((&found["ok"], &found["demand"], &json["ok"]), (&false.into(), &4500.0.into(), &false.into()));
    // Nobody answers for the job.
    job.edit("job.toml", "freezing = \"F2\"\n", "");
    assert!(job.diagnostic().contains("freezing"), "{}", job.diagnostic());
    // That nothing freezes where the ground does is for an engineer to say.
    job.edit("job.toml", "sulfate =", "freezing = \"F0\"\nsulfate =");
    let json = job.check_json();
    assert!(json["open"].to_string().contains("concrete that never freezes, at a site with frost"), "{}", json["open"]);
}

#[test]
fn the_field_sheet_orders_the_concrete() {
    let (package, _) = package_of("orchard-pergola");
    let sheets = format!("{:?}", package.field);
    for words in [
        "strength of the concrete at 28 days",
        "water-cementitious materials ratio, at most",
        "6 percent, aggregate 3/4 in",
    ] {
        assert!(sheets.contains(words), "{words}: {sheets}");
    }
}

/// The pergola with B2 as high as its neighbours, or with another level under it.
fn pergola(height: &str, level: &str) -> Job {
    let job = Job::copy("orchard-pergola");
    job.set("posts.csv", "B2", "height", height);
    job.set("posts.csv", "B2", "base_level", level);
    job
}

#[test]
fn tops_under_a_level_beam_are_level() {
    let fits = |json: &serde_json::Value| -> Vec<(bool, String)> {
        let posts = json["posts"].as_array().expect("posts").iter();
        let fits = posts.flat_map(|post| post["fits"].as_array().expect("fits"));
        fits.map(|fit| (fit["ok"] == true, fit["fit"].as_str().expect("words").to_string()))
            .filter(|(_, words)| words.contains("under a level beam"))
            .collect()
    };
    assert!(fits(&pergola("9 ft 6 in", "-6").check_json()).is_empty(), "the levels say where the difference is");
    // Longer on a level that nobody gives: asked about.
    let asked = pergola("9 ft 6 in", "").diagnostic();
    assert!(asked.contains("base_level") && asked.contains("B2") && asked.contains("different levels"), "{asked}");
    // Two feet lower and no longer does not reach the beam, unless the beam slopes.
    let low = pergola("9 ft", "-24");
    let found = fits(&low.check_json());
    assert!(!found.is_empty() && found.iter().all(|(ok, _)| !ok), "{found:?}");
    low.edit("job.toml", "[bracing]\n", "[bracing]\nlevel_x = \"no\"\nlevel_y = \"no\"\n");
    assert!(fits(&low.check_json()).is_empty());
}

#[test]
fn levels_stand_on_the_plan_and_in_the_schedule() {
    let (package, _) = package_of("orchard-pergola");
    let plan = format!("{:?}", package.plan.drawing);
    assert!(plan.contains("−0′-6″") && plan.contains("+0′-0″"), "{plan}");
    let posts =
        |job: &str| crate::shop::schedules(&crate::support::root().join("fixtures").join(job))["posts.csv"].clone();
    let with = posts("orchard-pergola");
    assert!(with.contains("Level of the base") && with.contains("-6 in"), "{with}");
    let without = posts("cart-barn");
    assert!(!without.contains("Level of the base"), "{without}");
}
