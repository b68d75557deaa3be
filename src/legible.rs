//! What a text may hold that people typed: characters that can be seen and printed, and no
//! more of them than anybody would type.

use std::ops::Range;
use std::sync::{Arc, LazyLock};

use typst::text::{Font, FontInfo};
use typst_kit::fonts::embedded;

use crate::diag::{Diagnostic, Diagnostics};
use crate::names::is_invisible;
use crate::source::{Place, Source};

/// Bytes of a file that is read as text.
pub const FILE: usize = 8 << 20;

/// Characters of a cell, and of a text in `job.toml`.
pub const CELL: usize = 2_000;
pub const TEXT: usize = 10_000;

/// As many are shown of one file.
const SHOWN: usize = 5;

/// What is wrong with a file that is larger than one that somebody typed.
pub fn too_large(source: &Source) -> Option<Diagnostic> {
    let (found, most) = (source.text.len() >> 20, FILE >> 20);
    let large = source.text.len() > FILE;
    large.then(|| {
        Diagnostic::new(format!("`{}` has {found} MB; expected at most {most} MB", source.name))
            .hint("what a person types for a job is a hundredth of that: look at what stands in the file")
    })
}

/// What is wrong with a text, and where.
pub fn faults(source: &Arc<Source>) -> Diagnostics {
    if let Some(large) = too_large(source) {
        return large.into();
    }
    let found = of(&source.text).take(SHOWN);
    found.map(|(span, fault)| said(&source.text[span.clone()], fault).at(Place::new(source, span))).collect()
}

/// What is wrong with the first characters of a text that cannot stand in it, where the text was written
/// in another way, such as `\u001b`.
pub fn hidden(text: &str) -> Option<Diagnostic> {
    of(text).next().map(|(span, fault)| said(&text[span], fault))
}

/// Why characters cannot stand in a text.
#[derive(Clone, Copy, PartialEq)]
enum Fault {
    Control,
    Direction,
    NoTypeface,
}

/// The runs of characters of a text that cannot stand in it.
fn of(text: &str) -> impl Iterator<Item = (Range<usize>, Fault)> {
    let odd = text.char_indices().filter(|(_, c)| !is_plain(*c));
    let mut faults = odd.filter_map(|(at, c)| Some((at..at + c.len_utf8(), fault(c)?))).peekable();
    std::iter::from_fn(move || {
        let (mut span, fault) = faults.next()?;
        while let Some((more, _)) = faults.next_if(|(next, other)| next.start == span.end && *other == fault) {
            span.end = more.end;
        }
        Some((span, fault))
    })
}

fn said(found: &str, fault: Fault) -> Diagnostic {
    let codes = found.chars().take(SHOWN).map(|c| format!("U+{:04X}", u32::from(c)));
    let codes = codes.collect::<Vec<_>>().join(" ");
    match fault {
        Fault::Control => Diagnostic::new(format!("here stands a control character ({codes}), which nobody sees"))
            .hint("it came with what was pasted here: delete the cell or the line and type it again"),
        Fault::Direction => {
            Diagnostic::new(format!("here stands a mark that turns the direction of writing ({codes})"))
                .hint("it makes a text look like another one: delete the cell or the line and type it again")
        }
        Fault::NoTypeface => {
            let found: String = found.chars().take(SHOWN).flat_map(char::escape_debug).collect();
            Diagnostic::new(format!("`{found}` ({codes}) can be printed with none of the typefaces of a package")).hint(
                "write it in another way: Latin, Greek and Cyrillic letters, digits and common signs can be printed",
            )
        }
    }
}

/// Asks for a sign that is no picture; nobody sees it.
const TEXT_STYLE: char = '\u{fe0e}';

/// Whether a text has more characters than this.
pub fn is_longer(text: &str, most: usize) -> bool {
    text.len() > most && text.chars().count() > most
}

/// What nearly all texts are made of.
fn is_plain(c: char) -> bool {
    matches!(c, ' '..='~' | '\n' | '\r' | '\t')
}

fn fault(c: char) -> Option<Fault> {
    if c.is_control() {
        Some(Fault::Control)
    } else if is_direction(c) {
        Some(Fault::Direction)
    } else if c.is_whitespace() || is_invisible(c) || c == TEXT_STYLE || prints(c) {
        None
    } else {
        Some(Fault::NoTypeface)
    }
}

/// Whether a character moves the cursor of a terminal, or turns the direction of writing.
pub fn is_shifty(c: char) -> bool {
    c.is_control() || is_direction(c)
}

/// What a stranger's text says, without what a terminal would act on, and no more of it than this.
pub fn tame(text: &str, most: usize) -> String {
    text.chars().filter(|c| !is_shifty(*c)).take(most).collect()
}

fn is_direction(c: char) -> bool {
    matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// The typefaces of a package. They are read here alone: each place that reads them puts another 10 MB into the program.
pub fn typefaces() -> &'static [(Font, FontInfo)] {
    static TYPEFACES: LazyLock<Vec<(Font, FontInfo)>> = LazyLock::new(|| embedded().collect());
    &TYPEFACES
}

/// Whether a typeface of a package has a character, and it means the same to everybody.
fn prints(c: char) -> bool {
    let private = matches!(c, '\u{e000}'..='\u{f8ff}' | '\u{f0000}'..);
    !private && typefaces().iter().any(|(_, info)| info.coverage.contains(u32::from(c)))
}
