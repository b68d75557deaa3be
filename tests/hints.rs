//! Obeys what messages propose. A unit that a hint names is the one that the
//! example jobs use: without it, or with the whole column or key gone, the
//! message has to lead back to the same value.

use crate::support::{JOBS, Job};

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
        let (number, unit) = measured(text)?;
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

/// The message for a job in which a number has no unit; what it proposes.
fn obeyed(job: &Job, what: &str) -> Vec<String> {
    let message = job.diagnostic();
    assert!(message.contains("1 thing to put right"), "{what}:\n{message}");
    proposed(&message)
}

/// A message that proposes one thing proposes what was there; one that cannot
/// know proposes it among others.
fn holds(proposed: &[String], was: &str, what: &str) {
    assert!(proposed.iter().any(|text| text == was), "{what} was `{was}`; proposed: {proposed:?}");
}

/// Takes the unit away from every key, every column and every cell that has one.
fn without_units(example: &str) -> usize {
    let job = Job::copy(example);
    let toml = job.read("job.toml");
    let mut tried = 0;
    for (name, number, unit) in keys(&toml) {
        let line = format!("{name} = \"{number} {unit}\"");
        for bare in [format!("{name} = \"{number}\""), format!("{name} = {number}")] {
            if bare.ends_with(|c: char| c.is_ascii_digit()) && number.contains(['/', ' ']) {
                continue;
            }
            job.write("job.toml", toml.replacen(&line, &bare, 1));
            holds(&obeyed(&job, &bare), &format!("{number} {unit}"), &bare);
            tried += 1;
        }
    }
    job.write("job.toml", &toml);
    for file in Rows::FILES {
        let Some(rows) = Rows::read(&job, file) else { continue };
        let text = job.read(file);
        for at in 0..rows.0[0].len() {
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
        let output = crate::support::socle(&["check".as_ref(), job.path().as_os_str()]);
        if output.status.code() == Some(2) {
            let message = crate::support::stderr(&output);
            assert!(
                message.contains(&format!("`{what}`")) || message.contains(&format!("`{what} ")),
                "{what}: {message}"
            );
            names_the_units_of(example, &message);
            missed += 1;
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
    let tried: usize = JOBS.iter().map(|job| without_units(job)).sum();
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
    assert!(message.contains("a pressure is wanted, such as `2500 psf`"), "{message}");
    job.edit("job.toml", "q_rep = 2500", "q_rep = \"2500 psi\"");
    let message = job.diagnostic();
    assert!(message.contains("100000 psf"), "{message}");
}
