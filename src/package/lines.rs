//! What a line of a worked page shows: a formula with its numbers, a row of a
//! table, a limit. One that was printed before is not printed again: its value
//! goes to the table of values.

use std::sync::Arc;

use super::figure;
use super::ledger::{UsedRow, spans_text};
use super::model::{Candidate, CaseRow, Line, LookedUp, Printed, Side, Span};
use super::values::{Cell, Name};
use super::worked::{Page, Pages};
use crate::engine::Limit;
use crate::formula::{BinOp, Expr, Function, Node, Value, eval};
use crate::quantity::{INPUT_DIGITS, Unit, number, number_fixed};
use crate::sheet::{Bound, Given, Let, Must, Note, Part, Prose, Rests, Sheet, Step, Take, Taken, Verdict, Worked};
use crate::typeset::{Math, printed, substituted, symbol, symbolic, symbolic_part, two_sides, value_text};

impl Pages<'_> {
    /// An assumption, or something that is not covered.
    pub fn note(&mut self, note: &Note) {
        let spans = prose(&note.text);
        if note.covered {
            self.ledger.assume(spans, note.cite.as_deref().unwrap_or(""));
        } else if !self.ledger.not_covered.iter().any(|known| spans_text(known) == spans_text(&spans)) {
            self.ledger.not_covered.push(spans);
        }
    }

    pub fn step(&mut self, page: &Page, step: &Step) {
        match step {
            Step::Heading(text) => self.push(Line::Heading { text: text.clone() }),
            Step::Prose(text) => {
                let spans = prose(text);
                if self.first_said(page, &spans_text(&spans)) {
                    self.push(Line::Prose { spans });
                }
            }
            Step::Note(note) => {
                self.note(note);
                let spans = prose(&note.text);
                if self.first_said(page, &spans_text(&spans)) {
                    self.push(Line::Note { spans });
                }
            }
            Step::Decide { rule, values } => {
                let shown: Vec<String> = rule.values.iter().zip(values).map(decided).collect();
                let text = format!("Left to the engineer: {}; {}.", rule.what, shown.join(", "));
                if self.first_said(page, &text) {
                    self.push(Line::Note { spans: vec![Span::Text(text)] });
                }
            }
            Step::Skipped(condition) => self.skipped(page, condition),
            Step::Let { rule, taken } => self.let_(page, rule, *taken),
            Step::Take { rule, taken } => self.take(page, rule, taken),
            Step::Must { rule, verdict } if rule.fit => self.fit(page, rule, verdict),
            Step::Must { rule, verdict } => self.must(page, rule, verdict),
            Step::Figure { name, say, values } => {
                // The same drawing of the same values tells nothing new.
                if self.first_said(page, &format!("{name} {values:?}"))
                    && let Some(drawing) = figure::draw(name, values, self.units)
                {
                    let no = self.no();
                    self.push(Line::Figure { no, say: said(say), drawing });
                }
            }
            Step::Rename(rule) => {
                if let Some(symbol) = rule.cases[0].value.symbols().first() {
                    let (from, _) = self.origin(symbol, &Some((page.worked, page.path)));
                    self.came(page, &rule.name, from);
                }
            }
            Step::Use(_) | Step::Page { .. } | Step::Piece { .. } => {}
        }
    }

    fn first_said(&mut self, page: &Page, what: &str) -> bool {
        self.ledger.said.insert(format!("{}: {what}", page.worked.sheet.name))
    }

    /// Blocks that are left out one after another share a line.
    fn skipped(&mut self, page: &Page, condition: &Expr) {
        if !self.first_said(page, &format!("skipped {}", condition.span.start)) {
            return;
        }
        let what = Span::Math(symbolic(condition));
        if let Some(Line::Skipped { spans }) = self.last_line() {
            spans.extend([Span::Text("; needs ".into()), what]);
        } else {
            self.push(Line::Skipped { spans: vec![Span::Text("Not applicable: needs ".into()), what] });
        }
    }

    /// The line of a formula, and whether it is printed now for the first time.
    /// `what` tells apart what may apply of one rule.
    fn line_for(&mut self, page: &Page, place: usize, what: &str) -> (String, bool) {
        let key = (page.worked.sheet.name.clone(), place, what.to_string());
        if let Some(known) = self.ledger.formulas.get(&key) {
            return (known.clone(), false);
        }
        let no = self.no();
        self.ledger.formulas.insert(key, no.clone());
        (no, true)
    }

    /// Says where a symbol stands, on a page and in the table of values.
    fn stands(&mut self, page: &Page, place: usize, name: &str, no: &str, new: bool) {
        if new {
            self.at_line(page, name, no);
        } else {
            self.as_at_line(page, name, no);
        }
        if let Some(bound) = page.worked.bound.get(name) {
            self.enter(page, place, name, bound, no.into(), new);
        }
    }

    /// What the sheet above works out on the way into a sheet.
    pub fn formula(&mut self, page: &Page, given: &Given, expr: &Expr) {
        let Some((above, _)) = page.above else { return };
        let name = &given.input.name;
        let bound = &page.worked.bound[name];
        let what = format!("{} {name} {}", above.sheet.name, expr.span.start);
        let (no, new) = self.line_for(page, 0, &what);
        self.stands(page, 0, name, &no, new);
        if new {
            self.push(Line::Step {
                no,
                say: said(&given.input.say),
                cite: String::new(),
                symbol: symbol(name),
                symbolic: Some(symbolic(expr)),
                substituted: substituted(expr, &above.sheet.source, &above.bound, None, bound),
                value: printed(bound),
                raw: String::new(),
            });
        }
    }

    fn let_(&mut self, page: &Page, rule: &Arc<Let>, taken: usize) {
        let worked = page.worked;
        let sheet = &worked.sheet;
        let Some(bound) = worked.bound.get(&rule.name) else { return };
        let (no, new) = self.line_for(page, rule.span.start, &taken.to_string());
        self.stands(page, rule.span.start, &rule.name, &no, new);
        if !new {
            return;
        }
        let cite = rule.cite.clone().unwrap_or_default();
        self.ledger.cite(&cite, &no);
        let say = said(&rule.say);
        let name = symbol(&rule.name);
        let value = printed(bound);
        let raw = rule.raw.as_ref().map_or(String::new(), |raw| {
            let entered: Vec<String> =
                raw.symbols.iter().map(|(name, _, unit)| format!("{name} in {}", unit.pretty())).collect();
            let giving = raw.giving.pretty();
            format!("{}, giving {}", entered.join(", "), if giving.is_empty() { "a number" } else { &giving })
        });
        let expr = &rule.cases[taken].value;
        let numbers = substituted(expr, &sheet.source, &worked.bound, rule.raw.as_ref(), bound);
        if rule.cases.len() > 1 || rule.cases[0].when.is_some() {
            let cases = rule.cases.iter().enumerate().map(|(at, case)| CaseRow {
                value: symbolic(&case.value),
                condition: match &case.when {
                    Some(condition) => vec![Span::Text("where ".into()), Span::Math(symbolic(condition))],
                    None => vec![Span::Text("otherwise".into())],
                },
                taken: at == taken,
            });
            let cases = cases.collect();
            return self.push(Line::Cases { no, say, cite, symbol: name, cases, substituted: numbers, value, raw });
        }
        if let Node::Call(function @ (Function::Least | Function::Greatest), args) = &expr.node
            && rule.raw.is_none()
        {
            let mut candidates: Vec<Candidate> =
                args.iter().map(|arg| candidate(arg, expr, sheet, worked, bound)).collect();
            // Of equal ones the first is named.
            let first = candidates.iter().position(|candidate| candidate.governs);
            for (at, candidate) in candidates.iter_mut().enumerate() {
                candidate.governs = first == Some(at);
            }
            let which = format!("{} of", function.name());
            return self.push(Line::Candidates { no, say, cite, symbol: name, which, candidates, value });
        }
        let bare = matches!(expr.node, Node::Number(_) | Node::Literal { .. } | Node::Text(_));
        self.push(Line::Step {
            no,
            say,
            cite,
            symbol: name,
            symbolic: (!bare).then(|| symbolic(expr)),
            substituted: numbers,
            value,
            raw,
        });
    }

    /// Enters a row of a table among the sources; what to be careful about.
    fn looked_up(&mut self, taken: &Taken, keys: &[(String, String)], no: &str) -> String {
        let mut caution = String::new();
        if taken.recalled {
            caution = "recalled from memory: confirm against the current publication before sealing".into();
        }
        if !taken.doubt.is_empty() {
            caution = if caution.is_empty() { taken.doubt.clone() } else { format!("{caution}; {}", taken.doubt) };
        }
        let row = keys.iter().map(|(_, value)| value.as_str()).collect::<Vec<_>>().join(", ");
        let entry = self.ledger.rows.entry((taken.title.clone(), row));
        let row = entry.or_insert_with(|| UsedRow {
            source: taken.source.clone(),
            recalled: taken.recalled,
            caution: caution.clone(),
            lines: Vec::new(),
        });
        if !row.lines.iter().any(|line| line == no) {
            row.lines.push(no.into());
        }
        caution
    }

    fn take(&mut self, page: &Page, rule: &Take, taken: &Taken) {
        let keys: Vec<(String, String)> =
            taken.keys.iter().map(|(name, value, unit)| (name.replace('_', " "), in_unit(value, unit))).collect();
        let (no, new) = self.line_for(page, rule.span.start, &format!("{keys:?}"));
        let caution = self.looked_up(taken, &keys, &no);
        let own = self.own_row(taken, &no);
        for (name, ..) in &rule.names {
            self.stands(page, rule.span.start, name, &no, new);
        }
        if !new {
            return;
        }
        let cite = rule.cite.clone().unwrap_or_default();
        self.ledger.cite(&cite, &no);
        let mut values = Vec::new();
        for (name, ..) in &rule.names {
            if let Some(bound) = page.worked.bound.get(name) {
                values.push(LookedUp { symbol: symbol(name), value: printed(bound) });
            }
        }
        let key = rule.keys.iter().position(|(_, between)| *between).map(|at| &taken.keys[at]);
        let end = |(at, found): &(Value, Vec<Value>)| {
            let units = rule.names.iter().map(|(name, ..)| page.worked.bound.get(name).map(|bound| &bound.unit));
            let none = Unit::none();
            let values = found.iter().zip(units).map(|(value, unit)| in_unit(value, unit.unwrap_or(&none)));
            let at = in_unit(at, key.map_or(&none, |(.., unit)| unit));
            format!("{at}: {}", values.collect::<Vec<_>>().join(", "))
        };
        let ends = taken.ends.iter().map(end).collect();
        self.push(Line::Lookup {
            no,
            say: said(&rule.say),
            cite,
            table: taken.title.clone(),
            keys,
            values,
            ends,
            source: taken.source.clone(),
            caution,
            own,
        });
    }

    /// Enters a row of the job's own; what is said of it.
    fn own_row(&mut self, taken: &Taken, no: &str) -> String {
        for own in &taken.own {
            let entry = self.ledger.own_rows.entry((taken.table.clone(), own.row)).or_default();
            entry.instead |= own.instead;
            if !entry.lines.iter().any(|line| line == no) {
                entry.lines.push(no.into());
            }
        }
        if taken.own.is_empty() {
            return String::new();
        }
        self.own(format!("with a row of the job's own in `{}`", taken.table));
        match taken.own.iter().any(|own| own.instead) {
            true => "The job's own row, in place of the built-in one.".into(),
            false => "The job's own row.".into(),
        }
    }

    /// The ratio of a limit with its sides, from another combination where that
    /// governs.
    fn ratio_of(&self, other: Option<&Limit>, verdict: &Verdict) -> Option<(String, String)> {
        let verdict = other.map_or_else(|| verdict.clone(), Limit::verdict);
        let (demand, capacity) = verdict.sides.as_ref()?;
        verdict.ratio.filter(|ratio| ratio.is_finite())?;
        let (demand, capacity, ratio) = two_sides(demand, capacity, verdict.ratio);
        let mut note = format!("{} of {}", demand.number, join(&capacity));
        if let Some(limit) = other {
            note.push_str(&format!("; in {}", self.combinations[limit.run()].name));
        }
        Some((ratio, note))
    }

    /// A limit. Its formula is printed once; one that is not met is always
    /// printed, with its remedy.
    fn must(&mut self, page: &Page, rule: &Arc<Must>, verdict: &Verdict) {
        let worked = page.worked;
        let (demand, capacity, ratio, fill) = match (&verdict.sides, rule.sides()) {
            (Some((demand, capacity)), Some((left, right))) => {
                let (first, second, ratio) = two_sides(demand, capacity, verdict.ratio);
                let fill = verdict.ratio.filter(|ratio| ratio.is_finite());
                (side(left, first, worked), side(right, second, worked), ratio, fill)
            }
            _ => {
                let (found, wanted) = answers(&rule.condition, worked);
                (found, wanted, "–".to_string(), None)
            }
        };
        let result = self.shown.group;
        let governing = result.limits.iter().find(|limit| limit.path() == page.path && limit.rule().span == rule.span);
        let ok = governing.map_or(verdict.ok, |limit| limit.ok()) && verdict.ok;
        let (mut no, mut new) = self.line_for(page, rule.span.start, "");
        if !new && !ok {
            (no, new) = (self.no(), true);
        }
        let key = (self.group.clone(), page.path.to_string(), rule.span.start);
        self.ledger.limits.entry(key).or_insert_with(|| no.clone());
        let other =
            governing.filter(|limit| limit.run() != page.run && verdict.varies && limit.ratio() != verdict.ratio);
        let elsewhere = other.map_or(String::new(), |limit| {
            let ratio = limit.ratio().filter(|ratio| ratio.is_finite());
            let ratio = ratio.map_or(String::new(), |ratio| format!(": ratio {}", number_fixed(ratio, 3)));
            let word = if limit.ok() { "met" } else { "not met" };
            format!("governed by {}{ratio}, {word}", self.combinations[limit.run()].name)
        });
        let (value, note) =
            self.ratio_of(other, verdict).unwrap_or_else(|| (demand.value.number.clone(), String::new()));
        let value = Printed { number: value, unit: String::new() };
        let cell = Cell { value, note, line: no.clone(), own: new, failed: !ok };
        self.ledger.values.enter(&page.block, rule.span.start, "limit", Name::Limit(said(&rule.say)), cell);
        if !new {
            return;
        }
        let cite = rule.cite.clone().unwrap_or_default();
        self.ledger.cite(&cite, &no);
        self.push(Line::Limit {
            no,
            say: said(&rule.say),
            cite,
            demand,
            capacity,
            symbolic: symbolic(&rule.condition),
            ratio,
            fill,
            ok: verdict.ok,
            remedy: rule.remedy.clone(),
            elsewhere,
        });
    }

    /// What has to go together; one that does not is always printed.
    fn fit(&mut self, page: &Page, rule: &Arc<Must>, verdict: &Verdict) {
        let known = self.shown.group.limits.iter().find(|fit| fit.path() == page.path && fit.rule().span == rule.span);
        let ok = known.map_or(verdict.ok, |fit| fit.ok());
        let (mut no, mut new) = self.line_for(page, rule.span.start, "");
        if !new && !ok {
            (no, new) = (self.no(), true);
        }
        let key = (self.group.clone(), page.path.to_string(), rule.span.start);
        self.ledger.limits.entry(key).or_insert_with(|| no.clone());
        let value = Printed { number: if ok { "met" } else { "not met" }.into(), unit: String::new() };
        let cell = Cell { value, note: String::new(), line: no.clone(), own: new, failed: !ok };
        self.ledger.values.enter(&page.block, rule.span.start, "limit", Name::Limit(said(&rule.say)), cell);
        if new {
            let cite = rule.cite.clone().unwrap_or_default();
            self.ledger.cite(&cite, &no);
            self.push(Line::Fit { no, say: said(&rule.say), cite, ok, remedy: rule.remedy.clone() });
        }
    }
}

fn in_unit(value: &Value, unit: &Unit) -> String {
    match value {
        Value::Quantity(quantity) => {
            format!("{} {}", number(quantity.in_unit(unit), INPUT_DIGITS), unit.pretty()).trim().to_string()
        }
        value => value_text(value),
    }
}

pub(super) fn join(value: &Printed) -> String {
    if value.unit.is_empty() { value.number.clone() } else { format!("{} {}", value.number, value.unit) }
}

fn side(expr: &Expr, value: Printed, worked: &Worked) -> Side {
    let result =
        eval(expr, &worked.sheet.source, &|name: &str| worked.bound.get(name).map(|bound| bound.value.clone()));
    let substituted = match result {
        Ok(Value::Quantity(quantity)) => {
            let unit = Unit::usual(quantity.dim);
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
fn answers(condition: &Expr, worked: &Worked) -> (Side, Side) {
    let text = |expr: &Expr| {
        let value =
            eval(expr, &worked.sheet.source, &|name: &str| worked.bound.get(name).map(|bound| bound.value.clone()));
        value.map_or("–".to_string(), |value| value_text(&value))
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
            let nothing = Math { src: "\"found\"".into(), alt: "found".into() };
            let found = Side {
                symbolic: nothing,
                substituted: None,
                value: Printed { number: found.join("; "), unit: String::new() },
            };
            (found, answer(condition, "as stated".into()))
        }
    }
}

fn candidate(arg: &Expr, whole: &Expr, sheet: &Sheet, worked: &Worked, result: &Bound) -> Candidate {
    let value = eval(arg, &sheet.source, &|name: &str| worked.bound.get(name).map(|bound| bound.value.clone()));
    let value = value.unwrap_or(Value::number(0.0));
    let given = match &arg.node {
        Node::Symbol(name) => worked.bound.get(name).is_some_and(|bound| bound.given),
        _ => false,
    };
    let governs = value == result.value;
    let bound = Bound { value, given, ..result.clone() };
    Candidate {
        symbolic: symbolic_part(arg, whole),
        substituted: substituted(arg, &sheet.source, &worked.bound, None, &bound),
        value: printed(&bound),
        governs,
    }
}

/// A value that is decided: `snow_share 0.5`.
fn decided(((name, _), bound): (&(String, std::ops::Range<usize>), &Bound)) -> String {
    format!("{name} {}", join(&printed(bound)))
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
