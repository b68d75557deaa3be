//! Every built-in sheet and table, without a list of them.

use socle::formula::Value;
use socle::sheet::Library;

use crate::jobs::library;
use crate::metric::imperial;
use crate::support::{JOBS, Job, one_line, root, socle, stderr, stdout};

#[test]
fn all_built_in_sheets_are_in_order() {
    let library = library();
    let mut files = 0;
    let mut waiting = vec![root().join("templates/sheets")];
    while let Some(path) = waiting.pop() {
        if path.is_dir() {
            waiting.extend(std::fs::read_dir(&path).expect("a folder").map(|entry| entry.expect("an entry").path()));
        } else if path.extension().is_some_and(|end| end == "sheet") {
            files += 1;
        }
    }
    assert!(files > 10);
    assert_eq!(library.sheets().count(), files);
    for sheet in library.sheets() {
        assert!(!sheet.title.is_empty(), "{} has no title", sheet.name);
        // A page with an equation that has no words for who cannot see it is refused.
        assert!(!sheet.source.text.contains('$'), "{} has an equation in its prose", sheet.name);
        for input in &sheet.inputs {
            assert!(!input.say.is_empty(), "{}: {} is not explained", sheet.name, input.name);
        }
    }
}

#[test]
fn a_sheet_of_ones_own_is_checked() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("own.sheet");
    let check = |text: &str| {
        std::fs::write(&path, text).expect("a file");
        socle(&["sheets", &path.display().to_string()])
    };
    let good = check("sheet own\ntitle mine\nneeds\n  a length \"x\"\nlet b = 2 * a  \"twice\"\n");
    assert!(good.status.success(), "{}", stderr(&good));
    assert!(stdout(&good).contains("is in order"));
    let bad = check("sheet own\ntitle mine\nneeds\n  a length \"x\"\nlet b = 2 + a  \"twice\"\n");
    assert_eq!(bad.status.code(), Some(2));
    assert!(stderr(&bad).contains("adds a length to a plain number"), "{}", stderr(&bad));
}

/// The columns that `socle sheets --columns` prints, by the file or table that they stand in.
fn columns_printed() -> Vec<(String, String)> {
    let output = socle(&["sheets", "--columns"]);
    assert!(output.status.success(), "{}", stderr(&output));
    let mut source = String::new();
    let mut columns = Vec::new();
    for line in stdout(&output).lines().filter(|line| !line.is_empty()) {
        assert!(line.chars().count() <= 100, "{line}");
        // The words of a column go on farther right, and a kind has a line of its own.
        if line.starts_with("   ") || line.starts_with(" where ") {
            continue;
        }
        match line.strip_prefix("  ") {
            Some(column) => {
                let (heading, words) = column.split_once("  ").unwrap_or_else(|| panic!("`{line}` says nothing"));
                assert!(!words.trim().is_empty(), "{line}");
                columns.push((source.clone(), heading.split(" [").next().expect("a name").to_string()));
            }
            None => source = line.into(),
        }
    }
    columns
}

/// Every column that an example job has is printed, each once.
#[test]
fn columns_of_the_example_jobs_are_printed_once() {
    let printed = columns_printed();
    for (at, column) in printed.iter().enumerate() {
        assert!(!printed[..at].contains(column), "{column:?} is printed twice");
    }
    let has = |source: &str, name: &str| printed.contains(&(source.to_string(), name.to_string()));
    let mut seen = 0;
    for job in JOBS {
        let folder = root().join("fixtures").join(job);
        for file in ["posts.csv", "bases.csv", "foundations.csv", "anchors.csv"] {
            let Ok(text) = std::fs::read_to_string(folder.join(file)) else { continue };
            let header = text.trim_start_matches('\u{feff}').lines().next().expect("a header");
            for heading in header.split([',', ';']) {
                let name = heading.split('[').next().expect("a name").trim();
                let load = socle::job::load_column(name)
                    .map(|(part, _)| ["P_CASE", "H_x_CASE", "H_y_CASE", "w_x_CASE", "w_y_CASE"][part]);
                // No sheet asks yet when the report of an anchor expires.
                if (file, name) == ("anchors.csv", "report_expires") {
                    assert!(!has(file, name), "it is read now: take it out of this test");
                    continue;
                }
                // A post says for itself what a table of job.toml says of all.
                let there = has(file, load.unwrap_or(name))
                    || file == "posts.csv" && printed.iter().any(|(of, key)| of.ends_with("job.toml") && key == name);
                assert!(there, "{job}: `{name}` of {file} is not printed");
                seen += 1;
            }
        }
        let toml = std::fs::read_to_string(folder.join("job.toml")).expect("job.toml");
        let toml: toml::Table = toml.parse().expect("TOML");
        for (table, keys) in toml.iter().filter_map(|(table, keys)| Some((table, keys.as_table()?))) {
            for key in keys.keys() {
                assert!(has(&format!("[{table}] in job.toml"), key), "{job}: `{key}` of [{table}] is not printed");
                seen += 1;
            }
        }
    }
    assert!(seen > 200, "{seen}");
}

#[test]
fn columns_of_one_file_say_what_they_hold() {
    let output = stdout(&socle(&["sheets", "--columns", "bases.csv"]));
    assert!(output.starts_with("bases.csv\n") && !output.contains("posts.csv\n"), "{output}");
    let (_, sleeve) = output.split_once("\n where kind is sleeve\n").expect("the columns of sleeves");
    let wanted =
        "bore [in] diameter of the hole in the foot of the post: length, > 0 in, <= 12 in. Read by sleeve-base";
    assert!(one_line(sleeve).starts_with(wanted), "{sleeve}");
    let (all, _) = output.split_once("\n where ").expect("columns of kinds");
    assert!(all.contains("\n  standoff [in] ") && !all.contains("bore [in]"), "{all}");
    // A word in which the sheets differ is said by all of them.
    assert!(one_line(&output).contains("pin_end [in] end grain to the nearest screw, bolt or pin: length"), "{output}");
    let wrong = socle(&["sheets", "--columns", "base"]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(stderr(&wrong).contains("did you mean `bases`"), "{}", stderr(&wrong));
}

/// The reactions of an analysis have columns of their own, said in the units of a metric job too.
#[test]
fn columns_of_reactions_are_listed() {
    let listed = stdout(&socle(&["sheets", "--columns", "reactions"]));
    let names: Vec<&str> = listed.lines().filter_map(|line| line.strip_prefix("  ")?.split(' ').next()).collect();
    let names: Vec<&str> = names.into_iter().filter(|name| !name.is_empty()).collect();
    assert_eq!(names, ["mark", "case", "P", "H_x", "H_y", "w_x", "w_y"], "{listed}");
    let said = one_line(&listed);
    assert!(said.contains("H_x [lbf] shear along x") && said.contains("H_y [lbf] shear along y"), "{listed}");
    let metric = one_line(&stdout(&socle(&["sheets", "--columns", "reactions.csv", "--units", "metric"])));
    assert!(metric.contains("P [kN]") && metric.contains("w_x [kN/m]") && !metric.contains("lbf"), "{metric}");
}

/// No unit of a metric list is an inch, a foot or a pound: neither a heading, nor a bound, nor a default.
#[test]
fn columns_are_said_in_metric_units() {
    let listed = stdout(&socle(&["sheets", "--columns", "--units", "metric"]));
    let foreign: Vec<&str> = listed.lines().filter(|line| imperial(line).is_some()).collect();
    assert!(foreign.is_empty(), "{foreign:#?}");
    assert!(one_line(&listed).contains("base_moment [kN m] moment on the base"), "{listed}");
    let alone = socle(&["sheets", "--units", "metric"]);
    assert_eq!(alone.status.code(), Some(2));
}

/// The columns of the posts end with the keys of `job.toml` that may be columns too: each of them is one for a post.
#[test]
fn keys_that_may_be_columns_are_listed() {
    let listed = stdout(&socle(&["sheets", "--columns", "posts"]));
    let (_, keys) = listed.split_once(" where a post differs from what job.toml says of all").expect("the keys");
    let keys = one_line(keys);
    assert!(keys.contains("[bracing] brace_drop, brace_faces_x, brace_faces_y,"), "{keys}");
    for table in ["[seismic]", "[loads]", "[code]", "[job]", "[firm]"] {
        assert!(!keys.contains(table), "{keys}");
    }
    // Such a column holds for the posts that have something in it, the key for all others.
    let job = Job::copy("orchard-pergola");
    let before = job.check_json();
    let column = |line: &str| match line.split(',').next() {
        Some("mark") => format!("{line},p_g [psf]\n"),
        Some("A1") => format!("{line},80\n"),
        _ => format!("{line},\n"),
    };
    job.write("posts.csv", job.read("posts.csv").lines().map(column).collect::<String>());
    let after = job.check_json();
    let limits = |json: &serde_json::Value, mark: &str| {
        let posts = json["posts"].as_array().expect("posts");
        posts.iter().find(|post| post["mark"] == mark).expect("the post").clone()
    };
    assert_ne!(limits(&before, "A1"), limits(&after, "A1"));
}

/// A symbol of a sheet that is wrong is complained of there alone, in a function too.
#[test]
fn a_symbol_of_a_wrong_sheet_stands_in_a_function() {
    let texts = [
        ("sheets/low.sheet", "sheet low\ntitle low\nneeds\n  a length\ngives\n  b length\nlet b = a + 1 psi\n"),
        ("sheets/top.sheet", "sheet top\ntitle top\nneeds\n  a length\nuse low (a)\nlet c = abs(low.b + a)\n"),
    ];
    let text = |(path, text): &(&str, &str)| socle::sheet::Text {
        path: (*path).into(),
        source: socle::source::Source::new(*path, *text),
        own: false,
    };
    let wrong =
        socle::sheet::Library::load(&texts.iter().map(text).collect::<Vec<_>>(), Some(&[])).expect_err("a stress");
    let messages: Vec<&str> = wrong.iter().map(|diagnostic| diagnostic.message.as_str()).collect();
    assert_eq!(messages, ["adds a stress to a length"]);
}

/// The modulus for stability of visually graded lumber and timbers follows from the modulus of elasticity, NDS 2018 Eq. D-4 with
/// a coefficient of variation of 0.25; the Supplement prints it to 10,000 psi.
pub fn wrong_moduli(library: &Library) -> (usize, Vec<String>) {
    let (mut compared, mut wrong) = (0, Vec::new());
    for name in ["dimension-lumber", "posts-and-timbers"] {
        for row in library.table(name).expect("a table").each() {
            let number = |column: &str| match row[column] {
                Value::Quantity(quantity) => quantity.value,
                other => panic!("{name}, {column}: {other:?}"),
            };
            let (modulus, least) = (number("E"), number("E_min"));
            compared += 1;
            if (least - 1.03 * modulus * (1.0 - 1.645 * 0.25) / 1.66).abs() > 5_001.0 {
                wrong.push(format!("{name}: E_min of {least} for E of {modulus}"));
            }
        }
    }
    (compared, wrong)
}

#[test]
fn moduli_for_stability_follow_from_those_of_elasticity() {
    let (compared, wrong) = wrong_moduli(&library());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(compared > 150, "{compared}");
}
