//! From the tree of a sheet, and of all that it uses, to one flat program.

mod formula;
mod slots;

use formula::{nothing, value_held, written};
use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

use super::op::{Bounds, Op};
use super::{
    ALL, Block, Decision, Fact, Handed, Held, Limit, Lists, Lookup, NOTHING, Program, Reached, Slot, Symbol, UnitOf,
    encode, held,
};
use crate::diag::{Checked, Diagnostic, Diagnostics};
use crate::formula::{BinOp, Expr, Kind, Node, Value};
use crate::quantity::Dim;
use crate::sheet::{
    Decide, Hand, Input, Let, Library, Methods, Must, OpenPlace, Piece, Sheet, Stmt, Table, Take, Texts, Use, When,
};

/// Slots that are worked anew in each combination are counted apart; while
/// nobody knows how many others there are, they begin here.
const FAR: Slot = 1 << 24;

impl Program {
    /// Compiles a sheet with all that it uses.
    ///
    /// # Errors
    /// A page for the shop or the site, or a piece to order, that the load
    /// combination would change.
    pub fn new(library: &Library, sheet: &Arc<Sheet>) -> Checked<Program> {
        // The first pass only counts the slots that no load reaches.
        let varying = Compiler::new(library, FAR).whole(sheet).once;
        let mut compiler = Compiler::new(library, varying);
        compiler.whole(sheet);
        if !compiler.diagnostics.is_empty() {
            return Err(compiler.diagnostics);
        }
        let mut image = vec![f64::NAN; compiler.each as usize];
        for (slot, value) in &compiler.constants {
            image[*slot as usize] = *value;
        }
        let lists = compiler.close();
        Ok(Program {
            sheet: sheet.clone(),
            facts: compiler.facts,
            limits: compiler.limits,
            decisions: compiler.decisions,
            handed: compiler.handed,
            tables: compiler.tables,
            uses: compiler.uses,
            texts: compiler.texts,
            image,
            varying: varying as usize,
            lists,
            bounds: compiler.bounds,
            lookups: compiler.lookups,
            symbols: compiler.symbols,
            units: compiler.units,
            blocks: compiler.blocks,
            reacting: Default::default(),
        })
    }
}

/// Where a value stands, and what is known of it before anything runs.
#[derive(Clone, Copy, Debug)]
struct Place {
    slot: Slot,
    held: Held,
    /// A load enters it.
    varies: bool,
    /// In the combinations of which methods it has a value.
    methods: u8,
    /// Index of what tells the unit that it is printed in.
    unit: usize,
}

type Scope = BTreeMap<String, Place>;

struct Compiler<'a> {
    library: &'a Library,
    /// The next free slot of each kind.
    once: Slot,
    each: Slot,
    constants: Vec<(Slot, f64)>,
    facts: Vec<Fact>,
    limits: Vec<Arc<Limit>>,
    decisions: Vec<Decision>,
    handed: Vec<Arc<Handed>>,
    /// Those that are looked into, and the number of the first row of each.
    tables: Vec<(usize, Arc<Table>)>,
    uses: Vec<Arc<Reached>>,
    texts: Texts,
    bounds: Vec<Bounds>,
    /// The bounds that the value of a slot lies within, if it has one.
    within: HashMap<Slot, usize>,
    lookups: Vec<Lookup>,
    symbols: Vec<Symbol>,
    units: Vec<UnitOf>,
    /// What was worked already, by block: an operation that stands twice has
    /// one slot.
    known: Vec<HashMap<(Op, u8), Slot>>,
    /// The operations of each block that is open.
    lists: Vec<Lists>,
    methods: u8,
    /// The loads decide whether the block is entered.
    varying: bool,
    /// The loads decide which of two blocks of this sheet is entered: what is
    /// worked in either differs between combinations.
    either: bool,
    /// The block that is open, and all blocks.
    block: usize,
    blocks: Vec<Block>,
    /// The page or piece that is compiled must not depend on the loads.
    fixed: bool,
    diagnostics: Diagnostics,
}

impl<'a> Compiler<'a> {
    fn new(library: &'a Library, each: Slot) -> Compiler<'a> {
        Compiler {
            library,
            once: NOTHING + 1,
            each,
            constants: Vec::new(),
            facts: Vec::new(),
            limits: Vec::new(),
            decisions: Vec::new(),
            handed: Vec::new(),
            tables: Vec::new(),
            uses: Vec::new(),
            texts: library.texts().clone(),
            bounds: Vec::new(),
            within: HashMap::new(),
            lookups: Vec::new(),
            symbols: Vec::new(),
            units: vec![UnitOf::Plain],
            known: vec![HashMap::new()],
            lists: vec![Lists::default()],
            methods: ALL,
            varying: false,
            either: false,
            block: 0,
            blocks: vec![Block { above: 0, condition: NOTHING, holds: true }],
            fixed: false,
            diagnostics: Diagnostics::new(),
        }
    }

    fn whole(&mut self, sheet: &Arc<Sheet>) -> &Compiler<'a> {
        let mut given = Scope::new();
        for input in &sheet.inputs {
            if !self.library.of_a_file(input) {
                let place = self.fact(input);
                given.insert(input.name.clone(), place);
            }
        }
        self.sheet(sheet, &sheet.name, sheet.name.clone(), given);
        self
    }

    /// Compiles one use of a sheet; what its symbols are.
    fn sheet(&mut self, sheet: &Arc<Sheet>, name: &str, path: String, given: Scope) -> Scope {
        let methods = self.methods;
        self.methods &= sheet.method.map_or(ALL, Methods::bits);
        let either = std::mem::replace(&mut self.either, false);
        let slot = self.slot(self.varying);
        self.reach(Op::Reach { to: slot }, false, ALL);
        let of = self.uses.len();
        let (name, sheet_of, methods_of) = (name.into(), sheet.clone(), self.methods);
        self.uses.push(Arc::new(Reached { path: path.clone(), name, sheet: sheet_of, slot, methods: methods_of }));
        let mut scope = Scope::new();
        for input in &sheet.inputs {
            let mut place = match given.get(&input.name) {
                Some(place) => self.bounded(input, *place),
                None if self.library.of_a_file(input) => {
                    let place = self.fact(input);
                    if let Some(fact) = self.facts.iter_mut().find(|fact| fact.slot == place.slot) {
                        fact.readers.push(of);
                    }
                    self.bounded(input, place)
                }
                None => match &input.default {
                    Some(default) => {
                        let place = self.default(default);
                        self.bounded(input, place)
                    }
                    None => continue,
                },
            };
            if let Some(unit) = &input.unit {
                place.unit = self.fixed_unit(unit);
            }
            scope.insert(input.name.clone(), place);
        }
        self.body(&sheet.body, sheet, of, &path, &mut scope);
        self.record(&scope, &Scope::new(), &path, of);
        // What it only passes on belongs to its combinations too.
        scope.values_mut().for_each(|place| place.methods &= self.methods);
        self.methods = methods;
        self.either = either;
        scope
    }

    /// Enters symbols that were bound in a block, so that their values can be
    /// read after a run.
    fn record(&mut self, scope: &Scope, before: &Scope, path: &str, of: usize) {
        let own = path.split_once('/').map_or(String::new(), |(_, below)| format!("{}.", below.replace('/', ".")));
        let new = scope.iter().filter(|(name, _)| !name.contains('.') && !before.contains_key(*name));
        self.symbols.extend(new.map(|(name, place)| Symbol {
            name: format!("{own}{name}"),
            own: own.len(),
            of,
            block: self.block,
            slot: place.slot,
            held: place.held,
            unit: place.unit,
        }));
    }

    /// Opens a block that is entered where a condition holds, or where it does
    /// not; the block before.
    fn enter(&mut self, condition: Place, holds: bool) -> usize {
        self.open();
        self.blocks.push(Block { above: self.block, condition: condition.slot, holds });
        std::mem::replace(&mut self.block, self.blocks.len() - 1)
    }

    /// The place of an input that a job gives: one for a column, whoever reads it.
    fn fact(&mut self, input: &Input) -> Place {
        let file = self.library.of_a_file(input);
        let known = self.facts.iter().find(|fact| match file {
            true => fact.from == input.from,
            false => fact.input.name == input.name,
        });
        let varies = file && input.from.as_ref().is_some_and(|from| from.source == "combination");
        let slot = match known {
            Some(fact) => fact.slot,
            None => {
                // Loads are set from outside: a new combination does not forget them.
                let slot = self.slot(false);
                let place = input.default.as_ref().map(|default| self.default(default));
                let default = place.and_then(|place| self.constants.iter().find(|(slot, _)| *slot == place.slot));
                let default = default.map(|(_, value)| *value);
                let default_unit = place.map_or(0, |place| place.unit);
                let (from, input) = (input.from.clone(), input.clone());
                let units = input.written();
                self.facts.push(Fact { from, input, units, slot, default, default_unit, varies, readers: Vec::new() });
                slot
            }
        };
        let at = self.facts.iter().position(|fact| fact.slot == slot).unwrap_or(0);
        let unit = self.unit(UnitOf::Fact(at));
        Place { slot, held: held(&input.kind), varies, methods: ALL, unit }
    }

    fn default(&mut self, default: &Expr) -> Place {
        match written(default) {
            Some(Value::Text(name)) => self.name(&name),
            Some(value) => {
                let held = value_held(&value);
                let place = self.constant(encode(&value, &self.texts), held);
                let unit = self.same_unit(default, held, &Scope::new());
                Place { unit, ..place }
            }
            None => nothing(),
        }
    }

    /// An input within its bounds.
    fn bounded(&mut self, input: &Input, place: Place) -> Place {
        let limit = |(op, limit): &(BinOp, Expr)| Some((*op, encode(&written(limit)?, &self.texts)));
        let limits: Vec<(BinOp, f64)> = input.bounds.iter().filter_map(limit).collect();
        let count = input.kind == Kind::Count;
        if limits.is_empty() && !count {
            return place;
        }
        let bounds = Bounds::new(limits, count);
        // A sheet passes on what it was given within the same bounds, or narrower ones.
        if self.within.get(&place.slot).is_some_and(|at| bounds.follow_from(&self.bounds[*at])) {
            return place;
        }
        let at = self.bounds.iter().position(|known| *known == bounds).unwrap_or_else(|| {
            self.bounds.push(bounds);
            self.bounds.len() - 1
        });
        let inside = self.worked(place.held, &[place], |to| Op::Bound { to, a: place.slot, bounds: at as u32 });
        self.within.insert(inside.slot, at);
        self.reach(Op::Within { a: place.slot, bound: inside.slot }, inside.varies, inside.methods);
        Place { unit: place.unit, ..inside }
    }

    fn body(&mut self, body: &[Stmt], sheet: &Arc<Sheet>, of: usize, path: &str, scope: &mut Scope) {
        for stmt in body {
            match stmt {
                Stmt::Heading(_) | Stmt::Prose(_) | Stmt::Note(_) => {}
                Stmt::Figure(figure) => {
                    for (_, _, value) in &figure.args {
                        let place = self.expr(value, scope);
                        self.need(place, sheet, &value.span);
                    }
                }
                Stmt::Let(rule) => self.let_(rule, sheet, scope),
                Stmt::Take(rule) => self.take(rule, sheet, scope),
                Stmt::Use(rule) => self.use_(rule, sheet, path, scope),
                Stmt::Place(place) => self.place(place, sheet, path, scope),
                Stmt::When(when) => self.when(when, sheet, of, path, scope),
                Stmt::Must(rule) => self.must(rule, sheet, of, scope),
                Stmt::Decide(rule) => self.decide(rule, sheet, of, scope),
                Stmt::Hand(rule) => self.hand(rule, sheet, of, scope),
                Stmt::Page(page) => {
                    let before = std::mem::replace(&mut self.fixed, true);
                    let mut inner = scope.clone();
                    self.body(&page.body, sheet, of, path, &mut inner);
                    self.fixed = before;
                }
                Stmt::Piece(piece) => self.piece(piece, sheet, scope),
            }
        }
    }

    /// A line needs a value; for the shop and the site it is the same in every
    /// combination.
    fn need(&mut self, place: Place, sheet: &Arc<Sheet>, span: &std::ops::Range<usize>) {
        if self.fixed && (place.varies || self.varying) {
            let message = "the load combination changes this, which goes to the shop or the site";
            self.diagnostics.push(
                Diagnostic::new(message)
                    .at(sheet.place(span))
                    .hint("what is made and set is one thing for all combinations: take it from what the files say"),
            );
        }
        if place.methods & self.methods != 0 {
            self.reach(Op::Need { a: place.slot }, place.varies, place.methods);
        }
    }

    fn let_(&mut self, rule: &Let, sheet: &Arc<Sheet>, scope: &mut Scope) {
        let plain;
        let values = match &rule.raw {
            None => &*scope,
            Some(raw) => {
                let mut inner = scope.clone();
                for (name, _, unit) in &raw.symbols {
                    let (up, down) = unit.factors();
                    let place = self.symbol(name, scope);
                    inner.insert(name.clone(), self.scaled(place, down, up, Dim::NONE));
                }
                plain = inner;
                &plain
            }
        };
        let mut result: Option<Place> = None;
        // From the last case to the first, each before what is left.
        for case in rule.cases.iter().rev() {
            let mut value = self.expr(&case.value, values);
            value.unit = self.same_unit(&case.value, value.held, scope);
            result = Some(match &case.when {
                None => value,
                Some(condition) => {
                    let condition = self.expr(condition, scope);
                    let otherwise = result.unwrap_or(Place { held: value.held, methods: ALL, ..nothing() });
                    self.select(condition, value, otherwise)
                }
            });
        }
        let Some(mut place) = result else { return };
        if let Some(raw) = &rule.raw {
            let (up, down) = raw.giving.factors();
            place = self.scaled(place, up, down, raw.giving.dim);
            place.unit = self.fixed_unit(&raw.giving);
        }
        if let Some(unit) = &rule.unit {
            place.unit = self.fixed_unit(unit);
        }
        self.need(place, sheet, &rule.span);
        scope.insert(rule.name.clone(), place);
    }

    fn scaled(&mut self, place: Place, by: f64, over: f64, dim: Dim) -> Place {
        let held = Held::Quantity(dim);
        // By equal factors other than one, the last bit may still change.
        if (by, over) == (1.0, 1.0) {
            return Place { held, ..place };
        }
        let (by, over) = (self.constant(by, held), self.constant(over, held));
        self.worked(held, &[place], |to| Op::Scale { to, a: place.slot, by: by.slot, over: over.slot })
    }

    fn select(&mut self, condition: Place, then: Place, otherwise: Place) -> Place {
        let varies = condition.varies || then.varies || otherwise.varies;
        // A case that is not taken need not have a value.
        let methods = condition.methods & (then.methods | otherwise.methods);
        let widen = |place: Place| Place { varies, methods, ..place };
        let of = [widen(condition), widen(then), widen(otherwise)];
        let unit = UnitOf::Select { condition: condition.slot, then: then.unit, otherwise: otherwise.unit };
        let unit = if then.unit == otherwise.unit { then.unit } else { self.unit(unit) };
        let (condition, then, otherwise) = (condition.slot, then.slot, otherwise.slot);
        let place = self.worked(of[1].held, &of, |to| Op::Select { to, condition, then, otherwise });
        Place { unit, ..place }
    }

    fn take(&mut self, rule: &Take, sheet: &Arc<Sheet>, scope: &mut Scope) {
        let Some(table) = self.library.table(&rule.table).cloned() else { return };
        let keys: Vec<(Place, bool)> =
            rule.keys.iter().map(|(key, between)| (self.expr(key, scope), *between)).collect();
        let varies = keys.iter().any(|(place, _)| place.varies);
        let methods = keys.iter().fold(self.methods, |methods, (place, _)| methods & place.methods);
        let mut columns = Vec::new();
        let mut places = Vec::new();
        for (symbol, name, _) in &rule.names {
            let Some(column) = table.columns.iter().position(|column| column.name == *name) else { continue };
            let slot = self.slot(varies);
            let unit = self.fixed_unit(&table.columns[column].print);
            let place = Place { slot, held: held(&table.columns[column].kind), varies, methods, unit };
            columns.push((column, slot));
            places.push((symbol.clone(), place));
        }
        let at = self.lookups.len() as u32;
        let keys = keys.into_iter().map(|(place, between)| (place.slot, between)).collect();
        let first = self.rows_of(&table);
        self.lookups.push(Lookup { table, keys, columns, first });
        self.emit(Op::Lookup { at }, varies, methods);
        for (symbol, place) in places {
            self.need(place, sheet, &rule.span);
            scope.insert(symbol, place);
        }
    }

    /// The number of the first row of a table among the rows of all.
    fn rows_of(&mut self, table: &Arc<Table>) -> usize {
        let known = self.tables.iter().find(|(_, known)| Arc::ptr_eq(known, table));
        known.map(|(first, _)| *first).unwrap_or_else(|| {
            let first = self.tables.last().map_or(0, |(first, table)| first + table.height());
            self.tables.push((first, table.clone()));
            first
        })
    }

    fn use_(&mut self, rule: &Use, sheet: &Arc<Sheet>, path: &str, scope: &mut Scope) {
        if let Some(symbols) = self.used(rule, sheet, path, scope) {
            let own = symbols.into_iter().filter(|(name, _)| !name.contains('.'));
            scope.extend(own.map(|(name, place)| (format!("{}.{name}", rule.name), place)));
        }
    }

    /// The symbols of a sheet that is used; none if it is one of the other method.
    fn used(&mut self, rule: &Use, sheet: &Arc<Sheet>, path: &str, scope: &Scope) -> Option<Scope> {
        let inner = self.library.sheet(&rule.sheet)?.clone();
        let methods = self.methods;
        if methods & inner.method.map_or(ALL, Methods::bits) == 0 {
            return None;
        }
        // What is passed is needed only where the sheet is worked.
        self.methods &= inner.method.map_or(ALL, Methods::bits);
        let mut given = Scope::new();
        for (name, span, value) in &rule.args {
            let mut place = self.expr(value, scope);
            if !matches!(value.node, Node::Symbol(_)) {
                place.unit = self.same_unit(value, place.held, scope);
            }
            let optional = inner.input(name).is_some_and(|input| input.optional);
            if !optional {
                self.need(place, sheet, span);
            }
            given.insert(name.clone(), place);
        }
        // A page belongs to the sheet that it stands in.
        let fixed = std::mem::replace(&mut self.fixed, false);
        let symbols = self.sheet(&inner, &rule.name, format!("{path}/{}", rule.name), given);
        self.fixed = fixed;
        self.methods = methods;
        Some(symbols)
    }

    fn place(&mut self, rule: &OpenPlace, sheet: &Arc<Sheet>, path: &str, scope: &mut Scope) {
        let column = self.symbol(&rule.column, scope);
        self.need(column, sheet, &rule.span);
        let varying = self.varying;
        self.varying |= column.varies;
        let mut blocks = Vec::new();
        let mut conditions = Vec::new();
        let mut found = Vec::new();
        for (value, choice) in &rule.choices {
            let name = self.name(value);
            conditions.push(self.worked(Held::Truth, &[column, name], |to| Op::Compare {
                to,
                op: BinOp::Is,
                a: column.slot,
                b: name.slot,
            }));
            let before = self.enter(conditions[conditions.len() - 1], true);
            found.push(self.used(choice, sheet, path, scope).unwrap_or_default());
            self.block = before;
            blocks.push(self.close());
        }
        for give in &rule.gives {
            let unit = Place { held: held(&give.kind), ..nothing() };
            let of: Vec<Place> = found.iter().map(|symbols| symbols.get(&give.name).copied().unwrap_or(unit)).collect();
            if !of.is_empty() {
                let place = self.join(&of, &conditions, self.varying, &mut blocks);
                scope.insert(format!("{}.{}", rule.name, give.name), place);
            }
        }
        self.varying = varying;
        for (condition, block) in conditions.into_iter().zip(blocks) {
            self.branch(condition, block, Lists::default());
        }
    }

    fn when(&mut self, rule: &When, sheet: &Arc<Sheet>, of: usize, path: &str, scope: &mut Scope) {
        let condition = self.expr(&rule.condition, scope);
        self.need(condition, sheet, &rule.condition.span);
        let (varying, either) = (self.varying, self.either);
        self.varying |= condition.varies;
        self.either |= condition.varies && !rule.otherwise.is_empty();
        let mut scopes = Vec::new();
        let mut blocks = Vec::new();
        let mut inside = Vec::new();
        for (body, holds) in [(&rule.body, true), (&rule.otherwise, false)] {
            let mut inner = scope.clone();
            let before = self.enter(condition, holds);
            self.body(body, sheet, of, path, &mut inner);
            inside.push(std::mem::replace(&mut self.block, before));
            blocks.push(self.close());
            scopes.push(inner);
        }
        // What both branches bind has a value whichever is taken.
        let both: Vec<(&String, [Place; 2])> = scopes[0]
            .iter()
            .filter(|(name, _)| !scope.contains_key(*name))
            .filter_map(|(name, first)| Some((name, [*first, *scopes[1].get(name)?])))
            .collect();
        for (name, of) in both {
            let place = self.join(&of, &[condition], condition.varies, &mut blocks);
            scope.insert(name.clone(), place);
        }
        for (inner, block) in scopes.iter().zip(inside) {
            let before = std::mem::replace(&mut self.block, block);
            self.record(inner, scope, path, of);
            self.block = before;
        }
        (self.varying, self.either) = (varying, either);
        let mut blocks = blocks.into_iter();
        if let (Some(then), Some(otherwise)) = (blocks.next(), blocks.next()) {
            self.branch(condition, then, otherwise);
        }
    }

    fn must(&mut self, rule: &Arc<Must>, sheet: &Arc<Sheet>, of: usize, scope: &Scope) {
        let condition = self.expr(&rule.condition, scope);
        let methods = condition.methods & self.methods;
        if methods == 0 {
            return;
        }
        self.need(condition, sheet, &rule.span);
        let varies = condition.varies || self.either;
        let state = self.slot(condition.varies || self.varying);
        self.reach(Op::Copy { to: state, a: condition.slot }, condition.varies, methods);
        let quantity = |place: &Place| matches!(place.held, Held::Quantity(_));
        let sides = rule.sides().map(|(demand, capacity)| {
            [(demand, capacity), (capacity, demand)].map(|(expr, other)| self.side(expr, other, scope))
        });
        let sides = sides.filter(|sides| sides.iter().all(quantity));
        let sides = sides.map(|sides| sides.map(|place| (place.slot, place.unit)));
        self.limits.push(Arc::new(Limit { of, rule: rule.clone(), varies, methods, state, sides }));
    }

    /// What is decided is one thing for all combinations.
    fn decide(&mut self, rule: &Arc<Decide>, sheet: &Arc<Sheet>, of: usize, scope: &Scope) {
        let before = std::mem::replace(&mut self.fixed, true);
        let values: Vec<Place> = rule.values.iter().map(|(name, _)| self.symbol(name, scope)).collect();
        for (place, (_, span)) in values.iter().zip(&rule.values) {
            self.need(*place, sheet, span);
        }
        self.fixed = before;
        let reached = self.slot(false);
        self.reach(Op::Reach { to: reached }, false, ALL);
        let values = values.iter().map(|place| (place.slot, place.held, place.unit)).collect();
        self.decisions.push(Decision { of, rule: rule.clone(), reached, values });
    }

    /// What is handed to others, where it is met with.
    fn hand(&mut self, rule: &Arc<Hand>, sheet: &Arc<Sheet>, of: usize, scope: &Scope) {
        let place = self.symbol(&rule.value.0, scope);
        self.need(place, sheet, &rule.value.1);
        let methods = place.methods & self.methods;
        let reached = self.slot(place.varies || self.varying);
        self.reach(Op::Reach { to: reached }, place.varies, methods);
        let handed =
            Handed { of, rule: rule.clone(), methods, reached, value: place.slot, held: place.held, unit: place.unit };
        self.handed.push(Arc::new(handed));
    }

    /// A side of a limit; a bare literal is printed like the value it bounds.
    fn side(&mut self, expr: &Expr, other: &Expr, scope: &Scope) -> Place {
        let mut place = self.expr(expr, scope);
        let bare = matches!(expr.node, Node::Literal { .. } | Node::Number(_)) && expr.written_unit().is_none();
        place.unit = self.same_unit(if bare { other } else { expr }, place.held, scope);
        place
    }

    fn piece(&mut self, rule: &Piece, sheet: &Arc<Sheet>, scope: &Scope) {
        let before = std::mem::replace(&mut self.fixed, true);
        for expr in std::iter::once(&rule.amount).chain(&rule.values) {
            let place = self.expr(expr, scope);
            self.need(place, sheet, &expr.span);
        }
        self.fixed = before;
    }
}
