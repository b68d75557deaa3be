//! How much was compared, and what was not the same.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use socle::diag::Diagnostics;
use socle::engine::Combination;
use socle::job::Post;
use socle::sheet::Library;

use super::{ROOM, SAME};
use crate::walk::{Number, Precise};

#[derive(Default)]
pub struct Tally {
    jobs: usize,
    pub posts: usize,
    pub combinations: usize,
    pub walks: usize,
    pub numbers: usize,
    pub names: usize,
    pub limits: usize,
    pub ratios: usize,
    /// Sums of loads.
    pub effects: usize,
    /// What posts get from their lines.
    pub shares: usize,
    /// How often doubles had to say what was chosen.
    pub unsure: usize,
    /// Values in which terms cancel so far that doubles have fewer than nine digits.
    cancelled: usize,
    /// The farthest that a value is off, as a part of itself, and which that is.
    farthest: (f64, String),
    /// The same in parts of what rounding was reckoned to come to.
    reckoned: (f64, String),
    /// How often each sheet was reached.
    pub sheets: BTreeMap<String, usize>,
    refused: BTreeMap<String, (usize, String)>,
    pub wrong: Vec<String>,
}

impl Tally {
    /// Of one job.
    pub fn one() -> Tally {
        Tally { jobs: 1, ..Tally::default() }
    }

    pub fn plus(mut self, other: Tally) -> Tally {
        self.jobs += other.jobs;
        self.posts += other.posts;
        self.combinations += other.combinations;
        self.walks += other.walks;
        self.numbers += other.numbers;
        self.names += other.names;
        self.limits += other.limits;
        self.ratios += other.ratios;
        self.effects += other.effects;
        self.shares += other.shares;
        self.unsure += other.unsure;
        self.cancelled += other.cancelled;
        self.farther(other.farthest.0, || other.farthest.1);
        if other.reckoned.0 > self.reckoned.0 {
            self.reckoned = other.reckoned;
        }
        for (sheet, many) in other.sheets {
            *self.sheets.entry(sheet).or_default() += many;
        }
        for (why, (many, of)) in other.refused {
            self.refused.entry(why).or_insert((0, of)).0 += many;
        }
        self.wrong.extend(other.wrong);
        self
    }

    fn farther(&mut self, part: f64, told: impl FnOnce() -> String) {
        if part > self.farthest.0 {
            self.farthest = (part, told());
        }
    }

    pub fn wrong(&mut self, what: String) {
        self.wrong.push(what);
    }

    /// A value as the program has it. Doubles that were walked beside it have to be the same to the last bit; it
    /// itself to nine digits, or, where terms cancel, to what rounding is reckoned to come to.
    pub fn number(&mut self, number: f64, value: &Precise, told: &dyn Fn() -> String) {
        self.numbers += 1;
        if number != value.double {
            self.wrong(format!("{} is {number}, walked in doubles {}", told(), value.double));
        }
        self.near(number, value, told);
    }

    /// The same without the doubles.
    pub fn near(&mut self, number: f64, value: &Precise, told: &dyn Fn() -> String) {
        let (gap, size) = (value.gap(number), value.size());
        if value.off > 0.0 && gap / value.off > self.reckoned.0 {
            self.reckoned = (gap / value.off, told());
        }
        if gap <= SAME * size {
            if gap > 0.0 {
                self.farther(gap / size, told);
            }
        } else if gap <= ROOM * value.off {
            self.cancelled += 1;
        } else {
            let off = value.off;
            self.wrong(format!("{} is {number}, in many digits {:e}; off by {off:e}", told(), value.nearest()));
        }
    }

    /// What a combination brings, summed once more.
    pub fn effect(&mut self, combination: &Combination, post: &Post, of: &str) {
        use socle::formula::BinOp::{Add, Mul};
        for (part, number) in combination.effect(&post.reactions).all().into_iter().enumerate() {
            let terms = combination.factors.iter().filter_map(|(case, factor)| {
                let load = post.reactions.get(case)?.all()[part];
                Precise::arithmetic(Mul, &Precise::exact(*factor), &Precise::exact(load))
            });
            let sum =
                terms.fold(Precise::exact(0.0), |sum, term| Precise::arithmetic(Add, &sum, &term).expect("a sum"));
            self.effects += 1;
            self.near(number, &sum, &|| format!("{of}: part {part} of the loads"));
        }
    }

    pub fn refuse(&mut self, of: &str, wrong: &Diagnostics) {
        let message = wrong.first().map_or("nothing is said", |first| &first.message);
        let plain = message.replace(|c: char| c.is_ascii_digit(), "#");
        self.refused.entry(plain).or_insert((0, of.into())).0 += 1;
    }

    fn refusals(&self) -> usize {
        self.refused.values().map(|(many, _)| many).sum()
    }

    /// Whether enough was compared of so many jobs.
    pub fn enough(&self, library: &Library, jobs: usize) {
        assert!(self.refusals() * 10 <= jobs * 4, "{} of {jobs} jobs are refused", self.refusals());
        assert!(self.numbers > 10_000 * jobs && self.limits > 500 * jobs, "too little was compared");
        if jobs >= 1000 {
            assert_eq!(self.unreached(library).collect::<Vec<_>>(), [""; 0], "sheets that nothing comes to");
        }
    }

    /// The first that is wrong of each symbol.
    pub fn shown_wrong(&self) -> String {
        let mut known = BTreeMap::new();
        for wrong in &self.wrong {
            let what = wrong.split_once(": ").map_or(wrong.as_str(), |(_, what)| what);
            known.entry(what.replace(|c: char| c.is_ascii_digit(), "")).or_insert(wrong.as_str());
        }
        known.into_values().take(40).collect::<Vec<_>>().join("\n")
    }

    pub fn told(&self, library: &Library) -> String {
        let mut told = format!(
            "{} jobs, {} of them refused; {} posts, {} combinations of posts, {} walks\n\
             {} numbers and {} names of symbols, {} limits, {} ratios, {} sums of loads, {} values of lines\n\
             {} values in which terms cancel, {} choices left to doubles\n\
             farthest {:e}: {}\n{} times what rounding is reckoned to come to: {}\n",
            self.jobs,
            self.refusals(),
            self.posts,
            self.combinations,
            self.walks,
            self.numbers,
            self.names,
            self.limits,
            self.ratios,
            self.effects,
            self.shares,
            self.cancelled,
            self.unsure,
            self.farthest.0,
            self.farthest.1,
            self.reckoned.0,
            self.reckoned.1,
        );
        let mut refused: Vec<_> = self.refused.iter().collect();
        refused.sort_by_key(|(_, (many, _))| std::cmp::Reverse(*many));
        for (why, (many, of)) in refused {
            writeln!(told, "refused {many}: {why} ({of})").expect("memory");
        }
        let unreached: Vec<&str> = self.unreached(library).collect();
        writeln!(told, "{} sheets reached, not reached: {unreached:?}", self.sheets.len()).expect("memory");
        told
    }

    /// The sheets that no job came to.
    pub fn unreached<'l>(&self, library: &'l Library) -> impl Iterator<Item = &'l str> {
        let names = library.sheets().map(|sheet| sheet.name.as_str());
        names.filter(|name| !self.sheets.contains_key(*name))
    }
}
