//! What the language of sheets allows and refuses, beside what `tests/wrong` has as whole inputs: each time a few sheets alone.

use std::collections::BTreeSet;

use socle::diag::Diagnostic;
use socle::formula::Value;
use socle::quantity::{Dim, Quantity, Unit};
use socle::sheet::{Bound, Context, Library, NoteKind, Origin, Part, Stmt, Text, Work, ratio, work};
use socle::source::Source;

const TABLE: &str =
    "# title: T\ngrade,size [in],F_b [psi],source,kind\nNo.1,4,100,A,published\nNo.2,4,50,A,published\n";

/// The sheets, each named by its first line, with a small table `sizes`; of the job are those that begin with `-- own`.
fn load(sheets: &[&str]) -> Result<Library, Vec<String>> {
    let name = |sheet: &str| {
        let line = sheet.lines().find_map(|line| line.strip_prefix("sheet "));
        format!("sheets/{}.sheet", line.unwrap_or("none"))
    };
    let text = |path: String, text: &str| {
        let own = text.starts_with("-- own");
        Text { source: Source::new(path.clone(), text), path, own }
    };
    let mut texts: Vec<Text> = sheets.iter().map(|sheet| text(name(sheet), sheet)).collect();
    texts.push(text("tables/sizes.csv".into(), TABLE));
    let told = |wrong: &socle::diag::Diagnostic| {
        let place = wrong.place.as_ref().map_or(String::new(), |place| {
            format!(" at `{}`", place.source.text.get(place.span.clone()).expect("a place"))
        });
        format!("{}{place}", wrong.message)
    };
    Library::load(&texts, None).map_err(|wrong| wrong.iter().map(told).collect())
}

/// Prose without symbols.
fn words(prose: &[Part]) -> String {
    let part = |part: &Part| match part {
        Part::Markup(text) => text.clone(),
        Part::Symbol(name) => name.clone(),
    };
    prose.iter().map(part).collect::<String>().replace('\n', " ")
}

fn told(sheets: &[&str]) -> Vec<String> {
    load(sheets).err().unwrap_or_default()
}

#[test]
fn what_is_refused_in_one_condition_is_known_in_the_next() {
    let sheet = |cases: &str| {
        format!("sheet s\ntitle S\nneeds\n  a length from x else nothing \"a\" in in\nlet b = {cases} \"b\" in in\n")
    };
    assert_eq!(told(&[&sheet("1 in when not (a is given), a otherwise")]), [""; 0]);
    assert_eq!(told(&[&sheet("a when a is given, 1 in otherwise")]), [""; 0]);
    let message = "`a` may be left out: read it only where a condition says `a is given` at `a`";
    assert_eq!(told(&[&sheet("1 in when a is given, a otherwise")]), [message]);
    assert_eq!(told(&[&sheet("a when not (a is given), 1 in otherwise")]), [message]);
}

#[test]
fn a_table_has_a_column_besides_its_keys() {
    let sheet = |keys: &str, symbol: &str| {
        format!(
            "sheet s\ntitle S\nneeds\n  n number \"n\"\ntake {symbol} from sizes[{keys}]\nlet m = {symbol} * n \"m\"\n"
        )
    };
    assert_eq!(told(&[&sheet("\"No.1\", 4 in", "F_b")]), [""; 0]);
    assert_eq!(told(&[&sheet("\"No.1\", 4 in, 100 psi", "F_b")]), ["`sizes` has 3 columns, found 3 keys at `sizes`"]);
    assert_eq!(
        told(&[&sheet("\"No.1\", 4 in, 100 psi, 1", "F_b")]),
        ["`sizes` has 3 columns, found 4 keys at `sizes`"]
    );
    // Also of a table in which one row stands twice.
    let twice = TABLE.replace("No.2,4,50", "No.1,4,100");
    let texts = [("sheets/s.sheet", sheet("\"No.1\", 4 in, 100 psi, 1", "F_b")), ("tables/sizes.csv", twice)];
    let texts = texts.map(|(path, text)| Text { path: path.into(), source: Source::new(path, text), own: false });
    let wrong = Library::load(&texts, None).expect_err("two faults");
    assert_eq!(wrong.len(), 2, "{wrong:?}");
}

#[test]
fn what_one_branch_alone_binds_is_not_read_after_it() {
    let sheet = |when: &str, otherwise: &str| {
        format!(
            "sheet s\ntitle S\nneeds\n  a length \"a\" in in\nwhen a > 1 in\n  let x = a \"x\" in in\n{when}otherwise\n  let x = 2 * a \"x\" in in\n{otherwise}let z = y + x \"z\" in in\n"
        )
    };
    let y = "  let y = a \"y\" in in\n";
    assert_eq!(told(&[&sheet(y, y)]), [""; 0]);
    let message =
        "`y` has a value only under its `when`; bind it under `otherwise` too, or move this line into the block at `y`";
    assert_eq!(told(&[&sheet(y, "")]), [message]);
    assert_eq!(told(&[&sheet("", y)]), [message]);
}

const BELOW: &str = "sheet below\ntitle B\nneeds\n  a length else nothing \"a\" in in\n  n number \"n\"\ngives\n  c length \"c\"\nlet c = a when a is given, n * 1 in otherwise \"c\" in in\n";

#[test]
fn what_may_be_left_out_is_passed_on_if_it_is_of_the_kind() {
    let above = |kind: &str, unit: &str| {
        format!(
            "sheet above\ntitle A\nneeds\n  m {kind} from x else nothing \"m\" in {unit}\nuse below(a = m, n = 2)\nlet d = below.c \"d\" in in\n"
        )
    };
    assert_eq!(told(&[BELOW, &above("length", "in")]), [""; 0]);
    assert_eq!(
        told(&[BELOW, &above("force", "lbf")]),
        ["`m` may be left out: read it only where a condition says `m is given` at `m`"]
    );
    let plain = above("force", "lbf").replace(" from x else nothing", "");
    assert_eq!(told(&[BELOW, &plain]), ["found a force, expected a length at `m`"]);
}

#[test]
fn a_sheet_hands_on_what_another_gives() {
    let first = "sheet first\ntitle F\nneeds\n  k length \"k\" in in\ngives\n  a length \"a\"\n  n number \"n\"\nlet a = 2 * k \"a\" in in\nlet n = 3 \"n\"\n";
    let above = |args: &str| {
        format!(
            "sheet above\ntitle A\nneeds\n  k length \"k\" in in\nuse first(k = k)\nuse below{args}\nlet d = below.c \"d\" in in\n"
        )
    };
    for args in ["(from first)", "(n = 4, from first)", "(a = 1 in, from first)"] {
        let library = load(&[BELOW, first, &above(args)]).unwrap_or_else(|wrong| panic!("{args}: {wrong:?}"));
        let sheet = library.sheet("above").expect("the sheet");
        let usage = sheet.body.iter().find_map(|stmt| match stmt {
            Stmt::Use(usage) if usage.sheet == "below" => Some(usage.clone()),
            _ => None,
        });
        let usage = usage.expect("a use");
        let mut names: Vec<&str> = usage.args.iter().map(|(name, ..)| name.as_str()).collect();
        names.sort();
        assert_eq!(names, ["a", "n"], "{args}");
    }
    assert_eq!(
        told(&[BELOW, first, &above("(a = 1 in, n = 4, from first)")]),
        ["`from first` passes nothing that `below` needs at `first`"]
    );
}

#[test]
fn what_stands_in_a_place_gives_what_the_place_promises() {
    let root = "sheet root\ntitle R\nplace foot by kind from bases \"kind\" (n = 2)\n  c length \"c\" in in\nlet d = foot.c \"d\" in in\n";
    let candidate = |value: &str, kind: &str| {
        format!(
            "sheet post\ntitle P\nstands as foot when kind is tall\nneeds\n  n number \"n\"\ngives\n  c {kind} \"c\"\nlet c = n * {value} \"c\"\n"
        )
    };
    assert_eq!(told(&[root, &candidate("1 in", "length")]), [""; 0]);
    assert_eq!(
        told(&[root, &candidate("1 lbf", "force")]),
        ["`c` of `post` is a force; `foot` promises a length at `foot`"]
    );
}

/// In a list each line is an item; elsewhere a line goes on where it is indented deeper, and a condition by its last word.
#[test]
fn lines_go_on_by_their_indent_and_conditions_by_their_last_word() {
    let sheet = |condition: &str| {
        format!(
            "sheet s\ntitle S\nneeds\n  a length \"a\" in in\n  b length\n    \"b\" in in\ngives\n  x length \"x\"\nwhen {condition}\n  let x = a\n    + b \"x\" in in\notherwise\n  let x = b \"x\" in in\n"
        )
    };
    for condition in [
        "a > 1 in",
        "a > 1 in and\n    b > 2 in",
        "(a > 1 in\n    or b > 2 in)",
        "a > 1 in and\n    b > 2 in or\n    b > 3 in",
    ] {
        assert_eq!(told(&[&sheet(condition)]), [""; 0], "{condition}");
    }
    let text = "sheet s\ntitle S\nneeds\n  a length \"a\" in in\nfirst words\ngo on\n= A heading\nmore words\n\nothers\nlet x = a \"x\" in in\n";
    let library = load(&[text]).expect("a sheet");
    let said: Vec<String> = library
        .sheet("s")
        .expect("the sheet")
        .body
        .iter()
        .filter_map(|stmt| match stmt {
            Stmt::Heading(text) => Some(format!("= {text}")),
            Stmt::Prose(prose) => Some(words(prose)),
            _ => None,
        })
        .collect();
    assert_eq!(said, ["first words go on", "= A heading", "more words", "others"]);
}

#[test]
fn a_sheet_has_as_many_lines_as_are_allowed() {
    let lines = |many: usize| {
        let head = "sheet s\ntitle S\nneeds\n  a length \"a\" in in\n";
        format!("{head}{}let x = a \"x\" in in\n", "-- nothing\n".repeat(many - 5))
    };
    assert_eq!(told(&[&lines(2000)]), [""; 0]);
    assert_eq!(told(&[&lines(2001)]), ["`sheets/s.sheet` has 2001 lines; a sheet has at most 2000"]);
}

/// Sheets that join another stand at its end, those that are read before those that read them.
#[test]
fn sheets_that_join_come_after_what_they_read() {
    let root = "sheet root\ntitle R\nneeds\n  a length \"a\" in in\nlet b = a \"b\" in in\n";
    let join = |name: &str, reads: &str| {
        let from = if reads.is_empty() { "posts" } else { reads };
        let input = format!("  q length from {from} \"q\" in in\n");
        format!("sheet {name}\ntitle N\njoins root\nneeds\n{input}gives\n  q length \"q\"\nlet r = q \"r\" in in\n")
    };
    let order = |sheets: &[&str]| -> Vec<String> {
        let library = load(sheets).unwrap_or_else(|wrong| panic!("{wrong:?}"));
        let body = &library.sheet("root").expect("the root").body;
        let uses = body.iter().filter_map(|stmt| match stmt {
            Stmt::Use(usage) => Some(usage.sheet.clone()),
            _ => None,
        });
        uses.collect()
    };
    let sheets = [join("one", "two"), join("two", "three"), join("three", ""), join("zero", "two")];
    let sheets: Vec<&str> = std::iter::once(root).chain(sheets.iter().map(String::as_str)).collect();
    assert_eq!(order(&sheets), ["three", "two", "one", "zero"]);
    let circle = [join("one", "two"), join("two", "one")];
    assert_eq!(told(&[root, &circle[0], &circle[1]]), ["`one` and `two` join a sheet and read one another at `root`"]);
}

/// Of two declarations that do not agree, that of the job is complained of.
#[test]
fn the_sheet_of_the_job_is_the_one_that_is_wrong() {
    let reads = |name: &str, own: &str, kind: &str, unit: &str| {
        format!("{own}sheet {name}\ntitle N\nneeds\n  q {kind} from posts \"q\" in {unit}\nlet r = q \"r\" in {unit}\n")
    };
    let message = "the column `q` of posts is a length here, and a force in `zz` at `q`";
    assert_eq!(told(&[&reads("aa", "-- own\n", "length", "in"), &reads("zz", "", "force", "lbf")]), [message]);
    assert_eq!(told(&[&reads("zz", "", "force", "lbf"), &reads("aa", "-- own\n", "length", "in")]), [message]);
}

#[test]
fn a_sheet_without_a_name_is_shown_by_its_first_line() {
    assert_eq!(told(&["title S\nlet a = 1 \"a\"\n"]), ["the sheet has no name at `title S`"]);
    assert_eq!(told(&["title S"]), ["the sheet has no name at `title S`"]);
}

/// A slip in the opening word would turn a formula into prose.
#[test]
fn prose_holds_no_formula() {
    let sheet = |line: &str| {
        told(&[&format!("sheet s\ntitle S\nneeds\n  a length \"a\" in in\n{line}\nlet x = a \"x\" in in\n")])
    };
    for line in ["lte b = a", "musst a <= 1 in", "musst a >= 1 in"] {
        let word = line.split(' ').next().expect("a word");
        assert_eq!(sheet(line), [format!("`{word}` is not a word of the language at `{word}`")]);
    }
    assert_eq!(sheet("lte the beam rest"), [""; 0]);
    assert_eq!(sheet("the beam = a rest"), [""; 0]);
}

/// A sheet worked by itself, from values that may vary with the loads; each input that is missing is told by its name.
fn worked(library: &Library, sheet: &str, given: &[(&str, f64, &str, bool)]) -> Work {
    let inputs = given.iter().map(|(name, value, unit, varies)| {
        let unit = Unit::parse(unit).expect("a unit");
        let value = Value::Quantity(Quantity::new(unit.to_base(*value), unit.dim));
        (name.to_string(), (Bound { varies: *varies, ..Bound::given(value, unit) }, Origin::File("test".into())))
    });
    let context = Context {
        library,
        method: None,
        facts: &|_| None,
        missing: &|input| {
            Some(Diagnostic::new(format!("no `{}`", input.name)).of(socle::diag::Kind::Missing, &input.name))
        },
        lacking: &BTreeSet::new(),
    };
    work(library.sheet(sheet).expect("the sheet"), inputs.collect(), &context)
}

fn messages(work: &Work) -> Vec<&str> {
    work.diagnostics.iter().map(|wrong| wrong.message.as_str()).collect()
}

#[test]
fn what_is_missing_is_asked_for_once() {
    let text = "sheet s\ntitle S\nneeds\n  a length from posts \"a\" in in\n  b length from posts \"b\" in in\nlet x = a + 1 in \"x\" in in\nlet y = a + b \"y\" in in\nlet z = x + y + b \"z\" in in\n";
    let library = load(&[text]).expect("a sheet");
    assert_eq!(messages(&worked(&library, "s", &[])), ["no `a`", "no `b`"]);
    assert_eq!(messages(&worked(&library, "s", &[("a", 1.0, "in", false)])), ["no `b`"]);
    let work = worked(&library, "s", &[("a", 1.0, "in", true), ("b", 2.0, "in", false)]);
    assert_eq!(messages(&work), [""; 0]);
    assert_eq!(work.worked.bound["z"].value, Value::Quantity(Quantity::new(7.0, Dim::LENGTH)));
}

/// What is missing whoever comes to stand there is asked for at once; what one of them alone needs is not.
#[test]
fn before_it_is_known_what_stands_in_a_place_what_all_need_is_asked_for() {
    let root = "sheet root\ntitle R\nplace foot by kind from bases \"kind\"\n  c length \"c\" in in\nlet d = foot.c \"d\" in in\n";
    let stands = |name: &str, needs: &str| {
        let sum = needs.split(' ').collect::<Vec<_>>().join(" + ");
        let inputs: String =
            needs.split(' ').map(|need| format!("  {need} length from bases \"{need}\" in in\n")).collect();
        format!(
            "sheet {name}\ntitle N\nstands as foot when kind is {name}\nneeds\n{inputs}gives\n  c length \"c\"\nlet c = {sum} \"c\" in in\n"
        )
    };
    let three = [stands("one", "p q"), stands("two", "p r"), stands("three", "p q r")];
    let all: Vec<&str> = std::iter::once(root).chain(three.iter().map(String::as_str)).collect();
    let library = load(&all).expect("sheets");
    assert_eq!(messages(&worked(&library, "root", &[])), ["no `kind`", "no `p`"]);
}

#[test]
fn what_counts_things_and_what_varies_is_handed_on() {
    let text = "sheet s\ntitle S\nneeds\n  n count \"n\"\n  k number \"k\"\n  a length \"a\" in in\n  b length \"b\" in in\nlet m = n \"m\"\nlet p = k * 2 \"p\"\nlet x = a + b \"x\" in in\nlet y = 2 * b \"y\" in in\nlet z = a when k > 1, b otherwise \"z\" in in\n";
    let library = load(&[text]).expect("a sheet");
    let given = [("n", 2.0, "-", false), ("k", 2.0, "-", false), ("a", 1.0, "in", true), ("b", 2.0, "in", false)];
    let work = worked(&library, "s", &given);
    let of = |pick: fn(&Bound) -> bool| -> Vec<&str> {
        work.worked.bound.iter().filter(|(_, bound)| pick(bound)).map(|(name, _)| name.as_str()).collect()
    };
    assert_eq!(of(|bound| bound.count), ["m", "n"]);
    assert_eq!(of(|bound| bound.varies), ["a", "x", "z"]);
    let renames = library.sheet("s").expect("the sheet").body.iter().filter_map(|stmt| match stmt {
        Stmt::Let(rule) if rule.renames() => Some(rule.name.as_str()),
        _ => None,
    });
    assert_eq!(renames.collect::<Vec<_>>(), ["m"]);
}

#[test]
fn a_ratio_without_a_capacity_says_what_the_verdict_says() {
    assert_eq!([ratio(1.0, 2.0, true), ratio(-1.0, 2.0, true)], [0.5, 0.0]);
    assert_eq!([ratio(1.0, 0.0, false), ratio(0.0, 0.0, false), ratio(1.0, -1.0, false)], [f64::INFINITY; 3]);
    assert_eq!([ratio(0.0, 0.0, true), ratio(-1.0, 0.0, true), ratio(-2.0, -1.0, true)], [0.0; 3]);
}

#[test]
fn a_note_has_the_clause_at_its_end() {
    let note = |line: &str| {
        let library =
            load(&[&format!("sheet s\ntitle S\nneeds\n  a length \"a\" in in\nnote {line}\nlet x = a \"x\" in in\n")])
                .unwrap_or_else(|wrong| panic!("{wrong:?}"));
        let sheet = library.sheet("s").expect("the sheet");
        let note = sheet.body.iter().find_map(|stmt| match stmt {
            Stmt::Note(note) => Some(note.clone()),
            _ => None,
        });
        let note = note.expect("a note");
        (words(&note.text).trim().to_string(), note.cite.clone(), note.kind)
    };
    let cited = Some("ACI 318-19 26.13.3.2; recalled".to_string());
    assert_eq!(note("the soil is dry"), ("the soil is dry".into(), None, NoteKind::Assumed));
    assert_eq!(
        note("the soil is dry [ACI 318-19  26.13.3.2; recalled]"),
        ("the soil is dry".into(), cited.clone(), NoteKind::Assumed)
    );
    assert_eq!(note("not covered: frost").2, NoteKind::NotCovered);
    for (how, continuous) in [("periodic", false), ("continuous", true)] {
        let line = format!("inspect {how}: concrete [ACI 318-19 26.13.3.2; recalled]");
        assert_eq!(note(&line), ("concrete".into(), cited.clone(), NoteKind::Inspected { continuous }));
    }
}

/// What a sheet declares itself is its own; what the sheets that it uses need besides is passed on.
#[test]
fn inputs_are_a_sheets_own_or_passed_on() {
    let below = "sheet below\ntitle B\nneeds\n  q length from root \"q\" in in\ngives\n  c length \"c\"\nlet c = 2 * q \"c\" in in\n";
    let root = "sheet root\ntitle R\nneeds\n  a length \"a\" in in\ngives\n  q length \"q\"\nlet q = a \"q\" in in\n";
    let above = "sheet above\ntitle A\nplace foot by kind from bases \"kind\"\n  c length \"c\" in in\nuse below\nlet d = below.c + foot.c \"d\" in in\n";
    let post = "sheet post\ntitle P\nstands as foot when kind is tall\nneeds\n  n length from bases \"n\" in in\ngives\n  c length \"c\"\nlet c = n \"c\" in in\n";
    let library = load(&[below, root, above, post]).unwrap_or_else(|wrong| panic!("{wrong:?}"));
    let inputs = |name: &str| -> Vec<(String, bool)> {
        let sheet = library.sheet(name).expect("the sheet");
        sheet.inputs.iter().map(|input| (input.name.clone(), input.passed_on)).collect()
    };
    assert_eq!(inputs("below"), [("q".into(), false)]);
    assert_eq!(inputs("above"), [("kind".into(), false), ("root.q".into(), true)]);
}

/// Choices of one column are the same names, in whatever order.
#[test]
fn sheets_agree_on_what_a_column_can_be() {
    let reads = |name: &str, choices: &str| {
        format!(
            "sheet {name}\ntitle N\nneeds\n  q one of {choices} from posts \"q\"\nlet r = 1 when q is dry, 2 otherwise \"r\"\n"
        )
    };
    assert_eq!(told(&[&reads("aa", "dry, wet"), &reads("zz", "wet, dry")]), [""; 0]);
    let wrong = told(&[&reads("aa", "dry, wet"), &reads("zz", "dry, oiled")]);
    assert_eq!(wrong.len(), 1, "{wrong:?}");
    assert!(wrong[0].starts_with("the column `q` of posts is "), "{wrong:?}");
}
