//! Parts of a document whose last page holds only a few lines: they are set again, a
//! little closer, so that those find room on the page before, or else wider, so that
//! they have company. The templates read from a file how each part is set.

use std::collections::BTreeMap;

use typst::foundations::Value;
use typst::introspection::{MetadataElem, Tag};
use typst::layout::{Frame, FrameItem};
use typst_layout::PagedDocument;

/// Where the templates find the parts that are set in another way, each with the
/// points by which its pages grow.
pub const FILE: &str = "/fit.json";

/// A page of which less than this is used is too empty to be turned to.
const THIN: f64 = 0.24;

/// Between header and footer of a page; a footer begins at least so far below.
const HEAD: f64 = 58.0;
const FOOT: f64 = 34.0;

/// Lines are looked for in steps of this height.
const STEP: f64 = 12.0;

/// What is tried first: as much longer as header and footer give way. Then shorter, by
/// what the last page lacks of twice as much as it needs, spread over those before it;
/// half of that back, where it took one page more.
const CLOSER: i32 = 20;
const TRIES: usize = 4;

/// What a part of several pages is set to, while its last one is thin.
#[derive(Default)]
pub struct Fit {
    parts: BTreeMap<String, i32>,
    tried: BTreeMap<String, Tried>,
}

/// How often a part was set anew, on how many pages it was at first, and by how many
/// points it grew last.
struct Tried {
    times: usize,
    pages: usize,
    step: i32,
}

impl Fit {
    pub fn json(&self) -> Vec<u8> {
        serde_json::to_vec(&self.parts).expect("names and numbers are JSON")
    }

    /// Begins with another state of the document, its parts set as those of the one before.
    pub fn begin(&mut self) {
        self.tried.clear();
    }

    /// Whether the document has to be set again.
    pub fn asks_again(&mut self, document: &PagedDocument) -> bool {
        let mut again = false;
        for (name, pages) in parts(document) {
            let Some((last, before)) = pages.split_last().filter(|(_, before)| !before.is_empty()) else { continue };
            let last = &document.pages()[*last].frame;
            let used = used(last);
            // What helped another state does not help this one: it is tried from the beginning.
            if used < THIN && !self.tried.contains_key(&name) && self.parts.remove(&name).is_some() {
                again = true;
                continue;
            }
            let tried = self.tried.entry(name.clone()).or_insert(Tried { times: 0, pages: pages.len(), step: CLOSER });
            if used >= THIN || tried.times >= TRIES {
                continue;
            }
            if tried.times > 0 {
                let lacking = (2.0 * THIN - used) * last.height().to_pt() / before.len() as f64;
                tried.step = if pages.len() > tried.pages { -tried.step / 2 } else { -lacking as i32 };
            }
            tried.times += 1;
            *self.parts.entry(name).or_default() += tried.step;
            again = true;
        }
        again
    }
}

/// The pages of each part, by the name that its template leaves on the first.
fn parts(document: &PagedDocument) -> Vec<(String, Vec<usize>)> {
    fn name(frame: &Frame) -> Option<String> {
        frame.items().find_map(|(_, item)| match item {
            FrameItem::Group(group) => name(&group.frame),
            FrameItem::Tag(Tag::Start(content, _)) => match &content.to_packed::<MetadataElem>()?.value {
                Value::Dict(found) => match found.get("part") {
                    Ok(Value::Str(name)) => Some(name.to_string()),
                    _ => None,
                },
                _ => None,
            },
            _ => None,
        })
    }
    let mut parts: Vec<(String, Vec<usize>)> = Vec::new();
    for (at, page) in document.pages().iter().enumerate() {
        if let Some(name) = name(&page.frame) {
            parts.push((name, vec![at]));
        } else if let Some((_, pages)) = parts.last_mut() {
            pages.push(at);
        }
    }
    parts
}

/// The part of a page between header and footer that words stand in.
fn used(page: &Frame) -> f64 {
    fn walk(frame: &Frame, from: f64, steps: &mut [bool]) {
        for (place, item) in frame.items() {
            let y = from + place.y.to_pt();
            match item {
                FrameItem::Group(group) => walk(&group.frame, y + group.transform.ty.to_pt(), steps),
                FrameItem::Text(text) => {
                    let above = y - text.size.to_pt();
                    for (at, used) in steps.iter_mut().enumerate() {
                        let here = HEAD + at as f64 * STEP;
                        *used |= above < here + STEP && y > here && above > HEAD - STEP;
                    }
                }
                _ => {}
            }
        }
    }
    let mut steps = vec![false; ((page.height().to_pt() - HEAD - FOOT) / STEP) as usize];
    walk(page, 0.0, &mut steps);
    steps.iter().filter(|used| **used).count() as f64 / steps.len() as f64
}
