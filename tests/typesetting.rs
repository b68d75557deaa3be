//! What a reader of the PDF gets: text that copies and searches as it reads,
//! bookmarks and page labels; and the widths by which lines are laid out.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::{Value, json};
use socle::command::{Sources, sources};
use socle::formula::Parser;
use socle::pdf;
use socle::source::Source;
use socle::typeset::{Face, Stand, advance, symbol, symbolic_inline};
use typst::layout::Abs;
use typst::text::{FontInstance, FontStretch, FontStyle, FontVariant, FontWeight};
use typst_kit::fonts::{FontStore, embedded};

use crate::support::{JOBS, root, socle, stderr};

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
fn drawn(pdf: &lopdf::Document) -> String {
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
/// a banner is words: a search for `Fc` finds F with a c below. Each sheet that is
/// worked has a bookmark, and each page its number.
#[test]
fn text_copies_as_it_reads() {
    assert_eq!(symbol("theta_1").src, "attach(it(θ), b: \"1\")");
    let (_folder, path) = written("creek-porch");
    let pdf = lopdf::Document::load(&path).expect("a PDF");
    let mathematical =
        |text: &str| -> String { text.chars().filter(|c| ('\u{1D400}'..='\u{1D7FF}').contains(c)).collect() };
    let drawn = drawn(&pdf);
    assert_eq!(mathematical(&drawn), "", "letters that no keyboard has");
    // A number that is copied with a sign that nobody sees is none to whatever reads it next.
    let unseen = |text: &str| text.contains(|c: char| ('\u{200b}'..='\u{200f}').contains(&c) || c == '\u{2060}');
    assert!(!unseen(&drawn), "signs that nobody sees");
    for words in ["DEMONSTRATIONDATA", "Fc⊥′=Fc⊥", "le1"] {
        assert!(drawn.contains(words), "{words}");
    }
    let (_folder, path) = written("orchard-pergola");
    let drawn = self::drawn(&lopdf::Document::load(&path).expect("a PDF"));
    assert!(drawn.contains("γc") && drawn.contains("Fc⊥"), "Greek letters, and those with what stands below");
    assert!(drawn.contains("Hx²+Hy²"), "squares below a root");
    assert!(!unseen(&drawn), "signs that nobody sees");
    let outline = pdf.get_toc().expect("bookmarks");
    let marked: BTreeSet<&str> = outline.toc.iter().map(|entry| entry.title.trim()).collect();
    for title in ["Loads", "Schedules", "Appendix", "A base against its evaluation report"] {
        assert!(marked.contains(title), "{title}: {marked:#?}");
    }
    assert!(pdf.catalog().expect("a catalog").has(b"PageLabels"), "pages have their numbers");
    let Some(seen) = seen(&path) else { return };
    assert_eq!(mathematical(&seen), "", "letters that no keyboard has");
    for words in ["DEMONSTRATION DATA", "Fc⊥", "Fc ", "le1", "Emin"] {
        assert!(seen.contains(words), "{words}");
    }
}

/// What is raised in a line of words: as a character of its own where there is one, so
/// that 115² is not copied as 1152. What is no number is an equation.
#[test]
fn exponents_stand_in_the_line() {
    for (formula, printed) in [
        ("b * d^3", Some("[b] [d]³")),
        ("(7.5 in * d_1)^2", Some("(7.5 in [d]_1)²")),
        ("F_c_perp' * C_star", Some("[F]_[c]_⊥′ [C]*")),
        ("l_c^1.5 + 2 * l^-1", Some("[l]_[c]^1.5 + 2 [l]^−1")),
        ("(z / h)^(2/9.5)", Some("([z] / [h])^2/9.5")),
        ("sin(30 deg)^2", Some("sin (30°)²")),
        ("least(d, 2, 3 in)", Some("least ([d], 2, 3 in)")),
        ("2^n", None),
        ("z^(2/alpha)", None),
        ("sqrt(d)^2", None),
    ] {
        let source = Source::new("a formula", formula);
        let expr = Parser::new(&source, 0..formula.len()).and_then(|mut parser| parser.parse_expr());
        let math = symbolic_inline(&expr.unwrap_or_else(|_| panic!("{formula} is a formula")));
        let marked = |(text, stand): &(String, Stand)| match stand {
            Stand::Upright => text.replace('\u{a0}', " "),
            Stand::Italic => format!("[{text}]"),
            Stand::Below => format!("_{text}"),
            Stand::BelowItalic => format!("_[{text}]"),
            Stand::Above => format!("^{text}"),
        };
        let words: Option<String> = math.runs.as_ref().map(|runs| runs.iter().map(marked).collect());
        assert_eq!(words.as_deref(), printed, "{formula}");
    }
}

/// In an equation too, but for what is raised behind a bracket of more than one line.
#[test]
fn squares_stand_in_an_equation() {
    for (formula, source) in [
        ("sqrt(H_x^2 + h^3)", "sqrt(attach(it(H), b: it(x))² + it(h)³)"),
        ("sqrt(abs(h)^2)", "sqrt(abs(it(h))²)"),
        ("sqrt(h)^2", "attach(sqrt(it(h)), t: \"2\")"),
        ("h^n", "attach(it(h), t: it(n))"),
        ("sqrt(F_c')", "sqrt(attach(it(F), b: it(c)) attach(\"\", t: ′))"),
    ] {
        let text = Source::new("a formula", formula);
        let expr = Parser::new(&text, 0..formula.len()).and_then(|mut parser| parser.parse_expr());
        let math = symbolic_inline(&expr.unwrap_or_else(|_| panic!("{formula} is a formula")));
        assert_eq!(math.src, source, "{formula}");
    }
}

/// The formulas of a package, each with what a screen reader says.
fn formulas(sources: &Sources) -> BTreeMap<String, Value> {
    fn walk(value: &Value, found: &mut BTreeMap<String, Value>) {
        match value {
            Value::Object(fields) => {
                if let (Some(src), Some(_)) = (fields.get("src"), fields.get("alt")) {
                    found.insert(src.as_str().expect("a text").to_string(), value.clone());
                }
                fields.values().for_each(|value| walk(value, found));
            }
            Value::Array(items) => items.iter().for_each(|value| walk(value, found)),
            _ => {}
        }
    }
    let mut found = BTreeMap::new();
    for (path, bytes) in sources.files.iter().filter(|(path, _)| path.ends_with(".json")) {
        walk(&serde_json::from_slice(bytes).unwrap_or_else(|error| panic!("{path}: {error}")), &mut found);
    }
    found
}

fn packages() -> impl Iterator<Item = Sources> {
    JOBS.iter().map(|job| {
        let sources = sources(&root().join("fixtures").join(job), None, false);
        sources.unwrap_or_else(|_| panic!("{job} works out"))
    })
}

/// Fails where a formula is wider than it is taken to be, or much narrower.
const MEASURE: &str = r#"
#import "/templates/package/page.typ": document-style
#import "/templates/package/parts.typ": chain
#set document(title: "Widths of formulas")
#show: document-style
#for it in json("/formulas.json") {
  context {
    let measured = measure(chain((it,))).width / 1em.to-absolute()
    assert(measured <= it.width * 1.01 + 0.01, message: "wider than " + str(it.width) + ": " + str(measured) + " " + it.src)
    // Words take less than an equation of them would.
    let most = if "runs" in it { 1.3 } else { 1.2 }
    assert(it.width <= measured * most + 1, message: "narrower than " + str(it.width) + ": " + str(measured) + " " + it.src)
  }
}
"#;

/// The width that a formula is taken to have is what the typesetter measures, for
/// all formulas of the example jobs.
#[test]
fn formulas_are_as_wide_as_they_are_taken_to_be() {
    for sources in packages() {
        let list: Vec<Value> = formulas(&sources)
            .iter()
            .flat_map(|(src, formula)| {
                // As it is printed, and as an equation.
                let mut printed = formula.clone();
                let width = formula["width"].as_f64().expect("a width");
                printed["width"] = json!(width * formula["scale"].as_f64().unwrap_or(1.0));
                let equation = json!({ "src": src, "alt": formula["alt"], "width": width });
                [printed, equation]
            })
            .collect();
        assert!(list.len() > 100, "{}", list.len());
        let mut files = sources.files;
        files.insert("/formulas.json".into(), serde_json::to_vec(&list).expect("JSON"));
        files.insert("/widths.typ".into(), MEASURE.into());
        let rendered = pdf::render(pdf::Document { files, main: "/widths.typ", date: sources.date, ident: "widths" });
        if let Err(said) = rendered {
            panic!("{said:#?}");
        }
    }
}

/// The table of advances is that of the fonts.
#[test]
fn advances_are_those_of_the_fonts() {
    let mut fonts = FontStore::new();
    fonts.extend(embedded());
    let face = |style, weight| -> FontInstance {
        let variant = FontVariant::new(style, FontWeight::from_number(weight), FontStretch::NORMAL);
        let id = fonts.book().select("libertinus serif", variant).expect("the face of the text");
        fonts.font(id).expect("a font").instantiate(variant, Abs::pt(10.0), &Default::default())
    };
    for (face, font) in [
        (Face::Regular, face(FontStyle::Normal, 400)),
        (Face::Italic, face(FontStyle::Italic, 400)),
        (Face::Bold, face(FontStyle::Normal, 700)),
    ] {
        let of_font = |c: char| {
            let glyph = font.ttf().glyph_index(c)?;
            Some(f64::from(font.ttf().glyph_hor_advance(glyph)?) / font.units_per_em())
        };
        for c in ' '..='~' {
            let wanted = of_font(c).expect("a letter");
            assert!((advance(c, face) - wanted).abs() < 6e-4, "{face:?} {c}: {} and {wanted}", advance(c, face));
        }
        // Some come from another face; none is narrower than it is.
        for c in "αβγδεηθκλμνξπρστφψωΓΔΘΛΣΦΨΩ°²³⁴½¼¾⅛⅜⅝⅞–".chars() {
            let Some(wanted) = of_font(c) else { continue };
            assert!(advance(c, face) > wanted - 6e-4, "{face:?} {c}: {} and {wanted}", advance(c, face));
        }
    }
}

/// Numbers show more than five digits only where the printed result needs them.
#[test]
fn numbers_do_not_run_away() {
    for sources in packages() {
        let (mut all, mut long) = (0, Vec::new());
        let formulas = formulas(&sources);
        for src in formulas.keys() {
            for text in src.split('"').skip(1).step_by(2) {
                let number = text.replace([',', '−'], "");
                if number.is_empty() || !number.chars().all(|c| c.is_ascii_digit() || c == '.') {
                    continue;
                }
                all += 1;
                let digits = number.replace('.', "");
                let shown = digits.trim_start_matches('0').trim_end_matches('0').len();
                assert!(shown <= 10, "{text} in {src}");
                // A row of equal decimals is a fraction of feet or inches.
                if shown > 5 {
                    long.push(text);
                    assert!(!digits.contains("33333") && !digits.contains("66666"), "{text} in {src}");
                }
            }
        }
        assert!(long.len() * 25 < all, "{} of {all} numbers are long: {long:?}", long.len());
    }
}
