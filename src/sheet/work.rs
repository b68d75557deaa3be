//! Works a sheet for one set of inputs to the steps that a page shows.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::tree::{Decide, Figure, Input, Let, Method, Must, OpenPlace, Page, Piece, Sheet, Stmt, Take, Use, When};
use super::worked::{Bound, Given, Origin, Side, Step, Taken, Verdict, Worked, ratio};
use super::{Library, rests::Rests, table::Found};
use crate::diag::Kind::{self as Fault, NoRow, OutOfBounds, Refused};
use crate::diag::{Diagnostic, Diagnostics};
use crate::formula::{BinOp, Expr, Function, Kind, Node, Stop, Value, compare, eval, holds};
use crate::quantity::{Quantity, Unit, measured, number};
use crate::source::Place;

/// A value that is there and cannot be read, which is said elsewhere.
pub struct Unread;

/// What the job gives for an input that comes from one of its files.
pub type Facts<'a> = &'a dyn Fn(&Input) -> Option<Result<(Bound, Origin), Unread>>;

/// What to say of an input that nobody gives.
pub type Missing<'a> = &'a dyn Fn(&Input) -> Option<Diagnostic>;

pub struct Context<'a> {
    pub library: &'a Library,
    /// Sheets that are not worked in it are left out.
    pub method: Option<Method>,
    pub facts: Facts<'a>,
    pub missing: Missing<'a>,
    /// Inputs that are passed and have no value, for a reason that was said.
    pub lacking: &'a BTreeSet<String>,
}

/// What a sheet's work ends in: its steps, and what went wrong on the way.
#[derive(Debug)]
pub struct Work {
    pub worked: Worked,
    pub diagnostics: Diagnostics,
}

/// Works a sheet. Inputs that are not in `inputs` take their default or are
/// asked of `context.missing` when something needs them.
pub fn work(sheet: &Arc<Sheet>, inputs: BTreeMap<String, (Bound, Origin)>, context: &Context) -> Work {
    let mut worker = Worker {
        context,
        sheet: sheet.clone(),
        bound: BTreeMap::new(),
        places: BTreeMap::new(),
        absent: BTreeSet::new(),
        silent: BTreeSet::new(),
        diagnostics: Vec::new(),
        varies: false,
    };
    let given = worker.inputs(inputs);
    let mut steps = Vec::new();
    worker.body(&sheet.body, &mut steps);
    let Worker { bound, places, diagnostics, .. } = worker;
    let (sheet, name) = (sheet.clone(), sheet.name.clone());
    Work { worked: Worked { sheet, name, given, bound, places, steps }, diagnostics }
}

struct Worker<'a> {
    context: &'a Context<'a>,
    sheet: Arc<Sheet>,
    bound: BTreeMap<String, Bound>,
    places: BTreeMap<String, String>,
    /// Inputs that were not given; asked for when they are needed.
    absent: BTreeSet<String>,
    /// Inputs without a value for a reason that was said: neither given nor left out.
    silent: BTreeSet<String>,
    diagnostics: Diagnostics,
    /// The block that is worked depends on the loads.
    varies: bool,
}

impl Worker<'_> {
    fn inputs(&mut self, mut inputs: BTreeMap<String, (Bound, Origin)>) -> Vec<Given> {
        let mut given = Vec::new();
        for input in &self.sheet.clone().inputs {
            let library = self.context.library;
            let from_file = || if library.of_a_file(input) { (self.context.facts)(input) } else { None };
            let passed = inputs.contains_key(&input.name);
            let found =
                inputs.remove(&input.name).map(Ok).or_else(|| match self.context.lacking.contains(&input.name) {
                    true => Some(Err(Unread)),
                    false => from_file(),
                });
            // Nothing follows from what cannot be read, no default either.
            let Ok(found) = found.transpose() else {
                self.silent.insert(input.name.clone());
                continue;
            };
            let found = found.or_else(|| {
                let default = input.default.as_ref()?;
                let value = eval(default, &self.sheet.source, &|_: &str| None).ok()?;
                let unit =
                    input.unit.clone().unwrap_or_else(|| default.written_unit().unwrap_or_else(|| self.usual(&value)));
                Some((Bound::given(value, unit), Origin::Default))
            });
            let Some((mut bound, origin)) = found else {
                self.absent.insert(input.name.clone());
                continue;
            };
            if bound.rests.is_empty() && !matches!(origin, Origin::Default) {
                bound.rests = Rests::fact(&if passed { input.name.clone() } else { input.key() });
            }
            bound.count = bound.count || input.kind == Kind::Count;
            // What lies beyond a bound has no value: nothing is worked from it.
            if let Some(diagnostic) = self.beyond(input, &bound) {
                self.diagnostics.push(diagnostic);
                self.silent.insert(input.name.clone());
                continue;
            }
            if let Some(unit) = &input.unit {
                bound.unit = unit.clone();
            }
            self.bound.insert(input.name.clone(), bound);
            given.push(Given { input: input.clone(), origin });
        }
        given
    }

    fn usual(&self, value: &Value) -> Unit {
        match value {
            Value::Quantity(quantity) => self.context.library.units().unit(quantity.dim),
            _ => Unit::none(),
        }
    }

    /// Why a value is refused.
    fn beyond(&self, input: &Input, bound: &Bound) -> Option<Diagnostic> {
        for (op, limit) in &input.bounds {
            let Ok(value) = eval(limit, &self.sheet.source, &|_: &str| None) else { continue };
            if compare(*op, &bound.value, &value) {
                continue;
            }
            let source = &self.sheet.source.text;
            let least = match op {
                BinOp::GreaterEqual => "at least",
                BinOp::LessEqual => "at most",
                BinOp::Greater => "more than",
                _ => "less than",
            };
            let (sheet, limit) = (&self.sheet.name, self.context.library.units().words(&source[limit.span.clone()]));
            let message =
                format!("{} is {}; the sheet `{sheet}` accepts {least} {limit}", named(input, bound), describe(bound));
            let mut diagnostic = Diagnostic::new(message);
            if let Some(cite) = &input.cite {
                diagnostic = diagnostic.hint(format!("the limit is set by {cite}"));
            }
            let diagnostic = diagnostic.of(OutOfBounds, &input.name).rests_on(bound.rests.nearest());
            return Some(diagnostic.at(bound.place.clone().unwrap_or_else(|| self.sheet.place(&input.span))));
        }
        if input.kind == Kind::Count
            && let Value::Quantity(quantity) = &bound.value
            && (quantity.value.fract() != 0.0 || quantity.value < 0.0)
        {
            let message =
                format!("{} is {}; a count must be a whole number, not negative", named(input, bound), describe(bound));
            return Some(
                Diagnostic::new(message)
                    .of(OutOfBounds, &input.name)
                    .at(bound.place.clone().unwrap_or_else(|| self.sheet.place(&input.span))),
            );
        }
        None
    }

    fn body(&mut self, body: &[Stmt], steps: &mut Vec<Step>) {
        for stmt in body {
            match stmt {
                Stmt::Heading(text) => steps.push(Step::Heading(text.clone())),
                Stmt::Prose(prose) => steps.push(Step::Prose(prose.clone())),
                Stmt::Note(note) => steps.push(Step::Note(note.clone())),
                Stmt::Figure(figure) => self.figure(figure, steps),
                Stmt::Let(rule) => self.let_(rule, steps),
                Stmt::Take(rule) => self.take(rule, steps),
                Stmt::Use(rule) => self.use_(rule, steps),
                Stmt::Must(rule) => self.must(rule, steps),
                Stmt::Decide(rule) => self.decide(rule, steps),
                // What others get is the greatest of all combinations.
                Stmt::Hand(_) => {}
                Stmt::Place(place) => self.place(place, steps),
                Stmt::Page(page) => self.page(page, steps),
                Stmt::Piece(piece) => self.piece(piece, steps),
                Stmt::When(when) => self.when(when, steps),
            }
        }
    }

    fn when(&mut self, when: &When, steps: &mut Vec<Step>) {
        let Some(holds) = self.holds(&when.condition) else { return };
        let before = self.varies;
        // Without `otherwise` the loads decide whether a value exists, not what it is.
        self.varies |= !when.otherwise.is_empty() && self.any_varies(&when.condition);
        if holds {
            self.body(&when.body, steps);
        } else {
            if when.otherwise.is_empty() {
                steps.push(Step::Skipped(when.condition.clone()));
            }
            self.body(&when.otherwise, steps);
        }
        self.varies = before;
    }

    fn values(&self) -> impl Fn(&str) -> Option<Value> {
        |symbol| self.bound.get(symbol).map(|bound| bound.value.clone())
    }

    fn any_varies(&self, expr: &Expr) -> bool {
        expr.symbols().iter().any(|symbol| self.bound.get(*symbol).is_some_and(|bound| bound.varies))
    }

    fn eval(&mut self, expr: &Expr) -> Option<Value> {
        let result = eval(expr, &self.sheet.source, &self.values());
        self.settle_all(expr, result)
    }

    /// The same for a formula, of which every symbol is needed: one that stops
    /// it does not hide the others.
    fn settle_all(&mut self, expr: &Expr, result: Result<Value, Stop>) -> Option<Value> {
        if let Err(Stop::Missing(_)) = &result {
            for symbol in expr.symbols() {
                self.ask(symbol);
            }
        }
        self.settle(match result {
            Err(Stop::Fault(diagnostic)) => Err(Stop::Fault(diagnostic.rests_on(self.rests([expr]).nearest()))),
            result => result,
        })
    }

    /// Asks once for an input that nobody gives.
    fn ask(&mut self, symbol: &str) {
        let input = self.sheet.input(symbol).filter(|input| !input.optional).cloned();
        if self.absent.contains(symbol)
            && let Some(input) = input
        {
            self.absent.remove(symbol);
            self.diagnostics.extend((self.context.missing)(&input));
            self.silent.insert(symbol.into());
        }
    }

    fn holds(&mut self, expr: &Expr) -> Option<bool> {
        // What is wrong is neither given nor left out.
        if expr.asked().iter().any(|symbol| self.silent.contains(*symbol)) {
            return None;
        }
        let result = holds(expr, &self.sheet.source, &self.values());
        self.settle(result)
    }

    /// The facts that some expressions come from.
    fn rests<'e>(&self, exprs: impl IntoIterator<Item = &'e Expr>) -> Rests {
        let symbols = exprs.into_iter().flat_map(|expr| expr.symbols());
        // What was left out is looked for where it would stand.
        let left_out = |symbol: &str| {
            let input = self.sheet.input(symbol).filter(|input| input.optional)?;
            Some(Rests::fact(&input.key()))
        };
        let rests = symbols
            .filter_map(|symbol| self.bound.get(symbol).map(|bound| bound.rests.clone()).or_else(|| left_out(symbol)));
        Rests::of(rests.collect::<Vec<_>>().iter())
    }

    /// The value of a result, or none after saying why, once.
    fn settle<T>(&mut self, result: Result<T, Stop>) -> Option<T> {
        match result {
            Ok(value) => Some(value),
            Err(Stop::Fault(diagnostic)) => {
                self.diagnostics.push(diagnostic.hint(format!("in the sheet `{}`", self.sheet.name)));
                None
            }
            Err(Stop::Missing(symbol)) => {
                self.ask(&symbol);
                None
            }
        }
    }

    fn let_(&mut self, rule: &Arc<Let>, steps: &mut Vec<Step>) {
        let Some((bound, taken)) = self.try_let(rule) else { return };
        self.bound.insert(rule.name.clone(), bound);
        steps.push(match rule.renames() {
            true => Step::Rename(rule.clone()),
            false => Step::Let { rule: rule.clone(), taken },
        });
    }

    /// What to say of an input that may be left out, but for a symbol that has it
    /// for its only case.
    fn wanted(&self, rule: &Let) -> Option<Diagnostic> {
        let [case] = rule.cases.as_slice() else { return None };
        let Node::Given(inner) = &case.when.as_ref()?.node else { return None };
        (self.context.missing)(self.sheet.input(inner.symbols().first()?)?)
    }

    fn try_let(&mut self, rule: &Let) -> Option<(Bound, usize)> {
        let mut varies = self.varies;
        let mut taken = None;
        for (at, case) in rule.cases.iter().enumerate() {
            let Some(condition) = &case.when else {
                taken = Some(at);
                break;
            };
            varies |= self.any_varies(condition);
            if self.holds(condition)? {
                taken = Some(at);
                break;
            }
        }
        let Some(taken) = taken else {
            let refusal = rule.refusal.clone().unwrap_or_default();
            if let Some(missing) = self.wanted(rule) {
                self.diagnostics.push(missing.hint(refusal));
                return None;
            }
            self.diagnostics.push(
                Diagnostic::new(refusal)
                    .of(Refused, &rule.name)
                    .at(self.sheet.place(&rule.span))
                    .hint(format!("`{}` of the sheet `{}` has no value", rule.name, self.sheet.name))
                    .rests_on(self.rests(rule.cases.iter().filter_map(|case| case.when.as_ref())).nearest()),
            );
            return None;
        };
        let expr = &rule.cases[taken].value;
        varies |= self.any_varies(expr);
        let result = match &rule.raw {
            None => eval(expr, &self.sheet.source, &self.values()),
            Some(raw) => {
                let plain = raw_values(raw, &self.bound);
                eval(expr, &self.sheet.source, &plain).map(|value| match value {
                    Value::Quantity(number) => {
                        Value::Quantity(Quantity::new(raw.giving.to_base(number.value), raw.giving.dim))
                    }
                    value => value,
                })
            }
        };
        let value = self.settle_all(expr, result)?;
        let unit = rule.unit.clone().or_else(|| rule.raw.as_ref().map(|raw| raw.giving.clone()));
        let unit = unit.unwrap_or_else(|| self.same_unit(expr, &value));
        let count = self.counts(expr) || (unit.name().is_empty() && self.tells_number(rule));
        let conditions = rule.cases[..=taken].iter().filter_map(|case| case.when.as_ref());
        let rests = self.rests(std::iter::once(expr).chain(conditions));
        let renamed =
            if rule.renames() { expr.symbols().first().and_then(|symbol| self.bound.get(*symbol)) } else { None };
        // Another name for what was given is printed as it was typed.
        let (given, place) = renamed.map_or((false, None), |bound| (bound.given, bound.place.clone()));
        Some((Bound { value, unit, varies, count, given, place, rests }, taken))
    }

    /// A symbol that only renames or picks another one is printed like it.
    fn same_unit(&self, expr: &Expr, value: &Value) -> Unit {
        let Value::Quantity(quantity) = value else { return Unit::none() };
        expr.symbols()
            .iter()
            .filter_map(|symbol| self.bound.get(*symbol))
            .map(|bound| &bound.unit)
            .find(|unit| unit.dim == quantity.dim)
            .cloned()
            .or_else(|| expr.written_unit().filter(|unit| unit.dim == quantity.dim))
            .unwrap_or_else(|| self.context.library.units().unit(quantity.dim))
    }

    /// Whether a formula counts things. A whole number alone may be a factor.
    fn counts(&self, expr: &Expr) -> bool {
        !expr.symbols().is_empty() && self.whole(expr)
    }

    /// Whether whole numbers stand for the cases: of a factor, some case is a broken one.
    fn tells_number(&self, rule: &Let) -> bool {
        let whole = |rule: &Let| rule.cases.iter().all(|case| self.whole(&case.value));
        if !whole(rule) {
            return false;
        }
        // A block that does not apply may have the only case of a number that counts elsewhere.
        let mut several = rule.cases.len() > 1;
        let mut all = true;
        self.sheet.walk(&mut |stmt| {
            if let Stmt::Let(other) = stmt
                && other.name == rule.name
            {
                several |= other.cases.len() > 1;
                all &= whole(other);
            }
        });
        several && all
    }

    fn whole(&self, expr: &Expr) -> bool {
        match &expr.node {
            Node::Number(value) => value.fract() == 0.0,
            Node::Negate(inner) => self.whole(inner),
            Node::Symbol(symbol) => self.bound.get(symbol).is_some_and(|bound| bound.count),
            Node::Binary(BinOp::Add | BinOp::Sub | BinOp::Mul, a, b) => self.whole(a) && self.whole(b),
            Node::Call(Function::Least | Function::Greatest, args) => args.iter().all(|arg| self.whole(arg)),
            Node::Call(Function::Up | Function::Down | Function::Nearest, args) => self.whole(&args[1]),
            _ => false,
        }
    }

    fn take(&mut self, rule: &Arc<Take>, steps: &mut Vec<Step>) {
        if let Some((found, taken, varies)) = self.try_take(rule) {
            let rests = self.rests(rule.keys.iter().map(|(key, _)| key));
            // What stands between two rows was not typed.
            let given = taken.ends.is_empty();
            for ((name, ..), (value, unit)) in rule.names.iter().zip(found.values) {
                let rests = rests.clone();
                let value = match value {
                    Value::Text(text) => Value::Text(self.context.library.units().words_on_site(&text)),
                    value => value,
                };
                let bound = Bound { value, unit, varies, count: false, given, place: None, rests };
                self.bound.insert(name.clone(), bound);
            }
            steps.push(Step::Take { rule: rule.clone(), taken });
        }
    }

    fn try_take(&mut self, rule: &Take) -> Option<(Found, Taken, bool)> {
        let table = self.context.library.table(&rule.table)?.clone();
        let mut keys = Vec::new();
        let mut varies = self.varies;
        let mut place = None;
        for (expr, between) in &rule.keys {
            let value = self.eval(expr)?;
            varies |= self.any_varies(expr);
            place = place.or_else(|| match &expr.node {
                Node::Symbol(symbol) => self.bound.get(symbol)?.place.clone(),
                _ => None,
            });
            keys.push((value, *between));
        }
        let wanted: Vec<&str> = rule.names.iter().map(|(_, column, _)| column.as_str()).collect();
        let found = match table.find(&keys, &wanted) {
            Ok(found) => found,
            Err(diagnostic) => {
                let diagnostic = self.locate_key(rule, diagnostic, place);
                self.diagnostics.push(diagnostic);
                return None;
            }
        };
        let keys = keys
            .into_iter()
            .zip(&table.columns)
            .map(|((value, _), column)| (column.name.clone(), value, column.print.clone()))
            .collect();
        let taken = Taken {
            table: table.name.clone(),
            title: table.title.clone(),
            keys,
            source: found.source.clone(),
            doubt: found.doubt.clone(),
            recalled: found.recalled,
            rows: found.rows.clone(),
            own: found.own.clone(),
            ends: found.ends.clone(),
        };
        Some((found, taken, varies))
    }

    /// A key that is in no row is marked in the user's file where it came
    /// from there, else in the sheet.
    fn locate_key(&self, rule: &Take, diagnostic: Diagnostic, first: Option<Place>) -> Diagnostic {
        let NoRow(key) = diagnostic.kind() else {
            return diagnostic.at(first.unwrap_or_else(|| self.sheet.place(&rule.table_span)));
        };
        let key = &rule.keys[key].0;
        let bound = match &key.node {
            Node::Symbol(symbol) => self.bound.get(symbol).and_then(|bound| bound.place.clone()),
            _ => None,
        };
        // One that was worked out is marked where it comes from.
        let place = bound.or(first).unwrap_or_else(|| self.sheet.place(&rule.table_span));
        diagnostic.at(place).rests_on(self.rests([key]).nearest())
    }

    fn use_(&mut self, rule: &Use, steps: &mut Vec<Step>) {
        let Some(worked) = self.used(rule) else { return };
        for (symbol, bound) in worked.bound.iter().filter(|(symbol, _)| !symbol.contains('.')) {
            self.bound.insert(format!("{}.{symbol}", rule.name), bound.clone());
        }
        steps.push(Step::Use(Box::new(worked)));
    }

    /// A sheet that is used, worked; none if it belongs to the other method.
    fn used(&mut self, rule: &Use) -> Option<Worked> {
        let sheet = self.context.library.sheet(&rule.sheet)?.clone();
        if matches!((sheet.method, self.context.method), (Some(theirs), Some(ours)) if !theirs.has(ours)) {
            return None;
        }
        let mut inputs = BTreeMap::new();
        let mut lacking = BTreeSet::new();
        for (name, _, expr) in &rule.args {
            if self.left_out(expr) && sheet.input(name).is_some_and(|input| input.optional) {
                continue;
            }
            let Some(value) = self.eval(expr) else {
                lacking.insert(name.clone());
                continue;
            };
            let single = match &expr.node {
                Node::Symbol(symbol) => self.bound.get(symbol).map(|bound| (symbol.clone(), bound.clone())),
                _ => None,
            };
            let varies = self.any_varies(expr);
            let entry = match single {
                Some((symbol, bound)) => (Bound { varies, ..bound }, Origin::Symbol(symbol)),
                None => {
                    let unit = self.same_unit(expr, &value);
                    let given = expr.symbols().is_empty();
                    let count = self.counts(expr);
                    let rests = self.rests([expr]);
                    (Bound { value, unit, varies, count, given, place: None, rests }, Origin::Formula(expr.clone()))
                }
            };
            inputs.insert(name.clone(), entry);
        }
        let context = Context { lacking: &lacking, ..*self.context };
        let Work { mut worked, diagnostics } = work(&sheet, inputs, &context);
        self.diagnostics.extend(diagnostics);
        worked.name = rule.name.clone();
        Some(worked)
    }

    /// An input of this sheet that may be left out, and is.
    fn left_out(&self, expr: &Expr) -> bool {
        let Node::Symbol(name) = &expr.node else { return false };
        !self.bound.contains_key(name) && self.sheet.input(name).is_some_and(|input| input.optional)
    }

    fn place(&mut self, place: &OpenPlace, steps: &mut Vec<Step>) {
        let column = Expr { span: place.span.clone(), node: Node::Symbol(place.column.clone()) };
        let Some(Value::Text(chosen)) = self.eval(&column) else {
            self.whatever(place);
            return;
        };
        let choice = place.choices.iter().find(|(value, _)| *value == chosen);
        let Some(worked) = choice.and_then(|(_, choice)| self.used(choice)) else { return };
        for give in &place.gives {
            if let Some(bound) = worked.bound.get(&give.name) {
                self.bound.insert(format!("{}.{}", place.name, give.name), bound.clone());
            }
        }
        self.places.insert(place.name.clone(), worked.name.clone());
        steps.push(Step::Use(Box::new(worked)));
    }

    /// What is missing whoever comes to stand in a place.
    fn whatever(&mut self, place: &OpenPlace) {
        let said = self.diagnostics.len();
        let mut common: Option<Diagnostics> = None;
        for (_, choice) in &place.choices {
            let worked = self.used(choice);
            let mut missing = self.diagnostics.split_off(said);
            if worked.is_none() {
                return;
            }
            missing.retain(|it| {
                it.kind() == Fault::Missing && common.as_ref().is_none_or(|all| all.iter().any(|one| same(one, it)))
            });
            common = Some(missing);
        }
        self.diagnostics.extend(common.into_iter().flatten());
    }

    /// Symbols that a page binds end with it.
    fn page(&mut self, page: &Page, steps: &mut Vec<Step>) {
        let before = self.bound.clone();
        let mut inner = Vec::new();
        self.body(&page.body, &mut inner);
        let bound = std::mem::replace(&mut self.bound, before);
        steps.push(Step::Page { kind: page.kind, steps: inner, bound });
    }

    fn piece(&mut self, rule: &Arc<Piece>, steps: &mut Vec<Step>) {
        let mut shown = |expr: &Expr, unit: Option<&Unit>| {
            let value = self.eval(expr)?;
            if let (Node::Symbol(symbol), None) = (&expr.node, unit) {
                return self.bound.get(symbol).cloned();
            }
            let unit = unit.cloned().unwrap_or_else(|| self.same_unit(expr, &value));
            let (count, rests) = (self.counts(expr), self.rests([expr]));
            Some(Bound { value, unit, varies: false, count, given: false, place: None, rests })
        };
        let amount = shown(&rule.amount, rule.unit.as_ref());
        let values: Option<Vec<Bound>> = rule.values.iter().map(|value| shown(value, None)).collect();
        if let (Some(amount), Some(values)) = (amount, values) {
            steps.push(Step::Piece { rule: rule.clone(), amount, values });
        }
    }

    fn figure(&mut self, figure: &Figure, steps: &mut Vec<Step>) {
        // One of another version, which is not drawn.
        if figure.args.is_empty() {
            return;
        }
        let values: Option<Vec<(String, Value)>> =
            figure.args.iter().map(|(name, _, expr)| Some((name.clone(), self.eval(expr)?))).collect();
        if let Some(values) = values {
            steps.push(Step::Figure { name: figure.name.clone(), say: figure.say.clone(), values });
        }
    }

    fn must(&mut self, rule: &Arc<Must>, steps: &mut Vec<Step>) {
        let Some(ok) = self.holds(&rule.condition) else { return };
        let varies = self.varies || self.any_varies(&rule.condition);
        let mut verdict = Verdict { ok, ratio: None, sides: None, varies };
        if let Some((demand, capacity)) = rule.sides() {
            let sides = (self.side(demand, capacity), self.side(capacity, demand));
            if let (Some(demand), Some(capacity)) = sides {
                verdict.ratio = Some(ratio(demand.quantity.value, capacity.quantity.value, ok));
                verdict.sides = Some((demand, capacity));
            }
        }
        steps.push(Step::Must { rule: rule.clone(), verdict });
    }

    fn decide(&mut self, rule: &Arc<Decide>, steps: &mut Vec<Step>) {
        let values: Option<Vec<Bound>> = rule.values.iter().map(|(name, _)| self.bound.get(name).cloned()).collect();
        if let Some(values) = values {
            steps.push(Step::Decide { rule: rule.clone(), values });
        }
    }

    fn side(&self, expr: &Expr, other: &Expr) -> Option<Side> {
        let value = eval(expr, &self.sheet.source, &self.values()).ok()?;
        let Value::Quantity(quantity) = value else { return None };
        // A bare literal is printed in the unit of the value it bounds.
        let unit = match &expr.node {
            Node::Literal { .. } | Node::Number(_) => {
                expr.written_unit().unwrap_or_else(|| self.same_unit(other, &Value::Quantity(quantity)))
            }
            _ => self.same_unit(expr, &Value::Quantity(quantity)),
        };
        Some(Side { quantity, unit })
    }
}

/// Whether two diagnostics are about one thing in one place.
fn same(a: &Diagnostic, b: &Diagnostic) -> bool {
    let place = |it: &Diagnostic| it.place.as_ref().map(Place::describe);
    a.about() == b.about() && place(a) == place(b)
}

/// The symbols of a formula that hides units, as plain numbers.
pub(super) fn raw_values<'a>(
    raw: &'a super::tree::Raw,
    bound: &'a BTreeMap<String, Bound>,
) -> impl Fn(&str) -> Option<Value> + 'a {
    |symbol| {
        let value = &bound.get(symbol)?.value;
        match (raw.symbols.iter().find(|(name, ..)| name == symbol), value) {
            (Some((_, _, unit)), Value::Quantity(quantity)) => Some(Value::number(quantity.in_unit(unit))),
            _ => Some(value.clone()),
        }
    }
}

/// What a value is called that was given: by the name that the user knows it
/// by, column or key, and in words; in words alone if it was worked out.
fn named(input: &Input, bound: &Bound) -> String {
    let say = input.say.replace('`', "");
    let facts = bound.rests.nearest();
    let given = facts.first().filter(|_| facts.len() == 1 && bound.place.is_some());
    match given.map(|key| key.split_once('.').map_or(key.as_str(), |(_, name)| name)) {
        Some(name) if say.is_empty() || say == name => format!("`{name}`"),
        Some(name) => format!("`{name}` ({say})"),
        None if say.is_empty() => format!("`{}`", input.name),
        None => say,
    }
}

fn describe(bound: &Bound) -> String {
    match &bound.value {
        Value::Quantity(quantity) => measured(&number(quantity.in_unit(&bound.unit), 6), &bound.unit.pretty()),
        Value::Text(text) => format!("`{text}`"),
        Value::Date(date) => date.to_string(),
    }
}
