//! Every limit of every built-in sheet turned round in its text, one at a time:
//! the check values of that sheet have to notice. And each limit has a case in
//! which it is met and one in which it is not.

use std::collections::BTreeSet;
use std::sync::Arc;

use socle::formula::{BinOp, Node};
use socle::grid::Grid;
use socle::sheet::{Must, Sheet, Stmt};
use socle::templates::Templates;

use crate::check_values::{Wanted, expected, names, rows_of, sheet_of, wrong_in_sheet};

/// Limits that no check value holds: sheet, words, why not.
const GAPS: &[(&str, &str, &str)] = &[];

#[test]
fn a_limit_turned_round_is_found() {
    let library = Templates::built_in().library().expect("the built-in sheets");
    let (mut unseen, mut turned) = (BTreeSet::new(), 0);
    for sheet in library.sheets() {
        let cases = verdicts_of(&sheet.name);
        for rule in limits(sheet) {
            turned += 1;
            let mut templates = Templates::built_in();
            let path = sheet.source.name.strip_prefix("templates/").expect("a built-in sheet");
            assert!(templates.files.insert(path.into(), turn(sheet, &rule).into_bytes()).is_some(), "{path}");
            let library = templates.library().unwrap_or_else(|wrong| panic!("{path}: {wrong:#?}"));
            let found = cases.iter().any(|grid| !wrong_in_sheet(grid, &sheet.name, &library).1.is_empty());
            if !found {
                unseen.insert((sheet.name.clone(), rule.say.clone()));
            }
        }
    }
    assert!(turned > 0, "no sheet has a limit");
    compare(&unseen, "turned round, and no check value of the sheet notices");
}

/// Just turned round, a limit that is always met would not be told from one that never is.
#[test]
fn every_limit_is_met_in_one_case_and_not_met_in_another() {
    let library = Templates::built_in().library().expect("the built-in sheets");
    let mut missing = BTreeSet::new();
    for sheet in library.sheets() {
        let cases = verdicts_of(&sheet.name);
        let verdicts = cases.iter().flat_map(|grid| (0..grid.rows.len()).flat_map(|row| expected(grid, row)));
        let known: BTreeSet<(&str, bool)> = verdicts
            .filter_map(|(_, wanted)| match wanted {
                Wanted::Verdict(words, met) => Some((words, met)),
                _ => None,
            })
            .collect();
        for rule in limits(sheet) {
            if ![true, false].into_iter().all(|met| known.contains(&(rule.say.as_str(), met))) {
                missing.insert((sheet.name.clone(), rule.say.clone()));
            }
        }
    }
    compare(&missing, "not both met and not met in the check values of the sheet");
}

/// What was found wanting is what is known to be, no more and no less.
fn compare(found: &BTreeSet<(String, String)>, what: &str) {
    let known = |(sheet, words): &(String, String)| GAPS.iter().any(|gap| (gap.0, gap.1) == (sheet, words));
    let new = found.iter().filter(|limit| !known(limit)).map(|(sheet, words)| format!("{sheet}: `{words}`: {what}"));
    let gone = GAPS.iter().filter(|(sheet, words, _)| !found.contains(&(sheet.to_string(), words.to_string())));
    let gone = gone.map(|(sheet, words, _)| format!("{sheet}: `{words}` is held now: take it out of the list"));
    let wrong: Vec<String> = new.chain(gone).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

fn limits(sheet: &Sheet) -> Vec<Arc<Must>> {
    let mut limits = Vec::new();
    sheet.walk(&mut |stmt| match stmt {
        Stmt::Must(rule) if !rule.fit => limits.push(rule.clone()),
        _ => {}
    });
    limits
}

/// The files of a sheet that expect a ratio or a verdict: nothing else hangs on a limit.
fn verdicts_of(sheet: &str) -> Vec<Grid> {
    let files = names().into_iter().filter(|file| sheet_of(file) == sheet).map(|file| rows_of(&file));
    let says = |name: &str| name.starts_with("expect ratio: ") || name.starts_with("expect verdict: ");
    files.filter(|grid| grid.columns.iter().any(|column| says(&column.name))).collect()
}

/// The text of a sheet with a limit turned round: `a <= b` as `a >= b`, `a is b` as `a is not b`.
fn turn(sheet: &Sheet, rule: &Must) -> String {
    let text = &sheet.source.text;
    let span = rule.condition.span.clone();
    let turned = match &rule.condition.node {
        Node::Binary(op, a, b) if op.precedence() == BinOp::Less.precedence() => {
            let op = match op {
                BinOp::Less => ">",
                BinOp::LessEqual => ">=",
                BinOp::Greater => "<",
                BinOp::GreaterEqual => "<=",
                BinOp::Is => "is not",
                _ => "is",
            };
            format!("{} {op} {}", &text[span.start..a.span.end], &text[b.span.start..span.end])
        }
        _ => format!("not ({})", &text[span.clone()]),
    };
    format!("{}{turned}{}", &text[..span.start], &text[span.end..])
}
