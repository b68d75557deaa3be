//! What nobody has answered: inputs that may be left out, questions for an
//! engineer, loads that nobody speaks of.

use socle::source::Source;
use socle::templates::Templates;

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
