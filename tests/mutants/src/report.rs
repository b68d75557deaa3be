//! What was found, by folder and by kind, and each error that nothing noticed.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

pub fn report(root: &Path, into: &Path, write: bool) {
    let found = crate::run::found(into);
    let folder = root.join("tests/mutants");
    let reasons = reasons(&folder.join("escapes.csv"));
    let mut counts: BTreeMap<(&str, String), [usize; 2]> = BTreeMap::new();
    let mut table = String::from("no\tfile\tline\tkind\twas\tnow\ttext\tfound\tby\n");
    let mut escapes = Vec::new();
    let sites = fs::read_to_string(into.join("sites.tsv")).expect("`plant` comes first");
    for line in sites.lines() {
        let cells: Vec<&str> = line.split('\t').collect();
        let no: u32 = cells[0].parse().expect("a number");
        let Some((how, by)) = found.get(&no) else { continue };
        table.push_str(&format!("{line}\t{how}\t{by}\n"));
        let caught = how == "caught" || how == "hangs";
        let part = cells[1].split('/').take(2).collect::<Vec<_>>().join("/");
        let by = by.split("::").next().unwrap_or_default();
        let mut keys =
            vec![("", "all".to_string()), ("folder", part), ("file", cells[1].into()), ("kind", cells[3].into())];
        if caught {
            keys.push(("caught by", by.into()));
        }
        for key in keys {
            counts.entry(key).or_default()[usize::from(!caught)] += 1;
        }
        if !caught {
            let row = [cells[1], cells[6], cells[3], cells[4], cells[5]].map(String::from).to_vec();
            let reason = reasons.get(&row).map_or("open: no test notices it yet", String::as_str);
            println!("{no}\t{how}\t{}\t{reason}", row.join("\t"));
            escapes.push([row, vec![reason.to_string()]].concat());
        }
    }
    fs::write(into.join("report.tsv"), table).expect("the copy can be written");
    println!("what\tcaught\tmissed");
    for ((what, name), [caught, missed]) in &counts {
        println!("{what} {name}\t{caught}\t{missed}");
    }
    if write {
        let files = counts.iter().filter(|((what, _), _)| *what == "file");
        let all = sites.lines().count();
        let head = format!("# Of the sample {} errors were looked for, of {all} that compile.\n", found.len());
        let rows =
            files.map(|((_, name), [caught, missed])| vec![name.clone(), caught.to_string(), missed.to_string()]);
        written(&folder.join("counts.csv"), head, ["name", "found", "missed"].map(String::from).to_vec(), rows);
        let names = ["name", "line", "kind", "was", "now", "reason"].map(String::from).to_vec();
        written(&folder.join("escapes.csv"), String::new(), names, escapes.into_iter());
    }
}

fn written(path: &Path, head: String, names: Vec<String>, rows: impl Iterator<Item = Vec<String>>) {
    let mut writer = csv::Writer::from_writer(head.into_bytes());
    std::iter::once(names).chain(rows).for_each(|row| writer.write_record(row).expect("memory"));
    fs::write(path, writer.into_inner().expect("memory")).expect("the file can be written");
}

/// The reasons by the rest of their rows.
fn reasons(path: &Path) -> BTreeMap<Vec<String>, String> {
    let rows = csv::Reader::from_path(path).expect("the escapes").into_deserialize::<Vec<String>>();
    rows.filter_map(|row| {
        let mut cells = row.expect("a row");
        cells.pop().map(|reason| (cells, reason))
    })
    .collect()
}
