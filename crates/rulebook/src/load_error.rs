//! What is wrong with a data file: where, what was expected, what was found, what to do.
//! Source: the file itself. Lines and columns count from 1, columns in characters.

use std::fmt;

/// A mistake in a data file, placed.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct LoadError {
    /// File as it was named to the loader.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// What belongs there.
    pub expected: String,
    /// What is there.
    pub found: String,
    /// What to do about it; may be empty.
    pub help: String,
}

impl fmt::Display for LoadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            file,
            line,
            column,
            expected,
            found,
            help,
        } = self;
        write!(
            f,
            "{file}:{line}:{column}: expected {expected}, found {found}"
        )?;
        if help.is_empty() {
            return Ok(());
        }
        write!(f, "; {help}")
    }
}

impl std::error::Error for LoadError {}

impl From<crate::tables::TableError> for LoadError {
    fn from(error: crate::tables::TableError) -> Self {
        let found = match error.column {
            Some(column) => format!("{} in `{column}`", error.found),
            None => error.found,
        };
        Self {
            file: error.file,
            line: usize::try_from(error.line).unwrap_or(0).max(1),
            column: 1,
            expected: error.expected,
            found,
            help: error.advice,
        }
    }
}

/// Line and column, both from 1, of a byte offset.
pub(crate) fn line_and_column(text: &str, offset: usize) -> (usize, usize) {
    let mut at = offset.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    let before = &text[..at];
    let line = before.bytes().filter(|b| *b == b'\n').count() + 1;
    let start = before.rfind('\n').map_or(0, |n| n + 1);
    (line, before[start..].chars().count() + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_count_lines_and_characters_from_one() {
        assert_eq!(line_and_column("ab\ncd", 0), (1, 1));
        assert_eq!(line_and_column("ab\ncd", 4), (2, 2));
        assert_eq!(line_and_column("\u{e9}\u{e9}x", 4), (1, 3));
        assert_eq!(line_and_column("ab", 99), (1, 3));
    }
}
