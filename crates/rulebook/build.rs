//! Which data files the crate carries: every `.csv` and `.toml` under `data/`, listed for `data::FILES`, and once more without the cases of
//! requirements for `data::FILES_WITHOUT_CASES`.
//! Source: the folder itself, so that adding a table or a requirement is adding a file. Paths are relative to `data/`.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let root = PathBuf::from(env::var("CARGO_MANIFEST_DIR").map_err(io::Error::other)?);
    let out = PathBuf::from(env::var("OUT_DIR").map_err(io::Error::other)?);
    let data = root.join("data");
    let mut files = Vec::new();
    collect(&data, &mut files)?;
    files.sort();

    let (mut whole, mut without) = (String::from("&[\n"), String::from("&[\n"));
    for (number, file) in files.iter().enumerate() {
        let inside = file.strip_prefix(&data).map_err(io::Error::other)?;
        let name = inside.to_string_lossy().replace('\\', "/");
        let full = file.display().to_string();
        writeln!(whole, "    ({name:?}, include_str!({full:?})),").map_err(io::Error::other)?;
        let text = fs::read_to_string(file)?;
        let short = match text.find("\n[[case]]") {
            Some(end) if name.starts_with("requirements/") => {
                let short = out.join(format!("{number}.toml"));
                fs::write(&short, &text[..=end])?;
                short.display().to_string()
            }
            _ => full,
        };
        writeln!(without, "    ({name:?}, include_str!({short:?})),").map_err(io::Error::other)?;
    }
    fs::write(out.join("data_files.rs"), whole + "]")?;
    fs::write(out.join("data_files_without_cases.rs"), without + "]")
}

/// Gathers the data files of a folder and its subfolders, and asks cargo to watch each folder.
fn collect(folder: &Path, files: &mut Vec<PathBuf>) -> io::Result<()> {
    watch(folder);
    if !folder.is_dir() {
        return Ok(());
    }
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            collect(&path, files)?;
        } else if path.extension().is_some_and(|e| e == "csv" || e == "toml") {
            files.push(path);
        }
    }
    Ok(())
}

/// The line by which a build script talks to cargo.
#[allow(clippy::print_stdout)]
fn watch(folder: &Path) {
    println!("cargo::rerun-if-changed={}", folder.display());
}
