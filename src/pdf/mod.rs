//! Package to bytes. The only module that names a `typst` crate.

mod world;

use std::collections::{BTreeMap, BTreeSet};

use typst::diag::{SourceDiagnostic, Warned};
use typst::foundations::{Datetime, Smart};
use typst::layout::{Frame, FrameItem};
use typst::{World, WorldExt};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use world::Closed;

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
    let Some(world) = Closed::new(document.files, document.main, document.date) else {
        return Err(vec![format!("`{}` is not a path", document.main)]);
    };
    let Warned { output, warnings } = typst::compile::<PagedDocument>(&world);
    let pages = output.map_err(|errors| describe(&world, &errors))?;
    if !warnings.is_empty() {
        return Err(describe(&world, &warnings));
    }
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

/// `/templates/package/worked.typ:12:4: message`, with the hints that help.
fn describe(world: &Closed, diagnostics: &[SourceDiagnostic]) -> Vec<String> {
    let line = |diagnostic: &SourceDiagnostic| {
        let place = diagnostic.span.id().and_then(|id| {
            let source = world.source(id).ok()?;
            let start = world.range(diagnostic.span)?.start;
            let (line, column) = source.lines().byte_to_line_column(start)?;
            Some(format!("{}:{}:{}: ", id.get().vpath().get_with_slash(), line + 1, column + 1))
        });
        let mut text = format!("{}{}", place.unwrap_or_default(), diagnostic.message);
        // Hints about flags speak of another program.
        for hint in diagnostic.hints.iter().filter(|hint| !hint.v.contains("--")) {
            text.push_str(&format!("; {}", hint.v));
        }
        text
    };
    diagnostics.iter().map(line).collect()
}

/// A character that no font has would print as an empty box.
fn missing_characters(document: &PagedDocument) -> Vec<String> {
    fn walk(frame: &Frame, found: &mut BTreeSet<String>) {
        for (_, item) in frame.items() {
            match item {
                FrameItem::Group(group) => walk(&group.frame, found),
                FrameItem::Text(text) => {
                    for glyph in text.glyphs.iter().filter(|glyph| glyph.id == 0) {
                        found.insert(text.text[glyph.range()].to_string());
                    }
                }
                _ => {}
            }
        }
    }
    let mut found = BTreeSet::new();
    document.pages().iter().for_each(|page| walk(&page.frame, &mut found));
    found.into_iter().map(|text| format!("no font has the character `{text}`; write it in another way")).collect()
}
