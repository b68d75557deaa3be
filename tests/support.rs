//! Running the program and copying jobs.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use proptest::prelude::ProptestConfig;
use proptest::test_runner::RngSeed;

pub const JOBS: [&str; 3] = ["orchard-pergola", "cart-barn", "creek-porch"];

pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

pub fn socle<S: AsRef<std::ffi::OsStr>>(args: &[S]) -> Output {
    socle_in(root(), args)
}

pub fn socle_in<S: AsRef<std::ffi::OsStr>>(folder: &Path, args: &[S]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_socle")).args(args).current_dir(folder).output().expect("the program runs")
}

pub fn stdout(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("output is UTF-8")
}

pub fn stderr(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("output is UTF-8")
}

/// A text as one line, wherever its lines were broken.
pub fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// So many random cases, the same in every run: what a change is refused for is of its own making.
/// `PROPTEST_CASES` and `PROPTEST_RNG_SEED` look farther.
pub fn cases(number: u32) -> ProptestConfig {
    let mut config = ProptestConfig::default();
    if std::env::var_os("PROPTEST_CASES").is_none() {
        config.cases = number;
    }
    if config.rng_seed == RngSeed::Random {
        config.rng_seed = RngSeed::Fixed(2018);
    }
    config
}

/// The files of a job by their names, as it is read.
pub fn files_of(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let paths = std::fs::read_dir(folder).expect("a job").map(|entry| entry.expect("an entry").path());
    let file = |path: PathBuf| {
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        (name, std::fs::read(&path).expect("a file"))
    };
    paths.filter(|path| path.is_file()).map(file).collect()
}

/// A copy of an example job that a test may change.
pub struct Job {
    folder: tempfile::TempDir,
    name: String,
}

impl Job {
    pub fn copy(name: &str) -> Job {
        Job::copy_from("fixtures", name)
    }

    /// A copy of a job that stands elsewhere in the repository.
    pub fn copy_from(parent: &str, name: &str) -> Job {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let job = Job { folder, name: name.into() };
        copy_all(&root().join(parent).join(name), &job.path());
        job
    }

    /// A folder with nothing in it.
    pub fn empty() -> Job {
        Job { folder: tempfile::tempdir().expect("a temporary folder"), name: String::new() }
    }

    pub fn path(&self) -> PathBuf {
        self.folder.path().join(&self.name)
    }

    /// The folder that the job's own folder stands in.
    pub fn folder(&self) -> &Path {
        self.folder.path()
    }

    pub fn read(&self, file: &str) -> String {
        std::fs::read_to_string(self.path().join(file)).expect("a file of the job")
    }

    pub fn write(&self, file: &str, text: impl AsRef<[u8]>) -> &Job {
        let path = self.path().join(file);
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
        std::fs::write(path, text).expect("a file of the job");
        self
    }

    /// Replaces a text that must be there, once.
    pub fn edit(&self, file: &str, from: &str, to: &str) -> &Job {
        let text = self.read(file);
        assert!(text.contains(from), "{file} has no `{from}`:\n{text}");
        self.write(file, text.replacen(from, to, 1))
    }

    /// Sets a cell by the row's mark or name and the column's heading (without unit).
    pub fn set(&self, file: &str, row: &str, column: &str, value: &str) -> &Job {
        self.rows(file, column, |rows, at| {
            let named = rows.iter_mut().skip(1).filter(|cells| cells[0] == row);
            let set = named.map(|cells| cells[at] = value.into()).count();
            assert!(set > 0, "{file} has no row {row}");
        })
    }

    /// Takes a column away, by its heading (without unit).
    pub fn cut(&self, file: &str, column: &str) -> &Job {
        self.rows(file, column, |rows, at| rows.iter_mut().for_each(|cells| drop(cells.remove(at))))
    }

    /// Changes the cells of a file, headings first, knowing which column is this one.
    fn rows(&self, file: &str, column: &str, change: impl FnOnce(&mut Vec<Vec<String>>, usize)) -> &Job {
        let text = self.read(file);
        let separator = if text.lines().next().is_some_and(|line| line.contains(';')) { b';' } else { b',' };
        let mut reader = csv::ReaderBuilder::new();
        let mut reader = reader.has_headers(false).flexible(true).delimiter(separator).from_reader(text.as_bytes());
        let mut rows: Vec<Vec<String>> =
            reader.records().map(|row| row.expect("a row").iter().map(String::from).collect()).collect();
        let at = rows[0].iter().position(|name| name.split('[').next().map(str::trim) == Some(column));
        let at = at.unwrap_or_else(|| panic!("{file} has no column {column}: {:?}", rows[0]));
        change(&mut rows, at);
        let mut writer = csv::WriterBuilder::new().flexible(true).delimiter(separator).from_writer(Vec::new());
        rows.iter().for_each(|cells| writer.write_record(cells).expect("memory"));
        self.write(file, writer.into_inner().expect("memory"))
    }

    pub fn check_json(&self) -> serde_json::Value {
        let output = socle(&["check".as_ref(), self.path().as_os_str(), "--json".as_ref()]);
        let code = output.status.code();
        assert!(code == Some(0) || code == Some(1), "{}", stderr(&output));
        serde_json::from_slice(&output.stdout).expect("JSON")
    }

    /// What the posts come to, without what rests on how an input was typed, and in which file: its digits, the
    /// interval that they leave, and how the ratio reacts to it.
    pub fn posts_however_typed(&self) -> serde_json::Value {
        let mut posts = self.check_json()["posts"].take();
        for post in posts.as_array_mut().expect("posts") {
            let post = post.as_object_mut().expect("a post");
            assert!(post.remove("reacts").is_some() && post.remove("steps").is_some());
            for limit in post["limits"].as_array_mut().expect("limits") {
                let limit = limit.as_object_mut().expect("a limit");
                assert!(limit.remove("interval").is_some() && limit.remove("close").is_some());
            }
        }
        posts
    }

    /// What `check` complains of, with the temporary path taken out.
    pub fn diagnostic(&self) -> String {
        let output = socle(&["check".as_ref(), self.path().as_os_str()]);
        assert_eq!(output.status.code(), Some(2), "{}{}", stdout(&output), stderr(&output));
        assert!(output.stdout.is_empty(), "nothing is printed from wrong input");
        stderr(&output).replace(&self.folder.path().display().to_string(), "JOBS")
    }
}

fn copy_all(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).expect("a folder");
    for entry in std::fs::read_dir(from).expect("an example job") {
        let path = entry.expect("an entry").path();
        let target = to.join(path.file_name().expect("a name"));
        if path.is_dir() {
            copy_all(&path, &target);
        } else {
            std::fs::copy(&path, &target).expect("a copy");
        }
    }
}

/// The limit of a post by a part of its name.
pub fn limit<'a>(json: &'a serde_json::Value, mark: &str, part: &str) -> &'a serde_json::Value {
    let post = json["posts"].as_array().expect("posts").iter().find(|post| post["mark"] == mark).expect("the post");
    let limits = post["limits"].as_array().expect("limits");
    limits
        .iter()
        .find(|limit| limit["limit"].as_str().expect("a name").contains(part))
        .unwrap_or_else(|| panic!("no limit with `{part}`: {limits:#?}"))
}
