//! What is set from one model by one template: a sheet that was worked alone, the verification report.

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::package::json;
use crate::diag::Diagnostic;
use crate::files::Failure;
use crate::pdf;
use crate::quantity::Units;
use crate::templates::{TITLE_BLOCK, Templates};

/// The date that was typed, and as it is printed.
pub(super) struct Dated {
    date: Date,
    pub printed: String,
}

impl Dated {
    pub fn typed(text: Option<&str>) -> Result<Dated, Failure> {
        // A file has to have one; none is printed, and the same numbers make the same file.
        let Some(text) = text else { return Ok(Dated { date: Date::constant(2000, 1, 1), printed: String::new() }) };
        let date: Date = text
            .parse()
            .map_err(|_| Diagnostic::new(format!("found `--date {text}`; expected a date such as `2026-11-02`")))?;
        Ok(Dated { date, printed: date.to_string() })
    }
}

/// `name`: of the template, and of the model that it reads.
pub(super) fn typeset(
    name: &str,
    model: &impl serde::Serialize,
    units: Units,
    dated: &Dated,
    ident: &str,
) -> Result<pdf::Pdf, Failure> {
    let mut files: BTreeMap<String, Vec<u8>> = BTreeMap::new();
    let pages = |path: &str| path.starts_with("package/") || path == TITLE_BLOCK;
    for (path, bytes) in Templates::built_in().files.into_iter().filter(|(path, _)| pages(path)) {
        files.insert(format!("/templates/{path}"), bytes);
    }
    files.insert(format!("/{name}.json"), json(model)?);
    files.insert("/guess.json".into(), b"{}".to_vec());
    let (paper, width) = units.paper();
    files.insert("/paper.json".into(), json(&serde_json::json!({ "name": paper, "width": width }))?);
    let date = (dated.date.year().into(), dated.date.month() as u8, dated.date.day() as u8);
    let document = pdf::Document { files, main: &format!("/templates/package/{name}.typ"), date, ident };
    pdf::render(document).map_err(|lines| {
        let said = lines.into_iter().map(|line| Diagnostic::new(format!("the page could not be typeset: {line}")));
        Failure::Wrong(said.collect())
    })
}
