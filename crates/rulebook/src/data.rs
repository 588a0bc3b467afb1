//! The data files that the crate carries, as text: tables, requirements, editions, amendments.
//! Source: everything under the crate's `data/` folder at build time. Paths are relative to it, with `/`, sorted.

/// Relative path and whole text of every `.csv` and `.toml` file, for example `tables/ampacity.csv`.
pub const FILES: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/data_files.rs"));

/// The same without the cases of requirements, which prove the rulebook and are no part of it: what a program that only checks jobs carries.
pub const FILES_WITHOUT_CASES: &[(&str, &str)] =
    include!(concat!(env!("OUT_DIR"), "/data_files_without_cases.rs"));

/// Files of one folder, for example `tables/`, in order of path.
pub fn under(folder: &str) -> impl Iterator<Item = (&'static str, &'static str)> {
    FILES
        .iter()
        .copied()
        .filter(move |(path, _)| path.starts_with(folder))
}
