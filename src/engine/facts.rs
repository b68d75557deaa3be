//! Joins what the root sheet needs with what the job's files say.

use crate::diag::{Diagnostic, Kind::Missing};
use crate::job::{CATALOGUES, Catalogue, Fact, Job, Known, Post};
use crate::program::Program;
use crate::quantity::{Dim, Unit};
use crate::sheet::{Input, Library};
use crate::source::Place;

/// Whether a place that inputs come from is a table of `job.toml`.
pub fn is_setting(from: &str) -> bool {
    !["posts", "combination", "grid"].contains(&from) && Catalogue::named(from).is_none()
}

/// Whether a post may say for itself, in a column, what a table of `job.toml`
/// says of all. Who and when, the code and the earthquake are those of the job.
pub fn is_per_post(table: &str) -> bool {
    is_setting(table) && !["job", "code", "loads", "seismic"].contains(&table)
}

/// What is read of a file without a sheet.
const PLAIN: [&str; 4] = ["mark", "x", "y", "source"];
const PLAIN_ROW: [&str; 4] = ["name", "source", "report", "report_date"];

/// The names that are read of each file and of each table of `job.toml`.
pub fn known_names(library: &Library) -> Known {
    let mut known = Known::default();
    let mut add = |file: &str, name: &str, dim: Option<Dim>| {
        known.files.entry(file.into()).or_default().insert(name.into(), dim);
    };
    let choices = CATALOGUES.iter().map(|catalogue| catalogue.column);
    PLAIN.into_iter().chain(choices).for_each(|name| add("posts", name, None));
    CATALOGUES.iter().for_each(|catalogue| PLAIN_ROW.iter().for_each(|name| add(catalogue.name, name, None)));
    let read = || library.columns().filter_map(|(_, input)| Some((input.from.as_ref()?, input.kind.dim())));
    for (from, dim) in read() {
        match from.source.as_str() {
            "combination" | "grid" => {}
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
    known
}

/// What a file says of an input.
pub fn fact_of<'a>(input: &Input, job: &'a Job, post: &'a Post) -> Option<&'a Fact> {
    let from = input.from.as_ref()?;
    match from.source.as_str() {
        "posts" => post.facts.get(&from.name),
        "combination" | "grid" => None,
        // What a post says of itself wins over what the job says of all.
        table if is_setting(table) => {
            let own = is_per_post(table).then(|| post.facts.get(&from.name)).flatten();
            own.or_else(|| job.settings.get(table)?.get(&from.name))
        }
        catalogue => post.entries.get(catalogue)?.facts.get(&from.name),
    }
}

/// As many cells as a diagnostic names.
const NAMED: usize = 6;

/// Marks a fault that a sheet found in the cells that it comes from.
pub fn located(diagnostic: Diagnostic, program: &Program, job: &Job, post: &Post) -> Diagnostic {
    let rests_on = diagnostic.rests_on.iter();
    let inputs =
        rests_on.filter_map(|key| program.facts.iter().map(|fact| &fact.input).find(|input| input.key() == *key));
    let facts: Vec<(&Input, &Fact)> =
        inputs.filter_map(|input| Some((input, fact_of(input, job, post)?))).take(NAMED).collect();
    let in_sheet = diagnostic.place.as_ref().is_some_and(|place| place.source.name.ends_with(".sheet"));
    let Some((_, first)) = facts.first().filter(|_| in_sheet) else {
        return diagnostic.hint(format!("for post {}", post.mark));
    };
    let named =
        facts.iter().map(|(input, fact)| format!("`{}` {} ({})", input.column(), fact.as_typed(), fact.whence.of));
    let rests_on = named.collect::<Vec<_>>().join(", ");
    let rule = diagnostic.place.as_ref().map_or(String::new(), Place::describe);
    let place = first.place.clone();
    diagnostic
        .at(place)
        .hint(format!("for post {}, from {rests_on}", post.mark))
        .hint(format!("the rule stands in {rule}"))
}

/// What to say of an input that the job does not give; `nowhere` if no post has
/// a cell for it.
pub fn missing(input: &Input, job: &Job, post: &Post, nowhere: bool) -> Diagnostic {
    let what = if input.say.is_empty() { String::new() } else { format!(" ({})", input.say) };
    let article = if input.kind.to_string().starts_with("one of") { "" } else { "a " };
    let wanted = format!("{article}{} is wanted", input.kind);
    if let Some(catalogue) = input.from.as_ref().map(|from| from.source.as_str()).and_then(Catalogue::named) {
        let (thing, file) = (catalogue.column, catalogue.file());
        return match post.entries.get(catalogue.name) {
            Some(entry) => Diagnostic::new(format!("the {thing} `{}` has no `{}`{what}", entry.name, input.column()))
                .at(entry.place.clone())
                .of(Missing, input.column())
                .hint(format!("put it in a column `{}` of `{file}`; {wanted}", heading(input))),
            // It lacks the row, and not each column of it.
            None => Diagnostic::new(format!("post {} has no {thing}", post.mark))
                .of(Missing, thing)
                .at(post.place.clone())
                .hint(format!("name a row of `{file}` in the column `{thing}` of `posts.csv`")),
        };
    }
    let diagnostic = match input.from.as_ref().map(|from| from.source.as_str()) {
        Some("posts") if nowhere => {
            let source = &post.place.source;
            let header = source.text.find(['\r', '\n']).unwrap_or(source.text.len());
            Diagnostic::new(format!("`posts.csv` has no `{}`{what}", input.column()))
                .at(Place::new(source, 0..header))
                .hint(format!("add a column `{}`; {wanted}", heading(input)))
        }
        Some("posts") => Diagnostic::new(format!("post {} has no `{}`{what}", post.mark, input.column()))
            .at(post.place.clone())
            .hint(format!("put it in the column `{}`; {wanted}", heading(input))),
        Some(table) => {
            let diagnostic = Diagnostic::new(format!("`job.toml` has no `{}`{what}", input.column()))
                .hint(format!("write it under `[{table}]`; {wanted}"));
            match job.toml.text.find(&format!("[{table}]")) {
                Some(at) => diagnostic.at(Place::new(&job.toml, at..at + table.len() + 2)),
                None => diagnostic,
            }
        }
        None => Diagnostic::new(format!("the root sheet does not say where `{}` comes from", input.column())),
    };
    diagnostic.of(Missing, input.column())
}

fn heading(input: &Input) -> String {
    match input.kind.dim() {
        Some(dim) if !dim.is_none() => format!("{} [{}]", input.column(), Unit::usual(dim).name()),
        _ => input.column().to_string(),
    }
}
