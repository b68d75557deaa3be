//! What the nominal reactions of the posts that are worked are the sums of: a post's
//! own part of a load case, and what its lines along x and along y make of it.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::chosen::letter;
use super::layout::row;
use super::lines::said;
use super::model::{Line, Printed, Span, Worked as Pages};
use super::reactions::WorkedOut;
use super::worked::{Written, letters, section};
use crate::engine::Derived;
use crate::formula::{Expr, Parser, Value};
use crate::job::{Job, case_names};
use crate::quantity::{Dim, Quantity};
use crate::sheet::Bound;
use crate::source::Source;
use crate::typeset::{Math, printed, substituted, symbol, symbolic};

/// The names of the parts, in the order of a sum.
const PARTS: [&str; 3] = ["P_own", "P_x", "P_y"];

/// Says where the parts of the lines are worked, which is known once they are.
pub fn refer(pages: &mut Pages, words: &str) {
    let sections = pages.sections.iter_mut().filter(|section| section.title == TITLE);
    for line in sections.flat_map(|section| &mut section.lines) {
        if let Line::Prose { spans } = line {
            spans.push(Span::Text(format!(" {words}")));
        }
    }
}

/// The posts of each column of the chapter, with the load cases that are worked for
/// them.
pub type Columns<'a> = [(&'a [usize], &'a BTreeSet<String>)];

/// Appends the sums to the loads that were worked out. What no line adds to has no
/// sum: it is printed above.
/// `own` are the numbers of the lines that work out the own part, by column and case.
/// Tells which reactions are worked so far: those that no line adds to.
pub fn append(
    job: &Job,
    derived: &Derived,
    columns: &Columns,
    own: &BTreeMap<(usize, String), String>,
    written: &mut Written,
) -> WorkedOut {
    let mut reactions = WorkedOut::new();
    let cases: BTreeSet<&String> = columns.iter().flat_map(|(_, cases)| *cases).collect();
    let mut lines = vec![Line::Prose { spans: vec![Span::Text(WORDS.into())] }];
    for case in case_names(cases) {
        let mut here: Vec<Sum> = Vec::new();
        for (column, (posts, cases)) in columns.iter().enumerate() {
            let of = |post: &usize| Sum {
                column,
                parts: derived.parts(*post, &case),
                whole: job.posts[*post].reactions.get(&case).map_or(0.0, |reaction| reaction.p),
            };
            // Posts that bring alike may stand in lines that do not.
            let alike = posts.windows(2).all(|pair| of(&pair[0]).parts == of(&pair[1]).parts);
            here.extend(posts.first().filter(|_| alike && cases.contains(&case)).map(of));
        }
        let terms: Vec<usize> = (0..PARTS.len()).filter(|term| here.iter().any(|it| it.parts[*term] != 0.0)).collect();
        for sum in here.iter().filter(|it| it.parts[1..] == [0.0; 2] && own.contains_key(&(it.column, case.clone()))) {
            reactions.extend(columns[sum.column].0.iter().map(|post| (*post, case.clone(), "P")));
        }
        if terms.len() > 1 {
            let no = written.no();
            let mut from: Vec<&str> = Vec::new();
            for line in here.iter().filter_map(|it| own.get(&(it.column, case.clone()))) {
                if !from.contains(&line.as_str()) {
                    from.push(line);
                }
            }
            let words =
                if from.is_empty() { case.clone() } else { format!("{case}, its own part ({})", from.join(", ")) };
            lines.push(sum(job, no, (&case, &words), &terms, &here));
        }
    }
    if lines.len() > 1 {
        let all: Vec<usize> = (0..columns.len()).collect();
        let shown = if all.len() > 1 { letters(&all) } else { String::new() };
        written.pages.sections.push(section(TITLE, &shown, lines));
    }
    reactions
}

const TITLE: &str = "Axial reactions at the base";

const WORDS: &str = "For each load case: the load of the post itself, worked above, and what the couples of the frames of its line along x and its \
    line along y add. The sums are the nominal reactions P. \
    The reactions H come from the lines only.";

/// The reaction of a post in pounds, and what it is made of.
struct Sum {
    column: usize,
    parts: [f64; 3],
    whole: f64,
}

fn sum(job: &Job, no: String, (case, words): (&str, &str), terms: &[usize], here: &[Sum]) -> Line {
    let names: Vec<&str> = terms.iter().map(|term| PARTS[*term]).collect();
    let (source, expr) = formula(&names.join(" + "));
    let unit = job.units.unit(Dim::FORCE);
    let bound = |pounds: f64| Bound {
        given: false,
        ..Bound::given(Value::Quantity(Quantity::new(pounds, Dim::FORCE)), unit.clone())
    };
    let mut rows: Vec<(Option<Math>, Printed, Vec<usize>)> = Vec::new();
    for Sum { column, parts, whole } in here {
        let bounds: BTreeMap<String, Bound> =
            PARTS.iter().zip(parts).map(|(name, part)| (name.to_string(), bound(*part))).collect();
        let result = bound(*whole);
        let (numbers, value) = (substituted(&expr, &source, &bounds, None, &result), printed(&result));
        match rows.iter_mut().find(|(known, of, _)| *known == numbers && *of == value) {
            Some((.., known)) => known.push(*column),
            None => rows.push((numbers, value, vec![*column])),
        }
    }
    let rows = rows.into_iter().map(|(substituted, value, columns)| {
        let at = columns.iter().map(|column| format!("sum {case}@{}", letter(*column))).collect();
        row(letters(&columns), substituted, value, at)
    });
    Line::Step {
        no,
        say: said(&format!("case {words}")),
        cite: String::new(),
        symbol: symbol("P"),
        symbolic: Some(symbolic(&expr)),
        when: Vec::new(),
        rows: rows.collect(),
        raw: String::new(),
    }
}

fn formula(text: &str) -> (Arc<Source>, Expr) {
    let source = Source::new("sum", text);
    let parsed = Parser::new(&source, 0..text.len()).and_then(|mut parser| parser.parse_expr());
    (source.clone(), parsed.expect("a sum of names is a formula"))
}
