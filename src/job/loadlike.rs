//! Headings that look like a load and are no column of reactions: `HxW`, `wind
//! shear`, `P.S`. What one may be meant for is said, and never taken.

use super::loads::{PARTS, case_of, column_of};
use crate::diag::list;
use crate::names::visible;

/// What the words of a heading speak of.
#[derive(Debug, Default, PartialEq)]
pub struct Guess {
    /// Axial, or a shear.
    kind: Option<Kind>,
    axis: Option<char>,
    case: Option<&'static str>,
    /// The case as typed, of a wind.
    wind: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Kind {
    Axial,
    Shear,
    Moment,
    /// A force, whichever.
    Load,
}

/// Words that name a load wherever they stand.
const WORDS: [(&str, Kind); 16] = [
    ("axial", Kind::Axial),
    ("uplift", Kind::Axial),
    ("download", Kind::Axial),
    ("downforce", Kind::Axial),
    ("downward", Kind::Axial),
    ("upward", Kind::Axial),
    ("compression", Kind::Axial),
    ("tension", Kind::Axial),
    ("shear", Kind::Shear),
    ("thrust", Kind::Shear),
    ("moment", Kind::Moment),
    ("load", Kind::Load),
    ("loads", Kind::Load),
    ("force", Kind::Load),
    ("reaction", Kind::Load),
    ("reactions", Kind::Load),
];

/// Words that name a load case; the second half are no words, and count only
/// among others that speak of loads.
const CASES: [(&str, &str); 22] = [
    ("dead", "D"),
    ("live", "L"),
    ("snow", "S"),
    ("rain", "R"),
    ("wind", "W"),
    ("seismic", "E"),
    ("earthquake", "E"),
    ("quake", "E"),
    ("dl", "D"),
    ("ll", "L"),
    ("lr", "Lr"),
    ("rll", "Lr"),
    ("sl", "S"),
    ("rl", "R"),
    ("wl", "W"),
    ("eq", "E"),
    ("d", "D"),
    ("l", "L"),
    ("s", "S"),
    ("r", "R"),
    ("ex", "E"),
    ("ey", "E"),
];

/// How many of `CASES` are words.
const SPOKEN: usize = 8;

/// Letters that stand for a force.
const LETTERS: [(char, Kind); 8] = [
    ('p', Kind::Axial),
    ('n', Kind::Axial),
    ('h', Kind::Shear),
    ('v', Kind::Shear),
    ('f', Kind::Load),
    ('r', Kind::Load),
    ('q', Kind::Shear),
    ('m', Kind::Moment),
];

/// What a heading speaks of, if it looks like a load.
pub fn guess(heading: &str) -> Option<Guess> {
    let parts = parts(heading);
    let mut guess = Guess::default();
    let (mut spoken, mut strange) = (false, false);
    for part in &parts {
        let plain = part.to_lowercase();
        spoken |= WORDS.iter().any(|(word, _)| *word == plain);
        spoken |= CASES[..SPOKEN].iter().any(|(word, _)| *word == plain);
        strange |= !guess.take(&plain);
    }
    if guess.case == Some("L") && parts.iter().any(|part| part.eq_ignore_ascii_case("roof")) {
        guess.case = Some("Lr");
    }
    let says = guess.kind.is_some() || guess.case.is_some() || guess.wind.is_some();
    (spoken || says && !strange).then_some(guess)
}

impl Guess {
    pub fn is_moment(&self) -> bool {
        self.kind == Some(Kind::Moment)
    }

    /// Takes a word in; whether it speaks of a load.
    fn take(&mut self, word: &str) -> bool {
        if let Some((_, kind)) = WORDS.iter().find(|(known, _)| *known == word) {
            self.kind = self.kind.filter(|known| *known != Kind::Load).or(Some(*kind));
            return true;
        }
        if ["x", "y", "z"].contains(&word) {
            self.axis = word.chars().next();
            return true;
        }
        if self.case(word) {
            return true;
        }
        // `hxw`, `psnow`, `m`: a letter, an axis, a case.
        let letter = LETTERS.iter().find(|(letter, _)| word.starts_with(*letter));
        let Some((_, kind)) = letter.filter(|_| self.kind.is_none_or(|known| known == Kind::Load)) else {
            return false;
        };
        let after = &word[1..];
        let axis = after.chars().next().filter(|c| ['x', 'y', 'z'].contains(c));
        let case = if axis.is_some() { &after[1..] } else { after };
        let read = case.is_empty() || self.case(case);
        if read {
            self.kind = Some(*kind);
            self.axis = axis.or(self.axis);
        }
        read
    }

    fn case(&mut self, word: &str) -> bool {
        if let Some((_, case)) = CASES.iter().find(|(known, _)| *known == word) {
            self.case = Some(*case);
            let axis = [("ex", 'x'), ("ey", 'y')].into_iter().find(|(known, _)| *known == word);
            self.axis = axis.map(|(_, axis)| axis).or(self.axis);
            return true;
        }
        let wind = case_of(word).filter(|case| case.starts_with('W'));
        let is_wind = wind.is_some();
        self.wind = wind.or(self.wind.take());
        is_wind
    }

    /// The parts that it can be, by their place.
    fn parts(&self) -> Vec<usize> {
        match (self.kind, self.axis) {
            (Some(Kind::Axial), _) | (_, Some('z')) => vec![0],
            (_, Some('x')) => vec![1],
            (_, Some('y')) => vec![2],
            (Some(Kind::Shear), None) => vec![1, 2],
            // Gravity has no shear to speak of.
            (_, None) if self.case.is_some_and(|case| !["W", "E"].contains(&case)) => vec![0],
            _ => vec![0, 1, 2],
        }
    }

    /// The columns of `posts.csv` that may be meant, as they are headed.
    pub fn columns(&self, unit: &str) -> String {
        let axis = self.axis.filter(|axis| *axis != 'z');
        let case = match (&self.wind, self.case, axis) {
            (Some(wind), ..) => wind.clone(),
            (None, Some("E"), Some(axis)) => format!("E_{axis}"),
            (None, Some("E"), None) => "E_x".into(),
            (None, Some(case), _) => case.into(),
            (None, None, _) => "CASE".into(),
        };
        let columns = self.parts().into_iter().map(|part| format!("{} [{unit}]", column_of(part, &case)));
        list(&columns.collect::<Vec<_>>(), "or")
    }

    /// The columns of `reactions.csv` that may be meant.
    pub fn reaction(&self) -> String {
        list(&self.parts().into_iter().map(|part| PARTS[part].0).collect::<Vec<_>>(), "or")
    }
}

/// The words of a heading: apart, or told by a capital that follows a small
/// letter (`windShear`).
fn parts(heading: &str) -> Vec<String> {
    let mut parts = vec![String::new()];
    let mut before = ' ';
    for c in visible(heading).chars() {
        let word = parts.last_mut().expect("one at least");
        if !c.is_alphanumeric() {
            parts.push(String::new());
        } else if before.is_lowercase() && c.is_uppercase() && word.chars().count() > 2 {
            parts.push(c.into());
        } else {
            word.push(c);
        }
        before = c;
    }
    parts.retain(|part| !part.is_empty());
    parts
}
