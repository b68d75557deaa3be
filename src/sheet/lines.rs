//! A sheet file as statements: which lines belong together, which are prose.
//!
//! A line that is indented deeper than a statement goes on with it; under
//! `needs`, `when` and `otherwise`, deeper lines are a block.

use std::ops::Range;

/// Words that open a statement.
pub const WORDS: &[&str] = &[
    "sheet",
    "title",
    "method",
    "stands",
    "joins",
    "needs",
    "gives",
    "let",
    "take",
    "use",
    "place",
    "when",
    "otherwise",
    "must",
    "decide",
    "hand",
    "fit",
    "note",
    "figure",
    "piece",
    "shop",
    "field",
];

/// Words that a block of deeper lines follows.
const BLOCKS: &[&str] = &["needs", "gives", "place", "when", "otherwise", "shop", "field"];

/// Words whose block is a list: every line is an item of its own.
const LISTS: &[&str] = &["needs", "gives", "place"];

#[derive(Debug)]
pub struct Line {
    /// The opening word; empty for prose.
    pub word: &'static str,
    /// The word's own span.
    pub word_span: Range<usize>,
    /// What follows the word, or all of the prose, over as many lines as it takes.
    pub rest: Range<usize>,
    /// Lines of a block.
    pub block: Vec<Line>,
}

struct Raw {
    indent: usize,
    span: Range<usize>,
    /// An empty line stands before it.
    gap: bool,
}

/// Groups the lines of a text. `--` begins a comment line.
pub fn lines(text: &str) -> Vec<Line> {
    let mut raw = Vec::new();
    let mut at = 0;
    let mut gap = false;
    for line in text.split_inclusive('\n') {
        let body = line.trim_end();
        let indent = body.len() - body.trim_start().len();
        if body.trim_start().is_empty() {
            gap = true;
        } else if !body.trim_start().starts_with("--") {
            raw.push(Raw { indent, span: at + indent..at + body.len(), gap });
            gap = false;
        }
        at += line.len();
    }
    let mut rest = raw.as_slice();
    group(text, &mut rest, 0, false)
}

/// In a list, every line is an item of its own; elsewhere a line without an
/// opening word is prose and joins its neighbours.
fn group(text: &str, rest: &mut &[Raw], least: usize, items: bool) -> Vec<Line> {
    let mut lines = Vec::new();
    while let Some(first) = rest.first().filter(|first| first.indent >= least) {
        let indent = first.indent;
        let span = first.span.clone();
        let word = opening_word(&text[span.clone()]);
        *rest = &rest[1..];
        let word_span = span.start..span.start + word.len();
        let mut end = span.end;
        let mut block = Vec::new();
        if BLOCKS.contains(&word) {
            // A condition goes on over deeper lines only by its brackets or a
            // trailing `and`, `or`, so the block starts at the next line.
            while let Some(next) =
                rest.first().filter(|next| next.indent > indent && continues(&text[word_span.end..end]))
            {
                end = next.span.end;
                *rest = &rest[1..];
            }
            block = group(text, rest, indent + 1, LISTS.contains(&word));
        } else {
            let prose = !items && word.is_empty() && !text[span.clone()].starts_with('=');
            while let Some(next) = rest.first() {
                let same = prose && next.indent == indent && !next.gap && is_prose(&text[next.span.clone()]);
                let deeper = (items || !word.is_empty()) && next.indent > indent;
                if !same && !deeper {
                    break;
                }
                end = next.span.end;
                *rest = &rest[1..];
            }
        }
        lines.push(Line { word, word_span: word_span.clone(), rest: word_span.end..end, block });
    }
    lines
}

fn continues(condition: &str) -> bool {
    let condition = condition.trim_end();
    condition.ends_with(" and")
        || condition.ends_with(" or")
        || condition.matches('(').count() > condition.matches(')').count()
}

fn is_prose(line: &str) -> bool {
    opening_word(line).is_empty() && !line.starts_with('=')
}

fn opening_word(line: &str) -> &'static str {
    let word = line.split_whitespace().next().unwrap_or("");
    WORDS.iter().find(|known| **known == word).copied().unwrap_or("")
}
