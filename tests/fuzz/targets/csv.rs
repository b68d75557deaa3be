//! A table of a job, as any bytes: the first chooses which. Read beside the other files of a job, and as rows for a
//! sheet that is worked alone.
#![no_main]

use libfuzzer_sys::fuzz_target;
use socle::grid::{Grid, decode};
use socle::source::Source;
use socle_fuzz::{changed, refused, worked};

const TABLES: [&str; 6] =
    ["posts.csv", "bases.csv", "foundations.csv", "anchors.csv", "reactions.csv", "bases/more.csv"];

fuzz_target!(|input: &[u8]| socle_fuzz::run(input, target));

fn target(input: &[u8]) {
    let Some((first, bytes)) = input.split_first() else { return };
    let source = Source::new("rows.csv", decode(bytes));
    match Grid::read(&source) {
        Ok(grid) => {
            assert!(grid.rows.iter().all(|row| row.len() == grid.columns.len()));
            let lines = source.text.split('\n').count();
            assert!((0..grid.rows.len()).all(|row| (1..=lines).contains(&grid.line(row))));
        }
        Err(wrong) => refused(&wrong),
    }
    let name = TABLES[usize::from(*first) % TABLES.len()];
    let job = if name == "reactions.csv" { "cart-barn" } else { "creek-porch" };
    let mut files = changed::jobs()[job].clone();
    if name.contains('/') {
        files.remove("bases.csv");
    }
    files.insert(name.into(), bytes.to_vec());
    worked::read(job, &files);
}
