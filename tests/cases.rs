//! What others decide for a job: load cases that somebody else worked out, in the directions of
//! the wind, an earthquake that is left out, a roof on one line of posts, what holds the tops.

use crate::jobs::package_in;
use crate::seismic::{questions, shake};
use crate::support::Job;

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
