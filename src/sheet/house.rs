//! The sheets and tables of a job that is printed in metric units: what they
//! print, and how they say it. What they work with stays as it is.

use std::sync::Arc;

use super::library::{Library, walk_mut};
use super::tree::{Give, Input, Part, Piece, Prose, Sheet, Stmt};
use crate::formula::Expr;
use crate::quantity::{Dim, Unit, Units};

impl Library {
    /// The library as a job in these units prints it. Values that a formula of a
    /// code strips of their units keep those of the code.
    ///
    /// # Panics
    ///
    /// Where somebody has a part of it already.
    #[must_use]
    pub fn printed_in(mut self, units: Units) -> Library {
        self.print_in(units);
        self
    }

    /// The same, in its place.
    ///
    /// # Panics
    ///
    /// Where somebody has a part of it already.
    pub fn print_in(&mut self, units: Units) {
        if units == Units::Imperial {
            return;
        }
        self.units = units;
        let house = House { units, on_site: false };
        self.sheets.values_mut().for_each(|it| house.sheet(own(it)));
        for column in self.tables.values_mut().flat_map(|table| own(table).columns.iter_mut()) {
            house.unit(&mut column.print);
        }
    }
}

fn own<T>(shared: &mut Arc<T>) -> &mut T {
    Arc::get_mut(shared).unwrap_or_else(|| unreachable!("a library is shared once it is whole"))
}

struct House {
    units: Units,
    /// Whether words are for those who work with a tape.
    on_site: bool,
}

impl House {
    fn unit(&self, unit: &mut Unit) {
        *unit = self.units.print(unit);
    }

    fn words(&self, text: &mut String) {
        *text = if self.on_site { self.units.words_on_site(text) } else { self.units.words(text) };
    }

    fn maybe(&self, unit: &mut Option<Unit>) {
        unit.iter_mut().for_each(|unit| self.unit(unit));
    }

    fn expr(&self, expr: &mut Expr) {
        expr.literals(&|_, _, print| self.unit(print));
    }

    fn exprs<'a>(&self, exprs: impl IntoIterator<Item = &'a mut Expr>) {
        exprs.into_iter().for_each(|expr| self.expr(expr));
    }

    fn sheet(&self, sheet: &mut Sheet) {
        self.words(&mut sheet.title);
        sheet.inputs.iter_mut().for_each(|input| self.input(Arc::make_mut(input)));
        sheet.gives.iter_mut().for_each(|give| self.give(give));
        walk_mut(&mut sheet.body, &mut |stmt| self.stmt(stmt));
    }

    fn input(&self, input: &mut Input) {
        let dim = input.kind.dim().filter(|dim| !matches!(*dim, Dim::NONE | Dim::ANGLE));
        input.unit = input.unit.take().or_else(|| dim.map(Unit::usual));
        self.maybe(&mut input.unit);
        input.units.iter_mut().for_each(|unit| self.unit(unit));
        let usual = input.unit.clone();
        input.units.retain(|unit| Some(unit) != usual.as_ref());
        input.units.dedup();
        self.exprs(input.bounds.iter_mut().map(|(_, bound)| bound).chain(&mut input.default));
        self.words(&mut input.say);
    }

    fn give(&self, give: &mut Give) {
        self.maybe(&mut give.unit);
        self.words(&mut give.say);
    }

    fn prose(&self, prose: &mut Prose) {
        for part in prose {
            if let Part::Markup(text) = part {
                self.words(text);
            }
        }
    }

    fn stmt(&self, stmt: &mut Stmt) {
        match stmt {
            Stmt::Heading(text) => self.words(text),
            Stmt::Prose(prose) => self.prose(prose),
            Stmt::Note(note) => self.prose(&mut own(note).text),
            Stmt::Figure(figure) => {
                let figure = own(figure);
                self.exprs(figure.args.iter_mut().map(|(.., value)| value));
                self.words(&mut figure.say);
            }
            Stmt::Let(rule) => {
                let rule = own(rule);
                for case in &mut rule.cases {
                    self.exprs(std::iter::once(&mut case.value).chain(&mut case.when));
                }
                rule.unit = rule.unit.take().or_else(|| rule.raw.as_ref().map(|raw| raw.giving.clone()));
                self.maybe(&mut rule.unit);
                self.words(&mut rule.say);
                rule.refusal.iter_mut().for_each(|text| self.words(text));
            }
            Stmt::Take(rule) => {
                let rule = own(rule);
                self.exprs(rule.keys.iter_mut().map(|(key, _)| key));
                self.words(&mut rule.say);
            }
            Stmt::Use(usage) => self.exprs(own(usage).args.iter_mut().map(|(.., value)| value)),
            Stmt::Place(place) => {
                let place = own(place);
                place.input.iter_mut().for_each(|input| self.input(input));
                place.gives.iter_mut().for_each(|give| self.give(give));
                let passed = place.choices.iter_mut().flat_map(|(_, usage)| &mut usage.args);
                self.exprs(place.args.iter_mut().chain(passed).map(|(.., value)| value));
            }
            Stmt::When(when) => self.expr(&mut own(when).condition),
            Stmt::Must(rule) => {
                let rule = own(rule);
                self.expr(&mut rule.condition);
                self.words(&mut rule.say);
                self.words(&mut rule.remedy);
            }
            Stmt::Piece(piece) => self.piece(own(piece)),
            // What is decided is asked in words that an answer repeats.
            Stmt::Decide(_) | Stmt::Hand(_) => {}
            // Its lines come after it once more, and have no more to change.
            Stmt::Page(page) => {
                let site = House { units: self.units, on_site: true };
                walk_mut(&mut own(page).body, &mut |stmt| site.stmt(stmt));
            }
        }
    }

    fn piece(&self, piece: &mut Piece) {
        self.exprs(std::iter::once(&mut piece.amount).chain(&mut piece.values));
        self.maybe(&mut piece.unit);
    }
}
