//! Whether a file may be put in the place of one that is there: a package of the same job, as the program wrote it.
//! A seal, a signature or mark-up is somebody's work.

use super::closing::closing;
use crate::diag::{Diagnostic, count};

/// # Errors
/// It is no package, one of another job, or one that another program has added to or changed.
pub fn may_replace(shown: &str, there: &[u8], job: &str) -> Result<(), Diagnostic> {
    let refuse = |what: String| {
        Err(Diagnostic::new(format!("`{shown}` was not overwritten: {what}"))
            .hint("give another name with `-o`, or move it away; `socle package --replace` overwrites it"))
    };
    match closing(there) {
        _ if there.is_empty() => Ok(()),
        None => refuse("it is not a package, or another program has saved it anew".into()),
        Some(closing) if !closing.whole => refuse("it was changed since socle wrote it".into()),
        Some(closing) if there.len() > closing.end => {
            let added = count(there.len() - closing.end, "byte");
            refuse(format!("another program has added {added} to it, as a seal, a signature or mark-up does"))
        }
        Some(closing) if closing.job != job => refuse("it is the package of another job".into()),
        Some(_) => Ok(()),
    }
}
