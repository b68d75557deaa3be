//! Tables and steps for a terminal.

use std::collections::BTreeMap;

use comfy_table::{ContentArrangement, Table, presets};

use crate::engine::Column;
use crate::formula::Value;
use crate::quantity::measured;
use crate::sheet::{Bound, Library, Part, Step, Worked};
use crate::typeset::{printed, two_sides, value_text};

fn table() -> Table {
    let mut table = Table::new();
    table.load_style(presets::UTF8_HORIZONTAL_ONLY).set_content_arrangement(ContentArrangement::Dynamic);
    table.force_no_tty();
    if table.width().is_none() {
        table.set_width(120);
    }
    table
}

/// Every sheet: name, subject, title.
pub fn sheet_list(library: &Library) -> String {
    let mut table = table();
    table.set_header(["sheet", "subject", "what it calculates"]);
    for sheet in library.sheets() {
        table.add_row([sheet.name.as_str(), library.subject(&sheet.name), sheet.title.as_str()]);
    }
    format!("{table}\n")
}

/// Columns by the file or table that they stand in, a line each; after those of the posts the
/// keys of `job.toml` that may be columns too, by their table.
pub fn column_list(columns: &[Column], keys_by_post: &BTreeMap<String, Vec<String>>) -> String {
    let mut out = String::new();
    for file in columns.chunk_by(|a, b| a.source == b.source) {
        let source = &file[0].source;
        let gap = if out.is_empty() { "" } else { "\n" };
        let key = file[0].is_key();
        let name = if key { format!("[{source}] in job.toml") } else { format!("{source}.csv") };
        out.push_str(&format!("{gap}{name}\n"));
        let wide = file.iter().map(|column| column.heading.chars().count()).max().unwrap_or(0).min(LONGEST);
        // Those that every row has, then those of one kind alone.
        let mut kinds: BTreeMap<String, Vec<&Column>> = BTreeMap::new();
        file.iter().for_each(|column| kinds.entry(column.only.join(" and ")).or_default().push(column));
        for (kind, columns) in kinds {
            if !kind.is_empty() {
                out.push_str(&format!(" where {kind}\n"));
            }
            columns.into_iter().for_each(|column| column_lines(column, wide, &mut out));
        }
        if source == "posts" {
            out.push_str(" where a post differs from what job.toml says of all: a column with the name of a key\n");
            for (table, keys) in keys_by_post {
                wrapped(&format!("   [{table}]"), "     ", &keys.join(", "), &mut out);
            }
            let first = keys_by_post.keys().next().map_or("", String::as_str);
            let say = format!(
                "An empty cell takes what job.toml says. `socle sheets --columns {first}` says what the keys of [{first}] are. No other key of job.toml may be a column, and none of the columns above a key."
            );
            wrapped("  ", "  ", &say, &mut out);
        } else if keys_by_post.contains_key(source) {
            out.push_str(" where posts differ: a column of the same name in posts.csv\n");
        }
    }
    out
}

/// Words after a beginning, in lines that are not too long.
fn wrapped(begin: &str, indent: &str, words: &str, out: &mut String) {
    let mut line = begin.to_string();
    for word in words.split_whitespace() {
        if line.chars().count() + word.chars().count() >= WIDE {
            out.push_str(&format!("{line}\n"));
            line = indent.to_string();
        }
        line.push_str(&format!(" {word}"));
    }
    out.push_str(&format!("{line}\n"));
}

/// A heading is not longer, or its words begin farther right.
const LONGEST: usize = 26;
const WIDE: usize = 100;

fn column_lines(column: &Column, wide: usize, out: &mut String) {
    let mut words = column.say.clone();
    let range = column.range();
    if !range.is_empty() {
        words.push_str(&format!(": {range}"));
    }
    match &column.default {
        Some(default) if column.safe => words.push_str(&format!("; {default} if not given, which is conservative")),
        Some(default) => words.push_str(&format!("; {default} assumed if not given")),
        None if column.optional => words.push_str("; may be left out"),
        None => {}
    }
    if !column.sheets.is_empty() {
        words.push_str(&format!(". Read by {}", column.sheets.join(", ")));
    }
    wrapped(&format!("  {:wide$} ", column.heading), &" ".repeat(wide + 3), &words, out);
}

/// The steps of one sheet, as on a calculation pad.
pub fn work_steps(worked: &Worked) -> String {
    let mut out = String::new();
    steps(worked, 0, &mut out);
    out
}

fn steps(worked: &Worked, depth: usize, out: &mut String) {
    let indent = "  ".repeat(depth);
    out.push_str(&format!("{indent}{} ({})\n", worked.sheet.title, worked.name));
    for given in &worked.given {
        if let Some(bound) = worked.bound.get(&given.input.name) {
            line(out, &indent, &format!("{} = {}", given.input.name, show(bound)), &given.input.say, "given");
        }
    }
    let text = |span: &std::ops::Range<usize>| {
        worked.sheet.source.text[span.clone()].split_whitespace().collect::<Vec<_>>().join(" ")
    };
    for step in &worked.steps {
        match step {
            Step::Heading(heading) => out.push_str(&format!("{indent}  {heading}\n")),
            Step::Prose(prose) => prose_line(prose, &indent, out),
            Step::Note(note) => prose_line(&note.text, &indent, out),
            Step::Let { rule, taken } => {
                let Some(bound) = worked.bound.get(&rule.name) else { continue };
                let formula = text(&rule.cases[*taken].value.span);
                let value = show(bound);
                let equation = if formula == value {
                    format!("{} = {value}", rule.name)
                } else {
                    format!("{} = {formula} = {value}", rule.name)
                };
                line(out, &indent, &equation, &rule.say, rule.cite.as_deref().unwrap_or("own arithmetic"));
            }
            Step::Take { rule, taken } => {
                for (name, ..) in &rule.names {
                    if let Some(bound) = worked.bound.get(name) {
                        line(out, &indent, &format!("{name} = {}", show(bound)), &rule.say, &taken.source);
                    }
                }
            }
            Step::Skipped(condition) => {
                out.push_str(&format!("{indent}    not applicable: it needs {}\n", text(&condition.span)))
            }
            Step::Use(inner) => steps(inner, depth + 1, out),
            Step::Rename(_) | Step::Page { .. } | Step::Piece { .. } => {}
            // A terminal draws no figures.
            Step::Figure { .. } => {}
            Step::Decide { rule, values } => {
                let values = rule.values.iter().zip(values).map(|((name, _), bound)| format!("{name} {}", show(bound)));
                let text = format!("to be decided by an engineer: {}", values.collect::<Vec<_>>().join(", "));
                line(out, &indent, &text, &rule.what, &rule.cite);
            }
            Step::Must { rule, verdict } => {
                let word = if verdict.ok { "met" } else { "NOT MET" };
                let numbers = match &verdict.sides {
                    Some((demand, capacity)) => {
                        let (demand, capacity, ratio) = two_sides(demand, capacity, verdict.ratio);
                        format!("{} of {} {}, ratio {ratio}: {word}", demand.number, capacity.number, capacity.unit)
                    }
                    None => format!("{}: {word}", text(&rule.condition.span)),
                };
                line(out, &indent, &numbers, &rule.say, rule.cite.as_deref().unwrap_or(""));
                if !verdict.ok {
                    out.push_str(&format!("{indent}      {}\n", rule.remedy));
                }
            }
        }
    }
}

fn prose_line(prose: &[Part], indent: &str, out: &mut String) {
    let text: String = prose
        .iter()
        .map(|part| match part {
            Part::Markup(text) | Part::Symbol(text) => text.as_str(),
        })
        .collect();
    out.push_str(&format!("{indent}    {}\n", text.split_whitespace().collect::<Vec<_>>().join(" ")));
}

fn line(out: &mut String, indent: &str, equation: &str, say: &str, cite: &str) {
    let cite = if cite.is_empty() { String::new() } else { format!("  [{cite}]") };
    let say = if say.is_empty() { String::new() } else { format!("  {}", say.replace('`', "")) };
    out.push_str(&format!("{indent}    {equation}{say}{cite}\n"));
}

fn show(bound: &Bound) -> String {
    match &bound.value {
        Value::Quantity(_) => {
            let shown = printed(bound);
            measured(&shown.number, &shown.unit)
        }
        value => value_text(value),
    }
}
