//! Joins what the root sheet needs with what the job's files say.

use super::around::SOURCES;
use super::columns::columns;
use crate::diag::{Diagnostic, Kind::Missing, list};
use crate::formula::Kind;
use crate::job::{CATALOGUES, Catalogue, Fact, Job, Known, PARTS, Post, WIND, table_place};
use crate::names::same_name;
use crate::program::Program;
use crate::quantity::{Dim, Unit};
use crate::sheet::{Input, Library};
use crate::source::Place;

/// Whether a place that inputs come from is a table of `job.toml`.
pub fn is_setting(from: &str) -> bool {
    !["posts", "combination", "cases"].contains(&from) && !SOURCES.contains(&from) && Catalogue::named(from).is_none()
}

/// Whether a post may say for itself, in a column, what a table of `job.toml`
/// says of all. Who and when, the code and the earthquake are those of the job.
pub fn is_per_post(table: &str) -> bool {
    is_setting(table) && !["job", "code", "loads", "seismic"].contains(&table)
}

/// What is read of a file without a sheet.
const PLAIN: [&str; 5] = ["mark", "x", "y", "source", "node"];
const PLAIN_ROW: [&str; 4] = ["name", "source", "report", "report_date"];

/// The names that are read of each file and of each table of `job.toml`.
pub fn known_names(library: &Library) -> Known {
    let mut known = Known::default();
    let mut add = |file: &str, name: &str, dim: Option<Dim>| {
        known.files.entry(file.into()).or_default().insert(name.into(), dim);
    };
    let choices = CATALOGUES.iter().map(|catalogue| catalogue.column);
    PLAIN.into_iter().chain(choices).for_each(|name| add("posts", name, None));
    // The wind on a post itself, for every wind case that is given.
    PARTS[WIND..].iter().for_each(|(name, dim)| add("posts", name, Some(*dim)));
    CATALOGUES.iter().for_each(|catalogue| PLAIN_ROW.iter().for_each(|name| add(catalogue.name, name, None)));
    let read = || library.columns().filter_map(|(_, input)| Some((input.from.as_ref()?, input.kind.dim())));
    for (from, dim) in read() {
        match from.source.as_str() {
            "combination" | "cases" => {}
            around if SOURCES.contains(&around) => {}
            file if !is_setting(file) => add(file, &from.name, dim),
            table if is_per_post(table) => add("posts", &from.name, dim),
            _ => {}
        }
    }
    for (from, _) in read().filter(|(from, _)| is_setting(&from.source)) {
        let keys = known.tables.entry(from.source.clone()).or_default();
        if !keys.contains(&from.name) {
            keys.push(from.name.clone());
        }
    }
    known.words =
        columns(library).iter().map(|column| (column.named(), [column.say.clone(), column.range()])).collect();
    known
}

/// What a file says of an input.
pub fn fact_of<'a>(input: &Input, job: &'a Job, post: &'a Post) -> Option<&'a Fact> {
    said_of(input, job, post).map(|(_, fact)| fact)
}

/// Of whom or what a file says something: a post by its mark, a table of `job.toml`, a
/// catalogue and the name of a row.
pub type Whose<'a> = (&'a str, &'a str);

/// What a file says of an input, and of whom.
pub fn said_of<'a>(input: &Input, job: &'a Job, post: &'a Post) -> Option<(Whose<'a>, &'a Fact)> {
    let from = input.from.as_ref()?;
    let own = || Some((("posts", post.mark.as_str()), post.facts.get(&from.name)?));
    match from.source.as_str() {
        "posts" => own(),
        "combination" | "cases" => None,
        around if SOURCES.contains(&around) => None,
        // What a post says of itself wins over what the job says of all.
        table if is_setting(table) => is_per_post(table).then(own).flatten().or_else(|| {
            let (table, facts) = job.settings.get_key_value(table)?;
            Some(((table.as_str(), ""), facts.get(&from.name)?))
        }),
        catalogue => {
            let (catalogue, entry) = post.entries.get_key_value(catalogue)?;
            Some(((catalogue, entry.name.as_str()), entry.facts.get(&from.name)?))
        }
    }
}

/// As many cells as a diagnostic names.
const NAMED: usize = 6;

/// Marks a fault that a sheet found in the cells that it comes from.
pub fn located(diagnostic: Diagnostic, program: &Program, job: &Job, post: &Post) -> Diagnostic {
    let rests_on = diagnostic.rests_on.iter();
    let inputs: Vec<&Input> = rests_on
        .filter_map(|key| program.facts.iter().map(|fact| &fact.input).find(|input| input.key() == *key))
        .collect();
    let facts: Vec<(&Input, &Fact)> =
        inputs.iter().filter_map(|input| Some((*input, fact_of(input, job, post)?))).take(NAMED).collect();
    let in_sheet = diagnostic.place.as_ref().is_some_and(|place| place.source.name.ends_with(".sheet"));
    let Some((_, first)) = facts.first().filter(|_| in_sheet) else {
        // What the job does not say would stand in the row of the post, or in a
        // table of `job.toml`.
        let mut diagnostic = diagnostic;
        if let Some(from) = inputs.iter().find_map(|input| input.from.as_ref()).filter(|_| in_sheet) {
            diagnostic.place = match from.source.as_str() {
                "posts" => Some(post.place.clone()),
                table if is_setting(table) => table_place(&job.toml, table),
                _ => diagnostic.place,
            };
        }
        // What is missing says of whom.
        return match diagnostic.kind() == Missing {
            true => diagnostic,
            false => diagnostic.hint(format!("for post {}", post.mark)),
        };
    };
    let named =
        facts.iter().map(|(input, fact)| format!("`{}` {} ({})", input.column(), fact.as_typed(), fact.whence.of));
    let rests_on = named.collect::<Vec<_>>().join(", ");
    let rule = diagnostic.place.as_ref().map_or(String::new(), Place::describe);
    let place = first.place.clone();
    diagnostic.at(place).hint(format!("for post {}, from {rests_on}", post.mark)).hint(format!("the rule is in {rule}"))
}

/// What to say of an input that the job does not give; `nowhere` if no post has
/// a cell for it.
pub fn missing(input: &Input, job: &Job, post: &Post, nowhere: bool) -> Diagnostic {
    let say = Some(&input.say).filter(|say| !say.is_empty() && *say != input.column());
    let what = say.map_or(String::new(), |say| format!(" ({say})"));
    let wanted = format!("expected {}", noun(input));
    if let Some(catalogue) = input.from.as_ref().map(|from| from.source.as_str()).and_then(Catalogue::named) {
        let (thing, file) = (catalogue.column, catalogue.file());
        return match post.entries.get(catalogue.name) {
            Some(entry) => {
                let (chosen, file) =
                    (job.posts.iter().filter_map(|post| post.entries.get(catalogue.name)), &entry.file);
                let mut beside = chosen.filter(|other| other.file == *file);
                let nowhere = !has_heading(&entry.header, input.column())
                    && beside.all(|other| !other.facts.contains_key(input.column()));
                match nowhere {
                    true => Diagnostic::new(format!("`{file}` has no `{}`{what}", input.column()))
                        .at(entry.header.clone())
                        .hint(format!("add a column {}; {wanted}", headings(input)))
                        .hint(format!("the {thing} `{}` needs it", entry.name)),
                    false => Diagnostic::new(format!("the {thing} `{}` has no `{}`{what}", entry.name, input.column()))
                        .at(entry.place.clone())
                        .hint(format!("put it in the column {} of `{file}`; {wanted}", headings(input))),
                }
                .of(Missing, input.column())
            }
            // It lacks the row, and not each column of it.
            None => {
                let (nobody, whole) = (job.posts.iter().all(|post| no_row(post, catalogue)), post.header.clone());
                let (what, place) = match nobody {
                    true => (format!("`posts.csv` has no column `{thing}`, or nothing in it"), whole),
                    false => (format!("post {} has no {thing}", post.mark), post.place.clone()),
                };
                Diagnostic::new(what)
                    .of(Missing, thing)
                    .at(place)
                    .hint(format!("name a row of `{file}` in the column `{thing}` of `posts.csv`"))
            }
        };
    }
    let nowhere = nowhere && !has_heading(&post.header, input.column());
    let diagnostic = match input.from.as_ref().map(|from| from.source.as_str()) {
        Some("posts") if nowhere => Diagnostic::new(format!("`posts.csv` has no `{}`{what}", input.column()))
            .at(post.header.clone())
            .hint(format!("add a column {}; {wanted}", headings(input))),
        Some("posts") => Diagnostic::new(format!("post {} has no `{}`{what}", post.mark, input.column()))
            .at(post.place.clone())
            .hint(format!("put it in the column {}; {wanted}", headings(input))),
        // The posts say it one by one, and this one does not.
        Some(table) if is_per_post(table) && has_heading(&post.header, input.column()) => {
            Diagnostic::new(format!("post {} has no `{}`{what}", post.mark, input.column()))
                .at(post.place.clone())
                .hint(format!("put it in the column {}; {wanted}", headings(input)))
                .hint(format!("or write {} under `[{table}]` in `job.toml`, for all posts that have none", key(input)))
        }
        Some(table) => {
            let diagnostic = Diagnostic::new(format!("`job.toml` has no `{}`{what}", input.column()))
                .hint(format!("write {} under `[{table}]`; {wanted}", key(input)));
            match table_place(&job.toml, table) {
                Some(place) => diagnostic.at(place),
                None => diagnostic,
            }
        }
        None => Diagnostic::new(format!("the root sheet does not say where `{}` comes from", input.column())),
    };
    diagnostic.of(Missing, input.column())
}

/// Whether a row of headings has a column, though all of its cells may be empty.
fn has_heading(header: &Place, column: &str) -> bool {
    let headings = header.source.text[header.span.clone()].split([',', ';', '\t']);
    let mut names =
        headings.map(|heading| heading.split(['[', '(']).next().unwrap_or_default().trim_matches(['"', ' ']));
    names.any(|name| same_name(name, column))
}

/// Whether a post names no row of a catalogue.
fn no_row(post: &Post, catalogue: &Catalogue) -> bool {
    !post.entries.contains_key(catalogue.name) && !post.unknown.contains(catalogue.name)
}

/// What an input is, in the words of a message: `a length`, `` `dry` or `wet` ``.
pub fn noun(input: &Input) -> String {
    match (&input.kind, input.written().first()) {
        (Kind::Choice(names), _) => list(names, "or"),
        (Kind::Count, _) => "a whole number".into(),
        (Kind::Quantity(dim), Some(usual)) if !dim.is_none() => usual.noun(),
        (Kind::Quantity(_), _) => "a number".into(),
        (kind, _) => kind.named(),
    }
}

/// A key as people write it: `` `V = "… mph"` ``.
fn key(input: &Input) -> String {
    in_each_unit(input, |name, unit| format!("{name} = \"… {unit}\""))
}

/// The heading of a column as people write it: `` `width [in]` ``.
fn headings(input: &Input) -> String {
    in_each_unit(input, |name, unit| format!("{name} [{unit}]"))
}

/// The name of a column or key, written for each unit that it can have.
fn in_each_unit(input: &Input, write: impl Fn(&str, &str) -> String) -> String {
    let units = input.written();
    let units: Vec<&str> = units.iter().map(Unit::name).filter(|unit| !unit.is_empty()).collect();
    match units.as_slice() {
        [] => format!("`{}`", input.column()),
        units => units.iter().map(|unit| format!("`{}`", write(input.column(), unit))).collect::<Vec<_>>().join(" or "),
    }
}
