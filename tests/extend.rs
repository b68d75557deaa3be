//! What is added in one file and known nowhere else: a rule of a shop, in the
//! job's folder; a kind of base, of which no example job has one.

use socle::package::{PlainSheet, Span};

use crate::jobs::package_in;
use crate::support::{Job, limit, one_line, root, socle, stdout};

pub const RULE: &str = "base-behind-cladding";

/// The porch with a rule of its own, and furring in a column that the rule adds.
pub fn porch() -> Job {
    let job = Job::copy("creek-porch");
    let sheet = std::fs::read_to_string(root().join("tests/own-sheets").join(format!("{RULE}.sheet")));
    job.write(&format!("templates/sheets/own/{RULE}.sheet"), sheet.expect("the rule"));
    job
}

/// Seats of 5 1/2 in stand behind 3/4 in of furring less 1/4 in of air on posts
/// of 5 1/2 in; one of 3 1/2 in needs 1/4 in of furring on a post of 3 1/2 in.
#[test]
fn a_rule_of_the_shop_is_worked_for_every_post() {
    let job = porch();
    let json = job.check_json();
    for (mark, ratio) in [("P1", 5.5 / 6.5), ("P2", 5.5 / 6.5), ("P3", 5.5 / 6.5), ("P4", 3.5 / 4.5)] {
        for along in ["x", "y"] {
            let found = limit(&json, mark, &format!("base behind the cladding, along {along}"));
            assert_eq!(found["sheet"], RULE);
            assert_eq!(found["cite"], "common practice, no source");
            assert!((found["ratio"].as_f64().expect("a ratio") - ratio).abs() < 1e-9, "{mark}: {found}");
        }
    }
    job.edit("posts.csv", "mark,", "mark,furring [in],");
    for (mark, furring) in [("P1", ""), ("P2", ""), ("P3", ""), ("P4", "1/4")] {
        job.edit("posts.csv", &format!("\n{mark},"), &format!("\n{mark},{furring},"));
    }
    let json = job.check_json();
    assert_eq!(limit(&json, "P4", "base behind the cladding, along x")["ratio"], 1.0);
    assert_eq!(limit(&json, "P1", "base behind the cladding, along x")["capacity"], 6.5);
    job.set("posts.csv", "P4", "furring", "1/8");
    let output = socle(&["check".as_ref(), job.path().as_os_str()]);
    assert_eq!(output.status.code(), Some(1));
    assert!(one_line(&stdout(&output)).contains("fur the cladding out farther"), "{}", stdout(&output));
    // The column is known where the rule is.
    let columns =
        socle(&["sheets".as_ref(), "--columns".as_ref(), "posts".as_ref(), "--job".as_ref(), job.path().as_os_str()]);
    assert!(stdout(&columns).contains("\n  furring [in] "), "{}", stdout(&columns));
}

/// The pergola with less for the wind to blow at: a post with a hole for a tube
/// has less wood than one with a slot.
fn pergola() -> Job {
    let job = Job::copy("orchard-pergola");
    job.edit("job.toml", "face_across = \"3 ft 6 in\"", "face_across = \"3 ft\"");
    job
}

/// The pergola with sleeves under its two middle posts.
pub fn sleeves() -> Job {
    let job = pergola();
    let bases = job.read("bases.csv");
    let rows: Vec<&str> = bases.lines().collect();
    let like: Vec<&str> = rows[1].split(',').collect();
    let cell = |(heading, like): (&str, &str)| {
        match heading.split(" [").next().expect("a name") {
            "name" => "sleeve 8",
            "kind" => "sleeve",
            "leg_thick" => "0.218",
            "slot" | "blade" | "blade_width" | "pin_length" | "pin_rows" | "row_spacing" => "",
            _ => like,
        }
        .to_string()
    };
    let sleeve: Vec<String> = rows[0].split(',').zip(like).map(cell).collect();
    let mut text = format!("{},bore [in],bore_deep [in]\n", rows[0]);
    rows[1..].iter().for_each(|row| text.push_str(&format!("{row},,\n")));
    text.push_str(&format!("{},2 7/16,9\n", sleeve.join(",")));
    job.write("bases.csv", text);
    job.set("posts.csv", "A2", "base", "sleeve 8").set("posts.csv", "B2", "base", "sleeve 8");
    job
}

#[test]
fn a_third_kind_of_base_is_worked_and_ordered() {
    let job = sleeves();
    let json = job.check_json();
    assert_eq!(limit(&json, "A2", "uplift and shear on the bolts")["sheet"], "sleeve-base");
    // With the weak direction of both along x, one combination governs: the pull on the bolts is that on the pins.
    let demand = |job: &Job, base: &str, words: &str| {
        job.set("bases.csv", base, "blade_along", "x");
        limit(&job.check_json(), "A2", words)["demand"].clone()
    };
    let pins = demand(&pergola(), "knife 8", "uplift and shear on the pins");
    assert_eq!(demand(&sleeves(), "sleeve 8", "uplift and shear on the bolts"), pins);
    assert!(json["posts"].as_array().expect("posts").iter().all(|post| post["ok"] == true));
    let files = crate::shop::schedules(&job.path());
    let row = |file: &str, start: &str| {
        let text = &files[&format!("{file}-to-order.csv")];
        text.lines()
            .find(|line| line.starts_with(start))
            .unwrap_or_else(|| panic!("no row `{start}`:\n{text}"))
            .to_string()
    };
    // Two bolts in each of two posts; the pins are those of the other posts.
    assert!(row("fasteners", "\"bolt, by its grip\",\"1/2 in by 7 1/2 in").ends_with(",4"));
    assert!(
        row("fasteners", "nut for a bolt,").ends_with(",4") && row("fasteners", "washer for a bolt,").ends_with(",8")
    );
    assert!(row("steel", "base,sleeve 8").ends_with(",2"));
    assert!(row("fasteners", "pin,\"1/2 in by 6 3/4 in").ends_with(",4"));
    assert!(row("anchors", "rod,\"1/2 in by").ends_with(",24"));
    // The tube goes up through the seat: 8 in over it, 5/8 in in it, 7/8 in below.
    assert!(row("steel", "pipe,\"sleeve 8, 2 3/8 in by 0.218 in by 9 1/2 in").ends_with(",2"));
}

/// The same kind of base under another name, in the job's folder alone.
#[test]
fn a_kind_of_base_is_one_file() {
    let job = sleeves();
    let before = job.check_json();
    let sheet = std::fs::read_to_string(root().join("templates/sheets/base/sleeve-base.sheet")).expect("the sheet");
    let sheet = sheet.replace("sheet sleeve-base", "sheet spike-base").replace("kind is sleeve", "kind is spike");
    job.write("templates/sheets/own/spike-base.sheet", sheet);
    job.edit("bases.csv", "sleeve 8,sleeve,", "sleeve 8,spike,");
    let after = job.check_json();
    for mark in ["A2", "B2"] {
        let (before, after) = (limit(&before, mark, "shear of the bolts"), limit(&after, mark, "shear of the bolts"));
        assert_eq!(after["sheet"], "spike-base");
        assert_eq!((&before["ratio"], &before["combination"]), (&after["ratio"], &after["combination"]));
    }
    // The places that fill a kind are checked: a kind that nobody stands for is refused.
    job.edit("bases.csv", "sleeve 8,spike,", "sleeve 8,spikes,");
    assert!(job.diagnostic().contains("expected `made`, `rated`, `sleeve` or `spike`"), "{}", job.diagnostic());
}

/// Measures by hand: two bolts 2 1/2 in apart, 4 in above the seat, and 1 1/2 in
/// of tube above them; a standoff of 2 in between two plates of 1/2 in.
#[test]
fn a_third_kind_of_base_has_its_pages_for_shop_and_site() {
    let job = sleeves();
    job.set("posts.csv", "B2", "height", "9");
    job.set("posts.csv", "B2", "base_level", "0");
    let (package, _) = package_in(&job.path());
    let of = |sheets: &[PlainSheet]| {
        let sheet = sheets.iter().find(|sheet| sheet.title.ends_with("posts A2, B2")).expect("a sheet of these posts");
        let values = sheet.values().map(|it| (spans(&it.say), format!("{}{}", it.value.number, it.value.unit)));
        let words: Vec<String> = sheet.words().map(spans).collect();
        (values.collect::<Vec<_>>(), words.join("\n"), sheet.drawings().count())
    };
    let (values, words, _) = of(&package.shop);
    for (say, value) in [
        ("hole in the foot of the post", "2 7/16″"),
        ("its depth", "9″"),
        ("bolts per post", "2"),
        ("end grain to the nearest bolt", "4″"),
        ("spacing of the bolts", "2 1/2″"),
        ("holes in the tube", "9/16″"),
        ("tube above the seat", "8″"),
        ("holes in the plate on the concrete, at most", "9/16″"),
        ("leg of the fillet welds, at least", "3/16″"),
    ] {
        let found = values.iter().find(|(known, _)| known.starts_with(say));
        assert_eq!(found.map(|(_, found)| found.as_str()), Some(value), "{say}: {values:#?}");
    }
    assert!(words.contains("Try the tube in the bore") && words.contains("Cut the end grain square"), "{words}");
    let (values, words, figures) = of(&package.field);
    for (say, value) in [("end grain above the concrete", "2″"), ("grade", "F1554 Grade 36"), ("their size", "No. 4")]
    {
        let found = values.iter().find(|(known, _)| known.starts_with(say));
        assert_eq!(found.map(|(_, found)| found.as_str()), Some(value), "{say}: {values:#?}");
    }
    assert!(words.contains("Set the post over the tube"), "{words}");
    assert_eq!(figures, 3, "the foundation, its bars and the anchors");
}

pub fn spans(spans: &[Span]) -> String {
    let text = spans.iter().map(|span| match span {
        Span::Markup(text) | Span::Text(text) => text.as_str(),
        Span::Math(math) => math.alt.as_str(),
    });
    text.collect()
}
