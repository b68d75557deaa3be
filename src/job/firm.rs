//! `[firm]` of `job.toml`: whose calculations these are, for the title block, and its
//! logo. What is in the logo's file is looked at here: it must draw the same
//! everywhere, and nothing else of the machine may come in through it.

use std::collections::BTreeMap;
use std::path::{Component, Path};

use sha2::{Digest, Sha256};

use super::fact::{Fact, Facts};
use crate::diag::{Diagnostic, Diagnostics, Kind::Missing};

/// Letters and lines that a title block has room for.
const NAME: usize = 60;
const LINES: usize = 5;
const LICENCE: usize = 80;

/// Bytes of a logo; dots along a side of a PNG; shapes of an SVG, each copy counted.
pub const BYTES: usize = 2_000_000;
const DOTS: u32 = 6_000;
const SHAPES: usize = 50_000;
const DEPTH: usize = 100;

#[derive(Clone, Debug)]
pub struct Firm {
    pub name: String,
    pub address: Vec<String>,
    pub licence: String,
    /// The file that `job.toml` names.
    logo_named: Option<Fact>,
    pub logo: Option<Logo>,
}

#[derive(Clone, Debug)]
pub struct Logo {
    /// Its path in the folder of the job.
    pub file: String,
    pub svg: bool,
    pub bytes: Vec<u8>,
    /// Its width over its height.
    pub ratio: f64,
    /// Begins the SHA-256 of its bytes.
    pub digest: String,
}

impl Logo {
    /// Where the pages find it.
    pub fn virtual_path(&self) -> &'static str {
        if self.svg { "/firm/logo.svg" } else { "/firm/logo.png" }
    }
}

impl Firm {
    /// From the table of `job.toml`, as far as it can be read.
    pub(super) fn read(facts: &Facts) -> (Firm, Diagnostics) {
        let mut wrong = Diagnostics::new();
        let text = |key: &str| facts.get(key).map_or("", |fact| fact.text.trim());
        let mut short = |key: &str, text: &str, most: usize| {
            if text.chars().count() > most
                && let Some(fact) = facts.get(key)
            {
                let message = format!(
                    "`{key}` of `[firm]` has a line of {} characters; the title block has room for {most}",
                    text.chars().count()
                );
                wrong.push(Diagnostic::new(message).at(fact.place.clone()).hint("shorten it, or use more lines"));
            }
        };
        let lines = text("address").lines().map(str::trim).filter(|line| !line.is_empty());
        let address: Vec<String> = lines.map(String::from).collect();
        short("name", text("name"), NAME);
        address.iter().for_each(|line| short("address", line, NAME));
        short("licence", text("licence"), LICENCE);
        if let Some(fact) = facts.get("address").filter(|_| address.len() > LINES) {
            let message =
                format!("`address` of `[firm]` has {} lines; the title block has room for {LINES}", address.len());
            wrong.push(Diagnostic::new(message).at(fact.place.clone()));
        }
        let firm = Firm {
            name: text("name").into(),
            address,
            licence: text("licence").into(),
            logo_named: facts.get("logo").filter(|fact| !fact.text.trim().is_empty()).cloned(),
            logo: None,
        };
        (firm, wrong)
    }

    /// The file that `job.toml` names as the logo, by its path in the folder.
    ///
    /// # Errors
    /// It leads out of the folder.
    pub fn logo_path(&self) -> Result<Option<&str>, Diagnostic> {
        let Some(fact) = &self.logo_named else { return Ok(None) };
        let path = fact.text.trim();
        let inside = Path::new(path).components().all(|part| matches!(part, Component::Normal(_)));
        if !inside || path.contains(['\\', ':']) {
            return Err(self
                .logo_fault(format!("the logo `{path}` is not in the folder of the job"))
                .hint("copy it into the folder, beside `job.toml`, and give only its name: `logo = \"logo.svg\"`"));
        }
        Ok(Some(path))
    }

    /// Takes the bytes of the file that `job.toml` names as the logo. Its proportion is what
    /// `proportion` finds, which reads it as the pages will.
    ///
    /// # Errors
    /// They are no SVG or PNG that can be set on a page as it is.
    pub fn take_logo(
        &mut self,
        bytes: Vec<u8>,
        proportion: impl FnOnce(&[u8], bool) -> Result<f64, String>,
    ) -> Result<(), Diagnostic> {
        let Some(fact) = &self.logo_named else { return Ok(()) };
        let file = fact.text.trim().to_string();
        if bytes.len() > BYTES {
            let message = format!("the logo `{file}` has more than {} MB", BYTES / 1_000_000);
            return Err(self
                .logo_fault(message)
                .hint("save it smaller: a printed logo needs about 600 pixels across; or save it as SVG"));
        }
        let svg = match kind(&bytes) {
            Some(svg) => svg,
            None => {
                let message = format!("the logo `{file}` is neither an SVG nor a PNG, whatever its name says");
                return Err(self.logo_fault(message).hint("save it from the drawing program as SVG or PNG"));
            }
        };
        if let Err(what) = if svg { drawn_alike(&bytes) } else { few_dots(&bytes) } {
            return Err(self.logo_fault(format!("the logo `{file}` {}", what.0)).hint(what.1));
        }
        let ratio = proportion(&bytes, svg).map_err(|why| {
            let fault = self.logo_fault(format!("the logo `{file}` cannot be read: {why}"));
            fault.hint("save it again from the drawing program")
        })?;
        let digest = Sha256::digest(&bytes).iter().take(6).map(|byte| format!("{byte:02x}")).collect();
        self.logo = Some(Logo { file, svg, bytes, ratio, digest });
        Ok(())
    }

    /// A fault of the logo, where `job.toml` names it.
    pub fn logo_fault(&self, message: String) -> Diagnostic {
        let diagnostic = Diagnostic::new(message);
        match &self.logo_named {
            Some(fact) => diagnostic.at(fact.place.clone()),
            None => diagnostic,
        }
    }
}

/// What a firm without a name is told.
pub(super) fn nameless() -> Diagnostic {
    Diagnostic::new("`[firm]` has no `name`")
        .of(Missing, "name")
        .hint("the title block shows the name of the firm, such as `name = \"Ash and Oak Framing\"`")
}

/// Whether the bytes are an SVG, or a PNG; none if neither.
fn kind(bytes: &[u8]) -> Option<bool> {
    if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        return Some(false);
    }
    let text = std::str::from_utf8(bytes).ok()?;
    let options = roxmltree::ParsingOptions { allow_dtd: true, nodes_limit: SHAPES as u32, ..Default::default() };
    match roxmltree::Document::parse_with_options(text, options) {
        Ok(document) => (document.root_element().tag_name().name() == "svg").then_some(true),
        // One that is broken, or too long, is told so.
        Err(_) => text.contains("<svg").then_some(true),
    }
}

/// What is wrong, and what to do.
type Fault = (String, &'static str);

fn few_dots(bytes: &[u8]) -> Result<(), Fault> {
    let side = |at: usize| bytes.get(at..at + 4).map(|four| u32::from_be_bytes([four[0], four[1], four[2], four[3]]));
    match (side(16), side(20)) {
        (Some(width), Some(height)) if width.max(height) > DOTS => Err((
            format!("is {width} by {height} pixels; the most is {DOTS} along a side"),
            "save it smaller: a printed logo needs about 600 pixels across",
        )),
        (Some(_), Some(_)) => Ok(()),
        _ => Err(("is an incomplete PNG".into(), "save it again from the drawing program")),
    }
}

const PLAIN: &str = "save it as a plain SVG, with nothing linked and its text converted to paths; or as PNG";

/// An SVG that draws alike everywhere names no other file and no typeface.
fn drawn_alike(bytes: &[u8]) -> Result<(), Fault> {
    let text = String::from_utf8_lossy(bytes);
    if text.contains("<!ENTITY") {
        return Err(("defines entities, which a drawing does not need".into(), PLAIN));
    }
    let options = roxmltree::ParsingOptions { allow_dtd: true, nodes_limit: SHAPES as u32, ..Default::default() };
    let document = match roxmltree::Document::parse_with_options(&text, options) {
        Ok(document) => document,
        Err(roxmltree::Error::NodesLimitReached) => {
            return Err((format!("is made of more than {SHAPES} parts"), "save it as PNG"));
        }
        Err(error) => {
            return Err((format!("is an SVG that cannot be read: {error}"), "save it again from the drawing program"));
        }
    };
    for node in document.descendants().filter(roxmltree::Node::is_element) {
        let name = node.tag_name().name();
        let line = document.text_pos_at(node.range().start).row;
        let fault = |what: &str| Err((format!("{what}, in its line {line}"), PLAIN));
        match name {
            "text" | "tspan" | "textPath" => return fault("has text in a font that it does not embed"),
            "image" | "feImage" => return fault("has another picture in it"),
            "script" | "foreignObject" | "animate" | "animateTransform" | "animateMotion" | "set" => {
                return fault(&format!("has a `{name}` in it, which cannot be printed"));
            }
            _ => {}
        }
        if name == "style" && node.text().is_some_and(|css| names_a_file(css) || css.contains("@import")) {
            return fault("refers to another file");
        }
        for attribute in node.attributes() {
            let (key, value) = (attribute.name(), attribute.value().trim());
            // A link that can be clicked draws nothing.
            let linked = key == "href" && name != "a" && !value.starts_with('#');
            if linked || names_a_file(value) {
                return fault("refers to another file");
            }
        }
        if node.ancestors().count() > DEPTH {
            return fault("has groups nested too deep to draw");
        }
    }
    let ids: BTreeMap<&str, roxmltree::Node> =
        document.descendants().filter_map(|node| Some((node.attribute("id")?, node))).collect();
    let mut left = SHAPES;
    match drawn(document.root_element(), &ids, &mut left, 0) {
        true => Ok(()),
        false => Err((format!("draws its parts again and again, more than {SHAPES} in all"), "save it as PNG")),
    }
}

/// `url(…)` of anything but a part of the same drawing.
fn names_a_file(css: &str) -> bool {
    css.split("url(").skip(1).any(|rest| !rest.trim_start_matches([' ', '"', '\'']).starts_with('#'))
}

/// Counts what is drawn, with what `use` draws again; false when it is too much.
fn drawn(node: roxmltree::Node, ids: &BTreeMap<&str, roxmltree::Node>, left: &mut usize, depth: usize) -> bool {
    if *left == 0 || depth > 2 * DEPTH {
        return false;
    }
    *left -= 1;
    let again = node.attributes().find(|attribute| node.tag_name().name() == "use" && attribute.name() == "href");
    let again = again.and_then(|href| ids.get(href.value().trim().trim_start_matches('#')));
    again.is_none_or(|again| drawn(*again, ids, left, depth + 1))
        && node.children().filter(roxmltree::Node::is_element).all(|child| drawn(child, ids, left, depth + 1))
}
