//! Obeys what messages propose. A unit that a hint names is the one that the
//! example jobs use: without it, or with the whole column or key gone, the
//! message has to lead back to the same value.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use socle::quantity::Unit;

use crate::support::{JOBS, Job, socle, stderr};

/// What a message proposes between backticks that reads like `name [unit]`,
/// `name = "… unit"` or, after "such as", like a value.
fn proposed(message: &str) -> Vec<String> {
    message.split('`').skip(1).step_by(2).map(String::from).collect()
}

/// `width [in]` as its name and its unit.
fn heading(text: &str) -> Option<(&str, &str)> {
    let (name, unit) = text.strip_suffix(']')?.split_once(" [")?;
    (!name.contains(' ') && !unit.is_empty()).then_some((name, unit))
}

/// `V = "… mph"` as its name and its unit.
fn key(text: &str) -> Option<(&str, &str)> {
    text.strip_suffix('"')?.split_once(" = \"… ")
}

/// `115 mph` as its number and its unit; none for `8 ft 6 in`.
fn measured(text: &str) -> Option<(&str, &str)> {
    let at = text.find(|c: char| c.is_ascii_alphabetic())?;
    let (number, unit) = (text[..at].trim(), text[at..].trim());
    let plain = |number: &str| number.starts_with(|c: char| c.is_ascii_digit() || c == '-');
    (plain(number) && !unit.contains(|c: char| c.is_ascii_digit())).then_some((number, unit))
}

/// The keys of `job.toml` that hold a number with a unit, with both.
fn keys(toml: &str) -> Vec<(String, String, String)> {
    let line = |line: &str| {
        let (name, text) = line.strip_suffix('"')?.split_once(" = \"")?;
        // `7 Mill Road` is no quantity.
        let (number, unit) = measured(text).filter(|(_, unit)| Unit::parse(unit).is_ok())?;
        Some((name.to_string(), number.to_string(), unit.to_string()))
    };
    toml.lines().filter_map(line).collect()
}

/// The cells of a file, the heading first.
struct Rows(Vec<Vec<String>>, u8);

impl Rows {
    const FILES: [&'static str; 5] = ["posts.csv", "bases.csv", "foundations.csv", "anchors.csv", "reactions.csv"];

    fn read(job: &Job, file: &str) -> Option<Rows> {
        let text = std::fs::read_to_string(job.path().join(file)).ok()?;
        let separator = if text.lines().next()?.contains(';') { b';' } else { b',' };
        let text = text.trim_start_matches('\u{feff}');
        let mut reader = csv::ReaderBuilder::new().has_headers(false).delimiter(separator).from_reader(text.as_bytes());
        let rows = reader.records().map(|row| row.expect("a row").iter().map(String::from).collect());
        Some(Rows(rows.collect(), separator))
    }

    fn write(&self, job: &Job, file: &str) {
        let mut writer = csv::WriterBuilder::new().delimiter(self.1).from_writer(Vec::new());
        self.0.iter().for_each(|row| writer.write_record(row).expect("memory"));
        job.write(file, writer.into_inner().expect("memory"));
    }

    /// The unit of a column by its name: of its heading, or of its first cell.
    fn unit(&self, name: &str) -> Option<String> {
        let at = self.0[0].iter().position(|cell| cell.split(" [").next() == Some(name))?;
        let of_heading = heading(&self.0[0][at]).map(|(_, unit)| unit.to_string());
        let of_cell = || self.0.iter().skip(1).find_map(|row| Some(measured(&row[at])?.1.to_string()));
        of_heading.or_else(of_cell)
    }
}

/// The units that an example job has for each column and key that a message
/// proposes a unit for are among those that it proposes.
pub fn names_the_units_of(example: &str, message: &str) {
    let job = Job::copy(example);
    let rows: Vec<Rows> = Rows::FILES.iter().filter_map(|file| Rows::read(&job, file)).collect();
    let keys = keys(&job.read("job.toml"));
    for hint in message.lines().filter(|line| line.contains("hint: ")) {
        let proposed = proposed(hint);
        let units: Vec<(&str, &str)> = proposed.iter().filter_map(|text| heading(text).or_else(|| key(text))).collect();
        for (name, _) in &units {
            let of_key = || keys.iter().find(|(known, ..)| known == name).map(|(_, _, unit)| unit.clone());
            let Some(usual) = rows.iter().find_map(|rows| rows.unit(name)).or_else(of_key) else { continue };
            assert!(units.contains(&(name, &usual)), "{example} has {name} in {usual}:\n{message}");
        }
    }
}

/// The highest ratio of each example.
static EXAMPLES: LazyLock<BTreeMap<&str, f64>> =
    LazyLock::new(|| JOBS.into_iter().map(|name| (name, highest(&Job::copy(name).check_json()))).collect());

/// Obeys each value that a message proposes with "such as", in the job that it is
/// about: what comes of it is refused, or is a job like the example.
pub fn obeying_gives_no_nonsense(example: &str, job: &Job, message: &str) {
    for block in message.split("\nerror: ") {
        let first = block.lines().next().unwrap_or_default();
        let Some((head, after)) = first.split_once("such as ").filter(|(head, _)| head.contains("found `")) else {
            continue;
        };
        let (Some(found), Some(place)) =
            (head.split("found `").nth(1).and_then(|text| text.split('`').next()), block.split("┌─ ").nth(1))
        else {
            continue;
        };
        let place = place.lines().next().expect("a place");
        let place: Vec<&str> = place.split(" (").next().expect("a place").rsplitn(3, ':').collect();
        let [column, line, path] = place.as_slice() else { panic!("{block}") };
        let file = path.rsplit_once(&format!("{example}/")).expect("a file of the job").1;
        let line: usize = line.parse().expect("a line");
        let column: usize = column.parse().expect("a column");
        for value in proposed(after) {
            let text = job.read(file);
            let at = text.split_inclusive('\n').take(line - 1).map(str::len).sum::<usize>();
            let of_line = text[at..].char_indices().nth(column - 1).map_or(0, |(byte, _)| byte);
            let Some(within) = text[at + of_line..].find(found) else {
                panic!("`{found}` is not at its place: {block}")
            };
            let from = at + of_line + within;
            let quoted = file.ends_with(".csv") || text[..from].ends_with('"');
            let value = if quoted { value } else { format!("\"{value}\"") };
            let other = Job::copy(example);
            Rows::FILES.iter().chain(&["job.toml"]).filter(|file| job.path().join(file).exists()).for_each(|file| {
                other.write(file, job.read(file));
            });
            other.write(file, format!("{}{value}{}", &text[..from], &text[from + found.len()..]));
            let output = socle(&["check".as_ref(), other.path().as_os_str(), "--json".as_ref()]);
            if output.status.code() == Some(2) {
                continue;
            }
            let (before, after) = (EXAMPLES[example], highest(&other.check_json()));
            let factor = after / before;
            assert!((0.02..50.0).contains(&factor), "{value} in place of {found} takes {before} to {after}:\n{block}");
        }
    }
}

/// The highest demand/capacity ratio that loads press on.
fn highest(json: &serde_json::Value) -> f64 {
    let limits =
        json["posts"].as_array().expect("posts").iter().flat_map(|post| post["limits"].as_array().expect("limits"));
    let pressed = limits.filter(|limit| limit["combination"] != "").filter_map(|limit| limit["ratio"].as_f64());
    pressed.fold(0.0, f64::max)
}

/// The message for a job in which a number has no unit; what it proposes.
fn obeyed(job: &Job, what: &str) -> Vec<String> {
    let message = job.diagnostic();
    assert!(message.contains("1 thing to fix"), "{what}:\n{message}");
    proposed(&message)
}

/// A message that proposes one thing proposes what was there; one that cannot
/// know proposes it among others.
fn holds(proposed: &[String], was: &str, what: &str) {
    assert!(proposed.iter().any(|text| text == was), "{what} was `{was}`; proposed: {proposed:?}");
}

/// Takes the unit away from every key, every column and every cell that has one.
fn without_units(example: &str, known: &mut BTreeSet<String>) -> usize {
    let job = Job::copy(example);
    let toml = job.read("job.toml");
    let mut tried = 0;
    for (name, number, unit) in keys(&toml) {
        if !known.insert(format!("{name} {unit}")) {
            continue;
        }
        let line = format!("{name} = \"{number} {unit}\"");
        for bare in [format!("{name} = \"{number}\""), format!("{name} = {number}")] {
            if bare.ends_with(|c: char| c.is_ascii_digit()) && number.contains(['/', ' ']) {
                continue;
            }
            job.write("job.toml", toml.replacen(&line, &bare, 1));
            holds(&obeyed(&job, &bare), &format!("{number} {unit}"), &bare);
            tried += 1;
        }
        // Whichever of the units that it names somebody takes.
        obeying_gives_no_nonsense(example, &job, &job.diagnostic());
    }
    job.write("job.toml", &toml);
    for file in Rows::FILES {
        let Some(rows) = Rows::read(&job, file) else { continue };
        let text = job.read(file);
        for at in 0..rows.0[0].len() {
            // What an earlier job has was tried there.
            if !known.insert(format!("{file} {}", rows.0[0][at])) {
                continue;
            }
            let own = heading(&rows.0[0][at]).map(|(name, _)| name.to_string());
            let mut bare = Rows(rows.0.clone(), rows.1);
            if let Some(name) = own {
                // A plain number in the cells, if there is any.
                if rows.0.iter().skip(1).all(|row| row[at].is_empty() || measured(&row[at]).is_some()) {
                    continue;
                }
                bare.0[0][at].clone_from(&name);
                bare.write(&job, file);
                holds(&obeyed(&job, &name), &rows.0[0][at], &format!("{file}: {name}"));
                tried += 1;
            } else if let Some((number, _)) = rows.0.iter().skip(1).find_map(|row| measured(&row[at])) {
                let row = rows.0.iter().position(|row| measured(&row[at]).is_some()).expect("a row");
                bare.0[row][at] = number.to_string();
                bare.write(&job, file);
                holds(&obeyed(&job, number), &rows.0[row][at], &format!("{file}: {}", rows.0[0][at]));
                tried += 1;
            }
        }
        job.write(file, &text);
    }
    tried
}

/// Takes every column and key with a unit away; those that are missed are
/// asked for in the unit that they had.
fn without_values(example: &str) -> usize {
    let job = Job::copy(example);
    let toml = job.read("job.toml");
    let mut missed = 0;
    let mut look = |what: &str| {
        let output = socle(&["check".as_ref(), job.path().as_os_str()]);
        if output.status.code() == Some(2) {
            let message = stderr(&output);
            names_the_units_of(example, &message);
            missed += usize::from(message.contains(what));
        }
    };
    for (name, number, unit) in keys(&toml) {
        job.write("job.toml", toml.replacen(&format!("{name} = \"{number} {unit}\"\n"), "", 1));
        look(&name);
    }
    job.write("job.toml", &toml);
    for file in Rows::FILES {
        let Some(rows) = Rows::read(&job, file) else { continue };
        let text = job.read(file);
        for at in 0..rows.0[0].len() {
            let name = rows.0[0][at].split(" [").next().unwrap_or_default().to_string();
            if rows.unit(&name).is_none() {
                continue;
            }
            let mut without = Rows(rows.0.clone(), rows.1);
            without.0.iter_mut().for_each(|row| drop(row.remove(at)));
            without.write(&job, file);
            look(&name);
        }
        job.write(file, &text);
    }
    missed
}

#[test]
fn the_unit_of_a_hint_is_that_of_the_job() {
    let mut known = BTreeSet::new();
    let tried: usize = JOBS.iter().map(|job| without_units(job, &mut known)).sum();
    assert!(tried > 80, "{tried}");
}

#[test]
fn what_is_missing_is_asked_for_in_its_unit() {
    let missed: usize = JOBS.iter().map(|job| without_values(job)).sum();
    assert!(missed > 50, "{missed}");
}

/// The hint of the finding: obeyed, it is the soil's pressure and not 144 times it.
#[test]
fn a_bearing_pressure_is_in_psf() {
    let job = Job::copy("cart-barn");
    job.edit("job.toml", "soil = \"class 3\"", "soil = \"soils report\"\nsoils_report = \"demo\"\nq_rep = 2500");
    let message = job.diagnostic();
    assert!(message.contains("expected a pressure, such as `2500 psf`"), "{message}");
    job.edit("job.toml", "q_rep = 2500", "q_rep = \"2500 psi\"");
    let message = job.diagnostic();
    assert!(message.contains("at most 50000 psf"), "{message}");
}

/// A job that is filled in as its messages ask, with the values of an example.
struct Filled {
    example: Job,
    job: Job,
    /// Keys of `job.toml` as `table.key`, columns as `file.column`, and files.
    given: BTreeSet<String>,
}

impl Filled {
    /// `[job]` and `[code]`, posts and bases with little more than their names.
    fn new(example: &str) -> Filled {
        let start = ["posts mark", "posts x", "posts y", "posts base", "posts source", "bases name", "bases kind"];
        let given = start.into_iter().chain(["bases source", "posts", "bases"]).map(String::from).collect();
        let (example, job) = (Job::copy(example), Job::copy(example));
        Filled { example, job, given }
    }

    fn write(&self) {
        let mut toml = String::new();
        let mut table = "";
        let text = self.example.read("job.toml");
        for line in text.lines() {
            if line.starts_with('[') {
                table = line.trim_matches(['[', ']']);
                let whole = ["job", "code", "revisions"].contains(&table);
                let any = self.given.iter().any(|given| given.starts_with(&format!("[{table}]")));
                if whole || any {
                    toml.push_str(&format!("{line}\n"));
                }
                continue;
            }
            let key = line.split(" = ").next().unwrap_or_default();
            let whole = ["", "job", "code", "revisions"].contains(&table);
            if whole || ["", key].iter().any(|key| self.given.contains(&format!("[{table}]{key}"))) {
                toml.push_str(&format!("{line}\n"));
            }
        }
        self.job.write("job.toml", toml);
        for file in Rows::FILES {
            let name = file.trim_end_matches(".csv");
            let path = self.job.path().join(file);
            let Some(rows) = Rows::read(&self.example, file).filter(|_| self.given.contains(name)) else {
                let _ = std::fs::remove_file(path);
                continue;
            };
            let kept = |at: &usize| {
                let column = rows.0[0][*at].split(" [").next().unwrap_or_default();
                let load = column.starts_with("P_") || column.starts_with("H_");
                self.given.contains(&format!("{name} {column}")) || load && self.given.contains("loads")
            };
            let kept: Vec<usize> = (0..rows.0[0].len()).filter(kept).collect();
            let cells = rows.0.iter().map(|row| kept.iter().map(|at| row[*at].clone()).collect()).collect();
            Rows(cells, rows.1).write(&self.job, file);
        }
    }

    /// Does what one message asks for.
    fn obey(&mut self, message: &str) {
        let words = proposed(message);
        let mut give = |name: String| {
            self.given.insert(name);
        };
        if message.contains("no dead load") || message.contains("does not say what the posts carry") {
            ["loads", "[loads]", "[loads.none]"].into_iter().for_each(|name| give(name.into()));
        } else if message.contains("the wind on the posts themselves is not given") {
            ["posts w_x", "posts w_y"].into_iter().for_each(|name| give(name.into()));
        } else if message.contains(" in a row need a spacing") {
            let columns = ["floor_spacing_along", "floor_spacing_across", "anchor_s_x", "anchor_s_y"];
            columns.into_iter().for_each(|column| give(format!("bases {column}")));
        } else if message.contains("`job.toml` has no `") {
            let table = words.iter().find(|word| word.starts_with('[')).expect("a table");
            give(format!("{table}{}", words[1]));
        } else if message.contains("of `posts.csv`") && message.contains("name a row of") {
            let [.., file, column, _] = words.as_slice() else { panic!("{message}") };
            let file = file.trim_end_matches(".csv");
            let names = [format!("posts {column}"), file.into(), format!("{file} name"), format!("{file} source")];
            names.into_iter().for_each(give);
        } else if let Some((file, column)) = lacking(message, &words) {
            give(format!("{file} {column}"));
        } else {
            panic!("what is to be done?\n{message}");
        }
    }
}

/// The file and the column that a message misses.
fn lacking(message: &str, words: &[String]) -> Option<(String, String)> {
    let file = match message.split(' ').next()? {
        "the" if message.starts_with("the base ") => "bases",
        "the" if message.starts_with("the foundation ") => "foundations",
        "post" => "posts",
        _ => words[0].strip_suffix(".csv")?,
    };
    let column = if file == "posts" && message.starts_with("post ") { &words[0] } else { &words[1] };
    Some((file.into(), column.clone()))
}

/// One fault does not hide another: a job with little more than names in it is
/// whole after as many runs as there are choices behind one another (the ground,
/// then what stands on it, then what that needs, then the spacing of its screws).
#[test]
fn a_bare_job_is_filled_in_four_runs() {
    let mut filled = Filled::new("creek-porch");
    for run in 1.. {
        filled.write();
        let output = socle(&["check".as_ref(), filled.job.path().as_os_str()]);
        if output.status.code() != Some(2) {
            assert!(run <= 5, "{run}");
            break;
        }
        assert!(run <= 4, "{:?}\n{}", filled.given, stderr(&output));
        let text = stderr(&output);
        let messages: Vec<&str> = text.split("error: ").skip(1).collect();
        println!("run {run}: {}", messages.len());
        messages.iter().for_each(|message| filled.obey(message));
    }
    assert_eq!(filled.job.check_json()["ok"], filled.example.check_json()["ok"]);
}
