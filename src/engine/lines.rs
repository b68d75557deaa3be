//! Lines of posts: what the frame of a line makes of the loads that its posts
//! bring to it. The sheets of a line are worked for one post after another; what
//! they give is known to the neighbours and, summed, to the line.

use std::collections::{BTreeMap, BTreeSet, HashSet};

use rayon::prelude::*;

use super::Results;
use super::around::{Around, key};
use super::derive::Derived;
use super::govern::{GroupResult, Limit, work_group};
use super::root::Root;
use super::tributary::PostGrid;
use crate::diag::{Checked, Diagnostic, Diagnostics};
use crate::formula::Value;
use crate::job::{Job, load_column};
use crate::program::{Memory, Symbol};
use crate::quantity::Quantity;
use crate::sheet::{From, Input, Library};

/// The sheets that a line is worked by, one after another.
pub const LINE: [&str; 3] = ["frame-from-start", "frame-from-end", "frame-share"];

const AXES: [&str; 2] = ["x", "y"];

/// Values of a post by their names.
pub type Known = BTreeMap<String, Value>;

/// What a post gets in one load case from its line along one axis, in pounds.
#[derive(Clone, Copy, Debug, Default)]
pub struct Share {
    pub v: f64,
    pub p: f64,
    /// The load at the beam of the whole line.
    pub line: f64,
    /// Posts of the line.
    pub of: usize,
    /// Horizontal push of the brace before it and after it.
    pub braces: [f64; 2],
}

/// The load cases that a post brings: the uses that are named like one.
pub fn cases(brought: &[Known]) -> Vec<String> {
    let heads = brought.iter().flat_map(Known::keys).filter_map(|name| name.split_once('.'));
    let heads: BTreeSet<&str> = heads.map(|(case, _)| case).collect();
    let cases: Vec<String> = heads.into_iter().filter(|head| is_case(head)).map(String::from).collect();
    crate::job::case_names(&cases)
}

fn is_case(name: &str) -> bool {
    load_column(&format!("P_{name}")).is_some()
}

/// The symbols of the sheet for loads, and of its uses that are named like a
/// load case: the same for all posts.
pub fn bringing<'a>(root: &'a Root) -> Vec<&'a Symbol> {
    let mut cases: BTreeMap<&str, bool> = BTreeMap::new();
    let symbols = root.program.symbols().iter().filter(|symbol| match symbol.path().split_once('.') {
        None => true,
        Some((case, rest)) => !rest.contains('.') && *cases.entry(case).or_insert_with(|| is_case(case)),
    });
    symbols.collect()
}

/// What they come to for the post that was worked last.
pub fn brought(root: &Root, symbols: &[&Symbol], memory: &Memory) -> Known {
    let values = symbols.iter().filter_map(|symbol| {
        let value = root.program.value(root.program.number(symbol, memory), symbol.held)?;
        Some((symbol.path().to_string(), value))
    });
    values.collect()
}

/// What the posts of a line bring under a name, in a case and along an axis:
/// `W1.F_x`, `W1.P`, `brace_x`, `h`.
fn own(brought: &HashSet<&str>, name: &str, case: &str, axis: &str) -> Option<String> {
    let names = [format!("{case}.{name}_{axis}"), format!("{case}.{name}"), format!("{name}_{axis}"), name.into()];
    names.into_iter().find(|name| brought.contains(name.as_str()))
}

/// The names under which any post of a line brings something.
fn names<'b>(brought: &'b [Known], line: &[usize]) -> HashSet<&'b str> {
    line.iter().flat_map(|post| brought[*post].keys()).map(String::as_str).collect()
}

/// A line in one load case.
pub(super) struct OnLine<'l> {
    pub axis: usize,
    pub line: &'l [usize],
    pub names: &'l HashSet<&'l str>,
    pub case: &'l str,
}

/// The names under which a sheet may read what a post brings: `F_x` and `F` for `W1.F_x`.
pub(super) fn short(path: &str) -> [&str; 2] {
    let name = path.split_once('.').map_or(path, |(_, name)| name);
    [name, AXES.iter().find_map(|axis| name.strip_suffix(axis)?.strip_suffix('_')).unwrap_or(name)]
}

/// The sheets of a line.
///
/// # Errors
/// One is missing.
pub(super) fn roots<'a>(job: &'a Job, library: &'a Library) -> Checked<Vec<Root<'a>>> {
    LINE.iter().map(|sheet| Root::new(job, library, sheet, None)).collect()
}

/// The lines of a job, as far as they were worked.
pub struct Lines<'a, 'g> {
    job: &'a Job,
    library: &'a Library,
    grid: &'g PostGrid,
    brought: &'g [Known],
    pub(super) cases: Vec<String>,
}

impl<'a, 'g> Lines<'a, 'g> {
    pub fn new(job: &'a Job, library: &'a Library, grid: &'g PostGrid, brought: &'g [Known]) -> Lines<'a, 'g> {
        Lines { job, library, grid, brought, cases: cases(brought) }
    }

    fn roots(&self) -> Checked<Vec<Root<'a>>> {
        roots(self.job, self.library)
    }

    /// Each line, with its axis.
    pub(super) fn each(&self) -> impl Iterator<Item = (usize, &'g Vec<usize>)> {
        let grid = self.grid;
        (0..AXES.len()).flat_map(move |axis| grid.lines(axis).iter().map(move |line| (axis, line)))
    }

    /// The names under which any post of a line brings something.
    pub(super) fn names(&self, line: &[usize]) -> HashSet<&'g str> {
        names(self.brought, line)
    }

    /// A line in a load case; `worked` is told of each sheet at each post.
    ///
    /// # Errors
    /// What the sheets say of it.
    pub(super) fn follow(
        &self,
        roots: &mut [Root],
        of: &OnLine,
        worked: &mut dyn FnMut(AtPost, &Memory),
    ) -> Checked<()> {
        work(roots, self.grid, self.brought, of, worked).map(drop)
    }

    /// For each post, by its case, what its lines along x and along y make of it.
    ///
    /// # Errors
    /// A sheet of the line is missing; what the sheets say of it.
    pub fn shares(&self) -> Checked<Vec<BTreeMap<String, [Share; 2]>>> {
        let roots = self.roots()?;
        let lines: Vec<(usize, &Vec<usize>)> = self.each().collect();
        let worked: Vec<Vec<Checked<Vec<Share>>>> = lines
            .par_iter()
            .map_init(
                || roots.iter().map(|root| root.seeing(Around::default())).collect::<Vec<_>>(),
                |roots, (axis, line)| {
                    let names = &names(self.brought, line);
                    let of = |case: &String| {
                        let of = OnLine { axis: *axis, line, names, case };
                        let found = work(roots, self.grid, self.brought, &of, &mut |_, _| {})?;
                        Ok(found.iter().map(|known| share(known, line.len())).collect())
                    };
                    self.cases.iter().map(of).collect()
                },
            )
            .collect();
        let mut shares: Vec<BTreeMap<String, [Share; 2]>> = vec![BTreeMap::new(); self.job.posts.len()];
        let mut diagnostics = Diagnostics::new();
        for ((axis, line), cases) in lines.into_iter().zip(worked) {
            for (case, found) in self.cases.iter().zip(cases) {
                match found {
                    Ok(found) => {
                        for (post, found) in line.iter().zip(found) {
                            shares[*post].entry(case.clone()).or_default()[axis] = found;
                        }
                    }
                    Err(more) => diagnostics.extend(more),
                }
            }
        }
        if diagnostics.is_empty() { Ok(shares) } else { Err(diagnostics) }
    }

    /// The sheets of a line as they were worked for each of its posts in one case, each
    /// by itself, for a page.
    ///
    /// # Errors
    /// What the sheets say of it.
    fn page(&self, told: usize, axis: usize, case: &str) -> Checked<Vec<Frame<'a>>> {
        let Some(line) = self.grid.lines(axis).iter().find(|line| line.contains(&told)) else {
            return Ok(Vec::new());
        };
        let mut roots = self.roots()?;
        let of = OnLine { axis, line, names: &names(self.brought, line), case };
        work(&mut roots, self.grid, self.brought, &of, &mut |_, _| {})?;
        let inputs = roots.iter().flat_map(|root| &root.program.facts);
        let names = inputs.filter_map(|fact| Some(&fact.input.from.as_ref()?.name));
        let brought: BTreeMap<String, String> =
            names.filter_map(|name| Some((name.clone(), own(of.names, name, case, AXES[axis])?))).collect();
        let frame = |post: usize| {
            let sheets = roots.iter().map(|root| {
                let page = root.seeing(Around(root.around.as_ref().map(|around| around.0.clone()).unwrap_or_default()));
                let result = work_group(&page, &[], &mut page.program.memory(), 0, &[post])?;
                Ok((page, result))
            });
            let sheets: Checked<Vec<_>> = sheets.collect();
            let (case, line, brought) = (case.to_string(), line.clone(), brought.clone());
            Ok(Frame { axis, case, post, told: post == told, line, sheets: sheets?, brought })
        };
        line.iter().map(|post| frame(*post)).collect()
    }
}

/// The sheets of a line as they were worked for one of its posts in one load case.
pub struct Frame<'a> {
    /// 0 for a line along x, 1 along y.
    pub axis: usize,
    pub case: String,
    pub post: usize,
    /// What it comes to is shown; the other posts of the line stand beside it.
    pub told: bool,
    /// The posts of the line, one after another.
    pub line: Vec<usize>,
    pub sheets: Vec<(Root<'a>, GroupResult)>,
    /// What the sheets read of what posts bring, by the name there: `F` is `W1.F_x`.
    pub brought: BTreeMap<String, String>,
}

/// The frames that a page shows: those of the post that governs the job, in the load
/// cases of the combination in which it does, along each axis in which its line does
/// something; with `all`, of the post that governs each pair of base and foundation.
///
/// # Errors
/// What the sheets say of it.
pub fn frames<'a>(
    job: &'a Job,
    library: &'a Library,
    derived: &Derived,
    results: &Results,
    all: bool,
) -> Checked<Vec<Frame<'a>>> {
    let grid = PostGrid::new(&job.posts);
    let lines = Lines::new(job, library, &grid, &derived.brought);
    let mut found: Vec<Frame> = Vec::new();
    let governing = if derived.brought.is_empty() { Vec::new() } else { governing(job, results) };
    for (post, limit) in governing.into_iter().take(if all { usize::MAX } else { 1 }) {
        for (case, _) in results.combinations.get(limit.run()).iter().flat_map(|combination| &combination.factors) {
            let Some(shares) = derived.shares[post].get(case) else { continue };
            for (axis, share) in shares.iter().enumerate() {
                if share.of < 2 || (share.v == 0.0 && share.p == 0.0) {
                    continue;
                }
                match found.iter_mut().find(|it| it.axis == axis && it.case == *case && it.post == post) {
                    Some(known) => known.told = true,
                    None => found.extend(lines.page(post, axis, case)?),
                }
            }
        }
    }
    Ok(found)
}

/// The post that governs each pair of base and foundation, the highest ratio first, with
/// the limit in which it does.
fn governing<'r>(job: &Job, results: &'r Results) -> Vec<(usize, &'r Limit)> {
    let mut found: Vec<([Option<&str>; 2], usize, &Limit)> = Vec::new();
    for group in &results.groups {
        let (post, Some(limit)) = (group.posts[0], group.driven()) else { continue };
        let entry = |catalogue| job.posts[post].entries.get(catalogue).map(|entry| entry.name.as_str());
        let pair = ["bases", "foundations"].map(entry);
        match found.iter_mut().find(|(known, ..)| *known == pair) {
            Some(best) if limit.weight() > best.2.weight() => *best = (pair, post, limit),
            Some(_) => {}
            None => found.push((pair, post, limit)),
        }
    }
    found.sort_by(|a, b| b.2.weight().total_cmp(&a.2.weight()));
    found.into_iter().map(|(_, post, limit)| (post, limit)).collect()
}

fn share(found: &Known, of: usize) -> Share {
    let pounds = |name: &str| match found.get(name) {
        Some(Value::Quantity(quantity)) => quantity.value,
        _ => 0.0,
    };
    let (line, braces) = (pounds("H"), [pounds("X_1"), pounds("X_2")]);
    // Pushes that cancel leave nothing, and not the last digit of a sum.
    let size = line.abs() + braces[0].abs() + braces[1].abs();
    let left = |name: &str| if pounds(name).abs() > 1e-12 * size { pounds(name) } else { 0.0 };
    Share { v: left("V"), p: left("P"), line, of, braces }
}

/// A sheet of a line as it was worked for one of its posts.
pub(super) struct AtPost<'r, 'a> {
    /// The place of the sheet among those of a line, and of the post in the line.
    pub sheet: usize,
    pub no: usize,
    pub root: &'r Root<'a>,
    /// What the sheet reads of what posts bring, by the name there.
    pub full: &'r BTreeMap<String, String>,
}

/// One line in one load case; what its sheets give for each of its posts. `worked` is told of
/// each sheet at each post.
fn work(
    roots: &mut [Root],
    grid: &PostGrid,
    brought: &[Known],
    on: &OnLine,
    worked: &mut dyn FnMut(AtPost, &Memory),
) -> Checked<Vec<Known>> {
    let OnLine { axis, line, names: brings, case } = *on;
    let mut found: Vec<Known> = vec![Known::new(); line.len()];
    let of_line: Vec<&Known> = line.iter().map(|post| &brought[*post]).collect();
    for (sheet, root) in roots.iter_mut().enumerate() {
        let program = root.program.clone();
        let gives: Vec<&str> = program.sheet.gives.iter().map(|given| given.name.as_str()).collect();
        let inputs: Vec<(&Input, &From)> =
            program.facts.iter().filter_map(|fact| Some((&fact.input, fact.input.from.as_ref()?))).collect();
        let full: BTreeMap<String, String> = inputs
            .iter()
            .filter_map(|(_, from)| Some((from.name.clone(), own(brings, &from.name, case, AXES[axis])?)))
            .collect();
        let of = |source: &'static str| -> Vec<(&Input, &str, String)> {
            let found = inputs.iter().filter(|(_, from)| from.source == source);
            found.map(|(input, from)| (*input, from.name.as_str(), key(source, &from.name))).collect()
        };
        let symbols = program.symbols().iter().filter(|symbol| symbol.of == 0 && gives.contains(&symbol.name()));
        let symbols: Vec<&Symbol> = symbols.collect();
        let value = |found: &[Known], no: usize, name: &str| {
            found[no].get(name).or_else(|| of_line[no].get(full.get(name)?)).cloned()
        };
        let zero = |input: &Input| input.kind.dim().map(|dim| Value::Quantity(Quantity::new(0.0, dim)));
        // What the line comes to holds nothing of this sheet: it is summed once.
        let sums: BTreeMap<String, Value> = of("line")
            .into_iter()
            .filter(|(_, name, _)| !["at", "n", "bay", "bay_0"].contains(name))
            .filter_map(|(input, name, key)| {
                let terms = (0..line.len()).filter_map(|no| match value(&found, no, name) {
                    Some(Value::Quantity(quantity)) => Some(quantity.value),
                    _ => None,
                });
                Some((key, Value::Quantity(Quantity::new(sum(terms), input.kind.dim()?))))
            })
            .collect();
        // What comes from the next post is worked from the last post back.
        let sources = ["own", "before", "after"].map(of);
        let back = sources[2].iter().any(|(_, name, _)| gives.contains(name));
        let mut order: Vec<usize> = (0..line.len()).collect();
        if back {
            order.reverse();
        }
        let mut memory = root.program.memory();
        for no in order {
            let mut values = grid.in_line(axis, line[no]);
            values.extend(sums.clone());
            for (of, at) in sources.iter().zip([Some(no), no.checked_sub(1), Some(no + 1)]) {
                for (input, name, key) in of {
                    let there = at.filter(|at| *at < line.len());
                    let read = there.map_or_else(|| zero(input), |at| value(&found, at, name).or_else(|| zero(input)));
                    values.extend(read.map(|value| (key.clone(), value)));
                }
            }
            let around = root.around.get_or_insert_with(Around::default);
            around.0.resize_with(brought.len(), BTreeMap::new);
            around.0[line[no]] = values;
            let wrong = root.set(&mut memory, line[no]);
            if !wrong.is_empty() || memory.faulty {
                work_group(root, &[], &mut memory, 0, &[line[no]])?;
                let sheet = &root.program.sheet.name;
                return Err(wrong
                    .into_iter()
                    .chain([Diagnostic::new(format!("`{sheet}` comes to nothing"))])
                    .collect());
            }
            for symbol in &symbols {
                let value = program.value(program.number(symbol, &memory), symbol.held);
                found[no].extend(value.map(|value| (symbol.name().to_string(), value)));
            }
            worked(AtPost { sheet, no, root, full: &full }, &memory);
        }
    }
    Ok(found)
}

/// A sum in which what cancels leaves nothing.
fn sum(terms: impl Iterator<Item = f64>) -> f64 {
    let (sum, size) = terms.fold((0.0, 0.0), |(sum, size), term| (sum + term, size + term.abs()));
    if f64::abs(sum) > 1e-12 * size { sum } else { 0.0 }
}
