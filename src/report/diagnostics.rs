//! Diagnostics with the line they are about and a mark under it.

use std::collections::BTreeMap;

use codespan_reporting::diagnostic::{self as drawn, Label, Severity};
use codespan_reporting::files::SimpleFiles;
use codespan_reporting::term::termcolor::Ansi;
use codespan_reporting::term::{self, Config, DisplayStyle};

use crate::diag::{Diagnostic, count};

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
            .with_message(&diagnostic.message)
            .with_notes(diagnostic.hints.iter().map(|hint| format!("hint: {hint}")).collect());
        if let Some(place) = &diagnostic.place {
            let source = &place.source;
            let id =
                *ids.entry(source.name.clone()).or_insert_with(|| files.add(source.name.clone(), source.text.clone()));
            drawing = drawing.with_labels(vec![Label::primary(id, place.span.clone()).with_message(&diagnostic.label)]);
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
                text.replacen(&format!("{}:{line}:{column}", place.source.name), &place.describe(), 1)
            }
            None => text,
        };
        out.push_str(text.trim_end());
        out.push_str("\n\n");
    }
    out
}
