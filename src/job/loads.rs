//! Nominal reactions at a post's base, per load case, and how cases and columns
//! of reactions are named.

use std::collections::BTreeSet;

use crate::diag::{Diagnostic, Kind::Meant};
use crate::names::{joined, words};
use crate::quantity::Dim;

/// Axial force (down positive) and shears, in pounds, and the wind on the post
/// itself, which the shears do not hold, in pounds an inch.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Reaction {
    pub p: f64,
    pub h_x: f64,
    pub h_y: f64,
    pub w_x: f64,
    pub w_y: f64,
    /// Where the frame of its lines was worked: the horizontal push of the brace
    /// before and after the post along x, and the same along y.
    pub braces: [f64; 4],
}

/// A load on a length.
const LINE: Dim = Dim::of(-1, 1);

/// The parts of a reaction, each with its dimension, as `reactions.csv` heads
/// them and a column of `posts.csv` begins.
pub const PARTS: [(&str, Dim); 5] =
    [("P", Dim::FORCE), ("H_x", Dim::FORCE), ("H_y", Dim::FORCE), ("w_x", LINE), ("w_y", LINE)];

/// All numbers of a reaction: its parts and its braces.
pub const ALL: usize = PARTS.len() + 4;

/// From here on the parts are wind on the post itself.
pub const WIND: usize = 3;

impl Reaction {
    /// Nothing but what a file leaves out as zero: of the wind on the post it has
    /// to speak.
    pub(super) fn unsaid() -> Reaction {
        Reaction { w_x: f64::NAN, w_y: f64::NAN, ..Reaction::default() }
    }

    /// Sets a part by its place.
    pub fn set(&mut self, part: usize, value: f64) {
        *[&mut self.p, &mut self.h_x, &mut self.h_y, &mut self.w_x, &mut self.w_y][part] = value;
    }

    /// The parts in the order of their places, then the braces.
    pub fn all(&self) -> [f64; ALL] {
        let [a, b, c, d] = self.braces;
        [self.p, self.h_x, self.h_y, self.w_x, self.w_y, a, b, c, d]
    }

    pub fn of([p, h_x, h_y, w_x, w_y, braces @ ..]: [f64; ALL]) -> Reaction {
        Reaction { p, h_x, h_y, w_x, w_y, braces }
    }

    /// This and so much of another.
    #[must_use]
    pub fn plus(&self, factor: f64, other: &Reaction) -> Reaction {
        let mut sum = self.all();
        sum.iter_mut().zip(other.all()).for_each(|(sum, other)| *sum += factor * other);
        Reaction::of(sum)
    }
}

/// `[loads]` of `job.toml`.
#[derive(Clone, Debug, Default)]
pub struct LoadSettings {
    /// Each wind case acts as given and reversed.
    pub both_signs: bool,
    pub signs: String,
}

/// Kinds of load that a case's name can begin with, in the order of a page.
const KINDS: [&str; 7] = ["D", "L", "Lr", "S", "R", "W", "E"];

/// Cases that have one name.
const FIXED: [&str; 7] = ["D", "L", "Lr", "S", "R", "E_x", "E_y"];

/// The one name of a load case, `E_x` of `ex` and `W_up` of `w-up`; none if it
/// is no load case.
pub fn case_of(typed: &str) -> Option<String> {
    let plain = words(typed).concat();
    if let Some(fixed) = FIXED.iter().find(|fixed| words(fixed).concat() == plain) {
        return Some(fixed.to_string());
    }
    let name = joined(typed);
    let rest = name.strip_prefix(['W', 'w'])?;
    // `W1`, `W_up`, `Wx` and `Wind` are winds; `Wall` and `Weight` are not.
    let word: String = rest.chars().take_while(|c| c.is_alphabetic()).collect();
    (word.chars().count() <= 2 || word.eq_ignore_ascii_case("ind")).then(|| format!("W{rest}"))
}

/// The kind of a case, `W` of `W_up`; none if the name is no load case.
pub fn kind(case: &str) -> Option<&'static str> {
    let case = case_of(case)?;
    let fixed = KINDS.iter().find(|kind| **kind == case).copied();
    fixed.or(if case.starts_with('E') { Some("E") } else { Some("W") })
}

/// All cases in the order of a page.
pub fn case_names<'a>(cases: impl IntoIterator<Item = &'a String>) -> Vec<String> {
    let names: BTreeSet<&String> = cases.into_iter().collect();
    let mut names: Vec<String> = names.into_iter().cloned().collect();
    names.sort_by_cached_key(|name| {
        let kind = kind(name);
        KINDS.iter().position(|known| kind == Some(known))
    });
    names
}

/// The part and the case of a reaction by its one name, `H_x_W1`.
pub fn load_column(name: &str) -> Option<(usize, String)> {
    let (part, case) = column(name)?;
    (case_of(&case)? == case && name == column_of(part, &case)).then_some((part, case))
}

/// The one name of a column of reactions.
pub fn column_of(part: usize, case: &str) -> String {
    format!("{}_{case}", PARTS[part].0)
}

/// The part that a heading speaks of, and the case as typed. Its words may be
/// joined by blanks or hyphens, but they stand apart: winds are named freely, and
/// `HxW` might be anything.
pub fn column(name: &str) -> Option<(usize, String)> {
    let name = joined(name);
    PARTS.iter().enumerate().find_map(|(part, (prefix, _))| {
        let head = name.get(..prefix.len()).filter(|head| head.eq_ignore_ascii_case(prefix))?;
        let case = name[head.len()..].strip_prefix('_')?;
        Some((part, case.to_string()))
    })
}

/// What a diagnostic about a load case as such is about: where one cannot be
/// read, none is missed.
pub const CASE: &str = "load case";

/// What to say of a case that is none.
pub fn no_case(name: &str) -> Diagnostic {
    Diagnostic::new(if name.is_empty() {
        "this row names no load case".into()
    } else {
        format!("`{name}` is not a load case")
    })
    .of(Meant, CASE)
    .hint("the cases are D, L, Lr, S, R, E_x, E_y, and W with the name of the wind, such as W1 or W_up")
}
