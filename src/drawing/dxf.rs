//! A drawing as a DXF file, release 12, in text: the form that most programs for cutting
//! and drawing read. As large as the thing, in inches or millimetres.

use super::export::{Caption, Export};
use super::{Drawing, Shape};
use crate::quantity::Units;

/// The layers, their colours by number, and what is on them.
const LAYERS: [(&str, u8); 7] = [(OUTLINE, 7), (EDGES, 7), (THIN, 8), (HIDDEN, 8), (WORDS, 7), (FILLED, 7), (HOLD, 1)];

/// What is cut or seen, what is behind or beside, what explains: by the weight of a line.
const OUTLINE: &str = "OUTLINE";
const EDGES: &str = "EDGES";
const THIN: &str = "DIMENSIONS";
const HIDDEN: &str = "HIDDEN";
const WORDS: &str = "TEXT";
const FILLED: &str = "FILLED";
const HOLD: &str = "HOLD";

/// Capitals of a text over its size.
const CAPITALS: f64 = 0.66;

/// The file: each group is a code and a value, a line each.
pub fn dxf(drawing: &Drawing, caption: &Caption) -> String {
    let it = Export::new(drawing, caption);
    let mut file = File { it: &it, out: String::new() };
    file.head(caption);
    file.tables();
    file.words(0, &[(2, "ENTITIES")], "SECTION");
    for shape in &drawing.shapes {
        file.shape(shape);
    }
    for ([x, y], size, line) in it.foot() {
        file.text(WORDS, [x, it.size[1] - y], "start", size, 0.0, line);
    }
    if let Some(([x, y], size)) = it.hold() {
        file.text(HOLD, [x, it.size[1] - y], "middle", size, 30.0, Caption::HOLD);
    }
    file.words(0, &[], "ENDSEC");
    file.words(0, &[], "EOF");
    file.out
}

struct File<'a> {
    it: &'a Export<'a>,
    out: String,
}

impl File<'_> {
    fn group(&mut self, code: u16, value: &str) {
        self.out += &format!("{code:>3}\r\n{value}\r\n");
    }

    fn words(&mut self, code: u16, more: &[(u16, &str)], value: &str) {
        self.group(code, value);
        more.iter().for_each(|(code, value)| self.group(*code, value));
    }

    fn number(&mut self, code: u16, value: f64) {
        let text = format!("{value:.6}");
        let text = text.trim_end_matches('0');
        let text = if text.ends_with('.') { format!("{text}0") } else { text.into() };
        self.group(code, &text);
    }

    fn point(&mut self, code: u16, [x, y]: [f64; 2]) {
        self.number(code, x);
        self.number(code + 10, y);
        self.number(code + 20, 0.0);
    }

    fn head(&mut self, caption: &Caption) {
        for line in std::iter::once(&caption.title).chain(&caption.lines) {
            self.group(999, &plain(line));
        }
        self.words(0, &[(2, "HEADER"), (9, "$ACADVER"), (1, "AC1009")], "SECTION");
        let metric = caption.units == Units::Metric;
        self.words(9, &[(70, if metric { "4" } else { "1" })], "$INSUNITS");
        self.words(9, &[(70, if metric { "1" } else { "0" })], "$MEASUREMENT");
        self.group(9, "$EXTMIN");
        self.point(10, [0.0, 0.0]);
        self.group(9, "$EXTMAX");
        self.point(10, self.it.size);
        self.group(0, "ENDSEC");
    }

    fn tables(&mut self) {
        self.words(0, &[(2, "TABLES")], "SECTION");
        self.words(0, &[(2, "LTYPE"), (70, "2")], "TABLE");
        self.words(0, &[(2, "CONTINUOUS"), (70, "0"), (3, "Solid line"), (72, "65"), (73, "0"), (40, "0.0")], "LTYPE");
        let dash = self.it.long(3.0);
        self.words(0, &[(2, "DASHED"), (70, "0"), (3, "Dashed"), (72, "65"), (73, "2")], "LTYPE");
        self.number(40, 2.0 * dash);
        self.number(49, dash);
        self.number(49, -dash);
        self.group(0, "ENDTAB");
        self.words(0, &[(2, "LAYER"), (70, &LAYERS.len().to_string())], "TABLE");
        for (name, colour) in LAYERS {
            let line = if name == HIDDEN { "DASHED" } else { "CONTINUOUS" };
            self.words(0, &[(2, name), (70, "0"), (62, &colour.to_string()), (6, line)], "LAYER");
        }
        self.group(0, "ENDTAB");
        self.words(0, &[(2, "STYLE"), (70, "1")], "TABLE");
        self.words(0, &[(2, "STANDARD"), (70, "0"), (40, "0.0"), (41, "1.0"), (50, "0.0"), (71, "0")], "STYLE");
        self.number(42, self.it.long(8.0));
        self.words(3, &[(4, "")], "txt");
        self.group(0, "ENDTAB");
        self.group(0, "ENDSEC");
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Line { from, to, weight, dash } => {
                self.words(0, &[(8, if *dash { HIDDEN } else { layer(*weight) })], "LINE");
                self.point(10, self.it.up(*from));
                self.point(11, self.it.up(*to));
            }
            Shape::Rect { at: [x, y], size: [w, h], weight, filled } => {
                let corners = [[*x, *y], [x + w, *y], [x + w, y + h], [*x, y + h]];
                self.polygon(&corners, *weight, *filled);
            }
            Shape::Circle { at, radius, weight, filled } => {
                self.words(0, &[(8, if *filled { FILLED } else { layer(*weight) })], "CIRCLE");
                self.point(10, self.it.up(*at));
                self.number(40, self.it.long(*radius));
            }
            Shape::Polygon { points, weight, filled } => self.polygon(points, *weight, *filled),
            Shape::Text { at, anchor, size, text, .. } => {
                self.text(WORDS, self.it.up(*at), anchor, self.it.long(*size), 0.0, text);
            }
        }
    }

    fn polygon(&mut self, points: &[[f64; 2]], weight: f64, filled: bool) {
        if let (true, [a, b, c]) = (filled, points) {
            // Three corners: the last one is said twice.
            self.words(0, &[(8, FILLED)], "SOLID");
            for (at, corner) in [a, b, c, c].into_iter().enumerate() {
                self.point(10 + at as u16, self.it.up(*corner));
            }
            return;
        }
        let layer = if filled { FILLED } else { layer(weight) };
        self.words(0, &[(8, layer), (66, "1"), (70, "1")], "POLYLINE");
        for point in points {
            self.words(0, &[(8, layer)], "VERTEX");
            self.point(10, self.it.up(*point));
        }
        self.words(0, &[(8, layer)], "SEQEND");
    }

    fn text(&mut self, layer: &str, at: [f64; 2], anchor: &str, size: f64, turned: f64, text: &str) {
        self.words(0, &[(8, layer)], "TEXT");
        self.point(10, at);
        self.number(40, CAPITALS * size);
        self.group(1, &plain(text));
        if turned != 0.0 {
            self.number(50, turned);
        }
        let across = match anchor {
            "middle" => "1",
            "end" => "2",
            _ => return,
        };
        self.group(72, across);
        self.point(11, at);
    }
}

fn layer(weight: f64) -> &'static str {
    match weight {
        heavy if heavy > 0.7 => OUTLINE,
        medium if medium > 0.4 => EDGES,
        _ => THIN,
    }
}

/// A text in the letters that the form has; others by their numbers.
fn plain(text: &str) -> String {
    let letter = |letter: char| match letter {
        '″' | '“' | '”' => "\"".to_string(),
        '′' | '’' | '‘' => "'".into(),
        '×' => "x".into(),
        '−' | '–' | '—' => "-".into(),
        '°' => "%%d".into(),
        '±' => "%%p".into(),
        '⌀' | 'Ø' => "%%c".into(),
        '\u{a0}' | '\u{202f}' | '\n' | '\r' | '\t' => " ".into(),
        ' '..='~' => letter.to_string(),
        other => format!("\\U+{:04X}", u32::from(other)),
    };
    text.chars().map(letter).collect()
}
