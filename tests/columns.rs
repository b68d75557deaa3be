//! Columns, keys, marks and files by their names: whatever people type is read
//! as what it means, or refused, and never dropped in silence.

use std::collections::BTreeMap;

use expect_test::expect;
use proptest::prelude::*;
use socle::diag::Diagnostic;
use socle::engine::known_names;
use socle::job;
use socle::quantity::{Decimals, Dim, Unit, read};
use socle::sheet::{Library, Text};
use socle::source::Source;

use crate::jobs::library;
use crate::support::{Job, cases, files_of, limit, socle, stderr, stdout};

type Files = BTreeMap<String, Vec<u8>>;

fn known() -> &'static job::Known {
    static KNOWN: std::sync::OnceLock<job::Known> = std::sync::OnceLock::new();
    KNOWN.get_or_init(|| known_names(&library()))
}

fn read_job(files: &Files) -> Result<job::Job, Vec<Diagnostic>> {
    job::Job::read("job", files, known())
}

/// All that a job is told, in one text.
fn told(diagnostics: &[Diagnostic]) -> String {
    let one = |diagnostic: &Diagnostic| format!("{}\n{}\n", diagnostic.message, diagnostic.hints.join("\n"));
    diagnostics.iter().map(one).collect()
}

/// What is wrong with a job, changed.
fn wrong(name: &str, change: impl Fn(&Job)) -> String {
    let job = Job::copy(name);
    change(&job);
    told(&read_job(&files_of(&job.path())).err().unwrap_or_default())
}

/// What is noted of a job, changed, that is in order.
fn noted(name: &str, change: impl Fn(&Job)) -> String {
    let job = Job::copy(name);
    change(&job);
    told(&read_job(&files_of(&job.path())).unwrap_or_else(|wrong| panic!("{}", told(&wrong))).notes)
}

// Loads.

#[test]
fn a_force_that_is_no_load_column_is_refused() {
    for (heading, meant) in [
        ("HxW [kip]", "`H_x_W [kip]`"),
        ("Hx-W", "`H_x_W [lbf]`"),
        ("Fx", "`H_x_CASE [lbf]`"),
        ("Vx_W", "`H_x_W [lbf]`"),
        ("W Hx", "`H_x_W [lbf]`"),
        ("wind shear", "`H_x_W [lbf]` or `H_y_W [lbf]`"),
        ("windShear", "`H_x_W [lbf]` or `H_y_W [lbf]`"),
        ("Psnow", "`P_S [lbf]`"),
        ("P.S", "`P_S [lbf]`"),
        ("Snow load", "`P_S [lbf]`"),
        ("H_W", "`H_x_W [lbf]` or `H_y_W [lbf]`"),
        ("H_W [kN]", "`H_x_W [kN]` or `H_y_W [kN]`"),
        ("VyW1 [kip]", "`H_y_W1 [kip]`"),
        ("N", "`P_CASE [lbf]`"),
        ("axial", "`P_CASE [lbf]`"),
        ("shear [kip]", "`H_x_CASE [kip]` or `H_y_CASE [kip]`"),
        ("uplift (kip)", "`P_CASE [kip]`"),
        ("download", "`P_CASE [lbf]`"),
        ("wind", "`P_W [lbf]`, `H_x_W [lbf]` or `H_y_W [lbf]`"),
        ("dead load", "`P_D [lbf]`"),
        ("roof live", "`P_Lr [lbf]`"),
        ("LL", "`P_L [lbf]`"),
        ("seismic x", "`H_x_E_x [lbf]`"),
        ("Ex", "`H_x_E_x [lbf]`"),
        ("mass [kip]", "the cases are"),
        ("V [kip]", "`H_x_CASE [kip]` or `H_y_CASE [kip]`"),
        ("V", "`H_x_CASE [lbf]` or `H_y_CASE [lbf]`"),
        ("M_x", "`base_moment [lbf ft]`"),
        ("M_x_W", "`base_moment [lbf ft]`"),
        ("moment [kip ft]", "`base_moment [lbf ft]`"),
    ] {
        let told = wrong("creek-porch", |job| {
            job.edit("posts.csv", "H_x_W [kip]", heading);
        });
        let name = heading.split(['[', '(']).next().expect("a name").trim();
        assert!(told.contains(&format!("the column `{name}")) && told.contains(meant), "{heading}: {told}");
    }
}

#[test]
fn a_force_of_an_analysis_under_another_heading_is_refused() {
    for (heading, meant) in
        [("Fx [kip]", "`H_x`"), ("axial", "`P`"), ("Mz [kip ft]", "`base_moment"), ("V", "`H_x` or `H_y`")]
    {
        let told = wrong("cart-barn", |job| {
            let lines: Vec<String> = job.read("reactions.csv").lines().map(|line| format!("{line},3.5")).collect();
            job.write("reactions.csv", lines.join("\n").replacen("3.5", heading, 1));
        });
        assert!(told.contains("looks like a load") && told.contains(meant), "{heading}: {told}");
    }
    // The hinges of an analysis have moments, which are nothing.
    let notes = noted("cart-barn", |job| {
        let lines: Vec<String> = job.read("reactions.csv").lines().map(|line| format!("{line},0.00")).collect();
        job.write("reactions.csv", lines.join("\n").replacen("0.00", "Mx [kip ft]", 1));
    });
    assert!(notes.contains("the column `Mx` of `reactions.csv` is not read"), "{notes}");
}

#[test]
fn a_heading_reads_as_typed_or_not_at_all() {
    let json = |heading: &str| {
        let job = Job::copy("creek-porch");
        job.edit("posts.csv", "H_x_W [kip]", heading);
        limit(&job.check_json(), "P2", "shear on the base along x")["demand"].as_f64().expect("a demand")
    };
    let plain = json("H_x_W [kip]");
    for heading in ["H x W [kip]", "h-x-w (kip)", "H_x\u{200b}_W [kip]", "\u{feff}H\u{a0}x_W [KIP]", "H‑x‑W[kip]"] {
        assert_eq!(json(heading), plain, "{heading}");
    }
}

#[test]
fn what_nobody_reads_is_named_once() {
    let job = Job::copy("creek-porch");
    job.edit("posts.csv", "source", "lot,my H [kip],roof side,source");
    let text = job.read("posts.csv").replace(",demo", ",7,3.5,north,demo");
    job.write("posts.csv", text);
    job.write("old-loads.csv", "a,b\n");
    let output = socle(&["check".as_ref(), job.path().as_os_str()]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    let told = stderr(&output).replace(&job.path().display().to_string(), "JOB");
    expect![[r#"
        note: the columns `lot` and `roof side` of `posts.csv` are not read
          ┌─ JOB/posts.csv:1:180 (cell T1)
          │
        1 │ mark,x [ft],y [ft],base,foundation,width [in],depth [in],height,species,grade,fasteners,P_D [kip],P_Lr [kip],P_S [kip],P_W [kip],H_x_W [kip],H_y_W [kip],w_x [lbf/ft],w_y [lbf/ft],lot,my H [kip],roof side,source
          │                                                                                                                                                                                    ^^^
          │
          = hint: columns of your own that begin with `my ` are not listed here
          = hint: `socle sheets --columns posts` lists every column that there is

        note: not read in `JOB`: `old-loads.csv`
         = hint: the files of a job are job.toml, posts.csv, reactions.csv, confirmed.toml, bases.csv, foundations.csv, anchors.csv

    "#]]
    .assert_eq(&told);
    let package =
        socle(&["package".as_ref(), job.path().as_os_str(), "-o".as_ref(), job.path().join("out.pdf").as_os_str()]);
    assert_eq!(stderr(&package).replace(&job.path().display().to_string(), "JOB"), told);
    // What is named so may say what it likes, and equal posts stay one group.
    assert_eq!(job.check_json()["posts"][1]["group"], job.check_json()["posts"][2]["group"]);
}

#[test]
fn a_column_of_another_file_is_refused() {
    let told = wrong("creek-porch", |job| {
        job.edit("posts.csv", "H_x_W [kip]", "standoff [in]");
    });
    assert!(told.contains("`standoff` is not read from `posts.csv`") && told.contains("`bases.csv`"), "{told}");
}

// Two names that are one.

#[test]
fn two_columns_of_one_name_are_refused() {
    for (heading, twin) in [
        ("P_S [kip]", "P D [kip]"),
        ("P_S [kip]", "p-d (kip)"),
        ("depth [in]", "Width [in]"),
        ("depth [in]", "wi\u{ad}dth [in]"),
        ("grade", "Spe\u{200b}cies"),
        ("H_x_W [kip]", "P w"),
    ] {
        let told = wrong("creek-porch", |job| {
            job.edit("posts.csv", heading, twin);
        });
        assert!(told.contains("are the same column") || told.contains("appears twice"), "{twin}: {told}");
    }
    let told = wrong("creek-porch", |job| {
        job.edit("posts.csv", "H_x_W [kip]", "P_D [kip]");
    });
    assert!(told.contains("the column `P_D` appears twice"), "{told}");
}

#[test]
fn a_name_that_can_be_two_is_refused() {
    for heading in ["anchorsx", "ANCHORSX [in]"] {
        let told = wrong("orchard-pergola", |job| {
            job.edit("bases.csv", "anchor_s_x [in]", heading);
        });
        assert!(told.contains("could be `anchor_s_x` or `anchors_x`"), "{told}");
    }
    // A known name is never taken for another.
    let job = Job::copy("orchard-pergola");
    job.edit("bases.csv", ",anchor_s_x [in]", "");
    let text = job.read("bases.csv").replace(",4,4,demo", ",4,demo");
    job.write("bases.csv", text);
    let read = read_job(&files_of(&job.path())).unwrap_or_else(|wrong| panic!("{}", told(&wrong)));
    let facts = &read.posts[0].entries["bases"].facts;
    assert_eq!(
        (facts.get("anchors_x").map(|fact| fact.text.as_str()), facts.contains_key("anchor_s_x")),
        (Some("2"), false)
    );
}

#[test]
fn rows_and_posts_of_one_name_are_refused() {
    let told = wrong("creek-porch", |job| {
        job.edit("bases.csv", "foot 4,", "Foot-6,");
    });
    assert!(told.contains("the bases `foot 6` and `Foot-6` have the same name"), "{told}");
    let told = wrong("creek-porch", |job| {
        job.edit("posts.csv", "P3,", "p2,");
    });
    assert!(told.contains("the marks `P2` and `p2` are the same"), "{told}");
    // Posts name a row as they like, an analysis its posts too.
    let before = Job::copy("cart-barn").check_json();
    let job = Job::copy("cart-barn");
    job.edit("posts.csv", "side plate 8;", "Side-Plate 8;");
    job.edit("reactions.csv", "A1,D,", "a1,d,").edit("reactions.csv", "A1,E_x,", "A1,Ex,");
    assert_eq!(job.check_json()["posts"], before["posts"]);
}

#[test]
fn winds_that_look_alike_are_refused() {
    let told = wrong("cart-barn", |job| {
        job.edit("reactions.csv", "A1,W1,", "A1,W 1,");
    });
    assert!(told.contains("post A1 has no row for `W1`"), "{told}");
    let told = wrong("creek-porch", |job| {
        job.edit("posts.csv", "P_W [kip]", "P_W_1 [kip]").edit("posts.csv", "H_x_W [kip]", "H_x_W1 [kip]");
    });
    assert!(told.contains("`W1` and `W_1` cannot be told apart"), "{told}");
    for heading in ["P_Wall [kip]", "P_Weight [kip]", "P_total [kip]"] {
        let told = wrong("creek-porch", |job| {
            job.edit("posts.csv", "P_W [kip]", heading);
        });
        assert!(told.contains("is not a load case"), "{told}");
    }
}

/// A name as somebody may type it: capitals and joints drawn.
fn typed(name: &str, draw: &[u8]) -> String {
    let mut draws = draw.iter().cycle().copied();
    let mut draw = move || draws.next().expect("cycled");
    let mut out = String::new();
    for c in name.chars() {
        match (c, draw() % 6) {
            ('_', joint) => out.push_str(["_", " ", "-", "", "\u{a0}", "_\u{200b}"][usize::from(joint)]),
            (c, 0 | 1) => out.extend(c.to_uppercase()),
            (c, 2) => out.extend(c.to_lowercase()),
            (c, 3) => out.extend([c, '\u{ad}']),
            (c, _) => out.push(c),
        }
    }
    out
}

/// The smallest job, with one column more in a file or one key more in a table.
fn job_with(file: &str, column: &str, name: &str) -> Files {
    let mut files = Files::new();
    let mut add = |own: &str, cells: &[(&str, &str)]| {
        let mut cells: Vec<(String, String)> = cells.iter().map(|(a, b)| (a.to_string(), b.to_string())).collect();
        if own == file {
            match cells.iter_mut().find(|(heading, _)| heading.split(' ').next() == Some(name)) {
                Some((heading, _)) => *heading = heading.replacen(name, column, 1),
                None => cells.push((column.into(), "7".into())),
            }
        }
        let (headings, values): (Vec<_>, Vec<_>) = cells.into_iter().unzip();
        files.insert(format!("{own}.csv"), format!("{}\n{}\n", headings.join(","), values.join(",")).into_bytes());
    };
    add("posts", &[("mark", "7"), ("x [ft]", "7"), ("y [ft]", "7"), ("base", "7"), ("source", "7")]);
    ["bases", "foundations", "anchors"].iter().for_each(|own| add(own, &[("name", "7"), ("source", "7")]));
    let head = "[job]\nname = \"n\"\nplace = \"p\"\ndate = \"2026-11-02\"\nprepared_by = \"b\"\n[code]\nbasis = \"IBC 2021\"\n";
    files.insert("job.toml".into(), head.as_bytes().to_vec());
    files
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..cases(400) })]

    /// Every known column reads the same however it is typed, or is refused.
    #[test]
    fn columns_read_however_they_are_typed(at in 0usize..1000, draw in prop::collection::vec(0u8..60, 24)) {
        let known = known();
        let all: Vec<(&String, &String, Option<Dim>)> =
            known.files.iter().flat_map(|(file, names)| names.iter().map(move |(name, dim)| (file, name, *dim))).collect();
        let (file, name, dim) = all[at % all.len()];
        let unit = dim.filter(|dim| !dim.is_none()).map_or(String::new(), |dim| format!(" [{}]", Unit::usual(dim).name()));
        let heading = typed(name, &draw);
        match read_job(&job_with(file, &format!("{heading}{unit}"), name)) {
            Ok(job) => {
                let post = &job.posts[0];
                let facts = if file == "posts" { &post.facts } else if file == "bases" { &post.entries["bases"].facts } else { return Ok(()) };
                let found = facts.get(name.as_str()).map(|fact| fact.text.as_str());
                prop_assert_eq!(found, Some("7"), "{} of {} as {}", name, file, heading);
            }
            Err(wrong) => {
                let told = told(&wrong);
                prop_assert!(["could be `", "there is no `", "` is not a ", "no wind case is given"].iter().any(|part| told.contains(part)), "{} as {}: {}", name, heading, told);
            }
        }
    }

    /// Every known key too.
    #[test]
    fn keys_read_however_they_are_typed(at in 0usize..1000, draw in prop::collection::vec(0u8..60, 24)) {
        let known = known();
        let fixed = ["job", "code", "loads"];
        let all: Vec<(&String, &String)> = known.tables.iter().filter(|(table, _)| !fixed.contains(&table.as_str()))
            .flat_map(|(table, keys)| keys.iter().map(move |key| (table, key))).collect();
        let (table, key) = all[at % all.len()];
        let mut files = job_with("", "", "");
        let head = String::from_utf8(files["job.toml"].clone()).expect("text");
        files.insert("job.toml".into(), format!("{head}[{table}]\n\"{}\" = 7\n", typed(key, &draw)).into_bytes());
        let job = read_job(&files).map_err(|wrong| TestCaseError::fail(told(&wrong)))?;
        prop_assert_eq!(job.settings[table.as_str()].get(key.as_str()).map(|fact| fact.text.as_str()), Some("7"));
    }
}

// job.toml.

#[test]
fn keys_in_other_capitals_are_read() {
    let job = Job::copy("cart-barn");
    let before = job.check_json();
    for (from, to) in [
        ("wind =", "Wind ="),
        ("S_DS =", "s_ds ="),
        ("checked_by =", "Checked_By ="),
        ("S_D1 =", "s-d1 ="),
        ("R = \"the roof", "r = \"the roof"),
    ] {
        job.edit("job.toml", from, to);
    }
    let after = job.check_json();
    assert_eq!(before["posts"], after["posts"]);
    let read = read_job(&files_of(&job.path())).unwrap_or_else(|wrong| panic!("{}", told(&wrong)));
    assert_eq!((read.card.checked_by.as_str(), read.loads.both_signs), ("S. Second", false));
    let told = wrong("cart-barn", |job| {
        job.edit("job.toml", "S_DS = 0.52", "S_DS = 0.52\nrho = 1.3\nRho = 1.0");
    });
    assert!(told.contains("`rho` appears twice in `[seismic]`"), "{told}");
}

#[test]
fn tables_and_keys_in_the_wrong_place() {
    for (from, to, wanted) in [
        ("[wood]", "[timber]", "`[bracing]`, `[roof]`, `[seismic]`, `[shop]`, `[site]` and `[wood]`"),
        ("[site]", "[site]\nbrace_x = \"other\"", "`brace_x` goes under `[bracing]`"),
        ("[site]", "[site]\nsigns = \"x\"", "`signs` goes under `[loads]`"),
        ("[site]", "[site]\nspecies = \"x\"", "`species` is a column of `posts.csv`"),
        ("[site]", "[[site]]", "write it once, as `[site]`"),
        ("[job]", "frost = \"3 ft\"\n[job]", "it goes under `[site]`"),
        ("assumptions = [", "assumptions = \"one\"\nx = [", "`assumptions` of `job.toml` must be a list of texts"),
    ] {
        let told = wrong("cart-barn", |job| {
            job.edit("job.toml", from, to);
        });
        assert!(told.contains(wanted), "{to}: {told}");
    }
}

#[test]
fn revisions_that_are_none() {
    let one = "[[revisions]]\nno = \"A\"\ndate = \"2026-11-02\"\nwhat = \"first issue for review\"\n";
    for (to, wanted) in [
        ("", ""),
        ("[revisions]\nno = \"A\"\n", "`revisions` is written as `[[revisions]]`"),
        ("[[revisions]]\nNo = \"A\"\nDate = \"2026-11-02\"\nWhat = \"x\"\n", ""),
        ("[[revisions]]\nno = \"A\"\ndate = \"2 Nov\"\nwhat = \"x\"\n", "found `2 Nov`; expected a date"),
        ("[[revisions]]\nno = \"A\"\nwhat = \"x\"\n", "a revision has no `date`"),
        (
            "[[revisions]]\nno = \"A\"\nNO = \"B\"\ndate = \"2026-11-02\"\nwhat = \"x\"\n",
            "`no` appears twice in `[revisions]`",
        ),
        (
            "[[revisions]]\nno = \"A\"\ndate = \"2026-11-02\"\nwhat = \"x\"\nby = \"me\"\n",
            "unknown key `by` in `[revisions]`",
        ),
    ] {
        let told = wrong("orchard-pergola", |job| {
            job.edit("job.toml", one, to);
        });
        assert!(if wanted.is_empty() { told.is_empty() } else { told.contains(wanted) }, "{to}: {told}");
    }
    let told = wrong("orchard-pergola", |job| {
        job.edit("job.toml", one, "").edit("job.toml", "[job]", "revisions = [\"A\"]\n[job]");
    });
    assert!(told.contains("a revision is a table with `no`, `date` and `what`"), "{told}");
}

// Numbers.

#[test]
fn numbers_as_people_type_them() {
    let inches = |text: &str, comma: bool| {
        let decimals = if comma { Decimals::Comma } else { Decimals::Point };
        let found = read(text, &Unit::all(&["in"]), Unit::simple("in").as_ref(), decimals);
        found.map(|reading| reading.quantity.value).map_err(|unread| unread.message)
    };
    for (text, comma, wanted) in [
        ("3,150", true, 3.15),
        ("3,200", true, 3.2),
        ("7,5", true, 7.5),
        ("1.234,5", true, 1234.5),
        ("1.234.567", true, 1_234_567.0),
        ("2.5", true, 2.5),
        ("0.125", true, 0.125),
        ("3.1500", true, 3.15),
        ("3,150", false, 3150.0),
        ("3.150", false, 3.15),
        ("8 ft 11 1/2 in", false, 107.5),
    ] {
        assert_eq!(inches(text, comma), Ok(wanted), "{text}");
    }
    for (text, comma, wanted) in [
        (
            "3.150",
            true,
            "which is 3.15 with a decimal point and 3150 with a point between thousands; write `3,150` or `3150`",
        ),
        ("-12.000", true, "write `12,000` or `12000`"),
        ("1,234,5", true, "one comma goes before the decimals"),
        ("12.34,5", true, "one comma goes before the decimals"),
        ("0,250", false, "write decimals with a point, as in `0.250`"),
        ("8 ft 14 in", false, "less than 12"),
        ("8'500", false, "less than 12"),
        ("1'500", false, "less than 12"),
        ("8 ft 12 in", false, "less than 12"),
        ("1e400", false, "the number is too large"),
    ] {
        let told = inches(text, comma).expect_err(text);
        assert!(told.contains(wanted), "{text}: {told}");
    }
    let force =
        |text: &str| read(text, &Unit::all(&["lbf"]), None, Decimals::Point).map(|reading| reading.quantity.value);
    assert!((force("10 daN").expect("a force") - force("100 N").expect("a force")).abs() < 1e-9);
    // What a mass weighs: a pound of mass is 0.45359237 kg, and weighs a pound.
    assert!((force("0.45359237 kg").expect("a force") - 1.0).abs() < 1e-12);
    let density = read("550 kg/m3", &Unit::all(&["pcf"]), None, Decimals::Point).expect("a density").quantity;
    assert!((density.in_unit(&Unit::parse("pcf").expect("a unit")) - 34.335).abs() < 1e-3);
}

#[test]
fn every_load_column_has_a_number_in_every_row() {
    let told = wrong("creek-porch", |job| {
        job.set("posts.csv", "P2", "P_D", "").set("posts.csv", "P2", "H_x_W", "");
    });
    assert!(told.contains("post P2 has nothing under `P_D` and `H_x_W`") && told.contains("write 0"), "{told}");
}

#[test]
fn loads_in_the_wrong_unit() {
    for (column, unit, wanted) in
        [("P_D", "lbf", "of dead load is less than a post weighs"), ("P_S", "GPa", "expected")]
    {
        let told = wrong("creek-porch", |job| {
            job.edit("posts.csv", &format!("{column} [kip]"), &format!("{column} [{unit}]"));
        });
        assert!(told.contains(wanted), "{told}");
    }
    for (column, value, wanted) in [
        ("P_D", "0", "of dead load is less than a post weighs"),
        ("P_S", "610", "is more than a timber post can take, 500 kip"),
        ("H_x_W", "-900", "is more than a timber post can take, 500 kip"),
        ("x", "2400", "over 2000 ft away"),
    ] {
        let told = wrong("creek-porch", |job| {
            job.set("posts.csv", "P2", column, value);
        });
        assert!(told.contains(wanted), "{told}");
    }
}

/// A column under a wrong unit is refused by a bound of the sheet that reads it.
#[test]
fn sizes_in_the_wrong_unit() {
    let refused = |name: &str, file: &str, from: &str, to: &str, wanted: &str| {
        let job = Job::copy(name);
        job.edit(file, from, to);
        let (told, column) = (job.diagnostic(), from.split(' ').next().expect("a name"));
        let named = |line: &str| line.contains(&format!("`{column}`")) && line.contains(wanted);
        assert!(told.lines().any(named), "{column} {wanted}: {told}");
    };
    for (file, from, to, wanted) in [
        ("foundations.csv", "floor_thick [in]", "floor_thick [ft]", "accepts at most 24 in"),
        ("foundations.csv", "floor_width [in]", "floor_width [ft]", "accepts at most 24 in"),
        ("bases.csv", "floor_spacing_along [in]", "floor_spacing_along [ft]", "accepts at most 24 in"),
        ("bases.csv", "floor_screw_length [in]", "floor_screw_length [ft]", "accepts at most 24 in"),
        ("bases.csv", "seat_width [in]", "seat_width [ft]", "accepts at most 36 in"),
        ("bases.csv", "floor_plate [in]", "floor_plate [m]", "accepts at most 3 in"),
    ] {
        refused("creek-porch", file, from, to, wanted);
    }
    for (file, from, to, wanted) in [
        ("bases.csv", "foot_width [in]", "foot_width [ft]", "accepts at most 48 in"),
        ("bases.csv", "blade [in]", "blade [ft]", "accepts at most 2 in"),
        ("bases.csv", "pin_end [in]", "pin_end [ft]", "accepts at most 36 in"),
        ("bases.csv", "anchor_s_x [in]", "anchor_s_x [m]", "accepts at most 48 in"),
        ("foundations.csv", "pier_b [in]", "pier_b [ft]", "accepts at most 10 ft"),
        ("foundations.csv", "found_depth [in]", "found_depth [ft]", "accepts at most 30 ft"),
        ("anchors.csv", "h_ef [in]", "h_ef [ft]", "accepts at most 60 in"),
        ("posts.csv", "timbers [lbf]", "timbers [kip]", "accepts at most 20 kip"),
        ("job.toml", "mean_height = \"9 ft 6 in\"", "mean_height = \"9 in\"", "accepts at least 6 ft"),
        ("job.toml", "rafters = \"6 psf\"", "rafters = \"6 psi\"", "accepts at most 100 psf"),
        ("job.toml", "overhang_x = \"1 ft 6 in\"", "overhang_x = \"18 m\"", "accepts at most 20 ft"),
    ] {
        refused("orchard-pergola", file, from, to, wanted);
    }
    for column in ["download [lbf]", "uplift [lbf]", "lateral_x [lbf]", "lateral_y [lbf]"] {
        refused("cart-barn", "bases.csv", column, &column.replace("lbf", "kip"), "accepts at most 200 kip");
    }
}

/// Every quantity of a file or of `job.toml` has an upper bound, but for those that
/// may be anything.
#[test]
fn every_quantity_is_bounded_above() {
    let free = ["w_x", "w_y"];
    let columns = socle::engine::columns(&library());
    let kinds = ["length", "force", "stress", "moment", "line-load", "density", "speed", "angle"];
    let open = columns.iter().filter(|column| kinds.contains(&column.kind.as_str()));
    let open = open.filter(|column| !column.bounds.iter().any(|bound| bound.starts_with('<')));
    let open: Vec<&str> = open.map(|column| column.name.as_str()).filter(|name| !free.contains(name)).collect();
    assert!(open.is_empty(), "{open:?}");
}

#[test]
fn screws_beside_the_plate() {
    let job = Job::copy("creek-porch");
    job.set("bases.csv", "foot 6", "floor_spacing_along", "6");
    let json = job.check_json();
    let fits = json["posts"][0]["fits"].as_array().expect("fits");
    let failed: Vec<&str> =
        fits.iter().filter(|fit| fit["ok"] == false).filter_map(|fit| fit["fit"].as_str()).collect();
    assert!(failed.contains(&"the screws go through the plate on the floor"), "{failed:?}");
}

// Names in tables and lists.

#[test]
fn grades_and_species_as_people_write_them() {
    let before = Job::copy("orchard-pergola").check_json();
    let job = Job::copy("orchard-pergola");
    job.set("posts.csv", "A1", "grade", "No. 1").set("posts.csv", "A2", "grade", "no.1");
    job.set("posts.csv", "A2", "species", "douglas fir larch");
    let after = job.check_json();
    for (before, after) in
        before["posts"].as_array().expect("posts").iter().zip(after["posts"].as_array().expect("posts"))
    {
        assert_eq!((&before["limits"], &before["values"]), (&after["limits"], &after["values"]));
    }
}

/// The flat use factor of a beam goes by its grade, however that is typed.
#[test]
fn a_name_is_a_name_in_any_capitals() {
    let c_fu = |grade: &str| {
        let output = socle(&[
            "work",
            "timber-values",
            "species=Douglas Fir-Larch",
            &format!("grade={grade}"),
            "b=5.5 in",
            "d=11.5 in",
            "service=dry",
        ]);
        let text = stdout(&output);
        text.lines()
            .find(|line| line.trim_start().starts_with("C_fu"))
            .unwrap_or_else(|| panic!("{text}{}", stderr(&output)))
            .to_string()
    };
    assert!(c_fu("No.1").contains("0.74"), "{}", c_fu("No.1"));
    assert_eq!(c_fu("no. 1"), c_fu("No.1"));
}

#[test]
fn a_species_that_is_none_is_said_once_with_the_nearest() {
    let job = Job::copy("orchard-pergola");
    let text = job.read("posts.csv").replace("Douglas Fir-Larch", "Douglas Fir");
    job.write("posts.csv", text);
    expect![[r#"
        error: NDS 2018 Table 12.3.3A: Assigned specific gravities has no row for species `Douglas Fir`
          ┌─ JOBS/orchard-pergola/posts.csv:2:48 (cell K2)
          │
        2 │ A1,0,0,knife 8,pier 16,rod 1/2,7 1/2,7 1/2,9,0,Douglas Fir,No.1,treated,yes,one,80,demo
          │                                                ^^^^^^^^^^^
          │
          = hint: nearest are `Douglas Fir-Larch`, `Douglas Fir-South` and `Douglas Fir-Larch (North)`
          = hint: for post A1
          = hint: the same in lines 3, 4, 6

        1 thing to fix; nothing was written
    "#]]
    .assert_eq(&job.diagnostic());
}

#[test]
fn the_nearest_name_is_near() {
    use socle::names::nearest;
    assert_eq!(nearest("knife plate", ["side plate", "strap 8"]), None);
    assert_eq!(nearest("S_Ds", ["S_D1", "S_DS"]), Some("S_DS"));
    assert_eq!(nearest("post", ["frost"]), None);
    assert_eq!(nearest("hieght", ["width", "height"]), Some("height"));
    assert_eq!(nearest("knife 9", ["knife 6"]), Some("knife 6"));
    for (typed, wanted) in [("gable", "pitched"), ("shed", "monoslope"), ("pitch", "pitched")] {
        let job = Job::copy("orchard-pergola");
        job.edit("job.toml", "roof = \"slats\"", &format!("roof = \"{typed}\""));
        assert!(job.diagnostic().contains(&format!("did you mean `{wanted}`?")), "{}", job.diagnostic());
    }
}

// Files.

#[test]
fn titles_above_the_headings() {
    let before = Job::copy("cart-barn").check_json();
    let job = Job::copy("cart-barn");
    let text = format!("Support reactions,,,,\n\"Model: barn, run 3\",,,,\n\n{}", job.read("reactions.csv"));
    job.write("reactions.csv", text.replacen("P [lbf]", "P (lbf)", 1));
    assert_eq!(job.check_json()["posts"], before["posts"]);
    let notes = told(&read_job(&files_of(&job.path())).unwrap_or_else(|wrong| panic!("{}", told(&wrong))).notes);
    assert!(notes.contains("2 rows above the headings: not read"), "{notes}");
    // What a whole file lacks is marked at its headings, wherever they are.
    let job = Job::copy("creek-porch");
    job.edit("posts.csv", "w_x [lbf/ft]", "my wind").edit("posts.csv", "mark,", "Export of an analysis\n\nmark,");
    let told = job.diagnostic();
    assert!(told.contains("the wind on the posts themselves") && told.contains("posts.csv:3:1"), "{told}");
}

#[test]
fn messages_count_the_lines_of_the_file() {
    let told = wrong("creek-porch", |job| {
        job.edit("posts.csv", "P1,", "# the porch\n\nP1,").edit("posts.csv", "P3,", "\n,");
    });
    assert!(told.contains("line 7: a post without a mark"), "{told}");
}

#[test]
fn a_row_that_is_a_comment_is_named() {
    let notes = noted("creek-porch", |job| {
        job.edit("posts.csv", "P3,", "#3,");
    });
    assert!(notes.contains("a row begins with `#`: it is a comment and is not read"), "{notes}");
}

#[test]
fn files_under_nearly_the_right_name() {
    for (path, wanted) in [
        ("reaction.csv", "did you mean `reactions.csv`?"),
        ("Reactions.csv", "did you mean `reactions.csv`?"),
        ("anchor.csv", "did you mean `anchors.csv`?"),
        ("Templates/tables/load-duration.csv", "in a folder `templates`, in lowercase"),
        ("templates/table/load-duration.csv", "is neither a sheet nor a table that is read"),
        ("templates/sheets/own/rule.txt", "is neither a sheet nor a table that is read"),
        ("templates/package/Main.typ", "a job cannot change how its pages look"),
    ] {
        let job = Job::copy("creek-porch");
        job.write(path, "a\n");
        let told = job.diagnostic();
        assert!(told.contains(wanted), "{wanted}: {told}");
    }
    // A copy beside the file that is read is none of these.
    let job = Job::copy("creek-porch");
    job.write("posts-2.csv", "a\n").write("templates/.DS_Store", "a\n");
    let output = socle(&["check".as_ref(), job.path().as_os_str()]);
    assert!(output.status.code() == Some(0) && stderr(&output).contains("posts-2.csv"), "{}", stderr(&output));
}

#[test]
fn a_job_that_is_none() {
    for (args, message) in [
        (&["sheets", "--job", "nowhere"][..], "there is no folder `nowhere`"),
        (&["work", "dead-load", "--job", "tests"], "there is no `job.toml` in `tests`"),
    ] {
        let output = socle(args);
        assert_eq!(output.status.code(), Some(2), "{}", stdout(&output));
        assert!(stderr(&output).contains(message), "{}", stderr(&output));
    }
}

#[test]
fn an_input_that_is_typed_twice() {
    let output = socle(&["work", "pin-yield", "D=3/4 in", "D=1/2 in"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(stderr(&output).contains("`D` is given twice: `3/4 in` and `1/2 in`"), "{}", stderr(&output));
}

#[test]
fn a_load_duration_of_the_job_comes_first() {
    let table = |row: &str| format!("# title: own\ncase,duration,C_D,source,kind,doubt\n{row}\n");
    let c_d = |row: &str| {
        let job = Job::copy("creek-porch");
        job.write("templates/tables/load-duration.csv", table(row));
        job
    };
    let before = Job::copy("creek-porch").check_json();
    let ratio = |json: &serde_json::Value| {
        limit(json, "P2", "compression of the post as a column")["ratio"].as_f64().expect("a ratio")
    };
    let after = c_d("S,two months,1.0,shop,recalled,").check_json();
    assert!(ratio(&after) > ratio(&before), "{} {}", ratio(&before), ratio(&after));
    for (row, wanted) in [
        ("S,two months,NaN,shop,recalled,", "a number"),
        ("S,two months,inf,shop,recalled,", "a number"),
        ("S,two months,11.5,shop,recalled,", "`C_D` is more than 0 and at most 2"),
        ("S,two months,0,shop,recalled,", "`C_D` is more than 0 and at most 2"),
        ("Snow,two months,1.15,shop,recalled,", "has a row for `Snow`"),
    ] {
        let told = c_d(row).diagnostic();
        assert!(told.contains(wanted), "{row}: {told}");
    }
}

/// What sheets say of one column, put together: the narrowest bounds, and for which kind of base it is read.
#[test]
fn a_column_is_told_as_all_its_sheets_read_it() {
    let sheet = |name: &str, head: &str, inputs: &str, more: &str| {
        let symbols = inputs.split(';').map(|input| format!("  {} \"s\" in in\n", input.trim())).collect::<String>();
        let sum: Vec<&str> = inputs.split(';').map(|input| input.trim().split(' ').next().expect("a name")).collect();
        let text = format!(
            "sheet {name}\ntitle N\n{head}needs\n{symbols}gives\n  c length \"c\"\n{more}let c = {} \"c\" in in\n",
            sum.join(" + ")
        );
        let path = format!("sheets/{name}.sheet");
        Text { source: Source::new(path.clone(), text), path, own: false }
    };
    let place = "place foot by kind from bases \"kind\"\n  c length \"c\" in in\n";
    let stands = |kind: &str| format!("stands as foot when kind is {kind}\n");
    let texts = [
        sheet("a", "", "q length from posts >= 0 in, <= 10 in", place),
        sheet("b", "", "q length from posts > 0 in, <= 8 in; k length from posts", ""),
        sheet("c", "", "q length from posts >= 0 in, < 12 in", ""),
        sheet("d", &stands("tall"), "k length from posts; n length from posts", "use below\n"),
        sheet("e", &stands("low"), "n length from posts", ""),
        sheet("below", "", "m length from posts >= 2 in", ""),
    ];
    let library = Library::load(&texts, None).unwrap_or_else(|wrong| panic!("{}", wrong[0].message));
    let columns = socle::engine::columns(&library);
    let of = |name: &str| {
        let column = columns.iter().find(|column| column.source == "posts" && column.name == name);
        column.map(|it| (it.bounds.clone(), it.only.clone())).unwrap_or_else(|| panic!("no column {name}"))
    };
    let said = |bounds: &[&str], only: &[&str]| {
        (
            bounds.iter().map(|it| it.to_string()).collect::<Vec<_>>(),
            only.iter().map(|it| it.to_string()).collect::<Vec<_>>(),
        )
    };
    assert_eq!(of("q"), said(&["> 0 in", "<= 8 in"], &[]));
    assert_eq!(of("k"), said(&[], &["kind is tall"]));
    assert_eq!(of("m"), said(&[">= 2 in"], &["kind is tall"]));
    assert_eq!(of("n"), said(&[], &[]));
}
