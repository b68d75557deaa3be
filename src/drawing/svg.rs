//! A drawing as an SVG file of its own, as large as the thing: an inch or a millimetre of
//! the file is one of wood, steel or concrete.

use super::export::{Caption, Export};
use super::{Drawing, Shape};

/// The file. Lines and letters are as wide, beside the thing, as on the sheet.
pub fn svg(drawing: &Drawing, caption: &Caption) -> String {
    let it = Export::new(drawing, caption);
    let unit = it.unit();
    let n = |value: f64| it.number(value);
    let [width, height] = it.size;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}{unit}\" height=\"{h}{unit}\" viewBox=\"0 0 {w} {h}\" role=\"img\">\n",
        w = n(width),
        h = n(height),
    );
    out += &format!("<title>{}</title>\n<desc>{}</desc>\n", escaped(&caption.title), escaped(&drawing.alt));
    out += "<rect width=\"100%\" height=\"100%\" fill=\"white\"/>\n";
    if let Some(([x, y], size)) = it.hold() {
        out += &format!(
            "<text class=\"hold\" x=\"{x}\" y=\"{y}\" font-family=\"serif\" font-weight=\"bold\" font-size=\"{s}\" fill=\"#c8c8c8\" \
             text-anchor=\"middle\" transform=\"rotate(-30 {x} {y})\">{}</text>\n",
            Caption::HOLD,
            x = n(x),
            y = n(y),
            s = n(size),
        );
    }
    out += "<g stroke=\"black\" fill=\"none\" stroke-linecap=\"butt\">\n";
    let ink = |weight: f64, filled: bool| {
        let fill = if filled { " fill=\"black\"" } else { "" };
        let stroke =
            if weight > 0.0 { format!(" stroke-width=\"{}\"", n(it.long(weight))) } else { " stroke=\"none\"".into() };
        format!("{stroke}{fill}")
    };
    for shape in &drawing.shapes {
        out += &match shape {
            Shape::Line { from, to, weight, dash } => {
                let ([a, b], [c, d]) = (it.down(*from), it.down(*to));
                let dashes = if *dash { format!(" stroke-dasharray=\"{}\"", n(it.long(3.0))) } else { String::new() };
                let (a, b, c, d) = (n(a), n(b), n(c), n(d));
                format!("<line x1=\"{a}\" y1=\"{b}\" x2=\"{c}\" y2=\"{d}\"{}{dashes}/>\n", ink(*weight, false))
            }
            Shape::Rect { at, size, weight, filled } => {
                let ([x, y], [w, h]) = (it.down(*at), size.map(|side| it.long(side)));
                let (x, y, w, h) = (n(x), n(y), n(w), n(h));
                format!("<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\"{}/>\n", ink(*weight, *filled))
            }
            Shape::Circle { at, radius, weight, filled } => {
                let [x, y] = it.down(*at);
                let (x, y, r) = (n(x), n(y), n(it.long(*radius)));
                format!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\"{}/>\n", ink(*weight, *filled))
            }
            Shape::Polygon { points, weight, filled } => {
                let points = points.iter().map(|point| it.down(*point)).map(|[x, y]| format!("{},{}", n(x), n(y)));
                let points: Vec<String> = points.collect();
                format!("<polygon points=\"{}\"{}/>\n", points.join(" "), ink(*weight, *filled))
            }
            Shape::Text { at, anchor, size, bold, text } => {
                words(&it, it.down(*at), anchor, it.long(*size), *bold, text)
            }
        };
    }
    out += "</g>\n";
    for (at, size, line) in it.foot() {
        out += &words(&it, at, "start", size, false, line);
    }
    out + "</svg>\n"
}

fn words(it: &Export, [x, y]: [f64; 2], anchor: &str, size: f64, bold: bool, text: &str) -> String {
    let weight = if bold { " font-weight=\"bold\"" } else { "" };
    let (x, y, size) = (it.number(x), it.number(y), it.number(size));
    format!(
        "<text x=\"{x}\" y=\"{y}\" font-family=\"serif\" font-size=\"{size}\" text-anchor=\"{anchor}\"{weight} stroke=\"none\" fill=\"black\">{}</text>\n",
        escaped(text)
    )
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
