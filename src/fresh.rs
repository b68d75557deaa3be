//! A new job: starter values, each marked as nobody's answer, and beside each what
//! the sheets say of it. Values are data, in `templates/starters`; words come from
//! the sheets' own declarations.

use std::collections::BTreeMap;

use crate::diag::{self, Checked};
use crate::engine::{self, Column, LOADS, PostGrid, ROOT, Root, loads_of};
use crate::grid::{Grid, decode};
use crate::job::{CATALOGUES, Catalogue, Job, Known, REACTIONS};
use crate::quantity::Units;
use crate::sheet::{Library, Step, Worked};
use crate::source::Source;
use crate::templates::Templates;

/// What a new job is like.
pub struct Wish {
    /// `pergola`, as the files of starter values say in `when`.
    pub like: &'static str,
    /// `made`.
    pub base: &'static str,
    /// Loads are typed, not worked out from a roof.
    pub reactions: bool,
    pub units: Units,
}

/// The files of a new job, by name.
///
/// # Errors
/// A sheet or a file of starter values is wrong.
pub fn job(wish: &Wish) -> Checked<BTreeMap<String, String>> {
    let templates = Templates::built_in();
    let library = templates.library()?;
    let known = engine::known_names(&library);
    let by_post = engine::keys_by_post(&library);
    let mut lists = BTreeMap::new();
    for name in ["job", "posts", "reactions"].into_iter().chain(CATALOGUES.iter().map(|it| it.name)) {
        let list = list(&templates, name, wish)?;
        if !list.is_empty() && (name != "reactions" || wish.reactions) {
            lists.insert(name, list);
        }
    }
    let plain = Writer { wish, known: &known, by_post, columns: engine::columns(&library), read: Read::new() };
    let read = read_by(&plain.files(&lists), &known, &library)?;
    let columns = engine::columns(&library.printed_in(wish.units));
    Ok(Writer { columns, read, ..plain }.files(&lists))
}

/// A starter value.
struct Value {
    /// The table of `job.toml`, the mark of a post, the load case; nothing where it is for all.
    row: String,
    /// The column or key; after a `#` one that is written as a comment, after `# ` words,
    /// whose text is the key that they explain, if they explain one.
    name: String,
    unit: String,
    text: String,
}

impl Value {
    /// A name by which files refer to each other, or what the new job was asked to
    /// be, is no guess.
    fn is_label(&self, list: &str) -> bool {
        let chooses = list == "posts" && CATALOGUES.iter().any(|catalogue| catalogue.column == self.name);
        let names = Catalogue::named(list).is_some() && ["name", "kind"].contains(&self.name.as_str());
        chooses || names || (list, self.name.as_str()) == ("job", "units")
    }

    fn is_words(&self) -> bool {
        self.name.starts_with("# ")
    }

    /// The key that is written as a comment.
    fn put_away(&self) -> Option<&str> {
        self.name.strip_prefix('#').filter(|_| !self.is_words())
    }

    fn marked(&self, list: &str) -> String {
        if self.is_label(list) { self.text.clone() } else { format!("{} ?", self.text) }
    }

    fn heading(&self) -> String {
        if self.unit.is_empty() { self.name.clone() } else { format!("{} [{}]", self.name, self.unit) }
    }
}

/// The values of a list that such a job has; a later one takes the place of an
/// earlier one.
fn list(templates: &Templates, name: &str, wish: &Wish) -> Checked<Vec<Value>> {
    let path = format!("starters/{name}.csv");
    let text = templates.files.get(&path).map_or(String::new(), |bytes| decode(bytes));
    let grid = Grid::read(&Source::new(format!("templates/{path}"), text))?;
    let mut values: Vec<Value> = Vec::new();
    for row in &grid.rows {
        let [when, row, heading, imperial, metric] = row.each_text();
        if !holds(when, wish) {
            continue;
        }
        let (name, units) = heading.strip_suffix(']').and_then(|it| it.split_once(" [")).unwrap_or((heading, ""));
        let (inch, millimetre) = units.split_once(" or ").unwrap_or((units, units));
        let text = if metric.is_empty() { imperial } else { wish.units.either(imperial, metric) };
        let value = Value {
            row: row.into(),
            name: name.into(),
            unit: wish.units.either(inch, millimetre).into(),
            text: text.into(),
        };
        match values.iter_mut().find(|known| (&known.row, &known.name) == (&value.row, &value.name)) {
            Some(known) => *known = value,
            None => values.push(value),
        }
    }
    Ok(values)
}

trait Texts {
    fn each_text(&self) -> [&str; 5];
}

impl Texts for Vec<crate::grid::Cell> {
    fn each_text(&self) -> [&str; 5] {
        std::array::from_fn(|at| self.get(at).map_or("", |cell| cell.text.as_str()))
    }
}

/// Whether such a job is meant: of each group of words that `when` names, it is one.
fn holds(when: &str, wish: &Wish) -> bool {
    let loads = if wish.reactions { "reactions" } else { "roof" };
    let groups = [(&LIKES[..], wish.like), (&BASES[..], wish.base), (&["roof", "reactions"][..], loads)];
    let named: Vec<&str> = when.split_whitespace().collect();
    groups.iter().all(|(group, is)| named.contains(is) || !named.iter().any(|word| group.contains(word)))
}

pub const LIKES: [&str; 4] = ["pergola", "carport", "porch", "barn"];
pub const BASES: [&str; 2] = ["made", "rated"];

/// What is read of the files, by file or table and name, and what the sheets that read it say it is.
type Read = BTreeMap<(String, String), String>;

/// The inputs of files that are read where such a job is worked, given or not.
fn read_by(files: &BTreeMap<String, String>, known: &Known, library: &Library) -> Checked<Read> {
    let bytes = files.iter().map(|(name, text)| (name.clone(), text.clone().into_bytes())).collect();
    let mut job = Job::read("", &bytes, known)?;
    engine::derive_loads(&mut job, library)?;
    let mut read = Read::new();
    let root = Root::new(&job, library, ROOT, None)?;
    let combinations = engine::combinations(&job, library)?;
    for combination in &combinations {
        walk(&root.work(0, Some(loads_of(combination, &job.posts[0])), None).worked, &mut read);
    }
    if job.settings.contains_key("roof") {
        let around = PostGrid::new(&job.posts).around();
        walk(&Root::new(&job, library, LOADS, Some(around))?.work(0, None, None).worked, &mut read);
    }
    Ok(read)
}

fn walk(worked: &Worked, read: &mut Read) {
    // What may be left out and was is read too.
    let optional = worked.sheet.inputs.iter().filter(|input| input.optional);
    for input in worked.given.iter().map(|given| &given.input).chain(optional) {
        let Some(from) = &input.from else { continue };
        let say = read.entry((from.source.clone(), from.name.clone())).or_default();
        // Of those who read it, who says most of it.
        if say.len() < input.say.len() {
            *say = input.say.replace('`', "");
        }
    }
    for step in &worked.steps {
        if let Step::Use(inner) = step {
            walk(inner, read);
        }
    }
}

struct Writer<'a> {
    wish: &'a Wish,
    known: &'a Known,
    /// Keys that may also be columns of `posts.csv`, by their table.
    by_post: BTreeMap<String, Vec<String>>,
    columns: Vec<Column>,
    read: Read,
}

type Lists = BTreeMap<&'static str, Vec<Value>>;

/// What stands at the head of each file.
const HEADS: [(&str, &str); 6] = [
    ("job", "The job: who, where, by which code, and what holds for all of its posts."),
    ("posts", "The posts: one row each."),
    (
        "reactions",
        "The reactions of the posts: a row for each post in each load case, nominal, as a frame analysis prints them. Where the analysis has other names for cases and columns, job.toml says which they are here: see [loads.cases] and [loads.columns] there.",
    ),
    ("bases", "The bases: a row for each kind, whose name the posts give in `base`."),
    ("foundations", "What the bases stand on: a row for each kind, whose name the posts give in `foundation`."),
    ("anchors", "The anchors: a row for each kind, whose name the posts give in `anchor`."),
];

const STARTER: &str = "A value followed by a ? is a starter value, made up to begin with: replace it with your own, or remove the ? where it is right. All that still have one are counted as open.";

impl Writer<'_> {
    fn files(&self, lists: &Lists) -> BTreeMap<String, String> {
        let mut files = BTreeMap::new();
        for (name, values) in lists {
            match *name {
                "job" => drop(files.insert("job.toml".into(), self.settings(values))),
                "reactions" => {
                    let marks = rows_of(&lists["posts"]);
                    let rows: Vec<[&str; 2]> = marks
                        .iter()
                        .flat_map(|mark| rows_of(values).into_iter().map(move |case| [*mark, case]))
                        .collect();
                    files.insert(REACTIONS.into(), self.table(name, values, &["mark", "case"], &rows));
                }
                "posts" => {
                    let rows: Vec<[&str; 1]> = rows_of(values).into_iter().map(|mark| [mark]).collect();
                    files.insert("posts.csv".into(), self.table(name, values, &["mark"], &rows));
                }
                _ => drop(files.insert(format!("{name}.csv"), self.table::<0>(name, values, &[], &[[]]))),
            }
        }
        files
    }

    /// What the sheets say of a column or key; a post may say for itself what a
    /// table says of all.
    fn column(&self, of: &str, name: &str) -> Option<&Column> {
        let find =
            |of: &str, name: &str| self.columns.iter().find(|it| (it.source.as_str(), it.name.as_str()) == (of, name));
        let own = || find(self.known.table_of(name)?, name);
        if of == "posts" { find(of, name).or_else(own) } else { find(of, name) }
    }

    /// What a column or key is, of which kind and between which bounds.
    fn words(&self, column: &Column) -> String {
        // A sheet that such a job does not work may say other things of it.
        let say = self.read.get(&column.named()).unwrap_or(&column.say);
        let text = [say.clone(), column.plain_range()].into_iter().filter(|part| !part.is_empty());
        self.wish.units.advice(&text.collect::<Vec<_>>().join("; "))
    }

    /// The columns or keys of a file or table that may be left out, are read in such a
    /// job, and have no starter value.
    fn optional(&self, of: &str, values: &[Value]) -> Vec<&Column> {
        let given = |column: &Column| values.iter().any(|value| value.name.trim_start_matches('#') == column.name);
        let useful = |column: &Column| match &column.default {
            // What has no kind is read by no sheet.
            None => column.optional || column.kind.is_empty(),
            Some(_) => true,
        };
        let read = |column: &Column| match column.kind.is_empty() {
            true => ["job", "design_loads"].contains(&of) && column.name != "none",
            false => self.read.contains_key(&column.named()),
        };
        self.columns.iter().filter(|it| it.source == of && !given(it) && useful(it) && read(it)).collect()
    }

    fn settings(&self, values: &[Value]) -> String {
        let mut out = comment(HEADS[0].1, "# ", usize::MAX);
        out.push_str(&comment(STARTER, "# ", usize::MAX));
        out.push_str(&self.all_listed("job.toml", "key"));
        let tables: Vec<String> = self.by_post.keys().map(|table| format!("[{table}]")).collect();
        let tables = diag::list(&tables, "or").replace('`', "");
        let by_post = format!(
            "What a key of {tables} says holds for all posts. Where posts differ, posts.csv can have a column with the name of the key, as it has brace_faces_x: a cell there holds for its post."
        );
        out.push_str(&comment(&by_post, "# ", usize::MAX));
        for table in rows_of(values) {
            let of_table: Vec<&Value> = values.iter().filter(|value| value.row == table).collect();
            out.push_str(&self.settings_of(table, &of_table));
            out.push_str(&self.keys(table, values));
        }
        let say = match self.wish.reactions {
            true => "What the reactions were worked out with, in words for the first page",
            false => "Design loads in words, for the first page: what nothing here is calculated from",
        };
        out.push_str(&format!("\n[design_loads]\n# {say}\n"));
        out.push_str(&self.keys("design_loads", values));
        out
    }

    /// A table with its values; as a comment where all of them are.
    fn settings_of(&self, table: &str, values: &[&Value]) -> String {
        let mut out = String::from("\n");
        let mut heading = format!("[{table}]\n");
        if !values.iter().all(|value| value.is_words() || value.put_away().is_some()) {
            out.push_str(&std::mem::take(&mut heading));
        }
        if table == "loads.none" {
            out.push_str("# kinds of load that the job does not have, L, Lr, S, R, W or E, each with the reason\n");
        }
        // What explains a key in other words than the sheets' stands below theirs.
        let words = |value: &Value| self.wish.units.words(value.name.trim_start_matches("# "));
        for value in values {
            if value.is_words() {
                if value.text.is_empty() {
                    out.push_str(&comment(&words(value), "# ", usize::MAX));
                }
                continue;
            }
            if !heading.is_empty() {
                out.push_str(&format!("# {}", std::mem::take(&mut heading)));
            }
            let (name, before, indent) = match value.put_away() {
                Some(name) => (name, "# ", "#   "),
                None => (value.name.as_str(), "", "# "),
            };
            if let Some(column) = self.column(table, name) {
                out.push_str(&comment(&self.words(column), indent, usize::MAX));
            }
            for more in values.iter().filter(|it| it.is_words() && it.text == name) {
                out.push_str(&comment(&words(more), indent, usize::MAX));
            }
            let text = Value { text: format!("{} {}", value.text, value.unit).trim_end().into(), ..value.copy() };
            // What an analysis writes may have any sign in it.
            let (name, text) = match self.column(table, name) {
                None if value.put_away().is_some() => (quoted(name), text.text),
                _ => (name.into(), text.marked("job")),
            };
            out.push_str(&format!("{before}{name} = {}\n", quoted(&text)));
        }
        out
    }

    /// Where all columns of a file are explained.
    fn all_listed(&self, file: &str, what: &str) -> String {
        let units = self.wish.units.either("", " --units metric");
        format!("# `socle sheets --columns {file}{units}` lists every {what}.\n")
    }

    /// The keys of a table that may be left out, as comments.
    fn keys(&self, table: &str, values: &[Value]) -> String {
        let of_table: Vec<Value> = values.iter().filter(|value| value.row == table).map(Value::copy).collect();
        let optional = self.optional(table, &of_table);
        if optional.is_empty() {
            return String::new();
        }
        let mut out = String::from("# These may be left out:\n");
        for column in optional {
            out.push_str(&comment(&format!("{}{}", self.words(column), left_out(column)), "#   ", usize::MAX));
            out.push_str(&format!("# {} = {}\n", column.name, quoted(column.default.as_deref().unwrap_or_default())));
        }
        out
    }

    /// A CSV file: what its columns are, in comments, then the rows. `rows` are the cells
    /// of the first columns, `named`, of which the last names the row of a value.
    fn table<const N: usize>(&self, of: &str, values: &[Value], named: &[&str; N], rows: &[[&str; N]]) -> String {
        let mut columns: Vec<&Value> = Vec::new();
        for value in values {
            if !columns.iter().any(|known| known.name == value.name) {
                columns.push(value);
            }
        }
        let headings = named.iter().map(|name| name.to_string()).chain(columns.iter().map(|value| value.heading()));
        let headings: Vec<String> = headings.collect();
        // A comment with as many separators as a row would seem to be a row put away.
        let most = headings.len().saturating_sub(2);
        let say = HEADS.iter().find(|(name, _)| *name == of).map_or("", |(_, say)| *say);
        let mut out = comment(say, "# ", most) + &comment(STARTER, "# ", most);
        out.push_str(&format!("{}#\n", self.all_listed(of, "column")));
        for heading in &headings {
            let name = heading.split(" [").next().unwrap_or(heading);
            let said = self.column(of, name).map_or(String::new(), |column| self.words(column));
            out.push_str(&item(heading, &said, most));
        }
        let optional = self.optional(of, values);
        if !optional.is_empty() {
            out.push_str("#\n# These columns may be added:\n");
            for column in optional {
                out.push_str(&item(&column.heading, &format!("{}{}", self.words(column), left_out(column)), most));
            }
        }
        out.push_str("#\n");
        let line = |cells: &[String]| cells.iter().map(|cell| csv_cell(cell)).collect::<Vec<_>>().join(",") + "\n";
        out.push_str(&line(&headings));
        for row in rows {
            let cell = |column: &&Value| {
                let of_row = |value: &&Value| {
                    value.name == column.name && (value.row.is_empty() || row.last() == Some(&value.row.as_str()))
                };
                values.iter().rfind(of_row).map_or(String::new(), |value| value.marked(of))
            };
            let cells: Vec<String> = row.iter().map(|cell| cell.to_string()).chain(columns.iter().map(cell)).collect();
            out.push_str(&line(&cells));
        }
        out
    }
}

impl Value {
    fn copy(&self) -> Value {
        Value { row: self.row.clone(), name: self.name.clone(), unit: self.unit.clone(), text: self.text.clone() }
    }
}

/// The rows that values name, each once.
fn rows_of(values: &[Value]) -> Vec<&str> {
    let mut rows: Vec<&str> = Vec::new();
    for value in values {
        if !value.row.is_empty() && !rows.contains(&value.row.as_str()) {
            rows.push(&value.row);
        }
    }
    rows
}

/// What holds where a column or key is left out.
fn left_out(column: &Column) -> String {
    match &column.default {
        Some(default) if column.safe => format!("; {default} if left out, which is conservative"),
        Some(default) => format!("; {default} assumed if left out"),
        None => String::new(),
    }
}

fn quoted(text: &str) -> String {
    toml::Value::String(text.into()).to_string()
}

fn csv_cell(text: &str) -> String {
    if text.contains([',', '"']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text.into() }
}

/// A heading and what it is, below each other where the heading is long.
fn item(heading: &str, said: &str, most: usize) -> String {
    comment_after(&format!("{heading}: {said}"), "#   ", "#       ", most)
}

fn comment(text: &str, indent: &str, most: usize) -> String {
    comment_after(text, indent, indent, most)
}

/// A text as lines of comment, each with so many commas at most.
fn comment_after(text: &str, first: &str, next: &str, most: usize) -> String {
    const WIDE: usize = 96;
    let mut lines = vec![first.to_string()];
    for word in text.split_whitespace() {
        let line = lines.last().map_or("", String::as_str);
        let commas = line.matches(',').count() + word.matches(',').count();
        let begun = line.len() > next.len().max(first.len());
        if begun && (line.chars().count() + word.chars().count() + 1 > WIDE || commas > most) {
            lines.push(next.to_string());
        }
        if let Some(line) = lines.last_mut() {
            let gap = if line.ends_with(' ') { "" } else { " " };
            line.push_str(&format!("{gap}{word}"));
        }
    }
    lines.join("\n") + "\n"
}
