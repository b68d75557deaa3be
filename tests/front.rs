//! The front and the back of a package: design loads, inspections, limits by
//! rank, loads, and inputs as they were read.

use std::collections::BTreeSet;

use socle::job::some_marks;
use socle::package::{Package, Span};

use crate::jobs::{package_in, package_of};
use crate::support::{JOBS, Job, socle, stderr};

/// Spans as they are read, symbols by their names.
fn text(spans: &[Span]) -> String {
    let one = |span: &Span| match span {
        Span::Markup(text) | Span::Text(text) => text.clone(),
        Span::Math(math) => math.alt.clone(),
    };
    spans.iter().map(one).collect()
}

fn design_load(package: &Package, clause: &str) -> String {
    let item = package.design_loads.iter().find(|it| it.clause == clause).expect("the item");
    text(&item.spans)
}

#[track_caller]
fn has(text: &str, all: &[&str]) {
    for part in all {
        assert!(text.contains(part), "{part} is not in: {text}");
    }
}

/// What IBC 1603.1 lists is on the first sheets of every job.
#[test]
fn design_loads_are_those_of_the_code() {
    for job in JOBS {
        let (package, _) = package_of(job);
        let clauses: Vec<&str> = package.design_loads.iter().map(|it| it.clause.as_str()).collect();
        let wanted: Vec<String> = (1..=9).map(|no| format!("1603.1.{no}")).collect();
        assert_eq!(clauses, wanted);
        assert!(package.design_loads.iter().all(|it| !text(&it.spans).trim().is_empty()), "{job}");
    }
}

/// Loads that are worked out: snow 0.7 × 1.0 × 1.2 × 1.0 × 30 psf; S_DS of S_S 0.264 on an
/// unknown site, where F_a is 1.589, and C_s of it with R 1.5 are what the pages work.
#[test]
fn design_loads_of_a_roof_are_what_was_worked_out() {
    let (package, _) = package_of("orchard-pergola");
    let of = |clause: &str| design_load(&package, clause);
    has(&of("1603.1.1"), &["none: no floor and no storage above"]);
    has(&of("1603.1.2"), &["10 psf"]);
    has(
        &of("1603.1.3"),
        &["p sub g = 30 psf", "p sub f = 25.2 psf", "C sub e = 1.0", "C sub t = 1.2", "I sub s = 1.0"],
    );
    has(&of("1603.1.4"), &["V = 115 mph", "risk category II", "exposure C", "enclosure open", "GC sub pi = 0"]);
    has(&of("1603.1.4"), &["components and cladding: none designed here"]);
    let quake = of("1603.1.5");
    has(&quake, &["I sub e = 1.0", "S sub S = 0.264", "S sub 1 = 0.08", "site class unknown", "S sub DS = 0.2796"]);
    has(&quake, &["design category B", "R sub x = 1.5", "C sub s = 0.1864", "base shear of E_x 1,046 lbf"]);
    has(&quake, &["equivalent lateral force procedure"]);
    has(&of("1603.1.6"), &["class 4", "bearing 2,000 psf", "150 psf/ft", "frost depth 36 in"]);
    has(&of("1603.1.7"), &["not stated"]);
    has(&of("1603.1.9"), &["none: the top is open"]);
    // No drift and no cohesion is nothing to print.
    assert!(!of("1603.1.3").contains("drift") && !of("1603.1.6").contains("cohesion"));
}

/// Reactions that were typed do not say what they were worked with: the job does, or
/// the cover says that nobody did.
#[test]
fn design_loads_of_typed_reactions_are_stated_or_missing() {
    let (package, _) = package_of("cart-barn");
    has(&design_load(&package, "1603.1.3"), &["p_g = 30 psf"]);
    let typed = "procedure are those of the analysis behind the given reactions";
    has(&design_load(&package, "1603.1.5"), &["design category D", "S sub DS = 0.52", "Omega sub x = 2.5", typed]);
    let job = Job::copy("cart-barn");
    let line = job.read("job.toml").lines().find(|line| line.starts_with("snow = ")).expect("it").to_string();
    job.edit("job.toml", &line, "");
    let (package, _) = package_in(&job.path());
    let snow = design_load(&package, "1603.1.3");
    assert_eq!(snow, "not stated");
    // Who makes the package is told, not who reads it.
    let written = job.folder().join("out.pdf");
    let output = socle(&["package".as_ref(), job.path().as_os_str(), "-o".as_ref(), written.as_os_str()]);
    let told = "note: the design loads do not say `snow`: the package prints \"not stated\"";
    assert!(stderr(&output).contains(told), "{}", stderr(&output));
    // A key of the site counts too, though no sheet of this job reads it.
    job.edit("job.toml", "[site]", "[site]\np_g = \"35 psf\"");
    let (package, _) = package_in(&job.path());
    assert_eq!(design_load(&package, "1603.1.3"), "p sub g = 35 psf");
}

/// Inspections follow from what the job has: by sheet, with the posts that need them.
#[test]
fn special_inspections_are_those_of_what_the_job_has() {
    let of = |job: &str| -> Vec<(String, String, String)> {
        let (package, _) = package_of(job);
        package.inspections.iter().map(|it| (text(&it.what), it.how.clone(), it.posts.clone())).collect()
    };
    let find = |all: &[(String, String, String)], words: &str| {
        all.iter().find(|(what, ..)| what.starts_with(words)).map(|(_, how, posts)| format!("{how}, {posts}"))
    };
    let pergola = of("orchard-pergola");
    assert_eq!(find(&pergola, "anchors cast into concrete").as_deref(), Some("periodic, all posts"));
    assert_eq!(find(&pergola, "reinforcement").as_deref(), Some("periodic, all posts"));
    assert_eq!(find(&pergola, "samples of the fresh concrete").as_deref(), Some("continuous, all posts"));
    assert_eq!(find(&pergola, "soil under").as_deref(), Some("periodic, all posts"));
    assert_eq!(find(&pergola, "fillet welds").as_deref(), Some("periodic, all posts"));
    assert!(find(&pergola, "anchors installed in hardened").is_none() && find(&pergola, "bolts, pins").is_none());
    let barn = of("cart-barn");
    assert_eq!(find(&barn, "anchors cast into concrete").as_deref(), Some("periodic, A2, A3"));
    assert_eq!(find(&barn, "anchors installed in hardened").as_deref(), Some("periodic, A1, A4, D1 to D4"));
    assert_eq!(find(&barn, "fillet welds").as_deref(), Some("periodic, A2, A3"));
    // Its design category is D.
    assert!(find(&barn, "bolts, pins").is_some() && find(&barn, "reinforcement").is_none());
    // Typed reactions do not say which wind speed they were worked with.
    let porch = of("creek-porch");
    assert_eq!(find(&porch, "bolts, pins").as_deref(), Some("periodic, all posts"));
    assert!(
        porch.len() == 1 && porch[0].0.contains("where V_asd, 0.775 of the basic wind speed, is 120 mph"),
        "{porch:?}"
    );
    let (package, _) = package_of("cart-barn");
    assert!(package.inspections.iter().all(|it| it.cite.contains("IBC 2021") && it.cite.contains("recalled")));
    // They are no assumptions, for nobody has to accept them.
    assert!(!package.assumptions.iter().any(|it| text(&it.text).contains("cast into concrete")));
}

/// What is not met first, then the highest ratio; posts that are alike share a line,
/// and a limit has one.
#[test]
fn summary_and_limits_are_by_rank() {
    for job in JOBS {
        let (package, _) = package_of(job);
        let number = |text: &str| text.parse::<f64>().unwrap_or(-1.0);
        let order = |rows: &[(bool, f64)]| rows.is_sorted_by(|a, b| (a.0, -a.1) <= (b.0, -b.1));
        assert!(order(&package.summary.iter().map(|row| (row.ok, number(&row.ratio))).collect::<Vec<_>>()), "{job}");
        let limits = &package.ranking.limits;
        assert!(order(&limits.iter().map(|row| (row.ok, number(&row.ratio))).collect::<Vec<_>>()), "{job}");
        let names: BTreeSet<String> = limits.iter().map(|it| format!("{} {}", it.limit, it.sheet)).collect();
        assert_eq!(names.len(), limits.len(), "{job}: a limit stands twice");
        let posts: usize = package.summary.iter().map(|row| row.marks.len()).sum();
        let marks: BTreeSet<&String> = package.summary.iter().flat_map(|row| &row.marks).collect();
        assert!(posts == marks.len() && limits.len() >= 10, "{job}");
        // The first limit is the one that governs the post of the first line.
        assert_eq!((&limits[0].ratio, &limits[0].limit), (&package.summary[0].ratio, &package.summary[0].limit));
        assert!(limits.iter().all(|it| {
            it.marks.split(", ").flat_map(|it| it.split(" to ")).all(|mark| marks.contains(&mark.to_string()))
        }));
    }
    let (package, _) = package_of("cart-barn");
    assert_eq!(package.summary[0].shown, "D2");
    assert!(!package.summary[0].ok && package.summary[1].ok);
    let (package, _) = package_of("creek-porch");
    assert!(package.summary.iter().any(|row| row.shown == "P2, P3"), "posts that are alike share a line");
}

/// Sums of typed reactions by hand: P_D is 0.61 + 1.15 + 1.15 + 0.48 kip, H_x of the wind
/// 0.18 + 0.31 + 0.31 + 0.15 kip.
#[test]
fn sums_of_reactions_are_those_of_the_files() {
    let (package, _) = package_of("creek-porch");
    let ground = |case: &str| package.balance.iter().find(|row| row.case == case).expect("the case").ground.clone();
    assert_eq!(ground("D"), ["3,390", "0", "0"]);
    assert_eq!(ground("W")[1], "950");
    assert!(package.equilibrium.text.contains("are given"), "{}", package.equilibrium.text);
    let (package, _) = package_of("orchard-pergola");
    assert!(package.equilibrium.text.contains("They agree."), "{}", package.equilibrium.text);
    assert!(package.balance.iter().all(|row| row.brought.as_ref() == Some(&row.ground)));
}

/// Posts with the same reactions share a column, and what is nothing for all has no row.
#[test]
fn reactions_of_all_posts_are_one_table() {
    let (package, _) = package_of("creek-porch");
    let [table] = package.reactions.as_slice() else { panic!("one table") };
    assert_eq!(table.columns, ["P1", "P2, P3", "P4"]);
    let row = |case: &str, what: &str| table.rows.iter().find(|row| row.case == case && row.what == what);
    assert_eq!(row("S", "P").expect("snow").cells, ["1,100", "2,100", "920"]);
    assert!(row("W", "H_y").is_none());
}

/// All combinations are written once, and those that differ by wind or earthquake alone
/// in one name; only what governs something has a row.
#[test]
fn combinations_are_listed_once_and_few_of_them_govern() {
    let (package, _) = package_of("orchard-pergola");
    let names: Vec<&String> = package.combination_sets.iter().flat_map(|set| &set.names).collect();
    assert_eq!(names.iter().collect::<BTreeSet<_>>().len(), names.len());
    for name in ["D + 0.6W", "D + 0.75S + 0.45W", "1.039D ± 0.7E", "0.9D + W", "0.8441D ± E"] {
        assert!(names.iter().any(|known| *known == name), "{name} of {names:?}");
    }
    assert!(names.len() < 40 && package.combinations.len() > 120);
    assert!(package.combination_key.starts_with("W is each of W1, W2,"), "{}", package.combination_key);
    assert!(package.governing.len() < 40);
    let highest: Vec<f64> = package.governing.iter().map(|row| row.ratio.parse().expect("a ratio")).collect();
    assert!(highest.is_sorted_by(|a, b| a >= b));
    assert_eq!(package.governing[0].ratio, package.summary[0].ratio);
    // With both signs, each wind has two.
    let (package, _) = package_of("creek-porch");
    assert!(package.combination_sets.iter().any(|set| set.names.contains(&"D ± 0.6W".to_string())));
}

/// Every cell of the files is in the appendix, once where all rows have it.
#[test]
fn inputs_stand_in_the_appendix_as_they_were_read() {
    let (package, _) = package_of("cart-barn");
    let of = |name: &str| package.inputs.iter().find(|file| file.name == name).expect("the file");
    let bases = of("bases.csv");
    assert!(bases.shared.iter().any(|(name, value)| name == "source" && value == "demo"));
    assert!(
        of("job.toml").lines.iter().flat_map(|line| &line.keys).any(|(key, value)| key == "frost" && value == "16 in")
    );
    for (job, files) in [
        ("orchard-pergola", ["posts.csv", "bases.csv", "foundations.csv", "anchors.csv"].as_slice()),
        ("creek-porch", &["posts.csv", "bases.csv", "foundations.csv"]),
    ] {
        let (package, _) = package_of(job);
        let folder = Job::copy(job);
        for name in files {
            let read = package.inputs.iter().find(|file| file.name == *name).expect("the file");
            let cells = read.tables.iter().flat_map(|table| table.header.iter().chain(table.rows.iter().flatten()));
            let shared = read.shared.iter().flat_map(|(name, value)| [name, value]);
            let printed: BTreeSet<&str> = cells.chain(shared).chain(&read.empty).map(String::as_str).collect();
            for cell in folder.read(name).lines().flat_map(|line| line.split(',')) {
                assert!(cell.is_empty() || printed.contains(cell), "{name}: {cell}");
            }
        }
    }
}

/// A sheet says what is inspected in one of two ways, with the clause that asks for it.
#[test]
fn an_inspection_names_how_often_and_the_clause() {
    let job = Job::copy("creek-porch");
    let sheet = |note: &str| {
        format!(
            "sheet seen\ntitle Seen\njoins post\nneeds\n  height length from posts > 0 in \"from the base to the beam\" in ft\nlet h = height \"height\"\n{note}\n"
        )
    };
    let check = |note: &str| {
        job.write("templates/sheets/own/seen.sheet", sheet(note));
        stderr(&socle(&["check".as_ref(), job.path().as_os_str()]))
    };
    has(&check("note inspect weekly: the posts [IBC 2021 1705.5]"), &["`note inspect periodic: …`"]);
    has(&check("note inspect periodic: the posts"), &["a special inspection has no clause"]);
    let said = check("note inspect continuous: the posts [IBC 2021 1705.5]");
    assert!(!said.contains("error"), "{said}");
    let (package, _) = package_in(&job.path());
    let [_, own] = package.inspections.as_slice() else { panic!("{:?}", package.inspections) };
    assert_eq!(
        (text(&own.what).as_str(), own.how.as_str(), own.posts.as_str()),
        ("the posts", "continuous", "all posts")
    );
}

/// Nobody checks their own work.
#[test]
fn a_checker_is_another_person() {
    let job = Job::copy("creek-porch");
    assert!(package_in(&job.path()).0.job.checker_note.is_empty());
    job.edit("job.toml", "checked_by = \"\"", "checked_by = \"r. framer\"");
    has(&package_in(&job.path()).0.job.checker_note, &["somebody else has to check"]);
}

/// Marks that follow one another by number are written as one.
#[test]
fn marks_are_written_in_few_words() {
    let say = |marks: &str, most| some_marks(&marks.split(' ').map(String::from).collect::<Vec<_>>(), most);
    assert_eq!(say("A1 A2", 4), "A1, A2");
    assert_eq!(say("A1 A2 A3", 1), "A1 to A3");
    assert_eq!(say("A8 A9 A10 B1 B2", 4), "A8 to A10, B1, B2");
    // What does not follow by number stands for itself.
    assert_eq!(say("A09 A10 A11 A1 A3 A5", 4), "A09 to A11, A1, A3, A5");
    assert_eq!(say("A9 A010 A011 C D E", 9), "A9, A010, A011, C, D, E");
    // Those that are left out are counted by posts.
    assert_eq!(say("A1 A2 A3 A5 A7 B1 B2 B3 B4", 3), "A1 to A3 and 6 more");
    assert_eq!(say("A1 A3 A5 A7", 3), "A1 and 3 more");
}

/// Posts that are alike share a line, a column and a place in each list but that of the
/// files, which has no table that is longer than a page.
#[test]
fn a_thousand_posts_that_are_alike_are_few_lines() {
    let job = Job::copy("creek-porch");
    let posts = job.read("posts.csv");
    let rows: Vec<&str> = posts.lines().collect();
    let rest = rows[2].strip_prefix("P2,8,0,").expect("the post");
    let all = (0..1000).map(|no| format!("P{},{},{},{rest}\n", no + 1, 8 * (no % 40), 8 * (no / 40)));
    job.write("posts.csv", format!("{}\n{}", rows[0], all.collect::<String>()));
    let (package, _) = package_in(&job.path());
    let [row] = package.summary.as_slice() else { panic!("{} lines", package.summary.len()) };
    assert_eq!((row.shown.as_str(), row.marks.len()), ("P1 to P1000", 1000));
    let [table] = package.reactions.as_slice() else { panic!("{} tables", package.reactions.len()) };
    assert_eq!(table.columns, ["P1 to P1000"]);
    let posts = package.inputs.iter().find(|file| file.name == "posts.csv").expect("the file");
    assert_eq!(posts.tables.iter().map(|table| table.rows.len()).sum::<usize>(), 1000);
    assert!(posts.tables.iter().all(|table| table.rows.len() <= 30 && table.header.len() == 3));
}

/// So many posts that all differ are more than a package holds: that is said before it is made, with the way out.
#[test]
fn a_package_of_too_many_kinds_of_posts_is_refused() {
    let job = Job::copy("creek-porch");
    let posts = job.read("posts.csv");
    let header = posts.lines().next().expect("a header");
    let row = posts.lines().find_map(|line| line.strip_prefix("P2,8,0,")).expect("the post");
    let row = |no: usize| format!("P{no},{},0,{}\n", 7 * no, row.replacen(",1.15,", &format!(",1.{no:03},"), 1));
    job.write("posts.csv", format!("{header}\n{}", (1..=251).map(row).collect::<String>()));
    let out = job.path().join("out.pdf");
    let output = socle(&["package".as_ref(), job.path().as_os_str(), "-o".as_ref(), out.as_os_str()]);
    assert_eq!(output.status.code(), Some(2));
    has(
        &stderr(&output),
        &[
            "of 251 kinds; a package holds at most 250",
            "split the building into several jobs",
            "`socle check` works all",
        ],
    );
    assert!(!out.exists());
    let output = socle(&["check".as_ref(), job.path().as_os_str()]);
    assert!(matches!(output.status.code(), Some(0 | 1)), "{}", stderr(&output));
}

/// By 143 mph in exposure C the wind for allowable stresses is 110.8 mph, by 141 mph 109.2;
/// in exposure B it takes 120 mph, which are 154.9.
#[test]
fn strong_wind_asks_for_inspection_of_wood() {
    let asked = |speed: &str, exposure: &str| {
        let job = Job::copy("orchard-pergola");
        job.edit("job.toml", "V = \"115 mph\"", &format!("V = \"{speed} mph\""));
        let written = job.read("job.toml");
        let line = written.lines().find(|line| line.starts_with("exposure = ")).expect("the exposure");
        job.edit("job.toml", line, &format!("exposure = \"{exposure}\""));
        let (package, _) = package_in(&job.path());
        package.inspections.iter().any(|it| it.cite.contains("1705.12.1") && text(&it.what).contains("resist wind"))
    };
    assert_eq!(["141", "143"].map(|speed| asked(speed, "C")), [false, true]);
    assert_eq!(["143", "154", "156"].map(|speed| asked(speed, "B")), [false, false, true]);
}
