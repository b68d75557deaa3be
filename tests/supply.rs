//! What the program is built from: licences of all that it depends on, and the toolchain that the README names.

use std::process::Command;

use serde_json::Value;

use crate::support::{root, stderr};

/// Licences under which the program may hand on what it is built from.
const LICENCES: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

#[test]
fn all_that_it_depends_on_may_be_handed_on() {
    // What other systems need as well, which a build on this one does not fetch.
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked"])
        .current_dir(root())
        .output()
        .expect("cargo runs");
    assert!(output.status.success(), "{}", stderr(&output));
    let found: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let packages = found["packages"].as_array().expect("packages");
    assert!(packages.len() > 100);
    let mut wrong = Vec::new();
    for package in packages {
        let text = |key: &str| package[key].as_str().unwrap_or_default();
        let terms = spdx::Expression::parse_mode(text("license"), spdx::ParseMode::LAX);
        let allowed = |req: &spdx::LicenseReq| LICENCES.iter().any(|known| req.license.to_string() == *known);
        if !terms.is_ok_and(|terms| terms.evaluate(allowed)) {
            wrong.push(format!("{} {}: `{}`", text("name"), text("version"), text("license")));
        }
    }
    assert!(wrong.is_empty(), "neither is in the list of licences:\n{}", wrong.join("\n"));
}

/// Cargo refuses an older toolchain than `rust-version`, which is the one that this was built and tested with.
#[test]
fn the_readme_names_the_toolchain() {
    let version = env!("CARGO_PKG_RUST_VERSION");
    let readme = std::fs::read_to_string(root().join("README.md")).expect("the README");
    assert!(readme.contains(&format!("Rust {version} or later")), "{version}");
}
