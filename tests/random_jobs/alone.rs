//! The check values of a sheet that no job comes to, worked in both ways.

use socle::formula::{Kind, Value as Worked};
use socle::program::Program;
use socle::quantity::{Decimals, Unit, read};
use socle::sheet::Method;

use super::tally::Tally;
use super::{Facts, Known, Value, agree, named, typed};
use crate::support::root;
use crate::walk::Walk;

pub fn work(known: &Known, name: &str) -> Tally {
    let mut tally = Tally::default();
    let sheet = known.library.sheet(name).expect("a sheet").clone();
    let mut program = Program::new(&known.library, &sheet).expect("a program");
    for fact in program.facts.clone() {
        if let Kind::Choice(names) = &fact.input.kind {
            names.iter().for_each(|name| program.learn(name));
        }
    }
    let folder = std::fs::read_dir(root().join("tests/check-values")).expect("check values");
    for path in folder.map(|entry| entry.expect("an entry").path()) {
        if !path.file_name().is_some_and(|file| file.to_string_lossy().starts_with(&format!("{name}--"))) {
            continue;
        }
        let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(&path).expect("a file");
        let headings = reader.headers().expect("headings").clone();
        for row in reader.records().map(|row| row.expect("a row")) {
            let mut memory = program.memory();
            let mut facts = Facts::new();
            for (no, fact) in program.facts.iter().enumerate() {
                memory.set(fact.slot, fact.default.unwrap_or(f64::NAN));
                let of = |heading: &str| heading.split(" [").next() == Some(&fact.input.name);
                let Some(at) = headings.iter().position(of).filter(|at| !row[*at].is_empty()) else { continue };
                let unit = headings[at].split_once(" [").map(|(_, unit)| unit.trim_end_matches(']'));
                let value = match &fact.input.kind {
                    Kind::Quantity(_) | Kind::Count => {
                        let heading = unit.map(|unit| Unit::parse(unit).expect("a unit"));
                        let units = if fact.input.kind == Kind::Count { &[][..] } else { &fact.units };
                        let read = read(&row[at], units, heading.as_ref(), Decimals::Point).expect("a value");
                        program.give(&mut memory, no, read.quantity.value);
                        Value::Number(typed::read(&row[at], unit.unwrap_or_default(), read.quantity.value))
                    }
                    _ => {
                        program.give(&mut memory, no, program.encode(&Worked::Text(row[at].into())));
                        Value::Name(row[at].into())
                    }
                };
                facts.insert(fact.input.key(), value);
            }
            let method = sheet.method.map_or(Method::Asd, |methods| methods.basic());
            program.run_once(&mut memory);
            program.run(&mut memory, method);
            let walk = Walk::new(&known.library, &known.tables, &facts, method).root(&sheet);
            agree(&program, &named(&program), &memory, &walk, &format!("{}, {}", path.display(), &row[0]), &mut tally);
        }
    }
    tally
}
