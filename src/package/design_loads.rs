//! Design loads as IBC 1603.1 lists them, from what the job says and what the
//! sheets worked out of it. What a job with typed reactions does not say is said
//! to be missing.

use std::collections::BTreeMap;

use super::model::{DesignLoad, Package, Span};
use crate::engine::{Made, summed};
use crate::formula::Value;
use crate::job::Job;
use crate::quantity::Units;
use crate::sheet::{Bound, Step};
use crate::typeset::{printed, symbol};

/// What stands before a value.
enum Label {
    Symbol(&'static str),
    Words(&'static str),
}

use Label::{Symbol, Words};

/// A value, by the sheet and the symbol that hold it, or else by table and key of
/// `job.toml`.
struct Part {
    label: Label,
    sheet: &'static str,
    symbol: &'static str,
    key: Option<(&'static str, &'static str)>,
    /// Nothing is said of it where there is none.
    absent: bool,
}

const fn part(label: Label, sheet: &'static str, symbol: &'static str) -> Part {
    Part { label, sheet, symbol, key: None, absent: false }
}

/// The same of what a job with typed reactions can say too.
const fn said(label: Label, sheet: &'static str, symbol: &'static str, table: &'static str) -> Part {
    Part { label, sheet, symbol, key: Some((table, symbol)), absent: false }
}

/// The same of what may not be there.
const fn perhaps(words: &'static str, sheet: &'static str, symbol: &'static str) -> Part {
    Part { label: Words(words), sheet, symbol, key: None, absent: true }
}

/// An item of the list: its clause, its title, the key of `[design_loads]`, the
/// kind of load that a job may declare absent, and its values.
struct Item {
    clause: &'static str,
    title: &'static str,
    key: &'static str,
    kind: &'static str,
    parts: &'static [Part],
}

const ITEMS: [Item; 9] = [
    Item { clause: "1603.1.1", title: "Floor live load", key: "floor", kind: "L", parts: &[] },
    Item {
        clause: "1603.1.2",
        title: "Roof live load",
        key: "roof_live",
        kind: "Lr",
        parts: &[
            part(Symbol("L_o"), "roof-live", "L_o"),
            part(Symbol("L_r"), "roof-live", "L_r"),
            part(Words("on the plan of open slats"), "post-loads", "slats_live"),
        ],
    },
    Item {
        clause: "1603.1.3",
        title: "Roof snow load",
        key: "snow",
        kind: "S",
        parts: &[
            said(Symbol("p_g"), "post-loads", "p_g", "site"),
            part(Symbol("p_f"), "roof-snow", "p_f"),
            part(Symbol("p_s"), "roof-snow", "p_s"),
            part(Symbol("C_e"), "roof-snow", "C_e"),
            part(Symbol("C_t"), "roof-snow", "C_t"),
            part(Symbol("C_s"), "roof-snow", "C_s"),
            part(Symbol("I_s"), "roof-snow", "I_s"),
            perhaps("surcharge of unbalanced snow", "roof-snow", "p_d"),
            perhaps("its width", "roof-snow", "l_d"),
            perhaps("at the valley", "valley-snow", "p_valley"),
            perhaps("drift from a higher roof, on a post", "post-loads", "drift"),
            part(Words("fraction of the slats that holds snow"), "post-loads", "snow_share"),
        ],
    },
    Item {
        clause: "1603.1.4",
        title: "Wind",
        key: "wind",
        kind: "W",
        parts: &[
            said(Symbol("V"), "post-loads", "V", "site"),
            said(Words("risk category"), "post-loads", "risk", "site"),
            said(Words("exposure"), "post-loads", "exposure", "site"),
            part(Words("enclosure"), "post-loads", "enclosure"),
            part(Symbol("GC_pi"), "post-loads", "GC_pi"),
            part(Symbol("K_zt"), "velocity-pressure", "K_zt"),
            part(Symbol("K_d"), "velocity-pressure", "K_d"),
            part(Symbol("K_e"), "velocity-pressure", "K_e"),
            part(Symbol("q_h"), "velocity-pressure", "q_h"),
            part(Words("net pressure, windward half"), "wind-open-roof", "p_W"),
            part(Words("leeward half"), "wind-open-roof", "p_L"),
            part(Words("vertical pressure on the slats, up and down"), "wind-slats", "p_v"),
        ],
    },
    Item {
        clause: "1603.1.5",
        title: "Earthquake",
        key: "earthquake",
        kind: "E",
        parts: &[
            said(Words("risk category"), "seismic-site", "risk", "site"),
            part(Symbol("I_e"), "importance-of", "I_e"),
            part(Symbol("S_S"), "seismic-site", "S_S"),
            Part { symbol: "S_1_job", ..part(Symbol("S_1"), "seismic-site", "") },
            part(Words("site class"), "seismic-site", "site_class"),
            said(Symbol("S_DS"), "seismic-site", "S_DS", "seismic"),
            said(Symbol("S_D1"), "seismic-site", "S_D1", "seismic"),
            part(Words("design category"), "seismic-site", "sdc"),
            part(Words("system along x"), "earthquake-systems", "system_x"),
            part(Words("system along y"), "earthquake-systems", "system_y"),
            part(Symbol("R_x"), "post-loads", "R_x"),
            part(Symbol("R_y"), "post-loads", "R_y"),
            part(Symbol("Omega_x"), "earthquake-overstrength", "Omega_x"),
            part(Symbol("Omega_y"), "earthquake-overstrength", "Omega_y"),
            part(Symbol("rho"), "seismic-site", "rho"),
            part(Symbol("C_s"), "seismic-shear", "C_s"),
        ],
    },
    Item {
        clause: "1603.1.6",
        title: "Soil",
        key: "soil",
        kind: "",
        parts: &[
            part(Words("material"), "soil-values", "class"),
            part(Words(""), "soil-values", "material"),
            part(Words("report"), "soil-values", "report"),
            part(Words("bearing"), "soil-values", "q_a"),
            part(Words("lateral bearing, for its depth"), "soil-values", "S_lat"),
            part(Words("friction"), "soil-values", "mu"),
            perhaps("cohesion", "soil-values", "c_s"),
            part(Words("frost depth"), "frost", "frost"),
        ],
    },
    Item { clause: "1603.1.7", title: "Flood", key: "flood", kind: "", parts: &[] },
    Item { clause: "1603.1.8", title: "Special loads", key: "special", kind: "", parts: &[] },
    Item { clause: "1603.1.9", title: "Roof rain load", key: "rain", kind: "R", parts: &[] },
];

/// Of each sheet and symbol, what it came to, in whatever posts.
type Found = BTreeMap<(&'static str, &'static str), Vec<Bound>>;

/// From the sheets for loads of the posts, and then the others.
pub(super) fn design_loads<'a>(job: &Job, made: impl Iterator<Item = &'a Made>) -> Vec<DesignLoad> {
    let mut found = Found::new();
    made.for_each(|made| find(made, &mut found));
    ITEMS.iter().map(|item| design_load(job, item, &found)).collect()
}

fn find(worked: &Made, found: &mut Found) {
    for part in ITEMS.iter().flat_map(|item| item.parts).filter(|part| part.sheet == worked.sheet.name) {
        if let Some(bound) = worked.bound.get(part.symbol) {
            let known = found.entry((part.sheet, part.symbol)).or_default();
            if !known.iter().any(|other| other.value == bound.value) {
                known.push(bound.clone());
            }
        }
    }
    for step in &worked.steps {
        if let Step::Use(inner) = step {
            find(inner, found);
        }
    }
}

fn design_load(job: &Job, item: &Item, found: &Found) -> DesignLoad {
    let mut parts: Vec<Vec<Span>> = Vec::new();
    let mut words = |text: String| parts.push(vec![Span::Text(text)]);
    let stated = job.stated.get(item.key);
    if let Some(reason) = job.answers.none.get(item.kind) {
        words(format!("none: {}", reason.text));
    }
    if let Some(stated) = stated {
        words(stated.text.clone());
    }
    let said = parts.len();
    for part in item.parts {
        let known = found.get(&(part.sheet, part.symbol)).and_then(|values| range(job.units, values));
        // In words of its own the job says what it typed.
        let typed = || {
            part.key
                .filter(|_| stated.is_none())
                .and_then(|(table, key)| Some(job.settings.get(table)?.get(key)?.as_typed()))
        };
        let Some(value) = known.or_else(typed) else { continue };
        if part.absent && value.starts_with("0 ") && !value.contains(" to ") {
            continue;
        }
        parts.push(match part.label {
            Symbol(name) => vec![Span::Math(symbol(name)), Span::Text(format!(" = {value}"))],
            Words(words) => vec![Span::Text(format!("{words} {value}").trim().to_string())],
        });
    }
    if let (Some(_), Some(first)) = (stated, parts.get_mut(said)) {
        first.insert(0, Span::Text("here ".into()));
    }
    let cases: Vec<String> = job.cases().into_iter().filter(|case| kind(case) == item.kind).collect();
    if parts.is_empty() {
        parts.push(vec![Span::Text(lacking(job, item, &cases))]);
    }
    parts.extend(also(job, item, &cases, found).into_iter().map(|words| vec![Span::Text(words)]));
    let mut spans = parts.remove(0);
    for part in parts {
        spans.push(Span::Text("; ".into()));
        spans.extend(part);
    }
    DesignLoad { clause: item.clause.into(), title: item.title.into(), spans, changed: false }
}

/// What no single value says.
fn also(job: &Job, item: &Item, cases: &[String], found: &Found) -> Vec<String> {
    match item.key {
        "wind" if !cases.is_empty() => vec!["components and cladding: none designed here".into()],
        "earthquake" => {
            let sum = |case: &String| {
                let [_, x, y] = summed(job, case);
                format!("base shear of {case} {}", job.units.force(if case == "E_y" { y } else { x }))
            };
            let procedure = if found.contains_key(&("seismic-shear", "C_s")) {
                Some("equivalent lateral force procedure")
            } else if cases.is_empty() || job.stated.contains_key(item.key) {
                None
            } else {
                Some("R, response coefficient and procedure are those of the analysis behind the given reactions")
            };
            cases.iter().map(sum).chain(procedure.map(String::from)).collect()
        }
        _ => Vec::new(),
    }
}

/// Of what the job gives reactions for, or of a flood.
const NOT_STATED: &str = "not stated";

/// The keys of `[design_loads]` that a package of the job would be complete with.
pub fn unstated(package: &Package) -> Vec<&'static str> {
    let lacks = |load: &DesignLoad| load.spans.first() == Some(&Span::Text(NOT_STATED.into()));
    let lacking = ITEMS.iter().zip(&package.design_loads).filter(|(_, load)| lacks(load));
    lacking.map(|(item, _)| item.key).collect()
}

/// What is said where nothing is known.
fn lacking(job: &Job, item: &Item, cases: &[String]) -> String {
    match item.key {
        "flood" => NOT_STATED.into(),
        "special" => "none stated".into(),
        "soil" => "no foundation of this package is in the ground".into(),
        _ if cases.iter().any(|case| !job.derived.contains(case)) => NOT_STATED.into(),
        _ => "none".into(),
    }
}

/// The kind of load of a case.
fn kind(case: &str) -> &str {
    match case.as_bytes().first() {
        Some(b'W') => "W",
        Some(b'E') => "E",
        _ => case,
    }
}

/// One value, or from the least to the greatest of several; none for what there is none of.
fn range(units: Units, values: &[Bound]) -> Option<String> {
    let text = |bound: &Bound| {
        let shown = printed(&Bound { unit: units.print(&bound.unit), ..bound.clone() });
        (shown.number, shown.unit)
    };
    let number = |bound: &Bound| match &bound.value {
        Value::Quantity(quantity) => Some(quantity.value),
        _ => None,
    };
    let mut sorted: Vec<&Bound> = values.iter().collect();
    sorted.sort_by(|a, b| number(a).partial_cmp(&number(b)).unwrap_or(std::cmp::Ordering::Equal));
    let (first, last) = (sorted.first()?, sorted.last()?);
    if number(first).is_none() {
        let mut texts: Vec<String> = sorted.iter().map(|bound| text(bound).0).filter(|text| text != "none").collect();
        texts.dedup();
        return (!texts.is_empty()).then(|| texts.join(", "));
    }
    let ((least, unit), (most, _)) = (text(first), text(last));
    let both = if least == most { most } else { format!("{least} to {most}") };
    Some(format!("{both} {unit}").trim_end().to_string())
}
