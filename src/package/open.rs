//! What is open, as the page for it shows it: what is to be decided, confirmed
//! or said, and who has done so.

use super::model::{Declared, Open, OpenDecision, OpenDefault, OpenStarters, OpenValue};
use super::reactions::what;
use crate::engine::TABLES;
use crate::job::{Job, some_marks};
use crate::verdict::{Asks, Question, Verdict};

/// The table that load combinations are made from.
const COMBINATIONS: &str = TABLES[0];

pub fn open(job: &Job, verdict: &Verdict) -> Open {
    let mut open = Open {
        decisions: Vec::new(),
        values: Vec::new(),
        declared: Vec::new(),
        assumed: Vec::new(),
        starters: starters(job, &verdict.questions),
    };
    for (at, question) in verdict.questions.iter().enumerate() {
        let Question { what, row, value, about, title, doubt, why, .. } = question.clone();
        let (no, posts, answer) = (format!("Q{}", at + 1), posts(job, &question.posts), answer(question));
        match question.asks {
            Asks::Decision => {
                open.decisions.push(OpenDecision { no, what, value, cite: about, posts, answer, why, changed: false })
            }
            Asks::Confirmation => {
                // Combinations are printed once, with the loads.
                let values = if what == COMBINATIONS { "all of them, as listed under loads".into() } else { value };
                let (table, source) = (title, about);
                open.values.push(OpenValue { no, table, row, values, source, doubt, answer, why, changed: false });
            }
            Asks::Assumption => {
                let input = if row.is_empty() { what } else { format!("{row}.{what}") };
                open.assumed.push(OpenDefault { no, input, value, say: about, posts, changed: false });
            }
            Asks::Starter => {}
        }
    }
    let declared = verdict.declared.iter();
    let declared = declared.map(|(kind, why)| Declared {
        kind: format!("{kind}, {}", what(kind)),
        reason: why.clone(),
        changed: false,
    });
    open.declared = declared.collect();
    open
}

/// A new job has more than a hundred: those of one place that the same posts rest on are answered together.
fn starters(job: &Job, questions: &[Question]) -> Vec<OpenStarters> {
    let marked = questions.iter().enumerate().filter(|(_, question)| question.asks == Asks::Starter);
    let marked: Vec<(usize, &Question)> = marked.collect();
    let alike = |a: &(usize, &Question), b: &(usize, &Question)| (&a.1.row, &a.1.posts) == (&b.1.row, &b.1.posts);
    let of_place = |of: &[(usize, &Question)]| {
        let ((first, question), (last, _)) = (of[0], of[of.len() - 1]);
        OpenStarters {
            no: if first == last { format!("Q{}", first + 1) } else { format!("Q{} to Q{}", first + 1, last + 1) },
            place: match question.stands(job) {
                (file, "") => file,
                (file, row) => format!("{file}, {row}"),
            },
            values: of.iter().map(|(_, it)| (it.what.clone(), it.value.clone())).collect(),
            posts: posts(job, &question.posts),
            changed: false,
        }
    };
    marked.chunk_by(alike).map(of_place).collect()
}

/// Posts by their marks, as far as a line has room for them.
pub(super) fn posts(job: &Job, of: &[usize]) -> String {
    if of.len() == job.posts.len() {
        return "all posts".into();
    }
    let marks: Vec<String> = of.iter().map(|post| job.posts[*post].mark.clone()).collect();
    some_marks(&marks, 6)
}

/// Who answered, by which licence, from which publication, and when.
fn answer(question: &Question) -> String {
    let Some(answer) = &question.answer else { return String::new() };
    let parts = [&answer.by, &answer.licence, &answer.publication, &answer.date];
    parts.into_iter().filter(|part| !part.is_empty()).cloned().collect::<Vec<_>>().join(", ")
}
