//! `job.toml` as any bytes, beside the tables of a job.
#![no_main]

use libfuzzer_sys::fuzz_target;
use socle_fuzz::{changed, worked};

fuzz_target!(|input: &[u8]| socle_fuzz::run(input, target));

fn target(input: &[u8]) {
    let mut files = changed::jobs()["creek-porch"].clone();
    files.insert("job.toml".into(), input.to_vec());
    worked::read("creek-porch", &files);
}
