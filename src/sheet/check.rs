//! Checks one sheet: names, kinds and units of everything in it, against the
//! tables and the sheets it uses.

mod uses;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::Table;
use super::tree::{Figure, Input, Let, Methods, Must, Page, Piece, Sheet, Stmt, Take, When};
use crate::diag::{Checked, Diagnostic, Diagnostics};
use crate::formula::{Expr, Kind, Kinds, check as check_expr, check_as, check_condition};
use crate::quantity::Dim;
use crate::source::{Place, Source};

/// A figure that sheets can ask for, and what it is drawn from.
#[derive(Clone, Debug)]
pub struct FigureKind {
    pub name: String,
    pub inputs: Vec<(String, Kind)>,
}

/// What a checked sheet offers to those that use it.
#[derive(Clone, Debug)]
pub struct Signature {
    pub method: Option<Methods>,
    pub inputs: Vec<Arc<Input>>,
    pub outputs: BTreeMap<String, Kind>,
    /// Where an input is declared, or that it stands in an open place.
    source: Arc<Source>,
    stands: std::ops::Range<usize>,
}

/// Checks a sheet in place: bare words that are names are marked as such. Without kinds of figures none is drawn.
///
/// # Errors
/// Everything that is wrong, each with its place.
pub fn check(
    sheet: &mut Sheet,
    tables: &BTreeMap<String, Arc<Table>>,
    figures: Option<&[FigureKind]>,
    done: &BTreeMap<String, Option<Signature>>,
    sources: &BTreeSet<String>,
) -> Checked<Signature> {
    let mut bound = BTreeSet::new();
    sheet.walk(&mut |stmt| match stmt {
        Stmt::Let(rule) => drop(bound.insert(rule.name.clone())),
        Stmt::Take(take) => bound.extend(take.names.iter().map(|(symbol, ..)| symbol.clone())),
        _ => {}
    });
    let mut body = std::mem::take(&mut sheet.body);
    let mut checker = Checker {
        sheet,
        tables,
        figures,
        done,
        sources,
        seen: Vec::new(),
        scope: Scope { bound, ..Scope::default() },
        bound: BTreeSet::new(),
        used: BTreeSet::new(),
        diagnostics: Vec::new(),
    };
    checker.inputs();
    checker.body(&mut body);
    checker.unused();
    checker.gives();
    let Checker { scope, diagnostics, .. } = checker;
    sheet.body = body;
    let given = |name: &String| sheet.input(name).is_some() || sheet.give(name).is_some();
    let outputs = scope.kinds.into_iter().filter(|(name, _)| !name.contains('.') && given(name)).collect();
    let stands = sheet.stands.as_ref().map_or(0..0, |stands| stands.span.clone());
    let (method, inputs, source) = (sheet.method, sheet.inputs.clone(), sheet.source.clone());
    let signature = Signature { method, inputs, outputs, source, stands };
    if diagnostics.is_empty() { Ok(signature) } else { Err(diagnostics) }
}

/// Symbols that can be reached at a point of a sheet.
#[derive(Clone, Default)]
struct Scope {
    kinds: BTreeMap<String, Kind>,
    /// Inputs that may be left out. They have a kind where they are known to be given.
    optional: BTreeMap<String, Kind>,
    /// The combinations that a symbol belongs to, where it is not all.
    methods: BTreeMap<String, Methods>,
    /// Symbols that were bound in a block that is closed.
    closed: BTreeSet<String>,
    /// Symbols that were bound for a page for the shop or the site.
    ended: BTreeSet<String>,
    /// Symbols that are bound somewhere in the sheet.
    bound: BTreeSet<String>,
    /// Beginnings of symbols whose sheet is wrong itself.
    wrong: BTreeSet<String>,
}

impl Kinds for Scope {
    fn kind(&self, symbol: &str) -> Option<Kind> {
        self.kinds.get(symbol).cloned()
    }

    fn symbols(&self) -> Vec<String> {
        self.kinds.keys().cloned().collect()
    }

    fn optional(&self, symbol: &str) -> Option<Kind> {
        self.optional.get(symbol).cloned()
    }

    fn excused(&self, symbol: &str) -> bool {
        self.wrong.iter().any(|prefix| symbol.starts_with(prefix))
    }

    fn why_not(&self, symbol: &str) -> Option<String> {
        if self.optional.contains_key(symbol) {
            return Some(format!(
                "`{symbol}` may be left out: read it only where a condition says `{symbol} is given`"
            ));
        }
        if self.ended.contains(symbol) {
            return Some(format!("`{symbol}` has a value only on its page for the shop or the site"));
        }
        if self.closed.contains(symbol) {
            return Some(format!(
                "`{symbol}` has a value only under its `when`; bind it under `otherwise` too, or move this line into the block"
            ));
        }
        self.bound.contains(symbol).then(|| format!("`{symbol}` has no value yet: bind it above this line"))
    }
}

impl Scope {
    /// What a condition proves to be given can be read, where it holds or where it does not.
    fn grant(&mut self, condition: &Expr, holds: bool) {
        for name in condition.proves_given(holds) {
            if let Some(kind) = self.optional.get(name) {
                self.kinds.insert(name.into(), kind.clone());
            }
        }
    }
}

struct Checker<'a> {
    sheet: &'a mut Sheet,
    tables: &'a BTreeMap<String, Arc<Table>>,
    figures: Option<&'a [FigureKind]>,
    done: &'a BTreeMap<String, Option<Signature>>,
    /// The names of all sheets, uses and open places: what an input can come
    /// from, besides the files of a job.
    sources: &'a BTreeSet<String>,
    /// The uses so far: sheet and name.
    seen: Vec<(String, String)>,
    scope: Scope,
    bound: BTreeSet<String>,
    used: BTreeSet<String>,
    diagnostics: Diagnostics,
}

impl Checker<'_> {
    fn place(&self, span: &std::ops::Range<usize>) -> Place {
        self.sheet.place(span)
    }

    fn keep<T>(&mut self, result: Checked<T>) -> Option<T> {
        result.map_err(|more| self.diagnostics.extend(more)).ok()
    }

    fn inputs(&mut self) {
        let mut inputs = std::mem::take(&mut self.sheet.inputs);
        for input in inputs.iter_mut().map(Arc::make_mut) {
            if input.optional {
                self.optional(input);
            } else {
                self.bind(&input.name, &input.span, input.kind.clone(), None);
            }
            let kind = input.kind.clone();
            let nothing = Scope::default();
            for expr in input.bounds.iter_mut().map(|(_, bound)| bound).chain(input.default.as_mut()) {
                let result = check_as(expr, &kind, &self.sheet.source, &nothing);
                self.keep(result);
            }
            if let Some(unit) = input.unit.iter().chain(&input.units).find(|unit| kind.dim() != Some(unit.dim)) {
                let diagnostic = Diagnostic::new(format!(
                    "`{}` is {}, which is not printed in `{}`",
                    input.name,
                    kind.named(),
                    unit.name()
                ));
                self.diagnostics.push(diagnostic.at(self.place(&input.span)));
            }
        }
        self.sheet.inputs = inputs;
    }

    /// An input that may be left out has no kind until a condition proves that it is given.
    fn optional(&mut self, input: &Input) {
        self.bind(&input.name, &input.span, input.kind.clone(), None);
        self.scope.kinds.remove(&input.name);
        self.scope.optional.insert(input.name.clone(), input.kind.clone());
        if input.from.as_ref().is_some_and(|from| self.sources.contains(&from.source)) {
            let diagnostic = Diagnostic::new(format!("`{}` comes from a sheet, which always gives it", input.name));
            let hint = "`else nothing` is for what a file of the job may leave out, and for what a caller may";
            self.diagnostics.push(diagnostic.at(self.place(&input.span)).hint(hint));
        }
    }

    fn bind(&mut self, name: &str, span: &std::ops::Range<usize>, kind: Kind, method: Option<Methods>) {
        let taken = self.scope.optional.contains_key(name);
        if taken || self.scope.kinds.contains_key(name) || self.scope.closed.contains(name) {
            self.diagnostics.push(
                Diagnostic::new(format!("`{name}` is bound twice"))
                    .at(self.place(span))
                    .hint("a symbol has one value in a sheet; give the second one another name"),
            );
            return;
        }
        if crate::formula::Function::named(name).is_some() {
            self.diagnostics.push(Diagnostic::new(format!("`{name}` is the name of a function")).at(self.place(span)));
        }
        self.bound.insert(name.into());
        self.scope.kinds.insert(name.into(), kind);
        if let Some(method) = method {
            self.scope.methods.insert(name.into(), method);
        }
    }

    fn body(&mut self, body: &mut [Stmt]) {
        for stmt in body {
            match stmt {
                Stmt::Heading(_) | Stmt::Prose(_) | Stmt::Note(_) => {}
                Stmt::Place(inner) => {
                    if let Some(inner) = Arc::get_mut(inner) {
                        self.place_(inner);
                    }
                }
                Stmt::Page(inner) => {
                    if let Some(inner) = Arc::get_mut(inner) {
                        self.page(inner);
                    }
                }
                Stmt::Piece(inner) => {
                    if let Some(inner) = Arc::get_mut(inner) {
                        self.piece(inner);
                    }
                }
                Stmt::Figure(inner) => {
                    if let Some(inner) = Arc::get_mut(inner) {
                        self.figure(inner);
                    }
                }
                Stmt::Let(inner) => {
                    if let Some(inner) = Arc::get_mut(inner) {
                        self.let_(inner);
                    }
                }
                Stmt::Take(inner) => {
                    if let Some(inner) = Arc::get_mut(inner) {
                        self.take(inner);
                    }
                }
                Stmt::Use(inner) => {
                    if let Some(inner) = Arc::get_mut(inner) {
                        self.use_(inner);
                    }
                }
                Stmt::When(inner) => {
                    if let Some(inner) = Arc::get_mut(inner) {
                        self.when(inner);
                    }
                }
                Stmt::Must(inner) => {
                    if let Some(inner) = Arc::get_mut(inner) {
                        self.must(inner);
                    }
                }
                Stmt::Decide(inner) => inner.values.iter().for_each(|value| self.named(value)),
                Stmt::Hand(inner) => self.named(&inner.value),
            }
        }
    }

    /// Notes what an expression uses and gives the method it belongs to.
    fn uses(&mut self, expr: &Expr) -> Option<Methods> {
        let mut method: Option<(Methods, String)> = None;
        for symbol in expr.symbols() {
            self.used.insert(symbol.into());
            let Some(found) = self.scope.methods.get(symbol).copied() else { continue };
            match &method {
                Some((first, other)) if first.and(found) == Methods::NONE => {
                    let message = format!(
                        "mixes `{other}`, worked with {} loads, and `{symbol}`, worked with {} loads",
                        first.name(),
                        found.name()
                    );
                    self.diagnostics.push(Diagnostic::new(message).at(self.place(&expr.span)));
                }
                Some((first, other)) => method = Some((first.and(found), other.clone())),
                None => method = Some((found, symbol.into())),
            }
        }
        method.map(|(method, _)| method)
    }

    fn let_(&mut self, inner: &mut Let) {
        if let Some(give) = self.sheet.give(&inner.name) {
            if inner.say.is_empty() {
                inner.say = give.say.clone();
            }
            inner.unit = inner.unit.take().or_else(|| give.unit.clone());
        }
        let mut method = None;
        let mut kinds: Vec<(Kind, std::ops::Range<usize>)> = Vec::new();
        let mut later = match &inner.raw {
            Some(raw) => {
                let mut plain = self.scope.clone();
                for (name, span, unit) in &raw.symbols {
                    match plain.kinds.get(name).map(Kind::dim) {
                        None => {
                            let diagnostic = Diagnostic::new(format!("unknown symbol `{name}`")).at(self.place(span));
                            let known: Vec<&str> = self.scope.kinds.keys().map(String::as_str).collect();
                            self.diagnostics.push(diagnostic.nearest(name, known));
                        }
                        Some(dim) if dim == Some(unit.dim) => {
                            plain.kinds.insert(name.clone(), Kind::NUMBER);
                        }
                        Some(_) => {
                            let found = plain.kinds[name].named();
                            let message = format!("`{name}` is {found}, which cannot be put in as `{}`", unit.name());
                            self.diagnostics.push(Diagnostic::new(message).at(self.place(span)));
                            plain.kinds.insert(name.clone(), Kind::NUMBER);
                        }
                    }
                    let stands = inner.cases.iter().any(|case| case.value.symbols().contains(&name.as_str()));
                    if !stands {
                        let message = format!("`{name}` is not in the formula");
                        self.diagnostics.push(Diagnostic::new(message).at(self.place(span)));
                    }
                }
                plain
            }
            None => self.scope.clone(),
        };
        let several = inner.cases.len() > 1;
        // A later case is met with where the conditions before it do not hold.
        let mut left = self.scope.clone();
        for case in &mut inner.cases {
            let mut scope = later.clone();
            if let Some(condition) = &mut case.when {
                let result = check_condition(condition, &self.sheet.source, &left);
                self.keep(result);
                method = method.or(self.uses(&condition.clone()));
                scope.grant(condition, true);
            }
            // After a case that is a name, a bare word is one too.
            let names = matches!(kinds.first(), Some((Kind::Choice(_), _)));
            let result = match names {
                true => check_as(&mut case.value, &Kind::Text, &self.sheet.source, &scope),
                false => check_expr(&mut case.value, &self.sheet.source, &scope),
            };
            if let Some(kind) = self.keep(result) {
                kinds.push((kind, case.value.span.clone()));
            }
            if let Some(condition) = &case.when {
                left.grant(condition, false);
                later.grant(condition, false);
            }
            method = method.or(self.uses(&case.value.clone()));
        }
        let Some((first, _)) = kinds.first().cloned() else {
            // Bound all the same, so that one fault is not reported as many.
            self.bind(&inner.name, &inner.span, Kind::NUMBER, method);
            return;
        };
        let mut names = Vec::new();
        for (kind, span) in &kinds {
            match (kind, &first) {
                (Kind::Choice(more), Kind::Choice(_)) => {
                    names.extend(more.iter().filter(|name| !names.contains(*name)).cloned().collect::<Vec<_>>())
                }
                (kind, first) if first.accepts(kind) => {}
                (kind, first) => {
                    let message = format!("this case is {}, the first is {}", kind.named(), first.named());
                    self.diagnostics.push(Diagnostic::new(message).at(self.place(span)));
                }
            }
        }
        let mut kind = if names.is_empty() { first } else { Kind::Choice(names) };
        if let Some(raw) = &inner.raw {
            if kind.dim() == Some(Dim::NONE) {
                kind = Kind::Quantity(raw.giving.dim);
            } else {
                let message = format!("with plain numbers in it, `{}` is still {}", inner.name, kind.named());
                self.diagnostics.push(
                    Diagnostic::new(message)
                        .at(self.place(&inner.span))
                        .hint("name every symbol that has a unit after `where`"),
                );
            }
        }
        if let Some(unit) = &inner.unit
            && kind.dim() != Some(unit.dim)
        {
            let message = format!("`{}` is {}, which is not printed in `{}`", inner.name, kind.named(), unit.name());
            let span = if several { inner.span.clone() } else { inner.cases[0].value.span.clone() };
            let diagnostic = Diagnostic::new(message).at(self.place(&span)).label(format!("this is {}", kind.named()));
            self.diagnostics.push(diagnostic.hint(usual(&kind)));
        }
        self.bind(&inner.name, &inner.span, kind, method);
    }

    fn take(&mut self, inner: &mut Take) {
        let mut method = None;
        let Some(table) = self.tables.get(&inner.table).cloned() else {
            let diagnostic =
                Diagnostic::new(format!("unknown table `{}`", inner.table)).at(self.place(&inner.table_span));
            self.diagnostics.push(diagnostic.nearest(&inner.table, self.tables.keys().map(String::as_str)));
            for (symbol, _, span) in &inner.names {
                self.bind(symbol, span, Kind::NUMBER, None);
            }
            return;
        };
        if inner.keys.len() >= table.columns.len() {
            let message =
                format!("`{}` has {} columns, found {} keys", table.name, table.columns.len(), inner.keys.len());
            self.diagnostics.push(Diagnostic::new(message).at(self.place(&inner.table_span)));
            for (symbol, name, span) in &inner.names {
                self.bind(symbol, span, table.column(name).map_or(Kind::NUMBER, |column| column.kind.clone()), None);
            }
            return;
        }
        for ((key, between), column) in inner.keys.iter_mut().zip(&table.columns) {
            // A text is looked up when it is worked; a name that is written
            // out can be checked now.
            let result = check_key(key, &column.kind, &self.sheet.source, &self.scope);
            self.keep(result);
            method = method.or(self.uses(&key.clone()));
            if *between && column.kind.dim().is_none() {
                let message = format!("`{}` holds names; there is nothing between them", column.name);
                self.diagnostics.push(Diagnostic::new(message).at(self.place(&key.span)));
            }
        }
        for (symbol, name, span) in &inner.names {
            match table.column(name) {
                Some(column) => self.bind(symbol, span, column.kind.clone(), method),
                None => {
                    let diagnostic = Diagnostic::new(format!("the table `{}` has no column `{name}`", table.name));
                    let known = table.columns.iter().map(|column| column.name.as_str());
                    self.diagnostics.push(diagnostic.at(self.place(span)).nearest(name, known));
                    self.bind(symbol, span, Kind::NUMBER, method);
                }
            }
        }
    }

    fn figure(&mut self, inner: &mut Figure) {
        let Some(figures) = self.figures else {
            for (_, _, value) in std::mem::take(&mut inner.args) {
                self.uses(&value);
            }
            return;
        };
        let Some(known) = figures.iter().find(|known| known.name == inner.name).cloned() else {
            let diagnostic = Diagnostic::new(format!("unknown figure `{}`", inner.name)).at(self.place(&inner.span));
            self.diagnostics.push(diagnostic.nearest(&inner.name, figures.iter().map(|known| known.name.as_str())));
            return;
        };
        for (name, span, value) in &mut inner.args {
            self.uses(&value.clone());
            match known.inputs.iter().find(|(known, _)| known == name) {
                Some((_, kind)) => {
                    let result = check_as(value, kind, &self.sheet.source, &self.scope);
                    self.keep(result);
                }
                None => {
                    let diagnostic = Diagnostic::new(format!("the figure `{}` has no input `{name}`", inner.name));
                    let names = known.inputs.iter().map(|(name, _)| name.as_str());
                    self.diagnostics.push(diagnostic.at(self.place(span)).nearest(name, names));
                }
            }
        }
        let lacks = |name: &&(String, Kind)| !inner.args.iter().any(|(given, ..)| *given == name.0);
        let missing: Vec<&str> = known.inputs.iter().filter(lacks).map(|(name, _)| name.as_str()).collect();
        if !missing.is_empty() {
            let message = format!("the figure `{}` also needs {}", inner.name, crate::diag::list(&missing, "and"));
            self.diagnostics.push(Diagnostic::new(message).at(self.place(&inner.span)));
        }
    }

    /// Symbols that a page binds end with it.
    fn page(&mut self, inner: &mut Page) {
        self.only_shown(&inner.body);
        let before = self.scope.clone();
        self.body(&mut inner.body);
        let after = std::mem::replace(&mut self.scope, before);
        let ended: Vec<String> = after.kinds.into_keys().filter(|name| !self.scope.kinds.contains_key(name)).collect();
        self.scope.ended.extend(ended);
    }

    /// A page shows; what is checked and what is worked elsewhere stands outside,
    /// where the worked pages have it.
    fn only_shown(&mut self, body: &[Stmt]) {
        for stmt in body {
            let (what, span) = match stmt {
                Stmt::Must(rule) => (if rule.fit { "a fit" } else { "a limit" }, &rule.span),
                Stmt::Use(rule) => ("another sheet", &rule.span),
                Stmt::Place(rule) => ("an open place", &rule.span),
                Stmt::Page(page) => ("another page", &page.span),
                Stmt::When(when) => {
                    self.only_shown(&when.body);
                    self.only_shown(&when.otherwise);
                    continue;
                }
                _ => continue,
            };
            let message = format!("{what} does not belong on a page for the shop or the site");
            let hint = "put it before the page: what is worked there can be shown on it";
            self.diagnostics.push(Diagnostic::new(message).at(self.place(span)).hint(hint));
        }
    }

    fn piece(&mut self, inner: &mut Piece) {
        let result = check_expr(&mut inner.amount, &self.sheet.source, &self.scope);
        if let Some(kind) = self.keep(result)
            && kind.dim() != Some(inner.unit.as_ref().map_or(Dim::NONE, |unit| unit.dim))
        {
            let message = format!("the amount is {}", kind.named());
            let hint = "a piece is counted, or has a unit after it: `piece concrete \"concrete\" in ft^3`";
            self.diagnostics.push(Diagnostic::new(message).at(self.place(&inner.amount.span)).hint(hint));
        }
        self.uses(&inner.amount.clone());
        for value in &mut inner.values {
            let result = check_expr(value, &self.sheet.source, &self.scope);
            self.keep(result);
            self.uses(&value.clone());
        }
    }

    /// Symbols that begin like this are not looked for.
    fn close(&mut self, prefix: &str) {
        self.scope.wrong.insert(prefix.into());
    }

    fn when(&mut self, inner: &mut When) {
        let result = check_condition(&mut inner.condition, &self.sheet.source, &self.scope);
        self.keep(result);
        self.uses(&inner.condition.clone());
        let before = self.scope.clone();
        self.scope.grant(&inner.condition, true);
        self.body(&mut inner.body);
        let first = std::mem::replace(&mut self.scope, before.clone());
        self.scope.grant(&inner.condition, false);
        self.body(&mut inner.otherwise);
        let second = std::mem::replace(&mut self.scope, before);
        // What both branches bind has a value whichever is taken.
        for (name, kind) in &first.kinds {
            if self.scope.kinds.contains_key(name) {
                continue;
            }
            match second.kinds.get(name) {
                Some(other) => match join(kind, other) {
                    Some(joined) => {
                        self.scope.kinds.insert(name.clone(), joined);
                        if let Some(method) = first.methods.get(name) {
                            self.scope.methods.insert(name.clone(), *method);
                        }
                    }
                    None => {
                        let message = format!(
                            "`{name}` is {} under `when` and {} under `otherwise`",
                            kind.named(),
                            other.named()
                        );
                        self.diagnostics.push(Diagnostic::new(message).at(self.place(&inner.condition.span)));
                    }
                },
                None => {
                    self.scope.closed.insert(name.clone());
                }
            }
        }
        let only_second = second.kinds.keys().filter(|name| !first.kinds.contains_key(*name));
        self.scope
            .closed
            .extend(only_second.filter(|name| !self.scope.kinds.contains_key(*name)).cloned().collect::<Vec<_>>());
        self.scope.closed.extend(first.closed);
        self.scope.closed.extend(second.closed);
    }

    fn must(&mut self, inner: &mut Must) {
        let result = check_condition(&mut inner.condition, &self.sheet.source, &self.scope);
        self.keep(result);
        self.uses(&inner.condition.clone());
    }

    /// A symbol that a statement names.
    fn named(&mut self, (name, span): &(String, std::ops::Range<usize>)) {
        self.used.insert(name.clone());
        if !self.scope.kinds.contains_key(name) {
            let message = self.scope.why_not(name).unwrap_or(format!("unknown symbol `{name}`"));
            let known = self.scope.kinds.keys().map(String::as_str);
            self.diagnostics.push(Diagnostic::new(message).at(self.place(span)).hint_near(name, known));
        }
    }

    fn unused(&mut self) {
        // A statement that is wrong may be the one that uses it.
        if !self.diagnostics.is_empty() {
            return;
        }
        for input in &self.sheet.inputs {
            if !self.used.contains(&input.name) && self.sheet.give(&input.name).is_none() {
                self.diagnostics.push(
                    Diagnostic::new(format!("the input `{}` is not used", input.name))
                        .at(self.sheet.place(&input.span))
                        .hint("use it in a formula, or take it out of `needs`"),
                );
            }
        }
    }
}

/// The unit that a value of a kind is usually printed in.
fn usual(kind: &Kind) -> String {
    match kind.dim().map(crate::quantity::Unit::usual) {
        Some(unit) if !unit.name().is_empty() => format!("print it in `{}` for example", unit.name()),
        _ => "leave the unit out".into(),
    }
}

fn check_key(expr: &mut Expr, column: &Kind, source: &Arc<crate::source::Source>, scope: &Scope) -> Checked<Kind> {
    match column {
        Kind::Choice(_) => check_as(expr, &Kind::Text, source, scope),
        kind => check_as(expr, kind, source, scope),
    }
}

fn join(a: &Kind, b: &Kind) -> Option<Kind> {
    match (a, b) {
        (Kind::Choice(a), Kind::Choice(b)) => {
            let mut names = a.clone();
            names.extend(b.iter().filter(|name| !a.contains(name)).cloned());
            Some(Kind::Choice(names))
        }
        _ if a.accepts(b) => Some(a.clone()),
        _ => None,
    }
}
