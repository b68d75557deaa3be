//! The drawings of the shop and field sheets as files of their own, for who cuts, drills
//! or welds by them.

use std::collections::BTreeSet;

use super::ledger::spans_text;
use super::model::{Package, PlainSheet};
use crate::drawing::{Caption, dxf, svg};
use crate::job::{Card, Job};

/// A file by its name, and its text.
pub type DrawingFile = (String, String);

/// An SVG and a DXF of each drawing.
pub fn drawing_files(job: &Job, package: &Package) -> Vec<DrawingFile> {
    let mut taken = BTreeSet::new();
    let mut files = Vec::new();
    for sheet in package.shop.iter().chain(&package.field) {
        let figures = sheet.figures.iter().flatten().flatten();
        for (at, figure) in figures.enumerate() {
            let say = spans_text(&figure.say);
            let name = free(&mut taken, format!("{}-{}-{}", plain(&sheet.title), at + 1, plain(&say)));
            let caption = caption(job, sheet, &say, &figure.drawing.scale, &package.program);
            files.push((format!("{name}.svg"), svg(&figure.drawing, &caption)));
            files.push((format!("{name}.dxf"), dxf(&figure.drawing, &caption)));
        }
    }
    files
}

/// A name that no file has yet, whatever its capitals.
fn free(taken: &mut BTreeSet<String>, name: String) -> String {
    let more = (2..).map(|again| format!("{name}-{again}"));
    let mut names = std::iter::once(name.clone()).chain(more);
    names.find(|name| taken.insert(name.to_lowercase())).expect("numbers do not end")
}

/// `Shop sheet for posts A1, A3` as `shop-A1-A3`: letters and digits that every system takes.
fn plain(text: &str) -> String {
    let text = text.replace("Shop sheet for ", "shop ").replace("Field sheet for ", "field ");
    let words: Vec<&str> = text.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let words: Vec<&str> =
        words.into_iter().filter(|word| !["post", "posts", "the", "of", "a"].contains(word)).collect();
    words.join("-").chars().take(60).collect::<String>().trim_end_matches('-').into()
}

fn caption(job: &Job, sheet: &PlainSheet, say: &str, scale: &str, program: &str) -> Caption {
    let Card { name, number, revision, date, .. } = &job.card;
    let firm = job.firm.as_ref().map_or(String::new(), |firm| format!("{}; ", firm.name));
    let number = if number.is_empty() { String::new() } else { format!(", job {number}") };
    let revision = if revision.is_empty() { String::new() } else { format!(", revision {revision}") };
    let title = format!("{}: {say}", sheet.title);
    let unit = job.units.either("inch", "millimeter");
    let mut lines = vec![title.clone(), format!("{firm}{name}{number}{revision}, {date}; {program}")];
    lines.push(match scale {
        "" => "A sketch, not to scale: do not measure in this file.".into(),
        scale => format!(
            "Full size, in units of one {unit}; on the sheet it is drawn at {scale}. Written dimensions govern."
        ),
    });
    if job.demo() {
        lines.push("DEMONSTRATION DATA – NOT FOR CONSTRUCTION".into());
    }
    if !sheet.hold.is_empty() {
        let parts: Vec<String> = sheet.hold.iter().map(|part| format!("{}, {}", part.limit, part.marks)).collect();
        lines.push(format!("{}. Do not cut, order or set: {}.", Caption::HOLD, parts.join("; ")));
    }
    lines.push("Not for construction until a licensed design professional has reviewed and sealed the package that this belongs to.".into());
    Caption { title, lines, hold: !sheet.hold.is_empty(), units: job.units }
}
