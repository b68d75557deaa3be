//! A finished package as somebody has it on paper: which words stand where on which
//! sheet. Letters and their places come from one reader of PDF, links and tags can
//! be asked of another.

use std::path::{Path, PathBuf};

use hayro_interpret::font::Glyph;
use hayro_interpret::hayro_cmap::BfString;
use hayro_interpret::hayro_syntax::Pdf;
use hayro_interpret::{
    BlendMode, ClipPath, Context, Device, GlyphDrawMode, Image, InterpreterCache, InterpreterSettings, Paint,
    PathDrawMode, SoftMask, interpret_page,
};
use kurbo::{Affine, BezPath, Point, Rect, Shape};

use crate::support::{socle, stderr};

/// Letters that stand together, with the place of their baseline; y goes down.
#[derive(Clone, Debug)]
pub struct Word {
    pub text: String,
    pub end: f64,
    pub y: f64,
    /// The largest type in it.
    pub size: f64,
}

/// Header and footer end here on a page that is set close to them; others leave more.
const HEAD: f64 = 57.0;
const FOOT: f64 = 34.0;

pub struct Page {
    /// As it is printed at the foot: `sheet 7 of 46`.
    pub number: usize,
    pub of: usize,
    /// In the order in which they are drawn, header and footer among them.
    pub words: Vec<Word>,
    /// From the top to the foot of each line and shape.
    pub shapes: Vec<(f64, f64)>,
    pub height: f64,
}

pub struct Paper {
    pub path: PathBuf,
    pub pages: Vec<Page>,
    _folder: tempfile::TempDir,
}

impl Paper {
    /// The package of a job.
    pub fn of(job: &Path) -> Paper {
        Paper::with(job, &[] as &[&str])
    }

    /// The same with more that is said to the program.
    pub fn with<S: AsRef<std::ffi::OsStr>>(job: &Path, more: &[S]) -> Paper {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("package.pdf");
        let mut args = vec!["package".as_ref(), job.as_os_str(), "-o".as_ref(), path.as_os_str()];
        args.extend(more.iter().map(AsRef::as_ref));
        let output = socle(&args);
        assert!(matches!(output.status.code(), Some(0 | 1)), "{}", stderr(&output));
        let pages = pages(&path);
        Paper { path, pages, _folder: folder }
    }

    pub fn page(&self, number: usize) -> &Page {
        &self.pages[number - 1]
    }
}

impl Page {
    /// What the footer says of the sheet, between the names and the number.
    pub fn part(&self) -> String {
        let foot = self.foot();
        let after = foot.split("Checked by").nth(1).unwrap_or("");
        // Whoever checks it may be named before the part.
        let part = after.split("socle").next().unwrap_or("").split(", lines ").next().unwrap_or("").trim();
        part.strip_prefix("S. Second").unwrap_or(part).trim().to_string()
    }

    /// The first and last line of each chapter on the sheet, as its footer says them:
    /// `lines L.79 to L.89, R.1 to R.35`.
    pub fn range(&self) -> Vec<(String, String)> {
        let foot = self.foot();
        let named = foot.split(", lines ").nth(1).and_then(|after| after.split(" socle").next()).unwrap_or("");
        let named = named.split(", ").filter(|it| !it.is_empty());
        named
            .map(|it| it.split_once(" to ").unwrap_or((it, it)))
            .map(|(a, b)| (a.trim().into(), b.trim().into()))
            .collect()
    }

    fn foot(&self) -> String {
        let words = self.words.iter().filter(|word| word.y > self.height - FOOT);
        words.map(|word| word.text.as_str()).collect::<Vec<_>>().join(" ")
    }

    /// Between header and footer.
    pub fn body(&self) -> impl Iterator<Item = &Word> {
        self.words.iter().filter(|word| word.y > HEAD && word.y < self.height - FOOT)
    }
}

fn pages(path: &Path) -> Vec<Page> {
    let pdf = Pdf::new(std::fs::read(path).expect("the package")).expect("a PDF");
    let cache = InterpreterCache::new();
    let mut pages = Vec::new();
    for page in pdf.pages().iter() {
        let (width, height) = page.render_dimensions();
        let mut reader = Reader { height: f64::from(height), ..Reader::default() };
        let space = Rect::new(0.0, 0.0, f64::from(width), f64::from(height));
        let mut context = Context::new(Affine::IDENTITY, space, &cache, pdf.xref(), InterpreterSettings::default());
        interpret_page(page, &mut context, &mut reader);
        reader.close();
        let (words, shapes) = (reader.words, reader.shapes);
        let mut page = Page { number: 0, of: 0, words, shapes, height: f64::from(height) };
        let foot = page.foot();
        let numbers = foot.rsplit_once("sheet ").expect("a number at the foot").1;
        let (number, of) = numbers.split_once(" of ").expect("how many sheets there are");
        (page.number, page.of) = (number.trim().parse().expect("a number"), of.trim().parse().expect("a number"));
        pages.push(page);
    }
    pages
}

#[derive(Default)]
struct Reader {
    height: f64,
    words: Vec<Word>,
    word: Option<Word>,
    shapes: Vec<(f64, f64)>,
}

impl Reader {
    fn close(&mut self) {
        self.words.extend(self.word.take());
    }
}

impl Device<'_> for Reader {
    fn draw_glyph(
        &mut self,
        glyph: &Glyph<'_>,
        transform: Affine,
        glyph_transform: Affine,
        _: &Paint<'_>,
        _: &GlyphDrawMode,
    ) {
        let text = match glyph.as_unicode() {
            Some(BfString::Char(letter)) => letter.to_string(),
            Some(BfString::String(letters)) => letters,
            None => "\u{FFFD}".into(),
        };
        let at = transform * glyph_transform;
        let wide = match glyph {
            Glyph::Outline(outline) => f64::from(outline.advance_width().unwrap_or(0.0)),
            Glyph::Type3(_) => 0.0,
        };
        let (start, end) = (at * Point::ZERO, at * Point::new(wide, 0.0));
        let size = 1000.0 * at.determinant().abs().sqrt();
        let y = self.height - start.y;
        if text.chars().all(char::is_whitespace) {
            return self.close();
        }
        let follows = |word: &Word| {
            let gap = start.x - word.end;
            gap.abs() < 0.14 * size && (y - word.y).abs() < 0.6 * word.size.max(size)
        };
        match &mut self.word {
            Some(word) if follows(word) => {
                word.text.push_str(&text);
                word.end = end.x;
                word.size = word.size.max(size);
            }
            _ => {
                self.close();
                self.word = Some(Word { text, end: end.x, y, size });
            }
        }
    }

    fn draw_path(&mut self, path: &BezPath, transform: Affine, _: &Paint<'_>, _: &PathDrawMode) {
        let space = (transform * path.clone()).bounding_box();
        self.shapes.push((self.height - space.y1, self.height - space.y0));
    }

    fn set_soft_mask(&mut self, _: Option<SoftMask<'_>>) {}
    fn set_blend_mode(&mut self, _: BlendMode) {}
    fn push_clip_path(&mut self, _: &ClipPath) {}
    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'_>>, _: BlendMode) {}
    fn draw_image(&mut self, _: Image<'_, '_>, _: Affine) {}
    fn pop_clip_path(&mut self) {}
    fn pop_transparency_group(&mut self) {}
}
