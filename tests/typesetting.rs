//! What a reader of the PDF gets: text that copies and searches as it reads.

use std::path::{Path, PathBuf};
use std::process::Command;

use crate::support::{socle, stderr};

/// A package of an example job, and the folder that keeps it.
fn written(job: &str) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("package.pdf");
    let output = socle(&["package", &format!("fixtures/{job}"), "-o", &path.display().to_string()]);
    assert!(matches!(output.status.code(), Some(0 | 1)), "{}", stderr(&output));
    (folder, path)
}

/// The text of all pages in the order in which it is drawn, without spaces:
/// this reader sets one wherever a new run begins.
fn drawn(path: &Path) -> String {
    let pdf = lopdf::Document::load(path).expect("a PDF");
    let pages: Vec<u32> = pdf.get_pages().keys().copied().collect();
    let text = pdf.extract_text(&pages).expect("its text");
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

/// The same by a reader that goes by where letters stand, if one is installed.
fn seen(path: &Path) -> Option<String> {
    let output = Command::new("pdftotext").args([path.as_os_str(), "-".as_ref()]).output().ok()?;
    output.status.success().then(|| String::from_utf8(output.stdout).expect("text"))
}

/// Symbols are letters of a keyboard, a subscript follows its base at once, and
/// a banner is words: a search for `Fc` finds F with a c below.
#[test]
fn text_copies_as_it_reads() {
    let (_folder, path) = written("creek-porch");
    let mathematical =
        |text: &str| -> String { text.chars().filter(|c| ('\u{1D400}'..='\u{1D7FF}').contains(c)).collect() };
    let drawn = drawn(&path);
    assert_eq!(mathematical(&drawn), "", "letters that no keyboard has");
    assert!(drawn.contains("Fc⊥′=Fc⊥CMCtCiCb=375psi×1.0"), "an equation from left to right");
    for words in ["DEMONSTRATIONDATA", "FcE1", "le1", "θ"] {
        assert!(drawn.contains(words), "{words}");
    }
    let Some(seen) = seen(&path) else { return };
    assert_eq!(mathematical(&seen), "", "letters that no keyboard has");
    for words in ["DEMONSTRATION DATA", "Fc⊥", "Fc ", "FcE1", "le1", "Emin"] {
        assert!(seen.contains(words), "{words}");
    }
}
