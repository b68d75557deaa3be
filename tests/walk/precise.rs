//! Numbers of 48 digits. Beside each stands what doubles come to for it, and how far these may be off by
//! rounding: where that decides what is chosen, the doubles choose, so that both go the same way; and where terms
//! cancel, it says how many digits doubles can have.

use std::cell::{Cell, RefCell};
use std::cmp::Ordering;
use std::collections::BTreeMap;

use dashu_float::{FBig, round::mode::HalfEven};
use socle::formula::{BinOp, Function};
use socle::quantity::Unit;

use super::Number;

pub type Big = FBig<HalfEven, 2>;

/// In bits.
const PRECISION: usize = 160;

/// By so much of itself a double may be off that an operation comes to.
pub const ROUNDING: f64 = f64::EPSILON;

thread_local! {
    static UNSURE: Cell<usize> = const { Cell::new(0) };
    static FACTORS: RefCell<BTreeMap<String, Big>> = const { RefCell::new(BTreeMap::new()) };
    static WRITTEN: RefCell<BTreeMap<(u64, String), Big>> = const { RefCell::new(BTreeMap::new()) };
}

/// How often doubles had to choose since this was asked last.
pub fn unsure() -> usize {
    UNSURE.replace(0)
}

#[derive(Clone, Debug)]
pub struct Precise {
    value: Big,
    pub double: f64,
    /// How far the double may be off.
    pub off: f64,
}

fn big(number: f64) -> Big {
    Big::try_from(number).expect("a finite number").with_precision(PRECISION).value()
}

fn whole(number: u64) -> Big {
    Big::from(number).with_precision(PRECISION).value()
}

fn size(number: &Big) -> f64 {
    number.to_f64().value().abs()
}

fn is_negative(number: &Big) -> bool {
    *number < Big::ZERO
}

/// What the digits of a decimal say.
pub fn decimal(text: &str) -> Big {
    let (number, power) = text.split_once('e').unwrap_or((text, "0"));
    let (digits, places) = match number.split_once('.') {
        Some((whole, decimals)) => (format!("{whole}{decimals}"), decimals.len() as i32),
        None => (number.to_string(), 0),
    };
    let digits = whole(digits.trim_start_matches('-').parse().expect("digits"));
    let power = power.parse::<i32>().expect("a power") - places;
    let scale = whole(10).powi(power.abs().into());
    let value = if power < 0 { digits / scale } else { digits * scale };
    if number.starts_with('-') { -value } else { value }
}

/// A unit in inches, pounds, seconds, radians and degrees Fahrenheit, by what it is defined as.
pub fn factor(unit: &str) -> Big {
    if let Some(known) = FACTORS.with_borrow(|known| known.get(unit).cloned()) {
        return known;
    }
    let mut found = whole(1);
    let mut rest = unit;
    let mut divides = false;
    while !rest.is_empty() {
        let end = rest.find(['/', ' ']).unwrap_or(rest.len());
        let (name, power) = rest[..end].split_once('^').unwrap_or((&rest[..end], "1"));
        let part = defined(name).powi(power.parse::<i32>().expect("a power").into());
        found = if divides { found / part } else { found * part };
        divides = rest[end..].starts_with('/');
        rest = rest.get(end + 1..).unwrap_or_default();
    }
    FACTORS.with_borrow_mut(|known| known.insert(unit.into(), found.clone()));
    found
}

fn defined(name: &str) -> Big {
    let (inch, foot) = (|| whole(1), || whole(12));
    // International inch, foot and pound; standard gravity.
    let metre = || whole(10_000) / whole(254);
    let newton = || whole(1) / (decimal("0.45359237") * decimal("9.80665"));
    let pascal = || newton() / (metre() * metre());
    match name {
        "" | "1" => whole(1),
        "in" => inch(),
        "ft" => foot(),
        "mm" => metre() / whole(1000),
        "cm" => metre() / whole(100),
        "m" => metre(),
        "sf" => foot() * foot(),
        "lbf" | "psi" | "pli" | "rad" | "s" | "degF" => whole(1),
        "kip" | "ksi" => whole(1000),
        "N" => newton(),
        "daN" => whole(10) * newton(),
        "kN" => whole(1000) * newton(),
        "kg" => decimal("9.80665") * newton(),
        "psf" => whole(1) / (foot() * foot()),
        "ksf" => whole(1000) / (foot() * foot()),
        "Pa" => pascal(),
        "kPa" => whole(1000) * pascal(),
        "MPa" => whole(1_000_000) * pascal(),
        "GPa" => whole(1_000_000_000) * pascal(),
        "plf" => whole(1) / foot(),
        "klf" => whole(1000) / foot(),
        "pcf" => whole(1) / (foot() * foot() * foot()),
        "deg" => Big::pi(PRECISION) / whole(180),
        "mph" => whole(5280) * foot() / whole(3600),
        "degC" => whole(9) / whole(5),
        "%" => whole(1) / whole(100),
        name => panic!("the unit `{name}` is new: say here what it is defined as"),
    }
}

/// -1, 0 or 1 steps from `b` to `a`, where less than the slack counts as nothing; the doubles say
/// where they may see it otherwise.
fn order(a: &Precise, b: &Precise, slack: f64) -> Ordering {
    let apart = &a.value - &b.value;
    let beyond = size(&apart) - slack;
    if beyond.abs() < a.off + b.off {
        UNSURE.set(UNSURE.get() + 1);
        let apart = a.double - b.double;
        return if apart.abs() <= slack { Ordering::Equal } else { apart.total_cmp(&0.0) };
    }
    match beyond <= 0.0 {
        true => Ordering::Equal,
        false if is_negative(&apart) => Ordering::Less,
        false => Ordering::Greater,
    }
}

impl Precise {
    /// A value that was written, and what it was read as.
    pub fn near(value: Big, double: f64) -> Precise {
        let off = 4.0 * ROUNDING * size(&value);
        Precise { value, double, off }
    }

    pub fn size(&self) -> f64 {
        size(&self.value)
    }

    /// Its size as doubles have it, which do where it is reckoned how far they may be off.
    fn rough(&self) -> f64 {
        self.double.abs()
    }

    /// How far a double is from it.
    pub fn gap(&self, double: f64) -> f64 {
        size(&(&self.value - big(double)))
    }

    pub fn nearest(&self) -> f64 {
        self.value.to_f64().value()
    }

    /// The result of an operation, whose operands were off by so much in it.
    fn found(value: Big, double: f64, off: f64) -> Option<Precise> {
        let off = off + ROUNDING * double.abs();
        double.is_finite().then_some(Precise { value, double, off })
    }

    /// On which side of an edge it lies the doubles say where they may see it otherwise.
    fn beside_edge(&self, edge: f64) -> Precise {
        let far = (self.double - edge).abs() > 2.0 * self.off;
        if !far && self.off > 0.0 && size(&(&self.value - big(edge))) <= self.off {
            UNSURE.set(UNSURE.get() + 1);
            return Precise { value: big(self.double), ..*self };
        }
        self.clone()
    }

    fn is_zero(&self) -> bool {
        size(&self.value) == 0.0
    }

    fn power(a: &Precise, b: &Precise) -> Option<Precise> {
        let (a, b) = (a.beside_edge(0.0), b.clone());
        let double = libm::pow(a.double, b.double);
        let exponent = b.value.to_int().value();
        let is_whole = Big::from(exponent.clone()) == b.value;
        if a.is_zero() {
            return match b.value.cmp(&Big::ZERO) {
                Ordering::Less => None,
                Ordering::Equal => Some(Precise::exact(1.0)),
                Ordering::Greater => Precise::found(Big::ZERO, double, libm::pow(a.off, b.double)),
            };
        }
        let value = match is_whole {
            true if is_negative(&b.value) => whole(1) / a.value.powi(-exponent),
            true => a.value.powi(exponent),
            false if is_negative(&a.value) => return None,
            false => a.value.powf(&b.value),
        };
        let off = double.abs() * ((b.rough() * a.off / a.rough()) + (libm::log(a.rough()).abs() * b.off));
        Precise::found(value, double, off)
    }

    /// How many whole steps, up or down, once so much of one is added.
    fn steps(x: &Precise, step: &Precise, added: f64, up: bool) -> Option<Precise> {
        let step = step.beside_edge(0.0);
        if step.is_zero() || is_negative(&step.value) {
            return None;
        }
        let count = Precise::arithmetic(BinOp::Div, x, &step)?;
        let sum = &count.value + big(added);
        let below = sum.floor();
        let over = size(&(&sum - &below));
        let double = x.double / step.double + added;
        let double = if up { libm::ceil(double) } else { libm::floor(double) };
        let many = if over.min(1.0 - over) <= count.off {
            UNSURE.set(UNSURE.get() + 1);
            big(double)
        } else if up {
            below + whole(1)
        } else {
            below
        };
        let off = size(&many) * step.off;
        Precise::found(many * step.value, double * step.double, off)
    }
}

impl Number for Precise {
    fn exact(number: f64) -> Precise {
        Precise { value: big(number), double: number, off: 0.0 }
    }

    fn written(number: f64, unit: &Unit) -> Precise {
        let value = WRITTEN.with_borrow_mut(|known| {
            let new = || decimal(&number.to_string()) * factor(unit.name());
            known.entry((number.to_bits(), unit.name().into())).or_insert_with(new).clone()
        });
        Precise::near(value, unit.to_base(number))
    }

    fn bare(&self, unit: &Unit) -> Option<Precise> {
        let factor = factor(unit.name());
        let off = self.off / size(&factor);
        let double = unit.from_base(self.double);
        Precise::found(&self.value / factor, double, off + 3.0 * ROUNDING * double.abs())
    }

    fn of(&self, unit: &Unit) -> Option<Precise> {
        let factor = factor(unit.name());
        let off = self.off * size(&factor);
        let double = unit.to_base(self.double);
        Precise::found(&self.value * factor, double, off + 3.0 * ROUNDING * double.abs())
    }

    fn negated(&self) -> Precise {
        Precise { value: -&self.value, double: -self.double, off: self.off }
    }

    fn arithmetic(op: BinOp, a: &Precise, b: &Precise) -> Option<Precise> {
        match op {
            BinOp::Add => Precise::found(&a.value + &b.value, a.double + b.double, a.off + b.off),
            BinOp::Sub => Precise::found(&a.value - &b.value, a.double - b.double, a.off + b.off),
            BinOp::Mul => {
                let off = a.rough() * b.off + b.rough() * a.off + a.off * b.off;
                Precise::found(&a.value * &b.value, a.double * b.double, off)
            }
            BinOp::Div => {
                let b = b.beside_edge(0.0);
                if b.is_zero() {
                    return None;
                }
                let ratio = a.double / b.double;
                let off = (a.off + ratio.abs() * b.off) / b.rough();
                Precise::found(&a.value / &b.value, ratio, off)
            }
            BinOp::Pow => Precise::power(a, b),
            _ => unreachable!("a condition is no value"),
        }
    }

    fn call(function: Function, args: &[Precise]) -> Option<Precise> {
        let x = &args[0];
        let double = || f64::call(function, &args.iter().map(|arg| arg.double).collect::<Vec<_>>());
        let found = |value: Big, off: f64| Precise::found(value, double()?, off);
        match function {
            Function::Sqrt => {
                let x = x.beside_edge(0.0);
                match x.is_zero() {
                    true => found(Big::ZERO, x.off.sqrt()),
                    false if is_negative(&x.value) => None,
                    false => {
                        let root = x.value.sqrt();
                        let off = x.off / size(&root);
                        found(root, off)
                    }
                }
            }
            Function::Abs if is_negative(&x.value) => found(-&x.value, x.off),
            Function::Abs => found(x.value.clone(), x.off),
            Function::Sin => found(x.value.sin(), x.off + ROUNDING * x.size()),
            Function::Cos => found(x.value.cos(), x.off + ROUNDING * x.size()),
            Function::Tan => {
                let tan = x.value.tan();
                let off = x.off * (1.0 + size(&tan) * size(&tan));
                found(tan, off)
            }
            Function::Asin | Function::Acos => {
                let x = x.beside_edge(1.0).beside_edge(-1.0);
                let room = 1.0 - x.size();
                if room < 0.0 {
                    return None;
                }
                let off = if room > x.off { x.off / libm::sqrt(room) } else { 2.0 * libm::sqrt(x.off) };
                found(if function == Function::Asin { x.value.asin() } else { x.value.acos() }, off)
            }
            Function::Atan => found(x.value.atan(), x.off / (1.0 + x.size() * x.size())),
            Function::Atan2 => {
                let (y, x) = (x.beside_edge(0.0), args[1].beside_edge(0.0));
                if y.is_zero() && x.is_zero() {
                    return None;
                }
                let square = x.size() * x.size() + y.size() * y.size();
                found(y.value.atan2(&x.value), (x.size() * y.off + y.size() * x.off) / square)
            }
            Function::Exp => {
                let value = x.value.exp();
                let off = size(&value) * x.off;
                found(value, off)
            }
            Function::Ln => {
                let x = x.beside_edge(0.0);
                if x.is_zero() || is_negative(&x.value) {
                    return None;
                }
                found(x.value.ln(), x.off / x.size())
            }
            Function::Nearest => Precise::steps(x, &args[1], 0.5, false),
            Function::Up => Precise::steps(x, &args[1], -1e-9, true),
            Function::Down => Precise::steps(x, &args[1], 1e-9, false),
            Function::Least | Function::Greatest => {
                let off = args.iter().map(|arg| arg.off).fold(0.0, f64::max);
                let values = args.iter().map(|arg| &arg.value);
                let value = if function == Function::Least { values.min() } else { values.max() };
                found(value.expect("arguments").clone(), off)
            }
        }
    }

    fn compare(&self, other: &Precise) -> Ordering {
        order(self, other, 1e-9 * f64::max(self.rough(), other.rough()))
    }

    fn beside(&self, key: &Precise) -> Ordering {
        order(self, key, 1e-9 * key.rough())
    }

    fn is_count(&self) -> bool {
        self.double.is_count()
    }
}
