//! `socle check`: every limit of a job, for a person, a spreadsheet or another program.

use super::{Run, colour, note, outcome, work_out};
use crate::cli::CheckArgs;
use crate::engine;
use crate::files::{say, say_all, write};
use crate::load::load;
use crate::report;
use crate::verdict::Verdict;

pub(super) fn check(args: &CheckArgs) -> Run {
    // Other programs read the units of the sheets, whatever the job is printed in.
    let loaded = load(&args.job, args.confirmed.as_deref(), !args.json, &[])?;
    note(&loaded.job.notes);
    let (root, results) = work_out(&loaded)?;
    let verdict = Verdict::new(&loaded.job, &loaded.library, &results, &loaded.loads.groups);
    if args.json {
        say_all(report::check_json(&root, &results, &verdict, &loaded.digest))?;
    } else if args.open {
        say(&report::open_questions(&loaded.job, &verdict))?;
    } else if args.csv {
        say(&report::check_csv(&loaded.job, &results))?;
    } else if let Some(folder) = &args.schedules {
        let made = results.groups.iter().map(|group| (group, engine::made(&root, &results, group)));
        let files = report::schedule_files(&engine::schedules(&loaded.job, &made.collect::<Vec<_>>()));
        for (name, text) in files {
            let path = folder.join(name);
            write(&path, text.as_bytes())?;
            say(&format!("{} written\n", path.display()))?;
        }
    } else {
        say_all(report::check_table(&loaded.job, &results, &verdict, colour(&std::io::stdout())))?;
    }
    Ok(outcome(results.ok()))
}
