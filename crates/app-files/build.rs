//! Which files of the web app the crate carries: everything under `packed/`, where `web/scripts/pack.mjs` puts what the web build made.
//! A file with `.br` or `.gz` beside it is the same file, compressed. Where the app was not built, the list is empty.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let here = PathBuf::from(env::var("CARGO_MANIFEST_DIR").map_err(io::Error::other)?);
    let out = PathBuf::from(env::var("OUT_DIR").map_err(io::Error::other)?);
    let packed = here.join("packed");
    watch(&packed);
    let mut files = Vec::new();
    collect(&packed, &mut files)?;
    files.sort();

    let mut list = String::from("&[\n");
    for file in files.iter().filter(|f| !is_compressed(f, &files)) {
        let inside = file.strip_prefix(&packed).map_err(io::Error::other)?;
        let name = inside.to_string_lossy().replace('\\', "/");
        let (brotli, gzip) = (beside(file, "br", &files), beside(file, "gz", &files));
        let path = file.display().to_string();
        writeln!(
            list,
            "    File {{ name: {name:?}, bytes: include_bytes!({path:?}), brotli: {brotli}, gzip: {gzip} }},",
        )
        .map_err(io::Error::other)?;
    }
    list.push(']');
    fs::write(out.join("files.rs"), list)
}

/// The compressed form of a file, as an expression.
fn beside(file: &Path, ending: &str, files: &[PathBuf]) -> String {
    let path = PathBuf::from(format!("{}.{ending}", file.display()));
    if files.contains(&path) {
        format!("Some(include_bytes!({:?}))", path.display().to_string())
    } else {
        "None".to_owned()
    }
}

fn is_compressed(file: &Path, files: &[PathBuf]) -> bool {
    let ending = file.extension().is_some_and(|e| e == "br" || e == "gz");
    ending && files.contains(&file.with_extension(""))
}

/// Hidden files are not the app's.
fn collect(folder: &Path, files: &mut Vec<PathBuf>) -> io::Result<()> {
    if !folder.is_dir() {
        return Ok(());
    }
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let path = entry.path();
        if entry.file_name().to_string_lossy().starts_with('.') {
            continue;
        }
        if path.is_dir() {
            collect(&path, files)?;
        } else {
            files.push(path);
        }
    }
    Ok(())
}

/// The line by which a build script talks to cargo; of a folder, cargo watches all that is in it.
#[allow(clippy::print_stdout)]
fn watch(path: &Path) {
    println!("cargo::rerun-if-changed={}", path.display());
}
