//! Which lines the worked pages hold, and in which order: the lines that limits
//! rest on, sheet by sheet, those of several uses of a sheet and of several
//! columns together.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::chain::{Chain, LineAt, Place, starts_at};
use crate::formula::{Expr, Value};
use crate::sheet::{Origin, Sheet, Step, Stmt, Worked};

/// The drawings of worked pages; what shop and field are shown stands there.
const DRAWN: [&str; 3] = ["free-body", "pin-group", "roof-wind"];

#[derive(Default)]
pub struct Draft {
    pub blocks: Vec<Block>,
    cursor: usize,
    prose: bool,
}

/// The lines of a sheet up to the next one that it uses.
pub struct Block {
    pub sheet: Arc<Sheet>,
    segment: usize,
    /// Where it stands among all of the sheets, use by use.
    key: Vec<usize>,
    pub lines: Vec<DraftLine>,
    cursor: usize,
}

pub struct DraftLine {
    pub place: Place,
    /// What tells apart formulas that stand in one place: the branch that is taken.
    pub variant: String,
    /// The uses of the sheet, by path, and the columns that it is worked in.
    pub at: Vec<(String, usize)>,
    /// What is in a drawing: the one that shows most stands for all.
    loaded: f64,
}

/// How much pushes and bends in a drawing.
fn loaded(values: &[(String, Value)]) -> f64 {
    let force = |value: &Value| match value {
        Value::Quantity(quantity) if quantity.dim.force != 0 => quantity.value.abs(),
        _ => 0.0,
    };
    values.iter().map(|(_, value)| force(value)).sum()
}

impl Draft {
    /// Enters the lines of a column, with the prose of its sheets or without.
    pub fn enter(&mut self, chain: &Chain, column: usize, lines: &BTreeSet<LineAt>, prose: bool) {
        self.prose = prose;
        self.cursor = 0;
        self.blocks.iter_mut().for_each(|block| block.cursor = 0);
        for (at, root) in chain.roots.iter().enumerate() {
            self.sheet(chain, column, (root, &root.name), lines, &[at]);
        }
    }

    fn sheet(
        &mut self,
        chain: &Chain,
        column: usize,
        (worked, path): (&Worked, &str),
        lines: &BTreeSet<LineAt>,
        above: &[usize],
    ) {
        // Another use of a sheet finds its lines again, from the first one on.
        self.blocks.iter_mut().filter(|block| block.sheet.name == worked.sheet.name).for_each(|block| block.cursor = 0);
        let named = used_at(&worked.sheet);
        let uses: Vec<usize> = named.iter().map(|(at, _)| *at).collect();
        // What follows a sheet that is used comes after all of that sheet.
        let key = |segment: usize| match segment {
            0 => [above, &[0]].concat(),
            _ => [above, &[uses[segment - 1], usize::MAX]].concat(),
        };
        let add = |draft: &mut Draft, segment: usize, place: Place, variant: String| {
            if lines.contains(&(path.to_string(), place.clone())) {
                draft.add((&worked.sheet, segment, key(segment)), place, variant, (path, column), 0.0);
            }
        };
        for given in &worked.given {
            if let Origin::Formula(expr) = &given.origin {
                let above = chain.above(path).map_or("", |(above, _)| &above.sheet.name);
                add(self, 0, Place::Entry(given.input.name.clone()), variant_of(above, expr));
            }
        }
        // A drawing or prose stands where a line of the sheet does.
        let printed = lines.iter().any(|(known, _)| known == path);
        let mut last = None;
        for (at, step) in worked.steps.iter().enumerate() {
            if let (Step::Figure { name, values, .. }, Some(segment)) = (step, last)
                && DRAWN.contains(&name.as_str())
            {
                let of = (&worked.sheet, segment, key(segment));
                self.add(of, Place::Aside(at), name.clone(), (path, column), loaded(values));
            } else if let Step::Prose(_) | Step::Note(_) = step {
                if self.prose {
                    let segment = last.unwrap_or(0);
                    let of = (&worked.sheet, segment, key(segment));
                    self.add(of, Place::Aside(at), format!("{step:?}"), (path, column), 0.0);
                }
            } else if let Step::Use(inner) = step {
                // A sheet that joins is used nowhere: it comes last.
                let at = named.iter().find(|(_, names)| names.contains(&inner.name)).map_or(usize::MAX, |(at, _)| *at);
                let path = format!("{path}/{}", inner.name);
                self.sheet(chain, column, (inner, &path), lines, &[above, &[at]].concat());
            } else if let Some(start) = starts_at(step) {
                let segment = uses.iter().filter(|used| **used < start).count();
                let variant = if let Step::Let { taken, .. } = step { taken.to_string() } else { String::new() };
                add(self, segment, Place::Step(start), variant);
                if printed {
                    last = Some(segment);
                }
            }
        }
    }

    fn add(
        &mut self,
        (sheet, segment, key): (&Arc<Sheet>, usize, Vec<usize>),
        place: Place,
        variant: String,
        (path, column): (&str, usize),
        loaded: f64,
    ) {
        let same = |block: &Block| block.sheet.name == sheet.name && block.segment == segment;
        let at = self.blocks.iter().position(same).unwrap_or_else(|| {
            let (lines, key) = (Vec::new(), key.clone());
            let block = Block { sheet: sheet.clone(), segment, key, lines, cursor: 0 };
            self.blocks.insert(self.cursor, block);
            self.cursor
        });
        self.cursor = at + 1;
        let block = &mut self.blocks[at];
        if key < block.key {
            block.key = key;
        }
        // One drawing shows what a sheet is about, and it says its prose once.
        let aside = |line: &DraftLine| matches!((&line.place, &place), (Place::Aside(_), Place::Aside(_)));
        let same = |line: &DraftLine| (line.place == place || aside(line)) && line.variant == variant;
        let line = block.lines.iter().position(same).unwrap_or_else(|| {
            block.lines.insert(block.cursor, DraftLine { place: place.clone(), variant, at: Vec::new(), loaded });
            block.cursor
        });
        block.cursor = line + 1;
        let line = &mut block.lines[line];
        if line.at.is_empty() || !matches!(line.place, Place::Aside(_)) {
            line.at.push((path.into(), column));
        } else if loaded > line.loaded {
            (line.place, line.loaded, line.at) = (place, loaded, vec![(path.into(), column)]);
        }
    }

    /// The blocks in the order of the sheets; those of one sheet that no other comes
    /// between are one.
    pub fn joined(mut self) -> Vec<Block> {
        self.blocks.sort_by(|a, b| a.key.cmp(&b.key));
        let mut blocks: Vec<Block> = Vec::new();
        for block in self.blocks.drain(..) {
            match blocks.last_mut() {
                Some(last) if last.sheet.name == block.sheet.name => last.lines.extend(block.lines),
                _ => blocks.push(block),
            }
        }
        blocks
    }
}

fn variant_of(above: &str, expr: &Expr) -> String {
    format!("{above} {}", expr.span.start)
}

/// Where a sheet uses others, with the names of the uses that can stand there.
fn used_at(sheet: &Sheet) -> Vec<(usize, Vec<String>)> {
    let mut found = Vec::new();
    sheet.walk(&mut |stmt| match stmt {
        Stmt::Use(used) => found.push((used.span.start, vec![used.name.clone()])),
        Stmt::Place(place) => {
            found.push((place.span.start, place.choices.iter().map(|(_, used)| used.name.clone()).collect()));
        }
        _ => {}
    });
    found
}
