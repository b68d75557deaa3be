//! A sheet of somebody's own beside the built-in ones, and behind a line `---` a table: parsed, checked, and worked
//! alone with values that the sheet's own bounds and names suggest.
#![no_main]

use std::collections::BTreeMap;
use std::sync::OnceLock;

use libfuzzer_sys::fuzz_target;
use socle::alone::{self, Alone};
use socle::archive::PROGRAM;
use socle::formula::Kind;
use socle::grid::decode;
use socle::package::{figure_kinds, notebook};
use socle::quantity::{Unit, Units};
use socle::report;
use socle::sheet::{Input, Library, Sheet, Stmt, Text};
use socle::source::Source;
use socle::templates::Templates;
use socle_fuzz::{printed, refused};

fuzz_target!(|input: &[u8]| socle_fuzz::run(input, target));

/// What the sheet is worked with: small and large, of both signs.
const NUMBERS: [&str; 8] = ["1", "2.5", "0", "-3", "12", "0.01", "1000", "1e9"];

fn built_in() -> &'static BTreeMap<String, Vec<u8>> {
    static SHEETS: OnceLock<BTreeMap<String, Vec<u8>>> = OnceLock::new();
    SHEETS.get_or_init(|| Templates::built_in().sheets())
}

fn target(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    let (text, table) = text.split_once("\n---\n").unwrap_or((&text, ""));
    let own = |path: &str, text: &str| Text { path: path.into(), source: Source::new(path, text), own: true };
    let mut texts = vec![own("sheets/own/own.sheet", text)];
    let sheet = match socle::sheet::Library::load(&texts, None) {
        Ok(library) => library.sheets().next().cloned(),
        // Of this sheet alone: what it says of others may be in order.
        Err(wrong) => {
            refused(&wrong);
            None
        }
    };
    let others = sheet.as_ref().is_none_or(|sheet| uses_others(sheet));
    if sheet.is_none() && !text.contains("use ") && !text.contains("take ") && !text.contains("figure ") {
        return;
    }
    if !table.is_empty() {
        texts.push(own("tables/own.csv", table));
    }
    for (path, bytes) in built_in() {
        let named = || path.rsplit('/').next().is_some_and(|name| text.contains(name.trim_end_matches(".csv")));
        let wanted = if path.ends_with(".sheet") { others } else { others || named() };
        let text = decode(bytes);
        let replaced = text.lines().next() == texts[0].source.text.lines().next();
        if wanted && !replaced {
            texts.push(Text { path: path.clone(), source: Source::new(path.as_str(), text), own: false });
        }
    }
    let library = match Library::load(&texts, Some(&figure_kinds())) {
        Ok(library) => library,
        Err(wrong) => return refused(&wrong),
    };
    let metric = text.len() % 2 == 1;
    let library = if metric { library.printed_in(Units::Metric) } else { library };
    let own = library.own().iter().find_map(|own| library.sheet(&own.name));
    let Some(sheet) = own.cloned() else { return };
    let alone = match Alone::new(&sheet, &library) {
        Ok(alone) => alone,
        Err(wrong) => return refused(&wrong),
    };
    let values = |at: usize| sheet.inputs.iter().enumerate().map(move |(no, it)| typed(it, at + no * at)).collect();
    for at in 0..4 {
        let values: Vec<String> = values(at);
        let worked = match alone::typed(&values).and_then(|typed| alone.work(typed)) {
            Ok(worked) => worked,
            Err(wrong) => {
                refused(&wrong);
                continue;
            }
        };
        printed(&report::work_steps(&worked));
        let json = report::work_json(&worked);
        serde_json::from_str::<serde_json::Value>(&json).expect("JSON");
        printed(&notebook(&library, library.units(), worked, PROGRAM, "").headline);
    }
}

/// Whether a sheet has to do with others.
fn uses_others(sheet: &Sheet) -> bool {
    let mut found = sheet.joins.is_some() || sheet.stands.is_some();
    sheet.walk(&mut |stmt| found |= matches!(stmt, Stmt::Use(_) | Stmt::Place(_)));
    found
}

/// A value for an input.
fn typed(input: &Input, at: usize) -> String {
    let number = NUMBERS[at % NUMBERS.len()];
    let value = match &input.kind {
        Kind::Quantity(_) => {
            let unit = input.written().first().map_or(String::new(), |unit: &Unit| unit.name().to_string());
            format!("{number} {unit}")
        }
        Kind::Count => (at % 5).to_string(),
        Kind::Choice(names) => names.get(at % names.len().max(1)).cloned().unwrap_or_default(),
        Kind::Text => "No.1".into(),
        Kind::Date => "2026-11-02".into(),
    };
    format!("{}={value}", input.name)
}
