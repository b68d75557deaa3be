//! Whose values they are: every source once, with how many values it gives.

use std::collections::BTreeMap;

use super::value::{Kind, Value};

/// Published and recalled values by their publication; independent ones by the script that makes them, or the words that
/// say how.
pub fn sources<'a>(values: impl Iterator<Item = &'a Value>) -> Vec<(Kind, String, usize)> {
    let mut all: BTreeMap<(Kind, &str), usize> = BTreeMap::new();
    for value in values {
        *all.entry((value.kind, one(value))).or_default() += 1;
    }
    all.into_iter().map(|((kind, source), count)| (kind, source.to_string(), count)).collect()
}

/// A source that may be of a share of something: `a script: `, `0.99` and `what it comes to`.
pub(super) fn shared(source: &str) -> (&str, &str, &str) {
    let Some((before, of)) = source.split_once(" of ") else { return ("", "", source) };
    let at = before.rfind(": ").map_or(0, |at| at + 2);
    match before[at..].parse::<f64>() {
        Ok(_) => (&before[..at], &before[at..], of),
        Err(_) => ("", "", source),
    }
}

/// A clause begins with one of these.
const CODES: [&str; 6] = ["ACI", "AISC", "ASCE", "IBC", "IRC", "NDS"];

fn one(value: &Value) -> &str {
    // What is set a hundredth to either side of a value of another file has that value's source.
    let source = match value.source.split_once(".csv: ") {
        Some((before, source)) if before.contains('`') => source,
        _ => shared(&value.source).2,
    };
    if value.kind == Kind::Independent {
        let script =
            source.find("oracle/").and_then(|at| Some(&source[at..at + source[at..].find(".py")? + ".py".len()]));
        return script.unwrap_or(source);
    }
    // What a clause says of a case stands before it, and behind it, as what it was read.
    let clause = CODES.iter().filter_map(|code| source.find(&format!(", {code} "))).min().map(|at| &source[at + 2..]);
    let source = clause.filter(|clause| clause.contains(", as ")).unwrap_or(source);
    // Rows of one table are one source.
    let end = [", row ", ", G=", " (G=", " (D="].iter().filter_map(|rest| source.find(rest)).min();
    &source[..end.unwrap_or(source.len())]
}
