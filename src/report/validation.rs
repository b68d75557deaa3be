//! What the check values come to: sheet by sheet, every value, and for other programs.

use serde_json::{Value as Json, json};

use super::paper::{OFF, Paper};
use super::rows::write;
use crate::diag::count;
use crate::quantity::number;
use crate::validate::{Answer, Backed, Compared, Counts, Kind, Tolerance, Validation, Value, worst_shown};

/// A line for each sheet, what is off, and what stands behind the limits.
pub fn validation(all: &Validation, paper: Paper) -> String {
    let mut out = paper.paragraph(HEAD);
    let row = |(name, files, _): (&str, Vec<&Compared>, Vec<&Backed>)| {
        let values = || files.iter().flat_map(|compared| &compared.values);
        let of = |kind: Kind| some(values().filter(|value| value.kind == kind).count());
        let [published, independent, recalled] = Kind::ALL.map(of);
        let verdict = if values().all(Value::holds) { String::new() } else { OFF.into() };
        let count = some(values().count());
        vec![name.to_string(), count, published, independent, recalled, worst_shown(values()), verdict]
    };
    let head = ["sheet", "values", "published", "independent", "recalled", "worst", ""];
    let rows = all.by_sheet().map(row).collect();
    out.push_str(&format!("\n{}\n", paper.table(0, &head, rows, &[1, 2, 3, 4, 5])));
    out + &closing(all, paper)
}

const HEAD: &str = "The check values that ship with the program, worked by it and compared. Published: read in a publication or a \
    public copy of one; independent: worked by another method; recalled: written down from memory, which guards against slips and proves no \
    equation. Worst: the largest deviation, as a share of what the tolerance allows.";

/// Every value, sheet by sheet.
pub fn all_values(all: &Validation, paper: Paper) -> String {
    let mut out = paper.paragraph(HEAD);
    for compared in &all.files {
        out.push_str(&format!("\n{}", paper.paragraph(&format!("{}: {}", compared.file.name, compared.file.words()))));
        for run in compared.values.chunk_by(Value::alike) {
            out.push_str(&format!("\n{}", paper.paragraph(&ground(run))));
            out.push_str(&table(run, paper));
        }
    }
    out.push('\n');
    out + &closing(all, paper)
}

fn ground(alike: &[Value]) -> String {
    let (kind, within, source) = Value::ground(alike);
    let gap = if within.is_empty() { "" } else { ", " };
    format!("{kind}{gap}{within}: {source}")
}

fn table(values: &[Value], paper: Paper) -> String {
    let row = |value: &Value| {
        let unit = value.unit.pretty();
        let what = if unit.is_empty() { value.what() } else { format!("{} [{unit}]", value.what()) };
        let (wanted, found) = (value.wanted.shown(), value.found_shown());
        let verdict = if value.holds() { String::new() } else { OFF.into() };
        vec![value.id.clone(), what, wanted, found, value.deviation_shown(), verdict]
    };
    let head = ["case", "what", "expected", "computed", "deviation", ""];
    paper.table(2, &head, values.iter().map(row).collect(), &[2, 3, 4])
}

/// What is off, the shares of limits, and the sentence.
fn closing(all: &Validation, paper: Paper) -> String {
    let mut out = String::new();
    for compared in &all.files {
        for value in compared.values.iter().filter(|value| !value.holds()) {
            let title = format!("Off, {}, {}:", compared.file.name, ground(std::slice::from_ref(value)));
            out.push_str(&paper.paragraph(&title));
            out.push_str(&format!("{}\n", table(std::slice::from_ref(value), paper)));
        }
    }
    if !all.limits.is_empty() {
        out.push_str(
            &paper
                .paragraph(&format!("{}, by the best evidence that bears on each:", count(all.limits.len(), "limit"))),
        );
        let rows = all.shares().into_iter().map(|(name, count, share)| vec![name.into(), count.to_string(), share]);
        out.push_str(&format!("{}\n", paper.table(2, &["", "", ""], rows.collect(), &[1, 2])));
        let bare = |limit: &&Backed| limit.best().is_none_or(|kind| kind == Kind::Recalled);
        let bare: Vec<&Backed> = all.limits.iter().filter(bare).collect();
        if !bare.is_empty() {
            out.push_str("Neither published nor independent:\n");
            let row = |limit: &&Backed| vec![limit.sheet.clone(), limit.words.clone(), limit.cite.clone()];
            out.push_str(&format!(
                "{}\n",
                paper.table(2, &["sheet", "limit", "clause"], bare.iter().map(row).collect(), &[])
            ));
        }
    }
    out + &paper.paragraph(&all.headline())
}

fn some(count: usize) -> String {
    if count == 0 { String::new() } else { number(count as f64, 9) }
}

const COLUMNS: [&str; 14] = [
    "sheet",
    "file",
    "case",
    "what",
    "unit",
    "expected",
    "computed",
    "deviation",
    "share",
    "tolerance",
    "tolerance_kind",
    "kind",
    "ok",
    "source",
];

/// Every value as a row.
pub fn validation_csv(all: &Validation) -> String {
    let text = |json: Json| match json {
        Json::String(text) => text,
        Json::Null => String::new(),
        Json::Bool(ok) => if ok { "yes" } else { "no" }.into(),
        other => other.to_string(),
    };
    let mut rows = vec![COLUMNS.map(String::from).to_vec()];
    rows.extend(cells(all).map(|cells| cells.map(text).to_vec()));
    write(&rows)
}

pub fn validation_json(all: &Validation) -> String {
    let value = |cells: [Json; COLUMNS.len()]| Json::Object(COLUMNS.map(String::from).into_iter().zip(cells).collect());
    let limit = |limit: &Backed| {
        json!({
            "sheet": limit.sheet,
            "limit": limit.words,
            "cite": limit.cite,
            "best": limit.best().map_or("none", Kind::name),
            "ratios_and_verdicts": counts(limit.direct),
            "symbols": counts(limit.sides),
        })
    };
    let all = json!({
        "socle": env!("CARGO_PKG_VERSION"),
        "ok": all.holds(),
        "headline": all.headline(),
        "values": cells(all).map(value).collect::<Vec<_>>(),
        "limits": all.limits.iter().map(limit).collect::<Vec<_>>(),
    });
    super::json::pretty(&all)
}

fn counts(counts: Counts) -> Json {
    Json::Object(Kind::ALL.iter().zip(counts).map(|(kind, count)| (kind.name().into(), json!(count))).collect())
}

fn cells(all: &Validation) -> impl Iterator<Item = [Json; COLUMNS.len()]> {
    let answer = |answer: &Answer| match answer {
        Answer::Number(number) => json!(number),
        _ => json!(answer.shown()),
    };
    let row = move |compared: &Compared, value: &Value| {
        let (tolerance, kind) = match (&value.wanted, value.tolerance) {
            (Answer::Text(_) | Answer::Met(_) | Answer::NotAsked | Answer::Refused(_), _) => (Json::Null, ""),
            (_, Tolerance::Relative(share)) => (json!(share), "rel"),
            (_, Tolerance::Absolute(room)) => (json!(room), "abs"),
        };
        [
            json!(compared.file.about()),
            json!(compared.file.name),
            json!(value.id),
            json!(value.what()),
            json!(value.unit.name()),
            answer(&value.wanted),
            value.found.as_ref().map_or(Json::Null, answer),
            json!(value.deviation()),
            json!(value.share()),
            tolerance,
            json!(kind),
            json!(value.kind.name()),
            json!(value.holds()),
            json!(value.source),
        ]
    };
    all.files.iter().flat_map(move |compared| compared.values.iter().map(move |value| row(compared, value)))
}
