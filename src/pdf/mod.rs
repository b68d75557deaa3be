//! Package to bytes. The only module that names a `typst` crate.

mod block;
mod fit;
mod links;
mod pass;
mod picture;
mod seal;
mod world;

use std::collections::BTreeMap;

use typst::diag::{SourceDiagnostic, Warned};
use typst::foundations::{Datetime, Label, Smart};
use typst::introspection::Introspector;
use typst::layout::{Frame, FrameItem};
use typst::syntax::DiagSpan;
use typst::utils::PicoStr;
use typst::{World, WorldExt};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use fit::Fit;
use pass::{Known, Pass, pass};
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
    Typesetter { last: true, ..Typesetter::default() }.set(document)?.export(true)
}

/// What the typesetter remembers of a document is of no use to the next; a program
/// that sets only one ends without having to clear it away.
pub fn forget() {
    comemo::evict(0);
}

/// Passes after which pages that still move would not come to rest.
const PASSES: usize = 12;

/// States of a document for which the typesetter remembers what none of them used.
const REMEMBERED: usize = 3;

/// Says where lines about stand, to who knows no pages yet.
const GUESS: &str = "/guess.json";

/// Sets the states of one document, one after another: what is as it was is not set again,
/// and each begins with its lines where they stood in the one before, and its parts as close as they were set there.
#[derive(Default)]
pub struct Typesetter {
    known: Option<Known>,
    fit: Fit,
    world: Option<Closed>,
    /// The next state is the last.
    last: bool,
}

/// A document that was set.
pub struct Pages<'a> {
    world: &'a Closed,
    document: PagedDocument,
    date: (i32, u8, u8),
    ident: String,
}

impl Typesetter {
    /// Passes over the document until it is at rest, and no part of it ends badly.
    ///
    /// # Errors
    /// As for `render`.
    pub fn set(&mut self, document: Document) -> Result<Pages<'_>, Vec<String>> {
        let Document { mut files, main, date, ident } = document;
        let again = self.known.is_some();
        if again {
            files.remove(GUESS);
            self.fit.begin();
        }
        let world = match self.world.take() {
            Some(world) => world.with(files, date),
            None => Closed::new(files, main, date),
        };
        let world = self.world.insert(world.map_err(|error| vec![error])?);
        let set = passes(world, &mut self.fit, &mut self.known, self.last);
        if again {
            comemo::evict(REMEMBERED);
        }
        let document = set?;
        let missing = missing_characters(&document);
        if !missing.is_empty() {
            return Err(missing);
        }
        Ok(Pages { world, document, date, ident: ident.into() })
    }
}

fn passes(
    world: &mut Closed,
    fit: &mut Fit,
    known: &mut Option<Known>,
    last: bool,
) -> Result<PagedDocument, Vec<String>> {
    for _ in 0..PASSES {
        world.set(fit::FILE, fit.json());
        let Warned { output, warnings } = pass(world, known.take(), last);
        let Pass { document, at_rest } = match output {
            Ok(pass) if warnings.is_empty() => pass,
            Ok(_) => return Err(describe(world, &warnings)),
            Err(errors) => return Err([describe(world, &errors), describe(world, &warnings)].concat()),
        };
        *known = Some(document.introspector().clone());
        if !fit.asks_again(&document) && at_rest {
            return links::lead(&document);
        }
    }
    Err(vec!["its pages do not settle".into()])
}

impl Pages<'_> {
    /// `tagged` gives a PDF/A-3a that is also PDF/UA-1, else a plain PDF.
    ///
    /// # Errors
    /// Everything that the typesetter says.
    pub fn export(&self, tagged: bool) -> Result<Pdf, Vec<String>> {
        let (year, month, day) = self.date;
        let stamp = Datetime::from_ymd_hms(year, month, day, 0, 0, 0);
        let standards: &[PdfStandard] = if tagged { &[PdfStandard::A_3a, PdfStandard::Ua_1] } else { &[] };
        let standards = PdfStandards::new(standards).map_err(|error| vec![error.message().to_string()])?;
        let options = PdfOptions {
            ident: Smart::Custom(self.ident.clone()),
            timestamp: stamp.map(Timestamp::new_utc),
            standards,
            tagged,
            ..PdfOptions::default()
        };
        let mut bytes = typst_pdf::pdf(&self.document, &options).map_err(|errors| describe(self.world, &errors))?;
        if let Some(place) = self.seal().filter(|_| tagged) {
            bytes = seal::with_field(bytes, &place).map_err(|error| vec![format!("the field for a seal: {error}")])?;
        }
        Ok(Pdf { bytes, pages: self.document.pages().len() })
    }

    /// Where a seal goes, if the pages have a place for one.
    fn seal(&self) -> Option<seal::Place> {
        let introspector = self.document.introspector();
        let place = |label: &str| {
            let label = Label::new(PicoStr::intern(label))?;
            introspector.position(introspector.query_label(label).ok()?.location()?)
        };
        let (begin, end) = (place("seal-begin")?, place("seal-end")?);
        let high = self.document.pages().get(begin.page.get() - 1)?.frame.height();
        let [left, right] = [begin, end].map(|it| it.point.x.to_pt() as f32);
        let [upper, lower] = [begin, end].map(|it| (high - it.point.y).to_pt() as f32);
        Some(seal::Place { page: begin.page.get() as u32, corners: [left, lower, right, upper] })
    }
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
