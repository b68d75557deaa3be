//! On which page each numbered line will about stand. The typesetter goes over a
//! document until the pages that its lines name stand still; what they name at first
//! is this, so that little moves when the pages are known.

use std::collections::BTreeMap;

use super::build::Pages;
use super::ledger::spans_text;
use super::model::{InputRow, Line, LowLimit, Math, Package, Row, Section, Span, Worked};

// The measures are those of the packages of the fixtures, not of a page: as lines are
// counted here, so many points make one.
const PAGE: f64 = 1150.0;
/// A line of words, and one with a fraction.
const WORDS: f64 = 12.6;
const TALL: f64 = 24.0;
/// Characters in a line of the body, and in one of the lists in fine type.
const BODY: f64 = 92.0;
const FINE: f64 = 105.0;
/// Of a fact, which has half of the page.
const FACT: f64 = 46.0;

/// Pages by the numbers of lines and of assumptions.
pub fn guess(package: &Package, pages: &Pages) -> BTreeMap<String, usize> {
    let mut guessed = BTreeMap::new();
    guessed.extend(package.assumptions.iter().map(|it| (it.no.clone(), 4)));
    // The cover, lists of what is open and assumed, the key plan with tables of loads.
    let open = &package.open;
    let listed = open.values.len() + open.assumed.len() + open.starters.len() + package.assumptions.len();
    let lists = (1.2 + listed as f64 / 42.0).ceil();
    let mut before = 2.0 + lists + package.governing.len() as f64 / 16.0;
    for chapter in &pages.loads {
        before = stand(chapter, before, &mut guessed);
    }
    before = before.ceil() + pages.sheets.len() as f64;
    for chapter in &pages.worked {
        before = stand(chapter, before, &mut guessed).ceil();
    }
    guessed
}

/// Enters the lines of a chapter that begins behind so many pages; how many there are behind it.
fn stand(chapter: &Worked, before: f64, guessed: &mut BTreeMap<String, usize>) -> f64 {
    let mut down = before * PAGE + 40.0;
    let mut enter = |no: &str, down: f64| guessed.insert(no.to_string(), (down / PAGE) as usize + 1);
    for section in &chapter.sections {
        down += head(section);
        for line in &section.lines {
            match line {
                Line::Facts { items, .. } => {
                    down += 20.0;
                    for two in items.chunks(2) {
                        two.iter().for_each(|fact| _ = enter(&fact.no, down));
                        let lines = two.iter().map(|fact| {
                            let rows: usize =
                                fact.rows.iter().map(|row| row.tag.len() + row.value.number.len() + 6).sum();
                            lines(spans_text(&fact.say).len() + wide(&fact.symbol) + rows, FACT)
                        });
                        down += 9.6 * lines.fold(1.0, f64::max) + 3.0;
                    }
                }
                Line::Inputs { items } => {
                    let of = |row: &InputRow| {
                        row.tag.len() + row.value.number.len() + row.value.unit.len() + row.from.words.len()
                    };
                    let all =
                        items.iter().flat_map(|item| item.rows.iter().map(|row| wide(&item.symbol) + of(row) + 5));
                    down += 9.0 * lines(all.sum(), FINE) + 4.0;
                }
                Line::Rests { lines: rests } => down += 8.6 * lines(5 * rests.len(), FINE / 3.0),
                Line::Prose { spans } => down += WORDS * lines(spans_text(spans).len(), BODY),
                Line::Figure { no, .. } => {
                    enter(no, down);
                    down += 200.0;
                }
                Line::Step { no, say, symbol, symbolic, when, rows, .. } => {
                    enter(no, down);
                    let head = symbol_and(symbolic.as_ref(), symbol) + spans_text(say).len() + spans_text(when).len();
                    let tall = |math: &Option<Math>| math.as_ref().is_some_and(|math| math.runs.is_none());
                    let of = |tall: bool| if tall { TALL } else { WORDS };
                    let numbers = |row: &Row| {
                        row.substituted.as_ref().map_or(0, wide) + row.tag.len() + row.value.number.len() + 4
                    };
                    down += match rows.as_slice() {
                        [row] => of(tall(symbolic)) * lines(head + numbers(row), BODY),
                        rows => {
                            let all = rows.iter().map(|row| {
                                of(tall(&row.substituted)) * if row.half { 0.5 } else { lines(numbers(row), BODY) }
                            });
                            of(tall(symbolic)) * lines(head, BODY) + all.sum::<f64>()
                        }
                    };
                }
                Line::Candidates { no, rows, .. } => {
                    enter(no, down);
                    down += 18.0 + 14.0 * rows.len() as f64;
                }
                Line::Lookup { no, rows, .. } => {
                    enter(no, down);
                    down += WORDS * if rows.len() == 1 { 1.5 } else { 1.0 + rows.len() as f64 };
                }
                Line::Limit { no, rows, short, .. } => {
                    enter(no, down);
                    down += if *short { 18.0 } else { 20.0 + WORDS * rows.len() as f64 };
                }
            }
        }
    }
    let named = |say: &[Span]| spans_text(say).len();
    let low = |limit: &LowLimit| 10.0 * lines(named(&limit.say), 60.0);
    for limit in &chapter.low {
        enter(&limit.no, down);
        down += low(limit);
    }
    for fit in &chapter.fits {
        enter(&fit.no, down);
        down += 9.0 * (named(&fit.say) + fit.cite.len() + 12) as f64 / 140.0;
    }
    down / PAGE
}

fn head(section: &Section) -> f64 {
    if section.table {
        return 90.0;
    }
    if section.continued { 15.0 } else { 21.0 }
}

/// Lines of so many characters.
fn lines(characters: usize, room: f64) -> f64 {
    (characters as f64 / room).ceil().max(1.0)
}

fn symbol_and(symbolic: Option<&Math>, symbol: &Math) -> usize {
    wide(symbol) + symbolic.map_or(0, |math| wide(math) + 2)
}

/// About the characters of a formula; the words for a reader of the screen are longer.
fn wide(math: &Math) -> usize {
    match &math.runs {
        Some(runs) => runs.iter().map(|(words, _)| words.chars().count()).sum(),
        None => math.alt.len() / 2,
    }
}
