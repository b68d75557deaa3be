//! Tells the program what it is built from: the same build makes the same pages.

use std::path::Path;

use sha2::{Digest, Sha256};

fn main() {
    // The templates are embedded by a macro that does not watch them.
    let parts = ["src", "templates", "Cargo.toml", "Cargo.lock"];
    let mut hash = Sha256::new();
    for part in parts {
        println!("cargo:rerun-if-changed={part}");
        add(Path::new(part), &mut hash);
    }
    // So are check values and example jobs; no page is made of them.
    for folder in ["tests/check-values", "fixtures"] {
        println!("cargo:rerun-if-changed={folder}");
    }
    let digest: String = hash.finalize().iter().take(8).map(|byte| format!("{byte:02x}")).collect();
    println!("cargo:rustc-env=SOCLE_BUILD={digest}");
}

/// Names and texts in order, whatever ends a line on this machine.
fn add(path: &Path, hash: &mut Sha256) {
    if path.is_dir() {
        let entries = std::fs::read_dir(path).expect("a folder of the sources");
        let mut paths: Vec<_> = entries.map(|entry| entry.expect("an entry").path()).collect();
        paths.sort();
        paths.iter().for_each(|path| add(path, hash));
        return;
    }
    let mut bytes = std::fs::read(path).expect("a file of the sources");
    bytes.retain(|byte| *byte != b'\r');
    hash.update(format!("{}\0{}\0", path.display().to_string().replace('\\', "/"), bytes.len()));
    hash.update(&bytes);
}
