//! Dimension lines in chains, and notes with leaders.

use super::geometry::Point;
use super::measure::HAIR;
use super::text_width;
use super::view::{LINE, Label, MEDIUM, Spot, TEXT, THIN, View, Weld};
use crate::quantity::Units;

/// The side of a view on which a chain of dimensions stands.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Side {
    Left,
    Right,
    Top,
    Bottom,
}

const TICK: f64 = 2.5;
/// From the thing to the nearest dimension line, and from one to the next.
const GAP: f64 = 14.0;

/// A point of the thing, and what is between it and the next one to the right
/// or above.
pub(super) type Station = (Point, &'static str);

/// Rows of dimensions, the first next to what is drawn so far. A row measures
/// from station to station along the side.
pub(super) fn chains(view: &mut View, side: Side, rows: &[Vec<Station>]) {
    let axis = usize::from(matches!(side, Side::Left | Side::Right));
    let extent = view.extent();
    let (start, out) = match side {
        Side::Left => (extent[0], -1.0),
        Side::Right => (extent[2], 1.0),
        Side::Top => (extent[1], -1.0),
        Side::Bottom => (extent[3], 1.0),
    };
    let mut edge = start + out * GAP;
    let units = view.units;
    for row in rows {
        let mut stations = row.clone();
        stations.sort_by(|(a, _), (b, _)| a[axis].total_cmp(&b[axis]));
        stations.dedup_by(|(a, name), (b, kept)| {
            let one = (a[axis] - b[axis]).abs() < HAIR;
            if one {
                *kept = *name;
            }
            one
        });
        let pieces: Vec<Piece> = stations
            .windows(2)
            .map(|ends| {
                let [(from, name), (to, _)] = [ends[0], ends[1]];
                let text = format!("{name} {}", measured(units, to[axis] - from[axis])).trim_start().to_string();
                Piece { text, ends: [from, to].map(|end| view.paper(end)[axis]) }
            })
            .collect();
        let (Some(first), Some(last)) = (pieces.first(), pieces.last()) else { continue };
        view.stroke(on(axis, first.ends[0], edge), on(axis, last.ends[1], edge), THIN, false);
        for (station, _) in &stations {
            tick(view, view.paper(*station), axis, edge, out);
        }
        let last = pieces.len() - 1;
        let mut room: f64 = 0.0;
        for (at, piece) in pieces.iter().enumerate() {
            room = room.max(if axis == 1 {
                piece.wide() + 4.0
            } else if piece.fits() {
                0.0
            } else {
                TEXT + 4.0
            });
            let spots = if axis == 1 {
                piece.spots_beside(edge, out)
            } else {
                piece.spots_above(edge, out, [at == 0, at == last])
            };
            view.label(Label { lines: vec![piece.text.clone()], spots });
        }
        edge += out * (room + GAP);
    }
}

/// As a tape shows it; what is a thirty-second stays one.
pub(super) fn measured(units: Units, inches: f64) -> String {
    let size = units.size(inches);
    if size.contains("/32") { size } else { units.length(inches) }
}

/// Heights along an upright side from one datum, which a ring marks: each station says how far it is from there.
pub(super) fn running(view: &mut View, side: Side, datum: Point, stations: &[Station]) {
    let extent = view.extent();
    let (start, out) = if side == Side::Left { (extent[0], -1.0) } else { (extent[2], 1.0) };
    let (edge, units) = (start + out * GAP, view.units);
    let Some(last) = stations.iter().map(|(at, _)| *at).max_by(|a, b| a[1].total_cmp(&b[1])) else { return };
    let [from, to] = [datum, last].map(|at| view.paper(at)[1]);
    view.stroke([edge, from], [edge, to], THIN, false);
    tick(view, view.paper(datum), 1, edge, out);
    view.ring([edge, from], TICK);
    for (at, name) in stations {
        tick(view, view.paper(*at), 1, edge, out);
        let text = format!("{name} {}", measured(units, at[1] - datum[1])).trim_start().to_string();
        let y = view.paper(*at)[1];
        let spots = Piece { text: text.clone(), ends: [y, y] }.spots_beside(edge, out);
        view.label(Label { lines: vec![text], spots });
    }
}

/// Across a face: from edge to edge through the holes; holes that do not all
/// fit between the edges by themselves.
pub(super) fn set_out(half: f64, holes: &[Point], [edge, row]: [&'static str; 2]) -> Vec<Station> {
    let Some(last) = holes.len().checked_sub(1) else { return Vec::new() };
    let level = holes[0][1];
    let name = |at| if at < last { row } else { edge };
    let mut stations: Vec<Station> = holes.iter().enumerate().map(|(at, hole)| (*hole, name(at))).collect();
    if holes.iter().all(|hole| hole[0].abs() < half) {
        stations.extend([([-half, level], edge), ([half, level], "")]);
    }
    stations
}

/// What one dimension says, and between which ends on paper along its chain.
struct Piece {
    text: String,
    ends: [f64; 2],
}

impl Piece {
    fn wide(&self) -> f64 {
        text_width(&self.text, TEXT, false)
    }

    fn middle(&self) -> f64 {
        (self.ends[0] + self.ends[1]) / 2.0
    }

    fn fits(&self) -> bool {
        self.wide() + 3.0 <= (self.ends[1] - self.ends[0]).abs()
    }

    /// Places beside an upright line, away from the thing; farther along the
    /// line with a leader, if the neighbours need the room.
    fn spots_beside(&self, edge: f64, out: f64) -> Vec<Spot> {
        let anchor = if out < 0.0 { "end" } else { "start" };
        let mut spots = vec![Spot { at: [edge + 4.0 * out, self.middle()], anchor, leader: vec![], cost: 0.0 }];
        for step in 1..=24 {
            for way in [-1.0, 1.0] {
                for far in [10.0, 18.0, 40.0] {
                    let at = [edge + far * out, self.middle() + 4.0 * way * f64::from(step)];
                    let leader = vec![[edge, self.middle()], [at[0] - 3.0 * out, at[1]]];
                    spots.push(Spot { at, anchor, leader, cost: 8.0 + 3.0 * f64::from(step) + far });
                }
            }
        }
        spots
    }

    /// Places over a level line, else beyond an end that is free, else off the
    /// line with a leader.
    fn spots_above(&self, edge: f64, out: f64, free: [bool; 2]) -> Vec<Spot> {
        let over = edge - 0.55 * TEXT - 1.0;
        let middle = self.middle();
        let spot = |at, anchor, leader, cost| Spot { at, anchor, leader, cost };
        let mut spots = vec![spot([middle, over], "middle", vec![], if self.fits() { 0.0 } else { 150.0 })];
        let (low, high) = (self.ends[0].min(self.ends[1]), self.ends[0].max(self.ends[1]));
        if free[0] {
            spots.push(spot([low - 8.0, edge], "end", vec![[low, edge], [low - 4.0, edge]], 5.0));
        }
        if free[1] {
            spots.push(spot([high + 8.0, edge], "start", vec![[high, edge], [high + 4.0, edge]], 5.0));
        }
        for step in 0..32 {
            for way in [-1.0, 1.0] {
                for away in [out, -out] {
                    for level in [1.1, 2.0, 3.0, 4.2] {
                        let at = [middle + 5.0 * way * f64::from(step), edge + away * level * TEXT];
                        let leader = vec![[middle, edge], [at[0], at[1] - away * 0.6 * TEXT]];
                        let cost = 10.0 + 3.0 * f64::from(step) + 8.0 * level + if away == out { 0.0 } else { 4.0 };
                        spots.push(spot(at, "middle", leader, cost));
                    }
                }
            }
        }
        spots
    }
}

/// An extension line from a point of the thing to just beyond the dimension
/// line, and the slash where they cross.
fn tick(view: &mut View, from: Point, axis: usize, edge: f64, out: f64) {
    let (along, across) = (from[axis], from[1 - axis]);
    view.stroke(on(axis, along, across + 2.0 * out), on(axis, along, edge + 3.0 * out), THIN, false);
    let [x, y] = on(axis, along, edge);
    view.stroke([x - TICK, y + TICK], [x + TICK, y - TICK], MEDIUM, false);
}

/// A point so far along an axis and so far across it.
fn on(axis: usize, along: f64, across: f64) -> Point {
    if axis == 0 { [along, across] } else { [across, along] }
}

/// A text with a line to the point it speaks of, if it can in the direction
/// given: degrees from the right, upwards.
pub(super) fn note(view: &mut View, target: Point, toward: f64, lines: &[&str]) {
    let mut spots = around(view.paper(target), toward);
    for spot in &mut spots {
        let out = if spot.anchor == "end" { -1.0 } else { 1.0 };
        let end = [spot.at[0] + 5.0 * out, spot.at[1]];
        spot.leader.push(end);
        spot.at = [end[0] + 3.0 * out, end[1]];
    }
    view.label(Label { lines: lines.iter().map(ToString::to_string).collect(), spots });
}

/// The sign of a fillet weld, with a line to the joint.
pub(super) fn weld(view: &mut View, joint: Point, toward: f64, weld: Weld, leg: f64) {
    let (lines, spots) = (vec![view.units.size(leg)], around(view.paper(joint), toward));
    view.weld(weld, Label { lines, spots });
}

/// Ends of a leader round a point of paper.
fn around(target: Point, toward: f64) -> Vec<Spot> {
    let mut spots = Vec::new();
    for far in 0..14 {
        for turn in 0..=11 {
            for way in [-1.0, 1.0] {
                let far = 14.0 + 9.0 * f64::from(far);
                let turned = 15.0 * f64::from(turn) * way;
                let (sine, cosine) = libm::sincos((toward + turned).to_radians());
                let knee = [target[0] + far * cosine, target[1] - far * sine];
                let anchor = if cosine < -0.01 { "end" } else { "start" };
                spots.push(Spot {
                    at: knee,
                    anchor,
                    leader: vec![target, knee],
                    cost: 0.5 * far + 0.12 * turned.abs(),
                });
            }
        }
    }
    spots
}

/// A text next to a point of paper, without a line to it unless it has to go far.
pub(super) fn caption(view: &mut View, target: Point, toward: f64, lines: &[&str]) {
    let mut spots = Vec::new();
    for far in 0..24 {
        for turn in 0..=11 {
            for way in [-1.0, 1.0] {
                let far = 5.0 + 7.0 * f64::from(far);
                let turned = 15.0 * f64::from(turn) * way;
                let (sine, cosine) = libm::sincos((toward + turned).to_radians());
                let anchor = match cosine {
                    c if c < -0.3 => "end",
                    c if c > 0.3 => "start",
                    _ => "middle",
                };
                let tall = LINE * (lines.len() as f64 - 1.0);
                let at =
                    [target[0] + far * cosine, target[1] - (far + 4.0) * sine - if sine > 0.3 { tall } else { 0.0 }];
                // A leader stops under or over the text, or in front of it.
                let edge = match anchor {
                    "middle" if sine > 0.0 => [at[0], at[1] + tall + 0.7 * TEXT],
                    "middle" => [at[0], at[1] - 0.7 * TEXT],
                    _ => [at[0] - 3.0 * cosine.signum(), at[1]],
                };
                let leader = if far > 20.0 { vec![target, edge] } else { vec![] };
                let cost = 2.0 * far + 0.2 * turned.abs();
                spots.push(Spot { at, anchor, leader, cost });
            }
        }
    }
    view.label(Label { lines: lines.iter().map(ToString::to_string).collect(), spots });
}

/// Which way the axes go that lie to the right and up, over the left of a view.
pub(super) fn axes(view: &mut View, right: &str, up: &str) {
    let [edge, top, ..] = view.extent();
    axes_from(view, [edge + 6.0, top - 6.0], right, up);
}

/// The same from a corner on paper.
pub(super) fn axes_from(view: &mut View, corner: Point, right: &str, up: &str) {
    for (tip, name, toward) in [([16.0, 0.0], right, 0.0), ([0.0, -16.0], up, 90.0)] {
        let tip = [corner[0] + tip[0], corner[1] + tip[1]];
        view.arrow(corner, tip, MEDIUM);
        caption(view, tip, toward, &[name]);
    }
}

/// `1 anchor 1/2″`, `4 anchors 1/2″`.
pub(super) fn counted(count: usize, thing: &str, size: &str) -> String {
    format!("{count} {thing}{} {size}", if count == 1 { "" } else { "s" })
}
