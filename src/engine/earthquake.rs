//! What an earthquake brings to the load combinations, by the sheet that works
//! it out from what the job says of all its posts.

use super::govern::work_group;
use super::root::Root;
use crate::diag::{Checked, Diagnostic, Diagnostics};
use crate::job::Job;
use crate::sheet::Library;

/// The sheet for the ground motion of a job, its category and their effects.
pub const SITE: &str = "seismic-site";

#[derive(Clone, Copy, Debug)]
pub struct Earthquake {
    pub s_ds: f64,
    pub rho: f64,
    /// The vertical effect, as a part of D.
    pub e_v: f64,
    /// The horizontal effect, as a part of Q_E.
    pub e_h: f64,
}

impl Earthquake {
    /// None for a job without seismic cases.
    ///
    /// # Errors
    /// What the job does not say of its ground motion, or says post by post.
    pub fn of(job: &Job, library: &Library) -> Checked<Option<Earthquake>> {
        if !job.cases().iter().any(|case| case.starts_with('E')) {
            return Ok(None);
        }
        let root = Root::new(job, library, SITE, None)?;
        let by_post = by_post(job, &root);
        if !by_post.is_empty() {
            return Err(by_post);
        }
        let mut memory = root.program.memory();
        work_group(&root, &[], &mut memory, 0, &[0])?;
        let value = |symbol: &str| root.program.slot(symbol).map_or(f64::NAN, |slot| memory.get(slot));
        Ok(Some(Earthquake { s_ds: value("S_DS"), rho: value("rho"), e_v: value("E_v"), e_h: value("E_h") }))
    }
}

/// A post may say for itself what `job.toml` says of all, but the combinations
/// are those of the whole job.
fn by_post(job: &Job, root: &Root) -> Diagnostics {
    let asked = root.program.facts.iter().filter_map(|fact| fact.from.as_ref());
    let given = asked.filter_map(|from| {
        let fact = job.posts.iter().find_map(|post| post.facts.get(&from.name))?;
        Some(
            Diagnostic::new(format!("{}: the earthquake is that of the whole job", fact.whence))
                .at(fact.place.clone())
                .hint(format!(
                    "write `{}` once, under `[{}]` in `job.toml`, and take the column out",
                    from.name, from.source
                )),
        )
    });
    given.collect()
}
