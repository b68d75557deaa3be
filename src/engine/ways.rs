//! The ways in which the winds of a job push, by what reaches the bases.

use crate::job::Job;

/// Winds by the way they push: toward +x, −x, +y and −y. One that pushes along
/// both axes is in two of them.
#[derive(Clone, Debug, Default)]
pub struct Ways {
    pub toward: [Vec<String>; 4],
    /// Those that only press down or lift.
    pub upright: Vec<String>,
}

/// The part of the greater push from which on the lesser one is a way of its own.
const ASLANT: f64 = 0.2;

pub fn ways(job: &Job) -> Ways {
    let mut ways = Ways::default();
    for case in job.cases().into_iter().filter(|case| case.starts_with('W')) {
        let of = |part: fn(&crate::job::Reaction) -> f64| -> f64 {
            job.posts.iter().filter_map(|post| post.reactions.get(&case)).map(part).sum()
        };
        let shears = [of(|it| it.h_x), of(|it| it.h_y)];
        // Where the bases get no shear, the wind on the posts says which way it blows.
        let pushes = if shears == [0.0, 0.0] { [of(|it| it.w_x), of(|it| it.w_y)] } else { shears };
        let most = pushes[0].abs().max(pushes[1].abs());
        if most <= 0.0 {
            ways.upright.push(case);
            continue;
        }
        let reversed = job.loads.both_signs && !job.derived.contains(&case);
        for (axis, push) in pushes.into_iter().enumerate().filter(|(_, push)| push.abs() > ASLANT * most) {
            let way = 2 * axis + usize::from(push < 0.0);
            ways.toward[way].push(case.clone());
            if reversed {
                ways.toward[way ^ 1].push(format!("−{case}"));
            }
        }
    }
    ways
}
