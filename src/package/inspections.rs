//! Special inspections, as the sheets ask for them of what the job has.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::lines::prose;
use super::model::Inspection;
use super::open::posts;
use crate::engine::{GroupResult, Made};
use crate::job::Job;
use crate::sheet::{Note, NoteKind, Step};

/// Each inspection once, in the order of the sheets, with the posts that need it.
pub(super) fn inspections(job: &Job, made: &[(&GroupResult, Arc<Made>)]) -> Vec<Inspection> {
    let mut found: Vec<(&Note, bool, BTreeSet<usize>)> = Vec::new();
    for (group, worked) in made {
        let mut notes = Vec::new();
        inspected(worked, &mut notes);
        for (note, continuous) in notes {
            let same = |(known, ..): &&mut (&Note, bool, BTreeSet<usize>)| std::ptr::eq(*known, note);
            match found.iter_mut().find(same) {
                Some((.., posts)) => posts.extend(&group.posts),
                None => found.push((note, continuous, group.posts.iter().copied().collect())),
            }
        }
    }
    let rows = found.into_iter().map(|(note, continuous, of)| Inspection {
        what: prose(&note.text),
        how: if continuous { "continuous".into() } else { "periodic".into() },
        cite: note.cite.clone().unwrap_or_default(),
        posts: posts(job, &of.into_iter().collect::<Vec<_>>()),
        changed: false,
    });
    rows.collect()
}

fn inspected<'a>(worked: &'a Made, found: &mut Vec<(&'a Note, bool)>) {
    for step in &worked.steps {
        match step {
            Step::Note(note) => {
                if let NoteKind::Inspected { continuous } = note.kind
                    && !found.iter().any(|(known, _)| std::ptr::eq(*known, note.as_ref()))
                {
                    found.push((note, continuous));
                }
            }
            Step::Use(inner) => inspected(inner, found),
            _ => {}
        }
    }
}
