//! What the headings of a file mean. Each is a column that somebody reads, under
//! its one name, or the user's own: none is dropped without a word.

use std::collections::BTreeMap;

use super::known::Known;
use super::loadlike::guess;
use super::loads::{CASE, PARTS, case_of, column, column_of, no_case};
use super::mapping::{Mapping, columns_of_reactions, likely_line};
use crate::diag::{Diagnostic, Diagnostics, Kind::Meant, Kind::Unreadable, list};
use crate::grid::{Column, Grid};
use crate::names::{meant, nearest, same_name, turned, words};
use crate::quantity::{Dim, Unit, read};

const OWN: &str = "a column of your own begins with `my `";

/// What is wrong with the headings of a file, and what is worth a look.
#[derive(Default)]
pub struct Headings {
    pub wrong: Diagnostics,
    pub notes: Diagnostics,
}

/// Files in which a load can stand.
#[derive(Clone, Copy, PartialEq)]
enum Loads {
    /// `P_D`, `H_x_W1`.
    Columns,
    /// `P`, `H_x`, a row for each case.
    Rows,
    None,
}

/// Gives each column of a file the one name that it is known by. `file` is the table that
/// it holds and its own name.
pub fn name_columns(grid: &mut Grid, (table, file): (&str, &str), known: &Known, mapping: &Mapping) -> Headings {
    let loads = match table {
        "posts" => Loads::Columns,
        "reactions" => Loads::Rows,
        _ => Loads::None,
    };
    let names = match loads {
        Loads::Rows => columns_of_reactions(),
        _ => known.files.get(table).into_iter().flat_map(BTreeMap::keys).map(String::as_str).collect(),
    };
    let reader = Reader { grid, table, file, known, mapping, names, loads };
    let mut headings = Headings::default();
    let mut names: Vec<Option<String>> = Vec::new();
    let mut unread: Vec<usize> = Vec::new();
    let mut last_slip = None;
    for (at, heading) in grid.columns.iter().enumerate() {
        match reader.meaning(at) {
            Meaning::One(name) => names.push(Some(name)),
            Meaning::Wrong(diagnostic) => {
                headings.wrong.push(diagnostic);
                names.push(None);
            }
            Meaning::None => {
                match reader.slip(at) {
                    Some(slip) => {
                        last_slip = Some(headings.wrong.len());
                        headings.wrong.push(slip);
                    }
                    None if is_own(&heading.name) => {}
                    None => unread.push(at),
                }
                names.push(None);
            }
        }
    }
    headings.notes.extend(reader.unread(&unread));
    // It is said once, at the end of what is about columns that nobody knows.
    let last = match last_slip {
        Some(at) => headings.wrong.get_mut(at),
        None => headings.notes.last_mut(),
    };
    if let Some(last) = last {
        last.hints.push(match loads {
            Loads::Rows => format!("the columns of `reactions.csv` are {}", list(&columns_of_reactions(), "and")),
            _ => format!("`socle sheets --columns {table}` lists every column that there is"),
        });
    }
    headings.wrong.extend(reader.doubled(&names));
    for (column, name) in grid.columns.iter_mut().zip(names) {
        column.turned = loads == Loads::Rows && mapping.column(column).is_some_and(|alias| alias.turned);
        column.read = name.is_some();
        column.name = name.unwrap_or(std::mem::take(&mut column.name));
    }
    headings
}

/// A force, a moment, a line load.
const FORCES: [Dim; 3] = [Dim::FORCE, Dim::of(1, 1), Dim::of(-1, 1)];

/// A length, an area.
const SIZES: [Dim; 2] = [Dim::LENGTH, Dim::of(2, 0)];

/// Words that speak of a size wherever they stand.
const SPOKEN: [&str; 15] = [
    "size",
    "sizes",
    "section",
    "length",
    "height",
    "width",
    "depth",
    "thickness",
    "diameter",
    "dia",
    "diam",
    "spacing",
    "embedment",
    "long",
    "thick",
];

/// Words beside a name that make no other one of it: `post species`, `grade 2`, `width in`.
const BESIDE: [&str; 14] =
    ["post", "posts", "timber", "column", "base", "anchor", "in", "inch", "ft", "mm", "cm", "type", "name", "no"];

/// Letters of a name that stands in others by chance.
const SHORT: usize = 3;

enum Meaning {
    One(String),
    Wrong(Diagnostic),
    None,
}

/// `my note`: a column that its user keeps for himself.
fn is_own(name: &str) -> bool {
    words(name).first().is_some_and(|word| word == "my")
}

struct Reader<'a> {
    grid: &'a Grid,
    table: &'a str,
    file: &'a str,
    known: &'a Known,
    mapping: &'a Mapping,
    /// What is read of this file.
    names: Vec<&'a str>,
    loads: Loads,
}

impl Reader<'_> {
    fn at(&self, heading: &Column, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(message).at(self.grid.place(&heading.cell))
    }

    fn meaning(&self, at: usize) -> Meaning {
        let heading = &self.grid.columns[at];
        let mapped = match self.loads {
            Loads::Rows => self.mapping.column(heading).map(|alias| alias.name.clone()),
            Loads::Columns => self.mapping.load_column(&heading.name),
            Loads::None => None,
        };
        if let Some(name) = mapped {
            return Meaning::One(name);
        }
        match meant(&heading.name, self.names.iter().copied())[..] {
            [] => {}
            [name] => {
                return self.mistaken(at, name).map_or_else(|| Meaning::One(name.into()), Meaning::Wrong);
            }
            ref several => {
                let what = format!("the column `{}` could be {}", heading.name, list(several, "or"));
                return Meaning::Wrong(self.at(heading, what).hint("write the one that you mean exactly like that"));
            }
        }
        if self.loads != Loads::Columns {
            return Meaning::None;
        }
        match column(&heading.name) {
            None => Meaning::None,
            Some(_) if turned(&heading.name).is_some() => Meaning::Wrong(
                self.at(heading, format!("a minus before the column `{}` turns no sign", heading.name))
                    .of(Meant, CASE)
                    .hint("leave it out, and write the numbers of the column with the other sign"),
            ),
            Some((part, case)) => match case_of(&case) {
                Some(case) => Meaning::One(column_of(part, &case)),
                None => Meaning::Wrong(no_case(&case).at(self.grid.place(&heading.cell))),
            },
        }
    }

    /// What to say of a column that has the name of one that is read, and holds
    /// something else: `V [kip]` is no wind speed.
    fn mistaken(&self, at: usize, name: &str) -> Option<Diagnostic> {
        let heading = &self.grid.columns[at];
        let dim = (*self.known.files.get(self.table)?.get(name)?)?;
        let unit = heading.unit.as_ref().map(|unit| unit.dim).filter(|found| !found.is_none());
        let other = match unit {
            Some(found) => found != dim,
            None => !dim.is_none() && !FORCES.contains(&dim) && guess(&heading.name).is_some() && self.bare(at),
        };
        let what = format!("the column `{}` is not a {dim}, as `{name}` is", heading.cell.text);
        let wrong = self.at(heading, what).of(Unreadable, name);
        other.then(|| match self.force(at).filter(|_| self.loads != Loads::None) {
            Some(_) if dim == Dim::of(-1, 1) => {
                wrong.hint(format!("`{name}` is the wind per foot of the post: write `{name} [lbf/ft]`"))
            }
            Some(hints) => hints.into_iter().fold(wrong, Diagnostic::hint),
            None => wrong.hint(OWN),
        })
    }

    /// Whether the cells of a column are numbers without a unit.
    fn bare(&self, at: usize) -> bool {
        let mut cells = self.grid.rows.iter().map(|row| row[at].text.as_str());
        cells.any(|text| read(text, &[], None, self.grid.decimals).is_ok())
    }

    /// What a column that nobody reads is a slip of; none for one that may be
    /// kept for oneself.
    fn slip(&self, at: usize) -> Option<Diagnostic> {
        let heading = &self.grid.columns[at];
        if is_own(&heading.name) {
            return None;
        }
        let there = |name: &str| self.grid.columns.iter().any(|column| same_name(&column.name, name));
        let near = || nearest(&heading.name, self.names.iter().copied().filter(|name| !there(name)));
        let read = (self.loads != Loads::None).then(|| self.force(at)).flatten();
        match read {
            Some(hints) if self.looks_like_a_load(at) || near().is_none() => {
                let what = format!("the column `{}` looks like a load, but nothing reads it", heading.name);
                let wrong = self.at(heading, what).of(Meant, CASE);
                let own = OWN.to_string();
                return Some(hints.into_iter().chain([own]).fold(wrong, Diagnostic::hint));
            }
            _ => {}
        }
        if let Some(near) = near() {
            return Some(
                self.at(heading, format!("nothing reads a column `{}`", heading.name))
                    .of(Meant, near)
                    .hint(format!("did you mean `{near}`? {OWN}")),
            );
        }
        if self.loads != Loads::Columns {
            return self.like(at);
        }
        let elsewhere = match (self.known.file_of(&heading.name), self.known.table_of(&heading.name)) {
            (Some(file), _) => format!("it is a column of {file}"),
            // What a post may say for itself is a column of its own.
            (None, Some(table)) => {
                format!(
                    "it applies to the whole job: write it once, under `[{table}]` in `job.toml`, and remove the column"
                )
            }
            (None, None) => return self.like(at),
        };
        Some(
            self.at(heading, format!("`{}` is not read from `posts.csv`", heading.name))
                .hint(format!("{elsewhere}; {OWN}")),
        )
    }

    /// What to say of a column that speaks of a size, or that has the name of one that is read and a word more. Of an analysis, whose
    /// sizes are those of its model, none is.
    fn like(&self, at: usize) -> Option<Diagnostic> {
        if self.loads == Loads::Rows {
            return None;
        }
        let heading = &self.grid.columns[at];
        let spoken = words(&heading.name);
        let within = |name: &str| {
            let name = words(name);
            let run = spoken.windows(name.len()).position(|run| run == name);
            let beside = |word: &String| BESIDE.contains(&word.as_str()) || word.chars().all(|c| c.is_ascii_digit());
            let alone = |at: usize| spoken[..at].iter().chain(&spoken[at + name.len()..]).all(beside);
            name.concat().len() > SHORT && run.is_some_and(alone)
        };
        let known: Vec<&str> = self.names.iter().copied().filter(|name| within(name)).collect();
        let size = heading.unit.as_ref().is_some_and(|unit| SIZES.contains(&unit.dim))
            || spoken.iter().any(|word| SPOKEN.contains(&word.as_str()));
        let what = match (size, &known[..]) {
            (false, []) => return None,
            (true, []) => "a size".to_string(),
            (_, known) => list(known, "or"),
        };
        let wrong = self.at(heading, format!("the column `{}` looks like {what}, but nothing reads it", heading.name));
        let meant =
            known.iter().fold(wrong, |wrong, name| wrong.of(Meant, name).hint(format!("did you mean `{name}`?")));
        Some(meant.hint(OWN))
    }

    fn looks_like_a_load(&self, at: usize) -> bool {
        guess(&self.grid.columns[at].name).is_some()
    }

    /// What to say of a column that holds forces; none for one that does not.
    fn force(&self, at: usize) -> Option<Vec<String>> {
        let heading = &self.grid.columns[at];
        let guess = guess(&heading.name);
        let cells = || self.grid.rows.iter().map(|row| row[at].text.as_str()).filter(|text| !text.is_empty());
        let (holds, unit) = match &heading.unit {
            Some(unit) if FORCES.contains(&unit.dim) => (true, unit.clone()),
            // A pressure is a load where its name says so.
            Some(unit) => (unit.dim == Dim::of(-2, 1) && guess.is_some(), Unit::usual(Dim::FORCE)),
            None => {
                let force =
                    cells().find_map(|text| read(text, &[Unit::usual(Dim::FORCE)], None, self.grid.decimals).ok());
                let number = |text: &str| {
                    text.trim_start_matches(['-', '−', '+', '.', ' ']).starts_with(|c: char| c.is_ascii_digit())
                };
                let numbers = guess.is_some() && cells().any(number);
                (force.is_some() || numbers, force.map_or(Unit::usual(Dim::FORCE), |reading| reading.unit))
            }
        };
        if !holds {
            return None;
        }
        let moment = guess.as_ref().is_some_and(|guess| guess.is_moment()) || unit.dim == Dim::of(1, 1);
        if moment {
            // An analysis prints the moments of its hinges, which are nothing.
            let nothing =
                |text: &str| text.trim_start_matches(['-', '−', '+']).chars().all(|c| ['0', '.', ','].contains(&c));
            let hints = [
                "the foot of a post is a hinge: no moment is read from a load case",
                "a moment on a base that is rated for it goes in `base_moment [lbf ft]` of `posts.csv`",
            ];
            return (!cells().all(nothing)).then(|| hints.map(String::from).into());
        }
        if self.loads == Loads::Columns && unit.dim == Dim::of(-1, 1) {
            let wind = "wind on the post itself goes in `w_x [lbf/ft]` and `w_y [lbf/ft]`, or in `w_x_W1 [lbf/ft]` for one wind case";
            return Some(vec![wind.into()]);
        }
        let unit = if unit.dim == Dim::FORCE { unit } else { Unit::usual(Dim::FORCE) };
        let mut hints = Vec::new();
        if self.loads == Loads::Rows {
            let meant = guess.map_or(list(&PARTS.map(|(part, _)| part), "or"), |guess| guess.reaction());
            hints.push(format!("did you mean {meant}? `P` is down positive"));
            let line = likely_line(&heading.name);
            hints.extend(
                line.map(|line| format!("or say in `job.toml`, below `[loads.columns]`, what it is: `{line}`")),
            );
            return Some(hints);
        }
        if let Some(guess) = &guess {
            hints.push(format!("did you mean {}?", guess.columns(unit.name())));
        }
        hints.push(
            "loads go in `P_CASE` (down positive), `H_x_CASE` and `H_y_CASE`; the cases are D, L, Lr, S, R, W1 and other winds, E_x, E_y".into(),
        );
        Some(hints)
    }

    /// Columns that are one.
    fn doubled(&self, names: &[Option<String>]) -> Diagnostics {
        let mut first: BTreeMap<String, &Column> = BTreeMap::new();
        let mut diagnostics = Diagnostics::new();
        for (heading, name) in self.grid.columns.iter().zip(names) {
            // What is known has one name; of the rest, letters tell.
            let key = name.clone().unwrap_or_else(|| format!(" {}", words(&heading.name).concat()));
            match first.get(&key) {
                Some(known) => diagnostics.push(
                    self.at(heading, format!("`{}` and `{}` are the same column", known.cell.text, heading.cell.text)).hint(
                        "names that differ only in capitals, spaces, hyphens, underscores or invisible characters are the same: leave one out",
                    ),
                ),
                None => drop(first.insert(key, heading)),
            }
        }
        diagnostics
    }

    /// One note of all the columns that nobody reads.
    fn unread(&self, columns: &[usize]) -> Option<Diagnostic> {
        let headings: Vec<&Column> = columns.iter().map(|at| &self.grid.columns[*at]).collect();
        let names: Vec<&str> = headings.iter().map(|heading| heading.name.as_str()).collect();
        let first = headings.first()?;
        let (columns, are) = if names.len() == 1 { ("the column", "is") } else { ("the columns", "are") };
        let note = self.at(first, format!("{columns} {} of `{}` {are} not read", list(&names, "and"), self.file));
        let elsewhere = headings.iter().filter_map(|heading| {
            Some(format!("`{}` is a column of {}", heading.name, self.known.file_of(&heading.name)?))
        });
        let note = elsewhere.fold(note, Diagnostic::hint);
        Some(note.hint("columns of your own that begin with `my ` are not listed here"))
    }
}
