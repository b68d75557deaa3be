//! One pass over a document. What a page says of other pages is where they stood in
//! the pass before, so there are passes until they stand still; each gives up its
//! pages to the next, which asks only where things stood.

use std::cell::RefCell;
use std::sync::Arc;

use comemo::{Constraint, Track};
use typst::World;
use typst::diag::{SourceResult, Warned};
use typst::engine::{Engine, Route, Sink};
use typst::foundations::{Content, Output, StyleChain, Target};
use typst::introspection::{EmptyIntrospector, Introspector};
use typst::utils::Protected;
use typst_layout::{PagedDocument, PagedIntrospector, layout_document};

/// Pages of a document for which memory matters more than time.
const LONG: usize = 200;

/// Where things stand in a document.
pub type Known = Arc<PagedIntrospector>;

pub struct Pass {
    pub document: PagedDocument,
    /// Everything stands where the pass before has left it.
    pub at_rest: bool,
}

thread_local! {
    static KNOWN: RefCell<Option<Known>> = const { RefCell::new(None) };
}

impl Output for Pass {
    fn target() -> Target {
        Target::Paged
    }

    /// The typesetter would begin with nothing known, and pass over the document by
    /// itself; of the pages that it gives nothing is asked, so it takes the first.
    fn create(engine: &mut Engine, content: &Content, styles: StyleChain) -> SourceResult<Pass> {
        let known = KNOWN.take();
        let known: &dyn Introspector = known.as_deref().map_or(&EmptyIntrospector, |known| known);
        let constraint = Constraint::new();
        let mut sink = Sink::new();
        let mut once = Engine {
            world: engine.world,
            library: engine.library,
            introspector: Protected::new(known.track_with(&constraint)),
            traced: engine.traced,
            sink: sink.track_mut(),
            route: Route::default(),
        };
        let document = layout_document(&mut once, content, styles)?;
        let places: &dyn Introspector = document.introspector().as_ref();
        let at_rest = constraint.validate(places);
        // What is missed before all pages are known may be there when they are.
        if at_rest {
            engine.sink.delayed_errors(sink.delayed());
            sink.warnings().into_iter().for_each(|warning| engine.sink.warn(warning));
        }
        Ok(Pass { document, at_rest })
    }

    fn introspector(&self) -> &dyn Introspector {
        self.document.introspector().as_ref()
    }
}

/// Passes over a document once, as `typst::compile` does until it is at rest. `last`: no other state of the
/// document follows.
pub fn pass(world: &dyn World, known: Option<Known>, last: bool) -> Warned<SourceResult<Pass>> {
    KNOWN.set(known);
    let pass = typst::compile::<Pass>(world);
    // What this pass used is kept for the next, and no more. That takes time, too.
    if last && pass.output.as_ref().is_ok_and(|pass| pass.document.pages().len() > LONG) {
        comemo::evict(1);
    }
    pass
}
