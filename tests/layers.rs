//! Imports run one way. `src/lib.rs` lists the modules in the order in which
//! they may use one another; this test holds every `use crate::` to it.

use crate::support::root;

#[test]
fn imports_go_one_way() {
    let lib = std::fs::read_to_string(root().join("src/lib.rs")).expect("src/lib.rs");
    let order: Vec<&str> =
        lib.lines().filter_map(|line| line.strip_prefix("pub mod ")).map(|name| name.trim_end_matches(';')).collect();
    assert!(order.len() > 12, "the modules are listed in src/lib.rs");
    let place = |name: &str| order.iter().position(|known| *known == name);
    let mut checked = 0;
    let mut waiting = vec![root().join("src")];
    while let Some(path) = waiting.pop() {
        if path.is_dir() {
            waiting.extend(std::fs::read_dir(&path).expect("a folder").map(|entry| entry.expect("an entry").path()));
            continue;
        }
        let below = path.strip_prefix(root().join("src")).expect("below src").to_string_lossy().into_owned();
        let own = below.split(['/', '.']).next().expect("a module").to_string();
        let Some(own_place) = place(&own) else { continue };
        let text = std::fs::read_to_string(&path).expect("a source file");
        for used in text.split("crate::").skip(1) {
            let used: String = used.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            let Some(used_place) = place(&used) else { continue };
            assert!(used_place <= own_place, "{below} uses `{used}`, which comes after `{own}`");
            // The engine joins what a job says with what a sheet needs.
            assert!(!(own == "sheet" && used == "job" || own == "job" && used == "sheet"), "{below} uses `{used}`");
            checked += 1;
        }
        // What can be printed is told by the typefaces that the typesetter brings.
        if !["pdf", "legible"].contains(&own.as_str()) {
            assert!(!text.contains("use typst"), "{below} names the typesetter's crate; only `pdf` does");
        }
    }
    assert!(checked > 100, "{checked}");
}

/// `src/job/mod.rs` lists its files in such an order too, and a file names the
/// one that it uses.
#[test]
fn files_of_a_job_go_one_way() {
    let folder = root().join("src/job");
    let text = std::fs::read_to_string(folder.join("mod.rs")).expect("src/job/mod.rs");
    let order: Vec<&str> =
        text.lines().filter_map(|line| line.strip_prefix("mod ")).map(|name| name.trim_end_matches(';')).collect();
    let mut checked = 0;
    for (own, name) in order.iter().enumerate() {
        let text = std::fs::read_to_string(folder.join(format!("{name}.rs"))).expect("a source file");
        for used in text.split("super::").skip(1) {
            let used: String = used.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            let place = order.iter().position(|known| *known == used);
            let place = place.unwrap_or_else(|| panic!("{name} uses `super::{used}`, which is no file of `job`"));
            assert!(place < own, "{name} uses `{used}`, which comes after it");
            checked += 1;
        }
    }
    assert!(order.len() > 6 && checked > 12, "{order:?} {checked}");
}
