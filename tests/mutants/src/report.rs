//! What was found, by folder and by kind, and each error that nothing noticed.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

pub fn report(root: &Path, into: &Path) {
    let found = crate::run::found(into);
    let listed = fs::read_to_string(root.join("tests/mutants/escapes.csv")).unwrap_or_default();
    let mut counts: BTreeMap<(&str, String), [usize; 2]> = BTreeMap::new();
    let mut table = String::from("no\tfile\tline\tkind\twas\tnow\ttext\tfound\tby\n");
    let mut escaped = Vec::new();
    let sites = fs::read_to_string(into.join("sites.tsv")).expect("`plant` comes first");
    for line in sites.lines() {
        let cells: Vec<&str> = line.split('\t').collect();
        let no: u32 = cells[0].parse().expect("a number");
        let Some((how, by)) = found.get(&no) else { continue };
        table.push_str(&format!("{line}\t{how}\t{by}\n"));
        let caught = how == "caught" || how == "hangs";
        let folder = cells[1].split('/').take(2).collect::<Vec<_>>().join("/");
        let by = by.split("::").next().unwrap_or_default();
        let mut keys = vec![("", "all".to_string()), ("folder", folder), ("kind", cells[3].into())];
        if caught {
            keys.push(("caught by", by.into()));
        }
        for key in keys {
            counts.entry(key).or_default()[usize::from(!caught)] += 1;
        }
        if !caught {
            let row = [cells[1], cells[6], cells[3], cells[4], cells[5]].map(quoted).join(",");
            let known = listed.lines().any(|line| line.starts_with(&format!("{row},")));
            escaped.push(format!("{no}\t{how}\t{}\t{row}", if known { "listed" } else { "not listed" }));
        }
    }
    fs::write(into.join("report.tsv"), table).expect("the copy can be written");
    println!("what\tcaught\tmissed");
    for ((what, name), [caught, missed]) in counts {
        println!("{what} {name}\t{caught}\t{missed}");
    }
    println!("{}", escaped.join("\n"));
}

/// A cell as CSV has it.
fn quoted(cell: &str) -> String {
    if cell.contains(['"', ',']) { format!("\"{}\"", cell.replace('"', "\"\"")) } else { cell.into() }
}
