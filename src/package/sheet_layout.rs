//! Where things stand on a sheet for the shop or the site, so that it is one full page: what is beside what is decided here,
//! by what it takes at a guess, for measuring in the templates is slow.

use super::model::{PlainFigure, PlainItem, PlainSheet, Span};
use crate::drawing::across;
use crate::quantity::Units;

/// Points between the margins of the shorter paper, under its header.
const TALL: f64 = 680.0;
const GAP: f64 = 17.0;
/// What may stay empty of a page so that a part of it keeps together.
const TORN: f64 = 100.0;

/// Rows of two columns of figures, each where less stands so far and there is room; one that is wide has a row of its own.
pub(super) fn rows(figures: Vec<PlainFigure>, units: Units) -> Vec<Vec<Vec<PlainFigure>>> {
    let page = across(units);
    let wide = |column: &[PlainFigure]| column.iter().map(|it| it.drawing.width).fold(0.0, f64::max);
    let mut rows: Vec<Vec<Vec<PlainFigure>>> = Vec::new();
    for figure in figures {
        let own = figure.drawing.width;
        let Some(row) = rows.last_mut().filter(|row| own <= 0.68 * page && wide(&row[0]) <= 0.68 * page) else {
            rows.push(vec![vec![figure]]);
            continue;
        };
        if row.len() < 2 {
            row.push(Vec::new());
        }
        let room = |at: usize| wide(&row[1 - at]) + GAP + wide(&row[at]).max(own) <= page;
        let first = if stack(&row[1]) < stack(&row[0]) { [1, 0] } else { [0, 1] };
        match first.into_iter().find(|at| room(*at)) {
            Some(at) => row[at].push(figure),
            None => rows.push(vec![vec![figure]]),
        }
    }
    rows
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
            _ => TORN,
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

/// Short sheets share a page; one on hold only with another, for the word on it speaks of the whole page.
pub(super) fn share_pages(sheets: &mut [PlainSheet]) {
    let mut taken = f64::INFINITY;
    let mut held = false;
    for sheet in sheets {
        let high = sheet_height(sheet);
        let on_hold = !sheet.hold.is_empty();
        sheet.follows = on_hold == held && taken + high + GAP <= TALL;
        taken = if sheet.follows { taken + high + GAP } else { high };
        held = on_hold;
    }
}
