//! A sheet that is worked for the posts of a job: compiled, with each of its
//! facts found in the job's files.

use std::collections::{BTreeMap, BTreeSet};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::{Arc, Mutex, OnceLock};

use super::around::{Around, is_around};
use super::asked::Asked;
use super::cases::of_cases;
use super::govern::loads_of;
use super::leans::Leans;
use super::tributary::PostGrid;
use super::{Combination, Effect, Kept, facts};
use crate::diag::{Checked, Diagnostic, Diagnostics};
use crate::formula::{Kind, Value};
use crate::job::{Entry, Fact, Job, PARTS, Post};
use crate::program::{Memory, Program};
use crate::quantity::{Dim, Quantity, Unit};
use crate::sheet::{Bound, Context, Input, Library, Method, Origin, Sheet, Unread, Work, Worked, work};

/// What a combination brings to a post.
#[derive(Clone, Copy, Debug)]
pub struct Loads<'a> {
    pub combination: &'a Combination,
    pub effect: Effect,
    /// The part of the earthquake.
    pub seismic: Effect,
    /// The dead load in the axial load.
    pub dead: f64,
}

pub struct Root<'a> {
    pub job: &'a Job,
    pub library: &'a Library,
    pub program: Arc<Program>,
    /// What each post sees round it, for a sheet that asks.
    pub(super) around: Option<Around>,
    /// The facts that ask for it, and by which key.
    surroundings: Vec<(usize, String)>,
    /// For each fact the column of `posts.csv` that it stands in.
    columns: Vec<Option<String>>,
    /// The facts that every post has: those of `job.toml`.
    common: Read,
    /// What its sheets ask of the load cases of the job as a whole, and what that is.
    pub(super) cases: BTreeMap<String, Value>,
    /// What groups leave open; most leave the same.
    asked: Mutex<BTreeSet<Arc<Asked>>>,
    /// The facts of each row of a catalogue that a post chose.
    entries: BTreeMap<(&'a str, String), Read>,
    /// How loads react to what they are calculated from, once somebody asks.
    leans: OnceLock<Leans>,
    /// What is known of posts already, and by which key of each.
    kept: Option<(&'a Kept, Vec<Arc<str>>)>,
}

/// Facts by their index, and what is wrong with others.
#[derive(Clone, Default)]
struct Read {
    values: Vec<(usize, f64)>,
    diagnostics: Diagnostics,
}

impl<'a> Root<'a> {
    /// # Errors
    /// There is no such sheet, or it cannot be compiled.
    pub fn new(job: &'a Job, library: &'a Library, sheet: &str, around: Option<Around>) -> Checked<Root<'a>> {
        let Some(sheet) = library.sheet(sheet) else {
            return Err(Diagnostic::new(format!("there is no sheet `{sheet}`")).into());
        };
        let mut program = Program::new(library, sheet)?;
        let nowhere: Diagnostics = program.facts.iter().filter_map(|fact| not_above(library, &fact.input)).collect();
        if !nowhere.is_empty() {
            return Err(nowhere);
        }
        let headings: BTreeSet<&str> =
            job.posts.iter().flat_map(|post| post.facts.keys()).map(String::as_str).collect();
        let columns = program.facts.iter().map(|fact| match fact.from.as_ref() {
            Some(from) if from.source == "posts" || facts::is_per_post(&from.source) => {
                headings.get(from.name.as_str()).map(|name| name.to_string())
            }
            _ => None,
        });
        let columns: Vec<Option<String>> = columns.collect();
        let chosen: BTreeMap<(&str, &str), &Entry> = job
            .posts
            .iter()
            .flat_map(|post| &post.entries)
            .map(|(catalogue, entry)| ((*catalogue, entry.name.as_str()), entry.as_ref()))
            .collect();
        // A program works on numbers: it learns the names that this job speaks of.
        let of_rows = chosen.values().flat_map(|entry| entry.facts.values());
        of_rows
            .chain(job.settings.values().flat_map(|facts| facts.values()))
            .for_each(|fact| program.learn(&fact.text));
        for (fact, column) in program.facts.clone().iter().zip(&columns) {
            if fact.input.kind == Kind::Text {
                let cells = job.posts.iter().filter_map(|post| post.facts.get(column.as_ref()?));
                cells.for_each(|fact| program.learn(&fact.text));
            }
        }
        for fact in program.facts.clone() {
            if let Kind::Choice(names) = &fact.input.kind {
                names.iter().for_each(|name| program.learn(name));
            }
        }
        let asks = || program.facts.iter().any(|fact| fact.from.as_ref().is_some_and(|from| from.source == "grid"));
        let around = around.or_else(|| asks().then(|| PostGrid::new(&job.posts).around()));
        let mut root = Root {
            job,
            library,
            surroundings: surroundings(&program),
            program: Arc::new(program),
            around,
            columns,
            common: Read::default(),
            cases: BTreeMap::new(),
            entries: BTreeMap::new(),
            asked: Mutex::default(),
            leans: OnceLock::new(),
            kept: None,
        };
        root.common = root.read(|from| {
            if !facts::is_setting(&from.source) {
                return None;
            }
            job.settings.get(&from.source)?.get(&from.name)
        });
        for (at, fact) in root.program.facts.iter().enumerate().filter(|(_, fact)| is_cases(&fact.input)) {
            let value = of_cases(fact.input.column(), job);
            root.common.values.push((at, root.program.encode(&value)));
            root.cases.insert(fact.input.column().into(), value);
        }
        for ((catalogue, name), entry) in chosen {
            let read = root.read(|from| if from.source == catalogue { entry.facts.get(&from.name) } else { None });
            root.entries.insert((catalogue, name.to_string()), read);
        }
        Ok(root)
    }

    /// The same with posts that see something else round them.
    pub(super) fn seeing(&self, around: Around) -> Root<'a> {
        Root {
            job: self.job,
            library: self.library,
            program: self.program.clone(),
            around: Some(around),
            surroundings: self.surroundings.clone(),
            columns: self.columns.clone(),
            common: self.common.clone(),
            cases: self.cases.clone(),
            asked: Mutex::default(),
            entries: self.entries.clone(),
            leans: OnceLock::new(),
            kept: None,
        }
    }

    /// Looks up what is kept of posts before it works them, and keeps what it works.
    #[must_use]
    pub fn keeping(mut self, kept: &'a Kept) -> Root<'a> {
        let keys = (0..self.job.posts.len()).map(|post| self.key(post).into()).collect();
        self.kept = Some((kept, keys));
        self
    }

    /// Begins with another state of the job.
    pub fn begin(&self, combinations: &[Combination]) {
        self.kept.iter().for_each(|(kept, _)| kept.begin(self, combinations));
    }

    pub(super) fn kept(&self, post: usize) -> Option<(&Kept, &Arc<str>)> {
        self.kept.as_ref().map(|(kept, keys)| (*kept, &keys[post]))
    }

    /// All that is read of a post but what all posts share.
    fn key(&self, at: usize) -> String {
        let post = &self.job.posts[at];
        let mut key = format!("{:?} {:?} {:?} {}", post.reactions, post.slack, post.unknown, self.job.placed);
        for fact in self.program.facts.iter().filter(|fact| !fact.varies) {
            key.push('\n');
            if is_around(&fact.input) {
                let value = self.around.as_ref().and_then(|around| around.get(at, &fact.input));
                key.push_str(&format!("{value:?}"));
            } else if let Some(fact) = self.fact(&fact.input, post) {
                let unit = fact.unit.as_ref().map_or("", |unit| unit.name());
                key.push_str(&format!("{}\t{unit}\t{:?}\t{}", fact.text, fact.decimals, fact.whence));
            }
        }
        key
    }

    /// The same with a key that knows what the loads of the post are calculated from, too, with the digits
    /// that it was typed in: so much rests on it how ratios react.
    pub(super) fn kept_with_leans(&self, post: usize) -> Option<(&Kept, Arc<str>)> {
        let (kept, key) = self.kept(post)?;
        let (leans, mut digest) = (self.leans(), DefaultHasher::new());
        if let Some(lean) = leans.at(post) {
            let sources: Vec<_> =
                lean.brings.keys().chain(leans.vertical.keys()).map(|no| &leans.sources[*no]).collect();
            format!("{lean:?} {sources:?} {:?}", leans.vertical).hash(&mut digest);
        }
        Some((kept, format!("{key}\n{:x}", digest.finish()).into()))
    }

    /// The steps of a post in one of some combinations, or without loads if there are none; through
    /// the sheets of its method or of both.
    pub(super) fn steps(&self, at: usize, combinations: &[Combination], run: usize, by_method: bool) -> Arc<Worked> {
        let make = || {
            let loads = combinations.get(run).map(|combination| loads_of(combination, &self.job.posts[at]));
            let method = loads.map(|loads| loads.combination.method).filter(|_| by_method);
            self.work(at, loads, method).worked
        };
        match self.kept(at) {
            Some((kept, key)) => kept.steps(key, (run, by_method), make),
            None => Arc::new(make()),
        }
    }

    /// How the loads of its posts react to what they are calculated from; those that are given
    /// do not. A job whose loads are known can be followed.
    pub(super) fn leans(&self) -> &Leans {
        self.leans.get_or_init(|| Leans::of(self.job, self.library).unwrap_or_default())
    }

    /// What a group leaves open, shared with the groups that leave the same.
    pub fn shared(&self, asked: Asked) -> Arc<Asked> {
        let mut known = self.asked.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        let asked = Arc::new(asked);
        match known.get(&asked) {
            Some(same) => same.clone(),
            None => {
                known.insert(asked.clone());
                asked
            }
        }
    }

    fn read<'f>(&self, of: impl Fn(&crate::sheet::From) -> Option<&'f Fact>) -> Read {
        let mut read = Read::default();
        for (at, fact) in self.program.facts.iter().enumerate() {
            let Some(found) = fact.from.as_ref().and_then(&of) else { continue };
            match found.read(&fact.input.kind, &fact.units) {
                Ok((value, _)) => read.values.push((at, self.program.encode(&value))),
                Err(diagnostic) => {
                    read.values.push((at, f64::NAN));
                    read.diagnostics.push(diagnostic);
                }
            }
        }
        read
    }

    /// Sets the facts of a post and works what no load reaches; what is wrong
    /// with its cells.
    pub fn set(&self, memory: &mut Memory, at: usize) -> Diagnostics {
        let post = &self.job.posts[at];
        let program = &self.program;
        program.clear(memory);
        let mut diagnostics = self.common.diagnostics.clone();
        for fact in program.facts.iter().filter(|fact| !fact.varies) {
            memory.set(fact.slot, fact.default.unwrap_or(f64::NAN));
        }
        let mut put = |(at, value): &(usize, f64)| program.give(memory, *at, *value);
        self.common.values.iter().for_each(&mut put);
        for (catalogue, entry) in &post.entries {
            if let Some(read) = self.entries.get(&(*catalogue, entry.name.clone())) {
                read.values.iter().for_each(&mut put);
                diagnostics.extend(read.diagnostics.iter().cloned());
            }
        }
        for (at, column) in self.columns.iter().enumerate() {
            let Some(cell) = column.as_ref().and_then(|name| post.facts.get(name)) else { continue };
            match cell.read(&program.facts[at].input.kind, &program.facts[at].units) {
                Ok((value, _)) => put(&(at, program.encode(&value))),
                Err(diagnostic) => {
                    put(&(at, f64::NAN));
                    diagnostics.push(diagnostic);
                }
            }
        }
        for (at, _) in program.facts.iter().enumerate().filter(|(_, fact)| is_unknown(&fact.input, post)) {
            put(&(at, f64::NAN));
        }
        if let Some(around) = &self.around {
            for (no, key) in &self.surroundings {
                let value = around.at(at, key).filter(|_| self.job.placed);
                put(&(*no, value.map_or(f64::NAN, |value| program.encode(value))));
            }
        }
        program.run_once(memory);
        diagnostics
    }

    /// Works one combination for the post that was set.
    pub fn load(&self, memory: &mut Memory, loads: Loads) {
        self.bring(memory, loads);
        self.program.run(memory, loads.combination.method);
    }

    /// Sets what a combination brings.
    pub(super) fn bring(&self, memory: &mut Memory, loads: Loads) {
        for fact in self.program.facts.iter().filter(|fact| fact.varies) {
            let value = load(fact.input.column(), loads).map_or(f64::NAN, |value| self.program.encode(&value));
            memory.set(fact.slot, value);
        }
    }

    /// The unit that a fact of a post was typed in; none if it was not.
    pub fn typed(&self, post: &Post, at: usize) -> Option<Unit> {
        let fact = &self.program.facts[at];
        if fact.varies {
            return Some(self.library.units().unit(fact.input.kind.dim()?));
        }
        if is_around(&fact.input) {
            return Some(around_unit(&fact.input));
        }
        let (_, unit) = self.fact(&fact.input, post)?.read(&fact.input.kind, &fact.units).ok()?;
        Some(self.library.units().print(&unit))
    }

    /// Whether no post has a cell for an input that comes from `posts.csv`.
    fn nowhere(&self, input: &Input) -> bool {
        let known = self.program.facts.iter().position(|fact| fact.from == input.from);
        known.is_some_and(|at| self.columns[at].is_none())
    }

    /// What a file says of an input.
    pub fn fact<'f>(&'f self, input: &Input, post: &'f Post) -> Option<&'f Fact> {
        facts::fact_of(input, self.job, post)
    }

    /// The steps of a post with some loads or none, through the sheets of one
    /// method or of both.
    pub fn work(&self, at: usize, loads: Option<Loads>, method: Option<Method>) -> Work {
        let post = &self.job.posts[at];
        let given = |input: &Input| -> Option<Result<(Bound, Origin), Unread>> {
            if is_around(input) {
                if !self.job.placed {
                    return Some(Err(Unread));
                }
                let value = self.around.as_ref()?.get(at, input)?.clone();
                let bound = Bound { count: input.kind == Kind::Count, ..Bound::given(value, around_unit(input)) };
                let whence = match input.from.as_ref().map(|from| from.source.as_str()) {
                    Some("own") => "this post",
                    Some("line") => "the line of posts",
                    Some("before") => "the post before",
                    Some("after") => "the post after",
                    _ => "posts.csv, x and y",
                };
                return Some(Ok((bound, Origin::File(whence.into()))));
            }
            if is_load(input) {
                // Without loads nothing is said of what they would bring.
                let Some(loads) = loads else { return Some(Err(Unread)) };
                let value = load(input.column(), loads)?;
                let unit = match &value {
                    // A reaction that could not be read was complained of.
                    Value::Quantity(quantity) if quantity.value.is_nan() => return Some(Err(Unread)),
                    Value::Quantity(quantity) => self.library.units().unit(quantity.dim),
                    _ => Unit::none(),
                };
                let bound = Bound::given(value, unit);
                let bound = Bound { varies: true, given: false, ..bound };
                return Some(Ok((bound, Origin::File("load combination".into()))));
            }
            if is_unknown(input, post) {
                return Some(Err(Unread));
            }
            if is_cases(input) {
                let bound = Bound::given(self.cases.get(input.column())?.clone(), Unit::none());
                return Some(Ok((bound, Origin::File("load cases of the job".into()))));
            }
            let fact = self.fact(input, post)?;
            let Ok((value, unit)) = fact.read(&input.kind, &input.written()) else { return Some(Err(Unread)) };
            let unit = self.library.units().print(&unit);
            let bound = Bound { place: Some(fact.place.clone()), ..Bound::given(value, unit) };
            Some(Ok((bound, Origin::File(fact.whence.to_string()))))
        };
        let missing = |input: &Input| Some(facts::missing(input, self.job, post, self.nowhere(input)));
        let (library, lacking) = (self.library, &BTreeSet::new());
        let context = Context { library, method, facts: &given, missing: &missing, lacking };
        let mut work = work(&self.program.sheet, BTreeMap::new(), &context);
        let located = |diagnostic| facts::located(diagnostic, &self.program, self.job, post);
        work.diagnostics = work.diagnostics.into_iter().map(located).collect();
        work
    }
}

/// What to say of an input that comes from a sheet which nothing above uses.
fn not_above(library: &Library, input: &Input) -> Option<Diagnostic> {
    let from = input.from.as_ref().filter(|from| library.is_sheet(&from.source) && input.default.is_none())?;
    let declares = |sheet: &&Arc<Sheet>| sheet.inputs.iter().any(|known| !known.passed_on && known.from == input.from);
    let sheet = library.sheets().find(declares)?;
    let declared = sheet.inputs.iter().find(|known| known.from == input.from)?;
    Some(
        Diagnostic::new(format!("nothing above `{}` gives `{}` of `{}`", sheet.name, from.name, from.source))
            .at(sheet.place(&declared.span))
            .hint("an input can come from a sheet or an open place that is used before it: in the same sheet, or in one that uses it")
            .hint("what is inside a sheet that is used is private; it gives what its `gives` lists"),
    )
}

/// Whether an input comes from a row that a post names and that is not there.
fn is_unknown(input: &Input, post: &Post) -> bool {
    input.from.as_ref().is_some_and(|from| post.unknown.contains(from.source.as_str()))
}

/// The facts of a program that are what a post sees round it, and by which key.
fn surroundings(program: &Program) -> Vec<(usize, String)> {
    let around = program.facts.iter().enumerate().filter(|(_, fact)| is_around(&fact.input));
    around.filter_map(|(no, fact)| Some((no, Around::key(&fact.input)?))).collect()
}

fn is_load(input: &Input) -> bool {
    input.from.as_ref().is_some_and(|from| from.source == "combination")
}

fn is_cases(input: &Input) -> bool {
    input.from.as_ref().is_some_and(|from| from.source == "cases")
}

/// The unit that what a post sees round it is printed in.
fn around_unit(input: &Input) -> Unit {
    let declared = || input.written().first().cloned();
    match input.kind.dim() {
        Some(Dim::LENGTH) => declared().or_else(|| Unit::simple("ft")).unwrap_or_else(Unit::none),
        Some(dim) if !dim.is_none() => declared().unwrap_or_else(|| Unit::usual(dim)),
        _ => Unit::none(),
    }
}

/// What a combination brings under a name.
fn load(name: &str, loads: Loads) -> Option<Value> {
    let quantity = |value: f64, dim: Dim| Some(Value::Quantity(Quantity::new(value, dim)));
    let force = |value: f64| quantity(value, Dim::FORCE);
    let name_of = |name: &str| Some(Value::Text(name.into()));
    let combination = loads.combination;
    match name {
        "P" => force(loads.effect.p),
        "H_x" => force(loads.effect.h_x),
        "H_y" => force(loads.effect.h_y),
        "P_D" => force(loads.dead),
        "P_E" => force(loads.seismic.p),
        "H_x_E" => force(loads.seismic.h_x),
        "H_y_E" => force(loads.seismic.h_y),
        "brace_x_1" => force(loads.effect.braces[0]),
        "brace_x_2" => force(loads.effect.braces[1]),
        "brace_y_1" => force(loads.effect.braces[2]),
        "brace_y_2" => force(loads.effect.braces[3]),
        "C_D" => quantity(combination.c_d.unwrap_or(1.0), Dim::NONE),
        "w_x" => quantity(loads.effect.w_x, PARTS[3].1),
        "w_y" => quantity(loads.effect.w_y, PARTS[4].1),
        "E" => name_of(if combination.seismic_case().is_some() { "yes" } else { "no" }),
        "Omega_0" => quantity(combination.omega, Dim::NONE),
        "overstrength" => name_of(match combination.method {
            Method::Asd | Method::Strength => "no",
            Method::StrengthAnchors => "anchors",
            Method::AsdCantilevers | Method::StrengthCantilevers => "cantilevers",
        }),
        _ => None,
    }
}
