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
    let walls = "the direction of a system of walls is braced by shear walls";
    let job = pergola("system_x = \"A15 wood panel walls\"\nR_x = 6.5");
    assert_eq!(limit(&job.check_json(), "A1", walls)["ok"], false);
    fails(&job);
    let job = pergola("system_y = \"G6 cantilevered timber columns\"");
    let json = job.check_json();
    assert_eq!(limit(&json, "A1", "nothing that holds their tops")["ok"], false);
    assert_eq!(limit(&json, "A1", "held by their bases")["ok"], false);
    // The barn has walls along y.
    let job = barn("system_y = \"A17 walls of other panels\"");
    assert_eq!(limit(&job.check_json(), "A1", walls)["ok"], true);
    // Knee braces are in no table: nothing is said of them.
    let json = pergola("").check_json();
    let sheets = json["posts"][0]["limits"].as_array().expect("limits").iter().map(|limit| limit["sheet"].as_str());
    assert!(!sheets.flatten().any(|sheet| sheet.starts_with("system-")));
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
    job.edit("job.toml", "Omega_0 = 2.5", "Omega_0 = 3");
    assert_eq!(limit(&job.check_json(), "A1", "overstrength factor of the system")["ok"], true);
}

/// What the posts of a job leave to an engineer.
fn questions(job: &Job) -> Vec<(String, String)> {
    let library = library();
    let files = std::fs::read_dir(job.path()).expect("the job").map(|entry| entry.expect("an entry"));
    let files: BTreeMap<String, Vec<u8>> = files
        .map(|entry| (entry.file_name().to_string_lossy().into_owned(), std::fs::read(entry.path()).expect("a file")))
        .collect();
    let known = engine::known_names(&library);
    let mut job = socle::job::Job::read("job", &files, &known).expect("the job is in order");
    engine::derive_loads(&mut job, &library).expect("the loads work out");
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
