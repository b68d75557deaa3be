//! A package followed on paper, by what is printed on its sheets: lines, the pages
//! that references name, the way from a ratio back to what it rests on.

use std::collections::{BTreeMap, BTreeSet};

use socle::package::{Line, Pages, Worked};

use crate::jobs::{chapters, package_of};
use crate::paper::{Page, Paper, Word};
use crate::support::{JOBS, root};

/// From a ratio to its inputs, at most so many pages are turned.
const TURNS: usize = 5;

/// The numbers of all lines of a chapter, with those of facts and of its lists.
fn numbers(chapter: &Worked) -> Vec<String> {
    let mut found: Vec<String> = chapter.sections.iter().flat_map(|section| lines(&section.lines)).collect();
    found.extend(chapter.low.iter().map(|it| it.no.clone()));
    found.extend(chapter.fits.iter().map(|it| it.no.clone()));
    found
}

fn lines(lines: &[Line]) -> Vec<String> {
    let mut found = Vec::new();
    for line in lines {
        match line {
            Line::Facts { items, .. } => found.extend(items.iter().map(|item| item.no.clone())),
            Line::Step { no, .. }
            | Line::Candidates { no, .. }
            | Line::Lookup { no, .. }
            | Line::Figure { no, .. }
            | Line::Limit { no, .. } => found.push(no.clone()),
            Line::Prose { .. } | Line::Inputs { .. } | Line::Rests { .. } => {}
        }
    }
    found
}

/// A word without what stands around it: `(B.224),` is `B.224`.
fn bare(word: &Word) -> &str {
    word.text.trim_matches(|c: char| "()[],;:.".contains(c))
}

fn is_line(text: &str) -> bool {
    let rest = text.strip_prefix(['B', 'L', 'R']).and_then(|rest| rest.strip_prefix('.'));
    rest.is_some_and(|rest| !rest.is_empty() && rest.bytes().all(|byte| byte.is_ascii_digit()))
}

/// An example on paper, and what it was set from.
struct Read {
    paper: Paper,
    pages: Pages,
    /// The sheet on which each line, assumption and open question stands.
    stands: BTreeMap<String, usize>,
    /// Sheets that hold worked lines.
    worked: BTreeSet<usize>,
}

fn read(job: &'static str) -> Read {
    let paper = Paper::of(&root().join("fixtures").join(job));
    let pages = package_of(job).1;
    let titles: Vec<&str> =
        pages.worked.iter().map(|it| it.title.as_str()).chain(["Key plan, load path, loads"]).collect();
    let is_worked = |page: &&Page| titles.contains(&page.part().as_str());
    let worked: BTreeSet<usize> = paper.pages.iter().filter(is_worked).map(|page| page.number).collect();
    // The head of a table comes again on its next sheet.
    let tables = chapters(&pages).flat_map(|chapter| &chapter.sections).filter(|section| section.table);
    let heads: BTreeSet<String> = tables.flat_map(|section| lines(&section.lines)).collect();
    let mut stands: BTreeMap<String, usize> = BTreeMap::new();
    for page in &paper.pages {
        // What stands in brackets or goes on to a page is a reference.
        for word in page.body().filter(|word| word.text == bare(word)) {
            let line = worked.contains(&page.number) && is_line(bare(word));
            let again = heads.contains(bare(word)) && stands.get(bare(word)) == Some(&(page.number - 1));
            if line && !again {
                let before = stands.insert(bare(word).to_string(), page.number);
                assert_eq!(before, None, "{job}: {} stands twice, on sheet {} again", word.text, page.number);
            }
            // Assumptions and open questions have a column of numbers.
            let listed = word.text.strip_prefix(['A', 'Q']).is_some_and(|rest| rest.parse::<usize>().is_ok());
            if listed && page.part().starts_with("Design loads") {
                stands.entry(word.text.clone()).or_insert(page.number);
            }
        }
    }
    Read { paper, pages, stands, worked }
}

/// A table of reactions that runs over a page is referred to with all its pages.
#[test]
fn the_pages_of_the_reactions_are_named() {
    let paper = Paper::of(&root().join("tests/carport"));
    let words = |page: &Page| page.body().map(|word| word.text.clone()).collect::<Vec<_>>();
    let place = |sought: &[&str]| {
        let holds = |page: &&Page| words(page).windows(sought.len()).any(|some| some == sought);
        paper.pages.iter().find(holds).unwrap_or_else(|| panic!("no page has {sought:?}")).number
    };
    // Of the last case, the one row that no other page has.
    let (from, to) = (place(&["Nominal", "reactions"]), place(&["Ey", "P", "lbf"]));
    assert!(from < to, "the table stands on one page, {from}");
    let named = format!("{from} to {to}.");
    let named: Vec<&str> =
        ["Sums", "of", "the", "nominal", "reactions,", "p."].into_iter().chain(named.split(' ')).collect();
    place(&named);
}

/// Every line that is worked or listed stands on one sheet, and sheets count from one.
#[test]
fn each_line_stands_on_one_sheet() {
    for job in JOBS {
        let read = read(job);
        let last = read.paper.pages.len();
        for (at, page) in read.paper.pages.iter().enumerate() {
            assert_eq!((page.number, page.of), (at + 1, last), "{job}");
        }
        let printed: BTreeSet<&String> = read.stands.keys().filter(|no| is_line(no)).collect();
        let numbers: Vec<String> = chapters(&read.pages).flat_map(numbers).collect();
        assert_eq!(printed, numbers.iter().collect(), "{job}");
        assert!(numbers.len() > 100, "{job}");
    }
}

/// The footer of a sheet names the first and the last line of each chapter on it.
#[test]
fn a_sheet_says_which_lines_it_holds() {
    for job in JOBS {
        let read = read(job);
        let split = |no: &str| {
            let (chapter, number) = no.split_once('.').expect("a line");
            (chapter.to_string(), number.parse::<usize>().expect("a number"))
        };
        let mut held: BTreeMap<usize, BTreeMap<String, (usize, usize)>> = BTreeMap::new();
        for (no, sheet) in read.stands.iter().filter(|(no, _)| is_line(no)) {
            let (chapter, number) = split(no);
            let range = held.entry(*sheet).or_default().entry(chapter).or_insert((number, number));
            *range = (range.0.min(number), range.1.max(number));
        }
        for page in &read.paper.pages {
            let said = page.range().into_iter().map(|(first, last)| {
                let ((chapter, first), (_, last)) = (split(&first), split(&last));
                (chapter, (first, last))
            });
            let held = held.remove(&page.number).unwrap_or_default();
            assert_eq!(said.collect::<BTreeMap<_, _>>(), held, "{job}: sheet {}", page.number);
        }
        assert!(held.is_empty(), "{job}");
    }
}

/// A reference in the words of a sheet names the page of its line, if that is another
/// one: `B.224, p. 27`.
#[test]
fn references_name_the_page_where_the_line_stands() {
    for job in JOBS {
        let read = read(job);
        let mut followed = 0;
        for page in read.paper.pages.iter().filter(|page| !read.worked.contains(&page.number)) {
            let words: Vec<&Word> = page.body().collect();
            for (at, word) in words.iter().enumerate().filter(|(_, word)| is_line(bare(word))) {
                let Some(stands) = read.stands.get(bare(word)) else {
                    panic!("{job}: sheet {} names {}, which stands nowhere", page.number, word.text)
                };
                let after: Vec<&str> = words[at + 1..].iter().take(2).map(|word| bare(word)).collect();
                let named = match after.as_slice() {
                    ["p", number] if word.text.ends_with(',') => number.parse().ok(),
                    _ => None,
                };
                assert_eq!(named, Some(*stands), "{job}: {} on sheet {}, then {after:?}", word.text, page.number);
                followed += 1;
            }
        }
        assert!(followed > 30, "{job}: {followed} references");
    }
}

/// A link says which line it leads to, and leads to the sheet on which that stands.
#[test]
fn links_lead_to_their_lines() {
    for job in JOBS {
        let read = read(job);
        let pdf = lopdf::Document::load(&read.paper.path).expect("a PDF");
        let sheets: BTreeMap<lopdf::ObjectId, usize> =
            pdf.get_pages().into_iter().map(|(number, id)| (id, number as usize)).collect();
        let mut followed = 0;
        let links = sheets.keys().flat_map(|sheet| pdf.get_page_annotations(*sheet).expect("annotations"));
        // The field for a seal is an annotation, too.
        let is_link =
            |it: &&lopdf::Dictionary| it.get(b"Subtype").and_then(lopdf::Object::as_name).is_ok_and(|it| it == b"Link");
        for link in links.filter(is_link) {
            assert!(!link.has(b"A"), "{job}: {link:?} leads out of the package");
            let said = link.get(b"Contents").and_then(lopdf::decode_text_string).expect("words");
            let Some(no) = said.strip_prefix("line ") else { continue };
            let place = link.get_deref(b"Dest", &pdf).and_then(lopdf::Object::as_array).expect("a place");
            let sheet = sheets[&place[0].as_reference().expect("a sheet")];
            assert_eq!(read.stands.get(no), Some(&sheet), "{job}: {no}");
            followed += 1;
        }
        assert!(followed > 100, "{job}: {followed} links");
    }
}

/// What comes into a sheet from elsewhere: `p. 19: Fb = 1,200 psi (73)`, and without a
/// page what stands on the same one.
#[test]
fn inputs_of_a_sheet_name_the_pages_of_their_lines() {
    for job in JOBS {
        let read = read(job);
        let mut followed = BTreeMap::new();
        for page in read.paper.pages.iter().filter(|page| read.worked.contains(&page.number)) {
            let words: Vec<&Word> = page.body().collect();
            let mut named = page.number;
            for (at, word) in words.iter().enumerate() {
                // Anything in larger type ends the paragraph.
                if word.size > 7.6 {
                    named = page.number;
                }
                if word.text == "p." && words.get(at + 1).is_some_and(|next| next.text.ends_with(':')) {
                    named = bare(words[at + 1]).parse().expect("the number of a page");
                }
                let inner = word.text.trim_end_matches([',', ';']);
                // `(39 a)` names another column too.
                let closed = |word: &&Word| word.text.trim_end_matches([',', ';']).ends_with(')');
                let Some(inner) = inner.strip_prefix('(').and_then(|text| match text.strip_suffix(')') {
                    Some(text) => Some(text),
                    None => words.get(at + 1).filter(|next| closed(next) && next.text.len() < 5).map(|_| text),
                }) else {
                    continue;
                };
                let number = !inner.is_empty() && inner.bytes().all(|byte| byte.is_ascii_digit());
                let listed = inner.strip_prefix(['A', 'Q']).is_some_and(|rest| rest.parse::<usize>().is_ok());
                if !(6.7..7.3).contains(&word.size) || !(number || listed) {
                    continue;
                }
                // What is worked from them comes next, with the letter of the chapter.
                let letter = words[at..].iter().find(|word| is_line(bare(word))).map_or("", |word| &bare(word)[..1]);
                let line = if number { format!("{letter}.{inner}") } else { inner.to_string() };
                let stands = read.stands.get(&line).unwrap_or_else(|| panic!("{job}: {line} stands nowhere"));
                assert_eq!(named, *stands, "{job}: ({inner}) on sheet {}", page.number);
                *followed.entry(line[..1].to_string()).or_insert(0) += 1;
            }
        }
        let rows = crate::jobs::lines(&read.pages)
            .filter_map(|line| if let Line::Inputs { items } = line { Some(items) } else { None });
        let linked = rows.flatten().flat_map(|item| &item.rows).filter(|row| row.from.link.is_some()).count();
        assert_eq!(followed.values().sum::<usize>(), linked, "{job}: {followed:?}");
    }
}

/// `rests on p. 18: 33 to 35, 37; p. 3: Q41, Q45 to Q47` as it is printed: each number with
/// its page.
fn rests(page: &Page, letter: &str) -> Vec<BTreeSet<(String, usize)>> {
    let words: Vec<&Word> = page.body().collect();
    let mut lists = Vec::new();
    for at in 0..words.len() {
        if words[at].text != "rests" || words.get(at + 1).is_none_or(|next| next.text != "on") {
            continue;
        }
        let (mut list, mut there, mut from, mut to) = (BTreeSet::new(), 0, None, false);
        for word in words[at + 2..].iter().take_while(|word| word.size < 7.6) {
            let text = bare(word);
            let listed = text.strip_prefix(['A', 'Q']);
            match (text, listed.unwrap_or(text).parse::<usize>()) {
                ("p", _) => there = 0,
                ("to", _) => to = true,
                (_, Ok(number)) if there == 0 => there = number,
                (_, Ok(number)) => {
                    let first = if to { from.map_or(number, |from: usize| from + 1) } else { number };
                    let begin = if listed.is_some() { text[..1].to_string() } else { format!("{letter}.") };
                    list.extend((first..=number).map(|number| (format!("{begin}{number}"), there)));
                    (from, to) = (Some(number), false);
                }
                _ => break,
            }
        }
        lists.push(list);
    }
    lists
}

/// What a limit rests on is printed below it, each with the page where it stands.
#[test]
fn a_limit_names_all_that_it_rests_on() {
    for job in JOBS {
        let read = read(job);
        for chapter in chapters(&read.pages) {
            let mut named = 0;
            for section in &chapter.sections {
                for (of, line) in section.lines.iter().zip(section.lines.iter().skip(1)) {
                    let Line::Rests { lines: on } = line else { continue };
                    let [no] = lines(std::slice::from_ref(of)).try_into().expect("one line");
                    let expected: BTreeSet<(String, usize)> =
                        on.iter().map(|no| (no.clone(), read.stands[no])).collect();
                    let page = &read.paper.pages[read.stands[&no] - 1];
                    let printed = rests(page, &chapter.name);
                    assert!(printed.contains(&expected), "{job}: {no} rests on {expected:?}; printed: {printed:?}");
                    // Lines between lead there too.
                    let columns = chapter.columns.iter().map(|it| (no.clone(), it.letter.clone()));
                    let leaves: BTreeSet<String> = columns.flat_map(|at| leaves(chapter, &at)).collect();
                    assert!(on.iter().all(|no| leaves.contains(no)), "{job}: {no} rests on {leaves:?}");
                    named += 1;
                }
            }
            assert!(named > 0, "{job}: {}", chapter.title);
        }
    }
}

/// A limit names the rows that it rests on and that nobody has held against the
/// publication, whatever lies between: those of look-ups, of combinations, of C_D.
#[test]
fn a_limit_names_the_rows_that_wait_to_be_confirmed() {
    let sets = "Load combinations, strength";
    let mut durations = 0;
    for job in JOBS {
        let (package, pages) = package_of(job);
        let values = &package.open.values;
        let table_of = |no: &String| values.iter().find(|it| it.no == *no).map(|it| it.table.as_str());
        let mut followed = BTreeSet::new();
        for chapter in chapters(&pages) {
            let said = said(chapter);
            let lookups = chapter.sections.iter().flat_map(|section| &section.lines).filter_map(|line| match line {
                Line::Lookup { no, table, caution, .. } if caution.contains("recalled") => Some((no, table)),
                _ => None,
            });
            let lookups: BTreeMap<&String, &String> = lookups.collect();
            let loads = chapter.sections.iter().filter(|section| section.table);
            let loads: BTreeSet<String> = loads.flat_map(|section| lines(&section.lines)).collect();
            for at in chapter.reads.keys().filter(|(no, _)| said.contains_key(no)) {
                let named: BTreeSet<&str> = said[&at.0].iter().filter_map(table_of).collect();
                let behind = behind(chapter, at);
                for table in behind.iter().filter_map(|no| lookups.get(no)) {
                    assert!(named.contains(table.as_str()), "{job}: {} rests on {table}; it names {named:?}", at.0);
                    followed.insert(at.0.clone());
                }
                let forces = behind.iter().any(|no| loads.contains(no));
                let of_combination = |part: &str| named.iter().any(|table| table.contains(part));
                assert!(!forces || of_combination(sets) || of_combination("duration"), "{job}: {} {named:?}", at.0);
                durations += usize::from(of_combination("duration"));
            }
        }
        assert!(followed.len() > 1, "{job}: {followed:?}");
    }
    assert!(durations > 10, "{durations}");
}

/// A limit names the decisions whose values it was worked with, and what a frame reads of
/// the loads of posts brings their questions along.
#[test]
fn decisions_and_questions_of_loads_reach_what_rests_on_them() {
    let (package, pages) = package_of("orchard-pergola");
    let all: BTreeMap<&str, BTreeMap<String, BTreeSet<String>>> =
        chapters(&pages).map(|chapter| (chapter.name.as_str(), said(chapter))).collect();
    let named: BTreeSet<&String> = all.values().flat_map(|said| said.values().flatten()).collect();
    // No combination with an earthquake governs what is worked here, so nothing reads R.
    let shaken = chapters(&pages).flat_map(|chapter| &chapter.columns).any(|column| column.what.contains('E'));
    for decision in &package.open.decisions {
        let read = shaken || !decision.what.starts_with("R of a system");
        assert_eq!(named.contains(&decision.no), read, "{} {}", decision.no, decision.what);
    }
    let frames = chapters(&pages).find(|chapter| chapter.name == "R").expect("frames");
    let facts = frames.sections.iter().flat_map(|section| &section.lines).filter_map(|line| match line {
        Line::Facts { items, .. } => Some(items),
        _ => None,
    });
    let mut brought = 0;
    for fact in facts.flatten() {
        let questions = fact.of.iter().filter_map(|no| all["L"].get(no)).flatten().filter(|no| no.starts_with('Q'));
        for question in questions {
            let mut behind = all["R"].values().filter(|on| on.contains(&fact.no)).peekable();
            assert!(
                behind.peek().is_none() || behind.any(|on| on.contains(question)),
                "{} of {:?}: {question}",
                fact.no,
                fact.of
            );
            brought += 1;
        }
    }
    assert!(brought > 0);
}

/// The table of reactions marks what is worked line by line: each of these is a value that
/// the loads print, and the words before them name the lines of posts that are worked.
#[test]
fn the_table_of_reactions_marks_what_is_worked() {
    for job in JOBS {
        let (package, pages) = package_of(job);
        let values: BTreeSet<String> = pages
            .loads
            .iter()
            .flat_map(|chapter| &chapter.sections)
            .flat_map(|section| &section.lines)
            .flat_map(|line| match line {
                Line::Step { rows, .. } => rows.iter().map(|row| row.value.number.clone()).collect(),
                _ => Vec::new(),
            })
            .collect();
        let size = |number: &str| number.replace(',', "").replace('−', "-").parse::<f64>().expect("a number");
        let printed: Vec<f64> = values
            .iter()
            .filter(|it| it.starts_with(|c: char| c.is_ascii_digit() || c == '−'))
            .map(|it| size(it))
            .collect();
        let (mut marked, mut plain) = (BTreeSet::new(), 0);
        for table in &package.reactions {
            for row in &table.rows {
                for ((cell, worked), post) in row.cells.iter().zip(&row.worked).zip(&table.columns) {
                    if !worked {
                        plain += 1;
                        continue;
                    }
                    let known = printed.iter().any(|it| (it - size(cell)).abs() <= 0.51_f64.max(0.5e-3 * it.abs()));
                    assert!(known, "{job}: {} {} of {post}, {cell}, is not worked", row.case, row.what);
                    marked.insert(row.what.clone());
                }
            }
        }
        let frames = pages.loads.iter().any(|chapter| chapter.name == "R");
        let text: String = serde_json::to_string(&pages.loads.first().map(|it| &it.sections)).expect("JSON");
        assert_eq!(text.contains("The frames of these lines of posts are worked"), frames, "{job}");
        assert!(
            !frames || (marked.contains("P") && marked.iter().any(|it| it.starts_with('H')) && plain > 20),
            "{job}: {marked:?}"
        );
        assert!(pages.loads.is_empty() != marked.iter().any(|it| it == "P"), "{job}: {marked:?}");
    }
}

type At = (String, String);

/// What was given at the end of all ways from a line of a column: facts, loads of the
/// combination, assumptions, open questions.
fn leaves(chapter: &Worked, at: &At) -> BTreeSet<String> {
    let given = chapter.sections.iter().filter(|section| section.sheet.is_empty());
    let given: BTreeSet<String> = given.flat_map(|section| lines(&section.lines)).collect();
    let mut behind = behind(chapter, at);
    behind.retain(|no| given.contains(no) || no.starts_with(['A', 'Q']));
    behind
}

/// All that lies behind a line of a column.
fn behind(chapter: &Worked, at: &At) -> BTreeSet<String> {
    let (mut seen, mut next) = (BTreeSet::new(), vec![at.clone()]);
    while let Some(at) = next.pop() {
        for no in chapter.reads.get(&at).into_iter().flatten() {
            if seen.insert(no.clone()) {
                next.push((no.clone(), at.1.clone()));
            }
        }
    }
    seen
}

/// Below which lines it is said what they rest on.
fn said(chapter: &Worked) -> BTreeMap<String, BTreeSet<String>> {
    let mut said = BTreeMap::new();
    for section in &chapter.sections {
        for (of, next) in section.lines.iter().zip(section.lines.iter().skip(1)) {
            if let Line::Rests { lines: on } = next {
                let of = lines(std::slice::from_ref(of));
                said.insert(of[0].clone(), on.iter().cloned().collect());
            }
        }
    }
    said
}

/// Pages that are turned from a line of a column to each line that it rests on, by the
/// shortest way.
fn turns(read: &Read, chapter: &Worked, at: &At) -> BTreeMap<String, usize> {
    let mut known: BTreeMap<String, usize> = BTreeMap::from([(at.0.clone(), 0)]);
    let mut next = std::collections::VecDeque::from([(at.0.clone(), 0)]);
    while let Some((no, turned)) = next.pop_front() {
        if known[&no] < turned {
            continue;
        }
        for to in chapter.reads.get(&(no.clone(), at.1.clone())).into_iter().flatten() {
            // `default` and `safe side` lead nowhere else.
            let Some(there) = read.stands.get(to) else { continue };
            let all = turned + usize::from(*there != read.stands[&no]);
            if known.get(to).is_none_or(|known| all < *known) {
                known.insert(to.clone(), all);
                if all == turned { next.push_front((to.clone(), all)) } else { next.push_back((to.clone(), all)) }
            }
        }
    }
    known
}

/// From each ratio of half or more on a calculation sheet, and from the line of each
/// post in the summary, to all that files and assumptions say. Loads that are worked
/// out lead on: to the table of reactions, from there to their lines.
#[test]
fn an_input_is_five_turns_from_its_ratio() {
    for job in JOBS {
        let read = read(job);
        let [chapter] = read.pages.worked.as_slice() else { panic!("one chapter") };
        let limits = read.pages.sheets.iter().flat_map(|sheet| &sheet.limits);
        let limits = limits.filter(|limit| limit.row.ratio.parse::<f64>().is_ok_and(|ratio| ratio >= 0.5));
        let loads: BTreeSet<String> =
            chapter.sections.iter().filter(|section| section.table).flat_map(|section| lines(&section.lines)).collect();
        // From the table of reactions to the lines of a load, and on to what it rests on.
        let mut of_loads = 0;
        for chapter in &read.pages.loads {
            let said = said(chapter);
            for at in chapter.reads.keys().filter(|(no, _)| said.contains_key(no)) {
                let ways = turns(&read, chapter, at);
                let ways = said[&at.0].iter().filter_map(|leaf| ways.get(leaf));
                of_loads = ways.map(|turned| 2 + turned).max().unwrap_or(0).max(of_loads);
            }
        }
        let said = said(chapter);
        let mut worst = (0, String::new());
        let mut followed = 0;
        for limit in limits {
            let columns: Vec<At> = chapter.reads.keys().filter(|(no, _)| *no == limit.line).cloned().collect();
            assert!(!columns.is_empty(), "{job}: {} is not worked", limit.line);
            for at in columns {
                let ways = turns(&read, chapter, &at);
                let rests = said.get(&at.0).cloned().unwrap_or_else(|| leaves(chapter, &at));
                for leaf in rests.iter().filter(|leaf| ways.contains_key(*leaf)) {
                    // The line is on another page than its ratio.
                    let beyond = if loads.contains(leaf) { of_loads } else { 0 };
                    let all = 1 + ways[leaf] + beyond;
                    followed += 1;
                    if all > worst.0 {
                        worst = (all, format!("{} to {leaf}", limit.line));
                    }
                }
            }
        }
        assert!(followed > 50, "{job}: {followed}");
        assert!(worst.0 <= TURNS, "{job}: {} turns from {}", worst.0, worst.1);
    }
}
