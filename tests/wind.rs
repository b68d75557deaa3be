//! Wind on posts, beams and roof edges: all of it comes to the ground once; where
//! reactions are given it is asked for; which winds are reversed.

use std::collections::BTreeMap;

use socle::job::{Job as Read, Reaction};
use socle::templates::Templates;

use crate::jobs::package_in;
use crate::support::{Job, limit, socle, stdout};

/// The reactions of every post, with where it stands, in feet, after the loads
/// were worked out.
pub fn reactions(job: &Job) -> Vec<([f64; 2], BTreeMap<String, Reaction>)> {
    let library = Templates::built_in().library().expect("the built-in sheets are in order");
    let files = std::fs::read_dir(job.path()).expect("the job").map(|entry| entry.expect("an entry").path());
    let files: BTreeMap<String, Vec<u8>> = files
        .map(|path| {
            (path.file_name().expect("a name").to_string_lossy().into_owned(), std::fs::read(path).expect("it"))
        })
        .collect();
    let mut read = Read::read("job", &files, &socle::engine::known_names(&library)).expect("the job is in order");
    socle::engine::derive_loads(&mut read, &library).expect("the loads work out");
    read.posts.into_iter().map(|post| (post.at, post.reactions)).collect()
}

/// Six posts that are alike, 9 ft high, at 16 and 12 ft.
pub fn alike() -> Job {
    let job = Job::copy("orchard-pergola");
    let row = |mark: &str, x: u32, y: u32| {
        format!(
            "{mark},{x},{y},knife 8,pier 16,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir-Larch,No.1,treated,yes,one,90,demo\n"
        )
    };
    let header = job.read("posts.csv").lines().next().expect("a header").to_string();
    let places = [("A1", 0, 0), ("A2", 16, 0), ("A3", 32, 0), ("B1", 0, 12), ("B2", 16, 12), ("B3", 32, 12)];
    let rows: String = places.iter().map(|(mark, x, y)| row(mark, *x, *y)).collect();
    job.write("posts.csv", format!("{header}\n{rows}"));
    job
}

/// The same under a pitched or troughed roof; wind on the roof in elevation is left
/// out, so that the least force of 27.1.5 governs nothing.
pub fn roofed(shape: &str, edges: bool) -> Job {
    let job = alike();
    let keys = "ridge_at = \"6 ft\"\nflow = \"clear\"\nroofing = \"3 psf\"\nsheathing = \"3 psf\"\ninsulation = \"0 psf\"\nceiling = \"0 psf\"\nend_solid = \"30 sf\"\n";
    let fascia = if edges { "fascia = \"7 1/2 in\"\n" } else { "fascia = \"0 in\"\n" };
    job.edit("job.toml", "roof = \"slats\"", &format!("roof = \"{shape}\"\n{keys}{fascia}"));
    job.edit("job.toml", "slope = \"0 deg\"", "slope = \"22.5 deg\"");
    job.edit("job.toml", "mean_height = \"9 ft 6 in\"", "mean_height = \"11 ft\"");
    job.edit("job.toml", "face_across = \"3 ft 6 in\"", "face_across = \"0 ft\"");
    job.edit("job.toml", "face_along = \"3 ft\"", "face_along = \"0 ft\"");
    // A frame that asks nothing of its beams, for they come and go here.
    rigid(&job);
    if !edges {
        job.edit("job.toml", "beam_x_depth = \"9 1/2 in\"", "beam_x_depth = \"0 in\"");
        job.edit("job.toml", "beam_y_depth = \"7 1/2 in\"", "beam_y_depth = \"0 in\"");
    }
    job
}

fn rigid(job: &Job) {
    for axis in ["x", "y"] {
        job.edit("job.toml", &format!("brace_{axis} = \"knee braces\""), &format!("brace_{axis} = \"rigid frame\""));
    }
}

/// By hand, in psf: 115 mph, exposure C, up to 15 ft.
pub fn pressure() -> f64 {
    0.00256 * 2.01 * (15.0f64 / 900.0).powf(2.0 / 9.5) * 0.85 * 115.0 * 115.0
}

/// Wind on one post, in pounds: flat, 7 1/2 in wide, 9 ft high.
fn on_post() -> f64 {
    pressure() * 0.85 * 2.0 * 7.5 / 12.0 * 9.0
}

/// What comes to the ground along an axis, the wind on the posts among it.
fn to_ground(posts: &[([f64; 2], BTreeMap<String, Reaction>)], case: &str, axis: usize) -> f64 {
    let of = |reaction: &Reaction| [reaction.h_x + 108.0 * reaction.w_x, reaction.h_y + 108.0 * reaction.w_y][axis];
    posts.iter().map(|(_, reactions)| of(&reactions[case])).sum()
}

/// The base shears of all posts together are the wind on slats and posts, and
/// the axial forces turn the frame back as far as the wind turns it over.
#[test]
fn all_wind_on_a_pergola_comes_to_the_ground_once() {
    let posts = reactions(&alike());
    // Both rows of posts see the same slats: the figure gives 1.6 for a solidity of 0.45.
    let slats = pressure() * 0.85 * 1.6;
    for (cases, axis, span, face) in [("W1 W2 W3 W4", 1, 35.0, 3.5), ("W5 W6 W7 W8", 0, 15.0, 3.0)] {
        let top = slats * span * face;
        for (at, case) in cases.split(' ').enumerate() {
            let sign = if at < 2 { 1.0 } else { -1.0 };
            let wanted = sign * (top + 6.0 * on_post());
            let found = to_ground(&posts, case, axis);
            assert!((found - wanted).abs() < 1e-6 * wanted.abs(), "{case}: {found} {wanted}");
            assert!(to_ground(&posts, case, 1 - axis).abs() < 1e-9, "{case} mixes axes");
        }
        let cases: Vec<&str> = cases.split(' ').collect();
        // Up in one case and down in the next: the sum of the two is the couple, twice.
        let turned: f64 = posts
            .iter()
            .flat_map(|(at, reactions)| cases[..2].iter().map(move |case| reactions[*case].p * at[axis]))
            .sum();
        let lifted: f64 =
            posts.iter().map(|(at, reactions)| (reactions[cases[0]].p + reactions[cases[1]].p) * at[axis]).sum();
        assert!((turned - lifted).abs() < 1e-6);
        let wanted = 2.0 * (top * 9.0 + 6.0 * on_post() * 4.5);
        assert!((turned - wanted).abs() < 1e-6 * wanted, "{}: {turned} {wanted}", cases[0]);
    }
}

/// Beams, edges and posts add to what the roof itself brings: worked by hand,
/// and nothing else moves.
#[test]
fn beams_and_edges_of_a_roof_catch_wind() {
    let (bare, whole) = (reactions(&roofed("troughed", false)), reactions(&roofed("troughed", true)));
    let q = pressure();
    // Across: a beam 9 1/2 in deep over each of two posts; along: 7 1/2 in over each of three.
    let across = 2.0 * q * 0.85 * 2.0 * 9.5 / 12.0 * 35.0 + 2.5 * q * 7.5 / 12.0 * 35.0;
    let along = 3.0 * q * 0.85 * 2.0 * 7.5 / 12.0 * 15.0 + 2.5 * q * 7.5 / 12.0 * 15.0;
    for (case, axis, wanted) in
        [("W1", 1, across), ("W2", 1, across), ("W3", 1, -across), ("W5", 0, along), ("W8", 0, -along)]
    {
        let added = to_ground(&whole, case, axis) - to_ground(&bare, case, axis);
        assert!((added - wanted).abs() < 1e-6 * wanted.abs(), "{case}: {added} {wanted}");
    }
    // Along the valley a roof without face has nothing but the posts.
    let posts = to_ground(&bare, "W5", 0);
    assert!((posts - 6.0 * on_post()).abs() < 1e-6 * posts, "{posts}");
}

/// Wind along the ridge of a pitched roof on three frames, 15 ft wide and 35 ft long, is that of ASCE 7-16 28.3.5, by
/// hand, with that on the posts among it; it comes to the ground once, and where single members catch more, they count.
#[test]
fn wind_along_the_ridge_is_at_least_that_on_frames() {
    let on_frames = |q: f64| {
        let (rise, a) = (7.5 * 22.5f64.to_radians().tan(), 3.0);
        let (wall, edge) = (15.0 * 11.0, a * (11.0 - rise / 2.0) + a * a * 22.5f64.to_radians().tan() / 2.0);
        let both = (0.40 + 0.29) * (wall - edge) + (0.61 + 0.43) * edge;
        q * both * (1.8 - 0.15) * (0.60 + 1.25 * (30.0f64 / wall).powf(1.8))
    };
    let job = roofed("pitched", true);
    let posts = reactions(&job);
    for (case, sign) in [("W5", 1.0), ("W6", 1.0), ("W7", -1.0), ("W8", -1.0)] {
        let (found, wanted) = (to_ground(&posts, case, 0), sign * on_frames(pressure()));
        assert!((found - wanted).abs() < 1e-6 * wanted.abs(), "{case}: {found} {wanted}");
    }
    // Exposure B has no less than a K_z of 0.70 here, that of 30 ft.
    job.edit("job.toml", "exposure = \"C\"", "exposure = \"B\"");
    let q = 0.00256 * 2.01 * (30.0f64 / 1200.0).powf(2.0 / 7.0) * 0.85 * 115.0 * 115.0;
    let (found, wanted) = (to_ground(&reactions(&job), "W5", 0), on_frames(q));
    assert!((found - wanted).abs() < 1e-6 * wanted, "{found} {wanted}");
    // Beams as deep as this catch more than the clause says.
    job.edit("job.toml", "beam_y_depth = \"7 1/2 in\"", "beam_y_depth = \"24 in\"");
    let deep = to_ground(&reactions(&job), "W5", 0);
    assert!(deep > 1.2 * wanted, "{deep} {wanted}");
}

/// Twice the side, twice the wind; at least 16 psf.
#[test]
fn wind_on_a_post_goes_with_its_side() {
    let work = |q: &str, face: &str| {
        let typed = [format!("q_z={q} psf"), "member=flat".into(), format!("face={face} in")];
        let args: Vec<&str> = ["work", "wind-members"].into_iter().chain(typed.iter().map(String::as_str)).collect();
        let json = stdout(&socle(&[&args[..], &["--json"]].concat()));
        let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
        json["values"]["w"]["value"].as_f64().expect("a number")
    };
    for q in ["8", "20", "31.5"] {
        assert!((work(q, "11") - 2.0 * work(q, "5.5")).abs() < 1e-9, "{q}");
        assert_eq!(work(q, "0"), 0.0);
    }
    assert!((work("5", "12") - 16.0).abs() < 1e-9 && work("20", "12") > 33.9);
    // A post that is deeper than wide meets more of the wind along x.
    let job = alike();
    job.set("posts.csv", "A1", "depth", "9 1/2");
    let (_, post) = &reactions(&job)[0];
    assert!((post["W5"].w_x / post["W1"].w_y - 9.5 / 7.5).abs() < 1e-9);
    assert_eq!((post["W5"].w_y, post["W1"].w_x, post["D"].w_x), (0.0, 0.0, 0.0));
}

/// Beams weigh what their sizes say, from post to post.
#[test]
fn beams_weigh_what_their_sizes_say() {
    let dead = |job: &Job| reactions(job).iter().map(|(_, cases)| cases["D"].p).collect::<Vec<f64>>();
    let job = alike();
    rigid(&job);
    let before = dead(&job);
    job.edit("job.toml", "beam_x_depth = \"9 1/2 in\"", "beam_x_depth = \"0 in\"");
    let after = dead(&job);
    for (at, length) in [8.0, 16.0, 8.0, 8.0, 16.0, 8.0].into_iter().enumerate() {
        let beam = 38.0 * 5.5 * 9.5 / 144.0 * length;
        assert!((before[at] - after[at] - beam).abs() < 1e-6, "{at}: {} {beam}", before[at] - after[at]);
    }
}

/// Names of the combinations of a job.
fn combinations(job: &Job) -> Vec<String> {
    package_in(&job.path()).0.combinations.into_iter().map(|it| it.name).collect()
}

/// Worked-out winds have their signs; a wind that is given is reversed where the
/// job says so. The page says both.
#[test]
fn only_winds_that_are_given_are_reversed() {
    let job = Job::copy("orchard-pergola");
    let before = combinations(&job);
    job.edit("job.toml", "wind = \"as given\"", "wind = \"both signs\"");
    assert_eq!(combinations(&job), before);
    job.edit("posts.csv", ",source", ",P_W9 [lbf],H_x_W9 [lbf],H_y_W9 [lbf],w_x_W9 [lbf/ft],w_y_W9 [lbf/ft],source");
    let text = job.read("posts.csv").replace(",demo", ",-100,50,0,12,0,demo");
    job.write("posts.csv", text);
    let after = combinations(&job);
    let has = |part: &str| after.iter().any(|name| name.contains(part));
    assert!(has("+ 0.6W9") && has("− 0.6W9") && has("+ 0.6W1") && !has("− 0.6W1"), "{after:?}");
    let said: Vec<String> =
        package_in(&job.path()).0.assumptions.iter().map(|it| serde_json::to_string(&it.text).expect("JSON")).collect();
    let says = |part: &str| said.iter().any(|text| text.contains(part));
    assert!(says("Each wind case that is given acts as given and reversed"), "{said:?}");
    assert!(says("calculated wind cases act with their signs"), "{said:?}");
    let porch = combinations(&Job::copy("creek-porch"));
    assert!(porch.iter().any(|name| name.contains("− 0.6W")), "{porch:?}");
}

/// Wind that is typed pushes the way that the shear of its case does, in each
/// case that is given; a column of a case goes before the one of all.
#[test]
fn typed_wind_acts_with_the_shear_of_its_case() {
    let job = Job::copy("creek-porch");
    let base = |job: &Job, mark: &str| {
        limit(&job.check_json(), mark, "shear on the base along x")["demand"].as_f64().expect("a demand")
    };
    let with = base(&job, "P2");
    let one = job.read("posts.csv").replace("w_x [lbf/ft]", "w_x_W [lbf/ft]");
    job.write("posts.csv", one);
    assert_eq!(base(&job, "P2"), with);
    job.edit("posts.csv", "w_x_W [lbf/ft]", "w_x [lbf/ft],w_x_W [lbf/ft]");
    let both = job.read("posts.csv").replace(",14,14,demo", ",500,14,14,demo").replace(",9,9,demo", ",500,9,9,demo");
    job.write("posts.csv", both);
    assert_eq!(base(&job, "P2"), with);
    // Without it, half of 14 lbf/ft on 8 ft is off the base, by 0.6.
    let none = job.read("posts.csv").replace(",500,14,14,demo", ",500,0,0,demo");
    job.write("posts.csv", none);
    assert!((with - base(&job, "P2") - 0.6 * 14.0 * 8.0 / 2.0).abs() < 1e-6, "{with} {}", base(&job, "P2"));
    let barn = reactions(&Job::copy("cart-barn"));
    let (_, post) = &barn[0];
    assert!((12.0 * post["W1"].w_x - 26.0).abs() < 1e-9 && post["W1"].w_y == 0.0);
    assert!((12.0 * post["W2"].w_y - 26.0).abs() < 1e-9 && post["D"].w_x == 0.0);
}

/// A nominal size alone serves loads, drawings and schedules.
#[test]
fn a_nominal_size_is_enough() {
    let sized = alike();
    let named = alike();
    named.edit("job.toml", "[wood]", "[wood]\ndressed = \"green\"");
    named.edit("posts.csv", "width [in],depth [in]", "nominal");
    let text = named.read("posts.csv").replace(",7 1/2,7 1/2,", ",8x8,");
    named.write("posts.csv", text);
    assert_eq!(sized.posts_however_typed()[0]["limits"], named.posts_however_typed()[0]["limits"]);
    let plan = |job: &Job| serde_json::to_string(&package_in(&job.path()).0.plan.drawing).expect("JSON");
    assert_eq!(plan(&sized), plan(&named));
    let pieces = |job: &Job| {
        let files = crate::shop::schedules(&job.path());
        files["timber-to-order.csv"].lines().find(|line| line.starts_with("post,")).map(String::from)
    };
    let (one, other) = (pieces(&sized).expect("posts"), pieces(&named).expect("posts"));
    assert!(
        one.contains("7 1/2 in by 7 1/2 in by 9 ft") && other.contains("7 1/2 in by 7 1/2 in by 9 ft"),
        "{one} {other}"
    );
    // Both, where they agree, say nothing new.
    named.edit("posts.csv", "nominal", "nominal,width [in],depth [in]");
    let text = named.read("posts.csv").replace(",8x8,", ",8x8,7 1/2,7 1/2,");
    named.write("posts.csv", text);
    assert_eq!(sized.posts_however_typed()[0]["limits"], named.posts_however_typed()[0]["limits"]);
}
