//! Lines of posts worked post by post: against frames that were solved whole,
//! and what all posts together bring to the ground.

use std::collections::BTreeMap;

use socle::diag::Checked;
use socle::engine::{Derived, Known, Lines, PostGrid, derive_loads, known_names};
use socle::formula::Value;
use socle::job::Job as Read;
use socle::quantity::{Dim, Quantity};
use socle::sheet::Library;
use socle::templates::Templates;

use crate::jobs::package_in;
use crate::support::{Job, files_of, limit, socle, stderr};

/// A row of `lines/frames.csv`: numbers by their heading without the unit.
type Row = BTreeMap<String, f64>;

/// The lines that the oracle solved whole, each with its posts.
fn solved() -> BTreeMap<String, Vec<Row>> {
    let text = std::fs::read_to_string("tests/lines/frames.csv").expect("the solved lines");
    let text: String = text.lines().filter(|line| !line.starts_with('#')).map(|line| format!("{line}\n")).collect();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let header: Vec<String> =
        reader.headers().expect("a header").iter().map(|name| name.split(" [").next().unwrap_or(name).into()).collect();
    let mut lines: BTreeMap<String, Vec<Row>> = BTreeMap::new();
    for record in reader.records() {
        let record = record.expect("a row");
        let row: Row =
            header.iter().zip(&record).filter_map(|(name, cell)| Some((name.clone(), cell.parse().ok()?))).collect();
        lines.entry(record[1].to_string()).or_default().push(row);
    }
    lines
}

fn quantity(value: f64, dim: Dim) -> Value {
    Value::Quantity(Quantity::new(value, dim))
}

/// Forty lines with unlike bays, heights, sections and loads: the push of each
/// post, its couple, and the forces of its braces.
#[test]
fn a_line_worked_post_by_post_is_the_frame_worked_whole() {
    let library = Templates::built_in().library().expect("the built-in sheets are in order");
    let (compared, wrong) = wrong_in_frames(&library).expect("the lines");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(compared > 400);
}

/// How many numbers of the lines that were solved whole were compared, and where the sheets come to others.
pub fn wrong_in_frames(library: &Library) -> Checked<(usize, Vec<String>)> {
    let solved = solved();
    assert!(solved.len() >= 40);
    let (mut compared, mut off) = (0, Vec::new());
    let folder = Job::copy("orchard-pergola");
    for (name, rows) in &solved {
        let mut posts = String::from("mark,x [ft],y [ft]\n");
        rows.iter().enumerate().for_each(|(no, row)| posts.push_str(&format!("P{no},{},0\n", row["x"])));
        let files: BTreeMap<String, Vec<u8>> = BTreeMap::from([
            ("posts.csv".into(), posts.into_bytes()),
            ("job.toml".into(), folder.read("job.toml").into_bytes()),
        ]);
        let (job, _) = Read::read_all("job", &files, &known_names(library));
        let job = job.expect("a job");
        let grid = PostGrid::new(&job.posts);
        // Loads stand on the bays, and the sheets take the mean of two posts.
        let mut q = 0.0;
        let brought: Vec<Known> = rows
            .iter()
            .enumerate()
            .map(|(no, row)| {
                let feet = |name: &str| quantity(row[name] * 12.0, Dim::LENGTH);
                let psi = |name: &str| quantity(row[name], Dim::of(-2, 1));
                let (b, d) = (row["b_p"], row["d_p"]);
                let (b_b, d_b) = (row["b_b"], row["d_b"]);
                let own = q;
                q = 2.0 * row.get("w").copied().unwrap_or(0.0) / 12.0 - q;
                let lateral = if no == 0 { row["H"] } else { 0.0 };
                let pounds = |value: f64| quantity(value, Dim::FORCE);
                Known::from([
                    ("brace_x".into(), Value::Text("knee braces".into())),
                    ("brace_y".into(), Value::Text("none".into())),
                    ("h".into(), feet("h")),
                    ("a".into(), feet("a")),
                    ("b".into(), feet("b")),
                    ("E_p".into(), psi("E_p")),
                    ("I_p".into(), quantity(b * d.powi(3) / 12.0, Dim::of(4, 0))),
                    ("E_b".into(), psi("E_b")),
                    ("I_b".into(), quantity(b_b * d_b.powi(3) / 12.0, Dim::of(4, 0))),
                    ("W1.F_x".into(), pounds(lateral)),
                    ("W1.q_x".into(), quantity(own, Dim::of(-1, 1))),
                ])
            })
            .collect();
        let shares = Lines::new(&job, library, &grid, &brought).shares()?;
        for (row, shares) in rows.iter().zip(&shares) {
            let share = shares["W1"][0];
            let found = [share.v, share.p, share.braces[0], share.braces[1]];
            for (wanted, found) in ["expect V", "expect P", "expect X_left", "expect X_right"].iter().zip(found) {
                let wanted = row[*wanted];
                if (found - wanted).abs() > row["tolerance"].max(1e-3) {
                    off.push(format!("{name}: {found} for {wanted}"));
                }
                compared += 1;
            }
        }
    }
    Ok((compared, off))
}

/// A job with its loads, as they were worked out from its roof.
fn derived(job: &Job) -> (Read, Derived) {
    derived_in(&job.path())
}

/// The same of the job in a folder; what is given stays as it is.
pub fn derived_in(folder: &std::path::Path) -> (Read, Derived) {
    let library = Templates::built_in().library().expect("the built-in sheets are in order");
    let mut read = Read::read("job", &files_of(folder), &known_names(&library)).expect("the job is in order");
    let derived = derive_loads(&mut read, &library).expect("the loads work out");
    (read, derived)
}

/// The pergola with other bracing, and with bays of 16 and 10 ft.
fn pergola(bracing: &str, braces: &str) -> Job {
    let job = Job::copy("orchard-pergola");
    for axis in ["x", "y"] {
        job.edit("job.toml", &format!("brace_{axis} = \"knee braces\""), &format!("brace_{axis} = \"{bracing}\""));
    }
    job.edit("job.toml", "braces = \"push and pull\"", &format!("braces = \"{braces}\""));
    job.set("posts.csv", "A3", "x", "26").set("posts.csv", "B3", "x", "26");
    job
}

/// What roof, beams and posts bring is what the bases hand to the ground, in every
/// case and whatever holds the tops; and the couples of a line turn it back as far
/// as the load at its beams turns it over.
#[test]
fn what_the_posts_bring_reaches_the_ground() {
    let mut compared = 0;
    for (bracing, braces) in [
        ("knee braces", "push and pull"),
        ("knee braces", "push only"),
        ("rigid frame", "push and pull"),
        ("none", "push and pull"),
    ] {
        let (job, derived) = derived(&pergola(bracing, braces));
        let pounds = |post: usize, name: &str| match derived.brought[post].get(name) {
            Some(Value::Quantity(quantity)) => quantity.value,
            _ => 0.0,
        };
        for case in job.cases() {
            let (brought, ground) = (derived.brought(&case), derived.ground(&job, &case));
            for (brought, ground) in brought.iter().zip(ground) {
                assert!(
                    (brought - ground).abs() < 1e-9 * (1.0 + brought.abs()),
                    "{bracing}, {case}: {brought} {ground}"
                );
                compared += 1;
            }
            for (axis, wind) in ["W_x", "W_y"].into_iter().enumerate().filter(|_| bracing != "none") {
                let (mut turned, mut held, mut size) = (0.0, 0.0, 1.0);
                for (post, shares) in derived.shares.iter().enumerate() {
                    let (share, h) = (shares[&case][axis], pounds(post, "h") / 12.0);
                    let over = (share.v + pounds(post, &format!("{case}.{wind}")) / 2.0) * h;
                    turned += over;
                    held += share.p * job.posts[post].at[axis];
                    size += over.abs();
                }
                assert!((turned - held).abs() < 1e-9 * size, "{bracing}, {braces}, {case}: {turned} {held}");
                compared += 1;
            }
        }
    }
    assert!(compared > 200);
}

/// Loads that press the beams down push the posts apart; uplift pulls them
/// together where braces hold tension, and does nothing where they only push.
#[test]
fn uplift_pulls_posts_together_only_where_braces_hold_tension() {
    let push = |braces: &str, case: &str| derived(&pergola("knee braces", braces)).1.shares[0][case][0].v;
    assert!(push("push and pull", "D") < -1.0 && push("push and pull", "S") < -1.0);
    // W1 lifts the slats and blows across: along x there is nothing but the lift.
    assert!(push("push and pull", "W1") > 1.0);
    assert_eq!(push("push only", "W1"), 0.0);
    assert!((push("push only", "D") - push("push and pull", "D")).abs() < 1e-9);
}

/// Posts under a beam that runs through carry what a beam analysis says, and
/// together the whole roof.
#[test]
fn a_beam_that_runs_through_asks_for_the_shares_of_its_posts() {
    let job = Job::copy("orchard-pergola");
    job.edit("job.toml", "brace_x = \"knee braces\"", "brace_x = \"rigid frame\"");
    job.edit("job.toml", "splice = \"over each post\"", "splice = \"runs through\"");
    let check = |job: &Job| socle(&["check".as_ref(), job.path().as_os_str()]);
    let said = stderr(&check(&job));
    assert!(said.contains("`posts.csv` has no `share`"), "{said}");
    let posts = job.read("posts.csv");
    let shares = |end: &str| {
        let with = |line: &str| match line.split(',').next() {
            Some("mark") => line.replace("timbers", "share,timbers"),
            Some("A2" | "B2") => line.replace(",90,", ",1.25,90,"),
            _ => line.replace(",80,", &format!(",{end},80,")),
        };
        let text: String = posts.lines().map(|line| with(line) + "\n").collect();
        job.write("posts.csv", text);
    };
    // 35 ft less 1.25 times 16 ft are 15 ft for two ends of 9 1/2 ft.
    shares("0.75");
    let said = stderr(&check(&job));
    assert!(said.contains("the beam delivers the whole roof to its posts"), "{said}");
    shares("0.7895");
    let (before, after) = (derived(&Job::copy("orchard-pergola")).0, derived(&job).0);
    let snow = |job: &Read| job.posts[1].reactions["S"].p;
    assert!((snow(&after) - 1.25 * 16.0 * 7.5 * 0.5 * 25.2).abs() < 40.0, "{} {}", snow(&before), snow(&after));
}

/// Given reactions are asked whether they hold the push of the braces.
#[test]
fn given_reactions_say_whether_they_hold_the_push_of_the_braces() {
    let job = Job::copy("cart-barn");
    let words = "the given reactions include the thrust of the knee braces";
    assert_eq!(limit(&job.check_json(), "A1", words)["ok"], true);
    job.edit("job.toml", "gravity_thrust = \"in the reactions\"", "gravity_thrust = \"not in the reactions\"");
    assert_eq!(limit(&job.check_json(), "A1", words)["ok"], false);
    job.edit("job.toml", "gravity_thrust = \"not in the reactions\"\n", "");
    let said = stderr(&socle(&["check".as_ref(), job.path().as_os_str()]));
    assert!(said.contains("`job.toml` has no `gravity_thrust`"), "{said}");
}

/// Braces are designed by others, who get their forces; a floor gets its load.
#[test]
fn forces_are_handed_to_others() {
    let json = Job::copy("orchard-pergola").check_json();
    let handed = json["posts"][0]["handed"].as_array().expect("forces");
    // What no combination brings is nobody's to design for.
    for post in json["posts"].as_array().expect("posts") {
        let forces = post["handed"].as_array().expect("forces");
        assert!(!forces.is_empty() && forces.iter().all(|row| row["value"]["value"].as_f64() > Some(0.0)), "{post:#}");
    }
    let of = |what: &str| {
        let found = handed.iter().find(|row| row["what"] == what).unwrap_or_else(|| panic!("{what}: {handed:#?}"));
        found["value"]["value"].as_f64().expect("a force")
    };
    // Braces at 45 degrees: the greatest horizontal push in the ASD combinations, times the root of 2.
    let (job, _) = derived(&Job::copy("orchard-pergola"));
    let loads = &job.posts[0].reactions;
    let sum = |factors: &[(&str, f64)]| -> f64 { factors.iter().map(|(case, by)| by * loads[*case].braces[1]).sum() };
    let all = [
        sum(&[("D", 1.0), ("S", 0.75), ("W8", 0.45)]),
        sum(&[("D", 1.0), ("S", 1.0)]),
        sum(&[("D", 1.0), ("W8", 0.6)]),
        sum(&[("D", 1.0), ("Lr", 0.75), ("W8", 0.45)]),
    ];
    let most = all.into_iter().fold(0.0, f64::max) * 2.0f64.sqrt();
    assert!((of("compression of a knee brace along x") - most).abs() < 1e-6 * most, "{most} {handed:#?}");
    assert!(of("tension of a knee brace along y") > 0.0);
    let package = package_in(&Job::copy("creek-porch").path()).0;
    // The floor of P2 by hand: D + S of 1.15 and 2.10 kip, and 1.2D + 1.6S + 0.5W of
    // 1.38, 3.36 and 0.99 kip, the wind reversed.
    let floor = package.handed.iter().find(|row| row.what == "download on the floor").expect("the floor");
    let most = |forces: &[socle::package::HandedForce]| (forces[0].value.clone(), forces[0].combination.clone());
    assert_eq!(most(&floor.asd), ("3,616 lbf".into(), "D + 0.75S − 0.45W".into()));
    assert_eq!(most(&floor.strength), ("5,730 lbf".into(), "1.2D + 1.6S − 0.5W".into()));
    assert!(package.balance.iter().all(|row| row.brought.is_none()), "given reactions have nothing to compare with");
    let package = package_in(&Job::copy("orchard-pergola").path()).0;
    assert!(package.balance.iter().all(|row| row.brought.as_ref() == Some(&row.ground)) && package.balance.len() > 8);
}

/// The axial reaction of a post that is worked is a printed sum: its own part, and what its
/// lines make of the case.
#[test]
fn reactions_of_worked_posts_are_printed_sums() {
    let (job, derived) = derived(&Job::copy("orchard-pergola"));
    let (_, pages) = package_in(&Job::copy("orchard-pergola").path());
    let loads = pages.loads.iter().find(|chapter| chapter.name == "L").expect("the loads");
    let section =
        loads.sections.iter().find(|section| section.title == "Axial reactions at the base").expect("the sums");
    let mut seen = 0;
    for line in &section.lines {
        let socle::package::Line::Step { say, rows, .. } = line else { continue };
        let [socle::package::Span::Text(say)] = say.as_slice() else { panic!("{say:?}") };
        // `case W1, its own part (L.91)`
        let case = say.strip_prefix("case ").and_then(|said| said.split(',').next()).expect("a case");
        assert!(say.contains("its own part (L."), "{say}");
        for row in rows {
            let formula = row.substituted.as_ref().map_or("", |math| math.alt.as_str());
            let number = |text: &str| text.replace(',', "").replace(['−', '-'], "-").parse::<f64>().ok();
            let whole = number(&row.value.number).expect("a number");
            for at in &row.at {
                let letter = at.rsplit('@').next().expect("a column");
                let column = loads.columns.iter().find(|column| column.letter == letter).expect("the column");
                let post = job.posts.iter().position(|post| post.mark == column.marks[0]).expect("the post");
                let reaction = job.posts[post].reactions[case].p;
                assert!((reaction - whole).abs() <= 0.5 + 1e-9, "{case} of {}: {whole}, {reaction}", column.post);
                let parts: f64 = derived.parts(post, case).iter().sum();
                assert!((parts - reaction).abs() < 1e-6 * reaction.abs().max(1.0), "{case}: {parts}, {reaction}");
                assert!(formula.contains("plus"), "{formula}");
                seen += 1;
            }
        }
    }
    // A2 governs the job, under wind from both sides and with snow.
    assert!(seen > 12, "{seen}");
}
