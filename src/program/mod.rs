//! Sheets as flat programs on numbers.
//!
//! A sheet with all that it uses is compiled once: each symbol of each use gets
//! a slot, each formula a few operations on slots. What the load combination
//! does not reach is worked once for a post, the rest once for each
//! combination; a value that was worked before from the same values is not
//! worked again, whoever asks for it.

mod compile;
mod forward;
mod op;
mod partials;
mod slopes;

use std::collections::BTreeSet;
use std::sync::Arc;

pub use forward::Leaning;
pub use op::{Bounds, Op};
pub use slopes::{Cone, Room, Slopes};

use jiff::civil::Date;

use crate::formula::{Kind, Value};
use crate::quantity::{Dim, Quantity, Unit};
use crate::sheet::{Decide, From, Hand, Hit, Input, Method, Methods, Must, Sheet, Table, Texts};

/// What is worked once, then what is worked in the combinations of each method.
type Lists = [Vec<Op>; 1 + Method::ALL.len()];

/// Where a value stands in the memory of a program.
pub type Slot = u32;

/// The slot of what has no value.
const NOTHING: Slot = 0;

/// What a slot holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    Quantity(Dim),
    Name,
    Date,
    Truth,
}

/// A compiled sheet.
#[derive(Debug)]
pub struct Program {
    pub sheet: Arc<Sheet>,
    pub facts: Vec<Fact>,
    pub limits: Vec<Arc<Limit>>,
    pub decisions: Vec<Decision>,
    pub handed: Vec<Arc<Handed>>,
    /// Those that are looked into, and the number of the first row of each among all.
    tables: Vec<(usize, Arc<Table>)>,
    /// In the order in which they are reached, the sheet itself first.
    pub uses: Vec<Arc<Reached>>,
    texts: Texts,
    /// The memory before a run: constants, and nothing elsewhere.
    image: Vec<f64>,
    /// Slots from here on are worked anew in each combination.
    varying: usize,
    lists: Lists,
    bounds: Vec<Bounds>,
    lookups: Vec<Lookup>,
    symbols: Vec<Symbol>,
    units: Vec<UnitOf>,
    /// The first is the program itself.
    blocks: Vec<Block>,
    reacting: slopes::Reacting,
}

/// A symbol of one use of a sheet.
#[derive(Debug)]
pub struct Symbol {
    /// With the uses above: `pins.pin-yield.Z`.
    name: String,
    /// Where the symbol itself begins.
    own: usize,
    /// Index in `uses`.
    pub of: usize,
    /// The block that it is bound in.
    block: usize,
    pub slot: Slot,
    pub held: Held,
    unit: usize,
}

/// A block of a `when` or of an open place.
#[derive(Debug)]
struct Block {
    above: usize,
    condition: Slot,
    holds: bool,
}

impl Symbol {
    /// With the uses above, joined by dots.
    pub fn path(&self) -> &str {
        &self.name
    }

    /// Without the uses above.
    pub fn name(&self) -> &str {
        &self.name[self.own..]
    }
}

/// What tells the unit that a value is printed in.
#[derive(Clone, Debug, PartialEq)]
enum UnitOf {
    /// None: a name, a date, a plain number.
    Plain,
    Fixed(Arc<Unit>),
    /// As it was typed.
    Fact(usize),
    Select {
        condition: Slot,
        then: usize,
        otherwise: usize,
    },
}

/// What a program has to be given: a cell, a key, a load.
#[derive(Clone, Debug)]
pub struct Fact {
    /// None for an input that says of no file that it comes from there.
    pub from: Option<From>,
    /// The declaration that names it first.
    pub input: Input,
    /// The units that people write it in.
    pub units: Vec<Unit>,
    pub slot: Slot,
    /// It is taken if the job does not give it.
    pub default: Option<f64>,
    default_unit: usize,
    /// The combination brings it.
    pub varies: bool,
    /// The uses of sheets that read it, as indices in `uses`.
    pub readers: Vec<usize>,
}

/// A use of a sheet, anywhere below the root.
#[derive(Debug)]
pub struct Reached {
    /// `post/made-base/pins`.
    pub path: String,
    /// The name that its symbols are reached by in the sheet above.
    pub name: String,
    pub sheet: Arc<Sheet>,
    slot: Slot,
    methods: u8,
}

/// A limit or a fit of one use of a sheet.
#[derive(Debug)]
pub struct Limit {
    /// Index in `uses`.
    pub of: usize,
    pub rule: Arc<Must>,
    /// Loads enter it, or decide whether it is met with.
    pub varies: bool,
    methods: u8,
    state: Slot,
    /// Demand and capacity: slot, and what tells its unit.
    sides: Option<[(Slot, usize); 2]>,
}

/// A question that is left to an engineer, in one use of a sheet.
#[derive(Debug)]
pub struct Decision {
    /// Index in `uses`.
    pub of: usize,
    pub rule: Arc<Decide>,
    reached: Slot,
    /// What is decided: slot, what it holds, what tells its unit.
    values: Vec<(Slot, Held, usize)>,
}

/// A force that is handed to others, in one use of a sheet.
#[derive(Debug)]
pub struct Handed {
    /// Index in `uses`.
    pub of: usize,
    pub rule: Arc<Hand>,
    methods: u8,
    reached: Slot,
    value: Slot,
    held: Held,
    unit: usize,
}

/// How a limit came out in one run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outcome {
    pub ok: bool,
    /// Demand and capacity in base units, of a limit that is a ratio.
    pub sides: Option<[f64; 2]>,
}

/// `take` as a program does it.
#[derive(Debug)]
struct Lookup {
    table: Arc<Table>,
    keys: Vec<(Slot, bool)>,
    /// Columns, and where their values go.
    columns: Vec<(usize, Slot)>,
    /// The number of the table's first row among those of all tables.
    first: usize,
}

impl Lookup {
    fn run(&self, slots: &mut [f64], looked: &mut BTreeSet<usize>) {
        let keys: Vec<(f64, bool)> =
            self.keys.iter().map(|(slot, between)| (slots[*slot as usize], *between)).collect();
        let known = keys.iter().all(|(key, _)| !key.is_nan());
        let hit: Option<Hit> = if known { self.table.locate(&keys) } else { None };
        match hit {
            Some(Hit::Row(row)) => drop(looked.insert(self.first + row)),
            Some(Hit::Between(a, b, _)) => looked.extend([self.first + a, self.first + b]),
            None => {}
        }
        for (column, to) in &self.columns {
            slots[*to as usize] = hit.map_or(f64::NAN, |hit| self.table.read_at(hit, *column));
        }
    }
}

/// The values of one run.
#[derive(Clone, Debug)]
pub struct Memory {
    slots: Vec<f64>,
    /// Something that was needed has no value.
    pub faulty: bool,
    /// The facts that the job gives, by their index.
    given: BTreeSet<usize>,
    /// The rows of tables that were looked up since the memory was cleared.
    looked: BTreeSet<usize>,
}

impl Memory {
    pub fn get(&self, slot: Slot) -> f64 {
        self.slots[slot as usize]
    }

    pub fn set(&mut self, slot: Slot, value: f64) {
        self.slots[slot as usize] = value;
    }
}

fn mask(method: Method) -> u8 {
    1 << method as u8
}

const ALL: u8 = Methods::ALL.bits();

impl Program {
    pub fn memory(&self) -> Memory {
        Memory { slots: self.image.clone(), faulty: false, given: BTreeSet::new(), looked: BTreeSet::new() }
    }

    /// Forgets a run, so that the facts of another post can be set.
    pub fn clear(&self, memory: &mut Memory) {
        memory.slots.copy_from_slice(&self.image);
        memory.faulty = false;
        memory.looked.clear();
        memory.given.clear();
    }

    /// Works what no load reaches anew, from facts that were changed.
    pub fn once_again(&self, memory: &mut Memory) {
        let facts: Vec<f64> = self.facts.iter().map(|fact| memory.get(fact.slot)).collect();
        memory.slots.copy_from_slice(&self.image);
        self.facts.iter().zip(facts).for_each(|(fact, value)| memory.set(fact.slot, value));
        memory.faulty = false;
        self.run_once(memory);
    }

    /// Sets a fact that the job gives.
    pub fn give(&self, memory: &mut Memory, at: usize, value: f64) {
        memory.set(self.facts[at].slot, value);
        memory.given.insert(at);
    }

    /// Facts that the job does not give and for which a default is taken.
    pub fn taken<'a>(&'a self, memory: &'a Memory) -> impl Iterator<Item = (usize, &'a Fact)> {
        let facts = self.facts.iter().enumerate();
        let taken =
            |at: &usize, fact: &Fact| fact.default.is_some() && fact.from.is_some() && !memory.given.contains(at);
        facts.filter(move |(at, fact)| !fact.varies && taken(at, fact))
    }

    /// Works what no load reaches, once the facts are set.
    pub fn run_once(&self, memory: &mut Memory) {
        op::run(&self.lists[0], memory, &self.bounds, &self.lookups);
    }

    /// Works one combination, once the loads are set: forgets the one before.
    pub fn run(&self, memory: &mut Memory, method: Method) {
        memory.slots[self.varying..].fill(f64::NAN);
        op::run(&self.lists[method as usize + 1], memory, &self.bounds, &self.lookups);
    }

    /// How a limit came out in the last run; none if it was not met with.
    pub fn outcome(&self, limit: &Limit, memory: &Memory, method: Option<Method>) -> Option<Outcome> {
        let state = memory.get(limit.state);
        if state.is_nan() || method.is_some_and(|method| limit.methods & mask(method) == 0) {
            return None;
        }
        let sides = limit.sides.map(|sides| sides.map(|(slot, _)| memory.get(slot)));
        Some(Outcome { ok: state == 1.0, sides })
    }

    /// Whether a use of a sheet was reached in the last run.
    pub fn reached(&self, used: &Reached, memory: &Memory, method: Option<Method>) -> bool {
        !memory.get(used.slot).is_nan() && method.is_none_or(|method| used.methods & mask(method) != 0)
    }

    /// What is taken for a fact that the job does not give.
    pub fn default(&self, fact: &Fact) -> Option<(Value, Arc<Unit>)> {
        let value = self.value(fact.default?, held(&fact.input.kind))?;
        let nothing = self.memory();
        Some((value, self.unit(fact.default_unit, &nothing, &|_| None)))
    }

    /// What a decision decides, if it was reached: each value with the unit that
    /// it is printed in.
    pub fn decided(
        &self,
        decision: &Decision,
        memory: &Memory,
        typed: &dyn Fn(usize) -> Option<Unit>,
    ) -> Option<Vec<(Value, Arc<Unit>)>> {
        if memory.get(decision.reached).is_nan() {
            return None;
        }
        let value = |(slot, held, unit): &(Slot, Held, usize)| {
            Some((self.value(memory.get(*slot), *held)?, self.unit(*unit, memory, typed)))
        };
        decision.values.iter().map(value).collect()
    }

    /// What is handed to others in the last run, with the unit that it is printed
    /// in; none if it was not reached.
    pub fn hands(
        &self,
        handed: &Handed,
        memory: &Memory,
        method: Method,
        typed: &dyn Fn(usize) -> Option<Unit>,
    ) -> Option<(Quantity, Arc<Unit>)> {
        if memory.get(handed.reached).is_nan() || handed.methods & mask(method) == 0 {
            return None;
        }
        match self.value(memory.get(handed.value), handed.held)? {
            Value::Quantity(quantity) => Some((quantity, self.unit(handed.unit, memory, typed))),
            _ => None,
        }
    }

    /// Every row that was looked up since the memory was cleared: its table and
    /// its place there.
    pub fn looked<'a>(&'a self, memory: &'a Memory) -> impl Iterator<Item = (&'a Arc<Table>, usize)> {
        memory.looked.iter().filter_map(|row| {
            let (first, table) = self.tables.iter().rev().find(|(first, _)| first <= row)?;
            Some((table, row - first))
        })
    }

    /// The units of a limit's demand and capacity in the last run. `typed` gives
    /// the unit that a fact was typed in.
    pub fn side_units(
        &self,
        limit: &Limit,
        memory: &Memory,
        typed: &dyn Fn(usize) -> Option<Unit>,
    ) -> Option<[Arc<Unit>; 2]> {
        let sides = limit.sides?;
        Some(sides.map(|(_, unit)| self.unit(unit, memory, typed)))
    }

    /// The value of a symbol in the last run, in the unit that it is printed in.
    pub fn shown(
        &self,
        symbol: &Symbol,
        memory: &Memory,
        typed: &dyn Fn(usize) -> Option<Unit>,
    ) -> Option<(Value, Arc<Unit>)> {
        let value = self.value(self.number(symbol, memory), symbol.held)?;
        Some((value, self.unit(symbol.unit, memory, typed)))
    }

    /// The number of a symbol in the last run; none if its block was not entered.
    pub fn number(&self, symbol: &Symbol, memory: &Memory) -> f64 {
        let mut at = symbol.block;
        while at != 0 {
            let block = &self.blocks[at];
            if memory.get(block.condition) != f64::from(u8::from(block.holds)) {
                return f64::NAN;
            }
            at = block.above;
        }
        memory.get(symbol.slot)
    }

    fn unit(&self, at: usize, memory: &Memory, typed: &dyn Fn(usize) -> Option<Unit>) -> Arc<Unit> {
        match &self.units[at] {
            UnitOf::Fixed(unit) => unit.clone(),
            UnitOf::Plain => Arc::new(Unit::none()),
            UnitOf::Fact(fact) => match typed(*fact) {
                Some(unit) => Arc::new(unit),
                None => self.unit(self.facts[*fact].default_unit, memory, typed),
            },
            UnitOf::Select { condition, then, otherwise } => {
                let holds = memory.get(*condition) == 1.0;
                self.unit(if holds { *then } else { *otherwise }, memory, typed)
            }
        }
    }

    /// The slot of a symbol of this sheet, or of one it uses: `column.F_c'`.
    pub fn slot(&self, symbol: &str) -> Option<Slot> {
        self.symbols.iter().find(|known| known.name == symbol).map(|known| known.slot)
    }

    /// The symbols of this sheet and of the sheets it uses, each where it stands.
    pub fn symbols(&self) -> &[Symbol] {
        &self.symbols
    }

    /// The slot of an input.
    pub fn input(&self, name: &str) -> Option<Slot> {
        self.facts.iter().find(|fact| fact.input.name == name).map(|fact| fact.slot)
    }

    pub fn texts(&self) -> &Texts {
        &self.texts
    }

    /// Learns names that only a job speaks of.
    pub fn learn(&mut self, name: &str) {
        self.texts.number(name);
    }

    /// A value as the number that stands for it; nothing for a name that was
    /// not learnt.
    pub fn encode(&self, value: &Value) -> f64 {
        encode(value, &self.texts)
    }

    /// A number that stands in the slot of a fact.
    pub fn fact_value(&self, fact: usize, number: f64) -> Option<Value> {
        self.value(number, held(&self.facts[fact].input.kind))
    }

    /// What stands in a slot.
    pub fn value(&self, number: f64, held: Held) -> Option<Value> {
        Some(match held {
            _ if number.is_nan() => return None,
            Held::Quantity(dim) => Value::Quantity(Quantity::new(number, dim)),
            Held::Name => Value::Text(self.texts.name(number as u32).into()),
            Held::Date => {
                let day = number as i64;
                Value::Date(Date::new((day / 10_000) as i16, (day / 100 % 100) as i8, (day % 100) as i8).ok()?)
            }
            Held::Truth => return None,
        })
    }
}

fn held(kind: &Kind) -> Held {
    match kind {
        Kind::Quantity(dim) => Held::Quantity(*dim),
        Kind::Count => Held::Quantity(Dim::NONE),
        Kind::Choice(_) | Kind::Text => Held::Name,
        Kind::Date => Held::Date,
    }
}

fn encode(value: &Value, texts: &Texts) -> f64 {
    match value {
        Value::Quantity(quantity) => quantity.value,
        Value::Text(name) => texts.find(name).map_or(f64::NAN, f64::from),
        // Dates are only compared.
        Value::Date(date) => f64::from(date.year()) * 1e4 + f64::from(date.month()) * 1e2 + f64::from(date.day()),
    }
}
