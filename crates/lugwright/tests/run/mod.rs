//! Runs the program as a user does.

#![allow(
    clippy::expect_used,
    dead_code,
    reason = "tests may stop; each test file uses what it needs"
)]

use std::path::{Path, PathBuf};
use std::process::Command;

/// What came back.
pub(crate) struct Ran {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

/// Runs `lugwright` with these words, from the root of the workspace.
pub(crate) fn lugwright(words: &[&str]) -> Ran {
    let output = Command::new(env!("CARGO_BIN_EXE_lugwright"))
        .args(words)
        .current_dir(root())
        .output()
        .expect("the program starts");
    Ran {
        code: output.status.code().expect("no signal"),
        out: String::from_utf8(output.stdout).expect("UTF-8"),
        err: String::from_utf8(output.stderr).expect("UTF-8"),
    }
}

/// Root of the workspace.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// A file of this text in a folder of the test run, and its path.
pub(crate) fn file(name: &str, bytes: &[u8]) -> String {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).expect("a folder");
    }
    std::fs::write(&path, bytes).expect("a file");
    path.to_str().expect("UTF-8").to_owned()
}
