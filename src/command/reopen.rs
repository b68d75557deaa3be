//! `socle reopen`: a package taken apart, its job worked again, and every value and page compared with it.
//! Of what it carries nothing is run but formulas, unless its own title block is asked for.

use std::collections::BTreeMap;
use std::path::Path;
use std::time::Duration;

use serde_json::{Value as Json, json};

use super::bounds::within;
use super::package::{self, Asked, Drafted, State, drafted, results};
use super::{Outcome, Run, paper};
use crate::archive::{self, Added, Archive, BUILD, Differences, Opened, RESULTS};
use crate::cli::ReopenArgs;
use crate::diag::{Diagnostic, count, list};
use crate::files::{self, Failure, names_in, read_at_most, say, write};
use crate::grid::decode;
use crate::job::some_marks;
use crate::legible::tame;
use crate::load::Reading;
use crate::report;
use crate::revision::changed_files;
use crate::templates::Templates;
use crate::verdict::OWN_TITLE_BLOCK;

/// Differences and sheets that are listed; JSON has all.
const SHOWN: usize = 12;
const SHEETS: usize = 4;

/// Letters of a value.
const CELL: usize = 40;

/// Runs of marks that a line has room for.
const MARKS: usize = 4;

/// No package that the program has made takes so long.
const LONGEST: Duration = Duration::from_secs(15 * 60);

pub(super) fn reopen(args: &ReopenArgs) -> Run {
    let shown = args.package.display().to_string();
    if args.package.is_dir() {
        return Err(Diagnostic::new(format!("`{shown}` is a folder; expected a package"))
            .hint("name the PDF that `socle package` has written; `socle package` makes one of a folder")
            .into());
    }
    if !args.package.exists() {
        return Err(files::missing(&shown).into());
    }
    let bytes = read_at_most(&args.package, archive::LARGEST + 1)?;
    if bytes.len() > archive::LARGEST {
        let most = archive::LARGEST >> 20;
        return Err(Diagnostic::new(format!("`{shown}` has more than {most} MB, which no package has")).into());
    }
    let _bounds = within(&format!("work on `{shown}`"), LONGEST, 3);
    let opened = archive::open(&shown, &bytes)?;
    if let Some(folder) = &args.into {
        take_out(folder, &opened.archive)?;
    }
    let found = Found::new(&shown, &bytes, opened, args.title_block)?;
    match args.json {
        true => say(&report::pretty(&found.json()))?,
        false => {
            say(&found.text())?;
            if let Some(folder) = &args.into {
                say(&paper().paragraph(&format!(
                    "All that it carries is in {}; the job is in {}.",
                    folder.display(),
                    folder.join("job").display()
                )))?;
            }
        }
    }
    Ok(if found.holds() { Outcome::Met } else { Outcome::NotMet })
}

/// Writes everything into a folder of its own.
fn take_out(folder: &Path, archive: &Archive) -> Result<(), Failure> {
    if folder.is_file() || folder.is_dir() && !names_in(folder)?.is_empty() {
        let what = if folder.is_file() { "is a file" } else { "is not empty" };
        return Err(Diagnostic::new(format!("`{}` {what}; expected a new or an empty folder", folder.display()))
            .hint("name a folder that does not exist yet: it is made")
            .into());
    }
    write(&folder.join(archive::LIST), &archive.list())?;
    archive.files.iter().try_for_each(|(path, bytes)| write(&folder.join(path), bytes))
}

/// What a package turns out to be.
struct Found {
    shown: String,
    opened: Opened,
    /// What the package carries, and what its job comes to with what it carries; none, if it cannot be worked any more.
    values: Option<Differences>,
    /// Its sheets and tables that are not those of this version, and what the job comes to with these; none, if it cannot
    /// be worked with them.
    other_sheets: Vec<String>,
    today: Option<Differences>,
    /// Whether the program's own revision is what this program makes, byte for byte; or why that was not tried.
    pages: Result<bool, &'static str>,
}

impl Found {
    fn new(shown: &str, bytes: &[u8], opened: Opened, title_block: bool) -> Result<Found, Failure> {
        let about = |failure: Failure| failure.hint(format!("this is about the job that `{shown}` carries"));
        let manifest = &opened.archive.manifest;
        let carried = opened.archive.job();
        let earlier = opened.archive.earlier().map(|carried| State::Package {
            carried,
            program: manifest.earlier_program.clone(),
            shown: "earlier/job".into(),
        });
        let asked = Asked { full: manifest.full, since: earlier.as_ref() };
        let whole = opened.closing.as_ref().filter(|it| it.whole);
        let untouched = whole.is_some() && opened.changed.is_empty() && opened.missing.is_empty();
        // What was damaged is of more interest than what that does to a sheet.
        let excused = |failure: Failure| match failure {
            Failure::Wrong(_) if !untouched => Ok(None),
            failure => Err(about(failure)),
        };
        let parse = |text: &[u8]| serde_json::from_slice::<Json>(text).unwrap_or(Json::Null);
        let old = opened.archive.files.get(RESULTS).map_or(Json::Null, |bytes| parse(bytes));
        let mut values = None;
        let pages = if whole.is_none() {
            Err("the file is not as socle wrote it")
        } else if !untouched {
            Err("what it carries was changed")
        } else if manifest.build != BUILD {
            Err("another build of the program made them")
        } else if carried.job.is_file(OWN_TITLE_BLOCK.0) && !title_block {
            Err("they are set with a title block of the job's own, a template; `--title-block` runs it")
        } else {
            let Drafted { loaded, draft, archive } = drafted(carried.reading(), &asked).map_err(about)?;
            values = Some(archive::differ(&old, &parse(&archive.files[RESULTS])));
            let made = package::files(&loaded, draft, Some(&archive)).and_then(|sources| sources.typeset());
            let made = made.map_err(about)?;
            Ok(whole.is_some_and(|it| made.bytes == bytes[..it.end]))
        };
        if values.is_none() {
            let now = results(carried.reading()).map(Some).or_else(excused)?;
            values = now.map(|now| archive::differ(&old, &parse(now.as_bytes())));
        }
        let built_in = Templates::built_in().sheets();
        let texts = |sheets: &BTreeMap<String, Vec<u8>>| {
            sheets.iter().map(|(path, bytes)| (path.clone(), decode(bytes))).collect()
        };
        let other_sheets: Vec<String> = changed_files(&texts(&carried.sheets), &texts(&built_in))
            .iter()
            .map(|change| format!("{}: {}", change.file, change.how.said()))
            .collect();
        let today = match other_sheets.is_empty() {
            true => None,
            false => results(Reading { sheets: None, ..carried.reading() })
                .ok()
                .map(|now| archive::differ(&old, &parse(now.as_bytes()))),
        };
        Ok(Found { shown: shown.into(), opened, values, other_sheets, today, pages })
    }

    /// Nothing speaks against the package.
    fn holds(&self) -> bool {
        let Opened { closing, added, changed, missing, list_holds, .. } = &self.opened;
        let whole = closing.as_ref().is_some_and(|it| it.whole);
        let pages = added.as_ref().is_none_or(|added| added.altered.is_empty() && added.pages.is_none());
        whole
            && pages
            && *list_holds
            && changed.is_empty()
            && missing.is_empty()
            && self.values.as_ref().is_some_and(|values| values.found.is_empty())
            && self.pages != Ok(false)
    }

    fn text(&self) -> String {
        let manifest = &self.opened.archive.manifest;
        let revision = if manifest.revision.is_empty() {
            String::new()
        } else {
            format!("revision {}, ", plain(&manifest.revision))
        };
        let head = format!(
            "{}: the package of {}, {revision}{}, made by {}.",
            self.shown,
            plain(&manifest.job),
            plain(&manifest.date),
            plain(&manifest.program)
        );
        let mut rows = vec![["file", &self.file()].map(String::from).to_vec()];
        if let Some(added) = &self.opened.added {
            rows.push(vec!["added".into(), added_text(added)]);
        }
        rows.push(vec!["attached".into(), self.attached()]);
        rows.push(vec!["values".into(), self.compared()]);
        let sheets = self.sheets();
        if !sheets.is_empty() {
            rows.push(vec!["sheets".into(), sheets]);
        }
        rows.push(vec!["pages".into(), self.pages_text()]);
        let mut out = paper().paragraph(&head) + &paper().table(2, &["", ""], rows, &[]);
        if let Some(values) = &self.values {
            out.push_str(&differences("Values that differ", values));
        }
        if let Some(today) = &self.today {
            out.push_str(&differences("With the sheets and tables of this version", today));
        }
        let changed = !self.opened.changed.is_empty() || !self.opened.missing.is_empty();
        let said = match (self.holds(), self.values.as_ref().is_some_and(|it| it.found.is_empty()) && !changed) {
            (true, _) => "The package is what its job comes to.",
            (false, true) => "The values are what the job comes to, but the package was changed: see above.",
            (false, false) => "The package is not what its job comes to: see above.",
        };
        out.push_str(&format!("\n{said}\n"));
        out
    }

    fn file(&self) -> String {
        match &self.opened.closing {
            Some(closing) if closing.whole => {
                format!("whole: its {} are those that socle wrote", count(closing.end, "byte"))
            }
            Some(_) => "CHANGED: its bytes are not those that socle wrote".into(),
            None => "CHANGED: another program has saved it anew, so that what socle wrote cannot be told from what was changed; ask for the file as it was sealed, to which programs only add".into(),
        }
    }

    fn attached(&self) -> String {
        let Opened { archive, changed, missing, others, list_holds, .. } = &self.opened;
        let mut said = Vec::new();
        if !list_holds {
            said.push(format!("CHANGED: `{}` is not the list whose digest the package prints", archive::LIST));
        }
        if !changed.is_empty() {
            said.push(format!("CHANGED since the package was made: {}", list(changed, "and")));
        }
        if !missing.is_empty() {
            said.push(format!("MISSING: {}", list(missing, "and")));
        }
        if said.is_empty() {
            said.push(format!("{}, each with the digest that the package lists", count(archive.files.len(), "file")));
        }
        if !others.is_empty() {
            said.push(format!(
                "attached by somebody else: {}",
                list(&others.iter().map(|it| plain(it)).collect::<Vec<_>>(), "and")
            ));
        }
        said.join("; ")
    }

    fn compared(&self) -> String {
        let Some(Differences { compared, posts, found }) = &self.values else {
            return "NOT COMPARED: with what was changed the job cannot be worked any more".into();
        };
        let all = format!("{} of {}", count(*compared, "value"), count(*posts, "post"));
        if found.is_empty() {
            return format!("{all} are the same");
        }
        let manifest = &self.opened.archive.manifest;
        let why = if !self.opened.changed.is_empty() || !self.opened.missing.is_empty() {
            "what it carries was changed".to_string()
        } else if manifest.engine != archive::ENGINE {
            format!("socle itself does otherwise now: {}", archive::changes_since(manifest.engine).join("; "))
        } else if manifest.build != BUILD {
            format!("{} was built otherwise than this one", plain(&manifest.program))
        } else {
            "the results that it carries are not those of its job".into()
        };
        format!("{} of {all} DIFFER: {why}", found.len())
    }

    fn sheets(&self) -> String {
        if self.other_sheets.is_empty() {
            return String::new();
        }
        let some = self.other_sheets.iter().take(SHEETS).cloned().collect::<Vec<_>>().join("; ");
        let more = self.other_sheets.len().saturating_sub(SHEETS);
        let more = if more > 0 { format!("; and {more} more, which `--json` lists") } else { String::new() };
        let now = match &self.today {
            None => "with those of this version the job cannot be worked as it is".to_string(),
            Some(today) if today.found.is_empty() => "with those of this version all values are the same".into(),
            Some(today) => format!("with those of this version {} differ", count(today.found.len(), "value")),
        };
        format!(
            "the package is worked with the sheets and tables that it carries; {now}. In this version: {some}{more}"
        )
    }

    fn pages_text(&self) -> String {
        match &self.pages {
            Ok(true) => "the same as this program makes, byte for byte".into(),
            Ok(false) => "NOT THE SAME as this program makes of the job, though it says that it was made by it".into(),
            Err(why) => format!("not verified: {why}"),
        }
    }

    fn json(&self) -> Json {
        let Opened { archive, closing, added, changed, missing, others, list_holds } = &self.opened;
        let difference = |it: &archive::Difference| json!({ "posts": it.posts, "what": it.what, "package": it.old, "now": it.new, "by": it.by });
        let all = |it: &Differences| json!({ "compared": it.compared, "posts": it.posts, "differ": it.found.iter().map(difference).collect::<Vec<_>>() });
        let manifest = &archive.manifest;
        let pages = match &self.pages {
            Ok(same) => json!({ "verified": true, "same": same }),
            Err(why) => json!({ "verified": false, "why": why }),
        };
        let added = added.as_ref().map(|it| json!({ "bytes": it.bytes, "signatures": it.signatures, "annotated": it.annotated, "altered": it.altered, "pages": it.pages }));
        json!({
            "holds": self.holds(),
            "package": { "job": manifest.job, "revision": manifest.revision, "date": manifest.date, "program": manifest.program, "build": manifest.build },
            "whole": closing.as_ref().is_some_and(|it| it.whole),
            "added": added,
            "attached": { "files": archive.files.len(), "changed": changed, "missing": missing, "others": others, "list": list_holds },
            "values": self.values.as_ref().map(all),
            "sheets": self.other_sheets,
            "today": self.today.as_ref().map(all),
            "pages": pages,
        })
    }
}

/// What a stranger's file says.
fn plain(text: &str) -> String {
    tame(text, 80)
}

fn cell(text: &str) -> String {
    let text = if text.is_empty() { "–".into() } else { plain(text) };
    if text.chars().count() <= CELL { text } else { text.chars().take(CELL - 1).chain(['…']).collect() }
}

fn added_text(added: &Added) -> String {
    let numbers = |pages: &[u32]| {
        let pages: Vec<String> = pages.iter().map(u32::to_string).collect();
        format!("{} {}", if pages.len() == 1 { "page" } else { "pages" }, pages.join(", "))
    };
    let mut said = vec![format!("{} by another program", count(added.bytes, "byte"))];
    if !added.signatures.is_empty() {
        let names = added.signatures.join(", ");
        said.push(format!("signed by {names} (whether the signature is valid, a PDF viewer says)"));
    }
    if !added.annotated.is_empty() {
        said.push(format!("stamps, marks or fields on {}", numbers(&added.annotated)));
    }
    if !added.altered.is_empty() {
        said.push(format!("CHANGED what is printed on {}", numbers(&added.altered)));
    }
    if let Some([now, then]) = added.pages {
        said.push(format!("CHANGED the number of pages: {now}, it was {then}"));
    }
    said.join("; ")
}

fn differences(title: &str, of: &Differences) -> String {
    if of.found.is_empty() {
        return String::new();
    }
    let row = |it: &archive::Difference| {
        let by = it.by.map_or(String::new(), |by| match 100.0 * by {
            small if small < 0.01 => "< 0.01 %".into(),
            from_zero if from_zero.is_infinite() => String::new(),
            by => format!("{by:.2} %"),
        });
        let posts = if it.posts.is_empty() { "all".into() } else { plain(&some_marks(&it.posts, MARKS)) };
        vec![posts, plain(&it.what), cell(&it.old), cell(&it.new), by]
    };
    let rows = of.found.iter().take(SHOWN).map(row).collect();
    let table = paper().table(2, &["posts", "value", "package", "now", "by"], rows, &[2, 3, 4]);
    let more = of.found.len().saturating_sub(SHOWN);
    let more = if more > 0 { format!("  and {more} more; `--json` lists all\n") } else { String::new() };
    format!("\n{title}\n{table}{more}")
}
