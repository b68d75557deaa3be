//! A table as its CSV text says.

use std::cmp::Ordering;

use socle::formula::BinOp;
use socle::quantity::Unit;

use super::{Found, No, Number, Value, same};

pub struct Table<N> {
    columns: Vec<String>,
    rows: Vec<Vec<Cell<N>>>,
}

enum Cell<N> {
    Empty,
    Number(N),
    Range(N, N),
    Name(String),
}

/// A cell of a column; one may have a unit of its own, `12 mm`.
fn cell<N: Number>(text: &str, unit: &Unit, name: bool) -> Cell<N> {
    let number = |text: &str| Some(N::written(text.parse().ok()?, unit));
    if name {
        return Cell::Name(text.into());
    }
    if let Some((low, high)) = text.split_once("..").and_then(|(low, high)| Some((number(low)?, number(high)?))) {
        return Cell::Range(low, high);
    }
    match (number(text), text.split_once(' ')) {
        (Some(number), _) => Cell::Number(number),
        (None, Some((number, own))) => {
            Cell::Number(N::written(number.parse().expect("a number"), &Unit::parse(own).expect("a unit")))
        }
        (None, None) => panic!("`{text}` in a column of numbers"),
    }
}

impl<N: Number> Table<N> {
    pub fn read(text: &str) -> Table<N> {
        let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
        let headings = reader.headers().expect("headings").clone();
        let columns: Vec<(&str, Option<Unit>)> = headings
            .iter()
            .map(|heading| match heading.split_once(" [") {
                Some((name, unit)) => (name, Some(Unit::parse(unit.trim_end_matches(']')).expect("a unit"))),
                None => (heading, None),
            })
            .collect();
        let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("a row")).collect();
        // A column without a unit holds numbers where all of its cells do.
        let numeric = |text: &str| text.is_empty() || text.split("..").all(|part| part.parse::<f64>().is_ok());
        let names: Vec<bool> = columns
            .iter()
            .enumerate()
            .map(|(at, (_, unit))| unit.is_none() && !rows.iter().all(|row| numeric(&row[at])))
            .collect();
        let none = Unit::none();
        let read = |(at, text): (usize, &str)| match text {
            "" => Cell::Empty,
            text => cell(text, columns[at].1.as_ref().unwrap_or(&none), names[at]),
        };
        let rows = rows.iter().map(|row| row.iter().enumerate().map(read).collect()).collect();
        Table { columns: columns.iter().map(|(name, _)| name.to_string()).collect(), rows }
    }

    fn fits(cell: &Cell<N>, key: &Value<N>) -> bool {
        match (cell, key) {
            (Cell::Name(name), Value::Name(key)) => same(name, key),
            (Cell::Number(value), Value::Number(key)) => value.beside(key) == Ordering::Equal,
            (Cell::Range(low, high), Value::Number(key)) => {
                low.beside(key) != Ordering::Greater && high.beside(key) != Ordering::Less
            }
            _ => false,
        }
    }

    /// The values of some columns in the row of the keys, or between two rows.
    pub fn find(&self, keys: &[(Value<N>, bool)], wanted: &[&str]) -> Vec<Found<N>> {
        let fits = |row: &&Vec<Cell<N>>| {
            keys.iter().zip(*row).all(|((key, between), cell)| *between || Table::fits(cell, key))
        };
        let rows: Vec<&Vec<Cell<N>>> = self.rows.iter().filter(fits).collect();
        let between = keys.iter().enumerate().find_map(|(at, (key, between))| match key {
            Value::Number(key) if *between => Some((at, key)),
            _ => None,
        });
        let (low, high, share) = match between {
            None => match rows.first() {
                Some(row) => (*row, *row, None),
                None => return vec![Err(No::Missing); wanted.len()],
            },
            Some((at, key)) => {
                let at = |row: &'_ Vec<Cell<N>>| match &row[at] {
                    Cell::Number(value) => Some(value.clone()),
                    _ => None,
                };
                // Of rows at one point the first is read.
                let mut points: Vec<(N, &Vec<Cell<N>>)> = Vec::new();
                for row in rows {
                    let Some(point) = at(row) else { continue };
                    if points.iter().all(|(known, _)| known.compare(&point) != Ordering::Equal) {
                        points.push((point, row));
                    }
                }
                points.sort_by(|a, b| a.0.compare(&b.0));
                let low = points.iter().rev().find(|(value, _)| value.beside(key) != Ordering::Greater);
                let high = points.iter().find(|(value, _)| value.beside(key) != Ordering::Less);
                let (Some((a, low)), Some((b, high))) = (low, high) else {
                    return vec![Err(No::Missing); wanted.len()];
                };
                if b.compare(a) != Ordering::Greater {
                    (*high, *high, None)
                } else {
                    let less = |b: &N| N::arithmetic(BinOp::Sub, b, a);
                    let share = less(key).zip(less(b)).and_then(|(part, all)| N::arithmetic(BinOp::Div, &part, &all));
                    (*low, *high, share)
                }
            }
        };
        let column = |name: &&str| self.columns.iter().position(|known| known == name).expect("a column");
        let between = |low: &N, high: &N, share: &N| {
            let way = N::arithmetic(BinOp::Mul, share, &N::arithmetic(BinOp::Sub, high, low)?)?;
            N::arithmetic(BinOp::Add, low, &way)
        };
        let value = |at: usize| match (&low[at], &high[at], &share) {
            (Cell::Number(low), Cell::Number(high), Some(share)) => {
                between(low, high, share).map(Value::Number).ok_or(No::Missing)
            }
            (Cell::Number(value), Cell::Number(_), None) => Ok(Value::Number(value.clone())),
            (Cell::Name(name), Cell::Name(_), _) => Ok(Value::Name(name.clone())),
            _ => Err(No::Missing),
        };
        wanted.iter().map(|name| value(column(name))).collect()
    }
}
