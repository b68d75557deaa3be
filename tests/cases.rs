//! What others decide for a job: load cases that somebody else worked out, in the directions of
//! the wind, an earthquake that is left out, a roof on one line of posts, what holds the tops.

use crate::jobs::package_in;
use crate::seismic::{questions, shake};
use crate::support::{Job, files_of, root};

/// The answer that a job has to a question about its cases; none where it is not asked.
fn asked(job: &Job, about: &str) -> Option<String> {
    questions(job).into_iter().find(|(what, _)| what.contains(about)).map(|(_, value)| value)
}

/// The barn, with a wind that pushes all posts by `[x, y]` pounds each, and no other.
fn blown(winds: &[[f64; 2]]) -> Job {
    let job = Job::copy("cart-barn");
    let reactions = job.read("reactions.csv");
    let (mut lines, mut posts): (Vec<String>, Vec<String>) = Default::default();
    for line in reactions.lines() {
        let cells: Vec<&str> = line.split(',').collect();
        if cells[1].starts_with('W') {
            posts.push(cells[0].into());
        } else {
            lines.push(line.into());
        }
    }
    posts.dedup();
    posts.sort();
    posts.dedup();
    let heads: Vec<&str> = reactions.lines().next().expect("a heading").split(',').collect();
    for (at, [x, y]) in winds.iter().enumerate() {
        for post in &posts {
            let cell = |head: &&str| match head.split(' ').next() {
                Some("mark") => post.clone(),
                Some("case") => format!("W{}", at + 1),
                Some("P") => "-100".into(),
                Some("H_x") => x.to_string(),
                Some("H_y") => y.to_string(),
                _ => "0".into(),
            };
            lines.push(heads.iter().map(cell).collect::<Vec<_>>().join(","));
        }
    }
    job.write("reactions.csv", lines.join("\n"));
    job
}

/// Wind comes from any direction: who gives it from some decides that these are enough.
#[test]
fn winds_that_do_not_push_both_ways_are_decided() {
    let of = |winds: &[[f64; 2]]| {
        let job = blown(winds);
        ["both ways along x", "both ways along y"].map(|axis| asked(&job, axis))
    };
    let said = |text: &str| Some(text.to_string());
    let all = [[50.0, 0.0], [-50.0, 0.0], [0.0, 50.0], [0.0, -50.0]];
    assert_eq!(of(&all), [None, None]);
    assert_eq!(of(&all[..3]), [None, said("wind_y toward +y only")]);
    assert_eq!(of(&all[1..]), [said("wind_x toward -x only"), None]);
    assert_eq!(of(&all[..2]), [None, said("wind_y not at all")]);
    // An oblique wind pushes along both; what an analysis leaves over is no push.
    assert_eq!(of(&[[50.0, 50.0], [-50.0, -50.0]]), [None, None]);
    assert_eq!(of(&[[50.0, 0.2], [-50.0, -0.2]]), [None, said("wind_y not at all")]);
    let reversed = blown(&all[..1]);
    reversed.edit("job.toml", "wind = \"as given\"", "wind = \"both signs\"");
    assert_eq!(asked(&reversed, "both ways along x"), None);
    assert_eq!(asked(&reversed, "both ways along y"), said("wind_y not at all"));
}

/// Where something else holds the tops, all of the wind may be on the posts themselves.
#[test]
fn wind_on_the_posts_alone_pushes_both_ways() {
    let job = Job::copy("creek-porch");
    let posts = job.read("posts.csv");
    let heads: Vec<&str> = posts.lines().next().expect("headings").split(',').collect();
    let cell = |(head, cell): (&&str, &str)| match head.split(' ').next() {
        Some("H_x_W" | "H_y_W" | "w_y") => "0".to_string(),
        // However little it is.
        Some("w_x") => "0.5".to_string(),
        _ => cell.into(),
    };
    let rows =
        posts.lines().skip(1).map(|row| heads.iter().zip(row.split(',')).map(cell).collect::<Vec<_>>().join(","));
    job.write("posts.csv", std::iter::once(heads.join(",")).chain(rows).collect::<Vec<_>>().join("\n"));
    assert_eq!(asked(&job, "both ways along x"), None);
    assert_eq!(asked(&job, "both ways along y"), Some("wind_y not at all".into()));
}

/// A roof over one line of posts reaches its overhangs and no further; what a post carries beyond is seen.
#[test]
fn a_roof_on_one_line_of_posts_is_decided() {
    let job = Job::copy("orchard-pergola");
    assert_eq!(asked(&job, "single line of posts"), None);
    let rows: Vec<String> = job.read("posts.csv").lines().map(String::from).collect();
    let at = rows[0].split(',').position(|heading| heading.starts_with("y [")).expect("y");
    let y = |row: &str| row.split(',').nth(at).expect("a cell").to_string();
    let first = y(&rows[1]);
    let line: Vec<&String> =
        rows.iter().enumerate().filter(|(no, row)| *no == 0 || y(row) == first).map(|(_, row)| row).collect();
    assert!(line.len() >= 3, "{line:?}");
    job.write("posts.csv", line.iter().map(|row| row.as_str()).collect::<Vec<_>>().join("\n"));
    let open = job.check_json();
    let asks = open["open"].as_array().expect("a list").iter().any(|it| {
        it["what"].as_str().is_some_and(|what| what.starts_with("roof carried by a single line of posts along x"))
    });
    assert!(asks, "{open:#}");
}

/// Who works the loads out from a roof is not asked: the program knows its own cases.
#[test]
fn calculated_cases_are_not_asked_about() {
    let job = Job::copy("orchard-pergola");
    assert_eq!(asked(&job, "both ways along"), None);
    assert_eq!(asked(&job, "no earthquake cases"), None);
}

/// The reason for which a job has no earthquake does not settle it where the category is B or higher.
#[test]
fn an_earthquake_that_is_left_out() {
    let motion = |lines: &str| {
        let job = Job::copy("creek-porch");
        let toml = job.read("job.toml");
        let (before, rest) = toml.split_once("[seismic]\n").unwrap_or((&toml, ""));
        let rest = rest.find("\n[").map_or("", |at| &rest[at..]);
        job.write("job.toml", format!("{before}\n{rest}\n[seismic]\n{lines}\n"));
        job
    };
    let left_out = |lines: &str| asked(&motion(lines), "no earthquake cases");
    assert_eq!(left_out("S_DS = 0.10\nS_D1 = 0.05"), None);
    assert_eq!(left_out("S_DS = 0.20\nS_D1 = 0.05"), Some("sdc B".into()));
    assert_eq!(left_out("S_S = 1.5\nS_1 = 0.6\nsite_class = \"D\"\nexception_11_4_8 = \"yes\""), Some("sdc D".into()));
    assert_eq!(left_out("sdc = \"C\""), Some("sdc C".into()));
    let shaken = motion("S_DS = 0.20\nS_D1 = 0.05");
    shake(&shaken);
    assert_eq!(asked(&shaken, "no earthquake cases"), None);
}

/// Bracing of another kind is named, on the page too, or an engineer is asked.
#[test]
fn what_holds_the_tops_is_named_or_asked_for() {
    let job = Job::copy("creek-porch");
    let by = |job: &Job| {
        let (package, _) = package_in(&job.path());
        let path = package.load_path.expect("a load path");
        path.sideways.iter().map(|row| row.by.clone()).collect::<Vec<_>>()
    };
    assert_eq!(asked(&job, "tops of the posts held along"), None);
    assert_eq!(by(&job), ["ledger on the wall of the house", "shear walls"]);
    job.edit("job.toml", "held_x = \"ledger on the wall of the house\"\n", "");
    assert_eq!(asked(&job, "tops of the posts held along x"), Some("brace_x other".into()));
    assert_eq!(by(&job), ["other, not named", "shear walls"]);
}

/// ASCE 7-16 2.3.1, 2.3.6, 2.4.1 and 2.4.5, each read in the publication as a whole; and of the factors for load duration those of
/// loads that the job has.
#[test]
fn sets_of_combinations_are_asked_about_as_they_are_published() {
    let open = Job::copy("creek-porch").check_json()["open"].clone();
    let rows = |table: &str| -> Vec<(String, String)> {
        let text = |it: &serde_json::Value, key: &str| it[key].as_str().expect("a text").replace('−', "-");
        let rows = open.as_array().expect("a list").iter().filter(|it| it["table"] == table);
        rows.map(|it| (text(it, "row"), text(it, "values"))).collect()
    };
    let sets = [
        (
            "7-16, asd, 2.4.1",
            "1: D; 2: D + L; 3a: D + Lr; 3b: D + S; 3c: D + R; 4a: D + 0.75L + 0.75Lr; 4b: D + 0.75L + 0.75S; 4c: D + 0.75L + 0.75R; 5: D + 0.6W; 6a: D + 0.75L + 0.75Lr + 0.45W; 6b: D + 0.75L + 0.75S + 0.45W; 6c: D + 0.75L + 0.75R + 0.45W; 7: 0.6D + 0.6W",
        ),
        (
            "7-16, asd, 2.4.5",
            "8: D + 0.7E_v + 0.7E_h; 9: D + 0.75L + 0.75S + 0.525E_v + 0.525E_h; 10: 0.6D - 0.7E_v + 0.7E_h; 8, overstrength: D + 0.7E_v + 0.7E_mh; 9, overstrength: D + 0.75L + 0.75S + 0.525E_v + 0.525E_mh; 10, overstrength: 0.6D - 0.7E_v + 0.7E_mh",
        ),
        (
            "7-16, strength, 2.3.1",
            "1: 1.4D; 2a: 1.2D + 1.6L + 0.5Lr; 2b: 1.2D + 1.6L + 0.5S; 2c: 1.2D + 1.6L + 0.5R; 3a: 1.2D + L + 1.6Lr; 3b: 1.2D + L + 1.6S; 3c: 1.2D + L + 1.6R; 3d: 1.2D + 1.6Lr + 0.5W; 3e: 1.2D + 1.6S + 0.5W; 3f: 1.2D + 1.6R + 0.5W; 4a: 1.2D + L + 0.5Lr + W; 4b: 1.2D + L + 0.5S + W; 4c: 1.2D + L + 0.5R + W; 5: 0.9D + W",
        ),
        (
            "7-16, strength, 2.3.6",
            "6: 1.2D + L + 0.2S + E_v + E_h; 7: 0.9D - E_v + E_h; 6, overstrength: 1.2D + L + 0.2S + E_v + E_mh; 7, overstrength: 0.9D - E_v + E_mh",
        ),
    ];
    assert_eq!(rows("load-combinations"), sets.map(|(row, values)| (row.to_string(), values.to_string())));
    let cases: Vec<String> = rows("load-duration").into_iter().map(|(row, _)| row).collect();
    assert_eq!(cases, ["D", "Lr", "S", "W"]);
}

/// Of a row of the code its whole sum comes first, then those without loads that do not act.
#[test]
fn a_combination_stands_before_those_that_leave_loads_out() {
    let (job, library) = crate::compiled::read("cart-barn");
    let found = socle::engine::combinations(&job, &library).expect("combinations");
    let mut compared = 0;
    for first in &found {
        let of_row = found.iter().filter(|other| other.clause == first.clause && other.method == first.method);
        let of_row: Vec<usize> = of_row.map(|other| other.factors.len()).collect();
        assert_eq!(of_row.first(), of_row.iter().max(), "{}", first.clause);
        compared += usize::from(of_row.len() > 1);
    }
    assert!(compared > 50, "{compared}");
}

/// A job as it is read after changes: a file, what stands there and what comes in its place.
fn read_after(name: &str, changes: &[(&str, &str, &str)]) -> socle::job::Job {
    let mut files = files_of(&root().join("fixtures").join(name));
    for (file, from, to) in changes {
        let text = String::from_utf8(files[*file].clone()).expect("a text");
        assert!(text.contains(from), "{file} has no {from}");
        files.insert(file.to_string(), text.replace(from, to).into_bytes());
    }
    let known = socle::engine::known_names(&crate::jobs::library());
    socle::job::Job::read(name, &files, &known).unwrap_or_else(|wrong| panic!("{}", wrong[0].message))
}

/// A post ends at its height over its base, which stands on something of its own level.
#[test]
fn tops_of_posts_are_levels_bases_and_heights() {
    let spread = |changes: &[(&str, &str, &str)]| -> Vec<f64> {
        let line = ("posts.csv", "22,2,foot 4,rim beam,3.5,3.5,7 ft 6 in", "22,0,foot 4,rim beam,3.5,3.5,8 ft");
        let job = read_after("creek-porch", &[&[line], changes].concat());
        let around = socle::engine::PostGrid::new(&job.posts).around();
        let of = |post: &std::collections::BTreeMap<String, socle::formula::Value>| match &post["grid.spread_x"] {
            socle::formula::Value::Quantity(length) => length.value,
            other => panic!("{other:?}"),
        };
        around.0.iter().map(of).collect()
    };
    let near = |found: Vec<f64>, wanted: f64| {
        assert!(found.len() == 4 && found.iter().all(|it| (it - wanted).abs() < 1e-9), "{found:?} {wanted}");
    };
    near(spread(&[]), 0.0);
    // A base that is 2 in higher, and the same with a post that is as much shorter.
    let higher = ("bases.csv", "foot 4,rated,1/2", "foot 4,rated,2 1/2");
    near(spread(&[higher]), 2.0);
    near(spread(&[higher, ("posts.csv", "3.5,3.5,8 ft", "3.5,3.5,7 ft 10 in")]), 0.0);
    near(spread(&[("posts.csv", "3.5,3.5,8 ft", "3.5,3.5,8 ft 6 in")]), 6.0);
    // A post without a level stands at the datum.
    let level = [("posts.csv", "demo\n", "demo,\n"), ("posts.csv", ",source\n", ",source,base_level [in]\n")];
    near(spread(&level), 0.0);
    let one = ("posts.csv", "0.18,0,14,14,demo,\nP2", "0.18,0,14,14,demo,0\nP2");
    near(spread(&[level[0], level[1], one]), 0.0);
    let lower = ("posts.csv", "0.18,0,14,14,demo,\nP2", "0.18,0,14,14,demo,-9\nP2");
    near(spread(&[level[0], level[1], lower]), 9.0);
}

/// A wind goes one way where it pushes along the other axis by less than a fifth of that.
#[test]
fn a_wind_goes_the_ways_that_it_pushes() {
    let ways = |x: f64, y: f64| {
        let job = blown(&[[x, y]]);
        let files = files_of(&job.path());
        let known = socle::engine::known_names(&crate::jobs::library());
        let job =
            socle::job::Job::read("cart-barn", &files, &known).unwrap_or_else(|wrong| panic!("{}", wrong[0].message));
        let ways = socle::engine::ways(&job);
        (ways.toward.map(|cases| cases.join(" ")), ways.upright.join(" "))
    };
    let toward = |one: [&str; 4]| (one.map(String::from), String::new());
    assert_eq!(ways(500.0, 0.0), toward(["W1", "", "", ""]));
    assert_eq!(ways(500.0, 99.0), toward(["W1", "", "", ""]));
    assert_eq!(ways(500.0, -101.0), toward(["W1", "", "", "W1"]));
    assert_eq!(ways(-500.0, 500.0), toward(["", "W1", "W1", ""]));
    assert_eq!(ways(0.0, 0.0), (Default::default(), "W1".to_string()));
}
