//! Where links lead. Templates name a line as the address of a link: on the first pass no
//! place is known yet, and a link to a place that is not known sets not even its words. So
//! a page is the same whether its links have found their lines or not.

use typst::foundations::Label;
use typst::introspection::Introspector;
use typst::layout::{Frame, FrameItem};
use typst::model::Destination;
use typst::utils::PicoStr;
use typst_layout::{PagedDocument, PagedIntrospector};

/// What an address begins with: it is read out, too.
const LINE: &str = "line ";

/// The document with its links leading to the lines that they name.
///
/// # Errors
/// The addresses that no line has.
pub fn lead(document: &PagedDocument) -> Result<PagedDocument, Vec<String>> {
    let mut leading = Leading { places: document.introspector(), lost: Vec::new() };
    let mut pages = Vec::with_capacity(document.pages().len());
    for page in document.pages() {
        let mut page = page.clone();
        leading.frame(&mut page.frame);
        pages.push(page);
    }
    if !leading.lost.is_empty() {
        return Err(leading.lost);
    }
    Ok(PagedDocument::new(pages.into_iter().collect(), typst::model::Document::info(document).clone()))
}

struct Leading<'a> {
    places: &'a PagedIntrospector,
    lost: Vec<String>,
}

impl Leading<'_> {
    fn frame(&mut self, frame: &mut Frame) {
        // Frames are shared with what the typesetter remembers: only those with links are copied.
        if !has_links(frame) {
            return;
        }
        frame.retain(|item| {
            match item {
                FrameItem::Group(group) => self.frame(&mut group.frame),
                FrameItem::Link(to, _) => self.link(to),
                _ => {}
            }
            true
        });
    }

    fn link(&mut self, to: &mut Destination) {
        let Destination::Url(address) = to else { return };
        let name = address.strip_prefix(LINE).unwrap_or(address);
        let place = Label::new(PicoStr::intern(name)).and_then(|label| self.places.query_label(label).ok()?.location());
        match place {
            Some(place) => *to = Destination::Location(place),
            None => self.lost.push(format!("a link leads to `{name}`, which stands nowhere")),
        }
    }
}

fn has_links(frame: &Frame) -> bool {
    frame.items().any(|(_, item)| match item {
        FrameItem::Group(group) => has_links(&group.frame),
        FrameItem::Link(..) => true,
        _ => false,
    })
}
