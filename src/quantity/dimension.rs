//! Dimensions as whole exponents of the five base units.

use std::fmt;

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Dim {
    pub length: i8,
    pub force: i8,
    pub time: i8,
    pub angle: i8,
    pub temperature: i8,
}

/// Dimensions that have a name of their own in a sheet's `needs`.
const NAMED: &[(&str, Dim)] = &[
    ("number", Dim::NONE),
    ("length", Dim::LENGTH),
    ("area", Dim::of(2, 0)),
    ("volume", Dim::of(3, 0)),
    ("inertia", Dim::of(4, 0)),
    ("force", Dim::FORCE),
    ("stress", Dim::of(-2, 1)),
    ("moment", Dim::of(1, 1)),
    ("line-load", Dim::of(-1, 1)),
    ("flexibility", Dim::of(1, -1)),
    ("density", Dim::of(-3, 1)),
    ("angle", Dim::ANGLE),
    ("time", Dim { time: 1, ..Dim::NONE }),
    ("speed", Dim { length: 1, time: -1, ..Dim::NONE }),
    ("temperature", Dim { temperature: 1, ..Dim::NONE }),
];

impl Dim {
    pub const NONE: Dim = Dim { length: 0, force: 0, time: 0, angle: 0, temperature: 0 };
    pub const LENGTH: Dim = Dim::of(1, 0);
    pub const FORCE: Dim = Dim::of(0, 1);
    pub const ANGLE: Dim = Dim { angle: 1, ..Dim::NONE };

    pub const fn of(length: i8, force: i8) -> Dim {
        Dim { length, force, time: 0, angle: 0, temperature: 0 }
    }

    pub fn named(name: &str) -> Option<Dim> {
        NAMED.iter().find(|(known, _)| *known == name).map(|(_, dim)| *dim)
    }

    pub fn names() -> impl Iterator<Item = &'static str> {
        NAMED.iter().map(|(name, _)| *name)
    }

    pub fn is_none(self) -> bool {
        self == Dim::NONE
    }

    fn zip(self, other: Dim, f: impl Fn(i8, i8) -> i8) -> Dim {
        // The least number of all has no opposite.
        let f = |a, b| f(a, b).max(-i8::MAX);
        Dim {
            length: f(self.length, other.length),
            force: f(self.force, other.force),
            time: f(self.time, other.time),
            angle: f(self.angle, other.angle),
            temperature: f(self.temperature, other.temperature),
        }
    }

    pub fn times(self, other: Dim) -> Dim {
        self.zip(other, i8::saturating_add)
    }

    pub fn over(self, other: Dim) -> Dim {
        self.zip(other, i8::saturating_sub)
    }

    pub fn power(self, exponent: i8) -> Dim {
        self.zip(self, |one, _| one.saturating_mul(exponent))
    }

    /// The square root, if every exponent is even.
    pub fn root(self) -> Option<Dim> {
        let even = [self.length, self.force, self.time, self.angle, self.temperature].iter().all(|e| e % 2 == 0);
        even.then(|| self.zip(self, |one, _| one / 2))
    }
}

/// `a length`, `an angle`.
pub fn with_article(noun: &str) -> String {
    let an = noun.starts_with(['a', 'e', 'i', 'o', 'u']);
    format!("{} {noun}", if an { "an" } else { "a" })
}

impl fmt::Display for Dim {
    /// `stress`, or base units for a dimension without a name.
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        if let Some((name, _)) = NAMED.iter().find(|(_, dim)| dim == self) {
            return f.write_str(name);
        }
        let parts = [
            ("length", self.length),
            ("force", self.force),
            ("time", self.time),
            ("angle", self.angle),
            ("temperature", self.temperature),
        ];
        let text = |(name, power): (&str, i8)| if power == 1 { name.to_string() } else { format!("{name}^{power}") };
        let parts: Vec<String> = parts.into_iter().filter(|(_, power)| *power != 0).map(text).collect();
        f.write_str(&parts.join(" "))
    }
}
