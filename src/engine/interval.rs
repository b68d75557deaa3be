//! Between what ratios lie while typed values are off by what they may be.

use super::govern::{GroupResult, ratio};
use super::moved::Moved;
use super::root::Root;
use super::{Combination, Limit};
use crate::formula::TOLERANCE;
use crate::program::Memory;

/// Of a ratio, in the combination that governs it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    pub low: f64,
    pub high: f64,
    /// The verdict may turn within it.
    pub close: bool,
}

/// Finds the intervals of a group's limits, with a memory in which its facts are set.
pub(super) fn intervals(root: &Root, combinations: &[Combination], memory: &Memory, group: &mut GroupResult) {
    let mut moved = Moved::with(root, combinations, group.posts[0], true, memory.clone());
    for limit in &mut group.limits {
        limit.set_interval(interval(&mut moved, limit));
    }
}

/// From here on a limit is worked at the corners.
const NEAR: f64 = 0.8;

/// First by the derivatives, then at the corners to which they point: what the limit comes
/// to there counts too, with all that is rounded and chosen on the way. Inputs that only
/// decide what is chosen are all large there, or all small. Far from its verdict a limit is
/// not worked there.
fn interval(moved: &mut Moved, limit: &Limit) -> Option<Interval> {
    let (at, ok) = (limit.at(), limit.verdict().ok);
    let own = limit.ratio().filter(|ratio| ratio.is_finite())?;
    let slopes = moved.slopes(at, &[])?;
    let reach: f64 = slopes.iter().zip(&moved.inputs).map(|(slope, input)| (slope * input.slack).abs()).sum();
    let (mut low, mut high) = ((own - reach).max(0.0), own + reach);
    let meets = |ratio: f64| ratio <= 1.0 + TOLERANCE;
    let mut close = meets(low) != ok || meets(high) != ok;
    if ok && high < NEAR {
        return Some(Interval { low, high, close });
    }
    let decides: Vec<bool> =
        slopes.iter().enumerate().map(|(input, slope)| *slope == 0.0 && moved.reads(at, input)).collect();
    let corners: &[[f64; 2]] = match (reach > 0.0, decides.contains(&true)) {
        (true, true) => &[[1.0, 1.0], [-1.0, -1.0], [1.0, -1.0], [-1.0, 1.0]],
        (true, false) => &[[1.0, 0.0], [-1.0, 0.0]],
        (false, true) => &[[0.0, 1.0], [0.0, -1.0]],
        (false, false) => &[],
    };
    for [along, decided] in corners {
        let inputs = moved.inputs.iter().zip(&slopes).zip(&decides);
        let moves = inputs.map(|((input, slope), decides)| match decides {
            true => decided * input.slack,
            false if *slope == 0.0 => 0.0,
            false => along * slope.signum() * input.slack,
        });
        let moves: Vec<f64> = moves.collect();
        // Beyond the end of a table there is no value.
        if let Some(there) = moved.moved(at, &moves) {
            close |= there.ok != ok;
            if let Some(ratio) = ratio(&there).filter(|ratio| ratio.is_finite()) {
                (low, high) = (low.min(ratio), high.max(ratio));
            }
        }
    }
    Some(Interval { low, high, close })
}
