//! The worked pages of one group: every sheet in the combination that governs
//! it, every line numbered so that a reviewer can cite it.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::figure;
use super::model::{
    Candidate, CaseRow, FactItem, Group, InputItem, Line, LookedUp, Printed, Run, Section, Side, Span, Whence,
};
use crate::engine::{Combination, GroupResult, Limit, find};
use crate::formula::{BinOp, Expr, Function, Node, Value, eval};
use crate::job::Job;
use crate::quantity::{INPUT_DIGITS, Unit, number, number_fixed};
use crate::sheet::{
    Bound, Given, Let, Method, Must, Note, Origin, Part, Prose, Sheet, Step, Stmt, Take, Taken, Verdict, Worked,
};
use crate::typeset::{Math, printed, substituted, symbol, symbolic, symbolic_part, two_sides, value_text};

/// Where lines came to stand, for links and for the index of clauses.
#[derive(Default)]
pub struct Ledger {
    /// Citation to line numbers.
    pub clauses: BTreeMap<String, Vec<String>>,
    /// Limits, by path and place in the sheet.
    pub limits: BTreeMap<(String, String, usize), String>,
    /// Rows that were looked up, by table and keys.
    pub rows: BTreeMap<(String, String), UsedRow>,
    /// Assumptions in the order in which they were met, each once.
    pub assumptions: Vec<(Vec<Span>, String)>,
    pub not_covered: Vec<Vec<Span>>,
    /// Sheets that were worked, by all that enters them and comes out.
    same: BTreeMap<String, Stretch>,
    /// The line of each formula that was printed, by sheet, place and case.
    formulas: BTreeMap<(String, usize, usize), String>,
    /// The lines of what the files say, by cell, or by value for the rows of posts.
    facts: BTreeMap<String, String>,
    /// The same, by their steps alone.
    alike: BTreeMap<String, Stretch>,
}

/// The lines of a sheet and of what it uses, for another use of it.
#[derive(Clone)]
struct Stretch {
    first: String,
    last: String,
    /// Lines of its symbols and of its limits, by path from the sheet down.
    from: BTreeMap<(String, String), (Whence, Value)>,
    limits: BTreeMap<(String, usize), String>,
}

/// A reference costs a reader a turn of the page: it must save some lines.
const WORTH_A_REFERENCE: usize = 4;

/// A row of a table, and the lines that use it.
pub struct UsedRow {
    pub source: String,
    pub recalled: bool,
    pub caution: String,
    pub lines: Vec<String>,
}

impl Ledger {
    fn cite(&mut self, cite: &str, no: &str) {
        if !cite.is_empty() {
            self.clauses.entry(cite.into()).or_default().push(no.into());
        }
    }

    /// The number of an assumption, old or new.
    fn assume(&mut self, text: Vec<Span>, cite: &str) -> String {
        let same = |known: &(Vec<Span>, String)| spans_text(&known.0) == spans_text(&text);
        let at = self.assumptions.iter().position(same).unwrap_or_else(|| {
            self.assumptions.push((text.clone(), cite.into()));
            self.assumptions.len() - 1
        });
        format!("A{}", at + 1)
    }

    /// The line of a limit; the first line of the group where it is not printed.
    pub fn line_of(&self, group: usize, limit: &Limit) -> String {
        let group = format!("B{group}");
        let first = format!("{group}.1");
        let key = (group, limit.path.clone(), limit.rule.span.start);
        self.limits.get(&key).cloned().unwrap_or(first)
    }
}

pub(super) fn spans_text(spans: &[Span]) -> String {
    let text = spans.iter().map(|span| match span {
        Span::Markup(text) | Span::Text(text) => text.as_str(),
        Span::Math(math) => math.alt.as_str(),
    });
    text.collect()
}

/// The worked pages of a group; what they cite goes into the ledger. `letter`
/// begins the numbers of its lines.
pub fn group(
    job: &Job,
    combinations: &[Combination],
    result: &GroupResult,
    letter: char,
    facts: Vec<(String, String)>,
    ledger: &mut Ledger,
) -> Group {
    let mut pages = Pages {
        combinations,
        group: format!("{letter}{}", result.no),
        result,
        ledger,
        sections: Vec::new(),
        from: BTreeMap::new(),
        printed: BTreeSet::new(),
        count: 0,
    };
    // What the root works itself is shown in the ASD combination that governs:
    // what belongs to strength combinations follows after the wood and the soil.
    let asd = |limit: &&Limit| {
        limit.verdict().varies && combinations.get(limit.run()).is_some_and(|known| known.method == Method::Asd)
    };
    let ratio = |limit: &Limit| limit.verdict().ratio.unwrap_or(0.0);
    let heaviest = result.limits.iter().filter(asd).max_by(|a, b| ratio(a).total_cmp(&ratio(b)));
    let run = heaviest.map_or(0, Limit::run);
    pages.root(&result.runs[run].worked, run);
    let sections = pages.sections;
    let posts = result.posts.iter().map(|post| &job.posts[*post]);
    let marks: Vec<String> = posts.clone().map(|post| post.mark.clone()).collect();
    Group {
        no: result.no,
        title: title(letter, result.no, &marks),
        marks,
        demo: posts.clone().any(|post| post.demo),
        facts,
        verdict: result.ok(),
        sections,
    }
}

pub(super) fn title(letter: char, no: usize, marks: &[String]) -> String {
    let shown = if marks.len() <= 6 {
        marks.join(", ")
    } else {
        format!("{} and {} more", marks[..4].join(", "), marks.len() - 4)
    };
    let posts = if marks.len() == 1 { "post" } else { "posts" };
    match letter {
        'L' => format!("Loads on {posts} {shown}"),
        'S' => format!("Shop sheet for {posts} {shown}"),
        'F' => format!("Field sheet for {posts} {shown}"),
        _ => format!("Group {no}: {posts} {shown}"),
    }
}

struct Pages<'a> {
    combinations: &'a [Combination],
    /// `B2`: what the numbers of its lines begin with.
    group: String,
    result: &'a GroupResult,
    ledger: &'a mut Ledger,
    sections: Vec<Section>,
    /// Where a symbol of a sheet, by its path, got its value, and which.
    from: BTreeMap<(String, String), (Whence, Value)>,
    /// Paths that were printed.
    printed: BTreeSet<String>,
    count: usize,
}

/// The sheet whose lines are being written.
struct Page<'a> {
    worked: &'a Worked,
    path: &'a str,
    depth: usize,
    run: usize,
    /// The sheet above, whose symbols its inputs come from.
    above: Option<(&'a Worked, &'a str)>,
}

impl Pages<'_> {
    /// The root is the table of contents: it is no page of its own unless it
    /// works something out.
    fn root(&mut self, root: &Worked, run: usize) {
        let path = root.name.clone();
        let page = Page { worked: root, path: &path, depth: 1, run, above: None };
        self.facts(&page);
        self.steps(&page);
    }

    /// What the files say of the posts, once, before anything is worked.
    fn facts(&mut self, page: &Page) {
        let needed = needed(page.worked);
        let mut files: Vec<(String, Vec<(&Given, &Bound)>)> = Vec::new();
        let mut known = 0;
        for given in &page.worked.given {
            let name = &given.input.name;
            let Some(bound) = page.worked.bound.get(name).filter(|_| needed.contains(name)) else { continue };
            let file = match &given.origin {
                Origin::File(whence) if bound.varies => {
                    self.came(page, name, Whence { words: whence.clone(), link: None });
                    continue;
                }
                Origin::File(whence) => whence.split(", ").next().unwrap_or(whence).to_string(),
                _ => {
                    self.taken(given, bound);
                    "taken, for the job does not say".into()
                }
            };
            if let Some(no) = self.ledger.facts.get(&fact_key(given, bound)).cloned() {
                self.at_line(page, name, &no);
                known += 1;
                continue;
            }
            match files.iter_mut().find(|(known, _)| *known == file) {
                Some((_, facts)) => facts.push((given, bound)),
                None => files.push((file, vec![(given, bound)])),
            }
        }
        self.sections.push(Section {
            depth: page.depth,
            sheet: page.worked.name.clone(),
            title: "Given".into(),
            combination: String::new(),
            c_d: String::new(),
            lines: Vec::new(),
        });
        for (file, facts) in files {
            let item = |(given, bound): (&Given, &Bound)| {
                let name = &given.input.name;
                let no = self.no();
                self.at_line(page, name, &no);
                self.ledger.cite(given.input.cite.as_deref().unwrap_or(""), &no);
                self.ledger.facts.insert(fact_key(given, bound), no.clone());
                FactItem { no, symbol: symbol(name), say: said(&given.input.say), value: printed(bound) }
            };
            let items = facts.into_iter().map(item).collect();
            self.push(Line::Facts { file, items });
        }
        if known > 0 {
            let text = format!("{known} more values are those that are given for an earlier group.");
            self.push(Line::Note { spans: vec![Span::Text(text)] });
        }
    }

    fn came(&mut self, page: &Page, name: &str, from: Whence) {
        if let Some(bound) = page.worked.bound.get(name) {
            self.from.insert((page.path.into(), name.into()), (from, bound.value.clone()));
        }
    }

    fn at_line(&mut self, page: &Page, name: &str, no: &str) {
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

    fn no(&mut self) -> String {
        self.count += 1;
        format!("{}.{}", self.group, self.count)
    }

    fn open(&mut self, page: &Page, continued: bool) {
        let combination = self.combinations.get(page.run);
        let varies = page
            .worked
            .given
            .iter()
            .any(|given| page.worked.bound.get(&given.input.name).is_some_and(|bound| bound.varies));
        let title = match (&page.worked.sheet.title, continued) {
            (title, false) => title.clone(),
            (title, true) => format!("{title}, continued"),
        };
        self.sections.push(Section {
            depth: page.depth,
            sheet: page.worked.name.clone(),
            title,
            combination: combination.filter(|_| varies).map_or(String::new(), |combination| combination.name.clone()),
            c_d: combination
                .and_then(|combination| combination.c_d)
                .filter(|_| varies)
                .map_or(String::new(), |c_d| number(c_d, 4)),
            lines: Vec::new(),
        });
    }

    fn push(&mut self, line: Line) {
        if let Some(section) = self.sections.last_mut() {
            section.lines.push(line);
        }
    }

    fn sheet(&mut self, page: &Page) {
        self.printed.insert(page.path.into());
        self.open(page, false);
        let (all, steps) = (self.fingerprint(page.path), self.shape(page.path));
        if let Some(known) = self.ledger.same.get(&all).cloned() {
            return self.same(page, &known);
        }
        if let Some(known) = self.ledger.alike.get(&steps).cloned() {
            return self.again(page, &known);
        }
        let before = self.count;
        self.inputs(page);
        self.steps(page);
        if self.count - before >= WORTH_A_REFERENCE {
            let stretch = self.stretch(page.path, before + 1);
            self.ledger.same.insert(all, stretch.clone());
            self.ledger.alike.insert(steps, stretch);
        }
    }

    /// All that enters a sheet and those it uses, and how its limits came out:
    /// where it is equal, so are the pages.
    fn fingerprint(&self, path: &str) -> String {
        let mut key = String::new();
        let name = |run: usize, varies: bool| if varies { self.combinations[run].name.as_str() } else { "" };
        for (below, sheet) in &self.result.sheets {
            let Some(rest) = under(below, path) else { continue };
            let Some(worked) = find(&self.result.runs[sheet.run].worked, below) else { continue };
            key.push_str(&format!("{rest} {}\n", worked.sheet.name));
            for given in &worked.given {
                let bound = &worked.bound[&given.input.name];
                let combination = name(sheet.run, bound.varies);
                key.push_str(&format!("{} {:?} {combination}\n", given.input.name, bound.value));
            }
        }
        for limit in &self.result.limits {
            let Some(rest) = under(&limit.path, path) else { continue };
            let verdict = limit.verdict();
            let combination = name(limit.run(), verdict.varies);
            key.push_str(&format!("{rest} {} {:?} {combination}\n", limit.rule.span.start, verdict.ratio));
        }
        key
    }

    /// The steps of a sheet and of those it uses, whatever their values.
    fn shape(&self, path: &str) -> String {
        let mut key = String::new();
        for (below, sheet) in &self.result.sheets {
            let Some(rest) = under(below, path) else { continue };
            let Some(worked) = find(&self.result.runs[sheet.run].worked, below) else { continue };
            key.push_str(&format!("{rest} {}:", worked.sheet.name));
            for step in &worked.steps {
                match step {
                    Step::Let { rule, taken } => key.push_str(&format!(" {}/{taken}", rule.span.start)),
                    Step::Take { rule, .. } => key.push_str(&format!(" {}", rule.span.start)),
                    Step::Must { rule, .. } => key.push_str(&format!(" {}", rule.span.start)),
                    Step::Skipped(condition) => key.push_str(&format!(" {}", condition.span.start)),
                    Step::Use(_) | Step::Figure { .. } | Step::Heading(_) | Step::Prose(_) | Step::Note(_) => {}
                }
            }
        }
        key
    }

    fn stretch(&self, path: &str, first: usize) -> Stretch {
        let no = |count: usize| format!("{}.{count}", self.group);
        let from = self
            .from
            .iter()
            .filter_map(|((below, name), from)| Some(((under(below, path)?.to_string(), name.clone()), from.clone())));
        let limits = self.ledger.limits.iter().filter(|((group, ..), _)| *group == self.group);
        let limits =
            limits.filter_map(|((_, below, at), no)| Some(((under(below, path)?.to_string(), *at), no.clone())));
        Stretch { first: no(first), last: no(self.count), from: from.collect(), limits: limits.collect() }
    }

    /// Points at the lines of a use with equal inputs.
    fn same(&mut self, page: &Page, known: &Stretch) {
        for ((rest, name), from) in &known.from {
            self.from.insert((format!("{}{rest}", page.path), name.clone()), from.clone());
        }
        let mut outputs = Vec::new();
        if let Some((above, _)) = page.above {
            let prefix = format!("{}.", page.worked.name);
            for name in needed(above).iter().filter_map(|name| name.strip_prefix(&prefix)) {
                let from = self.from.get(&(page.path.to_string(), name.to_string()));
                if let (Some(bound), Some((from, _))) = (page.worked.bound.get(name), from) {
                    outputs.push(InputItem { symbol: symbol(name), value: printed(bound), from: from.clone() });
                }
            }
        }
        self.push(Line::Same { first: known.first.clone(), last: known.last.clone(), outputs });
        self.limits_again(page, known);
    }

    /// Points at the formulas of a use with other values, and lists the values.
    fn again(&mut self, page: &Page, known: &Stretch) {
        let result = self.result;
        let mut below: Vec<(usize, &String)> = result
            .sheets
            .iter()
            .filter(|(path, _)| under(path, page.path).is_some())
            .map(|(path, run)| (run.order, path))
            .collect();
        below.sort();
        let mut runs = Vec::new();
        for (_, path) in below {
            let Some(worked) = find(&result.runs[result.sheets[path].run].worked, path) else { continue };
            let no = self.no();
            let inner = Page { worked, path, depth: page.depth, run: page.run, above: page.above };
            let items = self.values(&inner, path == page.path, &no);
            let title = if path == page.path { String::new() } else { worked.sheet.title.clone() };
            runs.push(Run { no, title, items });
        }
        self.push(Line::Again { first: known.first.clone(), last: known.last.clone(), runs });
        self.limits_again(page, known);
    }

    /// What a sheet came to, all on one line; inputs that are only passed on
    /// are left to the sheet that passes them.
    fn values(&mut self, page: &Page, inputs: bool, no: &str) -> Vec<InputItem> {
        let mut items = Vec::new();
        let mut item = |pages: &mut Self, name: &str, from: Option<Whence>| {
            let Some(bound) = page.worked.bound.get(name) else { return };
            let own = from.is_none();
            items.push(InputItem { symbol: symbol(name), value: printed(bound), from: from.unwrap_or_default() });
            if own {
                pages.at_line(page, name, no);
            }
        };
        for given in &page.worked.given {
            let name = &given.input.name;
            match &given.origin {
                Origin::Symbol(symbol) if inputs => {
                    let from = self.origin(symbol, &page.above);
                    self.came(page, name, from.clone());
                    item(self, name, Some(from));
                }
                Origin::Formula(expr) if inputs || !expr.symbols().is_empty() => item(self, name, None),
                _ => self.at_line(page, name, no),
            }
        }
        for step in &page.worked.steps {
            match step {
                Step::Let { rule, .. } => item(self, &rule.name, None),
                Step::Take { rule, taken } => {
                    self.looked_up(taken, no);
                    rule.names.iter().for_each(|(name, ..)| item(self, name, None));
                }
                _ => {}
            }
        }
        items
    }

    /// The limits are said again, because they are limits of these posts too.
    fn limits_again(&mut self, page: &Page, known: &Stretch) {
        let result = self.result;
        let below: Vec<String> =
            result.sheets.keys().filter(|below| under(below, page.path).is_some()).cloned().collect();
        self.printed.extend(below);
        for limit in &result.limits {
            let Some(rest) = under(&limit.path, page.path) else { continue };
            let Some(worked) = find(&result.runs[limit.run()].worked, &limit.path) else { continue };
            let at = known.limits.get(&(rest.to_string(), limit.rule.span.start)).cloned();
            let inner = Page { worked, path: &limit.path, depth: page.depth, run: limit.run(), above: None };
            self.must(&inner, &limit.rule, limit.verdict(), at);
        }
    }

    fn steps(&mut self, page: &Page) {
        let is_root = page.above.is_none();
        // A root without lines of its own opens no section.
        let mut open = !is_root;
        for step in &page.worked.steps {
            if let Step::Use(inner) = step {
                let path = format!("{}/{}", page.path, inner.name);
                self.used(page, &path);
                open = false;
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
                self.open(page, !is_root);
                open = true;
            }
            self.step(page, step);
        }
        // What other combinations bring in below this sheet.
        let mut rest: Vec<(usize, String)> = Vec::new();
        for (path, run) in &self.result.sheets {
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
        let Some(run) = self.result.sheets.get(path).map(|sheet| sheet.run) else { return };
        let runs = &self.result.runs;
        let run = if find(&runs[run].worked, path).is_some() { run } else { page.run };
        let Some(worked) = find(&runs[run].worked, path) else { return };
        let above_path = page.path;
        let Some(above) = find(&runs[run].worked, above_path) else { return };
        let depth = if page.above.is_none() { 1 } else { page.depth + 1 };
        self.sheet(&Page { worked, path, depth, run, above: Some((above, above_path)) });
    }

    /// What comes into a sheet: from lines above in one run, then what the
    /// sheet above works out on the way in.
    fn inputs(&mut self, page: &Page) {
        let mut items = Vec::new();
        let mut formulas = Vec::new();
        for given in &page.worked.given {
            let name = &given.input.name;
            let Some(bound) = page.worked.bound.get(name) else { continue };
            let from = match &given.origin {
                Origin::File(words) => Whence { words: words.clone(), link: None },
                Origin::Default => self.taken(given, bound),
                Origin::Symbol(symbol) => self.origin(symbol, &page.above),
                Origin::Formula(expr) if expr.symbols().is_empty() => Whence::default(),
                Origin::Formula(expr) => {
                    formulas.push((given, expr));
                    continue;
                }
            };
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

    fn formula(&mut self, page: &Page, given: &Given, expr: &Expr) {
        let Some((above, _)) = page.above else { return };
        let name = &given.input.name;
        let bound = &page.worked.bound[name];
        let no = self.no();
        self.at_line(page, name, &no);
        self.push(Line::Step {
            no,
            say: said(&given.input.say),
            cite: String::new(),
            symbol: symbol(name),
            symbolic: Some(symbolic(expr)),
            substituted: substituted(expr, &above.sheet.source, &above.bound, None, bound),
            value: printed(bound),
            raw: String::new(),
        });
    }

    /// Where a symbol of the sheet above got its value. A line that shows it in
    /// another combination gives the formula, not the value.
    fn origin(&self, name: &str, above: &Option<(&Worked, &str)>) -> Whence {
        let Some((worked, path)) = above else { return Whence::default() };
        let (path, symbol) = match name.split_once('.') {
            Some((sheet, symbol)) => (format!("{path}/{sheet}"), symbol),
            None => (path.to_string(), name),
        };
        let Some((from, shown)) = self.from.get(&(path, symbol.to_string())) else { return Whence::default() };
        let same = worked.bound.get(name).is_none_or(|bound| bound.value == *shown);
        match &from.link {
            Some(_) if !same => Whence { words: format!("as {}", from.words), link: from.link.clone() },
            _ => from.clone(),
        }
    }

    fn note(&mut self, note: &Note) {
        let spans = prose(&note.text);
        if note.covered {
            self.ledger.assume(spans, note.cite.as_deref().unwrap_or(""));
        } else if !self.ledger.not_covered.iter().any(|known| spans_text(known) == spans_text(&spans)) {
            self.ledger.not_covered.push(spans);
        }
    }

    fn step(&mut self, page: &Page, step: &Step) {
        match step {
            Step::Heading(text) => self.push(Line::Heading { text: text.clone() }),
            Step::Prose(text) => self.push(Line::Prose { spans: prose(text) }),
            Step::Note(note) => {
                self.note(note);
                self.push(Line::Note { spans: prose(&note.text) });
            }
            Step::Skipped(condition) => self.skipped(condition),
            Step::Let { rule, taken } => self.let_(page, rule, *taken),
            Step::Take { rule, taken } => self.take(page, rule, taken),
            Step::Must { rule, verdict } => self.must(page, rule, verdict, None),
            Step::Figure { name, say, values } => {
                if let Some(drawing) = figure::draw(name, values) {
                    let no = self.no();
                    self.push(Line::Figure { no, say: said(say), drawing });
                }
            }
            Step::Use(_) => {}
        }
    }

    /// Blocks that are left out one after another share a line.
    fn skipped(&mut self, condition: &Expr) {
        let what = Span::Math(symbolic(condition));
        if let Some(Line::Skipped { spans }) = self.sections.last_mut().and_then(|section| section.lines.last_mut()) {
            spans.extend([Span::Text("; nor where ".into()), what]);
        } else {
            self.push(Line::Skipped { spans: vec![Span::Text("Nothing to work here where ".into()), what] });
        }
    }

    /// A value by a formula that was printed before: several run on in one line.
    fn let_again(&mut self, page: &Page, name: &str, bound: &Bound, known: String) {
        let from = Whence { words: format!("as {known}"), link: Some(known) };
        let item = InputItem { symbol: symbol(name), value: printed(bound), from };
        let last = self.sections.last_mut().and_then(|section| section.lines.last_mut());
        let no = match last {
            Some(Line::Again { first, runs, .. }) if first.is_empty() && !runs.is_empty() => {
                runs[0].items.push(item);
                runs[0].no.clone()
            }
            _ => {
                let no = self.no();
                let run = Run { no: no.clone(), title: String::new(), items: vec![item] };
                self.push(Line::Again { first: String::new(), last: String::new(), runs: vec![run] });
                no
            }
        };
        self.at_line(page, name, &no);
    }

    fn let_(&mut self, page: &Page, rule: &Arc<Let>, taken: usize) {
        let worked = page.worked;
        let sheet = &worked.sheet;
        let Some(bound) = worked.bound.get(&rule.name) else { return };
        let formula = (sheet.name.clone(), rule.span.start, taken);
        if let Some(known) = self.ledger.formulas.get(&formula).cloned() {
            return self.let_again(page, &rule.name, bound, known);
        }
        let no = self.no();
        self.ledger.formulas.insert(formula, no.clone());
        self.at_line(page, &rule.name, &no);
        let cite = rule.cite.clone().unwrap_or_default();
        self.ledger.cite(&cite, &no);
        let say = said(&rule.say);
        let name = symbol(&rule.name);
        let value = printed(bound);
        let raw = rule.raw.as_ref().map_or(String::new(), |raw| {
            let entered: Vec<String> =
                raw.symbols.iter().map(|(name, _, unit)| format!("{name} in {}", unit.pretty())).collect();
            let giving = raw.giving.pretty();
            format!("{}, giving {}", entered.join(", "), if giving.is_empty() { "a number" } else { &giving })
        });
        let expr = &rule.cases[taken].value;
        let numbers = substituted(expr, &sheet.source, &worked.bound, rule.raw.as_ref(), bound);
        if rule.cases.len() > 1 || rule.cases[0].when.is_some() {
            let cases = rule.cases.iter().enumerate().map(|(at, case)| CaseRow {
                value: symbolic(&case.value),
                condition: match &case.when {
                    Some(condition) => vec![Span::Text("where ".into()), Span::Math(symbolic(condition))],
                    None => vec![Span::Text("otherwise".into())],
                },
                taken: at == taken,
            });
            let cases = cases.collect();
            return self.push(Line::Cases { no, say, cite, symbol: name, cases, substituted: numbers, value, raw });
        }
        if let Node::Call(function @ (Function::Least | Function::Greatest), args) = &expr.node
            && rule.raw.is_none()
        {
            let mut candidates: Vec<Candidate> =
                args.iter().map(|arg| candidate(arg, expr, sheet, worked, bound)).collect();
            // Of equal ones the first is named.
            let first = candidates.iter().position(|candidate| candidate.governs);
            for (at, candidate) in candidates.iter_mut().enumerate() {
                candidate.governs = first == Some(at);
            }
            let which = format!("{} of", function.name());
            return self.push(Line::Candidates { no, say, cite, symbol: name, which, candidates, value });
        }
        let bare = matches!(expr.node, Node::Number(_) | Node::Literal(..) | Node::Text(_));
        self.push(Line::Step {
            no,
            say,
            cite,
            symbol: name,
            symbolic: (!bare).then(|| symbolic(expr)),
            substituted: numbers,
            value,
            raw,
        });
    }

    /// Enters a row of a table among the sources; its keys as printed, and
    /// what to be careful about.
    fn looked_up(&mut self, taken: &Taken, no: &str) -> (Vec<(String, String)>, String) {
        let keys: Vec<(String, String)> = taken
            .keys
            .iter()
            .map(|(name, value, unit)| {
                let text = match value {
                    Value::Quantity(quantity) => {
                        format!("{} {}", number(quantity.in_unit(unit), INPUT_DIGITS), unit.pretty())
                    }
                    value => value_text(value),
                };
                (name.replace('_', " "), text.trim().to_string())
            })
            .collect();
        let mut caution = String::new();
        if taken.recalled {
            caution = "recalled from memory: confirm against the current publication before sealing".into();
        }
        if !taken.doubt.is_empty() {
            caution = if caution.is_empty() { taken.doubt.clone() } else { format!("{caution}; {}", taken.doubt) };
        }
        let row = keys.iter().map(|(_, value)| value.as_str()).collect::<Vec<_>>().join(", ");
        let entry = self.ledger.rows.entry((taken.title.clone(), row));
        let row = entry.or_insert_with(|| UsedRow {
            source: taken.source.clone(),
            recalled: taken.recalled,
            caution: caution.clone(),
            lines: Vec::new(),
        });
        row.lines.push(no.into());
        (keys, caution)
    }

    fn take(&mut self, page: &Page, rule: &Take, taken: &Taken) {
        let no = self.no();
        let cite = rule.cite.clone().unwrap_or_default();
        self.ledger.cite(&cite, &no);
        let (keys, caution) = self.looked_up(taken, &no);
        let mut values = Vec::new();
        for (name, ..) in &rule.names {
            self.at_line(page, name, &no);
            if let Some(bound) = page.worked.bound.get(name) {
                values.push(LookedUp { symbol: symbol(name), value: printed(bound) });
            }
        }
        let key = rule.keys.iter().position(|(_, between)| *between).map(|at| &taken.keys[at]);
        let end = |(at, found): &(Value, Vec<Value>)| {
            let shown = |value: &Value, unit: &Unit| match value {
                Value::Quantity(quantity) => {
                    format!("{} {}", number(quantity.in_unit(unit), INPUT_DIGITS), unit.pretty()).trim().to_string()
                }
                value => value_text(value),
            };
            let units = rule.names.iter().map(|(name, ..)| page.worked.bound.get(name).map(|bound| &bound.unit));
            let none = Unit::none();
            let values = found.iter().zip(units).map(|(value, unit)| shown(value, unit.unwrap_or(&none)));
            let at = shown(at, key.map_or(&none, |(.., unit)| unit));
            format!("{at}: {}", values.collect::<Vec<_>>().join(", "))
        };
        let ends = taken.ends.iter().map(end).collect();
        self.push(Line::Lookup {
            no,
            say: said(&rule.say),
            cite,
            table: taken.title.clone(),
            keys,
            values,
            ends,
            source: taken.source.clone(),
            caution,
        });
    }

    fn must(&mut self, page: &Page, rule: &Arc<Must>, verdict: &Verdict, worked_at: Option<String>) {
        let no = self.no();
        let cite = rule.cite.clone().unwrap_or_default();
        self.ledger.cite(&cite, &no);
        let key = (self.group.clone(), page.path.to_string(), rule.span.start);
        self.ledger.limits.insert(key, no.clone());
        let worked = page.worked;
        let (demand, capacity, ratio, fill) = match (&verdict.sides, rule.sides()) {
            (Some((demand, capacity)), Some((left, right))) => {
                let (first, second, ratio) = two_sides(demand, capacity, verdict.ratio);
                let fill = verdict.ratio.filter(|ratio| ratio.is_finite());
                (side(left, first, worked), side(right, second, worked), ratio, fill)
            }
            _ => {
                let (found, wanted) = answers(&rule.condition, worked);
                (found, wanted, "–".to_string(), None)
            }
        };
        let governing = self.result.limits.iter().find(|limit| limit.path == page.path && limit.rule.span == rule.span);
        let elsewhere = governing
            .filter(|limit| limit.run() != page.run && verdict.varies && limit.verdict().ratio != verdict.ratio)
            .map_or(String::new(), |limit| {
                let ratio = limit.verdict().ratio.filter(|ratio| ratio.is_finite());
                let ratio = ratio.map_or(String::new(), |ratio| format!(": ratio {}", number_fixed(ratio, 3)));
                let word = if limit.ok() { "met" } else { "not met" };
                format!("governed by {}{ratio}, {word}", self.combinations[limit.run()].name)
            });
        self.push(Line::Limit {
            no,
            say: said(&rule.say),
            cite,
            demand,
            capacity,
            symbolic: symbolic(&rule.condition),
            ratio,
            fill,
            ok: verdict.ok,
            remedy: rule.remedy.clone(),
            elsewhere,
            worked_at,
        });
    }
}

/// What makes two facts one: the cell, or, in the rows of posts, the value.
fn fact_key(given: &Given, bound: &Bound) -> String {
    let place = bound.place.as_ref().filter(|place| !place.source.name.ends_with("posts.csv"));
    let place = place.map(|place| (&place.source.name, &place.span));
    format!("{} {:?} {place:?}", given.input.name, bound.value)
}

/// What follows `path` in the path of a sheet at or below it.
fn under<'a>(below: &'a str, path: &str) -> Option<&'a str> {
    below.strip_prefix(path).filter(|rest| rest.is_empty() || rest.starts_with('/'))
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
            Step::Figure { .. } | Step::Skipped(_) | Step::Heading(_) | Step::Prose(_) | Step::Note(_) => {}
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

pub(super) fn join(value: &Printed) -> String {
    if value.unit.is_empty() { value.number.clone() } else { format!("{} {}", value.number, value.unit) }
}

fn side(expr: &Expr, value: Printed, worked: &Worked) -> Side {
    let result =
        eval(expr, &worked.sheet.source, &|name: &str| worked.bound.get(name).map(|bound| bound.value.clone()));
    let substituted = match result {
        Ok(Value::Quantity(quantity)) => {
            let unit = Unit::usual(quantity.dim);
            let value = Value::Quantity(quantity);
            let result = Bound { value, unit, varies: false, count: false, given: false, place: None };
            substituted(expr, &worked.sheet.source, &worked.bound, None, &result)
        }
        _ => None,
    };
    Side { symbolic: symbolic(expr), substituted, value }
}

/// What was found and what is wanted, for a limit that is no ratio.
fn answers(condition: &Expr, worked: &Worked) -> (Side, Side) {
    let text = |expr: &Expr| {
        let value =
            eval(expr, &worked.sheet.source, &|name: &str| worked.bound.get(name).map(|bound| bound.value.clone()));
        value.map_or("–".to_string(), |value| value_text(&value))
    };
    let answer = |expr: &Expr, number: String| Side {
        symbolic: symbolic(expr),
        substituted: None,
        value: Printed { number, unit: String::new() },
    };
    match &condition.node {
        Node::Binary(op, left, right) if !matches!(op, BinOp::And | BinOp::Or) => {
            let wanted = match op {
                BinOp::IsNot => format!("not {}", text(right)),
                _ => text(right),
            };
            (answer(left, text(left)), answer(right, wanted))
        }
        _ => {
            // Each name in a longer condition, with what was found for it.
            let mut found: Vec<String> = Vec::new();
            for name in condition.symbols() {
                let shown = worked.bound.get(name).map(|bound| join(&printed(bound))).unwrap_or_default();
                let line = format!("{}: {shown}", name.replace('_', " "));
                if !found.contains(&line) {
                    found.push(line);
                }
            }
            let nothing = Math { src: "\"found\"".into(), alt: "found".into() };
            let found = Side {
                symbolic: nothing,
                substituted: None,
                value: Printed { number: found.join("; "), unit: String::new() },
            };
            (found, answer(condition, "as stated".into()))
        }
    }
}

fn candidate(arg: &Expr, whole: &Expr, sheet: &Sheet, worked: &Worked, result: &Bound) -> Candidate {
    let value = eval(arg, &sheet.source, &|name: &str| worked.bound.get(name).map(|bound| bound.value.clone()));
    let value = value.unwrap_or(Value::number(0.0));
    let given = match &arg.node {
        Node::Symbol(name) => worked.bound.get(name).is_some_and(|bound| bound.given),
        _ => false,
    };
    let governs = value == result.value;
    let bound = Bound { value, given, ..result.clone() };
    Candidate {
        symbolic: symbolic_part(arg, whole),
        substituted: substituted(arg, &sheet.source, &worked.bound, None, &bound),
        value: printed(&bound),
        governs,
    }
}

/// What a line is, with symbols between backticks.
pub(super) fn said(text: &str) -> Vec<Span> {
    let parts = text.split('`').enumerate().filter(|(_, part)| !part.is_empty());
    parts.map(|(at, part)| if at % 2 == 1 { Span::Math(symbol(part)) } else { Span::Text(part.into()) }).collect()
}

pub(super) fn prose(prose: &Prose) -> Vec<Span> {
    let part = |part: &Part| match part {
        Part::Markup(text) => Span::Markup(text.clone()),
        Part::Symbol(name) => Span::Math(symbol(name)),
    };
    prose.iter().map(part).collect()
}
