//! A whole job after changes as in `tests/wrong`: read, its loads derived, worked in all combinations and reported.
//! A line `json` has it in the units of the sheets, `pages` all that the typesetter would be given.
#![no_main]

use libfuzzer_sys::fuzz_target;
use socle_fuzz::{changed, worked};

fuzz_target!(|input: &[u8]| socle_fuzz::run(input, target));

fn target(input: &[u8]) {
    let steps = String::from_utf8_lossy(input);
    let changed = changed::changed(&steps);
    worked::held(&changed.name, &changed.files, None, !changed.asks("json"), changed.asks("pages"));
}
