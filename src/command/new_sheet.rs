//! `socle sheets new`: a file of the job's own to begin with, which works as it is written.

use std::path::Path;

use crate::diag::Diagnostic;
use crate::engine::ROOTS;
use crate::files::{Failure, say, write};
use crate::source::Source;
use crate::templates::{TITLE_BLOCK, Templates};

const EXAMPLE: &str = include_str!("example.sheet");

/// Writes a sheet, or the title block, into the folder of a job.
///
/// # Errors
/// The name is none for a sheet, or taken; the file is there; the job has faults of its own.
pub(super) fn new(name: &str, job: Option<&Path>) -> Result<(), Failure> {
    let Some(job) = job else {
        return Err(Diagnostic::new(format!("`socle sheets new {name}` does not say for which job"))
            .hint(format!("write `socle sheets new {name} --job JOB`, JOB being the job's folder"))
            .into());
    };
    if !job.join("job.toml").is_file() {
        return Err(Diagnostic::new(format!("there is no job in `{}`", job.display()))
            .hint("a job is a folder with `job.toml`, `posts.csv` and `bases.csv`; `socle new DIR` begins one")
            .into());
    }
    let templates = Templates::of(Some(job))?;
    let folder = job.join("templates");
    if name == TITLE_BLOCK.trim_end_matches(".typ") || name == TITLE_BLOCK {
        let file = folder.join(TITLE_BLOCK);
        free(&file)?;
        write(&file, &Templates::built_in().files[TITLE_BLOCK])?;
        return say(&format!(
            "{file} written: it sets the title block as the built-in one does until you change it; its first lines say what it is given and what it may do\n`socle package {job}` sets it\n",
            file = file.display(),
            job = job.display(),
        ));
    }
    let plain = name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
    let ends = name.starts_with(|c: char| c.is_ascii_lowercase()) && !name.ends_with('-') && !name.contains("--");
    let hyphens = name.split('-').skip(1).all(|part| part.starts_with(|c: char| c.is_ascii_lowercase()));
    if !(plain && ends && hyphens) {
        return Err(Diagnostic::new(format!("`{name}` cannot be the name of a sheet"))
            .hint("a name is made of lowercase words with hyphens between them, such as `least-side`")
            .into());
    }
    let library = templates.library()?;
    let path = library.path(name);
    if let (Some(path), true) = (path, library.sheet(name).is_some_and(|sheet| !sheet.own)) {
        return Err(Diagnostic::new(format!("there is a built-in sheet `{name}`"))
            .hint(format!(
                "to put one of your own in its place, print it into the job, `socle sheets {name} > {}`, and change it there; to add a rule, choose another name",
                folder.join("sheets").join(path).display()
            ))
            .into());
    }
    let file = folder.join("sheets/own").join(format!("{name}.sheet"));
    free(&file)?;
    // Each sheet has a column of its own: two that share one have to agree on it.
    let column = format!("{}_min", name.replace('-', "_"));
    let text = EXAMPLE.replace("sheet NAME", &format!("sheet {name}")).replace("COLUMN", &column);
    // It is in order, among the sheets of this job, before it is written.
    let library = templates.library_with(&Source::new(file.display().to_string(), text.clone()))?;
    if !library.used(&ROOTS, &[]).sheets.contains_key(name) {
        return Err(Failure::Machine(format!("the example `{name}` is not used for a post; please report this")));
    }
    write(&file, text.as_bytes())?;
    say(&format!(
        "{file} written: it is used for every post from now on, and its comments say what each line does\n`socle check {job}` shows its limit, \"smallest side of the post\"; change it to your own rule\n",
        file = file.display(),
        job = job.display(),
    ))
}

/// # Errors
/// The file is there: nothing that somebody wrote is written over.
fn free(file: &Path) -> Result<(), Failure> {
    match file.exists() {
        true => Err(Diagnostic::new(format!("`{}` already exists", file.display()))
            .hint("choose another name, or remove the file first")
            .into()),
        false => Ok(()),
    }
}
