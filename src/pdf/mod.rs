//! Package to bytes. The only module that names a `typst` crate.

mod block;
mod fit;
mod links;
mod pass;
mod picture;
mod world;

use std::collections::BTreeMap;

use typst::diag::{SourceDiagnostic, Warned};
use typst::foundations::{Datetime, Smart};
use typst::layout::{Frame, FrameItem};
use typst::syntax::DiagSpan;
use typst::{World, WorldExt};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use fit::Fit;
use pass::{Pass, pass};
use world::Closed;

pub use block::{Block, check_block};
pub use picture::proportion;

/// What is typeset: files by absolute virtual path, and which of them is the
/// entry.
pub struct Document<'a> {
    pub files: BTreeMap<String, Vec<u8>>,
    pub main: &'a str,
    /// Year, month, day of the job: the only date that the pages know.
    pub date: (i32, u8, u8),
    /// Names the document's content; goes into the file's identifier.
    pub ident: &'a str,
}

pub struct Pdf {
    pub bytes: Vec<u8>,
    pub pages: usize,
}

/// Typesets to a tagged PDF/A-3a that is also PDF/UA-1. The same document
/// gives the same bytes.
///
/// # Errors
/// Everything that the typesetter says, warnings too: a template of ours that
/// warns is wrong. Also every character that no font has.
pub fn render(document: Document) -> Result<Pdf, Vec<String>> {
    forget();
    let mut world = Closed::new(document.files, document.main, document.date).map_err(|error| vec![error])?;
    let pages = set(&mut world)?;
    let missing = missing_characters(&pages);
    if !missing.is_empty() {
        return Err(missing);
    }
    let (year, month, day) = document.date;
    let stamp = Datetime::from_ymd_hms(year, month, day, 0, 0, 0);
    let standards = PdfStandards::new(&[PdfStandard::A_3a, PdfStandard::Ua_1])
        .map_err(|error| vec![error.message().to_string()])?;
    let options = PdfOptions {
        ident: Smart::Custom(document.ident.into()),
        timestamp: stamp.map(Timestamp::new_utc),
        standards,
        ..PdfOptions::default()
    };
    let bytes = typst_pdf::pdf(&pages, &options).map_err(|errors| describe(&world, &errors))?;
    Ok(Pdf { bytes, pages: pages.pages().len() })
}

/// What the typesetter remembers of a document is of no use to the next; a program
/// that sets only one ends without having to clear it away.
pub fn forget() {
    comemo::evict(0);
}

/// Passes after which pages that still move would not come to rest.
const PASSES: usize = 12;

/// Passes over the document until it is at rest, and no part of it ends badly.
fn set(world: &mut Closed) -> Result<PagedDocument, Vec<String>> {
    let mut fit = Fit::default();
    let mut known = None;
    for _ in 0..PASSES {
        world.set(fit::FILE, fit.json());
        let Warned { output, warnings } = pass(world, known);
        let Pass { document, at_rest } = match output {
            Ok(pass) if warnings.is_empty() => pass,
            Ok(_) => return Err(describe(world, &warnings)),
            Err(errors) => return Err([describe(world, &errors), describe(world, &warnings)].concat()),
        };
        if !fit.asks_again(&document) && at_rest {
            return links::lead(&document);
        }
        known = Some(document.introspector().clone());
    }
    Err(vec!["its pages do not settle".into()])
}

/// `/templates/package/worked.typ:12:4: message`, then the calls that led there
/// and the hints that help.
fn describe(world: &Closed, diagnostics: &[SourceDiagnostic]) -> Vec<String> {
    let line = |diagnostic: &SourceDiagnostic| {
        let mut text = match place(world, diagnostic.span) {
            Some(place) => format!("{place}: {}", diagnostic.message),
            None => diagnostic.message.to_string(),
        };
        for point in &diagnostic.trace {
            if let Some(place) = place(world, point.span.into()) {
                text.push_str(&format!("; {} at {place}", point.v));
            }
        }
        // Hints about flags speak of another program.
        for hint in diagnostic.hints.iter().filter(|hint| !hint.v.contains("--")) {
            text.push_str(&format!("; {}", hint.v));
        }
        text
    };
    diagnostics.iter().map(line).collect()
}

/// The lines are those of the file, not of a source: a fault can lie in the data.
fn place(world: &Closed, span: DiagSpan) -> Option<String> {
    let id = span.id()?;
    let start = world.range(span)?.start;
    let (line, column) = world.file(id).ok()?.lines().ok()?.byte_to_line_column(start)?;
    Some(format!("{}:{}:{}", id.vpath().get_with_slash(), line + 1, column + 1))
}

/// A character that no font has would print as an empty box.
fn missing_characters(document: &PagedDocument) -> Vec<String> {
    fn walk(frame: &Frame, page: usize, found: &mut BTreeMap<char, usize>) {
        for (_, item) in frame.items() {
            match item {
                FrameItem::Group(group) => walk(&group.frame, page, found),
                FrameItem::Text(text) => {
                    for glyph in text.glyphs.iter().filter(|glyph| glyph.id == 0) {
                        for character in text.text[glyph.range()].chars() {
                            found.entry(character).or_insert(page);
                        }
                    }
                }
                _ => {}
            }
        }
    }
    let mut found = BTreeMap::new();
    for (index, page) in document.pages().iter().enumerate() {
        walk(&page.frame, index + 1, &mut found);
    }
    let line = |(character, page): (char, usize)| {
        let code = u32::from(character);
        // Escaped, since a control character would not be seen.
        let shown = character.escape_debug();
        format!("no font has the character `{shown}` (U+{code:04X}), first on page {page}; write it in another way")
    };
    found.into_iter().map(line).collect()
}
