//! What people have answered: loads that a job has not, questions that an
//! engineer has decided, table rows that somebody has read in the publication.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::civil::Date;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::document::{as_text, parse};
use super::fact::{Fact, Facts, Whence};
use super::starter::unmarked;
use crate::diag::{Checked, Diagnostic, Diagnostics, list};
use crate::names::meant;
use crate::quantity::Decimals;
use crate::source::{Place, Source};

/// A kind of answer that `job.toml` has as `[[NAME]]`.
#[derive(Debug)]
struct Form {
    name: &'static str,
    keys: &'static [&'static str],
    /// Without these an answer speaks of nothing.
    needs: &'static [&'static str],
}

static DECISIONS: Form =
    Form { name: "decisions", keys: &["what", "value", "by", "licence", "date"], needs: &["what", "value"] };

static CONFIRMED: Form = Form {
    name: "confirmed",
    keys: &["table", "row", "values", "publication", "by", "date"],
    needs: &["table", "row", "values"],
};

/// A file of confirmations that serves all jobs of a firm.
pub const CONFIRMATIONS: &str = "confirmed.toml";

/// Answers to open questions, each with its keys.
#[derive(Debug, Default)]
pub struct Answers {
    /// Kinds of load that the job does not have, and why.
    pub none: BTreeMap<String, Fact>,
    pub decisions: Vec<Answer>,
    pub confirmed: Vec<Answer>,
}

/// A decision or a confirmation.
#[derive(Debug)]
pub struct Answer {
    form: &'static Form,
    facts: Facts,
    /// Some of it is marked as nobody's answer.
    pub starter: bool,
}

impl Answer {
    /// What a key says; nothing where it is left out.
    pub fn get(&self, key: &str) -> &str {
        self.facts.get(key).map_or("", |fact| fact.text.trim())
    }

    /// The keys that it has.
    pub fn keys(&self) -> impl Iterator<Item = &str> {
        self.facts.keys().map(String::as_str)
    }

    /// The keys without which it is nobody's answer, and which it lacks.
    pub fn lacks(&self) -> Vec<&'static str> {
        self.form.keys.iter().copied().filter(|key| self.get(key).is_empty()).collect()
    }
}

impl Answers {
    /// Whether a list of `job.toml` holds answers; they are added to these.
    pub(super) fn read(&mut self, name: &str, value: &Spanned<DeValue>, source: &Arc<Source>) -> Option<Diagnostics> {
        let (form, answers) = match name {
            "decisions" => (&DECISIONS, &mut self.decisions),
            "confirmed" => (&CONFIRMED, &mut self.confirmed),
            _ => return None,
        };
        let (found, diagnostics) = form.read(value, source);
        answers.extend(found);
        Some(diagnostics)
    }

    /// Adds the confirmations of a file that a firm keeps for all its jobs.
    ///
    /// # Errors
    /// Everything in it that is no confirmation.
    pub fn add(&mut self, source: &Arc<Source>) -> Checked<()> {
        let table = parse(source)?;
        let mut diagnostics = Diagnostics::new();
        for (name, value) in table.get_ref() {
            if name.get_ref() == CONFIRMED.name {
                diagnostics.extend(self.read(CONFIRMED.name, value, source).unwrap_or_default());
            } else {
                let message = format!("`{}` does not belong in a file of confirmations", name.get_ref());
                diagnostics.push(
                    Diagnostic::new(message)
                        .at(Place::new(source, name.span()))
                        .hint("it holds `[[confirmed]]` blocks and nothing else; `socle check JOB --open` prints them"),
                );
            }
        }
        if diagnostics.is_empty() { Ok(()) } else { Err(diagnostics) }
    }
}

impl Form {
    fn read(&'static self, value: &Spanned<DeValue>, source: &Arc<Source>) -> (Vec<Answer>, Diagnostics) {
        let mut diagnostics = Diagnostics::new();
        let mut answers = Vec::new();
        let DeValue::Array(items) = value.get_ref() else {
            diagnostics.push(self.wanted(value.span(), source));
            return (answers, diagnostics);
        };
        for item in items.iter() {
            let DeValue::Table(rows) = item.get_ref() else {
                diagnostics.push(self.wanted(item.span(), source));
                continue;
            };
            match self.answer(rows, item.span(), source) {
                Ok(answer) => answers.push(answer),
                Err(more) => diagnostics.extend(more),
            }
        }
        (answers, diagnostics)
    }

    fn wanted(&self, span: std::ops::Range<usize>, source: &Arc<Source>) -> Diagnostic {
        Diagnostic::new(format!("`{}` is a list of blocks, each under `[[{}]]`", self.name, self.name))
            .at(Place::new(source, span))
            .hint("`socle check JOB --open` prints such blocks, ready to be filled in")
    }

    fn answer(&'static self, rows: &DeTable, span: std::ops::Range<usize>, source: &Arc<Source>) -> Checked<Answer> {
        let mut diagnostics = Diagnostics::new();
        let (mut facts, mut starter) = (Facts::new(), false);
        for (key, value) in rows {
            let here = |message: String| Diagnostic::new(message).at(Place::new(source, key.span()));
            let typed = key.get_ref().as_ref();
            let Some(name) = meant(typed, self.keys.iter().copied()).first().copied() else {
                let unknown = here(format!("`{typed}` is not a key of `[[{}]]`", self.name));
                diagnostics.push(unknown.nearest(typed, self.keys.iter().copied()));
                continue;
            };
            let place = Place::new(source, value.span());
            let Some(text) = as_text(value, source) else {
                diagnostics.push(Diagnostic::new(format!("`{name}` must be a text in quotes")).at(place));
                continue;
            };
            let (text, marked) = unmarked(&text);
            starter |= marked;
            if name == "date" && !text.trim().is_empty() && text.trim().parse::<Date>().is_err() {
                let message = format!("found `{text}`; expected a date such as `2026-11-20`");
                diagnostics.push(Diagnostic::new(message).at(place.clone()));
            }
            let whence = Whence::new(source.name.as_str(), name);
            let fact = Fact { text, unit: None, place, whence, decimals: Decimals::Point };
            if facts.insert(name.into(), fact).is_some() {
                diagnostics.push(here(format!("`{name}` appears twice in a block of `[[{}]]`", self.name)));
            }
        }
        let place = Place::new(source, span);
        let lacks: Vec<&str> = self.needs.iter().copied().filter(|key| !facts.contains_key(*key)).collect();
        if !lacks.is_empty() && diagnostics.is_empty() {
            let message = format!("this block of `[[{}]]` has no {}", self.name, list(&lacks, "and"));
            diagnostics.push(
                Diagnostic::new(message)
                    .at(place.clone())
                    .hint("it names what was answered, so that it is open again when that changes")
                    .hint("`socle check JOB --open` prints the blocks of this job with both, ready to be filled in"),
            );
        }
        if diagnostics.is_empty() { Ok(Answer { form: self, facts, starter }) } else { Err(diagnostics) }
    }
}
