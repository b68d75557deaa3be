//! What of the program a package was worked by: the language of its sheets, and what Rust itself does.

/// Program and version.
pub const PROGRAM: &str = concat!("socle ", env!("CARGO_PKG_VERSION"));

/// A digest of all that the program is built from: the same build makes the same pages.
pub const BUILD: &str = env!("SOCLE_BUILD");

/// The language of sheets and tables. A later one reads what an earlier one could say.
pub const LANGUAGE: u32 = 1;

/// What Rust itself does to numbers: load combinations, tributary areas, lines of frames, grouping, rounding.
pub const ENGINE: u32 = 3;

/// What each version of the engine does otherwise than the one before, a line each.
const CHANGES: &[(u32, &str)] = &[
    (2, "of combinations that come to the same, the first governs"),
    (
        2,
        "forces of a frame that cancel are zero, not the last digits of a subtraction, so that a limit on both together is not asked of one alone",
    ),
    (2, "forces handed to others are listed for ASD and for strength"),
    (3, "in what a ratio reacts to, and between what it lies, the inputs that loads are calculated from count, too"),
];

/// What the engine does otherwise than one of an earlier version.
pub fn changes_since(engine: u32) -> Vec<&'static str> {
    CHANGES.iter().filter(|(since, _)| *since > engine).map(|(_, what)| *what).collect()
}
