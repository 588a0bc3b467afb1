//! Reads the user's files: size first, then text, then meaning.
//! Limits are in bytes; a byte that is not UTF-8 is named by its place.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use model::JobFile;
use model::file::LARGEST_FILE;

use crate::problem::{Failure, Problem};

/// Reads and checks a job file.
pub(crate) fn job(path: &Path) -> Result<JobFile, Failure> {
    let text = text(path)?;
    JobFile::read(&text).map_err(|mistakes| Failure::of_job(&name(path), &mistakes))
}

/// Reads a text file of limited size.
pub(crate) fn text(path: &Path) -> Result<String, Failure> {
    let wrong = |found: String, advice: &str| {
        Failure(vec![Problem {
            file: name(path),
            found,
            advice: advice.to_owned(),
            ..Problem::default()
        }])
    };
    let file = File::open(path).map_err(|e| {
        wrong(
            format!("cannot open the file: {}", reason(&e)),
            "check the name and the folder",
        )
    })?;
    if file.metadata().is_ok_and(|m| m.is_dir()) {
        return Err(wrong("this is a folder".to_owned(), "name a file in it"));
    }
    let mut bytes = Vec::new();
    file.take(LARGEST_FILE as u64 + 1)
        .read_to_end(&mut bytes)
        .map_err(|e| {
            wrong(
                format!("cannot read the file: {}", reason(&e)),
                "check the disk",
            )
        })?;
    if bytes.len() > LARGEST_FILE {
        return Err(wrong(
            format!("the file has more than {LARGEST_FILE} bytes"),
            "name a job, requirement or amendment file; split the job if it is one",
        ));
    }
    String::from_utf8(bytes).map_err(|e| {
        let at = e.utf8_error().valid_up_to();
        let before = &e.as_bytes()[..at];
        let line = before.iter().filter(|b| **b == b'\n').count() + 1;
        let mut failure = wrong(
            format!("byte {at} of the file is not UTF-8 text"),
            "save the file as UTF-8",
        );
        for problem in &mut failure.0 {
            problem.line = line;
        }
        failure
    })
}

/// A path as it is shown.
pub(crate) fn name(path: &Path) -> String {
    path.display().to_string()
}

fn reason(error: &std::io::Error) -> String {
    use std::io::ErrorKind;
    match error.kind() {
        ErrorKind::NotFound => "there is no such file".to_owned(),
        ErrorKind::PermissionDenied => "permission denied".to_owned(),
        _ => error.to_string(),
    }
}
