//! Marks what a package prints otherwise than an earlier one. Both are walked in
//! the same way: everything printed has a name that says what it is about, free of
//! numbers of lines and letters of columns, and a text.

use std::collections::{BTreeMap, BTreeSet};

use super::build::Pages;
use super::ledger::spans_text;
use super::lines::join;
use super::model::{
    Calculation, Candidate, FactItem, LimitRow, Line, Math, Open, Package, PlainItem, PlainSheet, Printed, RankedLimit,
    Row, Section, Side, Worked,
};

/// Marks in a package what the other does not print so.
pub fn mark(package: &mut Package, pages: &mut Pages, old: &mut (Package, Pages)) {
    let names = Names::of(&old.0, &old.1);
    let mut texts: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut places = texts.clone();
    let mut enter = |about: About, text: String| {
        texts.entry(about.name()).or_default().insert(text.clone());
        places.entry(about.place).or_default().insert(text);
        false
    };
    Walk { names: &names, see: &mut enter }.all(&mut old.0, &mut old.1);
    let mut differs = |about: About, text: String| match texts.get(&about.name()) {
        Some(known) => !known.contains(&text),
        // What the old pages say of others in the same place need not be read again.
        None => places.get(&about.place).is_none_or(|known| !known.contains(&text)),
    };
    Walk { names: &names, see: &mut differs }.all(package, pages);
}

/// What a printed thing is about: its place on the pages, and for which posts and
/// combination it stands there.
struct About {
    place: String,
    whose: String,
}

impl About {
    fn name(&self) -> String {
        format!("{} of {}", self.place, self.whose)
    }
}

/// One name for the same posts in both packages: those of the old one that have
/// most of them.
struct Names(BTreeMap<String, Vec<BTreeSet<String>>>);

impl Names {
    fn of(package: &Package, pages: &Pages) -> Names {
        let mut names = Names(BTreeMap::new());
        let mut add = |what: String, marks: &[String]| {
            names.0.entry(what).or_default().push(marks.iter().cloned().collect());
        };
        package.summary.iter().for_each(|row| add(GROUP.into(), &row.marks));
        for chapter in pages.loads.iter().chain(&pages.worked) {
            add(class(chapter).into(), &all_marks(chapter));
            for column in &chapter.columns {
                add(format!("{} {}", class(chapter), column.what), &column.marks);
            }
        }
        names
    }

    fn name(&self, what: &str, marks: &[String]) -> String {
        let shared = |known: &BTreeSet<String>| marks.iter().filter(|mark| known.contains(*mark)).count();
        let known = self.0.get(what).map_or(&[][..], Vec::as_slice).iter().enumerate();
        // Of equal ones the first.
        let best = known.rev().max_by_key(|(_, known)| shared(known)).filter(|(_, known)| shared(known) > 0);
        match best {
            Some((at, _)) => format!("{what} {at}"),
            None => format!("{what} with {}", marks.first().map_or("", String::as_str)),
        }
    }
}

const GROUP: &str = "posts";

/// `B` of `B1`.
fn class(chapter: &Worked) -> &str {
    chapter.name.trim_end_matches(|c: char| c.is_ascii_digit())
}

fn all_marks(chapter: &Worked) -> Vec<String> {
    let marks: BTreeSet<&String> = chapter.columns.iter().flat_map(|column| &column.marks).collect();
    marks.into_iter().cloned().collect()
}

struct Walk<'a> {
    names: &'a Names,
    /// Takes what is printed; whether it is another than before.
    see: &'a mut dyn FnMut(About, String) -> bool,
}

impl Walk<'_> {
    fn see(&mut self, place: &str, whose: impl Into<String>, text: String) -> bool {
        (self.see)(About { place: place.into(), whose: whose.into() }, text)
    }

    fn all(&mut self, package: &mut Package, pages: &mut Pages) {
        self.front(package);
        self.plan(package);
        self.loads(package);
        self.back(package);
        pages.sheets.iter_mut().for_each(|sheet| self.calculation(sheet));
        pages.loads.iter_mut().chain(&mut pages.worked).for_each(|chapter| self.chapter(chapter));
    }

    /// Up to the summary.
    fn front(&mut self, package: &mut Package) {
        let verdict = &mut package.verdict;
        verdict.changed = self.see("verdict", "", verdict.headline.clone());
        if let Some(it) = &mut package.title_block {
            let text = format!("{} {:?} {} {}", it.name, it.address, it.licence, it.digest);
            it.changed = self.see("title block", "", text);
        }
        for it in &mut verdict.failures {
            it.changed = self.see("not met", it.marks.clone(), format!("{}; {}", it.limit, it.remedy));
        }
        for it in &mut package.design_loads {
            it.changed = self.see("design load", it.title.clone(), spans_text(&it.spans));
        }
        self.open(&mut package.open);
        for it in &mut package.inspections {
            let text = format!("{} {} {}", it.how, it.cite, it.posts);
            it.changed = self.see(&format!("inspected: {}", spans_text(&it.what)), "", text);
        }
        for it in &mut package.assumptions {
            it.changed = self.see("assumption", "", format!("{} {}", spans_text(&it.text), it.cite));
        }
        for it in &mut package.own {
            let rows: Vec<String> =
                it.rows.iter().map(|row| format!("{} {} {}", row.row, row.source, row.stands)).collect();
            let text = format!("{}; {}; {}; {rows:?}", it.title, it.stands, it.used);
            it.changed = self.see("own", it.file.clone(), text);
        }
        for it in &mut package.summary {
            let whose = self.names.name(GROUP, &it.marks);
            let stands = format!("{} {} {} of {}", it.ok, it.open, it.met, it.limits);
            let marks = it.marks.join(", ");
            let text = [&marks, &it.post, &it.base, &it.limit, &it.sheet, &it.combination, &it.ratio, &stands];
            it.changed = self.see("summary", whose, text.map(String::as_str).join("; "));
        }
        for it in &mut package.ranking.limits {
            self.ranked(it);
        }
    }

    fn open(&mut self, open: &mut Open) {
        for it in &mut open.decisions {
            let text = [&it.value, &it.cite, &it.posts, &it.answer, &it.why].map(String::as_str).join("; ");
            it.changed = self.see("decision", it.what.clone(), text);
        }
        for it in &mut open.values {
            let text = [&it.values, &it.source, &it.doubt, &it.answer, &it.why].map(String::as_str).join("; ");
            it.changed = self.see("to confirm", format!("{}, {}", it.table, it.row), text);
        }
        for it in &mut open.declared {
            it.changed = self.see("declared", it.kind.clone(), it.reason.clone());
        }
        for it in &mut open.assumed {
            it.changed = self.see("taken", it.input.clone(), format!("{}; {}; {}", it.value, it.say, it.posts));
        }
        for it in &mut open.starters {
            // Whether a mark was taken away is seen where the value is printed.
            for (name, value) in &it.values {
                let text = format!("{value}; {}", it.posts);
                it.changed |= self.see("starter", format!("{} {name}", it.place), text);
            }
        }
    }

    /// Key plan, roof and load path.
    fn plan(&mut self, package: &mut Package) {
        let plan = &mut package.plan;
        plan.changed.drawing = self.see("plan", "", drawn(&plan.drawing));
        for (mark, text) in &plan.stands {
            if self.see("plan of", mark, text.clone()) {
                plan.changed.posts.push(mark.clone());
            }
        }
        for (at, (_, what)) in plan.key.iter().enumerate() {
            if self.see("key of the plan", "", what.clone()) {
                plan.changed.key.push(at);
            }
        }
        for (at, (marks, note)) in plan.posts.iter().enumerate() {
            if self.see("list of the plan", marks, note.clone()) {
                plan.changed.list.push(at);
            }
        }
        if let Some(roof) = &mut package.roof {
            roof.changed = self.see("roof", "", drawn(&roof.drawing));
            for row in &mut roof.rows {
                row.changed = self.see("wind on the roof", &row.case, format!("{} {:?}", row.toward, row.pressures));
            }
        }
        if let Some(path) = &mut package.load_path {
            path.changed = self.see("load path", "", drawn(&path.drawing));
            for (at, words) in path.down.iter().enumerate() {
                if self.see("down", "", words.clone()) {
                    path.changed_down.push(at);
                }
            }
            for row in &mut path.sideways {
                row.changed = self.see("sideways", "", format!("{} {} {} {}", row.axis, row.marks, row.by, row.how));
            }
        }
        for row in &mut package.handed {
            for (level, forces) in [("asd", &row.asd), ("strength", &row.strength)] {
                for (force, post) in forces.iter().flat_map(|it| it.posts.iter().map(move |post| (it, post))) {
                    let text = format!("{} in {}", force.value, force.combination);
                    row.changed |= self.see(&format!("{} {level}", row.what), post, text);
                }
            }
        }
    }

    fn loads(&mut self, package: &mut Package) {
        for (place, words) in [("model", &mut package.load_model), ("equilibrium", &mut package.equilibrium)] {
            words.changed = self.see(place, "", words.text.clone());
        }
        for row in &mut package.balance {
            row.changed = self.see("balance", row.case.clone(), format!("{:?} {:?}", row.brought, row.ground));
        }
        for row in &mut package.governing {
            let place = format!("{} governs", row.name);
            let limits = row.limits.to_string();
            let text = [&row.c_d, &limits, &row.marks, &row.p, &row.h_x, &row.h_y, &row.ratio, &row.limit];
            row.changed = self.see(&place, "", text.map(String::as_str).join("; "));
        }
        for set in &mut package.combination_sets {
            let whose = format!("{} {}", set.method, set.clause);
            set.changed = self.see("combinations", whose, format!("{} {}", set.c_d, set.names.join(", ")));
        }
        for table in &mut package.reactions {
            for row in &mut table.rows {
                let place = format!("reaction {} {}", row.case, row.what);
                for (marks, cell) in table.columns.iter().zip(&row.cells) {
                    row.changed |= self.see(&place, marks, cell.clone());
                }
            }
        }
    }

    /// Sheets for shop and site, schedules, appendix.
    fn back(&mut self, package: &mut Package) {
        for table in &mut package.schedules {
            for (at, row) in table.rows.iter().enumerate() {
                let whose = row.first().cloned().unwrap_or_default();
                if self.see(&format!("schedule {}", table.title), whose, row.join("; ")) {
                    table.changed.push(at);
                }
            }
        }
        for sheet in package.shop.iter_mut().chain(&mut package.field) {
            sheet.changed = self.see("sheet", sheet.title.clone(), plain_text(sheet));
        }
        for it in &mut package.reports {
            it.changed = self.see("report", it.base.clone(), format!("{} {} {}", it.number, it.date, it.source));
        }
        for it in &mut package.sources {
            it.changed =
                self.see("source", format!("{}, {}", it.table, it.row), format!("{} {}", it.source, it.caution));
        }
        for words in &mut package.not_covered {
            words.changed = self.see("not covered", "", words.text.clone());
        }
    }

    fn ranked(&mut self, it: &mut RankedLimit) {
        let text = format!("{} {} {}", it.ratio, it.ok, it.combination);
        it.changed = self.see(&format!("rank {} {}", it.limit, it.sheet), "", text);
    }

    fn calculation(&mut self, sheet: &mut Calculation) {
        let whose = self.names.name(GROUP, &sheet.marks);
        for (at, (name, value)) in sheet.facts.iter().enumerate() {
            if self.see(&format!("sheet says {name}"), whose.clone(), value.clone()) {
                sheet.changed.push(at);
            }
        }
        for it in &mut sheet.forces {
            let text = format!("{} {}", it.head.c_d, it.values.join("; "));
            it.changed = self.see(&format!("forces in {}", it.head.what), whose.clone(), text);
        }
        for it in &mut sheet.limits {
            let mut text = vec![limit_text(&it.row), it.symbolic.src.clone(), it.combination.clone(), it.cite.clone()];
            // Whether a side stands with its numbers depends on which posts the worked pages show.
            text.extend(it.formulas.iter().flat_map(|side| [side.symbolic.src.clone(), join(&side.value)]));
            let place = format!("sheet limit {} {}", it.sheet, spans_text(&it.say));
            it.row.changed = self.see(&place, whose.clone(), text.join("; "));
        }
        for it in &mut sheet.sizes {
            it.changed = self.see(&format!("size {}", spans_text(&it.say)), whose.clone(), it.ratio.clone());
        }
    }

    fn chapter(&mut self, chapter: &mut Worked) {
        let class = class(chapter).to_string();
        let whole = self.names.name(&class, &all_marks(chapter));
        let columns = chapter.columns.iter();
        let columns = columns
            .map(|it| (it.letter.clone(), self.names.name(&format!("{class} {}", it.what), &it.marks)))
            .collect();
        for section in &mut chapter.sections {
            let mut lines = Lines { class: &class, whole: &whole, columns: &columns, walk: self };
            lines.section(section);
        }
        for it in &mut chapter.low {
            let text = [&it.demand, &it.capacity, &it.ratio, &it.combination, &it.cite].map(String::as_str).join("; ");
            let place = format!("low {} {}", it.sheet, spans_text(&it.say));
            it.changed = self.see(&place, whole.clone(), text);
        }
        for table in &mut chapter.ratios {
            for row in &mut table.rows {
                let place = format!("ratio {}", spans_text(&row.say));
                for (posts, cell) in table.posts.iter().zip(&row.cells) {
                    row.changed |= self.see(&place, posts, format!("{} {}", cell.ratio, cell.combination));
                }
            }
        }
        for row in &mut chapter.skipped {
            let text = format!("{}: {}", row.posts, row.sheets.join("; "));
            row.changed = self.see(&format!("not taken: {}", spans_text(&row.says)), "", text);
        }
        for it in &mut chapter.fits {
            it.changed = self.see(&format!("fit {}", spans_text(&it.say)), whole.clone(), it.fails.clone());
        }
    }
}

/// The lines of a chapter.
struct Lines<'a, 'w> {
    class: &'a str,
    /// The chapter, by its posts.
    whole: &'a str,
    /// By letter, the posts and the combination of each column.
    columns: &'a BTreeMap<String, String>,
    walk: &'a mut Walk<'w>,
}

impl Lines<'_, '_> {
    /// Whether a row is another in any of its places.
    fn row(&mut self, place: &str, at: &[String], text: &str) -> bool {
        let mut changed = false;
        for at in at {
            let (path, letter) = at.rsplit_once('@').unwrap_or((at, ""));
            let column = self.columns.get(letter).map_or("", String::as_str);
            changed |= self.walk.see(place, format!("{path} {column}"), text.into());
        }
        changed
    }

    fn section(&mut self, section: &mut Section) {
        let table = section.table;
        let begin = format!("{} {}", self.class, section.sheet);
        for line in &mut section.lines {
            match line {
                Line::Prose { .. } | Line::Rests { .. } => {}
                Line::Facts { file, items } => items.iter_mut().for_each(|item| self.fact(file, item)),
                Line::Inputs { items } => {
                    for item in items {
                        let place = format!("{begin} in {}", item.symbol.src);
                        for row in &mut item.rows {
                            row.changed = self.row(&place, &row.at, &join(&row.value));
                        }
                    }
                }
                Line::Step { say, cite, symbol, symbolic, when, rows, raw, .. } => {
                    let place = format!("{begin} line {}", symbol.src);
                    let words = [&spans_text(say), &*cite, &source(symbolic.as_ref()), &spans_text(when), &*raw];
                    let words = words.map(String::as_str).join("; ");
                    for row in rows {
                        // A table of loads prints what it comes to.
                        let text = if table { join(&row.value) } else { format!("{words}: {}", row_text(row)) };
                        row.changed = self.row(&place, &row.at, &text);
                    }
                }
                Line::Candidates { say, cite, symbol, which, when, parts, rows, .. } => {
                    let place = format!("{begin} line {}", symbol.src);
                    let parts: Vec<&str> = parts.iter().map(|part| part.src.as_str()).collect();
                    let words = [&spans_text(say), &*cite, &*which, &spans_text(when), &parts.join(", ")];
                    let words = words.map(String::as_str).join("; ");
                    for row in rows {
                        let found: Vec<String> = row.candidates.iter().map(candidate_text).collect();
                        let text = format!("{words}: {} = {}", found.join(", "), join(&row.value));
                        row.changed = self.row(&place, &row.at, &text);
                    }
                }
                Line::Lookup { say, cite, table, rows, caution, own, .. } => {
                    let words = [&spans_text(say), &*cite, &*table, &*caution, &*own].map(String::as_str).join("; ");
                    for row in rows {
                        let first = row.values.first().map_or("", |value| value.symbol.src.as_str());
                        let values: Vec<String> = row.values.iter().map(|it| join(&it.value)).collect();
                        let text = format!("{words}: {:?} {:?} {:?}", row.keys, values, row.ends);
                        row.changed = self.row(&format!("{begin} line {first}"), &row.at, &text);
                    }
                }
                Line::Figure { say, drawing, changed, .. } => {
                    let text = serde_json::to_string(drawing).unwrap_or_default();
                    *changed = self.walk.see(&format!("{begin} figure {}", spans_text(say)), self.whole, text);
                }
                Line::Limit { say, cite, symbolic, rows, .. } => {
                    let place = format!("{begin} limit {} {}", spans_text(say), symbolic.src);
                    for row in rows {
                        let text = format!("{cite}: {}", limit_text(row));
                        row.changed = self.row(&place, &row.at, &text);
                    }
                }
            }
        }
    }

    fn fact(&mut self, file: &str, item: &mut FactItem) {
        // In which file of a table a row stands is no change.
        let table = file.split(['/', '.']).next().unwrap_or(file);
        let place = format!("{} fact {table} {}", self.class, item.symbol.src);
        for row in &mut item.rows {
            let text = format!("{}: {}", spans_text(&item.say), join(&row.value));
            row.changed = self.row(&place, &row.at, &text);
        }
    }
}

fn drawn(drawing: &impl serde::Serialize) -> String {
    serde_json::to_string(drawing).unwrap_or_default()
}

fn source(math: Option<&Math>) -> String {
    math.map_or(String::new(), |math| math.src.clone())
}

fn numbers(substituted: Option<&Math>, value: &Printed) -> String {
    // Whether nothing is worked out or just said depends on what else the line shows.
    let nothing = matches!(value.number.as_str(), "0" | "0.0");
    format!("{} = {}", if nothing { String::new() } else { source(substituted) }, join(value))
}

fn row_text(row: &Row) -> String {
    numbers(row.substituted.as_ref(), &row.value)
}

fn candidate_text(it: &Candidate) -> String {
    format!("{}{}", numbers(it.substituted.as_ref(), &it.value), if it.governs { " governs" } else { "" })
}

fn limit_text(row: &LimitRow) -> String {
    let side = |side: &Side| format!("{} {}", side.symbolic.src, numbers(side.substituted.as_ref(), &side.value));
    format!("{}; {}; {} {}", side(&row.demand), side(&row.capacity), row.ratio, row.ok)
}

/// A sheet for shop or site, without the numbers of lines.
fn plain_text(sheet: &PlainSheet) -> String {
    let spans =
        |list: &Vec<Vec<super::model::Span>>| list.iter().map(|it| spans_text(it)).collect::<Vec<_>>().join("; ");
    let item = |item: &PlainItem| match item {
        PlainItem::Heading(words) | PlainItem::Words(words) => spans_text(words),
        PlainItem::Value(it) => format!("{} {}", spans_text(&it.say), join(&it.value)),
    };
    let items: Vec<String> = sheet.items().map(item).collect();
    let drawings: Vec<&crate::drawing::Drawing> = sheet.drawings().collect();
    let drawings = serde_json::to_string(&drawings).unwrap_or_default();
    let hold: Vec<String> = sheet.hold.iter().map(|it| format!("{}: {}", it.marks, it.limit)).collect();
    format!("{} {:?} {items:?} {hold:?} {:?} {drawings}", spans(&sheet.head), sheet.kinds, sheet.own)
}
