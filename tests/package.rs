//! What a package says besides its numbers: what is the job's own, which posts
//! are on hold, what was assumed.

use std::collections::BTreeSet;

use socle::package::{Line, Package, PlainSheet};

use crate::extend::{RULE, porch, spans};
use crate::jobs::{lines, package_in, package_of, sections};
use crate::support::{JOBS, Job, one_line, root, socle, stderr, stdout};

/// The header of a built-in table.
fn header(table: &str) -> String {
    let text = std::fs::read_to_string(root().join(format!("templates/tables/{table}.csv"))).expect("the table");
    text.lines().find(|line| !line.starts_with('#')).expect("a header").to_string()
}

/// Whoever seals the package sees which of it is no part of the program, and
/// what rests on it.
#[test]
fn a_package_says_which_sheets_are_the_jobs_own() {
    let job = porch();
    job.write("templates/sheets/base/finish.sheet", "sheet finish\ntitle Finish, as we do it\nneeds\n  finish one of bare, painted, \"hot-dip galvanized\", stainless, \"as the report allows\" from bases \"finish\"\nmust finish is not bare \"finish of the base\" [common practice, no source]\n  else \"use hot-dip galvanized steel\"\n");
    let (package, pages) = package_in(&job.path());
    let own: Vec<[&str; 4]> =
        package.own.iter().map(|own| [&own.file, &own.title, &own.stands, &own.used].map(String::as_str)).collect();
    assert_eq!(
        own,
        [
            [
                "templates/sheets/base/finish.sheet",
                "Finish, as we do it",
                "a sheet in place of the built-in one",
                "used by `post`; used for every post"
            ],
            [
                "templates/sheets/own/base-behind-cladding.sheet",
                "The base stays behind the cladding",
                "a sheet beside the built-in ones",
                "used by `post`; used for every post"
            ],
        ]
    );
    let mut marked: Vec<(&str, String)> = sections(&pages)
        .filter(|section| !section.own.is_empty())
        .map(|section| (section.sheet.as_str(), section.own.join("; ")))
        .collect();
    marked.dedup();
    let own = "the job's own sheet".to_string();
    assert_eq!(marked, [(RULE, own.clone())]);
    let listed = pages.worked.iter().flat_map(|kind| &kind.fits).find(|fit| spans(&fit.say) == "finish of the base");
    assert_eq!(listed.expect("the limit").own, format!("{own}, in place of the built-in one"));
    let said = |words: &str| {
        let worked = lines(&pages).filter_map(|line| match line {
            Line::Limit { say, .. } => Some(spans(say)),
            _ => None,
        });
        worked
            .chain(pages.worked.iter().flat_map(|kind| &kind.low).map(|it| spans(&it.say)))
            .any(|say| say.contains(words))
    };
    for axis in ["x", "y"] {
        assert!(said(&format!("base behind the cladding, along {axis}")));
    }
    // Its values for the shop stand on pages that say so.
    assert!(package.shop.iter().all(|sheet| sheet.own == ["The base stays behind the cladding"]));
    let (package, pages) = package_of("creek-porch");
    assert!(package.own.is_empty());
    assert!(sections(&pages).all(|section| section.own.is_empty()));
}

/// A row of the job's own is named with its source, with the lines that read it
/// and with what it takes the place of; one that nothing reads is counted.
#[test]
fn a_package_says_which_rows_are_the_jobs_own() {
    let job = Job::copy("orchard-pergola");
    let row = |species: &str, source: &str| {
        format!("{species},posts,No.1,1200,825,170,625,500,1600000,580000,mill,{source},published,\n")
    };
    let rows = [row("Douglas Fir-Larch", "grading certificate 7"), row("Black Locust", "a mill's own tests")];
    let text = format!("# title: Values of the mill\n{}\n{}", header("posts-and-timbers"), rows.concat());
    job.write("templates/tables/posts-and-timbers.csv", text);
    job.write(
        "templates/tables/load-duration.csv",
        format!("# title: ours\n{}\nS,two months,1.0,the engineer of this job,published,\n", header("load-duration")),
    );
    let (package, pages) = package_in(&job.path());
    let of = |file: &str| package.own.iter().find(|own| own.file.ends_with(file)).expect("the file");
    let timbers = of("posts-and-timbers.csv");
    assert_eq!(timbers.stands, "rows added to the built-in table");
    assert_eq!(timbers.used, "read by `timber-values`; 2 rows, 1 read for this job");
    let [row] = timbers.rows.as_slice() else { panic!("{:?}", timbers.rows) };
    assert!(row.row.starts_with("Douglas Fir-Larch, posts, No.1: ") && row.row.contains("F_c 500 psi"), "{}", row.row);
    assert_eq!((row.source.as_str(), row.stands.as_str()), ("grading certificate 7", "in place of the built-in row"));
    assert!(!row.lines.is_empty());
    for line in &row.lines {
        let section = sections(&pages).find(|section| {
            section
                .lines
                .iter()
                .any(|known| matches!(known, Line::Lookup { no, own, .. } if no == line.as_str() && !own.is_empty()))
        });
        assert_eq!(
            section.expect("a look-up that says so").own,
            ["with a row of the job's own in `posts-and-timbers`"]
        );
    }
    // The terminal and other programs are told too.
    let said = one_line(&stdout(&socle(&["check".as_ref(), job.path().as_os_str()])));
    assert!(
        said.contains("The job's own: templates/tables/posts-and-timbers.csv, rows added to the built-in table."),
        "{said}"
    );
    assert_eq!(job.check_json()["own"]["templates/tables/load-duration.csv"], "rows added to the built-in table");
    let durations = of("load-duration.csv");
    assert_eq!(
        (durations.stands.as_str(), durations.used.as_str()),
        ("rows added to the built-in table", "read by the load combinations; 1 row, read for this job")
    );
    assert_eq!(durations.rows[0].source, "the engineer of this job");
    // The first row counts, which is the job's.
    let snow = package.combinations.iter().find(|it| it.name == "D + S").expect("snow");
    assert_eq!(snow.c_d, "1.00");
}

/// A value between rows of a table comes from the job's rows where it has them.
#[test]
fn a_value_between_rows_comes_from_the_jobs_own() {
    let job = Job::copy("creek-porch");
    let rows = ["7.5", "15"].map(|angle| format!("pitched,0 deg,clear,A,{angle},0.5,-0.5,a tunnel test,published,\n"));
    let of = header("open-roof-across");
    assert_eq!(of, "roof,gamma,flow,case,theta [deg],C_NW,C_NL,source,kind,doubt");
    job.write("templates/tables/open-roof-across.csv", format!("# title: ours\n{of}\n{}", rows.concat()));
    let output = socle(&[
        "work",
        "wind-open-roof",
        "--job",
        &job.path().display().to_string(),
        "q_h=10 psf",
        "roof=pitched",
        "theta=10 deg",
        "flow=clear",
        "case=A",
        "gamma=0 deg",
        "h=10 ft",
        "L=20 ft",
    ]);
    assert!(output.status.success(), "{}", stderr(&output));
    assert!(stdout(&output).contains("C_NW = 0.5"), "{}", stdout(&output));
}

/// Posts of the porch that share their sheets for shop and site, one of which
/// has too much uplift: it has sheets of its own, on hold.
#[test]
fn a_post_that_is_not_met_is_on_hold() {
    let (package, _) = package_of("creek-porch");
    let together = |sheets: &[PlainSheet]| {
        let title =
            sheets.iter().map(|sheet| sheet.title.as_str()).find(|title| title.contains("P1")).map(String::from);
        title.expect("a sheet of P1")
    };
    assert!(together(&package.shop).contains("P1 to P3"), "{}", together(&package.shop));
    assert!(package.shop.iter().chain(&package.field).all(|sheet| sheet.hold.is_empty()));
    assert!(package.schedules.iter().all(|table| !table.header.contains(&"Hold".to_string())));

    let job = Job::copy("creek-porch");
    job.set("posts.csv", "P2", "P_W", "-24");
    let (package, _) = package_in(&job.path());
    for sheets in [&package.shop, &package.field] {
        let held: Vec<&PlainSheet> = sheets.iter().filter(|sheet| !sheet.hold.is_empty()).collect();
        let [held] = held.as_slice() else { panic!("{sheets:#?}") };
        assert!(held.title.ends_with(" for post P2"), "{}", held.title);
        let part = held.hold.iter().find(|part| part.limit == "uplift on the base").expect("what limits");
        assert_eq!(part.marks, "P2");
        assert!(part.line.starts_with('B'), "{part:?}");
        assert!(sheets.iter().any(|sheet| sheet.title.contains("P1") && sheet.hold.is_empty()));
    }
    let files = crate::shop::schedules(&job.path());
    let row = |file: &str, start: &str| {
        let text = &files[file];
        text.lines().find(|line| line.starts_with(start)).unwrap_or_else(|| panic!("{start}: {text}")).to_string()
    };
    assert!(row("posts.csv", "P2,").starts_with("P2,HOLD,") && row("posts.csv", "P1,").starts_with("P1,,"));
    assert!(row("steel-to-order.csv", "base,foot 6,").ends_with(",3,HOLD: 1"));
}

/// The word stands on every page of such a sheet, and no page is lost to it.
#[test]
fn hold_is_printed_and_the_package_stays_accessible() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("porch.pdf");
    let job = Job::copy("creek-porch");
    job.set("posts.csv", "P2", "P_W", "-24");
    let output = socle(&["package".as_ref(), job.path().as_os_str(), "-o".as_ref(), path.as_os_str()]);
    assert_eq!(output.status.code(), Some(1), "{}", stderr(&output));
    let pdf = lopdf::Document::load(&path).expect("a PDF");
    let pages: Vec<u32> = pdf.get_pages().keys().copied().collect();
    let text = |page: &u32| pdf.extract_text(&[*page]).unwrap_or_default();
    let sheets = pages.iter().map(text).filter(|text| !text.contains("Contents and conditions"));
    // An index names both.
    let sheets = sheets.filter(|text| text.contains("Shop sheet for") != text.contains("Field sheet for"));
    let (held, free): (Vec<String>, Vec<String>) = sheets.partition(|text| text.contains("for post P2"));
    assert!(held.len() > 1 && free.len() > 1);
    assert!(held.iter().all(|text| text.contains("HOLD")), "{held:#?}");
    assert!(free.iter().all(|text| !text.contains("HOLD")), "{free:#?}");
}

/// What an engineer accepts, in words, of a job.
fn assumed(package: &Package) -> Vec<String> {
    package.assumptions.iter().map(|it| spans(&it.text)).collect()
}

/// Side plates need no slot.
#[test]
fn no_assumption_speaks_of_a_slot_where_there_is_none() {
    let (package, pages) = package_of("cart-barn");
    let limits = pages.sheets.iter().flat_map(|sheet| &sheet.limits).map(|limit| spans(&limit.say));
    let said: Vec<String> = assumed(&package).into_iter().chain(limits).collect();
    assert!(said.iter().any(|text| text.contains("screws are turned into lead holes")), "{said:#?}");
    for text in &said {
        let slot = text.replace("slotted holes", "").contains("slot");
        assert!(!slot && !text.contains("cheek"), "{text}");
    }
    let (package, _) = package_of("orchard-pergola");
    assert!(assumed(&package).iter().any(|text| text.contains("cheeks")), "{:#?}", assumed(&package));
}

/// One statement of how a line shares its load, true of posts that are alike
/// and of posts of unlike height.
#[test]
fn one_assumption_says_how_a_line_shares_its_load() {
    let shares = |package: &Package| -> Vec<String> {
        assumed(package).into_iter().filter(|text| text.contains("line") && text.contains("share")).collect()
    };
    let (unlike, _) = package_of("orchard-pergola");
    let job = Job::copy("orchard-pergola");
    job.set("posts.csv", "B2", "height", "9");
    job.set("posts.csv", "B2", "base_level", "0");
    let (alike, _) = package_in(&job.path());
    for package in [&alike, &unlike] {
        let shares = shares(package);
        let [only] = shares.as_slice() else { panic!("{shares:#?}") };
        assert!(only.contains("by their stiffness"), "{only}");
    }
}

/// A note is printed only for what is there: the bracing of tops that something
/// holds, anchors that are drilled in, a slab that takes the shear.
#[test]
fn assumptions_belong_to_what_was_worked() {
    let all: Vec<(&str, BTreeSet<String>)> =
        JOBS.iter().map(|job| (*job, assumed(&package_of(job).0).into_iter().collect())).collect();
    for (job, assumed) in &all {
        let anchors = root().join("fixtures").join(job).join("anchors.csv");
        let drilled = std::fs::read_to_string(anchors).is_ok_and(|text| text.contains("screw"));
        let qualified = assumed.iter().any(|text| text.contains("must be qualified for seismic use"));
        assert!(drilled || !qualified, "{job}: {assumed:#?}");
        let slab = assumed.iter().any(|text| text.contains("slab takes the shear"));
        let sides = assumed.iter().any(|text| text.contains("sides of the pier take the shear"));
        assert!(!(slab && sides), "{job}: {assumed:#?}");
    }
}

/// The cover says the sentence that `check` closes with; one page lists what it
/// is subject to, and a post says how much of that it rests on.
#[test]
fn a_package_lists_what_is_open() {
    let job = Job::copy("orchard-pergola");
    let json = job.check_json();
    let (package, _) = package_in(&job.path());
    assert_eq!(package.verdict.headline, json["headline"]);
    let count = |asks: &str| json["open"].as_array().expect("open").iter().filter(|it| it["asks"] == asks).count();
    let open = &package.open;
    assert_eq!(open.decisions.len(), count("decision"));
    assert_eq!(open.values.len(), count("confirmation"));
    assert_eq!(open.assumed.len(), count("assumption"));
    assert!(open.decisions.len() > 1 && open.values.len() > 10 && open.assumed.len() > 10);
    let live = open.decisions.iter().find(|it| it.value.starts_with("slats_live")).expect("a decision");
    assert!(
        live.value.contains("slats_live 10 psf") && live.answer.is_empty() && live.posts == "all posts",
        "{live:?}"
    );
    let declared: Vec<&str> = open.declared.iter().map(|it| it.kind.as_str()).collect();
    assert_eq!(declared, ["L, live load", "R, rain load"]);
    assert_eq!(open.declared[1].reason, "the top is open: rain falls through");
    // Of two posts on other timber and other bases each counts what it rests on.
    let rests = |mark: &str| {
        package.summary.iter().find(|row| row.marks.iter().any(|known| known == mark)).expect("the post").open
    };
    let of = |mark: &str| {
        let rests = |it: &&serde_json::Value| it["posts"].as_array().expect("posts").iter().any(|post| post == mark);
        json["open"].as_array().expect("open").iter().filter(rests).count()
    };
    assert_eq!((rests("A1"), rests("B1")), (of("A1"), of("B1")));
    assert!(rests("A1") < open.decisions.len() + open.values.len() + open.assumed.len());

    // A decision that a licensed person has taken stands there with the name.
    let taken = format!(
        "{}\n[[decisions]]\nwhat = \"{}\"\nvalue = \"{}\"\nby = \"E. Engineer\"\nlicence = \"PE 1, demo\"\ndate = \"2026-11-20\"\n",
        job.read("job.toml"),
        live.what,
        live.value
    );
    job.write("job.toml", taken);
    let (package, _) = package_in(&job.path());
    let live = package.open.decisions.iter().find(|it| it.value.starts_with("slats_live")).expect("a decision");
    assert_eq!(live.answer, "E. Engineer, PE 1, demo, 2026-11-20");
    assert!(package.verdict.headline.contains(" 4 decisions"), "{}", package.verdict.headline);
}

/// The redundancy factor has one value and is said once, given or not.
#[test]
fn one_assumption_says_the_redundancy_factor() {
    let job = Job::copy("cart-barn");
    let of = |package: &Package| -> Vec<String> {
        // Overstrength has none: ρ = 1 (12.3.4.1).
        let says = |text: &String| {
            !text.contains("overstrength")
                && (text.contains('ρ') || text.contains("rho is taken") || text.contains("redundancy"))
        };
        assumed(package).into_iter().filter(says).collect()
    };
    let (given, _) = package_in(&job.path());
    let toml: Vec<String> =
        job.read("job.toml").lines().filter(|line| !line.starts_with("rho")).map(String::from).collect();
    job.write("job.toml", toml.join("\n"));
    let (derived, _) = package_in(&job.path());
    for package in [&given, &derived] {
        let said = of(package);
        let [only] = said.as_slice() else { panic!("{said:#?}") };
        assert!(only.contains("ρ = 1.3"), "{only}");
    }
}
