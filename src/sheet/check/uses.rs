//! The check of what sheets pass to one another: arguments, what comes from a
//! sheet above, open places, what a sheet gives.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::super::tree::{Give, Input, Methods, OpenPlace, Use};
use super::{Checker, Scope, Signature, check_as};
use crate::diag::Diagnostic;
use crate::formula::{Expr, Kind, Kinds, Node};
use crate::source::Place;

impl Checker<'_> {
    pub(super) fn use_(&mut self, inner: &mut Use) {
        let Some((used, method)) = self.passed(inner) else { return };
        for (symbol, kind) in &used.outputs {
            let name = format!("{}.{symbol}", inner.name);
            self.bind(&name, &inner.span.clone(), kind.clone(), method);
        }
    }

    /// What a sheet that is used offers, and the method that its symbols belong
    /// to, after its inputs were checked.
    pub(super) fn passed(&mut self, inner: &mut Use) -> Option<(Signature, Option<Methods>)> {
        let used = match self.done.get(&inner.sheet) {
            Some(Some(signature)) => signature.clone(),
            // That sheet is wrong itself, and says so.
            Some(None) => {
                self.close(&format!("{}.", inner.name));
                return None;
            }
            None => {
                self.diagnostics.push(
                    Diagnostic::new(format!("unknown sheet `{}`", inner.sheet))
                        .at(self.place(&inner.span))
                        .nearest(&inner.sheet, self.done.keys().map(String::as_str)),
                );
                return None;
            }
        };
        self.pass_on(inner, &used.inputs);
        let refused = self.catch(inner, &used);
        self.seen.push((inner.sheet.clone(), inner.name.clone()));
        let mut method = used.method;
        for (name, span, value) in &mut inner.args {
            let found = self.uses(&value.clone());
            if let (Some(theirs), Some(found)) = (used.method, found)
                && let here = theirs.and(self.sheet.method.unwrap_or(Methods::ALL))
                && here.and(found) != here
            {
                let message = format!(
                    "`{name}` comes from {} loads; `{}` is worked with {} loads",
                    found.name(),
                    inner.sheet,
                    theirs.name()
                );
                self.diagnostics.push(Diagnostic::new(message).at(self.place(span)));
            }
            method = method.or(found);
            match used.inputs.iter().find(|input| input.name == *name) {
                // What may be left out here may be left out there.
                Some(input) if input.optional && self.passes_optional(value, input) => {}
                Some(input) => {
                    let result = check_as(value, &input.kind, &self.sheet.source, &self.scope);
                    self.keep(result);
                }
                None => {
                    let diagnostic = Diagnostic::new(format!("the sheet `{}` has no input `{name}`", inner.sheet));
                    let known = used.inputs.iter().filter(|input| !input.passed_on).map(|input| input.name.as_str());
                    self.diagnostics.push(diagnostic.at(self.place(span)).nearest(name, known));
                }
            }
        }
        for (at, (name, span, _)) in inner.args.iter().enumerate() {
            if inner.args[..at].iter().any(|(other, ..)| other == name) {
                self.diagnostics.push(Diagnostic::new(format!("`{name}` is given twice")).at(self.place(span)));
            }
        }
        let missing: Vec<&str> = used
            .inputs
            .iter()
            .filter(|input| {
                let comes = input.from.as_ref().is_some_and(|from| !self.sources.contains(&from.source));
                let given = refused.contains(&input.name) || inner.args.iter().any(|(name, ..)| *name == input.name);
                !comes && input.default.is_none() && !input.optional && !given
            })
            .map(|input| input.name.as_str())
            .collect();
        if !missing.is_empty() {
            let message = format!("the sheet `{}` also needs {}", inner.sheet, crate::diag::list(&missing, "and"));
            self.diagnostics.push(Diagnostic::new(message).at(self.place(&inner.span)));
        }
        Some((used, method))
    }

    fn passes_optional(&self, value: &Expr, input: &Input) -> bool {
        let Node::Symbol(name) = &value.node else { return false };
        self.scope.optional(name).is_some_and(|kind| input.kind.accepts(&kind))
    }

    /// Inputs that come from a sheet used above and are not passed: what is in
    /// sight here is passed, what is not this sheet needs itself.
    pub(super) fn catch(&mut self, inner: &mut Use, used: &Signature) -> BTreeSet<String> {
        let mut refused = BTreeSet::new();
        for input in &used.inputs {
            let Some(from) = input.from.as_ref().filter(|from| self.sources.contains(&from.source)) else { continue };
            if inner.args.iter().any(|(name, ..)| *name == input.name) {
                continue;
            }
            let symbol = format!("{}.{}", from.source, from.name);
            if self.scope.excused(&symbol) {
                continue;
            }
            let span = inner.span.clone();
            let uses = self.seen.iter().filter(|(sheet, name)| *sheet == from.source || *name == from.source);
            let names: Vec<&str> = uses.map(|(_, name)| name.as_str()).collect();
            let known = self.scope.kinds.contains_key(&symbol);
            if names.len() > 1 || (!known && !names.is_empty()) {
                refused.insert(input.name.clone());
                let diagnostic = if names == [from.source.as_str()] {
                    let message = format!("the sheet `{}` does not give `{}`", from.source, from.name);
                    let prefix = format!("{}.", from.source);
                    let given = self.scope.kinds.keys().filter_map(|name| name.strip_prefix(&prefix));
                    Diagnostic::new(message).at(Place::new(&used.source, input.span.clone())).nearest(&from.name, given)
                } else {
                    let message = format!("`{}` of the sheet `{}` has to be passed", input.name, inner.sheet);
                    let hint = match names.len() {
                        1 => format!("it comes from `{}`, which is used here as `{}`", from.source, names[0]),
                        _ => format!("it comes from `{}`, which is used more than once here", from.source),
                    };
                    Diagnostic::new(message).at(self.place(&span)).hint(hint)
                };
                self.diagnostics.push(diagnostic);
                continue;
            }
            // What one of them has to have, nothing stands in for.
            if let Some(known) = self.sheet.inputs.iter_mut().find(|known| known.passed_on && known.name == symbol)
                && input.default.is_none()
            {
                Arc::make_mut(known).default = None;
            }
            if !known {
                if self.sheet.input(&symbol).is_none() {
                    let input =
                        Input { name: symbol.clone(), span: span.clone(), passed_on: true, ..Input::clone(input) };
                    self.sheet.inputs.push(Arc::new(Input { bounds: Vec::new(), ..input }));
                }
                self.scope.kinds.insert(symbol.clone(), input.kind.clone());
                self.used.insert(symbol.clone());
            }
            let value = Expr { span: span.clone(), node: Node::Symbol(symbol) };
            inner.args.push((input.name.clone(), span, value));
        }
        refused
    }

    /// An open place: each candidate is checked as if it alone were used.
    pub(super) fn place_(&mut self, inner: &mut OpenPlace) {
        let values: Vec<String> = inner.choices.iter().map(|(value, _)| value.clone()).collect();
        if values.is_empty() {
            let message = format!("no sheet stands as `{}`", inner.name);
            let hint = format!(
                "a sheet that can stand here says so at its head: `stands as {} when {} is …`",
                inner.name, inner.column
            );
            self.diagnostics.push(Diagnostic::new(message).at(self.place(&inner.span)).hint(hint));
        }
        if let Some(input) = &mut inner.input {
            input.kind = Kind::Choice(values);
            if let Some(default) = &mut input.default {
                let result = check_as(default, &input.kind, &self.sheet.source, &Scope::default());
                self.keep(result);
            }
            self.bind(&input.name, &input.span, input.kind.clone(), None);
            self.sheet.inputs.push(Arc::new(input.clone()));
        } else if !self.scope.kinds.contains_key(&inner.column) {
            let message = format!("unknown symbol `{}`", inner.column);
            let diagnostic = Diagnostic::new(message).at(self.place(&inner.span));
            self.diagnostics.push(diagnostic.hint(format!("write `by {} from FILE`, or bind it above", inner.column)));
        }
        self.used.insert(inner.column.clone());
        let mut methods = Vec::new();
        let gives = std::mem::take(&mut inner.gives);
        for (_, choice) in &mut inner.choices {
            choice.args = inner.args.clone();
            let before = self.scope.clone();
            let Some((used, method)) = self.passed(choice) else { continue };
            self.scope.kinds = before.kinds;
            methods.push(method);
            self.given(&choice.sheet, &used, &gives, &inner.name);
        }
        let method =
            methods.first().copied().flatten().filter(|first| methods.iter().all(|method| *method == Some(*first)));
        for give in &gives {
            self.bind(&format!("{}.{}", inner.name, give.name), &give.span, give.kind.clone(), method);
        }
        inner.gives = gives;
    }

    /// Whether a candidate gives what its place promises.
    fn given(&mut self, candidate: &str, used: &Signature, gives: &[Give], place: &str) {
        let at = Place::new(&used.source, used.stands.clone());
        let lacking: Vec<&Give> = gives.iter().filter(|give| !used.outputs.contains_key(&give.name)).collect();
        if !lacking.is_empty() {
            let names: Vec<&str> = lacking.iter().map(|give| give.name.as_str()).collect();
            let names = crate::diag::list(&names, "and");
            let mut diagnostic =
                Diagnostic::new(format!("`{candidate}` does not give {names}, which `{place}` promises"));
            diagnostic = diagnostic.at(at.clone()).hint("missing under its `gives`:");
            for give in lacking {
                let kind = give.kind.to_string().replace('`', "").replace(" or ", ", ");
                diagnostic = diagnostic.hint(format!("{}  {kind}  \"{}\"", give.name, give.say));
            }
            self.diagnostics.push(diagnostic);
        }
        for give in gives {
            if let Some(kind) = used.outputs.get(&give.name).filter(|kind| !give.kind.accepts(kind)) {
                let message = format!(
                    "`{}` of `{candidate}` is {}; `{place}` promises {}",
                    give.name,
                    kind.named(),
                    give.kind.named()
                );
                self.diagnostics.push(Diagnostic::new(message).at(at.clone()));
            }
        }
    }

    /// What the sheet says it gives has a value of that kind at its end.
    pub(super) fn gives(&mut self) {
        if !self.diagnostics.is_empty() {
            return;
        }
        for give in self.sheet.gives.clone() {
            let message = match self.scope.kinds.get(&give.name) {
                None => self
                    .scope
                    .why_not(&give.name)
                    .unwrap_or(format!("`{}` is listed under `gives`, but nothing binds it", give.name)),
                Some(kind) if !give.kind.accepts(kind) => {
                    format!("`{}` is {}, not {}", give.name, kind.named(), give.kind.named())
                }
                Some(_) => match &give.unit {
                    Some(unit) if give.kind.dim() != Some(unit.dim) => {
                        format!("`{}` is {}, which is not printed in `{}`", give.name, give.kind.named(), unit.name())
                    }
                    _ => continue,
                },
            };
            self.diagnostics.push(Diagnostic::new(message).at(self.sheet.place(&give.span)));
        }
    }

    /// `from SHEET`: what that sheet gives goes to inputs of the same name that
    /// are not given otherwise.
    pub(super) fn pass_on(&mut self, inner: &mut Use, inputs: &[Arc<Input>]) {
        for (sheet, span) in &inner.from {
            let mut passed = 0;
            for input in inputs {
                let symbol = format!("{sheet}.{}", input.name);
                if self.scope.kinds.contains_key(&symbol) && !inner.args.iter().any(|(name, ..)| *name == input.name) {
                    let value = Expr { span: span.clone(), node: Node::Symbol(symbol) };
                    inner.args.push((input.name.clone(), span.clone(), value));
                    passed += 1;
                }
            }
            if passed == 0 && !self.scope.wrong.contains(&format!("{sheet}.")) {
                let diagnostic = Diagnostic::new(format!("`from {sheet}` passes nothing that `{}` needs", inner.sheet));
                let known: BTreeSet<&str> =
                    self.scope.kinds.keys().filter_map(|name| Some(name.split_once('.')?.0)).collect();
                let known = known.into_iter().filter(|known| known != sheet);
                self.diagnostics.push(diagnostic.at(self.place(span)).nearest(sheet, known));
            }
        }
    }
}
