//! `socle validate`: the check values that ship with the program, and the verification report.

use super::page::{Dated, typeset};
use super::{Run, outcome, paper};
use crate::archive::{BUILD, PROGRAM};
use crate::cli::ValidateArgs;
use crate::diag::count;
use crate::files::{say, say_of, write};
use crate::load::{digest, named_sheet};
use crate::quantity::Units;
use crate::templates::Templates;
use crate::validate::{Against, File, Validation};
use crate::{package, report};

pub(super) fn validate(args: &ValidateArgs) -> Run {
    // No job has a say in it: what ships is what is verified.
    let library = Templates::built_in().library()?;
    if let Some(sheet) = &args.sheet {
        named_sheet(&library, sheet)?;
    }
    let against = Against { library: &library, table: &Templates::table };
    let all = Validation::new(&against, File::built_in()?, args.sheet.as_deref())?;
    if let Some(output) = &args.output {
        let dated = Dated::typed(args.date.as_deref())?;
        let model = package::verification(&library, &all, digests(), [PROGRAM, BUILD], &dated.printed)?;
        let pdf = typeset("verification", &model, Units::Imperial, &dated, "verification report")?;
        write(output, &pdf.bytes)?;
        say_of(output, &format!("{} written, {}. {}\n", output.display(), count(pdf.pages, "page"), all.headline()))?;
    } else if args.json {
        say(&report::validation_json(&all))?;
    } else if args.csv {
        say(&report::validation_csv(&all))?;
    } else if args.all {
        say(&report::all_values(&all, paper()))?;
    } else {
        say(&report::validation(&all, paper()))?;
    }
    Ok(outcome(all.holds()))
}

/// Of the sheets and tables, and of the check values: what exactly was verified, and with what.
fn digests() -> [String; 2] {
    let templates = Templates::built_in();
    let read = |path: &str| path.starts_with("sheets/") || path.starts_with("tables/");
    let sheets = templates.files.iter().filter(|(path, _)| read(path));
    [digest(sheets.map(|(path, bytes)| (path.as_str(), bytes.as_slice()))), digest(File::texts())]
}
