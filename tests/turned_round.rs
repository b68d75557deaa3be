//! Every limit of every built-in sheet turned round in its text, one at a time:
//! the check values of that sheet have to notice. And each limit has a case in
//! which it is met and one in which it is not.

use std::collections::BTreeSet;
use std::sync::Arc;

use socle::engine::{LOADS, derive_loads, known_names};
use socle::formula::{BinOp, Node};
use socle::job::Job;
use socle::sheet::{Library, Must, Sheet, Stmt};
use socle::templates::Templates;
use socle::validate::{File, Wanted};

use crate::check_values::{expected, names, read, sheet_of, wrong_in};
use crate::support::root;

/// Limits without a case in which they are met, or without one in which they are not: sheet, words, why.
const GAPS: &[(&str, &str, &str)] = &[];

/// The sheet of loads is worked for the posts of a job alone: what the pergola says besides of its roof, the snow that
/// drifts on to it, and whether the limit is met then.
const ROOFS: &[(&str, &str, &str, bool)] = &[
    ("the roof is open: every wall at least 80 percent open", "enclosure = \"open\"", "0", true),
    ("the roof is open: every wall at least 80 percent open", "enclosure = \"enclosed\"", "0", false),
    ("drift or sliding snow from the higher roof", "higher_roof = \"yes\"", "400", true),
    ("drift or sliding snow from the higher roof", "higher_roof = \"yes\"", "0", false),
];

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
            let mut found = cases.iter().any(|file| !wrong_in(file, &library).1.is_empty());
            if sheet.name == LOADS {
                found |=
                    ROOFS.iter().any(|(words, roof, drift, met)| roof_is_met(&library, words, roof, drift) != *met);
            }
            if !found {
                unseen.insert((sheet.name.clone(), rule.say.clone()));
            }
        }
    }
    assert!(turned > 0, "no sheet has a limit");
    let unseen: Vec<String> = unseen.iter().map(|(sheet, words)| format!("{sheet}: `{words}`")).collect();
    assert!(unseen.is_empty(), "turned round, and no check value of the sheet notices:\n{}", unseen.join("\n"));
}

/// Just turned round, a limit that is always met would not be told from one that never is.
#[test]
fn every_limit_is_met_in_one_case_and_not_met_in_another() {
    let library = Templates::built_in().library().expect("the built-in sheets");
    let mut missing = BTreeSet::new();
    for sheet in library.sheets() {
        let cases = verdicts_of(&sheet.name);
        let verdicts =
            cases.iter().flat_map(|File { grid, .. }| (0..grid.rows.len()).flat_map(|row| expected(grid, row)));
        let mut known: BTreeSet<(&str, bool)> = verdicts
            .filter_map(|(_, wanted)| match wanted {
                Wanted::Verdict(words, Some(met)) => Some((words, met)),
                _ => None,
            })
            .collect();
        if sheet.name == LOADS {
            known.extend(ROOFS.iter().map(|(words, _, _, met)| (*words, *met)));
        }
        for rule in limits(sheet) {
            if ![true, false].into_iter().all(|met| known.contains(&(rule.say.as_str(), met))) {
                missing.insert((sheet.name.clone(), rule.say.clone()));
            }
        }
    }
    let known = |(sheet, words): &(String, String)| GAPS.iter().any(|gap| (gap.0, gap.1) == (sheet, words));
    let new = missing
        .iter()
        .filter(|limit| !known(limit))
        .map(|(sheet, words)| format!("{sheet}: `{words}`: one is missing"));
    let gone = GAPS.iter().filter(|(sheet, words, _)| !missing.contains(&(sheet.to_string(), words.to_string())));
    let gone =
        gone.map(|(sheet, words, _)| format!("{sheet}: `{words}` has both now, or is gone: take it out of GAPS"));
    let wrong: Vec<String> = new.chain(gone).collect();
    assert!(wrong.is_empty(), "looked for a case that is met and one that is not:\n{}", wrong.join("\n"));
}

#[test]
fn what_only_a_job_works_is_met_as_said() {
    let library = Templates::built_in().library().expect("the built-in sheets");
    for (words, roof, drift, met) in ROOFS {
        assert_eq!(roof_is_met(&library, words, roof, drift), *met, "{words}: {roof}, drift {drift}");
    }
}

/// Whether the loads of the pergola meet a limit.
fn roof_is_met(library: &Library, words: &str, roof: &str, drift: &str) -> bool {
    let folder = root().join("fixtures/orchard-pergola");
    let text = |file: &str| std::fs::read_to_string(folder.join(file)).expect("a file of the job");
    let key = roof.split(" = ").next().expect("a key");
    let head: String = text("job.toml")
        .lines()
        .filter(|line| !line.starts_with(key))
        .fold(String::new(), |head, line| head + line + "\n");
    let head = head.replace("[roof]\n", &format!("[roof]\n{roof}\n"));
    let posts = text("posts.csv");
    let with_drift = posts.lines().enumerate().map(|(at, line)| match at {
        0 => format!("{line},drift [lbf]\n"),
        _ => format!("{line},{drift}\n"),
    });
    let mut files: std::collections::BTreeMap<String, Vec<u8>> = ["bases.csv", "foundations.csv", "anchors.csv"]
        .into_iter()
        .map(|file| (file.to_string(), text(file).into_bytes()))
        .collect();
    files.insert("job.toml".into(), head.into_bytes());
    files.insert("posts.csv".into(), with_drift.collect::<String>().into_bytes());
    let mut job = Job::read("pergola", &files, &known_names(library)).expect("the job is read");
    match derive_loads(&mut job, library) {
        Ok(_) => true,
        Err(wrong) => {
            let says = |words: &str| wrong.iter().any(|diagnostic| diagnostic.message.contains(words));
            assert!(says("rest on this"), "{}", socle::report::diagnostics(&wrong, false));
            !says(words)
        }
    }
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
fn verdicts_of(sheet: &str) -> Vec<File> {
    let files = names().into_iter().filter(|file| sheet_of(file) == sheet).map(|file| read(&file));
    let says = |name: &str| name.starts_with("expect ratio: ") || name.starts_with("expect verdict: ");
    files.filter(|file| file.grid.columns.iter().any(|column| says(&column.name))).collect()
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
