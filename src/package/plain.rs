//! Shop and field sheets: drawings, measures as a tape shows them, and words.
//! What is worked out to get there stands in the worked pages.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rayon::prelude::*;

use super::build::chosen;
use super::chosen::use_of;
use super::figure::Figures;
use super::ledger::Ledger;
use super::lines::{join, prose, said};
use super::model::{HoldPart, PlainFigure, PlainItem, PlainSheet, PlainValue, Printed, Span};
use super::plan::blade;
use super::sheet_layout;
use crate::drawing::Blade;
use crate::engine::{GroupResult, Made};
use crate::formula::Value;
use crate::job::{Job, some_marks, some_posts};
use crate::quantity::{Dim, Units, number_fixed};
use crate::sheet::{Bound, PageKind, Step, Worked};
use crate::typeset::printed;

/// The sheets for the shop or the site: posts whose sheets say the same but for a
/// few values share one, but one on hold never with one that is not.
pub fn sheets(
    job: &Job,
    made: &[(&GroupResult, Arc<Made>)],
    kind: PageKind,
    ledger: &Ledger,
    figures: &Figures,
) -> Vec<PlainSheet> {
    let drafts = made.par_iter().map(|(group, worked)| {
        let along = blade(&job.posts[group.posts[0]]);
        let blade = along.map(|axis| Blade { axis, plates: plates(&worked.steps) });
        let mut draft = Draft { blade, ..Draft::default() };
        Drafting { units: job.units, kind, figures }.pages(worked, &mut draft);
        let frame = draft.frame();
        (draft, frame)
    });
    let drafts: Vec<(Draft, String)> = drafts.collect();
    let mut found: Vec<Shared> = Vec::new();
    for ((group, _), (draft, frame)) in made.iter().zip(drafts) {
        if draft.items.is_empty() && draft.figures.is_empty() {
            continue;
        }
        let member = Member { group, chosen: chosen(&job.posts[group.posts[0]]), values: draft.values() };
        match found.iter_mut().find_map(|shared| Some((shared.takes(&frame, &member)?, shared))) {
            Some((differing, shared)) => {
                shared.differing = differing;
                shared.members.push(member);
            }
            None => found.push(Shared { draft, frame, differing: BTreeSet::new(), members: vec![member] }),
        }
    }
    let name = if kind == PageKind::Shop { "Shop" } else { "Field" };
    let mut sheets: Vec<PlainSheet> = found.into_iter().map(|shared| shared.sheet(job, ledger, name)).collect();
    // What can be made comes first, so that it shares pages; what is on hold can wait.
    sheets.sort_by_key(|sheet| !sheet.hold.is_empty());
    sheet_layout::share_pages(&mut sheets);
    sheets
}

/// What the sheets of a post say on the page of a kind, in their order.
#[derive(Default)]
struct Draft {
    own: Vec<String>,
    figures: Vec<PlainFigure>,
    items: Vec<PlainItem>,
    /// What its base holds the post with.
    blade: Option<Blade>,
}

/// A group whose posts share a sheet with others, what its files say, and each value of it; empty where an item is none.
struct Member<'a> {
    group: &'a GroupResult,
    chosen: Vec<(String, String)>,
    values: Vec<String>,
}

struct Shared<'a> {
    draft: Draft,
    /// All of it but the values.
    frame: String,
    /// Items that are not the same for all members.
    differing: BTreeSet<usize>,
    members: Vec<Member<'a>>,
}

impl Draft {
    fn values(&self) -> Vec<String> {
        let value = |item: &PlainItem| match item {
            PlainItem::Value(it) => join(&it.value),
            _ => String::new(),
        };
        self.items.iter().map(value).collect()
    }

    /// All of it but the values.
    fn frame(&self) -> String {
        let words = self.items.iter().map(|item| match item {
            PlainItem::Value(value) => format!("value {:?}", value.say),
            other => format!("{other:?}"),
        });
        format!("{:?} {:?} {:?}", self.own, self.figures, words.collect::<Vec<_>>())
    }
}

impl<'a> Shared<'a> {
    /// More columns than these no table of posts has room for.
    const COLUMNS: usize = 4;

    /// The items that differ with one more member; none where it needs a sheet of its own.
    fn takes(&self, frame: &str, member: &Member) -> Option<BTreeSet<usize>> {
        let first = self.members.first()?;
        let names = |member: &Member| member.chosen.iter().map(|(name, _)| name.clone()).collect::<Vec<_>>();
        let alike = first.group.ok() == member.group.ok() && names(first) == names(member);
        if !alike || self.frame != frame {
            return None;
        }
        let changed = (0..member.values.len()).filter(|at| first.values[*at] != member.values[*at]);
        let apart: BTreeSet<usize> = self.differing.iter().copied().chain(changed).collect();
        (apart.len() <= Shared::COLUMNS).then_some(apart)
    }

    fn sheet(self, job: &Job, ledger: &Ledger, name: &str) -> PlainSheet {
        let groups: Vec<&GroupResult> = self.members.iter().map(|member| member.group).collect();
        let marks_of = |posts: &BTreeSet<usize>| -> Vec<String> {
            posts.iter().map(|post| job.posts[*post].mark.clone()).collect()
        };
        let mut kinds: Vec<(Vec<String>, BTreeSet<usize>)> = Vec::new();
        for member in &self.members {
            let chosen = member.chosen.iter().map(|(_, value)| value.clone());
            let row: Vec<String> = chosen.chain(self.differing.iter().map(|at| member.values[*at].clone())).collect();
            match kinds.iter_mut().find(|(known, _)| *known == row) {
                Some((_, posts)) => posts.extend(&member.group.posts),
                None => kinds.push((row, member.group.posts.iter().copied().collect())),
            }
        }
        let mut head: Vec<Vec<Span>> = vec![vec![Span::Text("posts".into())]];
        head.extend(self.members[0].chosen.iter().map(|(name, _)| vec![Span::Text(name.clone())]));
        let mut items = Vec::new();
        for (at, item) in self.draft.items.into_iter().enumerate() {
            match item {
                PlainItem::Value(value) if self.differing.contains(&at) => head.push(value.say),
                other => items.push(other),
            }
        }
        let all: BTreeSet<usize> = self.members.iter().flat_map(|member| member.group.posts.iter().copied()).collect();
        let row = |(row, posts): (Vec<String>, BTreeSet<usize>)| {
            std::iter::once(some_marks(&marks_of(&posts), 6)).chain(row).collect()
        };
        PlainSheet {
            title: title(name, &marks_of(&all)),
            follows: false,
            hold: hold(job, &groups, ledger),
            own: self.draft.own,
            head,
            kinds: kinds.into_iter().map(row).collect(),
            figures: sheet_layout::rows(self.draft.figures, job.units),
            columns: sheet_layout::columns(items),
            changed: false,
        }
    }
}

/// `Shop sheet for posts A1, A3`.
fn title(name: &str, marks: &[String]) -> String {
    format!("{name} sheet for {}", some_posts(marks, 6))
}

/// What is not met of some groups: a limit that several fail is said once.
fn hold(job: &Job, groups: &[&GroupResult], ledger: &Ledger) -> Vec<HoldPart> {
    let mut parts: Vec<(String, String, BTreeSet<usize>)> = Vec::new();
    for group in groups {
        for limit in group.limits.iter().filter(|limit| !limit.ok()) {
            let say = limit.rule().say.clone() + &use_of(group, limit).unwrap_or_default();
            match parts.iter_mut().find(|(known, _, posts)| *known == say && !posts.contains(&group.posts[0])) {
                Some((.., posts)) => posts.extend(&group.posts),
                None => parts.push((say, ledger.line_of(limit), group.posts.iter().copied().collect())),
            }
        }
    }
    let part = |(limit, line, posts): (String, String, BTreeSet<usize>)| {
        let marks: Vec<String> = posts.iter().map(|post| job.posts[*post].mark.clone()).collect();
        HoldPart { marks: some_marks(&marks, 6), limit, line }
    };
    parts.into_iter().map(part).collect()
}

/// How long the side plates of a base are and how far apart, as the plan of its plate has them.
fn plates(steps: &[Step]) -> Option<[f64; 2]> {
    steps.iter().find_map(|step| match step {
        Step::Figure { name, values, .. } if name == "base-plan" => {
            let inches = |wanted: &str| match values.iter().find(|(name, _)| name == wanted) {
                Some((_, Value::Quantity(quantity))) => quantity.value,
                _ => 0.0,
            };
            Some([inches("plate_w"), inches("apart")]).filter(|[_, apart]| *apart > 0.0)
        }
        Step::Page { steps, .. } => plates(steps),
        Step::Use(inner) => plates(&inner.steps),
        _ => None,
    })
}

/// How the sheets of a post say what stands on its page.
struct Drafting<'a> {
    units: Units,
    kind: PageKind,
    figures: &'a Figures,
}

impl Drafting<'_> {
    fn pages(&self, worked: &Worked, draft: &mut Draft) {
        for step in &worked.steps {
            match step {
                Step::Page { kind, steps, bound } if *kind == self.kind => {
                    if worked.sheet.own && !draft.own.contains(&worked.sheet.title) {
                        draft.own.push(worked.sheet.title.clone());
                    }
                    self.collect(steps, bound, draft);
                }
                Step::Use(inner) => self.pages(inner, draft),
                _ => {}
            }
        }
    }

    fn collect(&self, steps: &[Step], bound: &BTreeMap<String, Bound>, draft: &mut Draft) {
        let units = self.units;
        // The least that a tolerance allows, whose greatest comes next.
        let mut least: Option<f64> = None;
        let mut value = |draft: &mut Draft, name: &str, say: &str| {
            // What has no words is only drawn.
            let Some(bound) = bound.get(name).filter(|_| !say.is_empty()) else { return };
            let length = match &bound.value {
                Value::Quantity(quantity) if quantity.dim == Dim::LENGTH => Some(quantity.value),
                _ => None,
            };
            if let (Some(from), Some(to), Some(say)) = (least.take(), length, end_of_range(say, "to")) {
                let (from, to) = units.between(from, to);
                let number = if from == to { from } else { format!("{from} to {to}") };
                let value = Printed { number, unit: String::new() };
                draft.items.push(PlainItem::Value(PlainValue { say: said(say), value }));
            } else if let (Some(from), Some(_)) = (length, end_of_range(say, "from")) {
                least = Some(from);
            } else {
                draft.items.push(PlainItem::Value(PlainValue { say: said(say), value: tape(units, say, bound) }));
            }
        };
        for step in steps {
            match step {
                Step::Let { rule, .. } | Step::Rename(rule) => value(draft, &rule.name, &rule.say),
                Step::Take { rule, .. } => rule.names.iter().for_each(|(name, ..)| value(draft, name, &rule.say)),
                Step::Figure { name, say, values } => {
                    let drawing = self.figures.draw(name, values, units, draft.blade);
                    draft.figures.extend(drawing.map(|drawing| PlainFigure { say: said(say), drawing }));
                }
                Step::Heading(text) => draft.items.push(PlainItem::Heading(vec![Span::Markup(text.clone())])),
                Step::Prose(text) => draft.items.push(PlainItem::Words(prose(text))),
                Step::Note(note) => draft.items.push(PlainItem::Words(prose(&note.text))),
                Step::Use(_)
                | Step::Must { .. }
                | Step::Decide { .. }
                | Step::Skipped(_)
                | Step::Page { .. }
                | Step::Piece { .. } => {}
            }
        }
    }
}

/// The words of a value before `, from` or `; to`.
fn end_of_range<'a>(say: &'a str, word: &str) -> Option<&'a str> {
    Some(say.strip_suffix(word)?.trim_end().trim_end_matches([',', ';']))
}

/// A length to the sixteenth, what is bored to the thirty-second, with the exact one where that is another; what its words
/// call the least or the most is never rounded beyond it.
fn tape(units: Units, say: &str, bound: &Bound) -> Printed {
    let plain = |number: String| Printed { number, unit: String::new() };
    let Value::Quantity(quantity) = &bound.value else { return printed(bound) };
    let value = quantity.value;
    if quantity.dim == Dim::NONE && (value - value.round()).abs() < 1e-9 {
        return plain(number_fixed(value, 0));
    }
    if quantity.dim != Dim::LENGTH {
        return printed(bound);
    }
    if say.contains("at least") {
        return plain(units.at_least(value));
    }
    if say.contains("at most") {
        return plain(units.at_most(value));
    }
    match (units.length(value), units.size(value)) {
        (_, size) if size.contains('/') || value < 1.0 => plain(size),
        // A millimetre is as near as a tape gets.
        (about, _) if units == Units::Metric => plain(about.trim_end_matches(" ±").into()),
        (about, _) if about.ends_with('±') => plain(format!("{about} ({})", join(&printed(bound)))),
        (on_a_tape, _) => plain(on_a_tape),
    }
}
