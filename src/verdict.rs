//! What a job comes to in one sentence, and all that nobody has answered yet.
//! Terminal, JSON and package say the same, from here.

use std::collections::{BTreeMap, BTreeSet};

use crate::diag::count;
use crate::engine::{Asked, GroupResult, Limit, Results, known_names};
use crate::job::{Answer, Catalogue, Job, Known, Post, some_posts};
use crate::names::plain;
use crate::quantity::{Decimals, read_any};
use crate::sheet::Library;

/// How a job stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    NotMet,
    /// Nothing fails, and something is open.
    SubjectTo,
    Met,
}

impl Form {
    /// As other programs read it.
    pub fn name(self) -> &'static str {
        match self {
            Form::NotMet => "not met",
            Form::SubjectTo => "met, subject to what is open",
            Form::Met => "met",
        }
    }
}

/// The form of a job that could not be worked.
pub const NOT_WORKED: &str = "not worked";

/// What kind of answer is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Asks {
    /// An engineer decides it.
    Decision,
    /// Somebody reads it in the publication.
    Confirmation,
    /// Whoever knows the job says it.
    Assumption,
    /// Somebody answers for what a file has marked with ` ?`.
    Starter,
}

impl Asks {
    pub fn name(self) -> &'static str {
        match self {
            Asks::Decision => "decision",
            Asks::Confirmation => "confirmation",
            Asks::Assumption => "assumption",
            Asks::Starter => "starter",
        }
    }

    /// What one of them is called.
    pub fn one(self) -> &'static str {
        match self {
            Asks::Decision => "decision",
            Asks::Confirmation => "unconfirmed value",
            Asks::Assumption => "assumed value",
            Asks::Starter => "starter value",
        }
    }

    /// `1 decision`, `2 decisions`.
    pub fn counted(self, many: usize) -> String {
        count(many, self.one())
    }
}

/// Something that has to be answered, and the answer if there is one.
#[derive(Clone, Debug)]
pub struct Question {
    pub asks: Asks,
    /// The question; the name of the table; the column or key.
    pub what: String,
    /// The row of the table; the file or table of `job.toml` that has no such key, or
    /// in which it is marked, with the row of a catalogue behind a dot.
    pub row: String,
    /// What is decided, what the row holds, what is taken.
    pub value: String,
    /// The clause, the source of the row, what the input is.
    pub about: String,
    /// The title of the table.
    pub title: String,
    /// What is doubtful about the row.
    pub doubt: String,
    /// Indices of the posts that rest on it.
    pub posts: Vec<usize>,
    pub answer: Option<Answered>,
    /// Why an answer that stands in the files does not hold.
    pub why: String,
}

impl Question {
    /// Where an input stands or would stand, and the row of a catalogue, if it is
    /// one: `posts.csv`, `[site]`.
    pub fn stands(&self, job: &Job) -> (String, &str) {
        let is_file = |name: &str| ["posts", "reactions"].contains(&name) || Catalogue::named(name).is_some();
        match self.row.split_once('.').unwrap_or((&self.row, "")) {
            ("", _) => ("job.toml".into(), ""),
            (file, row) if is_file(file) => {
                let whole = format!("{file}.csv");
                let entry = job.catalogues.get(file).and_then(|entries| entries.find(row));
                let part = entry.filter(|_| job.tables.parts(&whole).len() > 1).map(|entry| entry.file.clone());
                (part.unwrap_or_else(|| job.tables.name(&whole)), row)
            }
            _ => (format!("[{}]", self.row), ""),
        }
    }
}

/// Who answered, and when.
#[derive(Clone, Debug)]
pub struct Answered {
    pub by: String,
    pub licence: String,
    pub date: String,
    pub publication: String,
}

#[derive(Debug)]
pub struct Verdict {
    pub form: Form,
    /// One sentence.
    pub headline: String,
    /// Decisions, then values to confirm, then assumptions, then starter values.
    pub questions: Vec<Question>,
    /// Kinds of load that the job does not have, and why.
    pub declared: Vec<(String, String)>,
    /// Decisions that no sheet of this job asks for.
    pub idle: Vec<String>,
    /// Sheets and tables of the job's own, by path, and how each stands to what
    /// is built in.
    pub own: Vec<(String, &'static str)>,
}

/// The job's own title block, and how it stands to what is built in.
pub const OWN_TITLE_BLOCK: (&str, &str) = ("templates/title-block.typ", "a title block in place of the built-in one");

impl Verdict {
    pub fn new(job: &Job, library: &Library, results: &Results, loads: &[GroupResult]) -> Verdict {
        let questions = questions(job, library, results, loads);
        let open = questions.iter().filter(|question| question.answer.is_none()).map(|question| question.asks);
        let mut counts: BTreeMap<Asks, usize> = BTreeMap::new();
        open.for_each(|asks| *counts.entry(asks).or_default() += 1);
        let open: Vec<String> = counts.iter().map(|(asks, many)| asks.counted(*many)).collect();
        let (form, headline) = sentence(job, results, &open);
        let asked = |answer: &&Answer| {
            !questions.iter().any(|known| known.asks == Asks::Decision && known.what == answer.get("what"))
        };
        let idle = job.answers.decisions.iter().filter(asked).map(|answer| answer.get("what").to_string());
        let own = library.own().iter().map(|own| (format!("templates/{}", own.path), own.stands()));
        let title_block = job.title_block.iter().map(|_| (OWN_TITLE_BLOCK.0.into(), OWN_TITLE_BLOCK.1));
        Verdict {
            form,
            headline,
            idle: idle.collect(),
            own: own.chain(title_block).collect(),
            declared: job.answers.none.iter().map(|(kind, reason)| (kind.clone(), reason.text.clone())).collect(),
            questions,
        }
    }

    /// What nobody has answered.
    pub fn open(&self) -> impl Iterator<Item = &Question> {
        self.questions.iter().filter(|question| question.answer.is_none())
    }

    /// How many open questions a post rests on.
    pub fn open_of(&self, post: usize) -> usize {
        self.open().filter(|question| question.posts.contains(&post)).count()
    }
}

/// Runs of marks that a headline names.
const MARKS: usize = 12;

/// Form and headline. `open` counts the open questions by kind.
fn sentence(job: &Job, results: &Results, open: &[String]) -> (Form, String) {
    let counted = |wanted: &dyn Fn(&Limit) -> bool| -> usize {
        let of = |group: &GroupResult| group.limits.iter().filter(|limit| wanted(limit)).count() * group.posts.len();
        results.groups.iter().map(of).sum()
    };
    let all = counted(&|limit| !limit.is_fit());
    let failed = counted(&|limit| !limit.is_fit() && !limit.ok());
    let unfit = counted(&|limit| limit.is_fit() && !limit.ok());
    let open = match open {
        [] => String::new(),
        [one] => one.clone(),
        [head @ .., last] => format!("{} and {last}", head.join(", ")),
    };
    if failed + unfit > 0 {
        let failing = job.posts.iter().zip(&results.group_of).filter(|(_, group)| !results.groups[**group].ok());
        let marks: Vec<String> = failing.map(|(post, _)| post.mark.clone()).collect();
        let parts = [(failed, "limit"), (unfit, "fit")].into_iter().filter(|(many, _)| *many > 0);
        let parts: Vec<String> = parts.map(|(many, noun)| count(many, noun)).collect();
        let verb = if failed + unfit == 1 { "is" } else { "are" };
        let also = if open.is_empty() { String::new() } else { format!(" Also open: {open}.") };
        return (
            Form::NotMet,
            format!("{} of {} {verb} NOT MET.{also}", parts.join(" and "), some_posts(&marks, MARKS)),
        );
    }
    let met = format!("All {all} limits of {} are met", count(job.posts.len(), "post"));
    match open.is_empty() {
        true => (Form::Met, format!("{met}.")),
        false => (Form::SubjectTo, format!("{met}, subject to {open}.")),
    }
}

fn questions(job: &Job, library: &Library, results: &Results, loads: &[GroupResult]) -> Vec<Question> {
    // Most groups leave the same open.
    let mut sources: BTreeMap<&Asked, Vec<usize>> = BTreeMap::new();
    sources.insert(&results.asked, (0..job.posts.len()).collect());
    for group in loads.iter().chain(&results.groups) {
        sources.entry(&group.asked).or_default().extend(&group.posts);
    }
    // The key puts decisions first, then tables, then assumptions, then starter values.
    let mut found: BTreeMap<[String; 4], (Question, BTreeSet<usize>)> = BTreeMap::new();
    let mut add = |posts: &[usize], question: Question| {
        let order = (question.asks as usize).to_string();
        let (what, row) = (question.what.clone(), question.row.clone());
        // Keys and columns by the file that they belong to.
        let (first, second) =
            if matches!(question.asks, Asks::Assumption | Asks::Starter) { (row, what) } else { (what, row) };
        let key = [order, first, second, question.value.clone()];
        found.entry(key).or_insert_with(|| (question, BTreeSet::new())).1.extend(posts);
    };
    for (asked, posts) in &sources {
        for known in &asked.questions {
            let question = Question { about: known.cite.clone(), ..blank(Asks::Decision, &known.what, &known.value) };
            add(posts, decided(question, &job.answers.decisions));
        }
        for known in asked.looked(library).into_iter().filter(|known| known.row.recalled) {
            let question = Question {
                row: known.row.name,
                about: known.row.source,
                title: known.title,
                doubt: known.row.doubt,
                ..blank(Asks::Confirmation, &known.table, &known.row.values)
            };
            add(posts, confirmed(question, &job.answers.confirmed));
        }
        for known in &asked.assumed {
            let question = Question {
                row: known.source.clone(),
                about: known.say.clone(),
                ..blank(Asks::Assumption, &known.name, &known.value)
            };
            add(posts, question);
        }
    }
    let known = if job.starters.is_empty() { Known::default() } else { known_names(library) };
    for starter in &job.starters {
        let rests = |post: &Post| starter.posts.as_ref().is_none_or(|marks| marks.contains(&plain(&post.mark)));
        let posts: Vec<usize> = (0..job.posts.len()).filter(|at| rests(&job.posts[*at])).collect();
        let place = [starter.of.as_str(), &starter.row].into_iter().filter(|part| !part.is_empty());
        let question = Question {
            row: place.collect::<Vec<_>>().join("."),
            about: known.words(&starter.of, &starter.name).map_or(String::new(), |[say, _]| say.clone()),
            ..blank(Asks::Starter, &starter.name, &starter.value)
        };
        add(&posts, question);
    }
    found.into_values().map(|(question, posts)| Question { posts: posts.into_iter().collect(), ..question }).collect()
}

fn blank(asks: Asks, what: &str, value: &str) -> Question {
    Question {
        asks,
        what: what.into(),
        row: String::new(),
        value: value.into(),
        about: String::new(),
        title: String::new(),
        doubt: String::new(),
        posts: Vec::new(),
        answer: None,
        why: String::new(),
    }
}

/// A question with the decision that was taken on it, if it was taken on the
/// value that the job has now.
fn decided(question: Question, answers: &[Answer]) -> Question {
    let of: Vec<&Answer> = answers.iter().filter(|answer| same(answer.get("what"), &question.what)).collect();
    answered(question, "value", &of)
}

fn confirmed(question: Question, answers: &[Answer]) -> Question {
    let speaks = |answer: &&Answer| same(answer.get("table"), &question.what) && same(answer.get("row"), &question.row);
    let of: Vec<&Answer> = answers.iter().filter(speaks).collect();
    answered(question, "values", &of)
}

/// `value` is the key under which an answer says what was answered.
fn answered(question: Question, value: &str, answers: &[&Answer]) -> Question {
    let mut why = String::new();
    for answer in answers {
        let lacks = answer.lacks();
        if !same_value(answer.get(value), &question.value) {
            why = format!("answered for `{}`, but it is now `{}`", answer.get(value), question.value);
        } else if answer.starter {
            why = "its block still has a value with a question mark after it".into();
        } else if !lacks.is_empty() {
            why = format!("its block has no {}", crate::diag::list(&lacks, "and").replace('`', ""));
        } else {
            let get = |key: &str| answer.get(key).to_string();
            let answer =
                Answered { by: get("by"), licence: get("licence"), date: get("date"), publication: get("publication") };
            return Question { answer: Some(answer), why: String::new(), ..question };
        }
    }
    Question { why, ..question }
}

/// Whether two lists of values, each after its name, are one, though they may be
/// told in other units: `p_v 12 psf`, `p_v 0.5746 kPa`.
fn same_value(a: &str, b: &str) -> bool {
    let read = |text: &str| {
        let (name, value) = text.trim().split_once(' ')?;
        Some((name.to_string(), read_any(value, None, Decimals::Point)?))
    };
    let converted = |a: &str, b: &str| {
        let (Some((name, a)), Some((other, b))) = (read(a), read(b)) else { return false };
        let (x, y) = (a.quantity, b.quantity);
        // As close as four digits tell.
        let close = (x.value - y.value).abs() <= 5e-4 * x.value.abs().max(y.value.abs());
        name == other && a.unit != b.unit && x.dim == y.dim && close
    };
    let (a, b): (Vec<&str>, Vec<&str>) = (a.split(", ").collect(), b.split(", ").collect());
    a.len() == b.len() && a.iter().zip(&b).all(|(a, b)| same(a, b) || converted(a, b))
}

/// Texts are the same whatever blanks and line ends are in them.
fn same(a: &str, b: &str) -> bool {
    a.split_whitespace().eq(b.split_whitespace())
}
