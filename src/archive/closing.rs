//! The line with which the program closes its own revision of a PDF: a comment before `startxref`, with the digest
//! of all that stands before and behind it. It tells, without typesetting anything again, whether the file is as the
//! program wrote it, and what another program has put behind: a seal, a signature, mark-up.

use super::digest;

/// What the program writes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// For the office: it carries the job.
    Package,
    /// What `watch` writes on a save.
    Preview,
}

impl Kind {
    fn name(self) -> &'static str {
        match self {
            Kind::Package => "package",
            Kind::Preview => "preview",
        }
    }
}

/// What a file says with its closing line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Closing {
    pub kind: Kind,
    /// The job, as `job_digest` names it.
    pub job: String,
    /// Where the program's own revision ends.
    pub end: usize,
    /// Its bytes are those that were written.
    pub whole: bool,
}

const BEGIN: &[u8] = b"\n%socle ";
const START: &[u8] = b"startxref";

/// Names a job in a closing line, whatever its files say otherwise.
pub fn job_digest(name: &str, number: &str) -> String {
    digest(format!("{}\0{}", name.trim().to_lowercase(), number.trim().to_lowercase()).as_bytes())[..16].into()
}

/// Puts the line into a PDF.
pub fn close(pdf: Vec<u8>, kind: Kind, job: &str) -> Vec<u8> {
    let Some(at) = last(&pdf, START) else { return pdf };
    let (body, tail) = pdf.split_at(at);
    let said = format!("%socle {} 1 job={job} tail={} sha256=", kind.name(), tail.len());
    let sum = sum(body, said.as_bytes(), tail);
    [body, said.as_bytes(), sum.as_bytes(), b"\n", tail].concat()
}

fn sum(body: &[u8], said: &[u8], tail: &[u8]) -> String {
    digest(&[body, said, tail].concat())
}

/// The closing line of a file; none, if it has none that could be read.
pub fn closing(file: &[u8]) -> Option<Closing> {
    let mut from = 0;
    let mut broken = None;
    // A file within the file could have such a line, too.
    while let Some(at) = find(&file[from..], BEGIN).map(|at| from + at + 1) {
        match read(file, at) {
            Some(closing) if closing.whole => return Some(closing),
            Some(closing) => broken = broken.or(Some(closing)),
            None => {}
        }
        from = at;
    }
    broken
}

fn read(file: &[u8], at: usize) -> Option<Closing> {
    let length = file[at..].iter().take(200).position(|byte| *byte == b'\n')?;
    let line = str::from_utf8(&file[at..at + length]).ok()?;
    let words: Vec<&str> = line.split(' ').collect();
    let ["%socle", kind, "1", job, tail, sha] = words[..] else { return None };
    let kind = [Kind::Package, Kind::Preview].into_iter().find(|known| known.name() == kind)?;
    let job = job.strip_prefix("job=")?;
    let tail: usize = tail.strip_prefix("tail=")?.parse().ok().filter(|tail| *tail < 100)?;
    let sha = sha.strip_prefix("sha256=")?;
    let after = at + length + 1;
    let end = after + tail;
    let said = &line.as_bytes()[..line.len() - sha.len()];
    let whole = file.get(after..end).is_some_and(|tail| sum(&file[..at], said, tail) == sha);
    Some(Closing { kind, job: job.into(), end: end.min(file.len()), whole })
}

fn find(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).position(|window| window == what)
}

fn last(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).rposition(|window| window == what)
}
