//! Grid lines, and the distances between them.

use super::super::text_width;
use super::super::view::THIN;
use super::{NOTE, Plan, Sheet, grid_lines};
use crate::quantity::Units;

/// From what is drawn to the dimensions, and from those to the next.
const GAP: f64 = 14.0;
const TICK: f64 = 2.5;

/// From one row of distances to the next, and from one line that leads to them to
/// the next.
const ROW: f64 = 9.8;
const STEP: f64 = 4.0;

/// More distances than these no edge of a plan has room for.
const RUNS: usize = 40;

impl Sheet {
    /// Grid lines, and the distances between them: below and at the right.
    pub(super) fn dimensions(&mut self, it: &Plan, units: Units) {
        let all = self.extent();
        let edges = [all[3] + GAP, all[2] + GAP];
        for (axis, edge) in edges.into_iter().enumerate() {
            let lines = grid_lines(&it.posts, axis);
            let point = |along: f64, across: f64| if axis == 0 { [along, across] } else { [across, along] };
            let drawn: Vec<f64> = lines.iter().map(|line| self.place([*line, *line])[axis]).collect();
            let dots = self.most.is_some();
            for at in drawn.iter().filter(|_| !dots) {
                let near = if axis == 0 { all[1] - 4.0 } else { all[0] - 4.0 };
                self.guide(point(*at, near), point(*at, edge + 4.0), THIN, true);
            }
            let (Some(first), Some(last)) = (drawn.first(), drawn.last()) else { continue };
            if drawn.len() < 2 {
                continue;
            }
            self.line(point(*first, edge), point(*last, edge), 0.4);
            let spans = if dots { runs(&lines, units) } else { each(&lines, units) };
            for at in std::iter::once(0).chain(spans.iter().map(|(.., to)| *to)) {
                let [x, y] = point(drawn[at], edge);
                self.line([x - TICK, y + TICK], [x + TICK, y - TICK], 0.6);
            }
            let spans = spans.into_iter().map(|(text, from, to)| (text, (drawn[from] + drawn[to]) / 2.0));
            self.distances(&spans.collect::<Vec<_>>(), axis, edge);
        }
    }

    /// Each distance beside its part of the chain. Where they are too close, all
    /// stand off in their order, each with a line that leads to its part: below,
    /// in as many rows as they need.
    fn distances(&mut self, spans: &[(String, f64)], axis: usize, edge: f64) {
        let wide = |text: &str| text_width(text, NOTE, false) + 6.0;
        let room = |text: &str| if axis == 0 { wide(text) } else { ROW };
        let pairs = || spans.iter().zip(&spans[1..]);
        let near = pairs().any(|(a, b)| (b.1 - a.1).abs() < (room(&a.0) + room(&b.0)) / 2.0);
        if !near {
            for (text, middle) in spans {
                let (at, anchor) = if axis == 0 {
                    ([*middle, edge + 10.0], "middle")
                } else {
                    ([edge + 4.0, middle + NOTE / 3.0], "start")
                };
                self.text(at, anchor, NOTE, false, text);
            }
            return;
        }
        // On paper the chain of y runs down.
        let mut order: Vec<&(String, f64)> = spans.iter().collect();
        order.sort_by(|a, b| a.1.total_cmp(&b.1));
        if axis == 1 {
            let places = spread(&order.iter().map(|(_, middle)| (*middle, ROW)).collect::<Vec<_>>());
            for ((text, middle), at) in order.into_iter().zip(places) {
                self.line([edge, *middle], [edge + 14.0, at], THIN);
                self.text([edge + 16.0, at + NOTE / 3.0], "start", NOTE, false, text);
            }
            return;
        }
        // In steps: of those that stand together, the first is in the lowest row, so
        // that each line goes down at the left of the texts over it.
        let widest = order.iter().map(|(text, _)| wide(text)).fold(0.0, f64::max);
        let span = order[order.len() - 1].1 - order[0].1 + 2.0 * widest;
        let rows = ((order.len() as f64 * widest / span).ceil() as usize).clamp(2, 8);
        let stairs: Vec<&[&(String, f64)]> = order.chunks(rows).collect();
        let long = widest + STEP * rows as f64;
        let middle =
            |stair: &[&(String, f64)]| stair.iter().map(|(_, middle)| middle).sum::<f64>() / stair.len() as f64;
        let places = spread(&stairs.iter().map(|stair| (middle(stair), long)).collect::<Vec<_>>());
        for (stair, place) in stairs.iter().zip(places) {
            for (at, (text, middle)) in stair.iter().enumerate() {
                let x = place - long / 2.0 + STEP * at as f64;
                let y = edge + 12.0 + ROW * (stair.len() - at) as f64;
                self.line([*middle, edge], [x, edge + 12.0], THIN);
                self.line([x, edge + 12.0], [x, y - 2.0], THIN);
                self.text([x + 2.0, y - 2.5], "start", NOTE, false, text);
            }
        }
    }
}

/// The distance from each line to the next, with the two lines.
fn each(lines: &[f64], units: Units) -> Vec<(String, usize, usize)> {
    lines.windows(2).enumerate().map(|(at, pair)| (units.run(pair[1] - pair[0]), at, at + 1)).collect()
}

/// Distances that are the same as one, `39 × 8′-0″`; where there are too many of them, the whole.
fn runs(lines: &[f64], units: Units) -> Vec<(String, usize, usize)> {
    let mut runs: Vec<(String, usize, usize)> = Vec::new();
    for (text, from, to) in each(lines, units) {
        match runs.last_mut().filter(|(known, ..)| *known == text) {
            Some((.., last)) => *last = to,
            None => runs.push((text, from, to)),
        }
    }
    if runs.len() > RUNS {
        let last = lines.len() - 1;
        return vec![(units.run(lines[last] - lines[0]), 0, last)];
    }
    let one = |(text, from, to): (String, usize, usize)| match to - from {
        1 => (text, from, to),
        several => (format!("{several} × {text}"), from, to),
    };
    runs.into_iter().map(one).collect()
}

/// Places in order, each as near to where it would be as its neighbours let it:
/// each has the room that goes with it.
fn spread(wanted: &[(f64, f64)]) -> Vec<f64> {
    // Runs of places that touch: where the first is, how far they reach, how many.
    let mut runs: Vec<(f64, f64, usize)> = Vec::new();
    for (at, room) in wanted {
        let mut run = (at - room / 2.0, *room, 1);
        while let Some((from, long, count)) = runs.last().copied().filter(|(from, long, _)| from + long > run.0) {
            runs.pop();
            // Two runs meet where both would rather be, by how many they are.
            let (own, other) = (run.2 as f64, count as f64);
            let start = (other * from + own * (run.0 - long)) / (own + other);
            run = (start, long + run.1, count + run.2);
        }
        runs.push(run);
    }
    let mut rooms = wanted.iter().map(|(_, room)| room);
    let mut places = Vec::new();
    for (start, _, count) in runs {
        let mut at = start;
        for room in rooms.by_ref().take(count) {
            places.push(at + room / 2.0);
            at += room;
        }
    }
    places
}
