//! What of the sheets does not apply to the posts of a job, in the sheets' own words of
//! what they ask: a block that was not entered, by the part of its condition that is not so.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::build::marks;
use super::lines::{join, said};
use super::model::{SkippedRow, Span};
use crate::diag::list;
use crate::engine::{GroupResult, Made};
use crate::formula::{BinOp, Expr, Node, Value, holds};
use crate::job::{Job, some_posts};
use crate::sheet::{Step, Worked};
use crate::typeset::{printed, symbol, symbolic_inline};

/// Why blocks do not apply that no load can make apply: each reason once, with the posts
/// that it holds for and the sheets that ask.
pub fn skipped(job: &Job, groups: &[GroupResult], made: &[Arc<Made>]) -> Vec<SkippedRow> {
    let mut sheets: Vec<Vec<(usize, &Worked)>> = Vec::new();
    made.iter().enumerate().for_each(|(at, made)| uses(at, made, &mut sheets));
    let mut rows: Vec<SkippedRow> = Vec::new();
    for uses in sheets {
        let mut blocks: Vec<(usize, &Worked, &Expr)> = Vec::new();
        for (_, worked) in &uses {
            for condition in conditions(worked) {
                if !blocks.iter().any(|(start, ..)| *start == condition.span.start) {
                    blocks.push((condition.span.start, *worked, condition));
                }
            }
        }
        let all: BTreeSet<usize> = uses.iter().map(|(at, _)| *at).collect();
        let mut parts: Vec<(String, &Worked, Vec<&Expr>)> = Vec::new();
        for (start, worked, condition) in blocks {
            let Some(unmet) = unmet(condition, worked) else { continue };
            // One use of the sheet that enters the block is enough.
            let enters = |worked: &Worked| !conditions(worked).any(|it| it.span.start == start);
            let entered: BTreeSet<usize> = uses.iter().filter(|(_, it)| enters(it)).map(|(at, _)| *at).collect();
            let without: Vec<usize> = all.difference(&entered).copied().collect();
            if without.is_empty() {
                continue;
            }
            let posts: Vec<String> = without.iter().flat_map(|at| marks(job, &groups[*at])).collect();
            let posts = if entered.is_empty() { String::new() } else { some_posts(&posts, 4) };
            match parts.iter_mut().find(|(known, of, _)| *known == posts && std::ptr::eq(*of, worked)) {
                Some((.., known)) => known.extend(unmet),
                None => parts.push((posts, worked, unmet)),
            }
        }
        let title = &uses[0].1.sheet.title;
        for (posts, worked, parts) in parts {
            for says in sentences(&parts, worked) {
                match rows.iter_mut().find(|row| row.says == says && row.posts == posts) {
                    Some(known) if known.sheets.contains(title) => {}
                    Some(known) => known.sheets.push(title.clone()),
                    None => rows.push(SkippedRow {
                        says,
                        posts: posts.clone(),
                        sheets: vec![title.clone()],
                        changed: false,
                    }),
                }
            }
        }
    }
    rows
}

/// All uses of each sheet, each with its group.
fn uses<'a>(group: usize, worked: &'a Worked, sheets: &mut Vec<Vec<(usize, &'a Worked)>>) {
    match sheets.iter_mut().find(|uses| uses[0].1.sheet.name == worked.sheet.name) {
        Some(known) => known.push((group, worked)),
        None => sheets.push(vec![(group, worked)]),
    }
    for step in &worked.steps {
        if let Step::Use(inner) = step {
            uses(group, inner, sheets);
        }
    }
}

fn conditions(worked: &Worked) -> impl Iterator<Item = &Expr> {
    worked.steps.iter().filter_map(|step| if let Step::Skipped(condition) = step { Some(condition) } else { None })
}

/// The parts of a condition that are not so, whatever the loads are; none where these may
/// make it so.
fn unmet<'e>(condition: &'e Expr, worked: &Worked) -> Option<Vec<&'e Expr>> {
    match &condition.node {
        Node::Binary(BinOp::Or, left, right) => {
            Some(unmet(left, worked)?.into_iter().chain(unmet(right, worked)?).collect())
        }
        Node::Binary(BinOp::And, left, right) => {
            let parts = [left, right].into_iter().filter_map(|part| unmet(part, worked));
            Some(parts.flatten().collect()).filter(|parts: &Vec<_>| !parts.is_empty())
        }
        _ => {
            let value = |name: &str| worked.bound.get(name).map(|bound| bound.value.clone());
            let loads = condition.symbols().iter().any(|name| worked.bound.get(*name).is_some_and(|it| it.varies));
            let so = holds(condition, &worked.sheet.source, &value);
            (!loads && matches!(so, Ok(false))).then(|| vec![condition])
        }
    }
}

/// A sentence for each thing that is otherwise.
fn sentences(parts: &[&Expr], worked: &Worked) -> Vec<Vec<Span>> {
    // The names that one thing would have to have, in one sentence.
    let mut asked: Vec<(&str, Vec<&str>)> = Vec::new();
    let asks = |name: &str| {
        let of = |part: &Expr| matches!(&part.node, Node::Binary(BinOp::Is, left, _) if left.symbols() == [name]);
        parts.iter().any(|part| of(part))
    };
    let mut found = Vec::new();
    for part in parts {
        match &part.node {
            Node::Binary(BinOp::Is, left, right) => match (&left.node, &right.node) {
                (Node::Symbol(name), Node::Text(text)) => match asked.iter_mut().find(|(known, _)| known == name) {
                    Some((_, texts)) if texts.contains(&text.as_str()) => {}
                    Some((_, texts)) => texts.push(text),
                    None => asked.push((name, vec![text])),
                },
                _ => found.push(as_written(part)),
            },
            Node::Binary(BinOp::IsNot, left, _) => match &left.node {
                Node::Symbol(name) if !asks(name) => found.push(is(name, worked, "")),
                Node::Symbol(_) => {}
                _ => found.push(as_written(part)),
            },
            Node::Binary(op, left, right) if op.is_condition() => {
                let than = match op {
                    BinOp::Greater => "over",
                    BinOp::GreaterEqual => "at least",
                    BinOp::Less => "under",
                    _ => "at most",
                };
                let mut says = match &left.node {
                    Node::Symbol(name) => is(name, worked, &format!(", not {than} ")),
                    _ => vec![Span::Math(symbolic_inline(left)), Span::Text(format!(" is not {than} "))],
                };
                says.push(Span::Math(symbolic_inline(right)));
                found.push(says);
            }
            Node::Given(inner) => match &inner.node {
                Node::Symbol(name) => found.push([named(name, worked), said(" is not given")].concat()),
                _ => found.push(as_written(part)),
            },
            Node::Not(inner) => match &inner.node {
                Node::Given(given) => match &given.node {
                    Node::Symbol(name) => found.push(is(name, worked, "")),
                    _ => found.push(as_written(part)),
                },
                _ => found.push(as_written(part)),
            },
            _ => found.push(as_written(part)),
        }
    }
    let asked = asked.into_iter().map(|(name, texts)| {
        let not = match texts.as_slice() {
            ["yes" | "no"] => String::new(),
            texts => format!(", not {}", list(texts, "or").replace('`', "")),
        };
        is(name, worked, &not)
    });
    asked.chain(found).collect()
}

/// What a thing is: `size class is posts, not beams`.
fn is(name: &str, worked: &Worked, not: &str) -> Vec<Span> {
    let bound = worked.bound.get(name);
    let words = match bound.map(|bound| (&bound.value, join(&printed(bound)))) {
        Some((Value::Text(text), _)) if text == "yes" || text == "no" => format!(": {text}"),
        Some((_, shown)) => format!(" is {shown}{not}"),
        None => String::new(),
    };
    named(name, worked).into_iter().chain([Span::Text(words)]).collect()
}

/// A symbol in the words of its sheet, without what they go on to explain.
fn named(name: &str, worked: &Worked) -> Vec<Span> {
    let input = worked.sheet.inputs.iter().find(|input| input.name == name).map(|input| &input.say);
    let rules = || {
        worked.steps.iter().find_map(|step| match step {
            Step::Let { rule, .. } | Step::Rename(rule) if rule.name == name => Some(&rule.say),
            Step::Take { rule, .. } if rule.names.iter().any(|(known, ..)| known == name) => Some(&rule.say),
            _ => None,
        })
    };
    let say = input.or_else(rules).map_or("", |say| say.split([',', ';', '(', ':']).next().unwrap_or("").trim());
    if say.is_empty() { vec![Span::Math(symbol(name))] } else { said(say) }
}

fn as_written(part: &Expr) -> Vec<Span> {
    vec![Span::Text("not so: ".into()), Span::Math(symbolic_inline(part))]
}
