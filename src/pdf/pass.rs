//! One pass over a document. The typesetter goes over it until the numbers of pages
//! stand still, and keeps every pass until the last; of the earlier ones it asks only
//! where things stand. So a pass gives up its pages to the next, and what was
//! remembered of a long document for one pass alone is forgotten.

use std::cell::RefCell;
use std::sync::Arc;

use typst::World;
use typst::diag::{SourceResult, Warned};
use typst::engine::Engine;
use typst::foundations::{Content, Output, StyleChain, Target};
use typst::introspection::Introspector;
use typst_layout::{PagedDocument, PagedIntrospector, layout_document};

/// Pages of a document for which memory matters more than time.
pub(super) const LONG: usize = 200;

struct Pass(Arc<PagedIntrospector>);

thread_local! {
    /// The pages of the pass that was the last.
    static PAGES: RefCell<Option<PagedDocument>> = const { RefCell::new(None) };
}

impl Output for Pass {
    fn target() -> Target {
        Target::Paged
    }

    fn create(engine: &mut Engine, content: &Content, styles: StyleChain) -> SourceResult<Pass> {
        PAGES.take();
        let document = layout_document(engine, content, styles)?;
        // What this pass used is kept for the next, and no more. That takes time, too.
        if document.pages().len() > LONG {
            comemo::evict(1);
        }
        let places = document.introspector().clone();
        PAGES.set(Some(document));
        Ok(Pass(places))
    }

    fn introspector(&self) -> &dyn Introspector {
        self.0.as_ref()
    }
}

/// Typesets a document, as `typst::compile` does.
pub fn compile(world: &dyn World) -> Warned<SourceResult<PagedDocument>> {
    let Warned { output, warnings } = typst::compile::<Pass>(world);
    let pages = PAGES.take();
    Warned { output: output.map(|_| pages.expect("a pass leaves its pages")), warnings }
}
