//! A TOML file as tables of texts.

use std::ops::Range;
use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::diag::{Checked, Diagnostic, Diagnostics};
use crate::legible;
use crate::source::{Place, Source};

/// The tables of a TOML file.
///
/// # Errors
/// It is no TOML, or a text in it cannot be printed.
pub(super) fn parse(source: &Arc<Source>) -> Checked<Spanned<DeTable<'_>>> {
    let illegible = legible::faults(source);
    if !illegible.is_empty() {
        return Err(illegible);
    }
    let table = DeTable::parse(&source.text).map_err(|error| {
        let name = source.name.rsplit('/').next().unwrap_or(&source.name);
        let mut diagnostic = Diagnostic::new(format!("`{name}` cannot be read: {}", error.message()));
        if let Some(span) = error.span() {
            diagnostic = diagnostic.at(Place::new(source, span));
        }
        diagnostic.hint(match error.message().contains("duplicate") {
            true => "a table, and a key in its table, is written once: leave one of them out",
            false => "a line reads `key = \"text in quotes\"` or `key = 12.5`",
        })
    })?;
    let hidden = in_table(table.get_ref(), source);
    if hidden.is_empty() { Ok(table) } else { Err(hidden) }
}

/// What is wrong with the characters of texts, however they are written: `\u001b` is one that nobody sees.
fn in_table(table: &DeTable, source: &Arc<Source>) -> Diagnostics {
    table
        .iter()
        .flat_map(|(key, value)| in_text(key.get_ref(), key.span(), source).into_iter().chain(in_value(value, source)))
        .collect()
}

fn in_value(value: &Spanned<DeValue>, source: &Arc<Source>) -> Diagnostics {
    match value.get_ref() {
        DeValue::String(text) => in_text(text, value.span(), source).into_iter().collect(),
        DeValue::Array(items) => items.iter().flat_map(|item| in_value(item, source)).collect(),
        DeValue::Table(table) => in_table(table, source),
        _ => Diagnostics::new(),
    }
}

fn in_text(text: &str, span: Range<usize>, source: &Arc<Source>) -> Option<Diagnostic> {
    let long = legible::is_longer(text, legible::TEXT).then(|| {
        Diagnostic::new(format!(
            "this text has {} characters; expected at most {}",
            text.chars().count(),
            legible::TEXT
        ))
        .hint("what is longer belongs in a document of its own")
    });
    Some(long.or_else(|| legible::hidden(text))?.at(Place::new(source, span)))
}

/// A value as it is typed; numbers, dates and truths count as text here.
pub(super) fn as_text(value: &Spanned<DeValue>, source: &Source) -> Option<String> {
    match value.get_ref() {
        DeValue::String(text) => Some(text.to_string()),
        DeValue::Boolean(yes) => Some(if *yes { "yes" } else { "no" }.into()),
        DeValue::Integer(_) | DeValue::Float(_) | DeValue::Datetime(_) => Some(source.text[value.span()].to_string()),
        DeValue::Array(_) | DeValue::Table(_) => None,
    }
}

/// Where a table begins; none if there is no such table.
pub fn table_place(source: &Arc<Source>, table: &str) -> Option<Place> {
    let heading = format!("[{table}]");
    // A comment may speak of it.
    let begins = |at: usize| source.text[..at].rsplit('\n').next().is_some_and(|before| before.trim().is_empty());
    let of_list = || source.text.find(&format!("[{heading}]")).map(|at| at + 1);
    let at = source.text.match_indices(&heading).map(|(at, _)| at).find(|at| begins(*at)).or_else(of_list)?;
    Some(Place::new(source, at..at + heading.len()))
}
