//! Tables: which row a key finds, what lies between rows, and what is said where there is none. The walk over steps and the
//! programs look rows up each in its own way, and have to come to the same.

use std::sync::Arc;

use socle::formula::{TOLERANCE, Value};
use socle::quantity::{Dim, Quantity};
use socle::sheet::{Hit, Library, Table, Text};
use socle::source::Source;

const GRADES: &str = "\
# title: grades
species,size [in],pull,F_b [psi],use,source,kind,doubt
Oak,2,1..3,100,wet,A,published,
Oak,4,1..3,300,dry,B,recalled,smudged
Oak,8,1..3,500,dry,B,published,
Pine,2,0.00001..0.00002,40,wet,A,published,
Pine,4,5..6,60,wet,A,published,
Elm,0,0..0,7,,A,published,
";

fn library(texts: &[(&str, bool)]) -> Result<Library, String> {
    let text = |(text, own): &(&str, bool)| Text {
        path: "tables/grades.csv".into(),
        source: Source::new(if *own { "templates/tables/grades.csv" } else { "grades.csv" }, *text),
        own: *own,
    };
    let texts: Vec<Text> = texts.iter().map(text).collect();
    Library::load(&texts, None)
        .map_err(|wrong| format!("{}: {}", wrong[0].message, wrong[0].hints.first().cloned().unwrap_or_default()))
}

fn inches(value: f64) -> Value {
    Value::Quantity(Quantity::new(value, Dim::LENGTH))
}

fn plain(value: f64) -> Value {
    Value::Quantity(Quantity::new(value, Dim::NONE))
}

/// What both ways read in the column `F_b`, the second key between rows or not; the message where there is no row.
fn strength(library: &Library, species: &str, size: f64, pull: f64, between: bool) -> Result<f64, String> {
    let table = library.table("grades").expect("the table");
    let number = library.texts().find(species).map_or(f64::MAX, f64::from);
    let hit = table.locate(&[(number, false), (size, between), (pull, false)]);
    let column = table.columns.iter().position(|column| column.name == "F_b").expect("the column");
    let packed = hit.map(|hit| table.read_at(hit, column));
    let keys = [(Value::Text(species.into()), false), (inches(size), between), (plain(pull), false)];
    let found = table.find(&keys, &["F_b"]);
    match found {
        Ok(found) => {
            let Value::Quantity(value) = &found.values[0].0 else { panic!("{found:?}") };
            assert_eq!(packed, Some(value.value), "{species} {size} {pull}");
            assert_eq!(found.ends.len(), if matches!(hit, Some(Hit::Between(..))) { 2 } else { 0 });
            Ok(value.value)
        }
        Err(wrong) => {
            assert_eq!(packed, None, "{}", wrong.message);
            Err(format!("{}; {}", wrong.message, wrong.hints.join("; ")))
        }
    }
}

#[test]
fn a_key_finds_its_row() {
    let library = library(&[(GRADES, false)]).expect("a table");
    let strength = |species, size, pull| strength(&library, species, size, pull, false);
    assert_eq!(strength("Oak", 4.0, 2.0), Ok(300.0));
    assert_eq!(strength("oak", 4.0, 2.0), Ok(300.0));
    assert_eq!(strength("Pine", 2.0, 1.5e-5), Ok(40.0));
    assert_eq!(strength("Elm", 0.0, 0.0), Ok(7.0));
    // What rounding leaves over.
    for part in [-0.5, 0.5] {
        assert_eq!(strength("Oak", 4.0 * (1.0 + part * TOLERANCE), 2.0), Ok(300.0));
    }
    for part in [-2.0, 2.0] {
        assert!(strength("Oak", 4.0 * (1.0 + part * TOLERANCE), 2.0).is_err());
    }
}

#[test]
fn a_range_holds_up_to_both_its_ends() {
    let library = library(&[(GRADES, false)]).expect("a table");
    let found = |size: f64, pull: f64| strength(&library, "Pine", size, pull, false).is_ok();
    for (size, low, high) in [(4.0, 5.0, 6.0), (2.0, 0.00001, 0.00002)] {
        for pull in [low, (low + high) / 2.0, high, low * (1.0 - TOLERANCE / 2.0), high * (1.0 + TOLERANCE / 2.0)] {
            assert!(found(size, pull), "{pull}");
        }
        for pull in [low / 2.0, high * 2.0, low * (1.0 - 3.0 * TOLERANCE), high * (1.0 + 3.0 * TOLERANCE)] {
            assert!(!found(size, pull), "{pull}");
        }
    }
    let table = library.table("grades").expect("the table");
    assert!(table.ranges(2) && !table.ranges(1));
}

#[test]
fn a_value_lies_between_rows_and_not_beyond_them() {
    let library = library(&[(GRADES, false)]).expect("a table");
    let strength = |size| strength(&library, "Oak", size, 2.0, true);
    for (size, wanted) in [(2.0, 100.0), (3.0, 200.0), (4.0, 300.0), (5.0, 350.0), (8.0, 500.0)] {
        assert_eq!(strength(size), Ok(wanted));
    }
    // At an end what rounding leaves over is no step beyond it.
    assert_eq!(strength(2.0 * (1.0 - TOLERANCE / 2.0)), Ok(100.0));
    assert_eq!(strength(8.0 * (1.0 + TOLERANCE / 2.0)), Ok(500.0));
    for size in [1.9, 8.1] {
        let told = strength(size).unwrap_err();
        assert_eq!(
            told,
            format!("`size` is {size} in; grades covers 2 in to 8 in and is not extended past its ends; ")
        );
    }
    let table = library.table("grades").expect("the table");
    let keys = |size: f64| [(Value::Text("Oak".into()), false), (inches(size), true), (plain(2.0), false)];
    let found = table.find(&keys(3.0), &["F_b"]).expect("a row");
    assert_eq!((found.source.as_str(), found.doubt.as_str(), found.recalled), ("A; B", "smudged", true));
    assert_eq!(found.rows, [0, 1]);
    let found = table.find(&keys(6.0), &["F_b"]).expect("a row");
    assert_eq!((found.source.as_str(), found.doubt.as_str(), found.recalled), ("B", "smudged", true));
    let found = table.find(&keys(8.0), &["F_b"]).expect("a row");
    assert_eq!((found.doubt.as_str(), found.recalled, found.rows), ("", false, vec![2]));
}

#[test]
fn of_rows_with_one_key_the_first_is_read() {
    let twice = GRADES.replace("Oak,8,", "Oak,4,1..3,999,dry,B,published,\nOak,2,1..3,888,dry,B,published,\nOak,8,");
    let library = library(&[(&twice, false)]).expect("a table");
    for between in [false, true] {
        assert_eq!(strength(&library, "Oak", 4.0, 2.0, between), Ok(300.0));
        assert_eq!(strength(&library, "Oak", 2.0, 2.0, between), Ok(100.0));
    }
    assert_eq!(strength(&library, "Oak", 3.0, 2.0, true), Ok(200.0));
    assert_eq!(strength(&library, "Oak", 6.0, 2.0, true), Ok(400.0));
}

#[test]
fn a_row_that_is_missing_is_told_with_those_beside_it() {
    let library = library(&[(GRADES, false)]).expect("a table");
    let told = |species, size, pull| strength(&library, species, size, pull, false).unwrap_err();
    assert_eq!(
        told("Oak", 5.0, 2.0),
        "grades has no row for size `5 in`; the rows beside it are those of `4 in` and `8 in`"
    );
    assert_eq!(told("Oak", 1.0, 2.0), "grades has no row for size `1 in`; the rows beside it are those of `2 in`");
    assert_eq!(told("Oak", 9.0, 2.0), "grades has no row for size `9 in`; the rows beside it are those of `8 in`");
    assert_eq!(told("Ok", 4.0, 2.0), "grades has no row for species `Ok`; did you mean `Oak`?");
    assert_eq!(told("Larch", 4.0, 2.0), "grades has no row for species `Larch`; the table has Oak, Pine, Elm");
    assert_eq!(told("Oak", 4.0, 7.0), "grades has no row for pull `7`; the table has 1 to 3");
    let table = library.table("grades").expect("the table");
    let keys = [(Value::Text("Elm".into()), false), (inches(0.0), false), (plain(0.0), false)];
    let none = table.find(&keys, &["use"]).unwrap_err().message;
    assert_eq!(none, "grades gives no `use` for this row");
}

#[test]
fn the_rows_beside_one_differ_in_one_key() {
    let library = library(&[(GRADES, false)]).expect("a table");
    let table = library.table("grades").expect("the table");
    let number = |name: &str| library.texts().find(name).map(f64::from).expect("a name");
    let beside = |species: &str, size: f64, pull: f64, at: usize| table.beside(&[number(species), size, pull], at);
    assert_eq!(beside("Oak", 4.0, 2.0, 1), [Some(2.0), Some(8.0)]);
    assert_eq!(beside("Oak", 4.0, 1.0, 1), [Some(2.0), Some(8.0)]);
    assert_eq!(beside("Oak", 4.0, 3.0, 1), [Some(2.0), Some(8.0)]);
    assert_eq!(beside("Oak", 2.0, 2.0, 1), [None, Some(4.0)]);
    assert_eq!(beside("Oak", 8.0, 2.0, 1), [Some(4.0), None]);
    // Pine of that size is pulled by another force.
    assert_eq!(beside("Oak", 4.0, 2.0, 0), [None, None]);
    for pull in [4.9, 6.1] {
        assert_eq!(beside("Pine", 4.0, pull, 1), [None, None]);
    }
}

#[test]
fn rows_of_the_job_come_first() {
    let own = "# title: ours\nspecies,size [in],pull,F_b [psi],use,source,kind,doubt\nOak,4,1..3,333,dry,tests,published,\nOak,6,1..3,1,dry,tests,,\n";
    let library = library(&[(GRADES, false), (own, true)]).expect("both");
    assert_eq!(strength(&library, "Oak", 4.0, 2.0, false), Ok(333.0));
    let table = library.table("grades").expect("the table");
    assert_eq!((table.title.as_str(), table.height()), ("grades", 8));
    assert_eq!(table.own_rows().collect::<Vec<_>>(), [0, 1]);
    let instead = |size: f64| {
        let keys = [(Value::Text("Oak".into()), false), (inches(size), false), (plain(2.0), false)];
        let found = table.find(&keys, &["F_b"]).expect("a row");
        (found.own.iter().map(|own| (own.row, own.instead)).collect::<Vec<_>>(), found.recalled)
    };
    assert_eq!(instead(4.0), (vec![(0, true)], false));
    assert_eq!(instead(6.0), (vec![(1, false)], true));
    assert_eq!(instead(8.0), (vec![], false));
}

#[test]
fn what_is_no_table_is_told() {
    let told = |text: &str| Table::read("mine", &Source::new("mine.csv", text)).unwrap_err();
    let first = |text: &str| told(text)[0].message.clone();
    assert_eq!(first("a,source\n1,A\n"), "the table `mine` has no title");
    assert_eq!(first("# title: T\na,b\n1,2\n"), "the table `mine` has no column `source`");
    let wrong = told("# title: T\na [in],b,source\n1,2,\nx,3,A\n1..y,3,A\n1e999,3,A\n4,3,A\n");
    let told: Vec<&str> = wrong.iter().map(|one| one.message.as_str()).collect();
    assert_eq!(
        told,
        [
            "this row of `mine` does not say where it is published",
            "in the column `a`: found `x`, expected a number",
            "in the column `a`: found `y`, expected a number",
            "in the column `a`: found `1e999`, expected a number",
        ]
    );
    let other = library(&[(GRADES, false), ("# title: T\nspecies,source\nOak,A\n", true)]);
    assert_eq!(
        other.err().as_deref(),
        Some(
            "`templates/tables/grades.csv` has other columns than the table `grades` that it adds to: the columns are, in this order: species, size, pull, F_b, use"
        )
    );
}

/// A cell in another unit than its column reads as it is published.
#[test]
fn rows_read_as_they_are_published() {
    let text = "# title: T\nbolt,d [in],load,Z [lbf],source,kind,doubt\nM12,12 mm,1..2,100,A,published,\nhalf,1/2,1..2,,B,,x\n";
    let told = Table::read("mine", &Source::new("mine.csv", text)).unwrap_err();
    assert_eq!(told[0].message, "in the column `d`: found `1/2`, expected a number");
    let table = Table::read("mine", &Source::new("mine.csv", text.replace("1/2", "0.5"))).expect("a table");
    let row = table.published(0, 2);
    assert_eq!((row.name.as_str(), row.values.as_str()), ("M12, 12 mm", "load 1 to 2; Z 100 lbf"));
    assert_eq!((row.source.as_str(), row.doubt.as_str(), row.recalled), ("A", "", false));
    let row = table.published(1, 1);
    assert_eq!((row.name.as_str(), row.values.as_str()), ("half", "d 0.5 in; load 1 to 2"));
    assert_eq!((row.source.as_str(), row.doubt.as_str(), row.recalled), ("B", "x", true));
    let each: Vec<usize> = table.each().map(|row| row.len()).collect();
    assert_eq!(each, [3, 2]);
    let arc: Arc<Table> = Arc::new(table);
    assert_eq!(arc.column("Z").map(|column| column.unit.pretty()), Some("lbf".into()));
}
