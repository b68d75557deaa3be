//! Errors that were planted in sheets and tables and in the program itself, one at a time: how many of them the tests noticed, and
//! which they did not. `tests/planted.rs` and `tests/mutants` plant them and write these files; the reasons are written by hand.

use crate::diag::Checked;
use crate::grid::Grid;
use crate::source::Source;

/// Where errors were planted.
#[derive(Clone, Copy)]
pub enum Where {
    Sheets,
    Program,
}

impl Where {
    /// The folder of the files, how many were noticed, and what was not.
    fn files(self) -> [&'static str; 3] {
        macro_rules! of {
            ($folder:literal) => {
                [
                    $folder,
                    include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/", $folder, "/counts.csv")),
                    include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/", $folder, "/escapes.csv")),
                ]
            };
        }
        match self {
            Where::Sheets => of!("tests/planted"),
            Where::Program => of!("tests/mutants"),
        }
    }
}

/// The errors of one sheet, table or file of the program. What the language refuses is not counted.
pub struct Planted {
    pub name: String,
    pub found: usize,
    /// As many as the run missed.
    pub escapes: Vec<Escape>,
}

pub struct Escape {
    /// The line of the sheet as it was planted; of a table, its row; of the program, the line as it was.
    pub line: String,
    pub was: String,
    pub now: String,
    pub reason: String,
}

/// What was planted, by name; and what the first lines of the counts say of the run.
///
/// # Errors
/// One of the files is no table.
pub fn planted(at: Where) -> Checked<(Vec<Planted>, String)> {
    let [folder, counts, escapes] = at.files();
    let read = |name: &str, text: &str| Grid::read(&Source::new(format!("{folder}/{name}.csv"), text));
    let (counts, escapes) = (read("counts", counts)?, read("escapes", escapes)?);
    let cell = |grid: &Grid, row: usize, column: &str| super::file::cell(grid, row, column).to_string();
    let mut all: Vec<Planted> = (0..counts.rows.len())
        .map(|row| Planted {
            name: cell(&counts, row, "name"),
            found: cell(&counts, row, "found").parse().unwrap_or_default(),
            escapes: Vec::new(),
        })
        .collect();
    for row in 0..escapes.rows.len() {
        let of = |column: &str| cell(&escapes, row, column);
        let escape = Escape { line: of("line"), was: of("was"), now: of("now"), reason: of("reason") };
        if let Some(planted) = all.iter_mut().find(|planted| planted.name == of("name")) {
            planted.escapes.push(escape);
        }
    }
    Ok((all, counts.comments.iter().map(|line| line.trim()).collect::<Vec<_>>().join(" ")))
}
