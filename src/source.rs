//! Texts that were read, and places in them.

use std::ops::Range;
use std::sync::Arc;

/// A text and the name that the user knows it by.
#[derive(Debug)]
pub struct Source {
    pub name: String,
    pub text: String,
}

impl Source {
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Arc<Source> {
        Arc::new(Source { name: name.into(), text: text.into() })
    }

    /// Line and column of a byte offset, both from 1, columns in characters.
    pub fn line_column(&self, offset: usize) -> (usize, usize) {
        let before = &self.text[..offset.min(self.text.len())];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
    }
}

/// A stretch of a source.
#[derive(Clone, Debug)]
pub struct Place {
    pub source: Arc<Source>,
    pub span: Range<usize>,
}

impl Place {
    pub fn new(source: &Arc<Source>, span: Range<usize>) -> Place {
        Place { source: source.clone(), span }
    }

    /// `posts.csv:4:12`.
    pub fn describe(&self) -> String {
        let (line, column) = self.source.line_column(self.span.start);
        format!("{}:{line}:{column}", self.source.name)
    }
}
