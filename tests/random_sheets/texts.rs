//! Random sheets as texts. All that is random comes from a list of numbers, and
//! zeros follow its end: the shorter the list and the smaller its numbers, the
//! simpler the sheets, so that a case which fails shrinks to one that can be read.

mod formulas;
mod uses;

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// The numbers that decide.
pub struct Draw<'a> {
    numbers: &'a [u16],
    at: usize,
}

impl<'a> Draw<'a> {
    pub fn new(numbers: &'a [u16]) -> Draw<'a> {
        Draw { numbers, at: 0 }
    }

    pub fn of(&mut self, many: usize) -> usize {
        self.at += 1;
        self.numbers.get(self.at - 1).map_or(0, |number| usize::from(*number) % many)
    }

    pub fn one<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.of(of.len())]
    }

    /// True once in so many; never at the end.
    fn once_in(&mut self, many: usize) -> bool {
        self.of(many) == many - 1
    }

    fn ended(&self) -> bool {
        self.at >= self.numbers.len()
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Number,
    Length,
    Force,
    Stress,
    Angle,
    Count,
    Tone,
    Text,
}

use Kind::{Angle, Count, Force, Length, Number, Stress, Text, Tone};

const QUANTITIES: [Kind; 5] = [Number, Length, Force, Stress, Angle];
pub const TONES: [&str; 3] = ["red", "blue", "green"];
const METHODS: [&str; 2] = ["asd", "strength"];

impl Kind {
    fn word(self) -> &'static str {
        match self {
            Number => "number",
            Length => "length",
            Force => "force",
            Stress => "stress",
            Angle => "angle",
            Count => "count",
            Tone => "one of red, blue, green",
            Text => "text",
        }
    }

    fn units(self) -> &'static [&'static str] {
        match self {
            Length => &["in", "ft", "mm"],
            Force => &["lbf", "kip", "kN"],
            Stress => &["psi", "ksi", "psf", "MPa"],
            Angle => &["deg", "rad"],
            _ => &[""],
        }
    }

    fn is(self, other: Kind) -> bool {
        self == other || (self == Count && other == Number)
    }
}

/// Columns of files, alike in all sheets: where from, name, kind, default.
const COLUMNS: [(&str, &str, Kind, &str); 13] = [
    ("posts", "wide", Length, ""),
    ("combination", "P", Force, ""),
    ("posts", "rate", Number, ""),
    ("combination", "span", Length, ""),
    ("posts", "tone", Tone, "red"),
    ("site", "press", Stress, ""),
    ("combination", "share", Number, ""),
    ("posts", "deep", Length, "3 in"),
    ("posts", "many", Count, ""),
    ("bases", "tilt", Angle, ""),
    ("posts", "grade", Text, ""),
    ("combination", "Q", Force, ""),
    ("site", "pull", Force, "2 kip"),
];

/// A symbol in sight.
#[derive(Clone, Debug)]
struct Symbol {
    name: String,
    kind: Kind,
    /// The loads may change it.
    varies: bool,
    /// Index of the method whose combinations it belongs to.
    method: Option<usize>,
}

struct Input {
    name: String,
    kind: Kind,
    line: String,
    /// It has to be passed.
    wanted: bool,
    /// It comes from the sheet `leaf` unless it is passed.
    from_leaf: bool,
}

/// What a sheet that is written offers.
struct Written {
    name: String,
    method: Option<usize>,
    inputs: Vec<Input>,
    gives: Vec<(String, Kind)>,
    varies: bool,
    has_page: bool,
}

/// The texts of a case by their path.
pub fn texts(numbers: &[u16]) -> BTreeMap<String, String> {
    let mut draw = Draw::new(numbers);
    let mut texts = BTreeMap::new();
    texts.insert("tables/marks.csv".to_string(), marks(&mut draw));
    texts.insert("tables/steps.csv".to_string(), steps(&mut draw));
    let mut written: Vec<Written> = Vec::new();
    let with_place = draw.once_in(2);
    let with_middle = draw.once_in(2);
    let shared = draw.once_in(3);
    let method = draw.once_in(6).then_some(1);
    let mut write = |name: &str, head: &str, method: Option<usize>, draw: &mut Draw, written: &mut Vec<Written>| {
        let (text, sheet) = Writer::new(name, method, draw, written).whole(head, shared);
        texts.insert(format!("sheets/{name}.sheet"), text);
        written.push(sheet);
    };
    let of_leaf = draw.once_in(4).then(|| draw.of(2));
    write("leaf", "", of_leaf, &mut draw, &mut written);
    if with_place {
        for (name, tone) in [("flat", "red"), ("round", "blue")] {
            write(name, &format!("stands as seat when shape is {tone}\n"), method, &mut draw, &mut written);
        }
    }
    if with_middle {
        let method = of_leaf.filter(|_| draw.once_in(2));
        write("middle", "", method, &mut draw, &mut written);
    }
    write("whole", "", None, &mut draw, &mut written);
    texts
}

fn marks(draw: &mut Draw) -> String {
    let mut text = "# title: Marks for a test\ngrade,size [in],cap [psi],add,shade,source\n".to_string();
    for (at, grade) in ["No.1", "No.1", "No.1", "no.2", "no.2", "No.2"].iter().enumerate() {
        let size = ["1", "2", "4"][at % 3];
        let cell = |empty: bool, value: usize| if empty { String::new() } else { format!("{value}") };
        let cap = cell(at > 0 && draw.once_in(6), 100 + 10 * draw.of(70));
        let add = cell(at > 0 && draw.once_in(6), draw.of(9));
        let shade = if at > 2 && draw.once_in(4) { "" } else { TONES[(at + draw.of(1 + at / 3)) % 3] };
        writeln!(text, "{grade},{size},{cap},{add},{shade},invented").expect("memory");
    }
    text
}

fn steps(draw: &mut Draw) -> String {
    let ends = [0, 1 + draw.of(2), 4, 9];
    let rows = ends.windows(2).map(|ends| format!("{}..{},{},invented\n", ends[0], ends[1], draw.of(50)));
    let rows: String = rows.collect();
    format!("# title: Steps for a test\nupto,rise [kip],source\n{rows}")
}

struct Writer<'a, 'd, 'n> {
    name: &'a str,
    method: Option<usize>,
    draw: &'a mut Draw<'d>,
    written: &'n [Written],
    inputs: Vec<Input>,
    used: BTreeSet<String>,
    scope: Vec<Symbol>,
    body: String,
    /// Names so far.
    count: usize,
    /// The uses of `leaf` by name.
    leaves: Vec<String>,
    /// `leaf` itself may not be used any more under its own name.
    no_plain_leaf: bool,
    placed: bool,
    has_page: bool,
    /// Some sheet below reads loads.
    varies_below: bool,
    /// The loads decide whether the open block is entered.
    varying: bool,
    depth: usize,
    /// What the expression that is being written comes from.
    varies: bool,
    /// The method whose symbols it may speak of, and what holds it off loads.
    of_method: Option<usize>,
    fixed: bool,
    /// Symbols that a raw formula takes as plain numbers.
    raw: Vec<(String, Kind)>,
}

impl<'a, 'd, 'n> Writer<'a, 'd, 'n> {
    fn new(name: &'a str, method: Option<usize>, draw: &'a mut Draw<'d>, written: &'n [Written]) -> Self {
        Writer {
            name,
            method,
            draw,
            written,
            inputs: Vec::new(),
            used: BTreeSet::new(),
            scope: Vec::new(),
            body: String::new(),
            count: 0,
            leaves: Vec::new(),
            no_plain_leaf: false,
            placed: false,
            has_page: false,
            varies_below: false,
            varying: false,
            depth: 0,
            varies: false,
            of_method: None,
            fixed: false,
            raw: Vec::new(),
        }
    }

    fn stands(&self) -> bool {
        self.name == "flat" || self.name == "round"
    }

    fn whole(mut self, head: &str, shared: bool) -> (String, Written) {
        self.head(shared);
        let lines = [3, 5, 8, 2][self.draw.of(4)] + if self.name == "whole" { 4 } else { 0 };
        for _ in 0..lines {
            if !self.draw.ended() {
                self.statement();
            }
        }
        // What uses nothing is no test of uses.
        if self.name == "whole" {
            for at in 0..self.written.len() {
                match self.written[at].name.as_str() {
                    "flat" if !self.placed => self.place(),
                    "flat" | "round" => {}
                    _ => self.use_one(at),
                }
            }
        }
        let mut gives: Vec<(String, Kind)> = Vec::new();
        if self.stands() {
            for (name, kind) in [("g1", Length), ("g2", Number)] {
                let here = self.scope.iter().any(|symbol| symbol.name == name);
                if !here {
                    let value = self.expr(kind, 2);
                    self.line(&format!("let {name} = {value}"));
                }
                gives.push((name.into(), kind));
            }
        }
        if self.stands() {
            self.line("let held = a0");
        }
        if self.inputs.iter().any(|input| input.from_leaf) {
            self.line("let held = below");
        }
        let own = |symbol: &&Symbol| symbol.name.starts_with('v') && symbol.method.is_none() && symbol.kind != Text;
        let offered: Vec<Symbol> = self.scope.iter().filter(own).cloned().collect();
        for symbol in offered {
            if self.name == "leaf" || self.draw.once_in(2) {
                gives.push((symbol.name, symbol.kind));
            }
        }
        if self.name == "leaf" {
            gives.truncate(4);
        }
        let given: BTreeSet<&String> = gives.iter().map(|(name, _)| name).collect();
        let kept = |input: &Input| self.used.contains(&input.name) || given.contains(&input.name);
        let inputs: Vec<Input> = self.inputs.into_iter().filter(kept).collect();
        let mut text = format!("sheet {}\ntitle {}\n", self.name, self.name);
        if let Some(method) = self.method {
            writeln!(text, "method {}", METHODS[method]).expect("memory");
        }
        text += head;
        if !inputs.is_empty() {
            text += "\nneeds\n";
            inputs.iter().for_each(|input| writeln!(text, "  {}", input.line).expect("memory"));
        }
        if !gives.is_empty() {
            text += "\ngives\n";
            gives.iter().for_each(|(name, kind)| writeln!(text, "  {name} {}", kind.word()).expect("memory"));
        }
        text = format!("{text}\n{}", self.body);
        let loads = inputs.iter().any(|input| input.line.contains("from combination"));
        let (name, method, has_page) = (self.name.into(), self.method, self.has_page);
        (text, Written { name, method, inputs, gives, varies: loads || self.varies_below, has_page })
    }

    fn head(&mut self, shared: bool) {
        for (source, name, kind, default) in COLUMNS {
            let bounds = if self.draw.once_in(3) { self.bounds(kind) } else { String::new() };
            let default = if default.is_empty() { String::new() } else { format!(" else {default}") };
            let line = format!("{name} {} from {source}{bounds}{default}", kind.word());
            self.input(name, kind, line, false, source == "combination");
        }
        let passed = if self.stands() { 0 } else { 1 + self.draw.of(4) };
        for at in 0..passed {
            let kind = [Length, Number, Force, Tone, Count, Stress, Angle][self.draw.of(7)];
            let (name, mut line) = (format!("a{at}"), String::new());
            let bounds = if self.draw.once_in(3) { self.bounds(kind) } else { String::new() };
            let wanted = !self.draw.once_in(3);
            let default = if wanted { String::new() } else { format!(" else {}", self.literal(kind)) };
            write!(line, "{name} {}{bounds}{default}", kind.word()).expect("memory");
            self.input(&name, kind, line, wanted, self.name != "whole");
        }
        if self.stands() {
            self.input("a0", Length, "a0 length".into(), true, true);
            self.used.insert("a0".into());
            if shared {
                self.input("g1", Length, "g1 length".into(), true, true);
            }
        }
        let gives = self.written.iter().find(|sheet| sheet.name == "leaf").and_then(|leaf| leaf.gives.first().cloned());
        if let (Some((name, kind)), "middle") = (gives, self.name)
            && self.written[0].method.is_none()
            && self.draw.once_in(2)
        {
            let default = if self.draw.once_in(2) { format!(" else {}", self.literal(kind)) } else { String::new() };
            let line = format!("below {} from leaf.{name}{default}", kind.word());
            self.input("below", kind, line, false, true);
            self.used.insert("below".into());
            self.inputs.iter_mut().for_each(|input| input.from_leaf |= input.name == "below");
        }
    }

    fn input(&mut self, name: &str, kind: Kind, line: String, wanted: bool, varies: bool) {
        self.inputs.push(Input { name: name.into(), kind, line, wanted, from_leaf: false });
        self.scope.push(Symbol { name: name.into(), kind, varies, method: None });
    }

    fn bounds(&mut self, kind: Kind) -> String {
        let unit = kind.units()[0];
        match kind {
            Tone | Text => String::new(),
            _ if self.draw.once_in(2) => format!(" >= 0 {unit}, < 50 {unit}"),
            _ => format!(" > 0 {unit}"),
        }
    }

    fn line(&mut self, text: &str) {
        let indent = 2 * self.depth;
        writeln!(self.body, "{:indent$}{text}", "").expect("memory");
    }

    fn fresh(&mut self, letter: char) -> String {
        self.count += 1;
        format!("{letter}{}", self.count)
    }

    fn bind(&mut self, name: &str, kind: Kind) {
        let varies = self.varies || self.varying;
        self.scope.push(Symbol { name: name.into(), kind, varies, method: self.of_method });
    }

    fn statement(&mut self) {
        self.varies = false;
        match self.draw.of(20) {
            0..=3 => drop(self.let_()),
            4 | 5 => self.cases(),
            6 => self.rename(),
            7 | 8 => self.raw(),
            9 => self.of_other_method(),
            10..=12 if self.depth < 3 && !self.draw.ended() => self.when(),
            13 | 14 => self.must(),
            15 => self.take(),
            16 | 17 => self.use_(),
            18 if !self.varying && (self.name == "whole" || self.name == "leaf") => self.page(),
            _ => drop(self.let_()),
        }
        self.of_method = None;
    }

    fn let_(&mut self) -> (String, Kind) {
        let (name, kind) = (self.fresh('v'), self.draw.one(&QUANTITIES));
        let value = self.expr(kind, 3);
        self.line(&format!("let {name} = {value}"));
        self.bind(&name, kind);
        (name, kind)
    }

    /// Cases by conditions, of which the last may be missing.
    fn cases(&mut self) {
        let name = self.fresh('v');
        let kind = if self.draw.once_in(4) { Tone } else { self.draw.one(&QUANTITIES) };
        // All names of the kind, or as many values as come.
        let many = if kind == Tone { 3 } else { 2 + self.draw.of(3) };
        let open = self.draw.once_in(3);
        let mut cases = Vec::new();
        for at in 0..many {
            let value = if kind == Tone { format!("\"{}\"", TONES[at % TONES.len()]) } else { self.expr(kind, 2) };
            let last = at + 1 == many && !open;
            cases.push(if last { format!("{value} otherwise") } else { format!("{value} when {}", self.condition(2)) });
        }
        let text = cases.join(", ") + if open { " else \"no case holds\"" } else { "" };
        self.line(&format!("let {name} = {text}"));
        self.bind(&name, kind);
    }

    fn rename(&mut self) {
        let kind = self.draw.one(&[Length, Force, Number, Tone]);
        if let Some(symbol) = self.symbol(kind) {
            let name = self.fresh('v');
            self.line(&format!("let {name} = {}", symbol.name));
            self.bind(&name, symbol.kind);
        }
    }

    /// A formula that hides its units.
    fn raw(&mut self) {
        let giving = self.draw.one(&QUANTITIES);
        let mut raw: Vec<(String, Kind)> = Vec::new();
        for _ in 0..1 + self.draw.of(2) {
            let kind = self.draw.one(&QUANTITIES[1..]);
            if let Some(symbol) = self.symbol(kind)
                && !raw.iter().any(|(name, _)| *name == symbol.name)
            {
                raw.push((symbol.name, kind));
            }
        }
        if raw.is_empty() {
            return;
        }
        self.raw = raw;
        let names: Vec<String> = self.raw.iter().map(|(name, _)| name.clone()).collect();
        let mut value = self.expr(Number, 2);
        names.iter().for_each(|name| value = format!("({value} + {name})"));
        let raw = std::mem::take(&mut self.raw);
        // A slope in a unit that may stand above and below.
        let slope = self.draw.once_in(4).then(|| self.draw.one(&["in/ft", "ft/ft"]));
        if slope.is_some() {
            self.used.insert("rate".into());
            value = format!("{value} * rate");
        }
        if self.draw.once_in(4) {
            value = format!("{value} when {}, {value} otherwise", self.condition(1));
        }
        let unit = |writer: &mut Self, kind: Kind| writer.draw.one(kind.units());
        let mut each: Vec<String> = raw.iter().map(|(name, kind)| format!("{name} in {}", unit(self, *kind))).collect();
        each.extend(slope.map(|unit| format!("rate in {unit}")));
        let giving_unit = if giving == Number { "number" } else { unit(self, giving) };
        let name = self.fresh('v');
        self.line(&format!("let {name} = {value} where {}, giving {giving_unit}", each.join(", ")));
        self.bind(&name, giving);
    }

    /// A line on what a sheet of one method gives.
    fn of_other_method(&mut self) {
        let of: Vec<Symbol> = self.scope.iter().filter(|symbol| symbol.method.is_some()).cloned().collect();
        let quantity = |symbol: &&Symbol| QUANTITIES.contains(&symbol.kind);
        let of: Vec<&Symbol> = of.iter().filter(quantity).collect();
        if of.is_empty() {
            return;
        }
        let symbol = of[self.draw.of(of.len())].clone();
        self.varies |= symbol.varies;
        self.of_method = symbol.method;
        let other = self.expr(symbol.kind, 1);
        if self.draw.once_in(2) {
            self.line(&format!("must {} <= {other}  \"limit\" [Test 1] else \"nothing\"", symbol.name));
        } else {
            let name = self.fresh('m');
            self.line(&format!("let {name} = {} + {other}", symbol.name));
            self.bind(&name, symbol.kind);
        }
    }

    fn must(&mut self) {
        let condition = if self.draw.once_in(3) { self.condition(2) } else { self.comparison() };
        let word = self.draw.one(&["must", "must", "fit"]);
        self.line(&format!("{word} {condition}  \"limit\" [Test 1] else \"nothing\""));
    }

    fn take(&mut self) {
        if self.draw.once_in(3) {
            let name = self.fresh('v');
            let key = self.expr(Number, 1);
            self.line(&format!("take {name} = rise from steps [{key}]"));
            return self.bind(&name, Force);
        }
        let names = [self.fresh('v'), self.fresh('v'), self.fresh('v')];
        let grade = if self.draw.once_in(3) { None } else { self.symbol(Text) };
        let grade = grade.map_or("\"no.1\"".into(), |symbol| symbol.name);
        let between = self.draw.one(&["between ", "between ", ""]);
        let size =
            if self.draw.once_in(3) { self.expr(Length, 1) } else { self.draw.one(&["1.5 in", "2 in", "3 in"]).into() };
        let [cap, add, shade] = &names;
        self.line(&format!("take {cap} = cap, {add} = add, {shade} = shade from marks [{grade}, {between}{size}]"));
        for (name, kind) in names.iter().zip([Stress, Number, Tone]) {
            self.bind(name, kind);
        }
    }

    fn page(&mut self) {
        self.has_page = true;
        self.fixed = true;
        let (name, kind) = (self.fresh('w'), self.draw.one(&QUANTITIES));
        let value = self.expr(kind, 2);
        let many = self.expr(Number, 1);
        let word = self.draw.one(&["shop", "field"]);
        self.line(word);
        self.line(&format!("  let {name} = {value}"));
        let (wide, long) = (self.atom(Length), self.atom(Length));
        self.line(&format!("piece {many} \"pin\" ({wide} by {long})"));
        self.fixed = false;
    }
}
