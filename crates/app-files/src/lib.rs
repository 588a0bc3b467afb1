//! The files of the web app, as the program carries them: what `packed/` held when the program was built.
//!
//! - [`file`]: one of them by its path; where the app was not built, a page that says how to build it;
//! - [`is_built`]: is the app in this program?

/// A file of the app.
#[derive(Clone, Copy, Debug)]
pub struct File {
    /// Path without a leading slash.
    pub name: &'static str,
    /// Its bytes.
    pub bytes: &'static [u8],
    /// The same, compressed with Brotli.
    pub brotli: Option<&'static [u8]>,
    /// The same, compressed with gzip.
    pub gzip: Option<&'static [u8]>,
}

const FILES: &[File] = include!(concat!(env!("OUT_DIR"), "/files.rs"));

const START: &str = "index.html";

/// What stands at the start where there is no app.
const NOT_BUILT: File = File {
    name: START,
    bytes: include_bytes!("not-built.html"),
    brotli: None,
    gzip: None,
};

/// Is the app in this program?
#[must_use]
pub fn is_built() -> bool {
    find(START).is_some()
}

/// The file at this path.
#[must_use]
pub fn file(name: &str) -> Option<File> {
    find(name).or_else(|| (name == START).then_some(NOT_BUILT))
}

fn find(name: &str) -> Option<File> {
    FILES.iter().find(|f| f.name == name).copied()
}

#[cfg(test)]
mod tests {

    use super::*;

    #[test]
    fn there_is_always_a_start_and_it_is_a_page() {
        let start = file(START).unwrap();
        assert!(start.bytes.starts_with(b"<!doctype html>"));
        assert_eq!(is_built(), FILES.iter().any(|f| f.name == START));
    }

    #[test]
    fn what_is_not_there_is_not_made_up() {
        assert!(file("no/such.file").is_none());
    }
}
