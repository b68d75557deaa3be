//! A job as a workbook that people sort and filter: a sheet for the posts, one for the
//! limits, one for what is open, one for each schedule and each input file. The same
//! job gives the same bytes.

use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, FormatAlign, Workbook, Worksheet, XlsxError};

use super::json::LimitRow;
use super::rows::{LIMIT_COLUMNS, limit_rows};
use crate::engine::{Limit, Results, Schedule};
use crate::job::{CATALOGUES, Job};
use crate::verdict::Verdict;

enum Cell {
    Text(String),
    /// With this many digits that count.
    Number(f64),
    /// With three decimals, as everywhere.
    Ratio(f64),
    /// As it was typed.
    Plain(f64),
    Empty,
}

impl From<&str> for Cell {
    fn from(text: &str) -> Cell {
        if text.is_empty() { Cell::Empty } else { Cell::Text(text.into()) }
    }
}

impl From<usize> for Cell {
    fn from(number: usize) -> Cell {
        Cell::Plain(number as f64)
    }
}

fn or_empty(number: Option<f64>, cell: fn(f64) -> Cell) -> Cell {
    number.filter(|number| number.is_finite()).map_or(Cell::Empty, cell)
}

/// # Errors
/// A text is longer than a cell holds.
pub fn workbook(job: &Job, results: &Results, verdict: &Verdict, schedules: &[Schedule]) -> Result<Vec<u8>, XlsxError> {
    let mut book = Book { book: Workbook::new(), names: Vec::new(), foot: verdict.headline.clone() };
    let date = job.card.date;
    let created = ExcelDateTime::from_ymd(date.year() as u16, date.month() as u8, date.day() as u8)?;
    let properties = DocProperties::new().set_title(&job.card.name).set_comment(&verdict.headline);
    book.book.set_properties(&properties.set_creation_datetime(&created));
    summary(&mut book, job, results, verdict)?;
    limits(&mut book, job, results)?;
    open(&mut book, job, verdict)?;
    for schedule in schedules {
        let header: Vec<&str> = schedule.header.iter().map(String::as_str).collect();
        book.sheet(&schedule.title, &header, as_typed(&schedule.rows))?;
    }
    for file in &job.files {
        let header: Vec<&str> = file.header.iter().map(String::as_str).collect();
        // A catalogue in a folder has a sheet for each of its files.
        let name = if file.shown.contains('/') { &file.shown } else { &file.name };
        book.sheet(name, &header, as_typed(&file.rows))?;
    }
    book.book.save_to_buffer()
}

fn summary(book: &mut Book, job: &Job, results: &Results, verdict: &Verdict) -> Result<(), XlsxError> {
    let header = ["post", "verdict", "ratio", "governing limit", "clause", "combination", "demand", "capacity", "unit"];
    let header = header.into_iter().chain(CATALOGUES.iter().map(|catalogue| catalogue.column));
    let header: Vec<&str> = header.chain(["limits", "not met", "open"]).collect();
    let row = |(at, post): (usize, &crate::job::Post)| {
        let group = &results.groups[results.group_of[at]];
        let failed = group.limits.iter().filter(|limit| !limit.ok()).count();
        let mut row = vec![post.mark.as_str().into(), met(group.ok()).into()];
        let governing = group.governing().map(|limit| LimitRow::of(results, limit));
        row.extend(match &governing {
            Some(limit) => [
                or_empty(limit.ratio, Cell::Ratio),
                limit.limit.as_str().into(),
                limit.cite.as_str().into(),
                limit.combination.as_str().into(),
                or_empty(limit.demand, Cell::Number),
                or_empty(limit.capacity, Cell::Number),
                limit.unit.as_str().into(),
            ],
            None => std::array::from_fn(|_| Cell::Empty),
        });
        let chosen = |name: &str| post.entries.get(name).map_or("", |entry| entry.name.as_str());
        row.extend(CATALOGUES.iter().map(|catalogue| chosen(catalogue.name).into()));
        let limits: Vec<&Limit> = group.limits.iter().filter(|limit| !limit.is_fit()).collect();
        row.extend([limits.len(), failed, verdict.open_of(at)].map(Cell::from));
        row
    };
    book.sheet("Summary", &header, job.posts.iter().enumerate().map(row).collect())
}

fn limits(book: &mut Book, job: &Job, results: &Results) -> Result<(), XlsxError> {
    let row = |(mark, group, limit): (&str, usize, LimitRow)| {
        vec![
            mark.into(),
            group.into(),
            limit.sheet.as_str().into(),
            limit.limit.as_str().into(),
            limit.cite.as_str().into(),
            or_empty(limit.demand, Cell::Number),
            or_empty(limit.capacity, Cell::Number),
            limit.unit.as_str().into(),
            or_empty(limit.ratio, Cell::Ratio),
            limit.combination.as_str().into(),
            met(limit.ok).into(),
            or_empty(limit.low(), Cell::Ratio),
            or_empty(limit.high(), Cell::Ratio),
            limit.close().into(),
        ]
    };
    book.sheet("Limits", &LIMIT_COLUMNS, limit_rows(job, results).map(row).collect())
}

fn open(book: &mut Book, job: &Job, verdict: &Verdict) -> Result<(), XlsxError> {
    let header = ["kind", "what", "of", "value", "about", "doubt", "posts", "why it is open again"];
    let rows = verdict.open().map(|question| {
        let marks: Vec<&str> = question.posts.iter().map(|post| job.posts[*post].mark.as_str()).collect();
        let marks = if marks.len() == job.posts.len() { "all".into() } else { marks.join(", ") };
        let texts = [&question.what, &question.row, &question.value, &question.about, &question.doubt];
        let texts = texts.into_iter().map(|text| text.as_str().into());
        let kind = std::iter::once(question.asks.name().into());
        kind.chain(texts).chain([marks.as_str().into(), question.why.as_str().into()]).collect()
    });
    book.sheet("Open", &header, rows.collect())
}

fn met(ok: bool) -> &'static str {
    if ok { "met" } else { "NOT MET" }
}

fn as_typed(rows: &[Vec<String>]) -> Vec<Vec<Cell>> {
    let cell = |text: &String| plain_number(text).map_or_else(|| text.as_str().into(), Cell::Plain);
    rows.iter().map(|row| row.iter().map(cell).collect()).collect()
}

/// A number that is nothing else: not `1/2`, not `007`, not `1e5`.
fn plain_number(text: &str) -> Option<f64> {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
    let all_digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    // Longer ones are no measures, and a spreadsheet would cut them.
    let plain = all_digits(whole) && all_digits(part) && (whole == "0" || !whole.starts_with('0')) && text.len() <= 15;
    if plain { text.parse().ok() } else { None }
}

struct Book {
    book: Workbook,
    /// Of its sheets, which differ by more than capitals.
    names: Vec<String>,
    /// At the foot of each printed page.
    foot: String,
}

/// The most and the least that a column is wide, in characters.
const WIDTHS: [usize; 2] = [6, 50];

impl Book {
    fn sheet(&mut self, name: &str, header: &[&str], rows: Vec<Vec<Cell>>) -> Result<(), XlsxError> {
        let name = self.free(name);
        let sheet = self.book.add_worksheet();
        sheet.set_name(&name)?.set_freeze_panes(1, 1)?.set_landscape().set_repeat_rows(0, 0)?;
        sheet.set_print_fit_to_pages(1, 0).set_header("&L&A&R&P of &N").set_footer(foot(&self.foot));
        let bold = Format::new().set_bold().set_text_wrap().set_align(FormatAlign::Top);
        let mut widths: Vec<usize> = header.iter().map(|name| name.chars().count() + 3).collect();
        for (column, name) in header.iter().enumerate() {
            sheet.write_string_with_format(0, column as u16, *name, &bold)?;
        }
        for (at, row) in rows.iter().enumerate() {
            for (column, cell) in row.iter().enumerate() {
                let long = write(sheet, at as u32 + 1, column as u16, cell)?;
                if let Some(width) = widths.get_mut(column) {
                    *width = long.max(*width);
                }
            }
        }
        for (column, width) in widths.iter().enumerate() {
            sheet.set_column_width(column as u16, (*width).clamp(WIDTHS[0], WIDTHS[1]) as f64)?;
        }
        if !header.is_empty() {
            sheet.autofilter(0, 0, rows.len() as u32, header.len() as u16 - 1)?;
        }
        Ok(())
    }

    /// A name as a workbook takes it: short, without some signs, and used once.
    fn free(&mut self, name: &str) -> String {
        const LONGEST: usize = 31;
        let sign = |c: char| if "[]:*?/\\'".contains(c) { '-' } else { c };
        let plain: String = name.chars().map(sign).take(LONGEST - 3).collect();
        let again = |at: usize| if at == 1 { plain.clone() } else { format!("{plain} {at}") };
        let taken = |name: &String| self.names.iter().any(|known| known.eq_ignore_ascii_case(name));
        let free = (1..).map(again).find(|name| !taken(name)).unwrap_or_default();
        self.names.push(free.clone());
        free
    }
}

/// Writes a cell; how wide it is. What begins like a formula is a text like any other.
fn write(sheet: &mut Worksheet, row: u32, column: u16, cell: &Cell) -> Result<usize, XlsxError> {
    let number = |digits: &str| Format::new().set_num_format(digits);
    Ok(match cell {
        Cell::Empty => 0,
        Cell::Text(text) => {
            sheet.write_string(row, column, text)?;
            text.chars().count() + 1
        }
        Cell::Plain(value) => {
            sheet.write_number(row, column, *value)?;
            value.to_string().len() + 1
        }
        Cell::Ratio(value) => {
            sheet.write_number_with_format(row, column, *value, &number("0.000"))?;
            7
        }
        Cell::Number(value) => {
            let digits = match value.abs() {
                0.0 => "0",
                size if size >= 1000.0 => "#,##0",
                size if size >= 100.0 => "0.0",
                size if size >= 10.0 => "0.00",
                size if size >= 1.0 => "0.000",
                _ => "0.0000",
            };
            sheet.write_number_with_format(row, column, *value, &number(digits))?;
            10
        }
    })
}

/// A foot holds 255 characters, and `&` stands for what the program fills in.
fn foot(headline: &str) -> String {
    let words: String = headline.chars().take(150).collect();
    format!("&L{}&RNot for construction until reviewed and sealed.", words.replace('&', "&&"))
}
