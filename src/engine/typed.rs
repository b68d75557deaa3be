//! The inputs of a post as they were typed: the facts that its sheets read, loads that were
//! given, and what the others were calculated from.

use std::collections::{BTreeMap, BTreeSet};

use super::facts::{Whose, said_of};
use super::leans::{Lean, Of};
use super::root::Root;
use crate::formula::Kind;
use crate::job::{PARTS, Post};
use crate::program::Memory;
use crate::quantity::{Unit, given_digits, measured, number};

/// A number that somebody typed.
#[derive(Clone, Debug)]
pub struct Typed {
    /// The column or key, `P_S` or `brace_drop`.
    pub name: String,
    /// Where it stands, as a page names it.
    pub whence: String,
    /// As it was typed; empty where only what may be off is asked.
    pub text: String,
    /// In base units.
    pub value: f64,
    pub slack: f64,
    /// The fact that it is to the sheets, by index.
    pub(super) fact: Option<usize>,
    /// How much it brings to a part of a load case for one base unit of it, by the places of both.
    pub(super) brings: Vec<(Of, f64)>,
    /// By how much of itself the vertical effect of an earthquake grows for one base unit.
    pub(super) vertical: f64,
}

/// The inputs of a post of which the facts are set; `slack`: only those that may be off.
pub(super) fn inputs(root: &Root, at: usize, slack: bool, memory: &Memory) -> Vec<Typed> {
    let post = &root.job.posts[at];
    let (whose, mut inputs): (Vec<_>, Vec<_>) = facts(root, post, slack, memory).unzip();
    let leans = root.leans();
    let none = Lean::default();
    let lean = leans.at(at).unwrap_or(&none);
    // Load cases stand in another order there.
    let cases = leans.cases.iter().map(|case| post.reactions.keys().position(|known| known == case));
    let cases: Vec<Option<usize>> = cases.collect();
    let here = |of: &BTreeMap<Of, f64>| {
        let parts = of.iter().filter_map(|((case, part), slope)| Some(((cases[*case]?, *part), *slope)));
        let mut parts: Vec<(Of, f64)> = parts.collect();
        parts.sort_unstable_by_key(|(of, _)| *of);
        parts
    };
    let sources: BTreeSet<&usize> = lean.brings.keys().chain(leans.vertical.keys()).collect();
    for no in sources {
        let source = &leans.sources[*no];
        let brings = lean.brings.get(no).map(here).unwrap_or_default();
        let vertical = leans.vertical.get(no).copied().unwrap_or(0.0);
        if let Some(known) = whose.iter().position(|(whose, name)| source.is(*whose, name)) {
            (inputs[known].brings, inputs[known].vertical) = (brings, vertical);
        } else if slack || !source.is_place {
            inputs.push(Typed {
                name: source.name.clone(),
                whence: source.whence.clone(),
                text: if slack { String::new() } else { source.text.clone() },
                value: source.value,
                slack: source.slack,
                fact: None,
                brings,
                vertical,
            });
        }
    }
    let others = here(&lean.others).into_iter().filter(|_| slack);
    inputs.extend(others.map(|(of, reach)| Typed {
        name: String::new(),
        whence: "other posts".into(),
        text: String::new(),
        value: 0.0,
        slack: reach,
        fact: None,
        brings: vec![(of, 1.0)],
        vertical: 0.0,
    }));
    inputs.extend(given(root, post, slack));
    inputs.retain(|input| !slack || input.slack > 0.0);
    inputs
}

/// The facts that are quantities, and of whom they are said under which name.
fn facts<'a>(
    root: &'a Root,
    post: &'a Post,
    slack: bool,
    memory: &'a Memory,
) -> impl Iterator<Item = ((Whose<'a>, &'a str), Typed)> {
    let facts = root.program.facts.iter().enumerate().filter(|(_, fact)| !fact.varies);
    let measured = facts.filter(|(_, fact)| matches!(fact.input.kind, Kind::Quantity(_)));
    measured.filter_map(move |(no, of)| {
        let (whose, found) = said_of(&of.input, root.job, post)?;
        let typed = Typed {
            name: of.input.column().into(),
            whence: found.whence.of.clone(),
            text: if slack { String::new() } else { found.printed(root.library.units()) },
            value: memory.get(of.slot),
            slack: if root.program.names_row(no) { 0.0 } else { found.slack(&of.input.kind) },
            fact: Some(no),
            brings: Vec::new(),
            vertical: 0.0,
        };
        Some(((whose, found.whence.name.as_str()), typed))
    })
}

/// The loads that were given.
fn given(root: &Root, post: &Post, slack: bool) -> Vec<Typed> {
    let mut inputs = Vec::new();
    let known = post.reactions.iter().enumerate();
    for (no, (case, reaction)) in known.filter(|(_, (case, _))| !root.job.derived.contains(*case)) {
        let off = post.slack.get(case).copied().unwrap_or_default();
        for (part, (name, dim)) in PARTS.into_iter().enumerate() {
            let value = reaction.all()[part];
            if value != 0.0 {
                let unit = root.library.units().unit(dim);
                inputs.push(Typed {
                    name: format!("{name}_{case}"),
                    whence: "loads".into(),
                    text: if slack { String::new() } else { printed(value, &unit) },
                    value,
                    slack: off.all()[part],
                    fact: None,
                    brings: vec![((no, part), 1.0)],
                    vertical: 0.0,
                });
            }
        }
    }
    inputs
}

/// A value in a unit, as a person would type it.
pub(super) fn printed(value: f64, unit: &Unit) -> String {
    let value = unit.from_base(value);
    measured(&number(value, given_digits(value)), &unit.pretty())
}
