//! A package as a stranger sent it. An input that begins with `%PDF-` is the file itself. Any other is lines as in
//! `tests/wrong`, which change what a package carries, `job/posts.csv` or `archive.json`, before it is closed; then
//! `sheets` has it carry the built-in sheets too, `splice 120 = TEXT` and `behind TEXT` change the file afterwards.
#![no_main]

use std::collections::BTreeMap;

use libfuzzer_sys::fuzz_target;
use lopdf::{Dictionary, Document, Object, Stream, dictionary};
use serde_json::Value as Json;
use socle::archive::{self, Archive, Kind, LIST, Manifest, Part, RESULTS, close, digest, job_digest};
use socle::templates::Templates;
use socle_fuzz::changed::{self, Files};
use socle_fuzz::{printed, refused, worked};

fuzz_target!(|input: &[u8]| socle_fuzz::run(input, target));

fn target(input: &[u8]) {
    if input.starts_with(b"%PDF-") {
        open(input);
        return;
    }
    let steps = String::from_utf8_lossy(input);
    let changed = changed::changed_from(packed, &steps);
    let mut files = changed.files.clone();
    if changed.asks("sheets") {
        files.extend(Templates::built_in().sheets());
    }
    let mut list = files.remove(LIST).unwrap_or_default();
    let listed = changed.asks("list");
    if listed && let Ok(mut manifest) = serde_json::from_slice::<Manifest>(&list) {
        manifest.files = parts(&files);
        list = manifest.text().into_bytes();
    }
    let mut pdf = close(pdf(&files, &list), Kind::Package, &job_digest(&changed.name, ""));
    let mut as_written = true;
    for (line, block) in &changed.others {
        let (verb, rest) = line.split_once(' ').unwrap_or((line, ""));
        match verb {
            "splice" => {
                let (at, text) = rest.split_once(" = ").unwrap_or((rest, ""));
                let at = changed::sum(at) % pdf.len();
                let end = pdf.len().min(at + text.len());
                pdf.splice(at..end, text.bytes());
            }
            "behind" => pdf.extend(rest.bytes().chain(block.bytes())),
            _ => continue,
        }
        as_written = false;
    }
    let Some(opened) = open(&pdf) else { return };
    if as_written {
        let whole = opened.closing.as_ref().is_some_and(|it| it.whole && it.end == pdf.len());
        assert!(whole && opened.list_holds && opened.added.is_none());
        assert!(!listed || opened.changed.is_empty() && opened.missing.is_empty() && opened.others.is_empty());
    }
    let carried = opened.archive.job();
    if let socle::folder::Folder::Held { shown, files } = &carried.job {
        worked::held(shown, files, carried.confirmed.as_ref(), false, false);
    }
}

/// Opens a file and reads all that is said of it.
fn open(bytes: &[u8]) -> Option<archive::Opened> {
    if let Err(wrong) = archive::may_replace("package.pdf", bytes, "job") {
        refused(&[wrong]);
    }
    let opened = match archive::open("package.pdf", bytes) {
        Ok(opened) => opened,
        Err(wrong) => {
            refused(&wrong);
            return None;
        }
    };
    opened.changed.iter().chain(&opened.missing).for_each(|path| printed(path));
    opened.added.iter().flat_map(|added| &added.signatures).for_each(|name| printed(name));
    let Archive { manifest, files } = &opened.archive;
    assert!(files.keys().all(|path| manifest.files.iter().any(|part| part.path == *path)));
    let results = files.get(RESULTS).and_then(|bytes| serde_json::from_slice::<Json>(bytes).ok());
    archive::differ(&results.unwrap_or_default(), &Json::Null);
    opened.archive.earlier();
    Some(opened)
}

/// What the package of a job carries, without the built-in sheets.
fn packed(job: &Files) -> Files {
    let mut files: Files = job.iter().map(|(path, bytes)| (format!("job/{path}"), bytes.clone())).collect();
    files.insert(
        RESULTS.into(),
        br#"{"ok":true,"posts":[{"mark":"P1","values":{},"limits":[{"limit":"a","ratio":0.5}]}]}"#.to_vec(),
    );
    let manifest = Manifest {
        archive: 1,
        program: archive::PROGRAM.into(),
        build: archive::BUILD.into(),
        language: 1,
        engine: archive::ENGINE,
        job: "Porch".into(),
        number: "1".into(),
        revision: "A".into(),
        date: "2026-11-02".into(),
        folder: "porch".into(),
        earlier: None,
        earlier_program: String::new(),
        full: false,
        files: parts(&files),
    };
    files.insert(LIST.into(), manifest.text().into_bytes());
    files
}

fn parts(files: &Files) -> Vec<Part> {
    let part =
        |(path, bytes): (&String, &Vec<u8>)| Part { path: path.clone(), bytes: bytes.len(), sha256: digest(bytes) };
    files.iter().map(part).collect()
}

/// A page, and what is attached.
fn pdf(files: &BTreeMap<String, Vec<u8>>, list: &[u8]) -> Vec<u8> {
    let mut document = Document::with_version("1.7");
    let pages = document.new_object_id();
    let contents = document.add_object(Stream::new(Dictionary::new(), b"0 0 m".to_vec()));
    let page = document.add_object(dictionary! { "Type" => "Page", "Parent" => pages, "Contents" => contents });
    document.objects.insert(
        pages,
        Object::Dictionary(dictionary! { "Type" => "Pages", "Kids" => vec![page.into()], "Count" => 1 }),
    );
    let list = (LIST.to_string(), list.to_vec());
    let mut names = Vec::new();
    for (path, bytes) in files.clone().into_iter().chain([list.clone()]) {
        let stream = document.add_object(Stream::new(dictionary! { "Type" => "EmbeddedFile" }, bytes));
        let name = lopdf::text_string(&path);
        let file = document.add_object(dictionary! { "UF" => name.clone(), "EF" => dictionary! { "F" => stream } });
        names.extend([name, file.into()]);
    }
    let names = document.add_object(dictionary! { "Names" => names });
    let names = dictionary! { "EmbeddedFiles" => names };
    let catalog = document.add_object(dictionary! { "Type" => "Catalog", "Pages" => pages, "Names" => names });
    let info = document.add_object(dictionary! { "Keywords" => lopdf::text_string(&digest(&list.1)) });
    document.trailer.set("Root", catalog);
    document.trailer.set("Info", info);
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).expect("memory");
    bytes
}
