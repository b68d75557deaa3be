//! What nobody has answered: inputs that may be left out, questions for an
//! engineer, loads that nobody speaks of.

use serde_json::Value;
use socle::source::Source;
use socle::templates::Templates;

use crate::support::{JOBS, Job, socle, stdout};

/// What the check says of a sheet.
fn faults(body: &str) -> Vec<String> {
    let text = format!("sheet trial\ntitle A trial\n\n{body}\n");
    match Templates::built_in().library_with(&Source::new("trial.sheet", text)) {
        Ok(_) => Vec::new(),
        Err(diagnostics) => diagnostics.into_iter().map(|diagnostic| diagnostic.message).collect(),
    }
}

#[test]
fn what_may_be_left_out_is_read_only_where_it_is_given() {
    let needs = "needs\n  a  length  else nothing  \"a\"  in in\n  b  length  \"b\"  in in\n";
    let fine = [
        "let c = a when a is given, b otherwise",
        "let c = b when a is not given, a otherwise",
        "let c = a when a is given and a > b, b otherwise",
        "let c = b when a is not given or a > b, a otherwise",
        "when a is given\n  let c = a + b\notherwise\n  let c = b",
        "when a is not given\n  let c = b\notherwise\n  let c = a + b",
    ];
    for body in fine {
        assert_eq!(faults(&format!("{needs}\n{body}")), Vec::<String>::new(), "{body}");
    }
    let wrong = [
        "let c = a + b",
        "let c = a when b > 1 in, b otherwise",
        "let c = a when a is given or b > 1 in, b otherwise",
        "when a is given\n  let c = b\notherwise\n  let c = a",
        "let d = b when a > b and a is given, 2 * b otherwise",
    ];
    for body in wrong {
        let faults = faults(&format!("{needs}\n{body}"));
        let said = "`a` may be left out: read it only where a condition says `a is given`";
        assert_eq!(faults.first().map(String::as_str), Some(said), "{body}: {faults:?}");
    }
    assert_eq!(
        faults(&format!("{needs}\nlet c = b when b is given, a when a is given, b otherwise")),
        ["`b` always has a value"]
    );
    assert_eq!(faults(&format!("{needs}\nlet c = b when (a + b) is given, b otherwise")).len(), 1);
}

/// The blocks that `check --open` prints, with their empty keys filled in.
fn filled(job: &Job) -> String {
    let output = socle(&["check".as_ref(), job.path().as_os_str(), "--open".as_ref()]);
    let open = stdout(&output);
    assert!(open.contains("[[decisions]]") && open.contains("[[confirmed]]"), "{open}");
    let by = open.replace("by = \"\"", "by = \"E. Engineer\"").replace("licence = \"\"", "licence = \"PE 1, demo\"");
    by.replace("publication = \"\"", "publication = \"demo\"").replace("date = \"\"", "date = 2026-11-20")
}

fn count(json: &Value, asks: &str) -> usize {
    json["open"].as_array().expect("a list").iter().filter(|open| open["asks"] == asks).count()
}

/// The limits of every post: what an answer must not change.
fn limits(json: &Value) -> String {
    let posts = json["posts"].as_array().expect("posts");
    posts.iter().map(|post| format!("{} {}\n", post["limits"], post["fits"])).collect()
}

#[test]
fn a_decision_is_open_until_a_licensed_person_took_it_on_this_value() {
    let job = Job::copy("orchard-pergola");
    let before = job.check_json();
    assert_eq!(before["verdict"], "met, subject to what is open");
    assert_eq!(before["ok"], true);
    let (decisions, values) = (count(&before, "decision"), count(&before, "confirmation"));
    assert!(decisions >= 2 && values >= 10, "{before:#}");
    let headline = before["headline"].as_str().expect("a headline");
    assert!(headline.contains(&format!("subject to {decisions} decisions, {values} unconfirmed values")), "{headline}");

    let toml = job.read("job.toml");
    job.write("job.toml", format!("{toml}\n{}", filled(&job)));
    let after = job.check_json();
    assert_eq!((count(&after, "decision"), count(&after, "confirmation")), (0, 0), "{:#}", after["open"]);
    assert_eq!(limits(&before), limits(&after), "an answer changes the verdict and nothing else");

    // Nobody's answer: without a name, without a licence, without a date.
    for key in ["by = \"E. Engineer\"", "licence = \"PE 1, demo\"", "date = 2026-11-20"] {
        let answered = format!("{toml}\n{}", filled(&Job::copy("orchard-pergola")));
        let lacks = answered.replacen(key, "", 1);
        let (key, _) = key.split_once(" =").expect("a key");
        job.write("job.toml", lacks);
        let json = job.check_json();
        assert_eq!(count(&json, "decision"), 1, "{key}");
        assert!(json["open"][0]["why"].as_str().expect("why").contains(key), "{:#}", json["open"][0]);
    }

    // Decided on another value.
    let answered = format!("{toml}\n{}", filled(&Job::copy("orchard-pergola")));
    job.write("job.toml", answered.replace("snow_share = 0.5", "snow_share = 0.4"));
    let json = job.check_json();
    assert_eq!(count(&json, "decision"), 1);
    assert_eq!(json["open"][0]["why"], "answered for `snow_share 0.5`, but it is now `snow_share 0.4`");
}

#[test]
fn a_firm_confirms_a_row_once_for_all_its_jobs_and_again_when_it_changes() {
    let folder = tempfile::tempdir().expect("a folder");
    let firm = folder.path().join("firm.toml");
    let jobs = JOBS.map(Job::copy);
    let blocks: String = jobs
        .iter()
        .map(|job| {
            let output = socle(&["check".as_ref(), job.path().as_os_str(), "--open".as_ref()]);
            let open = stdout(&output);
            let blocks = open.split("[[").filter(|block| block.starts_with("confirmed]]"));
            blocks.map(|block| format!("[[{}\n", block.split("\n#").next().unwrap_or(block))).collect::<String>()
        })
        .collect();
    let blocks = blocks.replace("by = \"\"", "by = \"C. Checker\"").replace("date = \"\"", "date = 2026-11-20");
    std::fs::write(&firm, blocks.replace("publication = \"\"", "publication = \"demo\"")).expect("a file");
    let check = |job: &Job| -> Value {
        let path = job.path();
        let args = ["check".as_ref(), path.as_os_str(), "--json".as_ref(), "--confirmed".as_ref(), firm.as_os_str()];
        serde_json::from_slice(&socle(&args).stdout).expect("JSON")
    };
    for job in &jobs {
        assert_eq!(count(&check(job), "confirmation"), 0, "{:#}", check(job)["open"]);
        assert_ne!(check(job)["digest"], job.check_json()["digest"], "what a firm confirmed is an input");
    }
    // A row of the job's own stands before the one that was confirmed.
    let own = "# title: own values\nrisk,I_s,I_e,source,kind,doubt\nII,1.05,1.00,office notes,recalled,\n";
    jobs[0].write("templates/tables/importance.csv", own);
    let json = check(&jobs[0]);
    assert_eq!(count(&json, "confirmation"), 1, "{:#}", json["open"]);
    assert_eq!(
        json["open"].as_array().expect("a list").iter().find(|open| open["asks"] == "confirmation").expect("one")["why"],
        "answered for `I_s 1; I_e 1`, but it is now `I_s 1.05; I_e 1`"
    );
}

#[test]
fn a_job_that_cannot_be_worked_says_so_in_json() {
    let job = Job::copy("creek-porch");
    job.edit("job.toml", "E = ", "# E = ");
    let output = socle(&["check".as_ref(), job.path().as_os_str(), "--json".as_ref()]);
    assert_eq!(output.status.code(), Some(2));
    let json: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(json["verdict"], "not worked");
    assert!(json["reasons"][0]["message"].as_str().expect("a message").contains("E (earthquake load)"), "{json:#}");
}
