//! What a line of a worked page shows: a formula with the numbers of each column,
//! rows of a table, a limit.

use std::sync::Arc;

use super::chain::{LineAt, Place};
use super::chosen::letter;
use super::draft::DraftLine;
use super::figure;
use super::layout::{limit_is_short, row};
use super::ledger::{Ledger, UsedRow, spans_text};
use super::model::{Candidate, CandidateRow, LimitRow, Line, LookedUp, LookupRow, Printed, Side, Span};
use super::worked::{At, Writer};
use crate::formula::{BinOp, Expr, Function, Node, Value, eval};
use crate::job::Reaction;
use crate::quantity::{Dim, INPUT_DIGITS, Quantity, Unit, Units, given_digits, measured, number};
use crate::sheet::{Bound, Let, Must, Note, NoteKind, Origin, Part, Prose, Rests, Step, Take, Taken, Verdict, Worked};
use crate::typeset::{
    Math, factored, printed, substituted, symbol, symbolic, symbolic_inline, symbolic_part, two_sides, value_text,
};
use std::collections::BTreeSet;

/// Digits of a nominal reaction, wherever one is printed: one more than a result
/// has, so that what is made of several comes out to the last digit.
pub const REACTION_DIGITS: usize = 5;

impl Ledger {
    /// An assumption, or something that is not covered. Inspections have a list of
    /// their own, from all that is made.
    pub fn note(&mut self, note: &Note) {
        let spans = prose(&note.text);
        match note.kind {
            NoteKind::Inspected { .. } => {}
            NoteKind::Assumed => {
                self.assume(spans, note.cite.as_deref().unwrap_or(""));
            }
            NoteKind::NotCovered => {
                if !self.not_covered.iter().any(|known| spans_text(known) == spans_text(&spans)) {
                    self.not_covered.push(spans);
                }
            }
        }
    }

    /// Enters a row of a table among the sources, with the line that reads it if
    /// one is printed.
    pub fn looked_up(&mut self, taken: &Taken, no: &str) {
        let mut caution = String::new();
        if taken.recalled {
            caution = "recalled from memory: confirm against the current publication before sealing".into();
        }
        if !taken.doubt.is_empty() {
            caution = if caution.is_empty() { taken.doubt.clone() } else { format!("{caution}; {}", taken.doubt) };
        }
        let row = keys(taken).iter().map(|(_, value)| value.as_str()).collect::<Vec<_>>().join(", ");
        let entry = self.rows.entry((taken.title.clone(), row));
        let row = entry.or_insert_with(|| UsedRow {
            source: taken.source.clone(),
            recalled: taken.recalled,
            caution: caution.clone(),
            lines: Vec::new(),
        });
        if !no.is_empty() && !row.lines.iter().any(|line| line == no) {
            row.lines.push(no.into());
        }
        for own in &taken.own {
            let entry = self.own_rows.entry((taken.table.clone(), own.row)).or_default();
            entry.instead |= own.instead;
            if !no.is_empty() && !entry.lines.iter().any(|line| line == no) {
                entry.lines.push(no.into());
            }
        }
    }
}

fn keys(taken: &Taken) -> Vec<(String, String)> {
    taken.keys.iter().map(|(name, value, unit)| (name.replace('_', " "), in_unit(value, unit))).collect()
}

impl<'a> Writer<'a, '_> {
    fn worked(&self, (path, column): &At) -> Option<&'a Worked> {
        self.chain(*column).find(path)
    }

    /// A line with the rows of all its columns. `own` is told what of the section
    /// comes from the job.
    pub fn line(&mut self, line: &DraftLine, here: &BTreeSet<At>, own: &mut Vec<String>) -> Option<Line> {
        let first = line.at.first()?;
        let at: LineAt = (first.0.clone(), line.place.clone());
        let no = self.number_of(&at, first.1);
        let chain = self.chain(first.1);
        match (&line.place, chain.step(&at)) {
            (Place::Entry(name), _) => self.entry(no, name, line, here),
            (Place::Aside(step), _) => match chain.find(&first.0)?.steps.get(*step)? {
                Step::Figure { name, say, values } => {
                    let drawing = figure::draw(name, values, self.units, None)?;
                    Some(Line::Figure { no, say: said(say), tag: self.tag(here, &line.at), drawing, changed: false })
                }
                Step::Prose(text) => Some(Line::Prose { spans: prose(text) }),
                Step::Note(note) => {
                    let kind = match note.kind {
                        NoteKind::NotCovered => Some("Not covered: "),
                        NoteKind::Inspected { .. } => Some("Special inspection: "),
                        NoteKind::Assumed => None,
                    };
                    let kind = kind.map(|words| Span::Text(words.into()));
                    Some(Line::Prose { spans: kind.into_iter().chain(prose(&note.text)).collect() })
                }
                _ => None,
            },
            (_, Some(Step::Let { rule, taken })) => {
                let (rule, taken) = (rule.clone(), *taken);
                Some(self.let_(no, &rule, taken, line, here))
            }
            (_, Some(Step::Take { rule, .. })) => {
                let rule = rule.clone();
                Some(self.take(no, &rule, line, here, own))
            }
            (_, Some(Step::Must { rule, .. })) => {
                let rule = rule.clone();
                Some(self.must(no, &rule, line, here))
            }
            _ => None,
        }
    }

    /// Rows that are alike, each with the places that have it.
    fn rows<T: PartialEq>(&self, line: &DraftLine, of: impl Fn(&At) -> Option<T>) -> Vec<(T, Vec<At>)> {
        let mut rows: Vec<(T, Vec<At>)> = Vec::new();
        for at in &line.at {
            let Some(row) = of(at) else { continue };
            match rows.iter_mut().find(|(known, _)| *known == row) {
                Some((_, places)) => places.push(at.clone()),
                None => rows.push((row, vec![at.clone()])),
            }
        }
        rows
    }

    /// The tag of a row of a symbol.
    fn tag_of(&self, name: &str, line: &DraftLine, here: &BTreeSet<At>, rows: usize, at: &[At]) -> String {
        if rows == 1 && self.everywhere(line, name) { String::new() } else { self.tag(here, at) }
    }

    /// What the sheet above works out on the way into a sheet.
    fn entry(&mut self, no: String, name: &str, line: &DraftLine, here: &BTreeSet<At>) -> Option<Line> {
        let first = line.at.first()?;
        let formula = |at: &At| {
            let worked = self.worked(at)?;
            let given = worked.given.iter().find(|given| given.input.name == name)?;
            let Origin::Formula(expr) = &given.origin else { return None };
            let (above, _) = self.chain(at.1).above(&at.0)?;
            Some((given, expr, above, worked.bound.get(name)?))
        };
        let (given, expr, ..) = formula(first)?;
        let found = self.rows(line, |at| {
            let (_, expr, above, bound) = formula(at)?;
            let numbers = substituted(expr, &above.sheet.source, &above.bound, None, bound);
            Some(nothing((numbers, printed(bound)), line.at.len()))
        });
        // It speaks of the sheet above: whose it is, is always said.
        let rows = found
            .into_iter()
            .map(|((substituted, value), at)| row(self.tag(here, &at), substituted, value, self.ids(&at)));
        Some(Line::Step {
            no,
            say: said(&given.input.say),
            cite: String::new(),
            symbol: symbol(name),
            symbolic: Some(symbolic(expr)),
            when: Vec::new(),
            rows: rows.collect(),
            raw: String::new(),
        })
    }

    fn let_(&mut self, no: String, rule: &Arc<Let>, taken: usize, line: &DraftLine, here: &BTreeSet<At>) -> Line {
        let cite = rule.cite.clone().unwrap_or_default();
        self.ledger.cite(&cite, &no);
        let say = said(&rule.say);
        let name = symbol(&rule.name);
        let raw = rule.raw.as_ref().map_or(String::new(), |raw| {
            let entered: Vec<String> =
                raw.symbols.iter().map(|(name, _, unit)| format!("{name} in {}", unit.pretty())).collect();
            let giving = raw.giving.pretty();
            let giving = format!("giving {}", if giving.is_empty() { "a number" } else { &giving });
            entered.into_iter().chain([giving]).collect::<Vec<_>>().join(", ")
        });
        let case = &rule.cases[taken];
        let expr = &case.value;
        let when = match &case.when {
            Some(condition) => vec![Span::Text("where ".into()), Span::Math(symbolic_inline(condition))],
            None if rule.cases.len() > 1 => vec![Span::Text("otherwise".into())],
            None => Vec::new(),
        };
        if let Node::Call(function @ (Function::Least | Function::Greatest), args) = &expr.node
            && rule.raw.is_none()
        {
            let found = self.rows(line, |at| {
                let worked = self.worked(at)?;
                let bound = worked.bound.get(&rule.name)?;
                let mut candidates: Vec<Candidate> = args.iter().map(|arg| candidate(arg, worked, bound)).collect();
                // Of equal ones the first is named.
                let first = candidates.iter().position(|candidate| candidate.governs);
                for (at, candidate) in candidates.iter_mut().enumerate() {
                    candidate.governs = first == Some(at);
                }
                Some((candidates, printed(bound)))
            });
            let count = found.len();
            let rows = found.into_iter().map(|((candidates, value), at)| CandidateRow {
                tag: self.tag_of(&rule.name, line, here, count, &at),
                candidates,
                value,
                at: self.ids(&at),
                changed: false,
            });
            return Line::Candidates {
                no,
                say,
                cite,
                symbol: name,
                which: format!("{} of", function.name()),
                when,
                parts: args.iter().map(|arg| symbolic_part(arg, expr)).collect(),
                rows: rows.collect(),
            };
        }
        let found = self.rows(line, |at| {
            let worked = self.worked(at)?;
            let bound = worked.bound.get(&rule.name)?;
            let numbers = substituted(expr, &worked.sheet.source, &worked.bound, rule.raw.as_ref(), bound);
            Some(nothing((numbers, printed(bound)), line.at.len()))
        });
        let count = found.len();
        let rows = found.into_iter().map(|((substituted, value), at)| {
            row(self.tag_of(&rule.name, line, here, count, &at), substituted, value, self.ids(&at))
        });
        let bare = matches!(expr.node, Node::Number(_) | Node::Literal { .. } | Node::Text(_));
        let symbolic = (!bare).then(|| symbolic(expr));
        Line::Step { no, say, cite, symbol: name, symbolic, when, rows: rows.collect(), raw }
    }

    fn take(&mut self, no: String, rule: &Take, line: &DraftLine, here: &BTreeSet<At>, own: &mut Vec<String>) -> Line {
        let cite = rule.cite.clone().unwrap_or_default();
        self.ledger.cite(&cite, &no);
        let taken_at = |writer: &Self, at: &At| {
            let step = writer.chain(at.1).step(&(at.0.clone(), line.place.clone()));
            match step {
                Some(Step::Take { taken, .. }) => Some(taken),
                _ => None,
            }
        };
        let mut cautions: Vec<&str> = Vec::new();
        let mut asks: Vec<String> = Vec::new();
        let mut words = String::new();
        let mut title = String::new();
        for at in &line.at {
            let Some(taken) = taken_at(self, at) else { continue };
            title = taken.title.clone();
            self.ledger.looked_up(taken, &no);
            let recalled = self.ledger.awaited.of(taken);
            self.reads.entry((no.clone(), letter(at.1))).or_default().extend(recalled.iter().cloned());
            asks.extend(recalled.into_iter().filter(|no| !asks.contains(no)).collect::<Vec<_>>());
            let doubtful = if taken.doubt.is_empty() { "" } else { "in doubt" };
            for caution in [if taken.recalled { "recalled" } else { "" }, doubtful] {
                if !caution.is_empty() && !cautions.contains(&caution) {
                    cautions.push(caution);
                }
            }
            if !taken.own.is_empty() {
                words = match taken.own.iter().any(|own| own.instead) {
                    true => "The job's own row, in place of the built-in one.".into(),
                    false => "The job's own row.".into(),
                };
                let said = format!("with a row of the job's own in `{}`", taken.table);
                if !own.contains(&said) {
                    own.push(said);
                }
            }
        }
        asks.sort_by_key(|no| (no.len(), no.clone()));
        let found = self.rows(line, |at| {
            let (worked, taken) = (self.worked(at)?, taken_at(self, at)?);
            let mut values = Vec::new();
            for (name, ..) in &rule.names {
                if let Some(bound) = worked.bound.get(name) {
                    values.push(LookedUp { symbol: symbol(name), value: printed(bound) });
                }
            }
            let key = rule.keys.iter().position(|(_, between)| *between).map(|at| &taken.keys[at]);
            let none = Unit::none();
            let end = |(at, found): &(Value, Vec<Value>)| {
                let units = rule.names.iter().map(|(name, ..)| worked.bound.get(name).map(|bound| &bound.unit));
                let values = found.iter().zip(units).map(|(value, unit)| in_unit(value, unit.unwrap_or(&none)));
                let at = in_unit(at, key.map_or(&none, |(.., unit)| unit));
                format!("{at}: {}", values.collect::<Vec<_>>().join(", "))
            };
            Some((keys(taken), values, taken.ends.iter().map(end).collect::<Vec<_>>()))
        });
        let name = rule.names.first().map_or("", |(name, ..)| name.as_str());
        let count = found.len();
        let rows = found.into_iter().map(|((keys, values, ends), at)| LookupRow {
            tag: self.tag_of(name, line, here, count, &at),
            keys,
            values,
            ends,
            at: self.ids(&at),
            changed: false,
        });
        let rows = rows.collect();
        Line::Lookup {
            no,
            say: said(&rule.say),
            cite,
            table: title,
            rows,
            caution: cautions.join(", "),
            asks,
            own: words,
        }
    }

    /// A limit in the columns that it is worked in, each with the case that governs.
    fn must(&mut self, no: String, rule: &Arc<Must>, line: &DraftLine, here: &BTreeSet<At>) -> Line {
        let cite = rule.cite.clone().unwrap_or_default();
        self.ledger.cite(&cite, &no);
        let found = self.rows(line, |at| {
            let step = self.chain(at.1).step(&(at.0.clone(), line.place.clone()))?;
            let Step::Must { verdict, .. } = step else { return None };
            Some(limit_row(self.units, rule, verdict, self.worked(at)?))
        });
        let rows: Vec<LimitRow> = found
            .into_iter()
            .map(|(row, at)| LimitRow { tag: self.tag(here, &at), at: self.ids(&at), ..row })
            .collect();
        let (say, symbolic) = (said(&rule.say), symbolic_inline(&rule.condition));
        let short = rows.len() == 1 && limit_is_short(&say, &symbolic, &rows[0]);
        let remedy = if rows.iter().all(|row| row.ok) { String::new() } else { rule.remedy.clone() };
        Line::Limit { no, say, cite, symbolic, rows, short, remedy }
    }

    /// What the combinations bring under a name, from the nominal reactions.
    pub fn load_line(&self, no: String, name: &str, say: &str, columns: &[(usize, Bound)]) -> Line {
        let mut rows: Vec<(Option<Math>, Printed, Vec<usize>)> = Vec::new();
        for (column, bound) in columns {
            let loads = self.chapter.columns[*column].loads;
            let numbers = loads.and_then(|(combination, post)| {
                let terms = combination.terms(name)?;
                let terms = terms.into_iter().filter_map(|(case, factor)| {
                    let value = part(post.reactions.get(&case)?, name);
                    if value == 0.0 || factor == 0.0 {
                        return None;
                    }
                    let dim = if name.starts_with('w') { Dim::of(-1, 1) } else { Dim::FORCE };
                    let number = number(Quantity::new(value, dim).in_unit(&bound.unit), REACTION_DIGITS);
                    let load = Printed { number, unit: bound.unit.pretty() };
                    Some((crate::quantity::number(factor, INPUT_DIGITS), load))
                });
                factored(&terms.collect::<Vec<_>>())
            });
            let value = printed(bound);
            match rows.iter_mut().find(|(known, of, _)| *known == numbers && *of == value) {
                Some((.., known)) => known.push(*column),
                None => rows.push((numbers, value, vec![*column])),
            }
        }
        let rows = rows.into_iter().map(|(substituted, value, columns)| {
            let tag = if self.chapter.columns.len() > 1 { super::worked::letters(&columns) } else { String::new() };
            let at = columns.iter().map(|column| format!("@{}", letter(*column))).collect();
            row(tag, substituted, value, at)
        });
        Line::Step {
            no,
            say: said(say),
            cite: String::new(),
            symbol: symbol(name),
            symbolic: None,
            when: Vec::new(),
            rows: rows.collect(),
            raw: String::new(),
        }
    }
}

/// Among several rows those that come to nothing are one, without their numbers.
fn nothing((numbers, value): (Option<Math>, Printed), places: usize) -> (Option<Math>, Printed) {
    let zero = matches!(value.number.as_str(), "0" | "0.0");
    (numbers.filter(|_| !zero || places == 1), value)
}

/// The part of a nominal reaction that a name of a combination is made from.
fn part(reaction: &Reaction, name: &str) -> f64 {
    match name {
        "H_x" | "H_x_E" => reaction.h_x,
        "H_y" | "H_y_E" => reaction.h_y,
        "w_x" => reaction.w_x,
        "w_y" => reaction.w_y,
        "brace_x_1" => reaction.braces[0],
        "brace_x_2" => reaction.braces[1],
        "brace_y_1" => reaction.braces[2],
        "brace_y_2" => reaction.braces[3],
        _ => reaction.p,
    }
}

/// A limit as it came out: its two sides, or what was found and is wanted.
pub fn limit_row(units: Units, rule: &Must, verdict: &Verdict, worked: &Worked) -> LimitRow {
    let (demand, capacity, ratio, fill) = match (&verdict.sides, rule.sides()) {
        (Some((demand, capacity)), Some((left, right))) => {
            let (first, second, ratio) = two_sides(demand, capacity, verdict.ratio);
            let fill = verdict.ratio.filter(|ratio| ratio.is_finite());
            (side(units, left, first, worked), side(units, right, second, worked), ratio, fill)
        }
        _ => {
            let (found, wanted) = answers(units, &rule.condition, worked);
            (found, wanted, "–".to_string(), None)
        }
    };
    LimitRow { tag: String::new(), demand, capacity, ratio, fill, ok: verdict.ok, at: Vec::new(), changed: false }
}

fn in_unit(value: &Value, unit: &Unit) -> String {
    match value {
        Value::Quantity(quantity) => {
            let value = quantity.in_unit(unit);
            measured(&number(value, given_digits(value)), &unit.pretty())
        }
        value => value_text(value),
    }
}

pub(super) fn join(value: &Printed) -> String {
    measured(&value.number, &value.unit)
}

fn side(units: Units, expr: &Expr, value: Printed, worked: &Worked) -> Side {
    let result =
        eval(expr, &worked.sheet.source, &|name: &str| worked.bound.get(name).map(|bound| bound.value.clone()));
    let substituted = match result {
        Ok(Value::Quantity(quantity)) => {
            let unit = units.unit(quantity.dim);
            let value = Value::Quantity(quantity);
            let rests = Rests::default();
            let result = Bound { value, unit, varies: false, count: false, given: false, place: None, rests };
            substituted(expr, &worked.sheet.source, &worked.bound, None, &result)
        }
        _ => None,
    };
    Side { symbolic: symbolic(expr), substituted, value }
}

/// What was found and what is wanted, for a limit that is no ratio.
fn answers(units: Units, condition: &Expr, worked: &Worked) -> (Side, Side) {
    let text = |expr: &Expr| {
        let value =
            eval(expr, &worked.sheet.source, &|name: &str| worked.bound.get(name).map(|bound| bound.value.clone()));
        match value {
            Ok(value @ Value::Quantity(quantity)) => in_unit(&value, &units.unit(quantity.dim)),
            Ok(value) => value_text(&value),
            Err(_) => "–".into(),
        }
    };
    let answer = |expr: &Expr, number: String| Side {
        symbolic: symbolic(expr),
        substituted: None,
        value: Printed { number, unit: String::new() },
    };
    match &condition.node {
        Node::Binary(op, left, right) if !matches!(op, BinOp::And | BinOp::Or) => {
            let wanted = match op {
                BinOp::IsNot => format!("not {}", text(right)),
                _ => text(right),
            };
            (answer(left, text(left)), answer(right, wanted))
        }
        _ => {
            // Each name in a longer condition, with what was found for it.
            let mut found: Vec<String> = Vec::new();
            for name in condition.symbols() {
                let shown = worked.bound.get(name).map(|bound| join(&printed(bound))).unwrap_or_default();
                let line = format!("{}: {shown}", name.replace('_', " "));
                if !found.contains(&line) {
                    found.push(line);
                }
            }
            let found = Side {
                symbolic: symbol("found"),
                substituted: None,
                value: Printed { number: found.join("; "), unit: String::new() },
            };
            (found, answer(condition, "as stated".into()))
        }
    }
}

fn candidate(arg: &Expr, worked: &Worked, result: &Bound) -> Candidate {
    let sheet = &worked.sheet;
    let value = eval(arg, &sheet.source, &|name: &str| worked.bound.get(name).map(|bound| bound.value.clone()));
    let value = value.unwrap_or(Value::number(0.0));
    let given = match &arg.node {
        Node::Symbol(name) => worked.bound.get(name).is_some_and(|bound| bound.given),
        _ => false,
    };
    let governs = value == result.value;
    let bound = Bound { value, given, ..result.clone() };
    Candidate {
        substituted: substituted(arg, &sheet.source, &worked.bound, None, &bound),
        value: printed(&bound),
        governs,
    }
}

/// What a line is, with symbols between backticks.
pub(super) fn said(text: &str) -> Vec<Span> {
    let parts = text.split('`').enumerate().filter(|(_, part)| !part.is_empty());
    parts.map(|(at, part)| if at % 2 == 1 { Span::Math(symbol(part)) } else { Span::Text(part.into()) }).collect()
}

pub(super) fn prose(prose: &Prose) -> Vec<Span> {
    let part = |part: &Part| match part {
        Part::Markup(text) => Span::Markup(text.clone()),
        Part::Symbol(name) => Span::Math(symbol(name)),
    };
    prose.iter().map(part).collect()
}
