//! The worked pages of one group: every sheet in the combination that governs
//! it, every line numbered so that a reviewer can cite it. A formula is printed
//! once in a package; what it comes to for other groups stands in the table of
//! values. What a line looks like stands in `lines`.

use std::collections::{BTreeMap, BTreeSet};

use super::ledger::Ledger;
use super::lines::{join, said};
use super::model::{FactItem, Group, InputItem, LimitRow, Line, Section, Span, Whence};
use super::values::{Cell, Name};
use crate::engine::{Combination, Limit, Shown};
use crate::formula::{Expr, Value};
use crate::job::Job;
use crate::quantity::{Units, number, number_fixed};
use crate::sheet::{Bound, Given, Library, Origin, Step, Stmt, What, Worked};
use crate::typeset::{printed, symbol};

/// The worked pages of a group; what they cite goes into the ledger. `letter`
/// begins the numbers of its lines.
pub fn group(
    job: &Job,
    library: &Library,
    combinations: &[Combination],
    shown: &Shown,
    letter: char,
    facts: Vec<(String, String)>,
    ledger: &mut Ledger,
) -> Group {
    let result = shown.group;
    let posts = result.posts.iter().map(|post| &job.posts[*post]);
    let marks: Vec<String> = posts.clone().map(|post| post.mark.clone()).collect();
    ledger.values.column(result.no, some_marks(&marks, 2));
    let mut pages = Pages {
        combinations,
        group: format!("{letter}{}", result.no),
        library,
        units: job.units,
        shown,
        ledger,
        sections: Vec::new(),
        from: BTreeMap::new(),
        printed: BTreeSet::new(),
        count: 0,
    };
    // What the root works itself is shown in the ASD combination that governs:
    // what belongs to strength combinations follows after the wood and the soil.
    let asd =
        |limit: &&Limit| limit.varies() && combinations.get(limit.run()).is_some_and(|known| known.method.is_asd());
    let ratio = |limit: &Limit| limit.ratio().unwrap_or(0.0);
    let heaviest = result.limits.iter().filter(asd).max_by(|a, b| ratio(a).total_cmp(&ratio(b)));
    let run = heaviest.map_or(0, Limit::run);
    pages.root(shown.worked(run), run);
    let limits = result.limits.iter().filter(|limit| !limit.is_fit());
    let limits = limits.map(|limit| pages.limit_row(limit)).collect();
    let sections = kept(pages.sections);
    Group {
        no: result.no,
        title: title(letter, result.no, &marks),
        marks,
        demo: posts.clone().any(|post| post.demo),
        facts,
        verdict: result.ok(),
        limits,
        sections,
    }
}

pub(super) fn title(letter: char, no: usize, marks: &[String]) -> String {
    let shown = some_marks(marks, 6);
    let posts = if marks.len() == 1 { "post" } else { "posts" };
    match letter {
        'L' => format!("Loads on {posts} {shown}"),
        'S' => format!("Shop sheet for {posts} {shown}"),
        'F' => format!("Field sheet for {posts} {shown}"),
        _ => format!("Group {no}: {posts} {shown}"),
    }
}

pub(super) fn some_marks(marks: &[String], most: usize) -> String {
    if marks.len() <= most {
        marks.join(", ")
    } else {
        let shown = most.saturating_sub(2).max(1);
        format!("{} and {} more", marks[..shown].join(", "), marks.len() - shown)
    }
}

/// Sections with something worked in them, without headings that lead to
/// nothing. What came before in the same sheet stays with what follows.
fn kept(sections: Vec<Opened>) -> Vec<Section> {
    let worked = |line: &Line| {
        !matches!(
            line,
            Line::Heading { .. } | Line::Prose { .. } | Line::Note { .. } | Line::Inputs { .. } | Line::Skipped { .. }
        )
    };
    let paths: BTreeSet<String> = sections
        .iter()
        .filter(|opened| opened.section.lines.iter().any(worked))
        .map(|opened| opened.path.clone())
        .collect();
    let mut begun: BTreeSet<String> = BTreeSet::new();
    let mut kept = Vec::new();
    for Opened { path, mut section } in sections {
        let enters = section.lines.iter().any(|line| matches!(line, Line::Inputs { .. }));
        if !(section.lines.iter().any(worked) || enters && paths.contains(&path)) {
            continue;
        }
        let mut lines: Vec<Line> = Vec::new();
        for line in section.lines {
            if matches!(line, Line::Heading { .. }) && matches!(lines.last(), Some(Line::Heading { .. })) {
                lines.pop();
            }
            lines.push(line);
        }
        if matches!(lines.last(), Some(Line::Heading { .. })) {
            lines.pop();
        }
        section.lines = lines;
        if !begun.insert(path) {
            section.title.push_str(", continued");
        }
        kept.push(section);
    }
    kept
}

pub(super) struct Pages<'a> {
    pub combinations: &'a [Combination],
    /// `B2`: what the numbers of its lines begin with.
    pub group: String,
    pub library: &'a Library,
    pub units: Units,
    pub shown: &'a Shown<'a>,
    pub ledger: &'a mut Ledger,
    sections: Vec<Opened>,
    /// Where a symbol of a sheet, by its path, got its value, and which.
    from: BTreeMap<(String, String), (Whence, Value)>,
    /// Paths that were printed.
    printed: BTreeSet<String>,
    count: usize,
}

/// A section, and the use of a sheet that it belongs to.
struct Opened {
    path: String,
    section: Section,
}

/// The sheet whose lines are being written.
pub(super) struct Page<'a> {
    pub worked: &'a Worked,
    pub path: &'a str,
    /// The same, or another where a sheet is shown in a second combination.
    pub block: String,
    pub depth: usize,
    pub run: usize,
    /// The sheet above, whose symbols its inputs come from.
    pub above: Option<(&'a Worked, &'a str)>,
    /// No page of the sheet was printed before.
    pub new: bool,
}

impl Pages<'_> {
    /// The root is the table of contents: it is no page of its own unless it
    /// works something out.
    fn root(&mut self, root: &Worked, run: usize) {
        let path = root.name.clone();
        let page = self.page(root, &path, 1, run, None);
        self.facts(&page);
        self.steps(&page);
        self.elsewhere(&page);
    }

    fn page<'a>(
        &mut self,
        worked: &'a Worked,
        path: &'a str,
        depth: usize,
        run: usize,
        above: Option<(&'a Worked, &'a str)>,
    ) -> Page<'a> {
        let new = self.ledger.said.insert(worked.sheet.name.clone());
        if worked.sheet.own {
            let groups = self.ledger.own_sheets.entry(worked.sheet.name.clone()).or_default();
            groups.extend(&self.shown.group.posts);
        }
        let page = Page { worked, path, block: path.into(), depth, run, above, new };
        self.block(&page);
        page
    }

    fn block(&mut self, page: &Page) {
        let combination = self.combination(page).map_or(String::new(), |combination| combination.name.clone());
        self.ledger.values.block(&page.block, &page.worked.sheet, combination);
    }

    /// The combination that a sheet is shown in, if a load enters it.
    fn combination(&self, page: &Page) -> Option<&Combination> {
        let varies = |given: &Given| page.worked.bound.get(&given.input.name).is_some_and(|bound| bound.varies);
        self.combinations.get(page.run).filter(|_| page.worked.given.iter().any(varies))
    }

    /// What the files say of the posts, once, before anything is worked.
    fn facts(&mut self, page: &Page) {
        let mut files: Vec<(String, Vec<(&Given, &Bound)>)> = Vec::new();
        let mut met: BTreeSet<String> = BTreeSet::new();
        let mut known = 0;
        let (shown, library) = (self.shown, self.library);
        for worked in all_shown(shown, page.path, page.run) {
            let needed = needed(worked);
            for given in worked.given.iter().filter(|given| from_file(library, given)) {
                let name = &given.input.name;
                let Some(bound) = worked.bound.get(name).filter(|bound| needed.contains(name) && !bound.varies) else {
                    continue;
                };
                if !met.insert(given.input.key()) {
                    continue;
                }
                let file = match &given.origin {
                    Origin::File(whence) => whence.split(", ").next().unwrap_or(whence).to_string(),
                    _ => {
                        self.taken(given, bound);
                        "not given; taken as".into()
                    }
                };
                if self.ledger.facts.contains_key(&fact_key(given, bound)) {
                    known += 1;
                    continue;
                }
                match files.iter_mut().find(|(known, _)| *known == file) {
                    Some((_, facts)) => facts.push((given, bound)),
                    None => files.push((file, vec![(given, bound)])),
                }
            }
        }
        let section = Section {
            depth: page.depth,
            sheet: page.worked.name.clone(),
            title: "Given".into(),
            own: Vec::new(),
            combination: String::new(),
            c_d: String::new(),
            lines: Vec::new(),
        };
        self.sections.push(Opened { path: "given".into(), section });
        for (file, facts) in files {
            let item = |(given, bound): (&Given, &Bound)| {
                let no = self.no();
                self.ledger.cite(given.input.cite.as_deref().unwrap_or(""), &no);
                self.ledger.facts.insert(fact_key(given, bound), no.clone());
                FactItem {
                    no,
                    symbol: symbol(given.input.column()),
                    say: said(&given.input.say),
                    value: printed(bound),
                }
            };
            let items = facts.into_iter().map(item).collect();
            self.push(Line::Facts { file, items });
        }
        if known > 0 {
            let text = format!("{known} more values are those that are given for an earlier group.");
            self.push(Line::Note { spans: vec![Span::Text(text)] });
        }
        for given in page.worked.given.iter() {
            let Some(bound) = page.worked.bound.get(&given.input.name) else { continue };
            let from = self.of_file(given, bound);
            self.came(page, &given.input.name, from);
        }
    }

    /// Where a file's value stands among what is given.
    fn of_file(&mut self, given: &Given, bound: &Bound) -> Whence {
        match (self.ledger.facts.get(&fact_key(given, bound)), &given.origin) {
            (Some(no), _) => Whence { words: no.clone(), link: Some(no.clone()) },
            (None, Origin::File(words)) => Whence { words: words.clone(), link: None },
            (None, _) => self.taken(given, bound),
        }
    }

    pub(super) fn came(&mut self, page: &Page, name: &str, from: Whence) {
        if let Some(bound) = page.worked.bound.get(name) {
            self.from.insert((page.path.into(), name.into()), (from, bound.value.clone()));
        }
    }

    pub(super) fn at_line(&mut self, page: &Page, name: &str, no: &str) {
        self.came(page, name, Whence { words: no.into(), link: Some(no.into()) });
    }

    /// A default with a clause behind it is an assumption; its number. Others
    /// only say that there is nothing of a kind.
    fn taken(&mut self, given: &Given, bound: &Bound) -> Whence {
        let Some(cite) = &given.input.cite else { return Whence { words: "default".into(), link: None } };
        let text = format!(
            " is taken as {} where the job does not give it ({}).",
            join(&printed(bound)),
            given.input.say.replace('`', "")
        );
        let spans = vec![Span::Math(symbol(&given.input.name)), Span::Text(text)];
        let no = self.ledger.assume(spans, cite);
        Whence { words: no.clone(), link: Some(no) }
    }

    /// A value that is worked as on an earlier line, where another stands.
    pub(super) fn as_at_line(&mut self, page: &Page, name: &str, no: &str) {
        self.came(page, name, Whence { words: as_at(no), link: Some(no.into()) });
    }

    pub(super) fn no(&mut self) -> String {
        self.count += 1;
        format!("{}.{}", self.group, self.count)
    }

    fn open(&mut self, page: &Page) {
        let combination = self.combination(page);
        let section = Section {
            depth: page.depth,
            sheet: page.worked.name.clone(),
            title: page.worked.sheet.title.clone(),
            own: if page.worked.sheet.own {
                vec![own_sheet(self.library, &page.worked.sheet.name)]
            } else {
                Vec::new()
            },
            combination: combination.map_or(String::new(), |combination| combination.name.clone()),
            c_d: combination.and_then(|combination| combination.c_d).map_or(String::new(), |c_d| number(c_d, 4)),
            lines: Vec::new(),
        };
        self.sections.push(Opened { path: page.block.clone(), section });
    }

    pub(super) fn push(&mut self, line: Line) {
        if let Some(opened) = self.sections.last_mut() {
            opened.section.lines.push(line);
        }
    }

    /// Says of the section that is open what the job has put into it.
    pub(super) fn own(&mut self, words: String) {
        if let Some(opened) = self.sections.last_mut()
            && !opened.section.own.contains(&words)
        {
            opened.section.own.push(words);
        }
    }

    pub(super) fn last_line(&mut self) -> Option<&mut Line> {
        self.sections.last_mut().and_then(|opened| opened.section.lines.last_mut())
    }

    fn sheet(&mut self, page: &Page) {
        self.printed.insert(page.path.into());
        self.open(page);
        self.inputs(page);
        self.steps(page);
        self.elsewhere(page);
    }

    /// Limits of a sheet that it has in other combinations only, for there it
    /// goes by other steps: its lines in those.
    fn elsewhere(&mut self, page: &Page) {
        loop {
            let printed = |limit: &Limit| {
                let key = (self.group.clone(), limit.path().to_string(), limit.rule().span.start);
                self.ledger.limits.contains_key(&key)
            };
            let missing = self.shown.group.limits.iter().find(|limit| limit.path() == page.path && !printed(limit));
            let Some(run) = missing.map(Limit::run) else { return };
            let Some(worked) = self.shown.find(run, page.path) else { return };
            let above = page.above.and_then(|(_, path)| Some((self.shown.find(run, path)?, path)));
            let block = format!("{} in {}", page.path, self.combinations[run].name);
            let page = Page { worked, path: page.path, block, depth: page.depth, run, above, new: false };
            self.block(&page);
            self.open(&page);
            self.inputs(&page);
            self.steps(&page);
        }
    }

    fn steps(&mut self, page: &Page) {
        let is_root = page.above.is_none();
        // A root without lines of its own opens no section.
        let mut open = !is_root;
        for step in &page.worked.steps {
            if let Step::Use(inner) = step {
                let path = format!("{}/{}", page.path, inner.name);
                if !self.printed.contains(&path) {
                    self.used(page, &path);
                    open = false;
                }
                continue;
            }
            if matches!(step, Step::Page { .. } | Step::Piece { .. }) {
                continue;
            }
            if is_root && matches!(step, Step::Skipped(_) | Step::Heading(_) | Step::Prose(_)) {
                continue;
            }
            if let Step::Note(note) = step
                && (is_root || !note.covered)
            {
                self.note(note);
                continue;
            }
            if !open {
                self.open(page);
                open = true;
            }
            self.step(page, step);
        }
        // What other combinations bring in below this sheet.
        let mut rest: Vec<(usize, String)> = Vec::new();
        for (path, run) in &self.shown.sheets {
            let below = path.rsplit_once('/').is_some_and(|(above, _)| above == page.path);
            if below && !self.printed.contains(path) {
                rest.push((run.order, path.clone()));
            }
        }
        rest.sort();
        for (_, path) in rest {
            self.used(page, &path);
        }
    }

    /// A sheet that this one uses, in the combination that governs it.
    fn used(&mut self, page: &Page, path: &str) {
        let Some(run) = self.shown.sheets.get(path).map(|sheet| sheet.run) else { return };
        let run = if self.shown.find(run, path).is_some() { run } else { page.run };
        let Some(worked) = self.shown.find(run, path) else { return };
        let above_path = page.path;
        let Some(above) = self.shown.find(run, above_path) else { return };
        let depth = if page.above.is_none() { 1 } else { page.depth + 1 };
        let page = self.page(worked, path, depth, run, Some((above, above_path)));
        self.sheet(&page);
    }

    /// What comes into a sheet: from lines above in one run, then what the
    /// sheet above works out on the way in.
    fn inputs(&mut self, page: &Page) {
        let mut items = Vec::new();
        let mut formulas = Vec::new();
        for given in &page.worked.given {
            let name = &given.input.name;
            let Some(bound) = page.worked.bound.get(name) else { continue };
            let (from, known) = match &given.origin {
                _ if from_file(self.library, given) => (self.of_file(given, bound), !bound.varies),
                Origin::File(words) => (Whence { words: words.clone(), link: None }, !bound.varies),
                Origin::Default => (self.taken(given, bound), true),
                Origin::Symbol(symbol) => self.origin(symbol, &page.above),
                Origin::Formula(expr) if expr.symbols().is_empty() => (Whence::default(), true),
                Origin::Formula(expr) => {
                    formulas.push((given, expr));
                    continue;
                }
            };
            // It goes through this sheet to those below, and is no line here.
            if given.input.passed_on {
                self.came(page, name, from);
                continue;
            }
            // What the combination brings, or a line shows in another one,
            // stands nowhere else.
            if !known {
                let line = from.link.clone().unwrap_or_default();
                self.enter(page, 0, name, bound, line, page.new);
            }
            items.push(InputItem { symbol: symbol(name), value: printed(bound), from: from.clone() });
            self.came(page, name, from);
        }
        if !items.is_empty() {
            self.push(Line::Inputs { items });
        }
        for (given, expr) in formulas {
            self.formula(page, given, expr);
        }
    }

    /// Enters a symbol in the table of values.
    pub(super) fn enter(&mut self, page: &Page, place: usize, name: &str, bound: &Bound, line: String, own: bool) {
        let cell = Cell { value: printed(bound), note: String::new(), line, own, failed: false };
        self.ledger.values.enter(&page.block, place, name, Name::Symbol(symbol(name)), cell);
    }

    fn limit_row(&self, limit: &Limit) -> LimitRow {
        let key = (self.group.clone(), limit.path().to_string(), limit.rule().span.start);
        let ratio = limit.ratio().filter(|ratio| ratio.is_finite());
        // A sheet that is used twice says its limits twice.
        let mut say = said(&limit.rule().say);
        if self.shown.group.limits.iter().filter(|other| other.rule().say == limit.rule().say).count() > 1 {
            say.push(Span::Text(format!(" ({})", limit.sheet())));
        }
        LimitRow {
            line: self.ledger.limits.get(&key).cloned().unwrap_or_default(),
            say,
            ratio: ratio.map_or("–".into(), |ratio| number_fixed(ratio, 3)),
            ok: limit.ok(),
        }
    }

    /// Where a symbol of the sheet above got its value. A line that shows it in
    /// another combination gives the formula, not the value: then false.
    pub(super) fn origin(&self, name: &str, above: &Option<(&Worked, &str)>) -> (Whence, bool) {
        let nothing = (Whence::default(), true);
        let Some((worked, path)) = above else { return nothing };
        let passed_on = self.from.contains_key(&(path.to_string(), name.to_string()));
        let (path, symbol) = match name.split_once('.').filter(|_| !passed_on) {
            Some((sheet, symbol)) => {
                let stands = worked.places.get(sheet).map_or(sheet, String::as_str);
                (format!("{path}/{stands}"), symbol)
            }
            None => (path.to_string(), name),
        };
        let Some((from, shown)) = self.from.get(&(path, symbol.to_string())) else { return nothing };
        let same = worked.bound.get(name).is_none_or(|bound| bound.value == *shown);
        let from = match &from.link {
            Some(link) if !same => Whence { words: as_at(link), link: from.link.clone() },
            _ => from.clone(),
        };
        (from, same)
    }
}

/// Every sheet, each in the run that it is shown in.
fn all_shown<'s>(shown: &'s Shown, root: &str, run: usize) -> Vec<&'s Worked> {
    let mut ordered: Vec<(usize, &String, usize)> =
        shown.sheets.iter().map(|(path, sheet)| (sheet.order, path, sheet.run)).collect();
    ordered.sort();
    let below = ordered.into_iter().filter(|(_, path, _)| *path != root);
    std::iter::once(shown.worked(run)).chain(below.filter_map(|(_, path, run)| shown.find(run, path))).collect()
}

/// What is said of a section that is worked by a sheet of the job's own.
fn own_sheet(library: &Library, name: &str) -> String {
    let instead = library.own().iter().any(|own| own.what == What::Sheet && own.name == name && own.instead);
    if instead { "the job's own sheet, in place of the built-in one".into() } else { "the job's own sheet".into() }
}

/// Whether a column, a key or a load gives it, and not a sheet.
fn from_file(library: &Library, given: &Given) -> bool {
    library.of_a_file(&given.input) && matches!(given.origin, Origin::File(_) | Origin::Default)
}

fn as_at(line: &str) -> String {
    format!("as {line}")
}

/// What makes two facts one: the cell, or, in the rows of posts, the value.
fn fact_key(given: &Given, bound: &Bound) -> String {
    let place = bound.place.as_ref().filter(|place| !place.source.name.ends_with("posts.csv"));
    let place = place.map(|place| (&place.source.name, &place.span));
    format!("{} {:?} {place:?}", given.input.key(), bound.value)
}

/// The symbols that the steps of a sheet read, and the conditions of its blocks.
fn needed(worked: &Worked) -> BTreeSet<String> {
    let mut exprs: Vec<&Expr> = Vec::new();
    let mut needed = BTreeSet::new();
    for step in &worked.steps {
        match step {
            Step::Let { rule, .. } => {
                exprs.extend(rule.cases.iter().flat_map(|case| std::iter::once(&case.value).chain(&case.when)));
            }
            Step::Rename(rule) => exprs.extend(rule.cases.iter().map(|case| &case.value)),
            Step::Take { rule, .. } => exprs.extend(rule.keys.iter().map(|(key, _)| key)),
            Step::Must { rule, .. } => exprs.push(&rule.condition),
            Step::Use(inner) => {
                for given in &inner.given {
                    match &given.origin {
                        Origin::Symbol(name) => drop(needed.insert(name.clone())),
                        Origin::Formula(expr) => exprs.push(expr),
                        Origin::File(_) | Origin::Default => {}
                    }
                }
            }
            Step::Figure { .. }
            | Step::Skipped(_)
            | Step::Heading(_)
            | Step::Prose(_)
            | Step::Note(_)
            | Step::Decide { .. }
            | Step::Page { .. }
            | Step::Piece { .. } => {}
        }
    }
    worked.sheet.walk(&mut |stmt| {
        if let Stmt::When(when) = stmt {
            exprs.push(&when.condition);
        }
    });
    needed.extend(exprs.iter().flat_map(|expr| expr.symbols()).map(str::to_string));
    needed
}
