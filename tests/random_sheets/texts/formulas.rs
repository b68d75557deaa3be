//! Random values and conditions, of dimensions that agree.

use super::{Angle, Force, Kind, Length, Number, QUANTITIES, Stress, Symbol, TONES, Text, Tone, Writer};

impl Writer<'_, '_, '_> {
    pub(super) fn literal(&mut self, kind: Kind) -> String {
        if kind == Tone {
            return format!("\"{}\"", self.draw.one(&TONES));
        }
        let value = self.draw.one(&["1", "2", "3", "0.5", "10", "7.25", "12", "4", "100", "0", "0.1", "1e200"]);
        format!("{value} {}", self.draw.one(kind.units())).trim().into()
    }

    /// A symbol of a kind, if there is one in sight.
    pub(super) fn symbol(&mut self, kind: Kind) -> Option<Symbol> {
        let (of_method, fixed) = (self.of_method, self.fixed);
        let raw = |symbol: &&Symbol| self.raw.iter().find(|(name, _)| *name == symbol.name);
        let fits = |symbol: &&Symbol| {
            let kind_here = if raw(symbol).is_some() { Number } else { symbol.kind };
            kind_here.is(kind) && (symbol.method.is_none() || symbol.method == of_method) && !(fixed && symbol.varies)
        };
        let fitting: Vec<&Symbol> = self.scope.iter().filter(fits).collect();
        if fitting.is_empty() {
            return None;
        }
        // What was bound last is asked for most.
        let at = self.draw.of(2 * fitting.len());
        let symbol = fitting[if at < fitting.len() { fitting.len() - 1 - at } else { at - fitting.len() }].clone();
        self.varies |= symbol.varies;
        self.used.insert(symbol.name.clone());
        Some(symbol)
    }

    pub(super) fn atom(&mut self, kind: Kind) -> String {
        let found = if self.draw.once_in(3) { None } else { self.symbol(kind) };
        match found {
            Some(symbol) => symbol.name,
            None => self.literal(kind),
        }
    }

    pub(super) fn expr(&mut self, kind: Kind, depth: usize) -> String {
        // A name that is written out narrows what `is` can be asked of.
        if kind == Tone {
            return self.symbol(kind).map_or("\"red\"".into(), |symbol| symbol.name);
        }
        if depth == 0 {
            return self.atom(kind);
        }
        let deeper = depth - 1;
        match self.draw.of(12) {
            0 | 1 => self.atom(kind),
            2 => format!("({} + {})", self.expr(kind, deeper), self.expr(kind, deeper)),
            3 => format!("({} - {})", self.expr(kind, deeper), self.expr(kind, deeper)),
            4 => format!("({} * {})", self.expr(kind, deeper), self.expr(Number, deeper)),
            5 => format!("({} / {})", self.expr(kind, deeper), self.expr(Number, deeper)),
            6 => format!("(-{})", self.expr(kind, deeper)),
            7 => {
                let name = self.draw.one(&["nearest", "up", "down"]);
                format!("{name}({}, {})", self.expr(kind, deeper), self.atom(kind))
            }
            8 => {
                let name = self.draw.one(&["least", "greatest"]);
                let more = if self.draw.once_in(3) { format!(", {}", self.atom(kind)) } else { String::new() };
                format!("{name}({}, {}{more})", self.expr(kind, deeper), self.expr(kind, deeper))
            }
            9 => format!("abs({})", self.expr(kind, deeper)),
            _ => self.own(kind, deeper),
        }
    }

    /// What only a quantity of this kind is.
    pub(super) fn own(&mut self, kind: Kind, depth: usize) -> String {
        match (kind, self.draw.of(3)) {
            (Length, 0) => format!("sqrt({} * {})", self.expr(Length, depth), self.expr(Length, depth)),
            (Length, 1) => format!("sqrt(abs({} / {}))", self.expr(Force, depth), self.expr(Stress, depth)),
            (Length, _) => format!("({} / ({} * {}))", self.expr(Force, depth), self.atom(Stress), self.atom(Length)),
            (Force, _) => format!("({} * ({}) ^ 2)", self.expr(Stress, depth), self.expr(Length, depth)),
            (Stress, 0) => format!("({} * ({}) ^ -2)", self.expr(Force, depth), self.expr(Length, depth)),
            (Stress, _) => format!("({} / ({} * {}))", self.expr(Force, depth), self.atom(Length), self.atom(Length)),
            (Angle, 0) => format!("atan2({}, {})", self.expr(Force, depth), self.expr(Force, depth)),
            (Angle, _) => {
                let name = self.draw.one(&["asin", "acos", "atan"]);
                format!("{name}({})", self.expr(Number, depth))
            }
            (_, 0) => {
                let kind = self.draw.one(&QUANTITIES[1..]);
                format!("({} / {})", self.expr(kind, depth), self.expr(kind, depth))
            }
            (_, 1) => {
                let name = self.draw.one(&["sin", "cos", "tan"]);
                format!("{name}({})", self.expr(Angle, depth))
            }
            _ => match self.draw.of(4) {
                0 => format!("({} ^ {})", self.expr(Number, depth), self.expr(Number, depth)),
                1 => format!("exp({})", self.expr(Number, depth)),
                2 => format!("ln({})", self.expr(Number, depth)),
                _ => format!("sqrt({})", self.expr(Number, depth)),
            },
        }
    }

    pub(super) fn condition(&mut self, depth: usize) -> String {
        match if depth == 0 { 0 } else { self.draw.of(8) } {
            0..=2 => self.comparison(),
            3 | 4 => {
                let kind = if self.draw.once_in(4) { Text } else { Tone };
                match self.symbol(kind) {
                    Some(symbol) => {
                        let op = self.draw.one(&["is", "is not"]);
                        let name = if symbol.kind == Tone { self.draw.one(&TONES) } else { "\"No.1\"" };
                        format!("{} {op} {name}", symbol.name)
                    }
                    None => self.comparison(),
                }
            }
            5 => format!("({} and {})", self.condition(depth - 1), self.condition(depth - 1)),
            6 => format!("({} or {})", self.condition(depth - 1), self.condition(depth - 1)),
            _ => format!("not ({})", self.condition(depth - 1)),
        }
    }

    pub(super) fn comparison(&mut self) -> String {
        let kind = self.draw.one(&QUANTITIES);
        let op = self.draw.one(&["<=", "<", ">=", ">"]);
        format!("{} {op} {}", self.expr(kind, 1), self.expr(kind, 1))
    }
}
