//! The schedules as a page has them: posts that are alike share a row of the first.

use std::sync::Arc;

use super::model::ScheduleTable;
use crate::engine::{GroupResult, Made, Schedule, schedules};
use crate::job::{Job, some_marks};

pub(super) fn tables(job: &Job, made: &[(&GroupResult, Arc<Made>)]) -> Vec<ScheduleTable> {
    let mut all = schedules(job, made);
    if let Some(posts) = all.first_mut() {
        share_rows(posts);
        drop_empty(posts);
    }
    let table = |it: Schedule| ScheduleTable { title: it.title, header: it.header, rows: it.rows, changed: Vec::new() };
    all.into_iter().map(table).collect()
}

/// Rows that say the same of several posts are one, with the marks of all of them.
fn share_rows(posts: &mut Schedule) {
    let mut kinds: Vec<(Vec<String>, Vec<String>)> = Vec::new();
    for mut row in posts.rows.drain(..) {
        let said = row.split_off(1);
        match kinds.iter_mut().find(|(_, known)| *known == said) {
            Some((marks, _)) => marks.extend(row),
            None => kinds.push((row, said)),
        }
    }
    let row = |(marks, said): (Vec<String>, Vec<String>)| [vec![some_marks(&marks, usize::MAX)], said].concat();
    posts.rows = kinds.into_iter().map(row).collect();
}

/// A column that no post has anything in, such as that of anchors on a wood floor.
fn drop_empty(posts: &mut Schedule) {
    let kept: Vec<bool> = (0..posts.header.len()).map(|at| posts.rows.iter().any(|row| !row[at].is_empty())).collect();
    for row in posts.rows.iter_mut().chain([&mut posts.header]) {
        let mut kept = kept.iter();
        row.retain(|_| *kept.next().expect("as many as columns"));
    }
}
