//! A title block that is the job's own: a template that is not of the program. It is
//! held to what `templates/title-block.typ` says of it before a package is set: it
//! draws, from what it is given, within its box, and does nothing else to the pages.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use typst::diag::{SourceDiagnostic, Warned};
use typst::layout::{Abs, Frame, FrameItem, Point, Rect, Transform};
use typst::syntax::{DiagSpan, LinkedNode, SyntaxKind};
use typst::{World, WorldExt};
use typst_layout::PagedDocument;

use super::world::Closed;
use crate::diag::{Checked, Diagnostic, Diagnostics};
use crate::source::{Place, Source};

/// The name that the template gives its function.
const NAME: &str = "title-block";

/// Bytes of a template: it is read and set for every sheet.
const LONG: usize = 64_000;

/// What it may name of the typesetter's own: what draws, and what calculates.
const KNOWN: &str = "text strong emph smallcaps upper lower sub super underline overline strike highlight box block grid \
    stack align pad place move rotate scale skew rect line circle ellipse square polygon curve path h v linebreak \
    parbreak par list enum hide repeat luma rgb cmyk color stroke left right top bottom center horizon start end ltr rtl \
    ttb btt calc str int float bool repr type array dictionary range length ratio relative fraction angle alignment \
    direction content function arguments none auto sym assert panic black white gray silver red green blue navy \
    maroon olive teal aqua purple orange yellow lime fuchsia eastern";

/// The template, what its sheets are, and where it is set by itself.
pub struct Block<'a> {
    pub source: &'a Arc<Source>,
    /// All that a package is set from, by virtual path; the template among them.
    pub files: &'a BTreeMap<String, Vec<u8>>,
    /// Its path there.
    pub path: &'a str,
    /// Sets it for each kind of sheet, in the middle of a page of its own.
    pub trial: &'a str,
    /// Room around it on those pages, in points.
    pub around: f64,
    pub date: (i32, u8, u8),
}

/// # Errors
/// All that is wrong with it, in its lines.
pub fn check_block(block: &Block) -> Checked<()> {
    let text = &block.source.text;
    if text.len() > LONG {
        let message =
            format!("the title block is a template of {} kB; {} kB is the most", text.len() / 1000, LONG / 1000);
        return Err(Diagnostic::new(message).at(Place::new(block.source, 0..0)).into());
    }
    let parsed = typst::syntax::parse(text);
    let root = LinkedNode::new(&parsed);
    let mut wrong = Diagnostics::new();
    if parsed.errors_and_warnings().0.is_empty() {
        let names = KNOWN.split_whitespace().collect();
        forbidden(&root, block.source, &names, &mut wrong);
        if wrong.is_empty() && defined(&root).is_none() {
            wrong.push(
                Diagnostic::new(format!("the title block does not define `{NAME}`"))
                    .at(Place::new(block.source, 0..text.lines().next().map_or(0, str::len)))
                    .hint(format!("write `#let {NAME}(firm, job, sheet) = […]`")),
            );
        }
    }
    if wrong.is_empty() {
        wrong = tried(block, defined(&root).unwrap_or(0..0));
    }
    if wrong.is_empty() { Ok(()) } else { Err(wrong) }
}

/// Where the function is named.
fn defined(root: &LinkedNode) -> Option<std::ops::Range<usize>> {
    let mut found = None;
    fn walk(node: &LinkedNode, found: &mut Option<std::ops::Range<usize>>) {
        if node.kind() == SyntaxKind::Ident && node.leaf_text() == NAME && found.is_none() {
            *found = Some(node.range());
        }
        node.children().for_each(|child| walk(&child, found));
    }
    walk(root, &mut found);
    found
}

const FILES: &str = "a title block cannot read files: all that it can set is given to it, in `firm`, `job` and `sheet`";
const PAGES: &str = "a title block draws in its box; sheets, their numbers, lines and headings are not its own";
const PICTURE: &str = "the logo of `[firm]` is `firm.logo`, ready to be set in a box: `box(height: 12pt, firm.logo)`";

/// What it says that it may not.
fn forbidden(node: &LinkedNode, source: &Arc<Source>, known: &BTreeSet<&str>, wrong: &mut Diagnostics) {
    use SyntaxKind as S;
    let what = match node.kind() {
        S::ModuleImport | S::ModuleInclude => Some(("import a file".to_string(), FILES)),
        S::Heading => {
            Some(("have a heading".into(), "a line that begins with `=` is one; `strong[…]` sets words bold"))
        }
        S::Label | S::Ref => Some(("have labels or references".into(), PAGES)),
        S::Link => Some(("have a link".into(), "an address in quotes is plain text: `#\"www.…\"`")),
        S::Equation => Some(("have a formula".into(), "a dollar sign in words is written `\\$`")),
        S::Contextual => Some(("ask for its position".into(), PAGES)),
        S::WhileLoop => Some(("loop without a known end".into(), "`for` goes over a list or a `range`")),
        S::Ident if !is_key(node) && !known.contains(node.leaf_text().as_str()) => {
            let name = node.leaf_text().as_str();
            let hint = match name {
                "image" => PICTURE,
                "read" | "json" | "csv" | "toml" | "yaml" | "xml" | "cbor" | "plugin" | "eval" | "bytes" => FILES,
                _ => PAGES,
            };
            is_of_the_typesetter(name).then(|| (format!("use `{name}`"), hint))
        }
        _ => None,
    };
    if let Some((what, hint)) = what {
        let message = format!("a title block cannot {what}");
        wrong.push(Diagnostic::new(message).at(Place::new(source, node.range())).hint(hint));
        return;
    }
    node.children().for_each(|child| forbidden(&child, source, known, wrong));
}

/// A field after a point, or the name of an argument or entry.
fn is_key(node: &LinkedNode) -> bool {
    let before = node.prev_sibling_kind();
    match node.parent_kind() {
        Some(SyntaxKind::FieldAccess) => before == Some(SyntaxKind::Dot),
        Some(SyntaxKind::Named) => node.index() == 0,
        _ => false,
    }
}

fn is_of_the_typesetter(name: &str) -> bool {
    thread_local! {
        static LIBRARY: typst::Library = <typst::Library as typst::LibraryExt>::default();
    }
    name == "std" || LIBRARY.with(|library| library.global.scope().get(name).is_some())
}

/// Sets it for each kind of sheet and measures what it drew.
fn tried(block: &Block, named: std::ops::Range<usize>) -> Diagnostics {
    let world = match Closed::new(block.files.clone(), block.trial, block.date) {
        Ok(world) => world,
        Err(error) => return Diagnostic::new(error).into(),
    };
    let Warned { output, warnings } = typst::compile::<PagedDocument>(&world);
    let (document, errors) = match output {
        Ok(document) => (Some(document), warnings),
        Err(errors) => (None, errors),
    };
    let mut wrong: Diagnostics = errors.iter().map(|error| located(&world, block, error, &named)).collect();
    if let (Some(document), true) = (document, wrong.is_empty()) {
        let mut seen = BTreeSet::new();
        for page in document.pages() {
            let (width, height) = (page.frame.width().to_pt(), page.frame.height().to_pt());
            let (width, height) = (width - 2.0 * block.around, height - 2.0 * block.around);
            let Some(drawn) = drawn(&page.frame, Transform::identity()) else { continue };
            let beyond = [
                ("left", block.around - drawn.min.x.to_pt()),
                ("right", drawn.max.x.to_pt() - block.around - width),
                ("top", block.around - drawn.min.y.to_pt()),
                ("bottom", drawn.max.y.to_pt() - block.around - height),
            ];
            // What is set is known to a quarter of a point: letters hang over a little.
            for (side, by) in beyond.into_iter().filter(|(_, by)| *by > 1.0) {
                let message = format!(
                    "the title block extends {by:.0} pt beyond the {side} edge of its box, which is {width:.0} pt wide and {height:.0} pt high"
                );
                if seen.insert((side, height as i64)) {
                    wrong.push(Diagnostic::new(message).at(Place::new(block.source, named.clone())).hint(
                        "`sheet.width` and `sheet.height` say how large it may be, on the cover and in the head of each other sheet",
                    ));
                }
            }
        }
    }
    wrong
}

/// A diagnostic of the typesetter in the lines of the template: where it arose, or
/// where the template called what it arose in.
fn located(world: &Closed, block: &Block, error: &SourceDiagnostic, named: &std::ops::Range<usize>) -> Diagnostic {
    let here = |span: DiagSpan| -> Option<std::ops::Range<usize>> {
        let id = span.id()?;
        let is_own = id.vpath().get_with_slash() == block.path;
        is_own.then(|| world.range(span)).flatten().filter(|_| world.source(id).is_ok())
    };
    let place = here(error.span).or_else(|| error.trace.iter().find_map(|point| here(point.span.into())));
    let diagnostic = Diagnostic::new(format!("the title block cannot be set: {}", error.message))
        .at(Place::new(block.source, place.unwrap_or_else(|| named.clone())));
    error.hints.iter().filter(|hint| !hint.v.contains("--")).fold(diagnostic, |it, hint| it.hint(hint.v.to_string()))
}

/// What is drawn in a frame; none where nothing is.
fn drawn(frame: &Frame, within: Transform) -> Option<Rect> {
    let mut all: Option<Rect> = None;
    for (place, item) in frame.items() {
        let there = within.pre_concat(Transform::translate(place.x, place.y));
        let moved = |rect: Rect| {
            let corners = [rect.min, Point::new(rect.max.x, rect.min.y), rect.max, Point::new(rect.min.x, rect.max.y)];
            let corners = corners.map(|corner| corner.transform(there));
            let x = corners.map(|corner| corner.x.to_pt());
            let y = corners.map(|corner| corner.y.to_pt());
            let ends =
                |of: [f64; 4]| (of.into_iter().fold(f64::MAX, f64::min), of.into_iter().fold(f64::MIN, f64::max));
            let ((left, right), (top, bottom)) = (ends(x), ends(y));
            Rect::new(Point::new(Abs::pt(left), Abs::pt(top)), Point::new(Abs::pt(right), Abs::pt(bottom)))
        };
        let found = match item {
            FrameItem::Group(group) => drawn(&group.frame, there.pre_concat(group.transform)),
            FrameItem::Text(text) => Some(text.bbox()).filter(|it| it.min.x.to_pt().is_finite()).map(moved),
            FrameItem::Shape(shape, _) => Some(moved(shape.bbox(true))),
            FrameItem::Image(_, size, _) => Some(moved(Rect::from_pos_size(Point::zero(), *size))),
            _ => None,
        };
        all = match (all, found) {
            (Some(a), Some(b)) => Some(Rect::new(a.min.min(b.min), a.max.max(b.max))),
            (a, b) => a.or(b),
        };
    }
    all
}
