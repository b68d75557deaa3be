//! What stands behind each limit of the built-in sheets: the values that were compared and bear on it.
//!
//! A value bears on a limit if it is the ratio or the verdict of that limit, or what a symbol comes to that the limit names and
//! the sheet works out, or has from a sheet that it uses. An input that the limit names says nothing of it. What goes
//! together, a `fit`, is no limit. Limits of one sheet in the same words are one.

use std::collections::{BTreeMap, BTreeSet};

use super::Compared;
use super::value::{Kind, What};
use crate::formula::Node;
use crate::sheet::{Library, Must, Sheet, Stmt};

/// How many values of each kind, the best kind first.
pub type Counts = [usize; 3];

/// A limit, and the values that bear on it.
pub struct Backed {
    pub sheet: String,
    pub words: String,
    pub cite: String,
    /// Ratios and verdicts of it.
    pub direct: Counts,
    /// Values of symbols that it names.
    pub sides: Counts,
}

impl Backed {
    /// The best evidence that it has.
    pub fn best(&self) -> Option<Kind> {
        let any = |kind: &Kind| self.direct[*kind as usize] + self.sides[*kind as usize] > 0;
        Kind::ALL.into_iter().find(any)
    }
}

pub(super) fn limits(library: &Library, files: &[Compared]) -> Vec<Backed> {
    let (mut direct, mut symbols) = (BTreeMap::<_, Counts>::new(), BTreeMap::<_, Counts>::new());
    for value in files.iter().flat_map(|compared| &compared.values) {
        let Some(stands) = &value.stands else { continue };
        let of = if matches!(value.what, What::Symbol(_)) { &mut symbols } else { &mut direct };
        of.entry(stands.clone()).or_default()[value.kind as usize] += 1;
    }
    let mut all: BTreeMap<(String, String), Backed> = BTreeMap::new();
    for sheet in library.sheets().filter(|sheet| !sheet.own) {
        sheet.walk(&mut |stmt| {
            let Stmt::Must(rule) = stmt else { return };
            if rule.fit {
                return;
            }
            let key = (sheet.name.clone(), rule.say.clone());
            let backed = all.entry(key.clone()).or_insert_with(|| Backed {
                sheet: sheet.name.clone(),
                words: rule.say.clone(),
                cite: rule.cite.clone().unwrap_or_default(),
                direct: direct.get(&key).copied().unwrap_or_default(),
                sides: Counts::default(),
            });
            for symbol in worked_out(sheet, rule) {
                for (sum, more) in backed.sides.iter_mut().zip(symbols.get(&symbol).copied().unwrap_or_default()) {
                    *sum += more;
                }
            }
        });
    }
    all.into_values().collect()
}

/// What a limit names and its sheet works out, as the sheet and the symbol where that is done.
fn worked_out(sheet: &Sheet, rule: &Must) -> BTreeSet<(String, String)> {
    let (mut lets, mut uses) = (BTreeMap::new(), BTreeMap::new());
    sheet.walk(&mut |stmt| match stmt {
        Stmt::Let(rule) => drop(lets.insert(rule.name.as_str(), rule)),
        Stmt::Use(rule) => drop(uses.insert(rule.name.as_str(), rule.sheet.as_str())),
        _ => {}
    });
    let mut found = BTreeSet::new();
    for mut symbol in rule.condition.symbols() {
        // Another name for a symbol says no more than that.
        while let Some(rule) = lets.get(symbol).filter(|rule| rule.renames()) {
            let Node::Symbol(of) = &rule.cases[0].value.node else { break };
            found.insert((sheet.name.clone(), symbol.to_string()));
            symbol = of;
        }
        if lets.contains_key(symbol) {
            found.insert((sheet.name.clone(), symbol.to_string()));
        } else if let Some((used, name)) = symbol.rsplit_once('.')
            && let Some(sheet) = uses.get(used)
        {
            found.insert((sheet.to_string(), name.to_string()));
        }
    }
    found
}
