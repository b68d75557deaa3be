//! Reads a sheet file to its tree. Every line is read, so that one run shows
//! all that is wrong with it.

mod head;

use std::ops::Range;
use std::sync::Arc;

use super::lines::{Line, WORDS, lines};
use super::tree::{
    Case, Decide, Figure, Hand, Input, Let, Must, Note, NoteKind, OpenPlace, Page, PageKind, Part, Piece, Prose, Raw,
    Sheet, Stmt, Take, Use, When,
};
use crate::diag::{Checked, Diagnostic, Diagnostics};
use crate::formula::{Expr, Kind, Node, Parser};
use crate::legible;
use crate::quantity::Unit;
use crate::source::{Place, Source};

/// # Errors
/// Every line that is not in the language.
pub fn parse(source: &Arc<Source>) -> Checked<Sheet> {
    let illegible = legible::faults(source);
    if !illegible.is_empty() {
        return Err(illegible);
    }
    if let Some(large) = too_large(source) {
        return Err(large.into());
    }
    let mut reader = Reader { source, diagnostics: Vec::new() };
    let mut sheet = Sheet {
        name: String::new(),
        title: String::new(),
        method: None,
        source: source.clone(),
        stands: None,
        joins: None,
        own: false,
        inputs: Vec::new(),
        gives: Vec::new(),
        body: Vec::new(),
    };
    let mut rest = Vec::new();
    for line in lines(&source.text) {
        match line.word {
            "sheet" => sheet.name = reader.name(&line),
            "title" => sheet.title = reader.text(&line),
            "method" => sheet.method = reader.method(&line),
            "stands" => {
                let stands = reader.stands(&line);
                sheet.stands = reader.keep(stands);
            }
            "joins" => {
                let joined = reader.joins(&line);
                sheet.joins = reader.keep(joined);
            }
            "gives" => {
                for give in &line.block {
                    let give = reader.give(give);
                    sheet.gives.extend(reader.keep(give));
                }
            }
            "needs" => {
                for input in &line.block {
                    let input = reader.input(input);
                    sheet.inputs.extend(reader.keep(input).map(Arc::new));
                }
            }
            _ => rest.push(line),
        }
    }
    sheet.body = reader.body(&rest);
    if sheet.name.is_empty() {
        reader.diagnostics.push(
            Diagnostic::new("the sheet has no name")
                .at(Place::new(source, 0..source.text.find('\n').unwrap_or(source.text.len())))
                .hint("begin with a line such as `sheet pin-yield`"),
        );
    }
    if reader.diagnostics.is_empty() { Ok(sheet) } else { Err(reader.diagnostics) }
}

/// As many lines a sheet has, and so many blocks stand in one another.
const LINES: usize = 2_000;
const BLOCKS: usize = 24;

/// What makes a text too large for a sheet that somebody could follow by hand.
fn too_large(source: &Arc<Source>) -> Option<Diagnostic> {
    let name = &source.name;
    let found = source.text.lines().count();
    if found > LINES {
        let what = format!("`{name}` has {found} lines; a sheet has at most {LINES}");
        return Some(Diagnostic::new(what).hint("make several sheets of it, and `use` them"));
    }
    let (mut above, mut at) = (Vec::new(), 0);
    for line in source.text.split_inclusive('\n') {
        let indent = line.len() - line.trim_start().len();
        if !line.trim().is_empty() {
            while above.last().is_some_and(|last| *last >= indent) {
                above.pop();
            }
            above.push(indent);
            if above.len() > BLOCKS {
                let place = Place::new(source, at + indent..at + line.trim_end().len());
                let what = format!("blocks stand in one another more than {BLOCKS} deep");
                return Some(Diagnostic::new(what).at(place).hint("put the inner ones into a sheet of their own"));
            }
        }
        at += line.len();
    }
    None
}

/// Inputs by name, each with the place of its name.
type Args = Vec<(String, Range<usize>, Expr)>;

/// Sheets that inputs are passed on from.
type Sources = Vec<(String, Range<usize>)>;

struct Reader<'a> {
    source: &'a Arc<Source>,
    diagnostics: Diagnostics,
}

/// What can follow a formula, in any order.
#[derive(Default)]
struct Tail {
    say: String,
    cite: Option<String>,
    unit: Option<Unit>,
    /// After `or`.
    units: Vec<Unit>,
    remedy: Option<String>,
}

impl<'a> Reader<'a> {
    fn keep<T>(&mut self, result: Result<T, Diagnostic>) -> Option<T> {
        result.map_err(|diagnostic| self.diagnostics.push(diagnostic)).ok()
    }

    fn at(&self, span: Range<usize>) -> Place {
        Place::new(self.source, span)
    }

    fn text(&mut self, line: &Line) -> String {
        let text = self.source.text[line.rest.clone()].split_whitespace().collect::<Vec<_>>().join(" ");
        if text.is_empty() {
            let place = self.at(line.word_span.clone());
            self.diagnostics.push(Diagnostic::new(format!("nothing follows `{}`", line.word)).at(place));
        }
        text
    }

    /// The name of the sheet, by which others use it.
    fn name(&mut self, line: &Line) -> String {
        let name = self.text(line);
        if name.contains(' ') {
            let wrong = Diagnostic::new(format!("`{name}` is no name for a sheet")).at(self.at(line.rest.clone()));
            let hint = "a name is words in small letters with hyphens between them, such as `least-side`";
            self.diagnostics.push(wrong.hint(hint));
        }
        name
    }

    fn body(&mut self, lines: &[Line]) -> Vec<Stmt> {
        let mut body: Vec<Stmt> = Vec::new();
        for line in lines {
            if line.word == "otherwise" {
                let block = self.body(&line.block);
                match body.pop() {
                    Some(Stmt::When(when)) if when.otherwise.is_empty() => {
                        let when =
                            Arc::try_unwrap(when).unwrap_or_else(|_| unreachable!("a block just read has one owner"));
                        body.push(Stmt::When(Arc::new(When { otherwise: block, ..when })));
                    }
                    before => {
                        body.extend(before);
                        let place = self.at(line.word_span.clone());
                        self.diagnostics.push(
                            Diagnostic::new("`otherwise` without a `when` before it")
                                .at(place)
                                .hint("it has the same indent as its `when`, right after that block"),
                        );
                    }
                }
                continue;
            }
            let stmt = self.stmt(line);
            body.extend(self.keep(stmt));
        }
        body
    }

    fn stmt(&mut self, line: &Line) -> Result<Stmt, Diagnostic> {
        match line.word {
            "" => Ok(self.prose_or_heading(line)),
            "let" => self.let_(line),
            "take" => self.take(line),
            "use" => self.use_(line),
            "when" => {
                let mut parser = self.parser(line)?;
                let condition = parser.parse_expr()?;
                parser.expect_end()?;
                let body = self.body(&line.block);
                if body.is_empty() && self.diagnostics.is_empty() {
                    return Err(Diagnostic::new("nothing is under this `when`")
                        .at(self.at(line.word_span.clone()))
                        .hint("what depends on the condition is indented deeper"));
                }
                Ok(Stmt::When(Arc::new(When { condition, body, otherwise: Vec::new() })))
            }
            "must" | "fit" => self.must(line),
            "decide" => self.decide(line),
            "hand" => self.hand(line),
            "place" => self.place(line),
            "shop" => Ok(self.page(line, PageKind::Shop)),
            "field" => Ok(self.page(line, PageKind::Field)),
            "piece" => self.piece(line),
            "note" => self.note(line),
            "figure" => self.figure(line),
            word => Err(Diagnostic::new(format!("`{word}` belongs at the head of a sheet, not here"))
                .at(self.at(line.word_span.clone()))
                .hint("the order is: sheet, title, method, stands, joins, needs, gives, then the work")),
        }
    }

    fn parser(&self, line: &Line) -> Result<Parser<'a>, Diagnostic> {
        Parser::new(self.source, line.rest.clone())
    }

    fn prose_or_heading(&mut self, line: &Line) -> Stmt {
        let text = &self.source.text[line.rest.clone()];
        if let Some(heading) = text.strip_prefix('=') {
            return Stmt::Heading(heading.trim_start_matches('=').trim().into());
        }
        // A slip in the opening word would turn a formula into prose unseen.
        let first = text.split_whitespace().next().unwrap_or("");
        if let Some(near) = crate::names::nearest(first, WORDS.iter().copied())
            && (text.contains(" = ") || text.contains("<=") || text.contains(">="))
        {
            let span = line.rest.start..line.rest.start + first.len();
            let place = self.at(span);
            self.diagnostics.push(
                Diagnostic::new(format!("`{first}` is not a word of the language"))
                    .at(place)
                    .hint(format!("did you mean `{near}`? If this is prose, write it without `=`, `<=` or `>=`")),
            );
        }
        Stmt::Prose(prose(text))
    }

    fn note(&mut self, line: &Line) -> Result<Stmt, Diagnostic> {
        let text = self.source.text[line.rest.clone()].trim();
        let kinds = [
            ("not covered:", NoteKind::NotCovered),
            ("inspect periodic:", NoteKind::Inspected { continuous: false }),
            ("inspect continuous:", NoteKind::Inspected { continuous: true }),
        ];
        let found = kinds.into_iter().find_map(|(words, kind)| Some((kind, text.strip_prefix(words)?.trim_start())));
        let (kind, text) = found.unwrap_or((NoteKind::Assumed, text));
        let here = |message: &str| Diagnostic::new(message).at(self.at(line.word_span.clone()));
        if kind == NoteKind::Assumed && text.starts_with("inspect ") {
            return Err(here("a special inspection is `note inspect periodic: …` or `note inspect continuous: …`"));
        }
        let (text, cite) = match (text.rfind('['), text.strip_suffix(']')) {
            (Some(open), Some(inner)) => {
                (&text[..open], Some(inner[open + 1..].split_whitespace().collect::<Vec<_>>().join(" ")))
            }
            _ => (text, None),
        };
        if text.trim().is_empty() {
            return Err(here("nothing follows `note`"));
        }
        if cite.is_none() && matches!(kind, NoteKind::Inspected { .. }) {
            return Err(here("a special inspection has no clause")
                .hint("write the clause that requires it at the end, in brackets"));
        }
        Ok(Stmt::Note(Arc::new(Note { text: prose(text), cite, kind })))
    }

    /// `"what it is" [where it stands] in UNIT else "remedy"`, in any order;
    /// `else`, and `or` after a unit, only where they are among the `words`.
    fn tail(&self, parser: &mut Parser, words: &[&str]) -> Result<Tail, Diagnostic> {
        let mut tail = Tail::default();
        loop {
            if let Some(text) = parser.eat_text()? {
                tail.say = text;
            } else if let Some((cite, _)) = parser.eat_citation()? {
                tail.cite = Some(cite);
            } else if parser.eat_word("in")? {
                tail.unit = Some(parser.parse_unit()?);
            } else if words.contains(&"or") && tail.unit.is_some() && parser.eat_word("or")? {
                tail.units.push(parser.parse_unit()?);
            } else if words.contains(&"else") && parser.eat_word("else")? {
                let wanted = parser.wanted("a text in quotes after `else`");
                tail.remedy = Some(parser.eat_text()?.ok_or(wanted)?);
            } else {
                parser.expect_end()?;
                return Ok(tail);
            }
        }
    }

    fn let_(&mut self, line: &Line) -> Result<Stmt, Diagnostic> {
        let mut parser = self.parser(line)?;
        let (name, span) = parser.expect_word("the name of a symbol")?;
        parser.expect_sign("=", "after the symbol")?;
        let mut cases = Vec::new();
        loop {
            let value = parser.parse_expr()?;
            if parser.eat_word("when")? {
                cases.push(Case { value, when: Some(parser.parse_expr()?) });
                if parser.eat_sign(",")? {
                    continue;
                }
            } else if cases.is_empty() || parser.eat_word("otherwise")? {
                cases.push(Case { value, when: None });
            } else {
                return Err(parser.wanted("`when` and a condition, or `otherwise`"));
            }
            break;
        }
        let raw = if parser.eat_word("where")? { Some(self.raw(&mut parser)?) } else { None };
        let tail = self.tail(&mut parser, &["else"])?;
        let always = cases.last().is_some_and(|case| case.when.is_none());
        if !always && tail.remedy.is_none() {
            return Err(Diagnostic::new(format!("`{name}` has no value if no case applies"))
                .at(self.at(span))
                .hint("end with `VALUE otherwise`, or with `else \"why there is no value\"`"));
        }
        if always && tail.remedy.is_some() {
            return Err(
                Diagnostic::new(format!("`{name}` always has a value; `else` cannot be reached")).at(self.at(span))
            );
        }
        Ok(Stmt::Let(Arc::new(Let {
            name,
            span,
            cases,
            refusal: tail.remedy,
            raw,
            say: tail.say,
            cite: tail.cite,
            unit: tail.unit,
        })))
    }

    fn raw(&self, parser: &mut Parser) -> Result<Raw, Diagnostic> {
        let mut symbols = Vec::new();
        while !parser.at_word("giving") {
            let (name, span) = parser.expect_word("a symbol, or `giving`")?;
            if !parser.eat_word("in")? {
                return Err(parser.wanted("`in` and a unit"));
            }
            symbols.push((name, span, parser.parse_unit()?));
            parser.eat_sign(",")?;
        }
        parser.advance()?;
        let giving = match parser.at_word("number") {
            true => {
                parser.advance()?;
                Unit::none()
            }
            false => parser.parse_unit()?,
        };
        Ok(Raw { symbols, giving })
    }

    fn take(&mut self, line: &Line) -> Result<Stmt, Diagnostic> {
        let mut parser = self.parser(line)?;
        let mut names = Vec::new();
        loop {
            let (symbol, span) = parser.expect_word("the name of a column")?;
            let column =
                if parser.eat_sign("=")? { parser.expect_word("the name of a column")?.0 } else { symbol.clone() };
            names.push((symbol, column, span));
            if !parser.eat_sign(",")? {
                break;
            }
        }
        if !parser.eat_word("from")? {
            return Err(parser.wanted("`from` and a table"));
        }
        let (table, table_span) = parser.expect_word("the name of a table")?;
        parser.expect_sign("[", "and the keys of the row")?;
        let mut keys = Vec::new();
        loop {
            let between = parser.eat_word("between")?;
            keys.push((parser.parse_expr()?, between));
            if !parser.eat_sign(",")? {
                break;
            }
        }
        parser.expect_sign("]", "after the keys")?;
        let tail = self.tail(&mut parser, &[])?;
        let span = line.rest.clone();
        Ok(Stmt::Take(Arc::new(Take { names, table, table_span, keys, say: tail.say, cite: tail.cite, span })))
    }

    fn use_(&mut self, line: &Line) -> Result<Stmt, Diagnostic> {
        let mut parser = self.parser(line)?;
        let (sheet, span) = parser.expect_word("the name of a sheet")?;
        let (args, from) = if parser.at_sign("(") { self.args(&mut parser)? } else { Default::default() };
        let name = if parser.eat_word("as")? { parser.expect_word("a name")?.0 } else { sheet.clone() };
        parser.expect_end()?;
        Ok(Stmt::Use(Arc::new(Use { sheet, span, name, args, from })))
    }

    /// `place base by kind from bases else made  "…" (a = b)`, and what it gives.
    fn place(&mut self, line: &Line) -> Result<Stmt, Diagnostic> {
        let mut parser = self.parser(line)?;
        let (name, span) = parser.expect_word("the name of an open place")?;
        let wanted = parser.wanted("`by` and the column that chooses");
        if !parser.eat_word("by")? {
            return Err(wanted);
        }
        let (column, column_span) = parser.expect_word("the column that chooses")?;
        let from = self.from(&mut parser, &column)?;
        let default = if parser.eat_word("else")? { Some(parser.parse_expr()?) } else { None };
        let say = parser.eat_text()?.unwrap_or_default();
        let (args, sources) = if parser.at_sign("(") { self.args(&mut parser)? } else { Default::default() };
        if let Some((_, span)) = sources.first() {
            return Err(Diagnostic::new("an open place takes its inputs one by one").at(self.at(span.clone())));
        }
        parser.expect_end()?;
        let mut gives = Vec::new();
        for give in &line.block {
            let give = self.give(give);
            gives.extend(self.keep(give));
        }
        // The names that it can have are those of the candidates.
        let input = from.map(|from| Input {
            name: column.clone(),
            span: column_span,
            kind: Kind::Choice(Vec::new()),
            from: Some(from),
            passed_on: false,
            bounds: Vec::new(),
            default,
            safe: true,
            optional: false,
            say,
            unit: None,
            units: Vec::new(),
            cite: None,
        });
        Ok(Stmt::Place(Arc::new(OpenPlace { name, span, column, input, args, gives, choices: Vec::new() })))
    }

    fn page(&mut self, line: &Line, kind: PageKind) -> Stmt {
        Stmt::Page(Arc::new(Page { kind, span: line.word_span.clone(), body: self.body(&line.block) }))
    }

    /// `piece pins "pin" (D by l_pin) in ft^3`.
    fn piece(&mut self, line: &Line) -> Result<Stmt, Diagnostic> {
        let mut parser = self.parser(line)?;
        let amount = parser.parse_expr()?;
        let wanted = parser.wanted("in quotes what the piece is");
        let Some(name) = parser.eat_text()? else { return Err(wanted) };
        let mut values = Vec::new();
        if parser.eat_sign("(")? {
            loop {
                values.push(parser.parse_expr()?);
                if !parser.eat_word("by")? {
                    break;
                }
            }
            parser.expect_sign(")", "after the values")?;
        }
        let unit = if parser.eat_word("in")? { Some(parser.parse_unit()?) } else { None };
        parser.expect_end()?;
        Ok(Stmt::Piece(Arc::new(Piece { span: amount.span.clone(), amount, name, values, unit })))
    }

    fn figure(&mut self, line: &Line) -> Result<Stmt, Diagnostic> {
        let mut parser = self.parser(line)?;
        let (name, span) = parser.expect_word("the name of a figure")?;
        let (args, from) = self.args(&mut parser)?;
        if let Some((_, span)) = from.first() {
            return Err(Diagnostic::new("a figure takes its inputs one by one").at(self.at(span.clone())));
        }
        let tail = self.tail(&mut parser, &[])?;
        Ok(Stmt::Figure(Arc::new(Figure { name, span, args, say: tail.say })))
    }

    /// `(a = value, b, from sheet)`.
    fn args(&self, parser: &mut Parser) -> Result<(Args, Sources), Diagnostic> {
        parser.expect_sign("(", "and the inputs")?;
        let (mut args, mut from) = (Vec::new(), Vec::new());
        while !parser.at_sign(")") {
            if parser.eat_word("from")? {
                from.push(parser.expect_word("a sheet that is used above")?);
                if !parser.eat_sign(",")? {
                    break;
                }
                continue;
            }
            let (name, span) = parser.expect_word("the name of an input")?;
            // `width` alone stands for `width = width`.
            let value = if parser.eat_sign("=")? {
                parser.parse_expr()?
            } else {
                Expr { span: span.clone(), node: Node::Symbol(name.clone()) }
            };
            args.push((name, span, value));
            if !parser.eat_sign(",")? {
                break;
            }
        }
        parser.expect_sign(")", "after the inputs")?;
        Ok((args, from))
    }

    /// `decide "what" (value, value)  [clause]`.
    fn decide(&mut self, line: &Line) -> Result<Stmt, Diagnostic> {
        let mut parser = self.parser(line)?;
        let span = parser.span();
        let wanted = parser.wanted("in quotes what has to be decided");
        let Some(what) = parser.eat_text()? else { return Err(wanted) };
        parser.expect_sign("(", "and the symbols whose values are decided")?;
        let mut values = Vec::new();
        loop {
            values.push(parser.expect_word("the name of a symbol")?);
            if !parser.eat_sign(",")? {
                break;
            }
        }
        parser.expect_sign(")", "after the symbols")?;
        let wanted = parser.wanted("in brackets the clause that leaves it open");
        let Some((cite, _)) = parser.eat_citation()? else { return Err(wanted) };
        parser.expect_end()?;
        Ok(Stmt::Decide(Arc::new(Decide { what, span, values, cite })))
    }

    /// `hand "what" (value)  [clause]`.
    fn hand(&mut self, line: &Line) -> Result<Stmt, Diagnostic> {
        let mut parser = self.parser(line)?;
        let span = parser.span();
        let wanted = parser.wanted("in quotes what is handed to others");
        let Some(what) = parser.eat_text()? else { return Err(wanted) };
        parser.expect_sign("(", "and the symbol whose value is handed over")?;
        let value = parser.expect_word("the name of a symbol")?;
        parser.expect_sign(")", "after the symbol")?;
        let wanted = parser.wanted("in brackets the clause, or `common practice, no source`");
        let Some((cite, _)) = parser.eat_citation()? else { return Err(wanted) };
        parser.expect_end()?;
        Ok(Stmt::Hand(Arc::new(Hand { what, span, value, cite })))
    }

    fn must(&mut self, line: &Line) -> Result<Stmt, Diagnostic> {
        let mut parser = self.parser(line)?;
        let fit = line.word == "fit";
        let condition = parser.parse_expr()?;
        let tail = self.tail(&mut parser, &["else"])?;
        let span = condition.span.clone();
        let noun = if fit { "a fit" } else { "a limit" };
        let lacks = |what: &str, hint: &str| {
            let place = Place::new(self.source, span.clone());
            Err(Diagnostic::new(format!("{noun} {what}")).at(place).hint(hint))
        };
        if tail.say.is_empty() {
            return lacks("without a name", "say in quotes what is limited: \"uplift on the pins\"");
        }
        if tail.cite.is_none() && !fit {
            return lacks("without a citation", "name the clause in brackets: [NDS 2018 3.10.1]");
        }
        let Some(remedy) = tail.remedy else {
            return lacks("without a remedy", "end with `else \"what to do if it is not met\"`");
        };
        if let Some(unit) = tail.unit {
            let hint = format!("leave `in {}` out: demand and capacity have their own", unit.name());
            return lacks("with a unit", &hint);
        }
        Ok(Stmt::Must(Arc::new(Must { fit, condition, span, say: tail.say, cite: tail.cite, remedy })))
    }
}

/// Markup with symbols between backticks.
fn prose(text: &str) -> Prose {
    let text = text.lines().map(str::trim).collect::<Vec<_>>().join("\n");
    text.split('`')
        .enumerate()
        .filter(|(_, part)| !part.is_empty())
        .map(|(at, part)| if at % 2 == 1 { Part::Symbol(part.into()) } else { Part::Markup(part.into()) })
        .collect()
}
