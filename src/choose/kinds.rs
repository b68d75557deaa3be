//! The fewest rows of catalogues that hold every post of a job.

use std::collections::BTreeSet;

use super::order::ratio;
use super::trial::Tried;
use crate::job::CATALOGUES;
use crate::names::plain;

/// So many rows are tried in every way; of more, one after another is taken away.
const EVERY_WAY: usize = 20;

/// The rows, by catalogue and plain name, and whether there are surely no fewer. What no
/// choice holds asks for no row. Of as few, those with the lowest ratios are taken.
pub fn fewest(tried: &[Tried]) -> (Vec<(usize, String)>, bool) {
    let of = |at: usize, name: &str| (at, plain(name));
    let mut rows: BTreeSet<(usize, String)> = BTreeSet::new();
    for trial in tried.iter().flat_map(|tried| &tried.trials).filter(|trial| trial.passes()) {
        rows.extend(
            (0..CATALOGUES.len()).filter(|at| trial.choice.0[*at].is_some()).map(|at| of(at, trial.choice.name(at))),
        );
    }
    let rows: Vec<(usize, String)> = rows.into_iter().collect();
    let place = |row: &(usize, String)| rows.iter().position(|known| known == row).unwrap_or(0);
    // For each post the choices that pass, as sets of rows, with their ratios.
    let wanted: Vec<Vec<(Vec<usize>, f64)>> = tried
        .iter()
        .map(|tried| {
            let passing = tried.trials.iter().filter(|trial| trial.passes());
            let set = |trial: &super::Trial| {
                let chosen = (0..CATALOGUES.len()).filter(|at| trial.choice.0[*at].is_some());
                (chosen.map(|at| place(&of(at, trial.choice.name(at)))).collect(), ratio(trial))
            };
            passing.map(set).collect::<Vec<_>>()
        })
        .filter(|passing| !passing.is_empty())
        .collect();
    // The highest ratio of the job where every post takes its best of these rows.
    let highest = |has: &dyn Fn(usize) -> bool| -> Option<f64> {
        let best = |choices: &Vec<(Vec<usize>, f64)>| {
            let held = choices.iter().filter(|(set, _)| set.iter().all(|row| has(*row)));
            held.map(|(_, ratio)| *ratio).min_by(f64::total_cmp)
        };
        wanted.iter().map(best).try_fold(0.0, |most: f64, ratio| Some(most.max(ratio?)))
    };
    let exact = rows.len() <= EVERY_WAY;
    let kept: Vec<usize> = if exact {
        let sets = (0..1_u32 << rows.len())
            .filter_map(|set| Some((set.count_ones(), highest(&|row| set >> row & 1 == 1)?, set)));
        let best = sets.min_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        best.map_or(Vec::new(), |(.., set)| (0..rows.len()).filter(|row| set >> row & 1 == 1).collect())
    } else {
        let mut kept: BTreeSet<usize> = (0..rows.len()).collect();
        loop {
            let less =
                |row: &usize| highest(&|other| other != *row && kept.contains(&other)).map(|ratio| (*row, ratio));
            let Some((row, _)) = kept.iter().filter_map(less).min_by(|a, b| a.1.total_cmp(&b.1)) else { break };
            kept.remove(&row);
        }
        kept.into_iter().collect()
    };
    (kept.into_iter().map(|row| rows[row].clone()).collect(), exact)
}
