//! Where things stand on a sheet for the shop or the site, so that it is one full page: what is beside what is decided here,
//! by what it takes at a guess, for measuring in the templates is slow.

use super::model::{PlainFigure, PlainItem, PlainSheet, Span};
use crate::drawing::across;
use crate::quantity::Units;

/// Points between the margins of the shorter paper, under its header.
const TALL: f64 = 680.0;
const GAP: f64 = 17.0;
/// What may stay empty of a page so that a part of it keeps together; and where room is short.
const TORN: f64 = 100.0;
const TORN_WHERE_SHORT: f64 = 16.0;

/// So many figures are placed together, more than any sheet of ours has: each more is three times the work.
const TOGETHER: usize = 8;

/// Where a figure goes, next to those that are placed.
#[derive(Clone, Copy)]
enum Goes {
    Left,
    Right,
    Below,
}

/// Rows of two columns of figures, so that all of them take the least of the page.
pub(super) fn rows(figures: Vec<PlainFigure>, units: Units) -> Vec<Vec<Vec<PlainFigure>>> {
    let sizes: Vec<[f64; 2]> = figures.iter().map(|figure| [figure.drawing.width, tall(figure)]).collect();
    let places = sizes.chunks(TOGETHER).flat_map(|sizes| {
        let mut best = (f64::INFINITY, Vec::new());
        arrange(sizes, across(units), 0.0, [[0.0; 2]; 2], &mut Vec::new(), &mut best);
        best.1
    });
    let mut rows: Vec<Vec<Vec<PlainFigure>>> = Vec::new();
    for (figure, goes) in figures.into_iter().zip(places) {
        match (goes, rows.last_mut()) {
            (Goes::Left, Some(row)) => row[0].push(figure),
            (Goes::Right, Some(row)) if row.len() > 1 => row[1].push(figure),
            (Goes::Right, Some(row)) => row.push(vec![figure]),
            _ => rows.push(vec![vec![figure]]),
        }
    }
    rows
}

/// Tries each place for the next figure: `above` is how high the rows are that are closed, `open` how wide and how high
/// the two columns of the last one. Of places that come to the same, the first stays.
fn arrange(
    sizes: &[[f64; 2]],
    page: f64,
    above: f64,
    open: [[f64; 2]; 2],
    goes: &mut Vec<Goes>,
    best: &mut (f64, Vec<Goes>),
) {
    let high = above + open[0][1].max(open[1][1]);
    if high >= best.0 - 0.5 {
        return;
    }
    let Some(&[wide, tall]) = sizes.get(goes.len()) else {
        *best = (high, goes.clone());
        return;
    };
    for (at, goes_to) in [(1, Goes::Right), (0, Goes::Left)] {
        let mut next = open;
        next[at] = [next[at][0].max(wide), next[at][1] + tall];
        let gap = if next[1][0] > 0.0 { GAP } else { 0.0 };
        if !goes.is_empty() && next[0][0] + gap + next[1][0] <= page {
            goes.push(goes_to);
            arrange(sizes, page, above, next, goes, best);
            goes.pop();
        }
    }
    goes.push(Goes::Below);
    arrange(sizes, page, high, [[wide, tall], [0.0; 2]], goes, best);
    goes.pop();
}

/// A figure with its words over it.
fn tall(figure: &PlainFigure) -> f64 {
    figure.drawing.height + 20.0
}

fn stack(column: &[PlainFigure]) -> f64 {
    column.iter().map(tall).sum()
}

/// Items in two columns of like height; a heading stands over what it heads.
pub(super) fn columns(items: Vec<PlainItem>) -> [Vec<PlainItem>; 2] {
    parted(items, TORN)
}

fn parted(items: Vec<PlainItem>, torn: f64) -> [Vec<PlainItem>; 2] {
    let mut items: Vec<PlainItem> = items;
    let heading = |item: Option<&PlainItem>| matches!(item, Some(PlainItem::Heading(_)));
    // Nothing of it was left.
    let mut at = 0;
    while at < items.len() {
        if heading(items.get(at)) && (at + 1 == items.len() || heading(items.get(at + 1))) {
            items.remove(at);
        } else {
            at += 1;
        }
    }
    let high = |items: &[PlainItem]| items.iter().map(item_height).sum::<f64>();
    let cost = |at: &usize| {
        let (left, right) = items.split_at(*at);
        // Between two parts; within one only where that saves much of the page, never after a heading.
        let torn = match (heading(left.last()), heading(right.first())) {
            (true, _) => 1e3,
            (_, true) => 0.0,
            _ => torn,
        };
        (high(left).max(high(right)) + torn, high(right))
    };
    let at = (0..=items.len()).min_by(|a, b| cost(a).0.total_cmp(&cost(b).0).then(cost(a).1.total_cmp(&cost(b).1)));
    let right = items.split_off(at.unwrap_or(0));
    [items, right]
}

fn item_height(item: &PlainItem) -> f64 {
    const LETTERS: usize = 72;
    let lines = |letters: usize| letters.div_ceil(LETTERS).max(1) as f64;
    match item {
        PlainItem::Heading(_) => 14.8,
        PlainItem::Value(value) => 8.4 * lines(letters(&value.say) + value.value.number.len() + 6),
        PlainItem::Words(words) => match checks(words) {
            0 => 1.4 + 8.3 * lines(letters(words)),
            checks => 14.4 * checks as f64,
        },
    }
}

fn letters(words: &[Span]) -> usize {
    let long = |span: &Span| match span {
        Span::Markup(text) | Span::Text(text) => text.chars().count(),
        Span::Math(_) => 3,
    };
    words.iter().map(long).sum()
}

/// Lines to tick off.
fn checks(words: &[Span]) -> usize {
    let count = |span: &Span| match span {
        Span::Markup(text) => text.matches("#check[").count(),
        _ => 0,
    };
    words.iter().map(count).sum()
}

fn sheet_height(sheet: &PlainSheet) -> f64 {
    let figures = |row: &Vec<Vec<PlainFigure>>| row.iter().map(|column| stack(column)).fold(0.0, f64::max);
    let column = |items: &Vec<PlainItem>| items.iter().map(item_height).sum::<f64>();
    let kinds = if sheet.kinds.len() > 1 { 20.0 + 14.0 * sheet.kinds.len() as f64 } else { 20.0 };
    let hold = if sheet.hold.is_empty() { 0.0 } else { 36.0 };
    26.0 + kinds
        + hold
        + sheet.figures.iter().map(figures).sum::<f64>()
        + sheet.columns.iter().map(column).fold(0.0, f64::max)
}

/// Short sheets share a page; one on hold only with another, for the word on it speaks of the whole page. Where that
/// lets one more on a page, the parts of its sheets are torn.
pub(super) fn share_pages(sheets: &mut [PlainSheet]) {
    let high = |page: &[PlainSheet]| page.iter().map(|sheet| sheet_height(sheet) + GAP).sum::<f64>() - GAP;
    let (mut start, mut torn) = (0, TORN);
    for at in 1..sheets.len() {
        let page = &mut sheets[start..=at];
        let alike = page[0].hold.is_empty() == page[at - start].hold.is_empty();
        for as_torn in [torn, TORN_WHERE_SHORT] {
            page.iter_mut().for_each(|sheet| part_again(sheet, as_torn));
            if alike && high(page) <= TALL {
                (page[at - start].follows, torn) = (true, as_torn);
                break;
            }
        }
        if !sheets[at].follows {
            sheets[start..at].iter_mut().for_each(|sheet| part_again(sheet, torn));
            part_again(&mut sheets[at], TORN);
            (start, torn) = (at, TORN);
        }
    }
}

fn part_again(sheet: &mut PlainSheet, torn: f64) {
    let [left, right] = std::mem::take(&mut sheet.columns);
    sheet.columns = parted(left.into_iter().chain(right).collect(), torn);
}
