//! What is otherwise since the last save, on less than a screen: the worst first, and how much more there is.

use super::paper::{Paper, met};
use crate::diag::count;
use crate::job::some_marks;
use crate::revision::{Changes, Governing, GoverningChange, LimitChange, OpenQuestion, Outcome};

/// Runs of marks that a line has room for.
const MARKS: usize = 6;

/// Rows of each kind.
const LIMITS: usize = 4;
const POSTS: usize = 6;
const QUESTIONS: usize = 4;

/// Only what changed; nothing, if nothing did.
pub fn changes(changes: &Changes, paper: Paper) -> String {
    let mut out = String::new();
    out.push_str(&limits("Not met now:", &changes.fail, paper));
    out.push_str(&limits("Met now:", &changes.met, paper));
    out.push_str(&governing(&changes.governing, paper));
    if !changes.gone.is_empty() {
        out.push_str(&paper.paragraph(&format!("Gone: {}.", some_marks(&changes.gone, MARKS))));
    }
    out.push_str(&questions("Open now:", &changes.opened, paper));
    out.push_str(&questions("Open no longer:", &changes.closed, paper));
    if let Some(headline) = &changes.headline {
        out.push_str(&paper.paragraph(&format!("It was: {headline}")));
    }
    out
}

fn limits(head: &str, changes: &[LimitChange], paper: Paper) -> String {
    let row = |change: &LimitChange| {
        let ratio = |outcome: &Option<Outcome>| outcome.as_ref().map_or("–".into(), Outcome::printed);
        let sheet = change.new.as_ref().map_or("", |new| new.sheet.as_str());
        vec![
            some_marks(&change.posts, MARKS),
            format!("{} ({})", change.limit, sheet.to_lowercase()),
            format!("{} -> {}", ratio(&change.old), ratio(&change.new)),
        ]
    };
    let rows: Vec<Vec<String>> = changes.iter().take(LIMITS).map(row).collect();
    let posts: usize = changes.iter().skip(LIMITS).map(|change| change.posts.len()).sum();
    let more = if posts > 0 { format!("and {} of posts more", count(posts, "limit")) } else { String::new() };
    listed(head, rows, &[2], &more, paper)
}

/// What governs, before and now, and how the posts come out.
fn governing(changes: &[GoverningChange], paper: Paper) -> String {
    let row = |change: &GoverningChange| {
        let Governing { ok, limit, ratio } = &change.new;
        let (was, limit) = match &change.old {
            None => ("new".into(), limit.clone()),
            Some(old) if old.limit == *limit => (old.ratio.clone(), limit.clone()),
            Some(old) => (old.ratio.clone(), format!("{limit} (was {})", old.limit)),
        };
        vec![some_marks(&change.posts, MARKS), limit, format!("{was} -> {ratio}"), met(*ok)]
    };
    let rows: Vec<Vec<String>> = changes.iter().take(POSTS).map(row).collect();
    let posts: usize = changes.iter().skip(POSTS).map(|change| change.posts.len()).sum();
    let more = match posts {
        0 => String::new(),
        1 => "and 1 more post changed".into(),
        posts => format!("and {posts} more posts changed"),
    };
    listed("Governing limits:", rows, &[2], &more, paper)
}

fn questions(head: &str, questions: &[OpenQuestion], paper: Paper) -> String {
    let row = |question: &OpenQuestion| vec![question.asks.one().into(), question.words.clone()];
    let rows: Vec<Vec<String>> = questions.iter().take(QUESTIONS).map(row).collect();
    let more = match questions.len().saturating_sub(QUESTIONS) {
        0 => String::new(),
        more => format!("and {more} more"),
    };
    listed(head, rows, &[], &more, paper)
}

fn listed(head: &str, rows: Vec<Vec<String>>, right: &[usize], more: &str, paper: Paper) -> String {
    let Some(first) = rows.first() else { return String::new() };
    let names = vec![""; first.len()];
    let mut out = format!("{head}\n{}", paper.table(2, &names, rows, right));
    if !more.is_empty() {
        out.push_str(&format!("  {more}\n"));
    }
    out
}
