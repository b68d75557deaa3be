//! Files and standard output: bytes in, bytes out. Knows nothing of what is in
//! them.

use std::io::{ErrorKind, Read, Write};
use std::path::Path;

use crate::diag::{Diagnostic, Diagnostics};

/// Why a run did not end.
pub enum Failure {
    /// The input or a sheet is wrong.
    Wrong(Diagnostics),
    /// The machine failed.
    Machine(String),
}

impl Failure {
    /// The same with a hint at the first of what is wrong: what all of it is about.
    #[must_use]
    pub fn hint(mut self, hint: String) -> Failure {
        if let Failure::Wrong(wrong) = &mut self {
            wrong.iter_mut().take(1).for_each(|first| first.hints.push(hint.clone()));
        }
        self
    }
}

impl From<Diagnostics> for Failure {
    fn from(diagnostics: Diagnostics) -> Failure {
        Failure::Wrong(diagnostics)
    }
}

impl From<Diagnostic> for Failure {
    fn from(diagnostic: Diagnostic) -> Failure {
        Failure::Wrong(diagnostic.into())
    }
}

fn machine(path: &Path, error: &std::io::Error) -> Failure {
    Failure::Machine(format!("`{}`: {error}", path.display()))
}

/// What to say of a file that is not there.
pub fn missing(shown: &str) -> Diagnostic {
    Diagnostic::new(format!("there is no file `{shown}`"))
}

/// Bytes of a file that is read.
const MOST: u64 = 64 << 20;

/// # Errors
/// There is no such file, or it is larger than any is; the machine cannot read it.
pub fn read_file(path: &Path) -> Result<Vec<u8>, Failure> {
    let size = std::fs::metadata(path).map_or(0, |meta| meta.len());
    if size > MOST {
        let what = format!("`{}` has {} MB; expected at most {} MB", path.display(), size >> 20, MOST >> 20);
        return Err(Diagnostic::new(what).hint("look at what stands in the file").into());
    }
    std::fs::read(path).map_err(|error| match error.kind() {
        ErrorKind::NotFound => missing(&path.display().to_string()).into(),
        _ => machine(path, &error),
    })
}

/// So many bytes of a file, or all if it has fewer.
///
/// # Errors
/// The machine cannot read it.
pub fn read_at_most(path: &Path, most: usize) -> Result<Vec<u8>, Failure> {
    let mut bytes = Vec::new();
    let read = std::fs::File::open(path).and_then(|file| file.take(most as u64).read_to_end(&mut bytes));
    read.map(|_| bytes).map_err(|error| machine(path, &error))
}

/// The names of what stands in a folder.
///
/// # Errors
/// The machine cannot read it.
pub fn names_in(folder: &Path) -> Result<Vec<String>, Failure> {
    let entries = std::fs::read_dir(folder).map_err(|error| machine(folder, &error))?;
    let name =
        |entry: std::io::Result<std::fs::DirEntry>| entry.map(|entry| entry.file_name().to_string_lossy().into_owned());
    let mut names = entries.map(name).collect::<Result<Vec<_>, _>>().map_err(|error| machine(folder, &error))?;
    names.sort();
    Ok(names)
}

/// As many files a folder may hold, with all that is below it.
const FILES: usize = 2_000;

/// The paths of all files below a folder, from there and with `/` between names. A link to a folder is not
/// followed: it is one of them.
///
/// # Errors
/// There are too many; the machine cannot read one of the folders.
pub fn below(folder: &Path) -> Result<Vec<String>, Failure> {
    let mut found = Vec::new();
    let mut waiting = vec![folder.to_path_buf()];
    while let Some(dir) = waiting.pop() {
        for entry in std::fs::read_dir(&dir).map_err(|error| machine(&dir, &error))? {
            let entry = entry.map_err(|error| machine(&dir, &error))?;
            let path = entry.path();
            if entry.file_type().is_ok_and(|kind| kind.is_dir()) {
                waiting.push(path);
                continue;
            }
            found.push(path.strip_prefix(folder).unwrap_or(&path).to_string_lossy().replace('\\', "/"));
            if found.len() > FILES {
                let what = format!("`{}` has more than {FILES} files below it", folder.display());
                return Err(Diagnostic::new(what).hint("it holds what is a job's own, and nothing else").into());
            }
        }
    }
    found.sort();
    Ok(found)
}

/// Whether an output is standard output: `-`.
fn is_standard_output(path: &Path) -> bool {
    path == Path::new("-")
}

/// Says of a file what became of it; beside standard output, if that is the file.
///
/// # Errors
/// Standard output cannot be written.
pub fn say_of(path: &Path, text: &str) -> Result<(), Failure> {
    if is_standard_output(path) {
        complain(text);
        return Ok(());
    }
    say(text)
}

/// Says something beside standard output. Where that cannot be written either, there is nobody to tell.
pub fn complain(text: &str) {
    let _ = std::io::stderr().lock().write_all(text.as_bytes());
}

/// Writes beside the target, flushes and renames: what is there is whole, the old or the new. A file beside it that
/// a run left which was killed is removed.
///
/// # Errors
/// It is no regular file, or its folder is a file; the machine cannot write it.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    if is_standard_output(path) {
        return print(|out| out.write_all(bytes));
    }
    if path.is_dir() {
        return Err(Diagnostic::new(format!("`{}` is a folder; expected the name of a file to write", path.display()))
            .hint("write the name of the file behind it")
            .into());
    }
    // A link stays, and what it leads to is replaced.
    let real = path.canonicalize();
    let path = real.as_deref().unwrap_or(path);
    if path.exists() && !path.is_file() {
        return Err(Diagnostic::new(format!(
            "`{}` is no regular file; expected the name of a file to write",
            path.display()
        ))
        .hint("give the name of a file: it is made if it is not there")
        .into());
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    if let Some(file) = folder.ancestors().find(|above| above.is_file()) {
        return Err(Diagnostic::new(format!("`{}` is a file; expected a folder to write into", file.display()))
            .hint("name another folder: it is made if it is not there")
            .into());
    }
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let attempt = || -> std::io::Result<()> {
        std::fs::create_dir_all(folder)?;
        sweep(folder, &name);
        let mut file = beside(folder, &name)?;
        // Another run leaves it alone; where files cannot be locked, none is swept.
        let _ = file.as_file().try_lock();
        file.write_all(bytes)?;
        file.as_file().sync_all()?;
        file.persist(path).map_err(|error| error.error)?;
        Ok(())
    };
    attempt().map_err(|error| Failure::Machine(unwritten(path, &error)))
}

/// How the name of a file ends that is not whole yet.
const PART: &str = ".part";

/// Removes what runs have left that were killed while they wrote the file of this name.
fn sweep(folder: &Path, name: &str) {
    let begin = format!(".{name}.");
    for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
        let found = entry.file_name().to_string_lossy().into_owned();
        if found.starts_with(&begin) && found.ends_with(PART) {
            let left = std::fs::File::open(entry.path()).is_ok_and(|file| file.try_lock().is_ok());
            if left {
                let _ = std::fs::remove_file(entry.path());
            }
        }
    }
}

/// Why a file was not written; that another program may hold the one of its name, as viewers do on Windows.
pub fn unwritten(path: &Path, error: &std::io::Error) -> String {
    const SHARING_VIOLATION: i32 = 32;
    let held = matches!(error.kind(), ErrorKind::PermissionDenied | ErrorKind::ResourceBusy)
        || cfg!(windows) && error.raw_os_error() == Some(SHARING_VIOLATION);
    if !(held && path.is_file()) {
        return format!("`{}` could not be written: {error}", path.display());
    }
    format!(
        "`{}` could not be replaced: {error}\nAnother program may have it open, such as a PDF viewer or a spreadsheet \
         program: close it there. Or it is protected from writing.",
        path.display()
    )
}

/// A new file beside the one of a name.
fn beside(folder: &Path, name: &str) -> std::io::Result<tempfile::NamedTempFile> {
    let begin = format!(".{name}.");
    let mut builder = tempfile::Builder::new();
    builder.prefix(&begin).suffix(PART);
    // Others may read it, as far as the user's umask lets them.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    builder.tempfile_in(folder)
}

/// Prints to standard output; a reader who has seen enough is no failure.
///
/// # Errors
/// Standard output cannot be written.
pub fn say(text: &str) -> Result<(), Failure> {
    say_all([text])
}

/// Prints one text after the other, so that they need not all be held at once.
///
/// # Errors
/// Standard output cannot be written.
pub fn say_all(texts: impl IntoIterator<Item = impl AsRef<str>>) -> Result<(), Failure> {
    print(|out| texts.into_iter().try_for_each(|text| out.write_all(text.as_ref().as_bytes())))
}

fn print(write: impl FnOnce(&mut dyn Write) -> std::io::Result<()>) -> Result<(), Failure> {
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    match write(&mut out).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            Err(Failure::Machine(format!("standard output: {error}")))
        }
        _ => Ok(()),
    }
}
