//! A job read, and worked as `check` and `package` work it, up to the typesetter; and all that is said of it.

use std::cell::RefCell;

use socle::archive::PROGRAM;
use socle::engine::{self, LOADS, PostGrid, ROOT, Root};
use socle::folder::Folder;
use socle::job::{Job, Known};
use socle::load::{self, Confirmed, Reading, all};
use socle::package::{self, Figures};
use socle::report::{self, Paper};
use socle::templates::Templates;
use socle::verdict::Verdict;

use crate::changed::Files;
use crate::{failed, noted, printed, refused};

/// The files of a job, read as its reader reads them, and no more.
pub fn read(name: &str, files: &Files) {
    thread_local! {
        static KNOWN: Known = {
            let library = Templates::built_in().library();
            engine::known_names(&library.unwrap_or_else(|wrong| panic!("{}", wrong[0].message)))
        };
    }
    let (job, mut wrong) = KNOWN.with(|known| Job::read_all(name, files, known));
    socle::diag::once(&mut wrong);
    match job {
        Some(job) if wrong.is_empty() => noted(&job.notes),
        _ => refused(&wrong),
    }
}

/// A job that is held in memory, worked. Libraries are kept: that of the program in either system of units, and the
/// last one with sheets of a job.
pub fn held(name: &str, files: &Files, confirmed: Option<&Confirmed>, printed: bool, pages: bool) {
    thread_local! {
        static KEPT: [RefCell<load::Kept>; 3] = Default::default();
    }
    let own = files.keys().any(|path| path.starts_with("templates/"));
    let metric = printed && files.get("job.toml").is_some_and(|text| text.windows(8).any(|it| it == b"\"metric\""));
    let folder = Folder::Held { shown: name.into(), files: files.clone() };
    let reading = Reading { printed, ..Reading::of(&folder, confirmed) };
    KEPT.with(|kept| {
        let kept = &kept[if own { 2 } else { usize::from(metric) }];
        work(reading, &mut kept.borrow_mut(), pages);
    });
}

/// Works a job and reads what comes of it; `pages` for what the typesetter would be given too.
fn work(reading: Reading, kept: &mut load::Kept, pages: bool) {
    let loaded = match reading.load_with(kept) {
        Ok(loaded) => loaded,
        Err(failure) => return failed(failure),
    };
    let job = &loaded.job;
    noted(&job.notes);
    let root = match Root::new(job, &loaded.library, ROOT, None) {
        Ok(root) => root,
        Err(wrong) => return failed(wrong.into()),
    };
    let results = match engine::work_job(&root, &|_, _| {}) {
        Ok(results) => results,
        Err(mut wrong) => {
            job.tables.in_words(&mut wrong);
            return failed(all(wrong, loaded.library.units()));
        }
    };
    let verdict = Verdict::new(job, &loaded.library, &results, &loaded.loads.groups);
    let paper = Paper::new(false, false);
    printed(&report::summary(job, &results, &verdict, paper));
    report::all_limits(job, &results, &verdict, paper).for_each(|text| printed(&text));
    printed(&report::open_questions(job, &verdict));
    printed(&report::check_csv(job, &results));
    let json: String = report::check_json(&root, &results, &verdict, &loaded.digest).collect();
    serde_json::from_str::<serde_json::Value>(&json).expect("JSON");
    let made: Vec<_> = results.groups.iter().map(|group| (group, engine::made(&root, &results, group))).collect();
    for (_, text) in report::schedule_files(&engine::schedules(job, &made)) {
        printed(&text);
    }
    if !pages {
        return;
    }
    let around = || Some(PostGrid::new(&job.posts).around());
    let loads = match loaded.loads.groups.is_empty() {
        true => Ok(None),
        false => Root::new(job, &loaded.library, LOADS, around()).map(Some),
    };
    let frames = engine::frames(job, &loaded.library, &loaded.loads, &results, false);
    let (loads, frames) = match loads.and_then(|loads| Ok((loads, frames?))) {
        Ok(found) => found,
        Err(wrong) => return failed(wrong.into()),
    };
    loads.iter().for_each(|root| root.begin(&[]));
    let loads = loads.as_ref().map(|root| (root, &loaded.loads));
    let worked = engine::Worked { root: &root, results: &results, loads, frames };
    let (package, _) = package::build(&worked, &verdict, PROGRAM, &loaded.digest, false, &Figures::default());
    for (_, text) in package::drawing_files(job, &package) {
        printed(&text);
    }
}
