//! A value as people type it: read in several units and by each decimal mark, printed, and read again.
//! The first byte chooses what is wanted and the mark.
#![no_main]

use libfuzzer_sys::fuzz_target;
use socle::quantity::{Decimals, Dim, Unit, Units, given_digits, measured, number, read, read_any, slack};

/// What a column may want, the usual unit first.
const WANTED: [&[&str]; 10] = [
    &[],
    &["in", "mm"],
    &["ft", "m"],
    &["lbf", "kip", "kN"],
    &["deg"],
    &["psf", "kPa"],
    &["lbf/ft"],
    &["in^2"],
    &["pcf"],
    &["degF"],
];

fuzz_target!(|input: &[u8]| socle_fuzz::run(input, target));

fn target(input: &[u8]) {
    let Some((first, rest)) = input.split_first() else { return };
    let Ok(text) = std::str::from_utf8(rest) else { return };
    let first = usize::from(*first);
    let units = Unit::all(WANTED[first % WANTED.len()]);
    let decimals = [Decimals::Point, Decimals::Comma, Decimals::Either][first / WANTED.len() % 3];
    let header = units.last().filter(|_| first / WANTED.len() / 3 % 2 == 1);
    let dim = units.first().map_or(Dim::NONE, |unit| unit.dim);
    match read(text, &units, header, decimals) {
        Ok(reading) => {
            let (quantity, unit) = (reading.quantity, &reading.unit);
            assert!(quantity.value.is_finite() && quantity.dim == dim && unit.dim == dim, "{reading:?}");
            let shown = quantity.shown_in(unit);
            let printed = measured(&number(shown, given_digits(shown)), unit.name());
            let back = read(&printed, &units, None, Decimals::Point);
            let back = back.unwrap_or_else(|why| panic!("`{printed}` is not read: {}", why.message)).quantity.value;
            // Four digits, and what is nothing of a length or a force.
            let near = (back - quantity.value).abs() <= 0.000_51 * quantity.value.abs() + 1e-9;
            assert!(near, "{} is printed as `{printed}`, which is {back}", quantity.value);
        }
        Err(why) => assert!(!why.message.is_empty()),
    }
    read_any(text, header, decimals);
    let slack = slack(text, dim, header, decimals);
    assert!(slack.is_finite() && slack >= 0.0, "{slack}");
    for units in [Units::Imperial, Units::Metric] {
        units.typed(text, header, decimals);
        units.words(text);
        units.words_on_site(text);
        units.advice(text);
    }
}
