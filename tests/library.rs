//! Every built-in sheet and table, without a list of them.

use crate::jobs::library;
use crate::support::{root, socle, stderr, stdout};

#[test]
fn all_built_in_sheets_are_in_order() {
    let library = library();
    let mut files = 0;
    let mut waiting = vec![root().join("templates/sheets")];
    while let Some(path) = waiting.pop() {
        if path.is_dir() {
            waiting.extend(std::fs::read_dir(&path).expect("a folder").map(|entry| entry.expect("an entry").path()));
        } else if path.extension().is_some_and(|end| end == "sheet") {
            files += 1;
        }
    }
    assert!(files > 10);
    assert_eq!(library.sheets().count(), files);
    for sheet in library.sheets() {
        assert!(!sheet.title.is_empty(), "{} has no title", sheet.name);
        for input in &sheet.inputs {
            assert!(!input.say.is_empty(), "{}: {} is not explained", sheet.name, input.name);
        }
    }
}

#[test]
fn a_sheet_of_ones_own_is_checked() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("own.sheet");
    let check = |text: &str| {
        std::fs::write(&path, text).expect("a file");
        socle(&["sheets", &path.display().to_string()])
    };
    let good = check("sheet own\ntitle mine\nneeds\n  a length \"x\"\nlet b = 2 * a  \"twice\"\n");
    assert!(good.status.success(), "{}", stderr(&good));
    assert!(stdout(&good).contains("is in order"));
    let bad = check("sheet own\ntitle mine\nneeds\n  a length \"x\"\nlet b = 2 + a  \"twice\"\n");
    assert_eq!(bad.status.code(), Some(2));
    assert!(stderr(&bad).contains("adds a length to a plain number"), "{}", stderr(&bad));
}
