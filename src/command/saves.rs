//! Saves in the folder of a job: waits until one is over, and says which of the files that count are otherwise.
//!
//! Editors save in several writes, by renaming, and leave files of their own beside: whatever is told of, the files are
//! read again a moment after the last of it, and compared.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use notify::event::{AccessKind, AccessMode, EventKind};
use notify::{Config, PollWatcher, RecommendedWatcher, RecursiveMode, Watcher};
use sha2::{Digest, Sha256};

use crate::files::Failure;

/// A save is over when nothing was told for so long, or goes on for so long.
const QUIET: Duration = Duration::from_millis(150);
const LONGEST: Duration = Duration::from_secs(3);

/// How often a folder that tells of no saves is looked at.
const LOOK: Duration = Duration::from_millis(700);

/// Files that are read, whatever they are called; of others only the name counts.
const READ: [&str; 8] = ["toml", "csv", "xlsx", "ods", "sheet", "typ", "svg", "png"];

/// Larger ones are no part of a job.
const LARGEST: u64 = 40 << 20;

/// Folders within folders that are looked at.
const DEEP: usize = 6;

type Files = BTreeMap<String, Vec<u8>>;

pub struct Saves {
    folder: PathBuf,
    /// A file that counts and stands elsewhere.
    beside: Option<PathBuf>,
    watcher: Box<dyn Watcher>,
    told: Receiver<()>,
    /// The folder is not there.
    lost: bool,
    /// Digests by name.
    files: Files,
}

impl Saves {
    /// # Errors
    /// The machine cannot watch the folder.
    pub fn new(folder: &Path, beside: Option<&Path>, poll: bool) -> Result<Saves, Failure> {
        let (tell, told) = channel();
        let handler = move |event: notify::Result<notify::Event>| {
            // Reading is told of too; so is an overflow, as an error.
            let reading = |kind: &EventKind| matches!(kind, EventKind::Access(kind) if !matches!(kind, AccessKind::Close(AccessMode::Write)));
            if !event.is_ok_and(|event| reading(&event.kind)) {
                // Nobody waits any more: the program ends.
                let _ = tell.send(());
            }
        };
        let watcher: notify::Result<Box<dyn Watcher>> = match poll {
            true => {
                let config = Config::default().with_poll_interval(LOOK).with_compare_contents(true);
                PollWatcher::new(handler, config).map(|watcher| Box::new(watcher) as Box<dyn Watcher>)
            }
            false => {
                RecommendedWatcher::new(handler, Config::default()).map(|watcher| Box::new(watcher) as Box<dyn Watcher>)
            }
        };
        let machine = |error: notify::Error| {
            Failure::Machine(format!(
                "`{}` cannot be watched: {error}; `--poll` looks at the files from time to time instead",
                folder.display()
            ))
        };
        let mut saves = Saves {
            folder: folder.into(),
            beside: beside.map(PathBuf::from),
            watcher: watcher.map_err(machine)?,
            told,
            lost: false,
            files: Files::new(),
        };
        saves.attach().map_err(machine)?;
        saves.files = saves.read();
        Ok(saves)
    }

    /// The names of the files that are otherwise after the next save; none, if nobody saves within a time.
    pub fn next(&mut self, within: Duration) -> Vec<String> {
        if !self.wait(within) {
            return Vec::new();
        }
        let now = self.read();
        let before = std::mem::replace(&mut self.files, now);
        let differs = |(name, digest): &(&String, &Vec<u8>)| before.get(*name) != Some(*digest);
        let mut names: Vec<String> = self.files.iter().filter(differs).map(|(name, _)| name.clone()).collect();
        names.extend(before.into_keys().filter(|name| !self.files.contains_key(name)));
        names
    }

    /// Whether something was told, and a moment has gone by since.
    fn wait(&mut self, within: Duration) -> bool {
        let told = self.told.recv_timeout(within).is_ok();
        let begin = Instant::now();
        while told && begin.elapsed() < LONGEST && self.told.recv_timeout(QUIET).is_ok() {}
        // A folder that is there again, or that another took the place of, is watched again.
        let lost = std::mem::replace(&mut self.lost, !self.folder.is_dir());
        if told || lost && !self.lost {
            let _ = self.attach();
        }
        told || lost
    }

    fn attach(&mut self) -> notify::Result<()> {
        self.watcher.watch(&self.folder, RecursiveMode::Recursive)?;
        match self.beside.as_ref().and_then(|file| file.parent()) {
            // Editors put another file in its place: the folder tells of that.
            Some(folder) => {
                let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
                self.watcher.watch(folder, RecursiveMode::NonRecursive)
            }
            None => Ok(()),
        }
    }

    fn read(&self) -> Files {
        let mut files = Files::new();
        walk(&self.folder, "", DEEP, &mut files);
        if let Some(file) = &self.beside {
            files.insert(file.display().to_string(), digest(file));
        }
        files
    }
}

/// Digests of what is read in a folder and below, by the path from there.
fn walk(folder: &Path, above: &str, deep: usize, files: &mut Files) {
    for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        let path = entry.path();
        let below = format!("{above}{name}");
        if is_passing(&name) {
            continue;
        }
        if path.is_dir() {
            if deep > 0 && below != "out" {
                walk(&path, &format!("{below}/"), deep - 1, files);
            }
            continue;
        }
        let end = name.rsplit_once('.').map_or(String::new(), |(_, end)| end.to_lowercase());
        if READ.contains(&end.as_str()) {
            files.insert(below, digest(&path));
        } else if above.starts_with("templates/") {
            // What does not belong there is complained of.
            files.insert(below, Vec::new());
        }
    }
}

fn digest(path: &Path) -> Vec<u8> {
    let small = std::fs::metadata(path).is_ok_and(|file| file.len() <= LARGEST);
    let bytes = if small { std::fs::read(path).unwrap_or_default() } else { Vec::new() };
    Sha256::digest(&bytes).to_vec()
}

/// Whether a file is one that an editor leaves for a while: a copy, a lock, a trial whether it may write.
fn is_passing(name: &str) -> bool {
    const BEGINS: [&str; 4] = [".", "~", "#", "___jb_"];
    const ENDS: [&str; 9] = ["~", "#", ".swp", ".swo", ".swx", ".tmp", ".bak", ".part", ".crswap"];
    let small = name.to_lowercase();
    BEGINS.iter().any(|begins| small.starts_with(begins))
        || ENDS.iter().any(|ends| small.ends_with(ends))
        || name == "4913"
}
