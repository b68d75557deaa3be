//! Rows that a sheet is worked with.

use super::file::{About, Wanted, expected};
use super::reached::{pieces, reached};
use super::value::{Answer, Value, What};
use crate::alone::{Alone, Limit, limits};
use crate::diag::{Checked, Diagnostic};
use crate::formula;
use crate::grid::{Column, Grid};
use crate::job::{Facts, Rows};
use crate::quantity::Unit;
use crate::sheet::Library;

pub(super) fn compare(grid: &Grid, sheet: &str, library: &Library) -> Checked<Vec<Value>> {
    let unknown = || Diagnostic::new(format!("there is no sheet `{sheet}`")).at(grid.header());
    let alone = Alone::new(library.sheet(sheet).ok_or_else(unknown)?, library)?;
    // A column that nothing reads is a slip: an input that is not given, or a value that is not compared.
    let unread = alone.unread(grid);
    if !unread.is_empty() {
        return Err(unread);
    }
    let mut values = Vec::new();
    let rows = Rows::new(grid, &grid.source.name);
    for row in 0..grid.rows.len() {
        let about = About::of(grid, row)?;
        let expected = expected(grid, row)?;
        let worked = alone.row(&rows, row, &Facts::new());
        if let Some((column, words)) = refusal(&expected) {
            if expected.len() > 1 {
                let wrong = Diagnostic::new("a row that is refused comes to nothing: it expects no more than that");
                return Err(wrong.at(grid.place(&column.cell)).into());
            }
            let so = worked.is_err_and(|wrong| wrong.iter().any(|wrong| wrong.message.contains(words)));
            let (what, found) = (What::Refusal(words.into()), Some(Answer::Refused(so)));
            values.push(Value::new(&about, what, Unit::none(), Answer::Refused(true), found));
            continue;
        }
        let worked = &worked?;
        let limits = limits(worked);
        let limit = |words: &str| limits.iter().find(|limit| limit.name == words);
        let stands = |limit: Option<&Limit>| limit.map(|limit| (limit.sheet.to_string(), limit.rule.say.clone()));
        for (column, wanted) in expected {
            values.push(match wanted {
                Wanted::Value(name, wanted) => {
                    // A source may print another unit than the sheet.
                    let unit = column.unit.clone().unwrap_or_else(Unit::none);
                    let found = reached(worked, name);
                    let number = found.as_ref().and_then(|(value, _)| match value {
                        formula::Value::Quantity(quantity) => Some(Answer::Number(unit.from_base(quantity.value))),
                        _ => None,
                    });
                    let value = Value::new(&about, What::Symbol(name.into()), unit, Answer::Number(wanted), number);
                    Value { stands: found.map(|(_, stands)| stands), ..value }
                }
                Wanted::Name(name, wanted) => {
                    let found = reached(worked, name);
                    let text = found.as_ref().and_then(|(value, _)| match value {
                        formula::Value::Text(text) => Some(Answer::Text(text.clone())),
                        _ => None,
                    });
                    let (what, wanted) = (What::Symbol(name.into()), Answer::Text(wanted.into()));
                    let value = Value::new(&about, what, Unit::none(), wanted, text);
                    Value { stands: found.map(|(_, stands)| stands), ..value }
                }
                Wanted::Pieces(words, wanted) => {
                    let (what, found) = (What::Pieces(words.into()), Answer::Text(pieces(&worked.steps, words)));
                    Value::new(&about, what, Unit::none(), Answer::Text(wanted.into()), Some(found))
                }
                Wanted::Ratio(words, wanted) => {
                    let found = limit(words).and_then(|limit| limit.verdict.ratio).map(Answer::Number);
                    let what = What::Ratio(words.into());
                    let value = Value::new(&about, what, Unit::none(), Answer::Number(wanted), found);
                    Value { stands: stands(limit(words)), ..value }
                }
                Wanted::Verdict(words, wanted) => {
                    let found = limit(words).map_or(Answer::NotAsked, |limit| Answer::Met(limit.verdict.ok));
                    let what = What::Verdict(words.into());
                    let wanted = wanted.map_or(Answer::NotAsked, Answer::Met);
                    let value = Value::new(&about, what, Unit::none(), wanted, Some(found));
                    Value { stands: stands(limit(words)), ..value }
                }
                Wanted::Refusal(_) => continue,
            });
        }
    }
    Ok(values)
}

fn refusal<'a>(expected: &[(&'a Column, Wanted<'a>)]) -> Option<(&'a Column, &'a str)> {
    expected.iter().find_map(|(column, wanted)| match wanted {
        Wanted::Refusal(words) => Some((*column, *words)),
        _ => None,
    })
}
