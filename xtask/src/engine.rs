//! The engine for the browser: `crates/engine-wasm` for `wasm32-unknown-unknown`, made small, twice: what a page needs first (reading,
//! changing and checking a job) to `web/public/engine-first.wasm`, and the whole of it to `web/public/engine.wasm`.
//! Three ways, in this order: the target of rustup where it is installed; Debian's compiler, whose standard library is built along from its
//! sources; installing that compiler, where this may be done. Debian's way gives the smaller engine.
//!
//! What matters is the size as a browser gets it, compressed with Brotli. Optimizing across crates, and an optimizer for finished WebAssembly, were tried and
//! left out: both make the engine smaller, and the compressed engine larger, since less of it repeats.

use std::path::{Path, PathBuf};

use crate::shell::{self, Env, Outcome};

const TARGET: &str = "wasm32-unknown-unknown";

/// Debian's compiler with the sources of its standard library, and its linker.
const PACKAGES: [&str; 4] = ["rustc-web", "cargo-web", "rust-web-src", "lld-19"];

const DEBIAN_RUSTC: &str = "/usr/bin/rustc";
const DEBIAN_CARGO: &str = "/usr/bin/cargo";
const DEBIAN_SOURCES: &str = "/usr/lib/rustlib/src/rust/library";
const DEBIAN_LINKER: &str = "/usr/bin/wasm-ld-19";

/// The oldest compiler that builds the house.
const OLDEST: u32 = 95;

/// Files below `web/public`, and what each is built with besides.
pub(crate) const ENGINES: [(&str, &[&str]); 2] = [
    ("engine-first.wasm", &["--no-default-features"]),
    ("engine.wasm", &[]),
];

/// Builds both.
pub(crate) fn build() -> Outcome {
    let with = if has_rustup_target() {
        shell::say("the engine for the browser is built with rustup's target");
        with_rustup
    } else {
        if !has_debian() {
            install()?;
        }
        shell::say(
            "the engine for the browser is built with Debian's compiler, and the standard library along with it",
        );
        with_debian
    };
    for (name, features) in ENGINES {
        let made = with(features)?;
        keep(&made, &shell::root().join("web/public").join(name))?;
    }
    Ok(())
}

fn with_rustup(features: &[&str]) -> Result<PathBuf, String> {
    let folder = shell::target();
    let mut args = vec!["--profile", "wasm", "--target", TARGET];
    args.extend(features);
    build_with(&shell::cargo(), &args, &[], &folder)
}

fn with_debian(features: &[&str]) -> Result<PathBuf, String> {
    // A folder of its own: another compiler.
    let folder = shell::target().join("wasm");
    let env = [
        ("RUSTC", DEBIAN_RUSTC),
        // Building the standard library is not among the stable options.
        ("RUSTC_BOOTSTRAP", "1"),
        ("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", DEBIAN_LINKER),
        // The engine answers and does not panic; should it, it stops at once, and carries no words for that.
        (
            "RUSTFLAGS",
            "-Zlocation-detail=none -Cpanic=immediate-abort -Zunstable-options",
        ),
    ];
    let mut args = vec![
        "--profile",
        "wasm",
        "--target",
        TARGET,
        "-Z",
        "build-std=std,panic_abort",
        "-Z",
        "build-std-features=optimize_for_size",
    ];
    args.extend(features);
    build_with(DEBIAN_CARGO, &args, &env, &folder)
}

fn build_with(cargo: &str, args: &[&str], env: &Env<'_>, folder: &Path) -> Result<PathBuf, String> {
    let mut all = vec!["build", "--quiet", "--package", "lugwright-engine-wasm"];
    all.extend(args);
    let mut env = env.to_vec();
    env.push(("CARGO_TARGET_DIR", shell::text(folder)?));
    shell::run_with(cargo, &all, &env)?;
    Ok(folder.join(TARGET).join("wasm/engine_wasm.wasm"))
}

/// Copies it when it is another, so that nothing is packed again in vain.
fn keep(made: &Path, place: &Path) -> Outcome {
    let wrong = |e: std::io::Error| format!("{}: {e}", place.display());
    let bytes = std::fs::read(made).map_err(|e| format!("{}: {e}", made.display()))?;
    if std::fs::read(place).is_ok_and(|there| there == bytes) {
        return Ok(());
    }
    if let Some(folder) = place.parent() {
        std::fs::create_dir_all(folder).map_err(wrong)?;
    }
    std::fs::write(place, &bytes).map_err(wrong)?;
    shell::say(&format!(
        "{}: {} kB before compression",
        place.display(),
        bytes.len() / 1000
    ));
    Ok(())
}

fn has_rustup_target() -> bool {
    shell::quiet_output("rustup", &["target", "list", "--installed"])
        .is_some_and(|list| list.lines().any(|line| line.trim() == TARGET))
}

fn has_debian() -> bool {
    let files = [DEBIAN_RUSTC, DEBIAN_CARGO, DEBIAN_SOURCES, DEBIAN_LINKER];
    files.iter().all(|file| Path::new(file).exists())
        && shell::quiet_output(DEBIAN_RUSTC, &["--version"])
            .and_then(|version| minor(&version))
            .is_some_and(|minor| minor >= OLDEST)
}

/// 95 of `rustc 1.95.0 (...)`.
fn minor(version: &str) -> Option<u32> {
    version.split('.').nth(1)?.parse().ok()
}

/// Installs Debian's compiler where that may be done; else says what to do.
fn install() -> Outcome {
    let by_hand = format!(
        "for the engine in the browser, do one of these and start again:\n  rustup target add {TARGET}\n  \
         apt-get install --no-install-recommends {}",
        PACKAGES.join(" ")
    );
    if shell::quiet_output("id", &["-u"]).is_none_or(|id| id.trim() != "0")
        || !shell::is_there("apt-get", &["--version"])
    {
        return Err(by_hand);
    }
    let mut args = vec!["install", "--yes", "--quiet", "--no-install-recommends"];
    args.extend(PACKAGES);
    shell::run("apt-get", &["update", "--quiet"])
        .and_then(|()| shell::run("apt-get", &args))
        .map_err(|why| format!("{why}\n{by_hand}"))?;
    if has_debian() {
        Ok(())
    } else {
        Err(format!(
            "Debian's compiler here is older than 1.{OLDEST} or not whole\n{by_hand}"
        ))
    }
}
