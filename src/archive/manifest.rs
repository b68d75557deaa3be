//! The list of what a package carries.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::versions::{BUILD, ENGINE, LANGUAGE, PROGRAM};
use super::{Archive, EARLIER, JOB, LIST, RESULTS};
use crate::load::Loaded;

/// The form of the list itself.
pub const FORM: u32 = 1;

#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Manifest {
    /// The form of this list.
    pub archive: u32,
    /// `socle 0.1.0`.
    pub program: String,
    pub build: String,
    pub language: u32,
    pub engine: u32,
    /// Name and number of the job.
    pub job: String,
    pub number: String,
    pub revision: String,
    pub date: String,
    /// Of the job.
    pub folder: String,
    /// Of the job as it was, where the package marks what changed since.
    pub earlier: Option<String>,
    /// What worked that.
    pub earlier_program: String,
    /// Every limit of every post is worked.
    pub full: bool,
    pub files: Vec<Part>,
}

/// A file that a package carries.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Part {
    pub path: String,
    pub bytes: usize,
    /// Of its bytes, in hexadecimal digits.
    pub sha256: String,
}

impl Manifest {
    pub(super) fn new(loaded: &Loaded, full: bool, files: &BTreeMap<String, Vec<u8>>) -> Manifest {
        let card = &loaded.job.card;
        let mut manifest = Manifest {
            archive: FORM,
            program: PROGRAM.into(),
            build: BUILD.into(),
            language: LANGUAGE,
            engine: ENGINE,
            job: card.name.clone(),
            number: card.number.clone(),
            revision: card.revision.clone(),
            date: card.date.to_string(),
            folder: loaded.name.clone(),
            earlier: None,
            earlier_program: String::new(),
            full,
            files: Vec::new(),
        };
        manifest.list(files);
        manifest
    }

    pub(super) fn list(&mut self, files: &BTreeMap<String, Vec<u8>>) {
        let part =
            |(path, bytes): (&String, &Vec<u8>)| Part { path: path.clone(), bytes: bytes.len(), sha256: digest(bytes) };
        self.files = files.iter().map(part).collect();
    }

    pub fn text(&self) -> String {
        serde_json::to_string_pretty(self).unwrap_or_default() + "\n"
    }
}

/// SHA-256 in hexadecimal digits.
pub fn digest(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// A file as the typesetter attaches it.
#[derive(Debug, Serialize)]
pub struct Attached {
    pub path: String,
    pub relationship: &'static str,
    pub mime: &'static str,
    pub description: &'static str,
}

impl Archive {
    /// Every file that is attached, the list among them, with its bytes.
    pub fn attached(&self) -> Vec<(Attached, Vec<u8>)> {
        let list = std::iter::once((LIST.to_string(), self.list()));
        let files = self.files.iter().map(|(path, bytes)| (path.clone(), bytes.clone()));
        files.chain(list).map(|(path, bytes)| (attached(path), bytes)).collect()
    }
}

fn attached(path: String) -> Attached {
    let (relationship, description) = match path.as_str() {
        LIST => ("data", "List of the attached files, with their digests"),
        RESULTS => ("data", "Results: every limit and value of every post"),
        path if path.starts_with(EARLIER) => ("source", "Input of the job at the earlier revision"),
        path if path.starts_with(JOB) => ("source", "Input of the job"),
        path if path.starts_with("sheets/") => ("source", "Sheet that the job was worked with"),
        path if path.starts_with("tables/") => ("source", "Table that the job was worked with"),
        _ => ("source", "Values that the firm has confirmed"),
    };
    let end = path.rsplit('.').next().unwrap_or_default().to_lowercase();
    let mime = match end.as_str() {
        "csv" => "text/csv",
        "json" => "application/json",
        "toml" => "application/toml",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "xlsx" => "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        "ods" => "application/vnd.oasis.opendocument.spreadsheet",
        _ => "text/plain",
    };
    Attached { path, relationship, mime, description }
}
