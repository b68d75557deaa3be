//! The calculation sheet of a group, on one page: what governs it, with formula and
//! numbers, and where each is worked.

use super::build::marks;
use super::chain::{Chain, Source};
use super::chosen::{Chosen, letter, told_apart};
use super::foot::foot;
use super::ledger::{Ledger, spans_text};
use super::lines::{limit_row, prose, said};
use super::model::{
    Calculation, ColumnHead, ForceRow, LimitRow, Reacting, SideFormula, SizeLimit, TopLimit, UnfitLine,
};
use crate::engine::{
    self, Combination, Effect, GroupResult, Limit, Made, Reacts, Results, Root, Shown, Step as Beside,
};
use crate::formula::{Expr, Node};
use crate::job::{Job, Post, some_marks};
use crate::quantity::{Units, number, number_fixed};
use crate::sheet::{NoteKind, Step, Worked};
use crate::typeset::{printed, substituted, symbol, symbolic, symbolic_inline};

/// So many limits stand on the sheet; more where more are not met.
const TOP: usize = 10;

/// A group of posts, with what its sheet is made from.
pub struct Of<'a> {
    pub job: &'a Job,
    pub root: &'a Root<'a>,
    pub results: &'a Results,
    pub group: &'a GroupResult,
    pub chosen: &'a Chosen,
    /// Index of the group.
    pub at: usize,
    pub shown: &'a Shown<'a>,
    pub made: &'a Made,
}

pub fn sheet(of: &Of, facts: Vec<(String, String)>, ledger: &Ledger) -> Calculation {
    let Of { job, results, group, shown, .. } = of;
    let weight = |limit: &Limit| if limit.ok() { limit.ratio().unwrap_or(0.0) } else { f64::INFINITY };
    let mut ranked: Vec<&Limit> =
        group.limits.iter().filter(|limit| !limit.is_fit() && (limit.ratio().is_some() || !limit.ok())).collect();
    ranked.sort_by(|a, b| weight(b).total_cmp(&weight(a)));
    // A size that is as large as it may be says nothing of the loads.
    let (pressed, sizes): (Vec<&Limit>, Vec<&Limit>) = ranked.into_iter().partition(|it| it.varies() || !it.ok());
    let most = TOP.max(pressed.iter().filter(|limit| !limit.ok()).count());
    let mut runs: Vec<usize> = Vec::new();
    let mut limits = Vec::new();
    for limit in pressed.into_iter().take(most) {
        let run = limit.run();
        if limit.varies() && !runs.contains(&run) {
            runs.push(run);
        }
        let Some((worked, verdict)) = shown.find(run, limit.path()).and_then(|worked| {
            let verdict = worked.steps.iter().find_map(|step| match step {
                Step::Must { rule, verdict } if rule.span == limit.rule().span => Some(verdict),
                _ => None,
            });
            Some((worked, verdict?))
        }) else {
            continue;
        };
        limits.push(TopLimit {
            line: ledger.line_of(limit),
            say: told_apart(group, limit),
            sheet: limit.title().into(),
            cite: limit.rule().cite.clone().unwrap_or_default(),
            symbolic: symbolic_inline(&limit.rule().condition),
            formulas: of.formulas(limit),
            close: limit.close(),
            row: LimitRow {
                tag: if limit.varies() { of.name(&runs, run) } else { String::new() },
                ..limit_row(job.units, limit.rule(), verdict, worked)
            },
            combination: if limit.varies() { results.combinations[run].name.clone() } else { String::new() },
        });
    }
    let post = &job.posts[group.posts[0]];
    let sizes = sizes.into_iter().filter(|limit| weight(limit) >= super::chosen::WORKED_FROM);
    let mut at_bounds: Vec<SizeLimit> = Vec::new();
    for limit in sizes {
        let (line, ratio) = (ledger.line_of(limit), number_fixed(weight(limit), 3));
        // A sheet that is used twice says it twice: the highest is enough.
        if !at_bounds.iter().any(|known| known.line == line) {
            let (say, close) = (said(&limit.rule().say), limit.close());
            at_bounds.push(SizeLimit { line, say, ratio, close, changed: false });
        }
    }
    let named: Vec<(String, &Combination)> =
        runs.iter().map(|run| (of.name(&runs, *run), &results.combinations[*run])).collect();
    let unfit = group.limits.iter().filter(|limit| limit.is_fit() && !limit.ok()).map(|limit| UnfitLine {
        line: ledger.line_of(limit),
        say: told_apart(group, limit),
        cite: limit.rule().cite.clone().unwrap_or_default(),
        remedy: limit.rule().remedy.clone(),
    });
    let count = |fit: bool| group.limits.iter().filter(|limit| limit.is_fit() == fit).count();
    let met = |fit: bool| group.limits.iter().filter(|limit| limit.is_fit() == fit && limit.ok()).count();
    let all = marks(job, group);
    Calculation {
        title: title(&all),
        marks: all,
        alike: Vec::new(),
        ok: group.ok(),
        facts,
        changed: Vec::new(),
        units: job.units.force_unit().into(),
        forces: named.iter().map(|(letter, combination)| forces(job.units, letter, combination, post)).collect(),
        sketch: foot(job.units, post, of.made, &named),
        limits,
        sizes: at_bounds,
        slack: if job.units == Units::Metric { "half a millimetre" } else { "1/64 in" },
        reacts: reacting(engine::reacts(of.root, &results.combinations, group)),
        all: count(false),
        met: met(false),
        fits: count(true),
        fits_met: met(true),
        unfit: unfit.collect(),
        assumptions: assumed(of.made, ledger),
    }
}

/// Groups that come to the same ratios share a sheet, which shows the first of them.
pub fn shared(sheets: Vec<Calculation>) -> Vec<Calculation> {
    let key = |sheet: &Calculation| {
        let limits = sheet.limits.iter().map(|limit| (limit.line.clone(), limit.row.ratio.clone()));
        let sizes = sheet.sizes.iter().map(|size| (size.line.clone(), size.ratio.clone()));
        (sheet.facts.clone(), limits.chain(sizes).collect::<Vec<_>>())
    };
    let mut found: Vec<Calculation> = Vec::new();
    for sheet in sheets {
        match found.iter_mut().find(|known| key(known) == key(&sheet)) {
            Some(known) => {
                known.alike.extend(sheet.marks.iter().cloned());
                known.title = title(&[known.marks.clone(), known.alike.clone()].concat());
            }
            None => found.push(sheet),
        }
    }
    found
}

/// `−1.14`.
fn signed(percent: f64) -> String {
    let sign = if percent < 0.0 { "−" } else { "+" };
    format!("{sign}{}", number_fixed(percent.abs(), 2))
}

fn reacting(reacts: &Reacts) -> Reacting {
    let inputs = reacts.inputs.iter().map(|it| format!("`{}`, {}: {} %", it.name, it.text, signed(it.percent)));
    let step = |step: &Beside| {
        let others = step.others.iter().map(|it| match it.ratio {
            Some(ratio) => format!("{}: {} ({})", it.value, number_fixed(ratio, 3), it.limit),
            None if it.ok => format!("{}: met", it.value),
            None => format!("{}: not met ({})", it.value, it.limit),
        });
        format!("`{}`, now {}: {}", step.name, step.own, others.collect::<Vec<_>>().join(", "))
    };
    let loads = match &reacts.loads {
        Some(reached) if reached.factor >= 1.0 => format!(
            "at {} times what they are, the first limit is reached: {}.",
            number_fixed(reached.factor, 3),
            reached.limit
        ),
        Some(reached) => format!(
            "at {} times what they are, all that they press on would be met; the first limit is then reached: {}.",
            number_fixed(reached.factor, 3),
            reached.limit
        ),
        None => "no limit is reached by more of them.".into(),
    };
    Reacting { inputs: inputs.collect(), steps: reacts.steps.iter().map(step).collect(), loads }
}

fn title(marks: &[String]) -> String {
    format!("{} {}", if marks.len() == 1 { "Post" } else { "Posts" }, some_marks(marks, 8))
}

fn forces(units: Units, letter: &str, combination: &Combination, post: &Post) -> ForceRow {
    let Effect { p, h_x, h_y, .. } = combination.effect(&post.reactions);
    let head = ColumnHead {
        letter: letter.into(),
        post: String::new(),
        marks: Vec::new(),
        what: combination.name.clone(),
        c_d: combination.c_d.map_or(String::new(), |c_d| number(c_d, 4)),
    };
    ForceRow { head, values: [p, h_x, h_y].map(|value| units.force_number(value)).to_vec(), changed: false }
}

impl Of<'_> {
    /// The letter of a combination among the columns of the worked pages; its place
    /// on this sheet if the group has none there.
    fn name(&self, runs: &[usize], run: usize) -> String {
        let is = |column: &super::chosen::Column| column.group == self.at && column.run == run;
        let place = || runs.iter().position(|known| *known == run).map_or(0, |at| at + 1).to_string();
        self.chosen.columns.iter().position(is).map_or_else(place, letter)
    }

    /// How demand and capacity of a limit are worked, a step up.
    fn formulas(&self, limit: &Limit) -> Vec<SideFormula> {
        let chain = Chain::new(self.shown.worked(limit.run()));
        let Some((demand, capacity)) = limit.rule().sides() else { return Vec::new() };
        [demand, capacity].into_iter().filter_map(|side| formula(&chain, limit.path(), side)).collect()
    }
}

/// The formula of a symbol that is a side of a limit.
fn formula(chain: &Chain, path: &str, side: &Expr) -> Option<SideFormula> {
    let Node::Symbol(name) = &side.node else { return None };
    let Source::Line(line, bound_as) = chain.source(path, name) else { return None };
    let Some(Step::Let { rule, taken }) = chain.step(&line) else { return None };
    let worked: &Worked = chain.find(&line.0)?;
    let (expr, bound) = (&rule.cases[*taken].value, worked.bound.get(&bound_as)?);
    if expr.symbols().is_empty() {
        return None;
    }
    Some(SideFormula {
        symbol: symbol(name),
        symbolic: symbolic(expr),
        substituted: substituted(expr, &worked.sheet.source, &worked.bound, rule.raw.as_ref(), bound),
        value: printed(bound),
    })
}

/// The numbers of the assumptions that the sheets of a post make: `A1 to A4, A7`.
fn assumed(made: &Worked, ledger: &Ledger) -> String {
    fn walk(worked: &Worked, found: &mut Vec<String>) {
        for step in &worked.steps {
            match step {
                Step::Note(note) if note.kind == NoteKind::Assumed => found.push(spans_text(&prose(&note.text))),
                Step::Use(inner) => walk(inner, found),
                _ => {}
            }
        }
    }
    let mut found = Vec::new();
    walk(made, &mut found);
    let numbers = ledger.assumptions.iter().enumerate();
    let numbers: Vec<usize> =
        numbers.filter(|(_, (text, _))| found.contains(&spans_text(text))).map(|(at, _)| at + 1).collect();
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for no in numbers {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == no => *last = no,
            _ => runs.push((no, no)),
        }
    }
    let run = |(first, last): (usize, usize)| match last - first {
        0 => format!("A{first}"),
        1 => format!("A{first}, A{last}"),
        _ => format!("A{first} to A{last}"),
    };
    runs.into_iter().map(run).collect::<Vec<_>>().join(", ")
}
