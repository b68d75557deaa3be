//! A package, as anybody may have sent it, to what it carries. Sizes and depths are bounded before anything is
//! believed, and nothing is written.

use std::collections::{BTreeMap, BTreeSet};

use lopdf::{Dictionary, Document, LoadOptions, Object, ObjectId};

use super::closing::{Closing, Kind, closing};
use super::manifest::{FORM, Manifest, digest};
use super::versions::LANGUAGE;
use super::{Archive, EARLIER, LIST};
use crate::diag::{Checked, Diagnostic};
use crate::legible::{is_shifty, tame};

/// Bytes of a package, of one file that it carries, and of all.
pub const LARGEST: usize = 256 << 20;
const LARGEST_FILE: usize = 64 << 20;
const LARGEST_ALL: usize = 256 << 20;

/// Files that a package carries, and folders that one of them stands below.
const MOST: usize = 5000;
const DEEPEST: usize = 12;

/// A package that was read.
pub struct Opened {
    /// The list as the program wrote it; the files as they are now.
    pub archive: Archive,
    pub closing: Option<Closing>,
    /// What another program has put behind the program's own revision.
    pub added: Option<Added>,
    /// Carried files that are not those of the list, by what is wrong with them.
    pub changed: Vec<String>,
    pub missing: Vec<String>,
    /// Files that another program has attached.
    pub others: Vec<String>,
    /// The list is the one whose digest the document has among its keywords.
    pub list_holds: bool,
}

/// What stands behind the program's own revision.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Added {
    pub bytes: usize,
    /// Who signed, as far as a signature says it.
    pub signatures: Vec<String>,
    /// Pages, from 1, that have other annotations: stamps, marks, fields.
    pub annotated: Vec<u32>,
    /// Pages whose own content is not what the program set.
    pub altered: Vec<u32>,
    /// Pages now and then, where these differ.
    pub pages: Option<[usize; 2]>,
}

/// # Errors
/// It is no PDF that can be read, carries no job, or one that this version does not know how to read.
pub fn open(shown: &str, bytes: &[u8]) -> Checked<Opened> {
    let refuse = |what: String| Diagnostic::new(format!("`{shown}` {what}"));
    if !bytes.starts_with(b"%PDF-") {
        return Err(refuse("is not a PDF".into()).hint("name a package that `socle package` has written").into());
    }
    let closing = closing(bytes);
    if closing.as_ref().is_some_and(|it| it.kind == Kind::Preview) {
        return Err(refuse("is a preview, which does not carry its job".into())
            .hint("`socle package` writes a package that does")
            .into());
    }
    let document = parse(bytes).map_err(|why| {
        refuse(format!("cannot be read: {why}")).hint("it may be damaged: get the file again from whoever sent it")
    })?;
    let mut files = attached(&document).map_err(|why| {
        refuse(format!("carries files that cannot be read: {why}"))
            .hint("it may be damaged: get the file again from whoever sent it")
    })?;
    // The list is believed from the revision that is closed with a digest, if there is one.
    let end = closing.as_ref().filter(|it| it.whole).map(|it| it.end);
    let behind = end.filter(|end| bytes.len() > *end);
    let own = match behind {
        Some(end) => Some(parse(&bytes[..end]).map_err(|why| refuse(format!("cannot be read: {why}")))?),
        None => None,
    };
    let now = files.remove(LIST);
    let list = match &own {
        Some(own) => attached(own).ok().and_then(|mut files| files.remove(LIST)),
        None => now.clone(),
    };
    let Some(list) = list else {
        return Err(refuse("does not carry its job".into())
            .hint("only a package that `socle package` has written does; one that was printed to a PDF, or saved anew without its attached files, does not")
            .into());
    };
    let manifest = manifest(&list)
        .map_err(|why| refuse(why).hint("a later version of socle may have made it, or it is damaged"))?;
    let held = keywords(own.as_ref().unwrap_or(&document)).is_some_and(|words| words.contains(&digest(&list)));
    let list_holds = held && now.as_ref() == Some(&list);
    let listed: BTreeMap<&str, &str> = manifest.files.iter().map(|it| (it.path.as_str(), it.sha256.as_str())).collect();
    let others: Vec<String> = files.keys().filter(|path| !listed.contains_key(path.as_str())).cloned().collect();
    files.retain(|path, _| listed.contains_key(path.as_str()));
    let changed = files.iter().filter(|(path, bytes)| digest(bytes) != listed[path.as_str()]);
    let changed = changed.map(|(path, _)| path.clone()).collect();
    let missing = listed.keys().filter(|path| !files.contains_key(**path)).map(|path| path.to_string()).collect();
    let added = own.zip(behind).map(|(own, end)| Added { bytes: bytes.len() - end, ..added(&own, &document) });
    Ok(Opened { archive: Archive { manifest, files }, closing, added, changed, missing, others, list_holds })
}

fn parse(bytes: &[u8]) -> Result<Document, String> {
    let options = LoadOptions { max_decompressed_size: Some(LARGEST_FILE), ..LoadOptions::default() };
    let document = Document::load_mem_with_options(bytes, options).map_err(|error| error.to_string())?;
    if document.get_pages().is_empty() {
        return Err("it has no pages".into());
    }
    Ok(document)
}

/// The list, if this version knows what it says.
fn manifest(text: &[u8]) -> Result<Manifest, String> {
    #[derive(serde::Deserialize)]
    struct Form {
        archive: u32,
        language: u32,
        program: String,
    }
    let form: Form = serde_json::from_slice(text)
        .map_err(|_| format!("carries a list of its files, `{LIST}`, that cannot be read"))?;
    if form.archive > FORM || form.language > LANGUAGE {
        let program = tame(&form.program, 40);
        return Err(format!("was made by {program}, whose packages or sheets this version cannot read"));
    }
    let manifest: Manifest = serde_json::from_slice(text)
        .map_err(|_| format!("carries a list of its files, `{LIST}`, that cannot be read"))?;
    match manifest.files.iter().find(|it| !is_ours(&it.path)) {
        Some(part) => Err(format!("lists a file `{}`, which is none of a job", part.path.escape_debug())),
        None => Ok(manifest),
    }
}

/// Whether a file can be written below a folder under this path, and belongs to a package.
fn is_ours(path: &str) -> bool {
    let below = path.strip_prefix(EARLIER).unwrap_or(path);
    let known = ["job/", "sheets/", "tables/"].iter().any(|folder| below.starts_with(folder))
        || ["results.json", "confirmed.toml"].contains(&below);
    let part = |part: &str| {
        !part.is_empty()
            && part != "."
            && part != ".."
            && part.len() <= 200
            && !part.contains(['\\', ':'])
            && !part.chars().any(is_shifty)
    };
    known && path.split('/').count() <= DEEPEST && path.split('/').all(part)
}

/// Every file that is attached, by name.
fn attached(document: &Document) -> Result<BTreeMap<String, Vec<u8>>, String> {
    let mut files = BTreeMap::new();
    let Some(names) = embedded(document) else { return Ok(files) };
    let (mut waiting, mut left) = (vec![(names, 0)], LARGEST_ALL);
    while let Some((node, depth)) = waiting.pop() {
        if depth > DEEPEST {
            return Err("their tree is too deep".into());
        }
        for kid in array(document, node, b"Kids") {
            waiting.extend(dictionary(document, kid).map(|kid| (kid, depth + 1)));
        }
        for pair in array(document, node, b"Names").chunks(2) {
            let Some((name, bytes)) = pair.last().and_then(|it| file(document, it, left)).transpose()? else {
                continue;
            };
            left -= bytes.len();
            if files.len() >= MOST || waiting.len() > MOST {
                return Err(format!("there are more than {MOST} of them"));
            }
            files.insert(name, bytes);
        }
    }
    Ok(files)
}

fn embedded(document: &Document) -> Option<&Dictionary> {
    let names = dictionary(document, document.catalog().ok()?.get(b"Names").ok()?)?;
    dictionary(document, names.get(b"EmbeddedFiles").ok()?)
}

fn dictionary<'a>(document: &'a Document, object: &'a Object) -> Option<&'a Dictionary> {
    document.dereference(object).ok()?.1.as_dict().ok()
}

fn array<'a>(document: &'a Document, of: &'a Dictionary, key: &[u8]) -> &'a [Object] {
    let array = of.get(key).ok().and_then(|it| document.dereference(it).ok()).and_then(|(_, it)| it.as_array().ok());
    array.map_or(&[], Vec::as_slice)
}

/// Name and bytes of a file, if they are not too many.
fn file(document: &Document, object: &Object, left: usize) -> Option<Result<(String, Vec<u8>), String>> {
    let specification = dictionary(document, object)?;
    let name = specification.get(b"UF").or_else(|_| specification.get(b"F")).ok()?;
    let name = lopdf::decode_text_string(document.dereference(name).ok()?.1).ok()?;
    let streams = dictionary(document, specification.get(b"EF").ok()?)?;
    let stream = streams.get(b"F").or_else(|_| streams.get(b"UF")).ok()?;
    let stream = document.dereference(stream).ok()?.1.as_stream().ok()?;
    let most = left.min(LARGEST_FILE);
    let bytes = stream.get_plain_content_with_limit(most);
    let shown = tame(&name, 80);
    Some(bytes.map(|bytes| (name, bytes)).map_err(|error| format!("`{shown}`: {error}")))
}

fn keywords(document: &Document) -> Option<String> {
    let info = dictionary(document, document.trailer.get(b"Info").ok()?)?;
    let words = document.dereference(info.get(b"Keywords").ok()?).ok()?.1;
    lopdf::decode_text_string(words).ok()
}

/// What is otherwise in a document than in the revision that it was added to.
fn added(own: &Document, now: &Document) -> Added {
    let other: BTreeSet<ObjectId> =
        now.objects.iter().filter(|(id, object)| own.objects.get(id) != Some(object)).map(|(id, _)| *id).collect();
    let (before, after) = (own.get_pages(), now.get_pages());
    let mut found = Added::default();
    for (no, id) in &after {
        let Some(was) = before.get(no) else { continue };
        let (Ok(page), Ok(old)) = (now.get_dictionary(*id), own.get_dictionary(*was)) else {
            found.altered.push(*no);
            continue;
        };
        let keeps = |key: &[u8]| page.get(key).ok() == old.get(key).ok();
        let drawn: [&[u8]; 5] = [b"Contents", b"Resources", b"MediaBox", b"CropBox", b"Rotate"];
        let rests = drawn.iter().filter_map(|key| old.get(key).ok());
        if id != was || !drawn.iter().all(|key| keeps(key)) || rests.into_iter().any(|it| reaches(own, it, &other)) {
            found.altered.push(*no);
        }
        let annotations = old.get(b"Annots").ok();
        if !keeps(b"Annots") || annotations.is_some_and(|it| reaches(own, it, &other)) {
            found.annotated.push(*no);
        }
    }
    found.pages = (before.len() != after.len()).then_some([after.len(), before.len()]);
    found.signatures = signatures(now);
    found
}

/// Whether an object is, or leads to, one of these.
fn reaches(document: &Document, object: &Object, others: &BTreeSet<ObjectId>) -> bool {
    let (mut waiting, mut seen) = (vec![object], BTreeSet::new());
    while let Some(object) = waiting.pop() {
        match object {
            Object::Reference(id) if others.contains(id) => return true,
            Object::Reference(id) if seen.insert(*id) => waiting.extend(document.objects.get(id)),
            Object::Array(items) => waiting.extend(items),
            // What leads up again is no part of it.
            Object::Dictionary(of) | Object::Stream(lopdf::Stream { dict: of, .. }) => {
                let above: [&[u8]; 3] = [b"Parent", b"P", b"Dest"];
                waiting.extend(of.iter().filter(|(key, _)| !above.contains(&key.as_slice())).map(|(_, value)| value));
            }
            _ => {}
        }
    }
    false
}

/// Who signed a field, by what the signatures say.
fn signatures(document: &Document) -> Vec<String> {
    let mut found = Vec::new();
    for object in document.objects.values() {
        let Ok(of) = object.as_dict() else { continue };
        let is = |key: &[u8], name: &[u8]| of.get(key).and_then(Object::as_name).is_ok_and(|it| it == name);
        if is(b"FT", b"Sig")
            && let Some(value) = of.get(b"V").ok().and_then(|value| dictionary(document, value))
        {
            let name = value.get(b"Name").ok().and_then(|name| lopdf::decode_text_string(name).ok());
            let name = tame(&name.unwrap_or_default(), 80);
            found.push(if name.is_empty() { "somebody who is not named".into() } else { name });
        }
    }
    found.sort();
    found
}
