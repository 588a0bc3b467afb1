//! The rulebook as the program carries it, and files that are laid on it.

use std::path::Path;

use rulebook::{Amendment, Library, LoadError};

use crate::problem::{Failure, Problem};
use crate::reading;

/// The library that the program carries.
pub(crate) fn built_in() -> Result<Library, Failure> {
    Library::built_in().map_err(|errors| Failure::of_data(&errors, |_| None))
}

/// The same without the requirements' own cases, which judging a job does not need.
pub(crate) fn for_jobs() -> Result<Library, Failure> {
    Library::without_cases().map_err(|errors| Failure::of_data(&errors, |_| None))
}

/// Reads one amendment file.
pub(crate) fn amendment(path: &Path, library: &Library) -> Result<Amendment, Failure> {
    let text = reading::text(path)?;
    let name = reading::name(path);
    Amendment::parse(&name, &text, library)
        .map_err(|errors| Failure::of_data(&errors, |_| Some(text.as_str())))
}

impl Failure {
    /// Mistakes of data files; `text_of` gives a file's text, so that the line can be shown.
    pub(crate) fn of_data<'t>(
        errors: &[LoadError],
        text_of: impl Fn(&str) -> Option<&'t str>,
    ) -> Self {
        let problem = |e: &LoadError| Problem {
            file: e.file.clone(),
            line: e.line,
            column: e.column,
            found: format!("found {}", e.found),
            expected: e.expected.clone(),
            advice: e.help.clone(),
            excerpt: text_of(&e.file)
                .and_then(|t| t.lines().nth(e.line.checked_sub(1)?))
                .map(|line| (line.to_owned(), 1)),
        };
        Self(errors.iter().map(problem).collect())
    }
}
