//! Complaints: what is wrong, where, and what would be right. Complaints are
//! collected, so that one run shows all of them. How they look is decided in
//! `report`.

use crate::source::Place;

#[derive(Clone, Debug)]
pub struct Complaint {
    /// Lower case, no final stop, names in backticks.
    pub message: String,
    pub place: Option<Place>,
    /// Stands at the mark under the line.
    pub label: String,
    /// Advice, one line each.
    pub hints: Vec<String>,
    /// Inputs of the sheet that is being worked which the fault comes from,
    /// nearest first: whoever gave them can say where they stand.
    pub rests_on: Vec<String>,
}

impl Complaint {
    pub fn new(message: impl Into<String>) -> Complaint {
        Complaint {
            message: message.into(),
            place: None,
            label: String::new(),
            hints: Vec::new(),
            rests_on: Vec::new(),
        }
    }

    pub fn at(mut self, place: Place) -> Complaint {
        self.place = Some(place);
        self
    }

    pub fn label(mut self, label: impl Into<String>) -> Complaint {
        self.label = label.into();
        self
    }

    pub fn hint(mut self, hint: impl Into<String>) -> Complaint {
        self.hints.push(hint.into());
        self
    }

    pub fn rests_on(mut self, inputs: Vec<String>) -> Complaint {
        self.rests_on = inputs;
        self
    }

    /// Adds the nearest of the known names as a hint, if one is near.
    pub fn hint_near<'a>(self, wrong: &str, known: impl IntoIterator<Item = &'a str>) -> Complaint {
        match nearest(wrong, known) {
            Some(near) => self.hint(format!("did you mean `{near}`?")),
            None => self,
        }
    }

    /// Adds the nearest of the known names as a hint, or lists them if there
    /// are few and none is near.
    pub fn nearest<'a>(self, wrong: &str, known: impl IntoIterator<Item = &'a str>) -> Complaint {
        let known: Vec<&str> = known.into_iter().collect();
        match nearest(wrong, known.iter().copied()) {
            Some(near) => self.hint(format!("did you mean `{near}`?")),
            None if known.is_empty() => self,
            None if known.len() <= 12 => self.hint(format!("known here: {}", list(&known, "and"))),
            None => self,
        }
    }
}

/// All that is wrong; never empty when it is an `Err`.
pub type Complaints = Vec<Complaint>;

pub type Checked<T> = Result<T, Complaints>;

impl From<Complaint> for Complaints {
    fn from(complaint: Complaint) -> Complaints {
        vec![complaint]
    }
}

/// The known name nearest to a wrong one, if one is near enough to be meant.
pub fn nearest<'a>(wrong: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let lower = wrong.to_lowercase();
    known
        .into_iter()
        .map(|name| (strsim::damerau_levenshtein(&lower, &name.to_lowercase()), name))
        .filter(|(distance, name)| *distance <= 1 + name.chars().count().min(wrong.len()) / 4)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

/// `` `a`, `b` or `c` ``.
pub fn list(names: &[impl AsRef<str>], word: &str) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("`{}`", name.as_ref())).collect();
    match quoted.as_slice() {
        [] => "nothing".into(),
        [one] => one.clone(),
        [head @ .., last] => format!("{} {word} {last}", head.join(", ")),
    }
}

/// `1 limit`, `2 limits`.
pub fn count(number: usize, noun: &str) -> String {
    if number == 1 { format!("1 {noun}") } else { format!("{number} {noun}s") }
}
