//! Diagnostics with the line they are about and a mark under it.

use std::collections::BTreeMap;

use codespan_reporting::diagnostic::{self as drawn, Label, Severity};
use codespan_reporting::files::SimpleFiles;
use codespan_reporting::term::termcolor::Ansi;
use codespan_reporting::term::{self, Config, DisplayStyle};

use crate::diag::{Diagnostic, count};
use crate::legible;
use crate::source::Place;

/// All diagnostics as text, and how many there are. Coloured where `colour`.
pub fn diagnostics(diagnostics: &[Diagnostic], colour: bool) -> String {
    let text = shown(diagnostics, Severity::Error, colour);
    format!("{text}{} to fix; nothing was written\n", count(diagnostics.len(), "thing"))
}

/// What is worth a look and fails nothing.
pub fn notes(notes: &[Diagnostic], colour: bool) -> String {
    shown(notes, Severity::Note, colour)
}

/// What is wrong with a package that is written all the same.
pub fn warnings(warnings: &[Diagnostic], colour: bool) -> String {
    shown(warnings, Severity::Warning, colour)
}

fn shown(diagnostics: &[Diagnostic], severity: Severity, colour: bool) -> String {
    let mut files = SimpleFiles::new();
    let mut ids: BTreeMap<String, usize> = BTreeMap::new();
    let mut out = String::new();
    let config = Config { display_style: DisplayStyle::Rich, ..Config::default() };
    for diagnostic in diagnostics {
        let mut drawing = drawn::Diagnostic::new(severity)
            .with_message(seen(&diagnostic.message))
            .with_notes(diagnostic.hints.iter().map(|hint| seen(&format!("hint: {hint}"))).collect());
        if let Some(place) = diagnostic.place.as_ref().filter(|place| in_long_line(place)) {
            let (line, column) = place.source.line_column(place.span.start);
            drawing.notes.insert(0, seen(&format!("at {}:{line}:{column}", place.source.name)));
        } else if let Some(place) = &diagnostic.place {
            let source = &place.source;
            let add = || files.add(seen(&source.name), seen(&source.text));
            let id = *ids.entry(source.name.clone()).or_insert_with(add);
            let label = Label::primary(id, place.span.clone()).with_message(seen(&diagnostic.label));
            drawing = drawing.with_labels(vec![label]);
        }
        let text = if colour {
            let mut buffer = Ansi::new(Vec::new());
            let _ = term::emit_to_write_style(&mut buffer, &config, &files, &drawing);
            String::from_utf8_lossy(&buffer.into_inner()).into_owned()
        } else {
            term::emit_into_string(&config, &files, &drawing).unwrap_or_default()
        };
        // Where it stands, as a spreadsheet shows it too.
        let text = match &diagnostic.place {
            Some(place) => {
                let (line, column) = place.source.line_column(place.span.start);
                let name = seen(&place.source.name);
                text.replacen(&format!("{name}:{line}:{column}"), &seen(&place.describe()), 1)
            }
            None => text,
        };
        out.push_str(text.trim_end());
        out.push_str("\n\n");
    }
    out
}

/// A text in which nothing moves the cursor or turns the writing of a terminal, as long as it was.
fn seen(text: &str) -> String {
    let mut following = text.chars().skip(1);
    let seen = |c: char| match (c, following.next()) {
        ('\n' | '\t', _) | ('\r', Some('\n')) => c,
        _ if !legible::is_shifty(c) => c,
        _ if c.len_utf8() == 1 => '?',
        _ if c.len_utf8() == 2 => '¿',
        _ => char::REPLACEMENT_CHARACTER,
    };
    text.chars().map(seen).collect()
}

/// Bytes of a line that is shown.
const LINE: usize = 2_000;

/// Whether a place stands in a line that nobody could read.
fn in_long_line(place: &Place) -> bool {
    let text = &place.source.text;
    let before = text[..place.span.start].rfind('\n').map_or(0, |at| at + 1);
    let after = text[place.span.start..].find('\n').map_or(text.len(), |at| place.span.start + at);
    after - before > LINE
}
