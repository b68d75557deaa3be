//! A plain walk over the trees of sheets, as slow and as simple as can be: the
//! oracle for the compiled program. It shares the parser with the program and
//! nothing that works a value. The numbers that it works with are doubles, or
//! numbers of many more digits.

mod double;
mod precise;
mod table;

use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Debug;
use std::sync::Arc;

use socle::formula::{BinOp, Expr, Function, Kind, Node};
use socle::quantity::Unit;
use socle::sheet::{Input, Let, Library, Method, Must, OpenPlace, Sheet, Stmt, Take, Use};

pub use precise::{Big, Precise, decimal, factor, unsure};
pub use table::Table;

/// What a walk works with.
pub trait Number: Clone + Debug {
    /// Just this number.
    fn exact(number: f64) -> Self;
    /// So many of a unit, as it is written in a sheet or a table.
    fn written(number: f64, unit: &Unit) -> Self;
    /// How many of a unit it is.
    fn bare(&self, unit: &Unit) -> Option<Self>;
    /// So many of a unit.
    fn of(&self, unit: &Unit) -> Option<Self>;
    fn negated(&self) -> Self;
    /// `+ - * / ^`.
    fn arithmetic(op: BinOp, a: &Self, b: &Self) -> Option<Self>;
    fn call(function: Function, args: &[Self]) -> Option<Self>;
    /// Equal if they differ by no more than 1e-9 of the larger one.
    fn compare(&self, other: &Self) -> Ordering;
    /// Equal if they differ by no more than 1e-9 of the key.
    fn beside(&self, key: &Self) -> Ordering;
    fn is_count(&self) -> bool;
}

#[derive(Clone, Debug, PartialEq)]
pub enum Value<N> {
    /// In base units.
    Number(N),
    Name(String),
    /// As it is written: the year first.
    Date(String),
}

/// Why there is no value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum No {
    Missing,
    /// It belongs to the combinations of the other method.
    Elsewhere,
}

pub type Found<N> = Result<Value<N>, No>;

pub type Scope<N> = BTreeMap<String, Found<N>>;

/// What a limit came to: whether it is met, and its demand and capacity.
pub type Outcome<N> = (bool, Option<[N; 2]>);

pub struct Walk<'a, N> {
    pub library: &'a Library,
    pub tables: &'a BTreeMap<String, Table<N>>,
    /// By `source.column`, or by the name of an input that has no file.
    pub facts: &'a BTreeMap<String, Value<N>>,
    pub method: Method,
    /// Symbols by the path of their use and their name.
    pub values: BTreeMap<(String, String), Found<N>>,
    /// Those that are bound for a page alone.
    pub on_page: BTreeSet<(String, String)>,
    /// The paths of the uses that were reached.
    pub reached: BTreeSet<String>,
    /// The paths of those that belong to the other method.
    pub elsewhere: BTreeSet<String>,
    pub outcomes: BTreeMap<(String, *const Must), Outcome<N>>,
    /// A line that was reached lacks a value.
    pub faulty: bool,
    is_page: bool,
}

impl<'a, N: Number> Walk<'a, N> {
    pub fn new(
        library: &'a Library,
        tables: &'a BTreeMap<String, Table<N>>,
        facts: &'a BTreeMap<String, Value<N>>,
        method: Method,
    ) -> Walk<'a, N> {
        let (values, on_page, reached, elsewhere, outcomes) = Default::default();
        let (faulty, is_page) = (false, false);
        Walk { library, tables, facts, method, values, on_page, reached, elsewhere, outcomes, faulty, is_page }
    }

    pub fn root(mut self, sheet: &Sheet) -> Walk<'a, N> {
        let own = sheet.inputs.iter().filter(|input| !self.of_a_file(input));
        let given = own.filter_map(|input| Some((input.name.clone(), Ok(self.facts.get(&input.name)?.clone()))));
        let given = given.collect();
        self.sheet(sheet, &sheet.name, given);
        self
    }

    fn of_a_file(&self, input: &Input) -> bool {
        input.from.as_ref().is_some_and(|from| !self.library.is_sheet(&from.source))
    }

    fn bind(&mut self, path: &str, name: &str, found: Found<N>, scope: &mut Scope<N>) {
        let found = self.need(found);
        self.note(path, name, &found);
        scope.insert(name.into(), found);
    }

    fn note(&mut self, path: &str, name: &str, found: &Found<N>) {
        let key = (path.to_string(), name.to_string());
        if self.is_page {
            self.on_page.insert(key.clone());
        }
        self.values.insert(key, found.clone());
    }

    /// A value that a line can not do without.
    fn need<T>(&mut self, found: Result<T, No>) -> Result<T, No> {
        self.faulty |= matches!(found, Err(No::Missing));
        found
    }

    fn sheet(&mut self, sheet: &Sheet, path: &str, given: Scope<N>) -> Scope<N> {
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

    fn body(&mut self, body: &[Stmt], path: &str, scope: &mut Scope<N>) {
        for stmt in body {
            match stmt {
                Stmt::Heading(_) | Stmt::Prose(_) | Stmt::Note(_) | Stmt::Decide(_) | Stmt::Hand(_) => {}
                Stmt::Figure(figure) => {
                    for (_, _, expr) in &figure.args {
                        let _ = self.need(value(expr, scope));
                    }
                }
                Stmt::Let(rule) => self.bind(path, &rule.name, let_(rule, scope), scope),
                Stmt::Take(rule) => self.take(rule, path, scope),
                Stmt::Use(rule) => self.use_(rule, path, scope),
                Stmt::Place(rule) => self.place(rule, path, scope),
                Stmt::When(rule) => match self.need(holds(&rule.condition, scope)) {
                    Ok(true) => self.body(&rule.body, path, scope),
                    Ok(false) => self.body(&rule.otherwise, path, scope),
                    Err(_) => {}
                },
                Stmt::Must(rule) => self.must(rule, path, scope),
                // What a page binds ends with it.
                Stmt::Page(page) => {
                    let before = std::mem::replace(&mut self.is_page, true);
                    self.body(&page.body, path, &mut scope.clone());
                    self.is_page = before;
                }
                Stmt::Piece(piece) => {
                    for expr in std::iter::once(&piece.amount).chain(&piece.values) {
                        let _ = self.need(value(expr, scope));
                    }
                }
            }
        }
    }

    fn take(&mut self, rule: &Take, path: &str, scope: &mut Scope<N>) {
        let keys: Result<Vec<(Value<N>, bool)>, No> =
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
    fn used(&mut self, rule: &Use, path: &str, scope: &Scope<N>) -> Option<Scope<N>> {
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

    fn use_(&mut self, rule: &Use, path: &str, scope: &mut Scope<N>) {
        match self.used(rule, path, scope) {
            Some(symbols) => {
                let sheet = self.library.sheet(&rule.sheet).expect("a sheet");
                let read = |name: &str| sheet.give(name).is_some() || sheet.input(name).is_some();
                let read = symbols.into_iter().filter(|(name, _)| read(name));
                scope.extend(read.map(|(name, found)| (format!("{}.{name}", rule.name), found)));
            }
            None => drop(scope.insert(format!("{}.", rule.name), Err(No::Elsewhere))),
        }
    }

    fn place(&mut self, rule: &OpenPlace, path: &str, scope: &mut Scope<N>) {
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

    fn must(&mut self, rule: &Arc<Must>, path: &str, scope: &Scope<N>) {
        let Ok(ok) = self.need(holds(&rule.condition, scope)) else { return };
        let sides = match &rule.condition.node {
            Node::Binary(BinOp::Less | BinOp::LessEqual, a, b) if !rule.fit => Some([a, b]),
            Node::Binary(BinOp::Greater | BinOp::GreaterEqual, a, b) if !rule.fit => Some([b, a]),
            _ => None,
        };
        let sides = sides.and_then(|[a, b]| match (value(a, scope), value(b, scope)) {
            (Ok(Value::Number(a)), Ok(Value::Number(b))) => Some([a, b]),
            _ => None,
        });
        self.outcomes.insert((path.into(), Arc::as_ptr(rule)), (ok, sides));
    }
}

fn within<N: Number>(input: &Input, known: &Value<N>) -> bool {
    let Value::Number(known) = known else { return true };
    let inside = |(op, bound): &(BinOp, Expr)| {
        let bound = number(bound, &Scope::new()).expect("a bound is written out");
        is(*op, known.compare(&bound))
    };
    input.bounds.iter().all(inside) && (input.kind != Kind::Count || known.is_count())
}

fn is(op: BinOp, order: Ordering) -> bool {
    match op {
        BinOp::Less => order == Ordering::Less,
        BinOp::LessEqual => order != Ordering::Greater,
        BinOp::Greater => order == Ordering::Greater,
        BinOp::GreaterEqual => order != Ordering::Less,
        _ => unreachable!("`is` compares names"),
    }
}

fn let_<N: Number>(rule: &Let, scope: &Scope<N>) -> Found<N> {
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
            Value::Number(base) => base.bare(unit).ok_or(No::Missing),
            _ => unreachable!("it has no unit"),
        });
        plain.insert(name.clone(), bare.map(Value::Number));
    }
    number(expr, &plain)?.of(&raw.giving).map(Value::Number).ok_or(No::Missing)
}

fn known<'s, N>(name: &str, scope: &'s Scope<N>) -> Option<&'s Found<N>> {
    let whole = || name.split_once('.').and_then(|(of, _)| scope.get(&format!("{of}.")));
    scope.get(name).or_else(whole)
}

fn symbol<N: Number>(name: &str, scope: &Scope<N>) -> Found<N> {
    known(name, scope).cloned().unwrap_or(Err(No::Missing))
}

/// A formula that speaks of what belongs to the other method belongs there.
fn here<N>(expr: &Expr, scope: &Scope<N>) -> Result<(), No> {
    match expr.symbols().iter().any(|name| matches!(known(name, scope), Some(Err(No::Elsewhere)))) {
        true => Err(No::Elsewhere),
        false => Ok(()),
    }
}

fn number<N: Number>(expr: &Expr, scope: &Scope<N>) -> Result<N, No> {
    match value(expr, scope)? {
        Value::Number(value) => Ok(value),
        _ => unreachable!("the check wants a quantity"),
    }
}

fn value<N: Number>(expr: &Expr, scope: &Scope<N>) -> Found<N> {
    here(expr, scope)?;
    worked(expr, scope)
}

fn worked<N: Number>(expr: &Expr, scope: &Scope<N>) -> Found<N> {
    let number = |expr: &Expr| match worked(expr, scope)? {
        Value::Number(number) => Ok(number),
        _ => unreachable!("the check wants a quantity"),
    };
    let result = match &expr.node {
        Node::Number(value) => Some(N::written(*value, &Unit::none())),
        Node::Literal { value, unit, .. } => Some(N::written(*value, unit)),
        Node::Text(name) => return Ok(Value::Name(name.clone())),
        Node::Symbol(name) => return symbol(name, scope),
        Node::Negate(inner) => Some(number(inner)?.negated()),
        Node::Binary(op, left, right) => N::arithmetic(*op, &number(left)?, &number(right)?),
        Node::Call(function, args) => {
            let args: Vec<N> = args.iter().map(number).collect::<Result<_, _>>()?;
            N::call(*function, &args)
        }
        Node::Not(_) | Node::Given(_) => unreachable!("a condition is no value"),
    };
    result.map(Value::Number).ok_or(No::Missing)
}

fn holds<N: Number>(expr: &Expr, scope: &Scope<N>) -> Result<bool, No> {
    here(expr, scope)?;
    is_true(expr, scope)
}

/// `and` and `or` ask the right side only where the left one leaves it open.
fn is_true<N: Number>(expr: &Expr, scope: &Scope<N>) -> Result<bool, No> {
    let value = |expr| worked(expr, scope);
    Ok(match &expr.node {
        Node::Not(inner) => !is_true(inner, scope)?,
        Node::Given(inner) => inner.symbols().iter().all(|symbol| matches!(scope.get(*symbol), Some(Ok(_)))),
        Node::Binary(BinOp::And, left, right) => is_true(left, scope)? && is_true(right, scope)?,
        Node::Binary(BinOp::Or, left, right) => is_true(left, scope)? || is_true(right, scope)?,
        Node::Binary(op, left, right) => match (op, value(left)?, value(right)?) {
            (BinOp::Is, Value::Name(a), Value::Name(b)) => same(&a, &b),
            (BinOp::IsNot, Value::Name(a), Value::Name(b)) => !same(&a, &b),
            (op, Value::Number(a), Value::Number(b)) => is(*op, a.compare(&b)),
            (op, Value::Date(a), Value::Date(b)) => is(*op, a.cmp(&b)),
            _ => unreachable!("the check wants two of a kind"),
        },
        _ => unreachable!("a value is no condition"),
    })
}

/// Whatever their capitals, blanks and hyphens.
fn same(a: &str, b: &str) -> bool {
    let letters = |name: &str| name.replace([' ', '-', '_'], "").to_lowercase();
    letters(a) == letters(b)
}
