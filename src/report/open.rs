//! What is open, as blocks that can be filled in and put into the job's files.

use crate::diag::count;
use crate::job::Job;
use crate::verdict::{Asks, Question, Verdict};

/// Every open question: blocks of `[[decisions]]` and `[[confirmed]]`, then the
/// keys and columns that nobody gave, then values that a file has marked.
pub fn open_questions(job: &Job, verdict: &Verdict) -> String {
    let of = |asks: Asks| -> Vec<&Question> { verdict.open().filter(|question| question.asks == asks).collect() };
    let (decisions, values) = (of(Asks::Decision), of(Asks::Confirmation));
    let (assumed, starters) = (of(Asks::Assumption), of(Asks::Starter));
    let mut out = format!("# {}\n", verdict.headline);
    if verdict.open().next().is_none() {
        out.push_str("# Nothing is open.\n");
    }
    if !decisions.is_empty() {
        let many = count(decisions.len(), "decision");
        out.push_str(&format!(
            "\n# {many} for a licensed engineer. A block with all five keys goes to the end of job.toml.\n"
        ));
    }
    for question in decisions {
        let comment = format!("{}; {}", question.about, posts(job, question));
        let keys = [("what", &question.what), ("value", &question.value)];
        block(&mut out, "decisions", &[comment, question.why.clone()], &keys, &["by", "licence", "date"]);
    }
    if !values.is_empty() {
        let many = count(values.len(), "value");
        out.push_str(&format!(
            "\n# {many} to check against the publication. A block with all keys goes to the end of job.toml, or into\n\
             # a file of confirmed values that serves all jobs (--confirmed FILE, or confirmed.toml in the job).\n"
        ));
    }
    for question in values {
        let comments =
            [format!("{}; {}", question.title, question.about), question.doubt.clone(), question.why.clone()];
        let keys = [("table", &question.what), ("row", &question.row), ("values", &question.value)];
        block(&mut out, "confirmed", &comments, &keys, &["publication", "by", "date"]);
    }
    if !assumed.is_empty() {
        let many = count(assumed.len(), "value");
        out.push_str(&format!(
            "\n# {many} assumed, because the job does not give them. Give these, or the right ones.\n"
        ));
    }
    out.push_str(&by_place(job, assumed));
    if !starters.is_empty() {
        let many = count(starters.len(), "starter value");
        out.push_str(&format!(
            "\n# {many}: followed by ` ?`, because nobody has confirmed them yet. Give the right ones\n\
             # in their place, or take the mark away.\n"
        ));
    }
    out.push_str(&by_place(job, starters));
    out
}

/// Values of keys and columns, under the file or table that they belong to.
fn by_place(job: &Job, questions: Vec<&Question>) -> String {
    let mut out = String::new();
    let mut place = "";
    for question in questions {
        if question.row != place {
            place = &question.row;
            let place = match question.stands(job) {
                (table, _) if table.starts_with('[') => format!("job.toml, under {table}"),
                (file, "") if file != "job.toml" && question.asks == Asks::Assumption => {
                    format!("{file}, a column each")
                }
                (file, "") => file,
                (file, row) => format!("{file}, {row}"),
            };
            out.push_str(&format!("\n# {place}:\n"));
        }
        let about = [question.about.clone(), posts(job, question)].into_iter().filter(|part| !part.is_empty());
        let about = about.collect::<Vec<_>>().join("; ");
        out.push_str(&format!("#   {} = {}   ({about})\n", question.what, toml(&question.value)));
    }
    out
}

fn block(out: &mut String, name: &str, comments: &[String], keys: &[(&str, &String)], empty: &[&str]) {
    out.push('\n');
    for comment in comments.iter().filter(|comment| !comment.is_empty()) {
        out.push_str(&format!("# {}\n", comment.replace('\n', " ")));
    }
    out.push_str(&format!("[[{name}]]\n"));
    for (key, text) in keys {
        out.push_str(&format!("{key} = {}\n", toml(text)));
    }
    for key in empty {
        out.push_str(&format!("{key} = \"\"\n"));
    }
}

/// A text as TOML writes it.
fn toml(text: &str) -> String {
    toml::Value::String(text.into()).to_string()
}

/// `all posts`, `post A1`, `posts A1, A2`.
fn posts(job: &Job, question: &Question) -> String {
    let marks: Vec<&str> = question.posts.iter().map(|post| job.posts[*post].mark.as_str()).collect();
    match marks.as_slice() {
        marks if marks.len() == job.posts.len() => "all posts".into(),
        [one] => format!("post {one}"),
        marks => format!("posts {}", marks.join(", ")),
    }
}
