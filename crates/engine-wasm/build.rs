//! Tells the linker of the browser's engine to write addresses as short as they are; else each takes five bytes.

fn main() {
    if std::env::var("CARGO_CFG_TARGET_ARCH").is_ok_and(|arch| arch == "wasm32") {
        tell("rustc-link-arg-cdylib=--compress-relocations");
    }
    tell("rerun-if-changed=build.rs");
}

/// The line by which a build script talks to cargo.
#[allow(clippy::print_stdout)]
fn tell(line: &str) {
    println!("cargo::{line}");
}
