//! The verification report: how the check values stand, whose they are, what stands behind each limit, and every value.

use serde::Serialize;

use crate::diag::Checked;
use crate::quantity::{number, number_fixed};
use crate::sheet::Library;
use crate::typeset::{Math, symbol};
use crate::validate::{
    Answer, Backed, COMBINATIONS, Compared, Counts, Kind, Planted, TABLES, Validation, Value, What, Where, planted,
    sources, worst_shown,
};

/// As its template reads it.
#[derive(Debug, Serialize)]
pub struct Verification {
    pub program: String,
    /// A digest of what it was built from.
    pub build: String,
    /// Empty where none was asked for.
    pub date: String,
    pub headline: String,
    pub ok: bool,
    /// Of the sheets and tables, and of the check values.
    pub digests: [String; 2],
    pub values: String,
    pub cases: String,
    pub files: String,
    /// Published, independent, recalled.
    pub kinds: [String; 3],
    /// By their best evidence: what it is, how many, which share of all.
    pub shares: Vec<(&'static str, usize, String)>,
    pub limits: usize,
    pub sheets: Vec<Sheet>,
    /// Limits that nothing better than memory bears on, by sheet.
    pub bare: Vec<(String, Vec<Limit>)>,
    /// Sheets that no check value is about.
    pub untried: Vec<String>,
    /// In sheets and tables, and in the program.
    pub errors: Errors,
    pub slips: Errors,
    /// Of each kind, with the number of values of each.
    pub sources: Vec<(&'static str, Vec<(String, String)>)>,
    /// What is not as expected.
    pub off: Vec<Row>,
}

/// Errors that were planted.
#[derive(Debug, Serialize)]
pub struct Errors {
    /// What the run says of itself.
    pub words: String,
    pub found: String,
    pub missed: String,
    pub share: String,
    /// Name, found, missed.
    pub counts: Vec<[String; 3]>,
    /// By name: the line as it was planted, what was there, what is there now, and why nothing notices it.
    pub escapes: Vec<(String, Vec<[String; 4]>)>,
}

/// A sheet, or the tables, or the combinations.
#[derive(Debug, Serialize)]
pub struct Sheet {
    pub name: String,
    pub title: String,
    pub values: String,
    pub kinds: [String; 3],
    /// The largest deviation as a share of its tolerance.
    pub worst: String,
    pub off: String,
    pub limits: Vec<Limit>,
    /// Limits by their best evidence; the last has none.
    pub backed: [String; 4],
    pub files: Vec<File>,
}

#[derive(Debug, Serialize)]
pub struct Limit {
    pub words: String,
    pub cite: String,
    pub best: &'static str,
    /// Ratios and verdicts of it, of each kind.
    pub direct: [String; 3],
    /// Values of symbols that it names.
    pub sides: [String; 3],
}

#[derive(Debug, Serialize)]
pub struct File {
    pub name: String,
    pub words: String,
    /// Values of one source one after another.
    pub runs: Vec<Run>,
}

#[derive(Debug, Serialize)]
pub struct Run {
    pub kind: &'static str,
    pub source: String,
    pub within: String,
    pub rows: Vec<Row>,
    /// Values of symbols that are not listed one by one: how many, and the worst of them as a share of its tolerance.
    pub unlisted: Option<[String; 2]>,
}

#[derive(Debug, Serialize)]
pub struct Row {
    /// Where it is another one than that of the row above.
    pub case: String,
    /// The words of a limit, where they are others than those of the row above.
    pub limit: String,
    /// The uses before a symbol.
    pub uses: String,
    pub symbol: Option<Math>,
    pub unit: String,
    pub wanted: String,
    pub found: String,
    pub deviation: String,
    pub ok: bool,
}

pub fn verification(
    library: &Library,
    all: &Validation,
    digests: [String; 2],
    [program, build]: [&str; 2],
    date: &str,
) -> Checked<Verification> {
    let by_sheet: Vec<_> = all.by_sheet().collect();
    let bare = |limit: &&&Backed| limit.best().is_none_or(|kind| kind == Kind::Recalled);
    let bare = by_sheet.iter().map(|(name, _, limits)| {
        (name.to_string(), limits.iter().filter(bare).map(|limit| self::limit(limit)).collect::<Vec<_>>())
    });
    let sheets: Vec<Sheet> = by_sheet.iter().map(|(name, files, limits)| sheet(library, name, files, limits)).collect();
    let about: Vec<&str> = all.files.iter().map(|compared| compared.file.about()).collect();
    let untried = library.sheets().map(|sheet| sheet.name.clone()).filter(|name| !about.contains(&name.as_str()));
    let all_sources = sources(all.values());
    let of_kind = |kind: Kind| {
        let of = all_sources.iter().filter(move |source| source.0 == kind);
        (kind.name(), of.map(|(_, text, count)| (text.clone(), counted(*count))).collect())
    };
    let off = all.files.iter().flat_map(|compared| {
        let off = compared.values.iter().filter(|value| !value.holds());
        off.map(|value| Row { case: format!("{}, {}", compared.file.name, value.id), ..row(value, None) })
    });
    Ok(Verification {
        program: program.into(),
        build: build.into(),
        date: date.into(),
        headline: all.headline(),
        ok: all.holds(),
        digests,
        values: counted(all.values().count()),
        cases: counted(all.files.iter().map(|compared| compared.file.grid.rows.len()).sum()),
        files: counted(all.files.len()),
        kinds: kinds(all.values()).map(counted),
        shares: all.shares(),
        limits: all.limits.len(),
        sheets,
        bare: bare.filter(|(_, limits)| !limits.is_empty()).collect(),
        untried: untried.collect(),
        errors: errors(planted(Where::Sheets)?),
        slips: errors(planted(Where::Program)?),
        sources: Kind::ALL.map(of_kind).into(),
        off: off.collect(),
    })
}

fn errors((all, words): (Vec<Planted>, String)) -> Errors {
    let found: usize = all.iter().map(|planted| planted.found).sum();
    let missed: usize = all.iter().map(|planted| planted.escapes.len()).sum();
    let counts = all.iter().map(|planted| [planted.name.clone(), counted(planted.found), some(planted.escapes.len())]);
    Errors {
        words,
        found: counted(found),
        missed: counted(missed),
        share: number_fixed(100.0 * found as f64 / (found + missed).max(1) as f64, 1),
        counts: counts.collect(),
        escapes: all
            .into_iter()
            .filter(|planted| !planted.escapes.is_empty())
            .map(|planted| {
                let rows = planted.escapes.into_iter().map(|it| [it.line, it.was, it.now, it.reason]);
                (planted.name, rows.collect())
            })
            .collect(),
    }
}

fn sheet(library: &Library, name: &str, files: &[&Compared], limits: &[&Backed]) -> Sheet {
    let values = || files.iter().flat_map(|compared| &compared.values);
    let backed = |best: Option<Kind>| limits.iter().filter(|limit| limit.best() == best).count();
    let [published, independent, recalled] = Kind::ALL.map(|kind| some(backed(Some(kind))));
    Sheet {
        name: name.into(),
        title: match name {
            TABLES => "Rows of the tables".into(),
            COMBINATIONS => "Load combinations of the example jobs".into(),
            name => library.sheet(name).map_or(String::new(), |sheet| sheet.title.clone()),
        },
        values: some(values().count()),
        kinds: kinds(values()).map(some),
        worst: worst_shown(values()),
        off: if files.is_empty() { String::new() } else { counted(values().filter(|value| !value.holds()).count()) },
        limits: limits.iter().map(|limit| self::limit(limit)).collect(),
        backed: [published, independent, recalled, some(backed(None))],
        files: files.iter().map(|compared| file(compared)).collect(),
    }
}

fn limit(limit: &Backed) -> Limit {
    let said = |counts: Counts| counts.map(some);
    Limit {
        words: limit.words.clone(),
        cite: limit.cite.clone(),
        best: limit.best().map_or("none", Kind::name),
        direct: said(limit.direct),
        sides: said(limit.sides),
    }
}

fn file(compared: &Compared) -> File {
    let runs = compared.values.chunk_by(Value::alike).map(|alike| {
        let (kind, within, source) = Value::ground(alike);
        let mut rows: Vec<Row> = Vec::new();
        let mut values = alike.iter().filter(|value| listed(value)).peekable();
        while let Some(mut value) = values.next() {
            // The ratio of a limit and its verdict are one row, in whichever order they stand.
            let mut verdict = None;
            if let Some(next) = values.next_if(|next| next.id == value.id && of_one_limit(value, next)) {
                let swap = matches!(value.what, What::Verdict(_));
                (value, verdict) = if swap { (next, Some(value)) } else { (value, Some(next)) };
            }
            rows.push(row(value, verdict));
        }
        // What a row has in common with the one above is not said again.
        for at in (1..rows.len()).rev() {
            let (above, here) = rows.split_at_mut(at);
            let above = &above[at - 1];
            if here[0].limit == above.limit {
                here[0].limit.clear();
                if here[0].case == above.case {
                    here[0].case.clear();
                }
            }
        }
        let unlisted: Vec<&Value> = alike.iter().filter(|value| !listed(value)).collect();
        let worst = || worst_shown(unlisted.iter().copied());
        let unlisted = (!unlisted.is_empty()).then(|| [counted(unlisted.len()), worst()]);
        Run { kind, source, within, rows, unlisted }
    });
    File { name: compared.file.name.clone(), words: compared.file.words(), runs: runs.collect() }
}

/// What a script works on the way to a limit is too much for paper; one that is off is not.
fn listed(value: &Value) -> bool {
    let on_the_way = matches!(value.what, What::Symbol(_) | What::Pieces(_));
    value.kind != Kind::Independent || !on_the_way || !value.holds()
}

fn of_one_limit(a: &Value, b: &Value) -> bool {
    match (&a.what, &b.what) {
        (What::Ratio(of), What::Verdict(words)) | (What::Verdict(words), What::Ratio(of)) => of == words,
        _ => false,
    }
}

/// `verdict`: of the limit whose ratio it is.
fn row(value: &Value, verdict: Option<&Value>) -> Row {
    let beside = |text: String, answer: Option<&Answer>| match answer {
        Some(answer) => format!("{text}, {}", answer.shown()),
        None => text,
    };
    let (limit, uses, symbol) = match &value.what {
        What::Symbol(name) => {
            let uses = name.rsplit_once('.').map_or(String::new(), |(uses, _)| format!("{uses}: "));
            let bare = name.rsplit_once('.').map_or(name.as_str(), |(_, name)| name);
            (String::new(), uses, Some(self::symbol(bare)))
        }
        What::Ratio(words) | What::Verdict(words) | What::Pieces(words) => (words.clone(), String::new(), None),
        What::Refusal(words) => (format!("refused: {words}"), String::new(), None),
    };
    Row {
        case: value.id.clone(),
        limit,
        uses,
        symbol,
        unit: value.unit.pretty(),
        wanted: beside(value.wanted.shown(), verdict.map(|verdict| &verdict.wanted)),
        found: beside(value.found_shown(), verdict.and_then(|verdict| verdict.found.as_ref())),
        deviation: value.deviation_shown(),
        ok: value.holds() && verdict.is_none_or(Value::holds),
    }
}

fn kinds<'a>(values: impl Iterator<Item = &'a Value>) -> Counts {
    values.fold(Counts::default(), |mut counts, value| {
        counts[value.kind as usize] += 1;
        counts
    })
}

fn counted(count: usize) -> String {
    number(count as f64, 9)
}

/// Nothing is said of none.
fn some(count: usize) -> String {
    if count == 0 { String::new() } else { counted(count) }
}
