//! `socle check`: how a job stands, and its limits, for a person, a spreadsheet or another program.

use super::package::no_input;
use super::{Run, note, outcome, paper, posts_named, verdict, work_out};
use crate::cli::CheckArgs;
use crate::engine::{self, Results, Root, Schedule};
use crate::files::{Failure, say, say_all, say_of, write};
use crate::load::load;
use crate::report;

pub(super) fn check(args: &CheckArgs) -> Run {
    // Other programs read the units of the sheets, whatever the job is printed in.
    let loaded = load(&args.job, args.confirmed.as_deref(), !args.json)?;
    note(&loaded.job.notes);
    let (root, results) = work_out(&loaded, None)?;
    let verdict = verdict(&loaded, &results);
    if args.json {
        say_all(report::check_json(&root, &results, &verdict, &loaded.digest))?;
    } else if args.open {
        say(&report::open_questions(&loaded.job, &verdict))?;
    } else if args.csv {
        say(&report::check_csv(&loaded.job, &results))?;
    } else if let Some(folder) = &args.schedules {
        let files = report::schedule_files(&schedules(&root, &results));
        for (name, text) in files {
            let path = folder.join(name);
            write(&path, text.as_bytes())?;
            say(&format!("{} written\n", path.display()))?;
        }
    } else if let Some(path) = &args.xlsx {
        let made = report::workbook(&loaded.job, &results, &verdict, &schedules(&root, &results));
        let bytes = made.map_err(|error| Failure::Machine(format!("`{}`: {error}", path.display())))?;
        no_input(&args.job, &loaded, path)?;
        write(path, &bytes)?;
        say_of(path, &format!("{} written\n", path.display()))?;
    } else if !args.post.is_empty() {
        let posts = posts_named(&loaded.job, &args.post)?;
        say(&report::post_limits(&loaded.job, &results, &posts, paper()))?;
    } else if args.all {
        say_all(report::all_limits(&loaded.job, &results, &verdict, paper()))?;
    } else {
        say(&report::summary(&loaded.job, &results, &verdict, paper()))?;
    }
    Ok(outcome(results.ok()))
}

fn schedules(root: &Root, results: &Results) -> Vec<Schedule> {
    let made = results.groups.iter().map(|group| (group, engine::made(root, results, group)));
    engine::schedules(root.job, &made.collect::<Vec<_>>())
}
