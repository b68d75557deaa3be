//! Where an error can be planted in sheets and tables, and what it is. What only the pages for shop and site read is planted as
//! well; what is drawn is not.

use std::collections::BTreeSet;
use std::ops::Range;

use socle::formula::{BinOp, Expr, Kind, Node};
use socle::grid::Grid;
use socle::sheet::{Input, Sheet, Stmt};

/// An error in one file.
#[derive(Clone, Debug)]
pub struct Planted {
    /// Below `templates/`.
    pub path: String,
    /// The sheet or the table.
    pub name: String,
    pub kind: &'static str,
    /// Nothing but a page for the shop or the site reads it.
    pub page: bool,
    pub span: Range<usize>,
    /// The first of them that the language allows.
    pub now: Vec<String>,
}

impl Planted {
    pub fn text(&self, text: &str, now: &str) -> String {
        format!("{}{now}{}", &text[..self.span.start], &text[self.span.end..])
    }

    pub fn was<'a>(&self, text: &'a str) -> &'a str {
        &text[self.span.clone()]
    }

    /// The line that it stands in, with it.
    pub fn line(&self, text: &str, now: &str) -> String {
        let from = text[..self.span.start].rfind('\n').map_or(0, |at| at + 1);
        let to = text[self.span.end..].find('\n').map_or(text.len(), |at| at + self.span.end);
        let line = format!("{}{now}{}", &text[from..self.span.start], &text[self.span.end..to]);
        line.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}

/// All that can be planted in a sheet.
pub fn of_sheet(sheet: &Sheet, path: &str) -> Vec<Planted> {
    let mut sites = Sites { text: &sheet.source.text, path, name: &sheet.name, page: false, planted: Vec::new() };
    for input in sheet.inputs.iter().filter(|input| !input.passed_on) {
        sites.input(input);
    }
    sites.body(&sheet.body);
    let mut seen = BTreeSet::new();
    sites.planted.retain(|planted| seen.insert((planted.span.start, planted.span.end, planted.now.clone())));
    sites.planted
}

/// Every number of a table, a tenth larger. What says where a row is from is none.
pub fn of_table(grid: &Grid, text: &str, path: &str, name: &str) -> Vec<Planted> {
    let mut planted = Vec::new();
    for row in &grid.rows {
        for (column, cell) in grid.columns.iter().zip(row) {
            if ["source", "kind", "doubt"].contains(&column.name.as_str()) {
                continue;
            }
            let span = cell.span.clone();
            let Some(number) = text.get(span.clone()).and_then(number_at) else { continue };
            let now = vec![larger(&text[span.start..span.start + number])];
            planted.push(Planted {
                path: path.into(),
                name: name.into(),
                kind: "cell",
                page: false,
                span: span.start..span.start + number,
                now,
            });
        }
    }
    planted
}

struct Sites<'a> {
    text: &'a str,
    path: &'a str,
    name: &'a str,
    page: bool,
    planted: Vec<Planted>,
}

fn comparison(expr: &Expr) -> Option<(BinOp, &Expr, &Expr)> {
    match &expr.node {
        Node::Binary(op, a, b) if op.precedence() == BinOp::Is.precedence() => Some((*op, a, b)),
        _ => None,
    }
}

fn is_zero(expr: &Expr) -> bool {
    matches!(expr.node, Node::Number(0.0) | Node::Literal { value: 0.0, .. })
}

/// The same comparison with its edge in or out.
fn other_edge(op: BinOp) -> Option<&'static str> {
    match op {
        BinOp::Less => Some("<="),
        BinOp::LessEqual => Some("<"),
        BinOp::Greater => Some(">="),
        BinOp::GreaterEqual => Some(">"),
        _ => None,
    }
}

impl Sites<'_> {
    fn plant(&mut self, kind: &'static str, span: Range<usize>, now: impl Into<String>) {
        self.plant_one(kind, span, vec![now.into()]);
    }

    fn plant_one(&mut self, kind: &'static str, span: Range<usize>, now: Vec<String>) {
        self.planted.push(Planted { path: self.path.into(), name: self.name.into(), kind, page: self.page, span, now });
    }

    fn body(&mut self, body: &[Stmt]) {
        body.iter().for_each(|stmt| self.stmt(stmt));
    }

    fn stmt(&mut self, stmt: &Stmt) {
        match stmt {
            Stmt::Let(rule) => {
                let cases = || rule.cases.iter().flat_map(|case| [Some(&case.value), case.when.as_ref()]).flatten();
                self.group(cases());
                rule.cases.iter().filter_map(|case| case.when.as_ref()).for_each(|when| self.negated(when));
                for pair in rule.cases.windows(2) {
                    self.swapped(&pair[0].value, &pair[1].value);
                }
            }
            Stmt::Must(rule) => {
                self.group([&rule.condition]);
                if comparison(&rule.condition).is_none() {
                    self.negated(&rule.condition);
                }
            }
            Stmt::When(when) => {
                self.group([&when.condition]);
                self.negated(&when.condition);
                self.body(&when.body);
                self.body(&when.otherwise);
            }
            Stmt::Page(page) => self.page(|sites| sites.body(&page.body)),
            Stmt::Take(take) => self.group(take.keys.iter().map(|(key, _)| key)),
            Stmt::Use(rule) => self.group(rule.args.iter().map(|(_, _, value)| value)),
            Stmt::Place(place) => self.group(place.args.iter().map(|(_, _, value)| value)),
            Stmt::Piece(piece) => self.page(|sites| sites.group([&piece.amount].into_iter().chain(&piece.values))),
            Stmt::Figure(_) | Stmt::Heading(_) | Stmt::Prose(_) | Stmt::Note(_) | Stmt::Decide(_) | Stmt::Hand(_) => {}
        }
    }

    /// What a page alone reads.
    fn page(&mut self, plant: impl FnOnce(&mut Self)) {
        let within = std::mem::replace(&mut self.page, true);
        plant(self);
        self.page = within;
    }

    fn input(&mut self, input: &Input) {
        for (op, value) in &input.bounds {
            self.bound(*op, value);
        }
        let Some(default) = &input.default else { return };
        self.numbers("default", default);
        if let (Kind::Choice(names), Node::Text(name) | Node::Symbol(name)) = (&input.kind, &default.node)
            && let Some(at) = names.iter().position(|known| known == name)
        {
            let other = &names[(at + 1) % names.len()];
            self.plant("default", default.span.clone(), format!("\"{other}\""));
        }
    }

    fn bound(&mut self, op: BinOp, value: &Expr) {
        if !is_zero(value) {
            return self.numbers("bound", value);
        }
        // By how much it would be moved is nothing that a sheet says.
        let before = self.text[..value.span.start].trim_end();
        let span = before.len() - op.text().len()..before.len();
        if let Some(now) = other_edge(op)
            && &self.text[span.clone()] == op.text()
        {
            self.plant("bound", span, now);
        }
    }

    /// What belongs together: a symbol is taken for another one of the same group.
    fn group<'a>(&mut self, exprs: impl IntoIterator<Item = &'a Expr>) {
        let mut symbols: Vec<(&str, Range<usize>)> = Vec::new();
        for expr in exprs {
            self.numbers("constant", expr);
            expr.walk(&mut |part| match &part.node {
                Node::Symbol(name) => symbols.push((name, part.span.clone())),
                Node::Binary(op, a, b) => {
                    self.operator(*op, a, b);
                    // Where nothing is the edge, it is moved by leaving it out or in.
                    if (is_zero(a) || is_zero(b))
                        && let Some(now) = other_edge(*op)
                    {
                        self.sign("boundary", *op, a, b, now);
                    }
                }
                Node::Call(..) => self.function(part),
                _ => {}
            });
        }
        let names: BTreeSet<&str> = symbols.iter().map(|(name, _)| *name).collect();
        let names: Vec<&str> = names.into_iter().collect();
        for (name, span) in &symbols {
            if self.text.get(span.clone()) != Some(name) {
                continue;
            }
            let at = names.iter().position(|known| known == name).expect("it is among them");
            let others: Vec<String> = (1..names.len()).map(|step| names[(at + step) % names.len()].into()).collect();
            if !others.is_empty() {
                self.plant_one("symbol", span.clone(), others);
            }
        }
    }

    fn numbers(&mut self, kind: &'static str, expr: &Expr) {
        let mut edges = BTreeSet::new();
        expr.walk(&mut |part| {
            if let Node::Binary(op, a, b) = &part.node
                && other_edge(*op).is_some()
            {
                edges.extend([a, b].into_iter().filter(|side| is_zero(side)).map(|side| side.span.start));
            }
        });
        expr.walk(&mut |part| {
            if let Node::Number(_) | Node::Literal { .. } = part.node
                && !edges.contains(&part.span.start)
                && let Some(length) = number_at(&self.text[part.span.clone()])
            {
                let span = part.span.start..part.span.start + length;
                let now = larger(&self.text[span.clone()]);
                self.plant(kind, span, now);
            }
        });
    }

    fn operator(&mut self, op: BinOp, a: &Expr, b: &Expr) {
        let (kind, now) = match op {
            BinOp::Or => ("branch", "and"),
            BinOp::And => ("branch", "or"),
            BinOp::Is => ("comparison", "is not"),
            BinOp::IsNot => ("comparison", "is"),
            BinOp::Less => ("comparison", ">"),
            BinOp::LessEqual => ("comparison", ">="),
            BinOp::Greater => ("comparison", "<"),
            BinOp::GreaterEqual => ("comparison", "<="),
            BinOp::Add => ("operator", "-"),
            BinOp::Sub => ("operator", "+"),
            BinOp::Mul => ("operator", "/"),
            BinOp::Div => ("operator", "*"),
            BinOp::Pow => return,
        };
        self.sign(kind, op, a, b, now);
    }

    /// Another sign between two sides.
    fn sign(&mut self, kind: &'static str, op: BinOp, a: &Expr, b: &Expr, now: &str) {
        let Some(at) = self.text[a.span.end..b.span.start].find(op.text()) else { return };
        let at = a.span.end + at;
        self.plant(kind, at..at + op.text().len(), now);
    }

    fn function(&mut self, call: &Expr) {
        let text = &self.text[call.span.clone()];
        let Some((name, _)) = text.split_once('(') else { return };
        let other = match name.trim() {
            "least" => "greatest",
            "greatest" => "least",
            "up" => "down",
            "down" => "up",
            "nearest" => "up",
            "sin" => "cos",
            "cos" => "sin",
            "tan" => "sin",
            _ => return,
        };
        self.plant("function", call.span.start..call.span.start + name.len(), other);
    }

    fn negated(&mut self, condition: &Expr) {
        // A comparison is turned round already.
        if comparison(condition).is_none() {
            let text = format!("not ({})", &self.text[condition.span.clone()]);
            self.plant("branch", condition.span.clone(), text);
        }
    }

    fn swapped(&mut self, a: &Expr, b: &Expr) {
        let between = &self.text[a.span.end..b.span.start];
        let now = format!("{}{between}{}", &self.text[b.span.clone()], &self.text[a.span.clone()]);
        self.plant("branch", a.span.start..b.span.end, now);
    }
}

/// How long the number is that a text begins with.
fn number_at(text: &str) -> Option<usize> {
    let digits = text.len() - text.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.').len();
    let number = &text[..digits];
    number.parse::<f64>().ok().map(|_| digits)
}

/// A tenth more, or ten instead of nothing. What is counted is one more.
fn larger(number: &str) -> String {
    let value: f64 = number.parse().expect("a number");
    match value {
        0.0 => "10".into(),
        _ if value.fract() == 0.0 && value < 10.0 && !number.contains('.') => format!("{}", value + 1.0),
        _ => format!("{}", (value * 1.1 * 1e9).round() / 1e9),
    }
}
