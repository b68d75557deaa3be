//! Templates, check values and example jobs are embedded by a macro that does not watch them.

fn main() {
    for folder in ["templates", "tests/check-values", "fixtures"] {
        println!("cargo:rerun-if-changed={folder}");
    }
}
