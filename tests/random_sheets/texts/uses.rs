//! Random uses of the sheets that are written already, open places, blocks.

use std::fmt::Write as _;

use super::{Angle, Count, Force, Kind, Length, Number, Symbol, Text, Tone, Writer, Written};

impl Writer<'_, '_, '_> {
    /// A sheet below that may be used here.
    pub(super) fn some_sheet(&mut self) -> Option<usize> {
        let varying = self.varying;
        let fits = |sheet: &Written| {
            let same = sheet.method.is_none() || self.method.is_none() || sheet.method == self.method;
            same && !(varying && sheet.has_page)
        };
        let fitting: Vec<usize> = (0..self.written.len()).filter(|at| fits(&self.written[*at])).collect();
        if fitting.is_empty() { None } else { Some(fitting[self.draw.of(fitting.len())]) }
    }

    pub(super) fn use_(&mut self) {
        let candidates = self.written.iter().any(|sheet| sheet.name == "round");
        if candidates && !self.placed && self.draw.once_in(2) {
            return self.place();
        }
        if let Some(at) = self.some_sheet() {
            self.use_one(at);
        }
    }

    pub(super) fn use_one(&mut self, at: usize) {
        let (line, symbols) = self.usage(at);
        self.line(&line);
        self.scope.extend(symbols);
    }

    /// The line that uses a sheet, and the symbols that it brings.
    pub(super) fn usage(&mut self, at: usize) -> (String, Vec<Symbol>) {
        let sheet = &self.written[at];
        let plain = sheet.name == "leaf" && !self.no_plain_leaf && self.draw.once_in(2);
        let name = if plain { "leaf".into() } else { self.fresh('u') };
        self.varies = sheet.varies;
        self.varies_below |= sheet.varies;
        self.has_page |= sheet.has_page;
        let mut args = Vec::new();
        for input in &sheet.inputs {
            if input.kind == Text {
                continue;
            }
            let caught = input.from_leaf && {
                let alone = self.leaves == ["leaf"] && self.scope.iter().any(|symbol| symbol.name.starts_with("leaf."));
                alone || self.leaves.is_empty()
            };
            let pass =
                if input.from_leaf { !caught || self.draw.once_in(2) } else { input.wanted || self.draw.once_in(4) };
            if pass {
                let kind = if input.kind == Count { Number } else { input.kind };
                // A page may be made of any column.
                self.fixed = sheet.has_page && input.line.contains(" from ");
                args.push(format!("{} = {}", input.name, self.expr(kind, 2)));
                self.fixed = false;
            } else if input.from_leaf && self.leaves.is_empty() {
                self.no_plain_leaf = true;
            }
        }
        if sheet.name == "leaf" {
            self.no_plain_leaf |= plain;
            self.leaves.push(name.clone());
        }
        let varies = self.varies || self.varying;
        let method = sheet.method.filter(|_| self.method.is_none());
        let symbol =
            |(give, kind): &(String, Kind)| Symbol { name: format!("{name}.{give}"), kind: *kind, varies, method };
        let symbols = sheet.gives.iter().map(symbol).collect();
        let args = if args.is_empty() { String::new() } else { format!(" ({})", args.join(", ")) };
        let renamed = if plain { String::new() } else { format!(" as {name}") };
        (format!("use {}{args}{renamed}", sheet.name), symbols)
    }

    pub(super) fn place(&mut self) {
        let candidates: Vec<&Written> =
            self.written.iter().filter(|sheet| sheet.name == "flat" || sheet.name == "round").collect();
        let method = candidates[0].method;
        if method.is_some() && self.method.is_some() && method != self.method {
            return;
        }
        let has_page = candidates.iter().any(|sheet| sheet.has_page);
        if self.varying && has_page {
            return;
        }
        self.placed = true;
        self.has_page |= has_page;
        self.varies = candidates.iter().any(|sheet| sheet.varies);
        self.varies_below |= self.varies;
        let shared = candidates[0].inputs.iter().any(|input| input.name == "g1");
        let mut args = format!("a0 = {}", self.expr(Length, 1));
        if shared {
            write!(args, ", g1 = {}", self.expr(Length, 1)).expect("memory");
        }
        self.line(&format!("place seat by shape from posts ({args})"));
        self.line("  g1 length");
        self.line("  g2 number");
        let (varies, method) = (self.varies || self.varying, method.filter(|_| self.method.is_none()));
        for (name, kind) in [("seat.g1", Length), ("seat.g2", Number)] {
            self.scope.push(Symbol { name: name.into(), kind, varies, method });
        }
    }

    /// A block on a condition, and what stands otherwise.
    pub(super) fn when(&mut self) {
        let condition = self.condition(2);
        let before = self.varying;
        self.varying |= self.varies;
        let (both, kind) = (self.fresh('v'), self.draw.one(&[Length, Force, Number, Tone, Angle]));
        let otherwise = self.draw.once_in(2);
        // The same sheet under the same name in both.
        let sheet = if otherwise && self.draw.once_in(3) { self.some_sheet() } else { None };
        // Which `leaf` is meant would not be known in the second branch.
        self.leaves.push(both.clone());
        let usage = sheet.map(|at| (at, self.usage(at)));
        self.leaves.retain(|leaf| *leaf != both);
        let seen = self.scope.len();
        let mut said = String::new();
        for branch in ["", "otherwise"] {
            match branch {
                "" => self.line(&format!("when {condition}")),
                _ if otherwise => self.line(branch),
                _ => break,
            }
            self.depth += 1;
            if otherwise {
                // The same in both branches now and then.
                if said.is_empty() || self.draw.once_in(2) {
                    said = self.expr(kind, 2);
                }
                self.line(&format!("let {both} = {said}"));
            } else {
                self.let_();
            }
            if let Some((at, (line, _))) = &usage {
                self.line(line);
                if branch == "otherwise" && self.written[*at].name == "leaf" {
                    self.leaves.push(both.clone());
                }
            }
            for _ in 0..self.draw.of(3) {
                self.statement();
            }
            self.depth -= 1;
            self.scope.truncate(seen);
        }
        self.varies = true;
        if otherwise {
            self.bind(&both, kind);
        }
        let symbols = usage.into_iter().flat_map(|(_, (_, symbols))| symbols);
        self.scope.extend(symbols.map(|symbol| Symbol { varies: true, ..symbol }));
        self.varying = before;
    }
}
