//! A workbook of the tables of a job. An input that begins with `PK` is the file itself. Any other is its parts, each
//! below a line `=== path`, which are packed without being squeezed: so changes reach what stands in them.
#![no_main]

use std::io::{Cursor, Write};

use libfuzzer_sys::fuzz_target;
use socle::workbook;
use socle_fuzz::{changed, refused, worked};
use zip::write::{SimpleFileOptions, ZipWriter};

fuzz_target!(|input: &[u8]| socle_fuzz::run(input, target));

fn target(input: &[u8]) {
    let bytes = if input.starts_with(b"PK") { input.to_vec() } else { packed(&String::from_utf8_lossy(input)) };
    match workbook::read("job.xlsx", &bytes, &|_| true) {
        Ok(sheets) => assert!(sheets.iter().all(|sheet| sheet.text.len() < 64 << 20)),
        Err(wrong) => refused(&[wrong]),
    }
    let mut files = changed::jobs()["creek-porch"].clone();
    files.retain(|name, _| !name.ends_with(".csv"));
    files.insert("job.xlsx".into(), bytes);
    worked::read("creek-porch", &files);
}

fn packed(parts: &str) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    let stored = SimpleFileOptions::default().compression_method(zip::CompressionMethod::Stored);
    for part in parts.split("=== ").skip(1) {
        let (path, text) = part.split_once('\n').unwrap_or((part, ""));
        // One path twice is no archive.
        if writer.start_file(path, stored).is_ok() {
            writer.write_all(text.as_bytes()).expect("memory");
        }
    }
    writer.finish().expect("an archive").into_inner()
}
