//! The templates are embedded by a macro that does not watch them.

fn main() {
    println!("cargo:rerun-if-changed=templates");
}
