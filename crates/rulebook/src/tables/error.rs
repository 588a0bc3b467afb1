//! What is wrong with a table file: where, what was expected, what was found, what to do.
//! Source: the data files themselves; lines are counted from one, the header being line one.

/// A mistake in a data file. Loading gathers all of them before it gives up.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{file} line {line}{}: expected {expected}, found {found}; {advice}", place(.column))]
pub struct TableError {
    /// File, relative to the data folder.
    pub file: String,
    /// Line in the file; 0 where the whole file is meant.
    pub line: u64,
    /// Column by its header, where one cell is to blame.
    pub column: Option<String>,
    /// What should stand there.
    pub expected: String,
    /// What stands there.
    pub found: String,
    /// What to do about it.
    pub advice: String,
}

fn place(column: &Option<String>) -> String {
    column
        .as_ref()
        .map(|c| format!(", column `{c}`"))
        .unwrap_or_default()
}
