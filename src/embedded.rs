//! The templates that are built into the program, and a job's own in their place.

use std::collections::BTreeMap;

use include_dir::{Dir, DirEntry, include_dir};

static TEMPLATES: Dir = include_dir!("$CARGO_MANIFEST_DIR/templates");

/// Every built-in template by its path below `templates/`.
pub fn templates() -> BTreeMap<String, &'static [u8]> {
    fn add(dir: &'static Dir, files: &mut BTreeMap<String, &'static [u8]>) {
        for entry in dir.entries() {
            match entry {
                DirEntry::Dir(dir) => add(dir, files),
                DirEntry::File(file) => {
                    files.insert(file.path().to_string_lossy().replace('\\', "/"), file.contents());
                }
            }
        }
    }
    let mut files = BTreeMap::new();
    add(&TEMPLATES, &mut files);
    files
}
