//! A plain walk over the trees of sheets, as slow and as simple as can be: the
//! oracle for the compiled program. It shares the parser with the program and
//! nothing that works a value.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use socle::formula::{BinOp, Expr, Function, Kind, Node};
use socle::quantity::Unit;
use socle::sheet::{Input, Let, Library, Method, Must, OpenPlace, Sheet, Stmt, Take, Use};

#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// In base units.
    Number(f64),
    Name(String),
}

/// Why there is no value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum No {
    Missing,
    /// It belongs to the combinations of the other method.
    Elsewhere,
}

pub type Found = Result<Value, No>;

type Scope = BTreeMap<String, Found>;

/// A table as its CSV text says.
pub struct Table {
    columns: Vec<String>,
    rows: Vec<Vec<Cell>>,
}

enum Cell {
    Empty,
    Number(f64),
    Range(f64, f64),
    Name(String),
}

impl Table {
    pub fn read(text: &str) -> Table {
        let mut lines = text.lines().filter(|line| !line.starts_with('#'));
        let headings = lines.next().expect("a heading").split(',');
        let headings: Vec<(String, Unit)> = headings
            .map(|heading| match heading.split_once(" [") {
                Some((name, unit)) => (name.into(), Unit::parse(unit.trim_end_matches(']')).expect("a unit")),
                None => (heading.into(), Unit::none()),
            })
            .collect();
        let cell = |(text, (_, unit)): (&str, &(String, Unit))| {
            let number = |text: &str| text.parse::<f64>().ok().map(|value| unit.to_base(value));
            match text.split_once("..").and_then(|(low, high)| Some((number(low)?, number(high)?))) {
                Some((low, high)) => Cell::Range(low, high),
                None if text.is_empty() => Cell::Empty,
                None => number(text).map_or(Cell::Name(text.into()), Cell::Number),
            }
        };
        let rows = lines.map(|line| line.split(',').zip(&headings).map(cell).collect()).collect();
        Table { columns: headings.into_iter().map(|(name, _)| name).collect(), rows }
    }

    fn fits(cell: &Cell, key: &Value) -> bool {
        match (cell, key) {
            (Cell::Name(name), Value::Name(key)) => name.to_lowercase() == key.to_lowercase(),
            (Cell::Number(value), Value::Number(key)) => (value - key).abs() <= 1e-9 * key.abs(),
            (Cell::Range(low, high), Value::Number(key)) => {
                *low - 1e-9 * key.abs() <= *key && *key <= *high + 1e-9 * key.abs()
            }
            _ => false,
        }
    }

    /// The values of some columns in the row of the keys, or between two rows.
    fn find(&self, keys: &[(Value, bool)], wanted: &[&str]) -> Vec<Found> {
        let fits =
            |row: &&Vec<Cell>| keys.iter().zip(*row).all(|((key, between), cell)| *between || Table::fits(cell, key));
        let rows: Vec<&Vec<Cell>> = self.rows.iter().filter(fits).collect();
        let between = keys.iter().enumerate().find_map(|(at, (key, between))| match key {
            Value::Number(key) if *between => Some((at, *key)),
            _ => None,
        });
        let (low, high, share) = match between {
            None => match rows.first() {
                Some(row) => (*row, *row, None),
                None => return vec![Err(No::Missing); wanted.len()],
            },
            Some((at, key)) => {
                let at = |row: &&Vec<Cell>| match row[at] {
                    Cell::Number(value) => Some(value),
                    _ => None,
                };
                let mut points: Vec<(f64, &Vec<Cell>)> = rows.iter().filter_map(|row| Some((at(row)?, *row))).collect();
                points.sort_by(|a, b| a.0.total_cmp(&b.0));
                let slack = 1e-9 * key.abs();
                let low = points.iter().rev().find(|(value, _)| *value <= key + slack);
                let high = points.iter().find(|(value, _)| *value >= key - slack);
                let (Some((a, low)), Some((b, high))) = (low, high) else {
                    return vec![Err(No::Missing); wanted.len()];
                };
                if (b - a).abs() <= slack { (*high, *high, None) } else { (*low, *high, Some((key - a) / (b - a))) }
            }
        };
        let column = |name: &&str| self.columns.iter().position(|known| known == name).expect("a column");
        let value = |at: usize| match (&low[at], &high[at], share) {
            (Cell::Number(low), Cell::Number(high), Some(share)) => Ok(Value::Number(low + share * (high - low))),
            (Cell::Number(value), Cell::Number(_), None) => Ok(Value::Number(*value)),
            (Cell::Name(name), Cell::Name(_), _) => Ok(Value::Name(name.clone())),
            _ => Err(No::Missing),
        };
        wanted.iter().map(|name| value(column(name))).collect()
    }
}

/// What a limit came to: whether it is met, and its demand and capacity.
pub type Outcome = (bool, Option<[f64; 2]>);

pub struct Walk<'a> {
    pub library: &'a Library,
    pub tables: &'a BTreeMap<String, Table>,
    /// By `source.column`, or by the name of an input that has no file.
    pub facts: &'a BTreeMap<String, Value>,
    pub method: Method,
    /// Symbols by the path of their use and their name.
    pub values: BTreeMap<(String, String), Found>,
    /// The paths of the uses that were reached.
    pub reached: BTreeSet<String>,
    /// The paths of those that belong to the other method.
    pub elsewhere: BTreeSet<String>,
    pub outcomes: BTreeMap<(String, *const Must), Outcome>,
    /// A line that was reached lacks a value.
    pub faulty: bool,
    /// What a page binds is no symbol of the sheet.
    on_page: bool,
}

impl<'a> Walk<'a> {
    pub fn new(
        library: &'a Library,
        tables: &'a BTreeMap<String, Table>,
        facts: &'a BTreeMap<String, Value>,
        method: Method,
    ) -> Walk<'a> {
        let (values, reached, elsewhere, outcomes) = Default::default();
        Walk { library, tables, facts, method, values, reached, elsewhere, outcomes, faulty: false, on_page: false }
    }

    pub fn root(mut self, sheet: &Sheet) -> Walk<'a> {
        let own = sheet.inputs.iter().filter(|input| !self.of_a_file(input));
        let given = own.filter_map(|input| Some((input.name.clone(), Ok(self.facts.get(&input.name)?.clone()))));
        let given = given.collect();
        self.sheet(sheet, &sheet.name, given);
        self
    }

    fn of_a_file(&self, input: &Input) -> bool {
        input.from.as_ref().is_some_and(|from| !self.library.is_sheet(&from.source))
    }

    fn bind(&mut self, path: &str, name: &str, found: Found, scope: &mut Scope) {
        if found == Err(No::Missing) {
            self.faulty = true;
        }
        self.note(path, name, &found);
        scope.insert(name.into(), found);
    }

    fn note(&mut self, path: &str, name: &str, found: &Found) {
        if !self.on_page {
            self.values.insert((path.into(), name.into()), found.clone());
        }
    }

    /// A value that a line can not do without.
    fn need(&mut self, found: Found) -> Found {
        self.faulty |= found == Err(No::Missing);
        found
    }

    fn sheet(&mut self, sheet: &Sheet, path: &str, given: Scope) -> Scope {
        self.reached.insert(path.into());
        let mut scope = Scope::new();
        for input in &sheet.inputs {
            let of_file = || self.facts.get(&input.key()).filter(|_| self.of_a_file(input)).cloned();
            let default = || input.default.as_ref().map(|default| value(default, &Scope::new()));
            let found = given.get(&input.name).cloned().or_else(|| of_file().map(Ok)).or_else(default);
            let mut found = found.unwrap_or(Err(No::Missing));
            if let Ok(known) = &found
                && !within(input, known)
            {
                self.faulty = true;
                found = Err(No::Missing);
            }
            self.note(path, &input.name, &found);
            scope.insert(input.name.clone(), found);
        }
        self.body(&sheet.body, path, &mut scope);
        scope
    }

    fn body(&mut self, body: &[Stmt], path: &str, scope: &mut Scope) {
        for stmt in body {
            match stmt {
                Stmt::Heading(_)
                | Stmt::Prose(_)
                | Stmt::Note(_)
                | Stmt::Figure(_)
                | Stmt::Decide(_)
                | Stmt::Hand(_) => {}
                Stmt::Let(rule) => self.bind(path, &rule.name, let_(rule, scope), scope),
                Stmt::Take(rule) => self.take(rule, path, scope),
                Stmt::Use(rule) => self.use_(rule, path, scope),
                Stmt::Place(rule) => self.place(rule, path, scope),
                Stmt::When(rule) => match self.need(holds(&rule.condition, scope).map(truth)) {
                    Ok(Value::Number(1.0)) => self.body(&rule.body, path, scope),
                    Ok(_) => self.body(&rule.otherwise, path, scope),
                    Err(_) => {}
                },
                Stmt::Must(rule) => self.must(rule, path, scope),
                Stmt::Page(page) => {
                    let before = std::mem::replace(&mut self.on_page, true);
                    self.body(&page.body, path, &mut scope.clone());
                    self.on_page = before;
                }
                Stmt::Piece(piece) => {
                    for expr in std::iter::once(&piece.amount).chain(&piece.values) {
                        let _ = self.need(value(expr, scope));
                    }
                }
            }
        }
    }

    fn take(&mut self, rule: &Take, path: &str, scope: &mut Scope) {
        let keys: Result<Vec<(Value, bool)>, No> =
            rule.keys.iter().map(|(key, between)| Ok((value(key, scope)?, *between))).collect();
        let wanted: Vec<&str> = rule.names.iter().map(|(_, column, _)| column.as_str()).collect();
        let found = match keys {
            Ok(keys) => self.tables[&rule.table].find(&keys, &wanted),
            Err(no) => vec![Err(no); wanted.len()],
        };
        for ((name, ..), found) in rule.names.iter().zip(found) {
            self.bind(path, name, found, scope);
        }
    }

    /// The symbols of a sheet that is used; none if it is one of the other method.
    fn used(&mut self, rule: &Use, path: &str, scope: &Scope) -> Option<Scope> {
        let sheet = self.library.sheet(&rule.sheet).expect("a sheet").clone();
        let path = format!("{path}/{}", rule.name);
        if sheet.method.is_some_and(|method| !method.has(self.method)) {
            self.elsewhere.insert(path);
            return None;
        }
        let mut given = Scope::new();
        for (name, _, expr) in &rule.args {
            let found = self.need(value(expr, scope));
            given.insert(name.clone(), found);
        }
        Some(self.sheet(&sheet, &path, given))
    }

    fn use_(&mut self, rule: &Use, path: &str, scope: &mut Scope) {
        match self.used(rule, path, scope) {
            Some(symbols) => {
                let own = symbols.into_iter().filter(|(name, _)| !name.contains('.'));
                scope.extend(own.map(|(name, found)| (format!("{}.{name}", rule.name), found)));
            }
            None => drop(scope.insert(format!("{}.", rule.name), Err(No::Elsewhere))),
        }
    }

    fn place(&mut self, rule: &OpenPlace, path: &str, scope: &mut Scope) {
        let Ok(Value::Name(chosen)) = self.need(symbol(&rule.column, scope)) else { return };
        let Some((_, choice)) = rule.choices.iter().find(|(name, _)| *name == chosen) else { return };
        match self.used(choice, path, scope) {
            Some(symbols) => {
                for give in &rule.gives {
                    let found = symbols.get(&give.name).cloned().unwrap_or(Err(No::Missing));
                    scope.insert(format!("{}.{}", rule.name, give.name), found);
                }
            }
            None => drop(scope.insert(format!("{}.", rule.name), Err(No::Elsewhere))),
        }
    }

    fn must(&mut self, rule: &Arc<Must>, path: &str, scope: &Scope) {
        let Ok(Value::Number(ok)) = self.need(holds(&rule.condition, scope).map(truth)) else { return };
        let sides = match &rule.condition.node {
            Node::Binary(BinOp::Less | BinOp::LessEqual, a, b) if !rule.fit => Some([a, b]),
            Node::Binary(BinOp::Greater | BinOp::GreaterEqual, a, b) if !rule.fit => Some([b, a]),
            _ => None,
        };
        let sides = sides.map(|sides| sides.map(|side| number(side, scope).expect("it was compared")));
        self.outcomes.insert((path.into(), Arc::as_ptr(rule)), (ok == 1.0, sides));
    }
}

fn truth(holds: bool) -> Value {
    Value::Number(f64::from(u8::from(holds)))
}

fn within(input: &Input, known: &Value) -> bool {
    let Value::Number(known) = known else { return true };
    let inside = |(op, bound): &(BinOp, Expr)| {
        let bound = number(bound, &Scope::new()).expect("a bound is written out");
        compare(*op, *known, bound)
    };
    input.bounds.iter().all(inside) && (input.kind != Kind::Count || (known.fract() == 0.0 && *known >= 0.0))
}

fn compare(op: BinOp, a: f64, b: f64) -> bool {
    let near = (a - b).abs() <= 1e-9 * f64::max(a.abs(), b.abs());
    match op {
        BinOp::Less => a < b && !near,
        BinOp::LessEqual => a < b || near,
        BinOp::Greater => a > b && !near,
        BinOp::GreaterEqual => a > b || near,
        _ => unreachable!("`is` compares names"),
    }
}

fn let_(rule: &Let, scope: &Scope) -> Found {
    let mut taken = None;
    for case in &rule.cases {
        let holds = case.when.as_ref().map_or(Ok(true), |condition| holds(condition, scope))?;
        if holds {
            taken = Some(&case.value);
            break;
        }
    }
    let expr = taken.ok_or(No::Missing)?;
    let Some(raw) = &rule.raw else { return value(expr, scope) };
    let mut plain = scope.clone();
    for (name, _, unit) in &raw.symbols {
        let bare = symbol(name, scope).and_then(|value| match value {
            Value::Number(base) => finite(unit.from_base(base)),
            Value::Name(_) => unreachable!("a name has no unit"),
        });
        plain.insert(name.clone(), bare.map(Value::Number));
    }
    Ok(Value::Number(finite(raw.giving.to_base(number(expr, &plain)?))?))
}

fn symbol(name: &str, scope: &Scope) -> Found {
    let found = scope.get(name).cloned();
    let whole = || name.split_once('.').and_then(|(of, _)| scope.get(&format!("{of}.")).cloned());
    found.or_else(whole).unwrap_or(Err(No::Missing))
}

/// A formula that speaks of what belongs to the other method belongs there.
fn here(expr: &Expr, scope: &Scope) -> Result<(), No> {
    match expr.symbols().iter().any(|name| symbol(name, scope) == Err(No::Elsewhere)) {
        true => Err(No::Elsewhere),
        false => Ok(()),
    }
}

fn finite(value: f64) -> Result<f64, No> {
    if value.is_finite() { Ok(value) } else { Err(No::Missing) }
}

fn number(expr: &Expr, scope: &Scope) -> Result<f64, No> {
    match value(expr, scope)? {
        Value::Number(value) => Ok(value),
        Value::Name(_) => unreachable!("the check wants a quantity"),
    }
}

fn value(expr: &Expr, scope: &Scope) -> Found {
    here(expr, scope)?;
    let result = match &expr.node {
        Node::Number(value) => *value,
        Node::Literal { value, unit, .. } => unit.to_base(*value),
        Node::Text(name) => return Ok(Value::Name(name.clone())),
        Node::Symbol(name) => return symbol(name, scope),
        Node::Negate(inner) => -number(inner, scope)?,
        Node::Binary(op, left, right) => {
            let (a, b) = (number(left, scope)?, number(right, scope)?);
            match op {
                BinOp::Add => a + b,
                BinOp::Sub => a - b,
                BinOp::Mul => a * b,
                BinOp::Div if b == 0.0 => return Err(No::Missing),
                BinOp::Div => a / b,
                BinOp::Pow if a == 0.0 && b < 0.0 => return Err(No::Missing),
                BinOp::Pow if a < 0.0 && b.fract() != 0.0 => return Err(No::Missing),
                BinOp::Pow => libm::pow(a, b),
                _ => unreachable!("a condition is no value"),
            }
        }
        Node::Call(function, args) => {
            let args: Vec<f64> = args.iter().map(|arg| number(arg, scope)).collect::<Result<_, _>>()?;
            call(*function, &args)?
        }
        Node::Not(_) | Node::Given(_) => unreachable!("a condition is no value"),
    };
    Ok(Value::Number(finite(result)?))
}

fn call(function: Function, args: &[f64]) -> Result<f64, No> {
    let x = args[0];
    let step = args.get(1).copied().unwrap_or(f64::NAN);
    Ok(match function {
        Function::Sqrt if x < 0.0 => return Err(No::Missing),
        Function::Sqrt => libm::sqrt(x),
        Function::Abs => libm::fabs(x),
        Function::Sin => libm::sin(x),
        Function::Cos => libm::cos(x),
        Function::Tan => libm::tan(x),
        Function::Asin | Function::Acos if !(-1.0..=1.0).contains(&x) => return Err(No::Missing),
        Function::Asin => libm::asin(x),
        Function::Acos => libm::acos(x),
        Function::Atan => libm::atan(x),
        Function::Atan2 if x == 0.0 && step == 0.0 => return Err(No::Missing),
        Function::Atan2 => libm::atan2(x, step),
        Function::Exp => libm::exp(x),
        Function::Ln if x <= 0.0 => return Err(No::Missing),
        Function::Ln => libm::log(x),
        Function::Nearest | Function::Up | Function::Down if step <= 0.0 => return Err(No::Missing),
        Function::Nearest => libm::floor(x / step + 0.5) * step,
        Function::Up => libm::ceil(x / step - 1e-9) * step,
        Function::Down => libm::floor(x / step + 1e-9) * step,
        Function::Least => args.iter().copied().fold(f64::INFINITY, f64::min),
        Function::Greatest => args.iter().copied().fold(f64::NEG_INFINITY, f64::max),
    })
}

/// `and` and `or` ask the right side only where the left one leaves it open.
fn holds(expr: &Expr, scope: &Scope) -> Result<bool, No> {
    here(expr, scope)?;
    match &expr.node {
        Node::Not(inner) => Ok(!holds(inner, scope)?),
        Node::Given(inner) => Ok(inner.symbols().iter().all(|symbol| matches!(scope.get(*symbol), Some(Ok(_))))),
        Node::Binary(BinOp::And, left, right) => Ok(holds(left, scope)? && holds(right, scope)?),
        Node::Binary(BinOp::Or, left, right) => Ok(holds(left, scope)? || holds(right, scope)?),
        Node::Binary(op @ (BinOp::Is | BinOp::IsNot), left, right) => {
            let same = match (value(left, scope)?, value(right, scope)?) {
                (Value::Name(a), Value::Name(b)) => a.to_lowercase() == b.to_lowercase(),
                (a, b) => a == b,
            };
            Ok(same == (*op == BinOp::Is))
        }
        Node::Binary(op, left, right) => Ok(compare(*op, number(left, scope)?, number(right, scope)?)),
        _ => unreachable!("a value is no condition"),
    }
}
