//! What an earthquake brings to the load combinations, by the sheet that works
//! it out from what the job says of all its posts.

use super::govern::work_group;
use super::root::Root;
use crate::diag::{Checked, Diagnostic, Diagnostics};
use crate::formula::Value;
use crate::job::Job;
use crate::program::Memory;
use crate::sheet::Library;

/// The sheet for the ground motion of a job, its category and their effects.
pub const SITE: &str = "seismic-site";

/// The sheet for what overstrength combinations are worked with.
pub const OVERSTRENGTH: &str = "earthquake-overstrength";

#[derive(Clone, Copy, Debug)]
pub struct Earthquake {
    pub s_ds: f64,
    pub rho: f64,
    /// The vertical effect, as a part of D.
    pub e_v: f64,
    /// The horizontal effect, as a part of Q_E.
    pub e_h: f64,
    /// The overstrength factor along x and y; 1 for none.
    pub overstrength: [f64; 2],
    /// The posts stand as cantilevers in an earthquake along x, along y.
    pub cantilevers: [bool; 2],
}

impl Earthquake {
    /// None for a job without seismic cases.
    ///
    /// # Errors
    /// What the job does not say of its ground motion, or says post by post.
    pub fn of(job: &Job, library: &Library) -> Checked<Option<Earthquake>> {
        let Some(site) = ground(job, library)? else { return Ok(None) };
        let over = JobSheet::work(job, library, OVERSTRENGTH)?;
        Ok(Some(Earthquake {
            s_ds: site.number("S_DS"),
            rho: site.number("rho"),
            e_v: site.number("E_v"),
            e_h: site.number("E_h"),
            overstrength: [over.number("Omega_x"), over.number("Omega_y")],
            cantilevers: [over.says_yes("cantilevers_x"), over.says_yes("cantilevers_y")],
        }))
    }

    /// The overstrength factor of a seismic case.
    pub fn overstrength_of(&self, case: &str) -> f64 {
        self.overstrength[usize::from(case == "E_y")]
    }

    pub fn cantilevers_in(&self, case: &str) -> bool {
        self.cantilevers[usize::from(case == "E_y")]
    }
}

/// The sheet for the ground motion of a job that has an earthquake, worked.
///
/// # Errors
/// As for `Earthquake::of`.
pub(super) fn ground<'a>(job: &'a Job, library: &'a Library) -> Checked<Option<JobSheet<'a>>> {
    let shaken = job.cases().iter().any(|case| case.starts_with('E'));
    shaken.then(|| JobSheet::work(job, library, SITE)).transpose()
}

/// A sheet that is worked once, from what `job.toml` says.
pub(super) struct JobSheet<'a> {
    pub root: Root<'a>,
    pub memory: Memory,
}

impl JobSheet<'_> {
    fn work<'a>(job: &'a Job, library: &'a Library, sheet: &str) -> Checked<JobSheet<'a>> {
        let root = Root::new(job, library, sheet, None)?;
        let by_post = by_post(job, &root);
        if !by_post.is_empty() {
            return Err(by_post);
        }
        let mut memory = root.program.memory();
        work_group(&root, &[], &mut memory, 0, &[0])?;
        Ok(JobSheet { root, memory })
    }

    fn number(&self, symbol: &str) -> f64 {
        self.root.program.slot(symbol).map_or(f64::NAN, |slot| self.memory.get(slot))
    }

    fn says_yes(&self, symbol: &str) -> bool {
        self.number(symbol) == self.root.program.encode(&Value::Text("yes".into()))
    }
}

/// A post may say for itself what `job.toml` says of all, but the combinations
/// are those of the whole job.
fn by_post(job: &Job, root: &Root) -> Diagnostics {
    let asked = root.program.facts.iter().filter_map(|fact| fact.from.as_ref());
    let given = asked.filter_map(|from| {
        let fact = job.posts.iter().find_map(|post| post.facts.get(&from.name))?;
        Some(
            Diagnostic::new(format!("{}: the earthquake applies to the whole job", fact.whence))
                .at(fact.place.clone())
                .hint(format!(
                    "write `{}` once, under `[{}]` in `job.toml`, and remove the column",
                    from.name, from.source
                )),
        )
    });
    given.collect()
}
