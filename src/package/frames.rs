//! The frames of lines in the worked pages: what the lines of a post that governs make of
//! its loads, from what each post brings to the push and the axial load of that post.

use std::collections::{BTreeMap, BTreeSet};

use super::build::marks;
use super::chain::{Chain, LineAt, Source};
use super::chapter::{Across, Chapter, Column};
use super::ledger::Ledger;
use super::model::Worked as Pages;
use super::reactions::WorkedOut;
use super::worked::write;
use crate::diag::list;
use crate::engine::{Frame, Shown};
use crate::formula::Value;
use crate::job::{Job, some_marks};
use crate::sheet::Input;

/// What the sheets of a line bring about at the base and at the braces of a post.
const TOLD: [&str; 4] = ["V", "P", "X_1", "X_2"];

const AXES: [&str; 2] = ["x", "y"];

/// What a post brings to its line, as the sheet for loads names it: `W1.F_x`.
pub type Brought = (usize, String);

/// The frames that are shown, not yet written.
pub struct Frames<'a> {
    chapter: Chapter<'a>,
    /// The posts whose forces are told, with their columns.
    told: Vec<(usize, Vec<usize>)>,
    /// What a column reads of what posts bring, by the key of its input.
    brought: BTreeMap<(usize, String), Vec<Brought>>,
}

/// The sheets of each frame, for as long as they are written about.
pub fn shown<'a>(frames: &'a [Frame<'a>]) -> Vec<Vec<Shown<'a>>> {
    let of = |frame: &'a Frame<'a>| frame.sheets.iter().map(|(root, result)| Shown::new(root, &[], result)).collect();
    frames.iter().map(of).collect()
}

impl<'a> Frames<'a> {
    /// None where no line does anything.
    pub fn new(job: &Job, frames: &[Frame], shown: &'a [Vec<Shown<'a>>]) -> Option<Frames<'a>> {
        let columns: Vec<Column> = frames
            .iter()
            .zip(shown)
            .map(|(frame, shown)| Column {
                marks: marks(job, &frame.sheets[0].1),
                what: format!("frame along {}, case {}", AXES[frame.axis], frame.case),
                c_d: String::new(),
                chain: Chain::of(shown.iter().map(|shown| shown.worked(0)).collect()),
                loads: None,
            })
            .collect();
        let mut targets: Vec<(LineAt, Vec<usize>)> = Vec::new();
        for (at, _) in frames.iter().enumerate().filter(|(_, frame)| frame.told) {
            for name in TOLD {
                let chain = &columns[at].chain;
                let Some((path, Value::Quantity(value))) = gives(chain, name) else { continue };
                if value.value == 0.0 {
                    continue;
                }
                if let Source::Line(line, _) = chain.source(&path, name) {
                    match targets.iter_mut().find(|(known, _)| *known == line) {
                        Some((_, known)) => known.push(at),
                        None => targets.push((line, vec![at])),
                    }
                }
            }
        }
        let (mut across, mut brought) = (BTreeMap::new(), BTreeMap::new());
        for (at, frame) in frames.iter().enumerate() {
            let chain = &columns[at].chain;
            for input in chain.roots.iter().flat_map(|root| &root.given).map(|given| &given.input) {
                let posts = seen_from(frame, input);
                let Some((name, posts)) = posts.filter(|(_, posts)| !posts.is_empty()) else { continue };
                let column = |post: &usize| {
                    let same = |it: &&Frame| it.axis == frame.axis && it.case == frame.case && it.post == *post;
                    frames.iter().position(|it| same(&it))
                };
                if let Some((path, _)) = gives(chain, name) {
                    let columns = posts.iter().filter_map(column);
                    let lines = columns.map(|at| (at, path.clone(), name.to_string())).collect();
                    across.insert((at, input.key()), Across::Lines(lines));
                } else if let Some(full) = frame.brought.get(name) {
                    let of = posts.iter().map(|post| (*post, full.clone())).collect();
                    brought.insert((at, input.key()), of);
                }
            }
        }
        let (name, title) = ("R".to_string(), "Frames of the lines".to_string());
        let chapter = Chapter { name, title, columns, targets, across, whole: Vec::new() };
        let mut told: Vec<(usize, Vec<usize>)> = Vec::new();
        for (at, frame) in frames.iter().enumerate().filter(|(_, frame)| frame.told) {
            match told.iter_mut().find(|(post, _)| *post == frame.post) {
                Some((_, columns)) => columns.push(at),
                None => told.push((frame.post, vec![at])),
            }
        }
        (!chapter.targets.is_empty()).then_some(Frames { chapter, told, brought })
    }

    /// What is read of what posts bring.
    pub fn reads(&self) -> BTreeSet<Brought> {
        let read = self.chapter.facts().into_iter().filter_map(|at| self.brought.get(&at));
        read.flatten().cloned().collect()
    }

    /// Writes the chapter of `frames`; `lines` are the numbers of what posts bring. With words
    /// that say what of the lines is worked, and the reactions that are.
    pub fn write(
        mut self,
        frames: &[Frame],
        job: &Job,
        lines: &BTreeMap<Brought, (String, BTreeSet<String>)>,
        ledger: &mut Ledger,
    ) -> (Pages, String, WorkedOut) {
        for (at, brought) in self.brought {
            let mut numbers: Vec<String> = Vec::new();
            let mut questions = BTreeSet::new();
            for (no, asked) in brought.iter().filter_map(|it| lines.get(it)) {
                if !numbers.contains(no) {
                    numbers.push(no.clone());
                }
                questions.extend(asked.iter().cloned());
            }
            if !numbers.is_empty() {
                self.chapter.across.insert(at, Across::Worked { lines: numbers, questions });
            }
        }
        let written = write(frames[0].sheets[0].0.library, job.units, &self.chapter, ledger);
        let mut reactions = WorkedOut::new();
        let mut parts = Vec::new();
        for (post, columns) in &self.told {
            let mut forces = Vec::new();
            for (force, name) in [("P", "P"), ("H", "V")] {
                let mut numbers: Vec<String> = Vec::new();
                for (line, of) in &self.chapter.targets {
                    let is = matches!(self.chapter.columns[of[0]].chain.source(&line.0, name), Source::Line(known, _) if known == *line);
                    for at in of.iter().filter(|at| is && columns.contains(at)) {
                        let shear = ["H_x", "H_y"][frames[*at].axis];
                        reactions.insert((*post, frames[*at].case.clone(), if name == "V" { shear } else { "P" }));
                        numbers.push(written.number_of(line, *at));
                    }
                }
                numbers.dedup();
                if !numbers.is_empty() {
                    forces.push(format!("{force} ({})", numbers.join(", ")));
                }
            }
            if !forces.is_empty() {
                parts.push(format!("{} of {}", forces.join(" and "), job.posts[*post].mark));
            }
        }
        let words = if parts.is_empty() { String::new() } else { words(job, frames, &parts) };
        (written.pages, words, reactions)
    }
}

/// Which lines are worked, in which cases, and where the rest stands.
fn words(job: &Job, frames: &[Frame], parts: &[String]) -> String {
    let mut worked: Vec<(String, Vec<&str>)> = Vec::new();
    for frame in frames {
        let marks: Vec<String> = frame.line.iter().map(|post| job.posts[*post].mark.clone()).collect();
        let line = format!("{} along {}", some_marks(&marks, 3), AXES[frame.axis]);
        let at = worked.iter().position(|(known, _)| *known == line).unwrap_or_else(|| {
            worked.push((line, Vec::new()));
            worked.len() - 1
        });
        if !worked[at].1.contains(&frame.case.as_str()) {
            worked[at].1.push(&frame.case);
        }
    }
    let lines = worked.iter().map(|(line, cases)| format!("{line} in {}", list(cases, "and").replace('`', "")));
    let lines: Vec<String> = lines.collect();
    format!(
        "The frames of these lines of posts are worked below: {}. They give {}. All other lines, posts and cases follow by \
         the same formulas from the loads of their posts, and are in the table of reactions only.",
        lines.join("; "),
        parts.join("; ")
    )
}

/// The sheet of a line that gives a name, with what it comes to.
fn gives(chain: &Chain, name: &str) -> Option<(String, Value)> {
    let of = chain.roots.iter().find(|root| root.sheet.gives.iter().any(|given| given.name == name))?;
    Some((of.name.clone(), of.bound.get(name)?.value.clone()))
}

/// The name that an input has there, and the posts that it is read of.
fn seen_from<'i>(frame: &Frame, input: &'i Input) -> Option<(&'i str, Vec<usize>)> {
    let from = input.from.as_ref()?;
    let at = frame.line.iter().position(|post| *post == frame.post)?;
    let posts = match from.source.as_str() {
        "own" => vec![frame.post],
        "before" => at.checked_sub(1).map(|at| frame.line[at]).into_iter().collect(),
        "after" => frame.line.get(at + 1).copied().into_iter().collect(),
        "line" => frame.line.clone(),
        _ => return None,
    };
    Some((&from.name, posts))
}
