//! What an earthquake asks of a job: ground motion, category, redundancy, and
//! the system that fits its bracing.

use std::collections::BTreeMap;

use serde_json::Value as Json;
use socle::engine::{self, ROOT, Root};

use crate::jobs::{library, package_in};
use crate::support::{Job, limit, socle};

/// The barn with a line more under `[seismic]`.
fn barn(line: &str) -> Job {
    let job = Job::copy("cart-barn");
    // In place of what it says already.
    let key = line.split(" = ").next().unwrap_or_default();
    let toml = job.read("job.toml");
    let others: Vec<&str> = toml.lines().filter(|line| line.split(" = ").next() != Some(key)).collect();
    job.write("job.toml", others.join("\n"));
    job.edit("job.toml", "[seismic]\n", &format!("[seismic]\n{line}\n"));
    job
}

/// The pergola with a line more under `[seismic]`.
fn pergola(line: &str) -> Job {
    let job = Job::copy("orchard-pergola");
    job.edit("job.toml", "[seismic]\n", &format!("[seismic]\n{line}\n"));
    job
}

/// Gives the posts of the porch earthquake cases.
pub fn shake(job: &Job) {
    let toml = job.read("job.toml");
    let others: Vec<&str> = toml.lines().filter(|line| !line.starts_with("E = ")).collect();
    job.write("job.toml", others.join("\n"));
    let posts = job.read("posts.csv");
    let posts = posts.replace(",source", ",P_E_x [kip],H_x_E_x [kip],P_E_y [kip],H_y_E_y [kip],source");
    job.write("posts.csv", posts.replace(",demo", ",0.1,0.05,0.1,0.05,demo"));
}

/// The names of all combinations that govern a limit of the job.
fn combinations(json: &Json) -> Vec<String> {
    let posts = json["posts"].as_array().expect("posts").iter();
    let limits = posts.flat_map(|post| post["limits"].as_array().expect("limits"));
    limits.map(|limit| limit["combination"].as_str().expect("a name").to_string()).collect()
}

fn value(json: &Json, name: &str) -> f64 {
    let values = &json["posts"][0]["values"];
    values[name]["value"].as_f64().unwrap_or_else(|| panic!("no {name}: {values:#}"))
}

fn fails(job: &Job) {
    assert_eq!(socle(&["check".as_ref(), job.path().as_os_str()]).status.code(), Some(1));
}

/// Limits without the one that is about the category itself.
fn others(json: &Json) -> Vec<Json> {
    let posts = json["posts"].as_array().expect("posts").iter();
    let limits = posts.flat_map(|post| post["limits"].as_array().expect("limits"));
    limits.filter(|limit| limit["limit"] != "seismic design category").cloned().collect()
}

/// A category that is lower than the ground motion asks for is a failed limit,
/// and takes no rule away: with reactions that are given too.
#[test]
fn a_category_that_is_too_low_fails_and_changes_nothing() {
    let (plain, low) = (barn(""), barn("sdc = \"B\""));
    let (right, wrong) = (plain.check_json(), low.check_json());
    let category = limit(&wrong, "A1", "seismic design category");
    assert_eq!((category["ok"].clone(), category["demand"].as_f64()), (Json::from(false), Some(4.0)));
    assert_eq!(others(&wrong), others(&right), "ACI 318-19 17.10 and IBC 2021 1905.1.7 hold as before");
    fails(&low);
    // Category A does not do away with the earthquake that a roof brings.
    let json = pergola("sdc = \"A\"").check_json();
    assert_eq!(limit(&json, "A1", "seismic design category")["ok"], false);
    assert!(json["posts"][0]["values"].get("seismic-given.n_job").is_some());
    assert_eq!(others(&json), others(&pergola("").check_json()));
}

/// A higher one is taken.
#[test]
fn a_category_that_is_higher_is_taken() {
    let json = barn("sdc = \"E\"").check_json();
    assert_eq!(limit(&json, "A1", "seismic design category")["ok"], true);
    assert_eq!(json["posts"][0]["values"]["seismic-site.sdc"]["value"], "E");
    // The pergola is B; C brings the rules for anchors in.
    let json = pergola("sdc = \"C\"").check_json();
    assert_eq!(json["posts"][0]["values"]["seismic-site.sdc"]["value"], "C");
}

/// One redundancy factor: 1.3 in D to F, 1.0 in A to C, or what the job says
/// under whatever capitals, in the combinations as on the page.
#[test]
fn one_redundancy_factor() {
    let strength = |json: &Json, factor: &str| combinations(json).iter().any(|name| name.contains(factor));
    let json = barn("").check_json();
    assert_eq!(value(&json, "seismic-site.rho"), 1.3);
    assert!(strength(&json, "1.3E_"), "{:?}", combinations(&json));
    let json = pergola("").check_json();
    assert_eq!(value(&json, "seismic-site.rho"), 1.0);
    assert!(!strength(&json, "1.3E_"));
    let json = pergola("Rho = 1.3").check_json();
    assert_eq!(value(&json, "seismic-site.rho"), 1.3);
    for (job, rho) in [(barn(""), "ρ = 1.3 "), (pergola(""), "ρ = 1 "), (pergola("rho = 1.3"), "ρ = 1.3 ")] {
        let (package, _) = package_in(&job.path());
        let said = serde_json::to_string(&package.assumptions).expect("assumptions");
        assert!(said.contains(rho), "{said}");
    }
}

/// The mapped values of the pergola by hand: an unknown class is D, F_a between
/// 1.6 and 1.4, F_v 2.4.
#[test]
fn ground_motion_from_mapped_values() {
    let json = pergola("").check_json();
    let s_ds = 2.0 / 3.0 * (1.6 - 0.2 * (0.264 - 0.25) / 0.25) * 0.264;
    assert!((value(&json, "seismic-site.S_DS") - s_ds).abs() < 1e-9);
    assert!((value(&json, "seismic-site.S_D1") - 2.0 / 3.0 * 2.4 * 0.08).abs() < 1e-9);
    assert_eq!(json["posts"][0]["values"]["seismic-site.sdc"]["value"], "B");
    // Class D with an S_1 of 0.2 or more: the exception of 11.4.8 raises the upper limit.
    let job = Job::copy("orchard-pergola");
    job.edit("job.toml", "S_1 = 0.08", "S_1 = 0.2");
    assert_eq!(job.check_json()["posts"][0]["values"]["seismic-site.exception"]["value"], "yes");
}

/// The R of walls holds where walls brace the direction, and the R of
/// cantilevers where the base holds the post.
#[test]
fn the_system_fits_the_bracing() {
    let walls = "a system of walls has shear walls in its direction";
    let job = pergola("system_x = \"A15 wood panel walls\"\nR_x = 6.5");
    assert_eq!(limit(&job.check_json(), "A1", walls)["ok"], false);
    fails(&job);
    let job = pergola("system_y = \"G6 cantilevered timber columns\"");
    let json = job.check_json();
    assert_eq!(limit(&json, "A1", "no bracing at their tops")["ok"], false);
    assert_eq!(limit(&json, "A1", "fixed at their bases")["ok"], false);
    // The barn has walls along y.
    let job = barn("system_y = \"A17 walls of other panels\"");
    assert_eq!(limit(&job.check_json(), "A1", walls)["ok"], true);
    // Knee braces are in no table, and hold the tops.
    let listed = "a system not listed has bracing at the tops";
    assert_eq!(limit(&pergola("").check_json(), "A1", listed)["ok"], true);
    let job = pergola("");
    job.edit("job.toml", "brace_y = \"knee braces\"", "brace_y = \"none\"");
    let json = job.check_json();
    let limits = json["posts"][0]["limits"].as_array().expect("limits").iter();
    assert!(
        limits
            .clone()
            .any(|limit| limit["limit"].as_str().is_some_and(|it| it.contains(listed)) && limit["ok"] == false)
    );
}

/// An overstrength factor below that of the system that is named.
#[test]
fn overstrength_of_the_system_that_is_named() {
    let job = barn("system_y = \"A15 wood panel walls\"");
    let low = limit(&job.check_json(), "A1", "overstrength factor of the system").clone();
    assert_eq!(
        (low["ok"].clone(), low["demand"].as_f64(), low["capacity"].as_f64()),
        (Json::from(false), Some(3.0), Some(2.5))
    );
    job.edit("job.toml", "Omega_y = 2.5", "Omega_y = 3");
    assert_eq!(limit(&job.check_json(), "A1", "overstrength factor of the system")["ok"], true);
}

/// The limits of a job, each with its sheet, whose governing combination has some text in its name.
fn governed_by<'a>(json: &'a Json, part: &str) -> Vec<(&'a str, &'a Json)> {
    let posts = json["posts"].as_array().expect("posts").iter();
    let limits = posts.flat_map(|post| post["limits"].as_array().expect("limits"));
    let of = |limit: &&Json| limit["combination"].as_str().is_some_and(|name| name.contains(part));
    limits.filter(of).map(|limit| (limit["sheet"].as_str().expect("a sheet"), limit)).collect()
}

/// Route (d) is taken by combinations of their own, with rho = 1, for anchors alone: a net tension that is none in them is
/// none, where (Omega_0 - 1) N_E added to it made 3,260 lb of D2's.
#[test]
fn anchors_are_worked_in_overstrength_combinations() {
    let json = barn("").check_json();
    let tension = limit(&json, "D2", "concrete breakout in tension");
    // 815 lb up, and a shear of 1235.5 lb, wind on the post included, that tips the base 4 in up over 7.5 in / 4.
    let wanted = 815.0 + 1235.5 * 4.0 / 1.875;
    assert!((tension["demand"].as_f64().expect("a number") - wanted).abs() < 1e-9 * wanted, "{tension:#}");
    assert_eq!(tension["combination"], "0.9D + W1");
    // 2.5 times the 560 lb of E_x, without the 1.3 of rho, and what the braces push under D, L and S.
    let shear = limit(&json, "D2", "shear on the steel of an anchor");
    let wanted = 2.5 * 560.0 + 1.304 * 55.0 + 25.0 + 0.2 * 70.0;
    assert!((shear["demand"].as_f64().expect("a number") - wanted).abs() < 1e-9 * wanted, "{shear:#}");
    assert_eq!(shear["combination"], "1.304D + L + 0.2S + 2.5E_x");
    let over = governed_by(&json, "2.5E_");
    assert!(!over.is_empty() && governed_by(&json, "1.75E_").is_empty(), "ASD has none for anchors");
    for (sheet, limit) in over {
        assert!(sheet.contains("anchor") || sheet.starts_with("edge"), "{limit:#}");
    }
    let (package, _) = package_in(&barn("").path());
    let named = package.combinations.iter().find(|it| it.name == "0.796D − 2.5E_x").expect("it");
    assert_eq!((named.method.as_str(), named.clause.as_str()), ("strength", "ASCE 7-16 2.3.6, 7, overstrength"));
    let said = serde_json::to_string(&package.assumptions).expect("assumptions");
    assert!(said.contains("Anchors are also checked in overstrength combinations for earthquakes along x"), "{said}");
}

/// A direction for which the job gives no factor has no such combinations, and the anchors no route.
#[test]
fn overstrength_is_that_of_a_direction() {
    let job = Job::copy("cart-barn");
    job.edit("job.toml", "Omega_x = 2.5\n", "");
    let json = job.check_json();
    assert!(governed_by(&json, "2.5E_x").is_empty() && !governed_by(&json, "2.5E_y").is_empty());
    let route = limit(&json, "D2", "seismic design route for shear");
    assert_eq!(route["ok"], false);
    assert!(route["combination"].as_str().is_some_and(|name| name.contains("E_x")), "{route:#}");
    fails(&job);
    let job = Job::copy("cart-barn");
    job.edit("job.toml", "[seismic]\n", "Omega_0 = 2.5\n\n[seismic]\n");
    assert!(job.diagnostic().contains("write it under `[seismic]`, as `Omega_x`"), "{}", job.diagnostic());
}

/// The pergola on a strong site, its posts as cantilevers along y.
fn cantilevers() -> Job {
    let job = pergola("system_y = \"G6 cantilevered timber columns\"\nR_y = 1.5");
    job.edit("job.toml", "S_S = 0.264", "S_S = 1.5").edit("job.toml", "S_1 = 0.08", "S_1 = 0.6");
    job
}

/// What holds cantilevered columns at their bases is worked with overstrength by both methods, whether or not the job
/// names the factor, in that direction alone; the wood is not. Their axial load has a limit of its own.
#[test]
fn cantilevered_columns_take_overstrength_at_their_bases() {
    let json = cantilevers().check_json();
    let sheets = |part: &str| -> Vec<&str> { governed_by(&json, part).into_iter().map(|(sheet, _)| sheet).collect() };
    // 0.7 and 1.0 of 1.5 Q_E; rho = 1.3 gives 0.91 and 1.3.
    for (part, wanted) in [("1.05E_y", "pier"), ("1.05E_y", "uplift-weight"), ("1.5E_y", "pier-strength")] {
        assert!(sheets(part).contains(&wanted), "{part}: {:?}", sheets(part));
    }
    assert!(sheets("1.05E_x").is_empty() && sheets("1.5E_x").is_empty());
    let wood = ["column", "blade", "blade-pins", "post-section", "seat", "end-bearing"];
    assert!(sheets("1.05E_y").iter().all(|sheet| !wood.contains(sheet)), "{:?}", sheets("1.05E_y"));
    let axial = limit(&json, "A1", "axial load of a cantilevered column");
    assert!(axial["combination"].as_str().is_some_and(|name| name.contains("E_")), "{axial:#}");
    let wanted = 0.15 * value(&json, "cantilevered-column.F_c'") * 7.5 * 7.5;
    assert!((axial["capacity"].as_f64().expect("a number") - wanted).abs() < 1e-9 * wanted);
    let json = pergola("").check_json();
    assert!(governed_by(&json, "").iter().all(|(sheet, _)| *sheet != "cantilevered-column"));
}

/// A job with its loads, ready to be worked.
fn ready(job: &Job) -> (socle::job::Job, socle::sheet::Library) {
    let library = library();
    let files = std::fs::read_dir(job.path()).expect("the job").map(|entry| entry.expect("an entry"));
    let files: BTreeMap<String, Vec<u8>> = files
        .map(|entry| (entry.file_name().to_string_lossy().into_owned(), std::fs::read(entry.path()).expect("a file")))
        .collect();
    let known = engine::known_names(&library);
    let mut job = socle::job::Job::read("job", &files, &known).expect("the job is in order");
    engine::derive_loads(&mut job, &library).expect("the loads work out");
    (job, library)
}

/// What the posts of a job leave to an engineer.
pub fn questions(job: &Job) -> Vec<(String, String)> {
    let (job, library) = ready(job);
    let root = Root::new(&job, &library, ROOT, None).expect("the root");
    let results = engine::work_job(&root, &|_, _| {}).expect("the job works out");
    let asked = results.groups.iter().flat_map(|group| &group.asked.questions);
    asked.map(|question| (question.what.clone(), question.value.clone())).collect()
}

/// 1.0 in D to F rests on conditions that nobody has looked at: an engineer
/// decides. In A to C it is the code's own value.
#[test]
fn a_redundancy_factor_of_one_is_decided() {
    let what = |asked: &(String, String)| asked.0.starts_with("redundancy factor of 1.0") && asked.1 == "rho 1";
    assert!(questions(&barn("rho = 1.0")).iter().any(what));
    assert!(!questions(&barn("rho = 1.3")).iter().any(what) && !questions(&barn("")).iter().any(what));
    assert!(!questions(&pergola("rho = 1.0")).iter().any(what));
    assert!(questions(&pergola("rho = 1.0\nsdc = \"D\"")).iter().any(what));
}

/// A base on a wood floor has no rule that asks for the category; earthquake
/// cases do.
#[test]
fn earthquake_on_a_wood_floor() {
    let job = Job::copy("creek-porch");
    shake(&job);
    let toml = job.read("job.toml");
    job.write("job.toml", format!("{toml}\n[seismic]\nS_DS = 0.6\nS_D1 = 0.3\nS_1 = 0.25\nsdc = \"B\"\n"));
    let json = job.check_json();
    assert_eq!(limit(&json, "P1", "seismic design category")["ok"], false);
    assert_eq!(value(&json, "seismic-site.rho"), 1.3);
    let json = Job::copy("creek-porch").check_json();
    assert!(json["posts"][0]["values"].get("seismic-site.rho").is_none());
}

/// A sheet that is worked in overstrength combinations takes nothing from one that is not: there it has no value.
#[test]
fn nothing_is_taken_from_combinations_that_a_sheet_is_not_worked_in() {
    let job = Job::copy("creek-porch");
    let sheet = "sheet pulled\ntitle A pull\nmethod asd, overstrength of cantilevers\njoins post\n\nneeds\n  F_cp  stress  from column.F_c'  \"strength of the post\"  in psi\n\nmust F_cp >= 1 psi  \"some strength\"  [common practice, no source]\n  else \"use wood\"\n";
    job.write("templates/sheets/own/pulled.sheet", sheet);
    let told = job.diagnostic();
    assert!(told.contains("`F_cp` comes from asd loads; `pulled` is worked with asd, overstrength"), "{told}");
    job.write("templates/sheets/own/pulled.sheet", sheet.replace(", overstrength of cantilevers", ""));
    assert_eq!(limit(&job.check_json(), "P1", "some strength")["ok"], true);
}
