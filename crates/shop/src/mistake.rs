//! What is wrong with a price book: where, what was found, what was expected, what to do.
//! Source: the book's files themselves; lines count from 1, the header being line 1.

/// One thing wrong with a book. Reading gathers all of them before it gives up.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, thiserror::Error, serde::Serialize)]
#[error("{file}{}{}: found {found}, expected {expected}; {advice}", at(*.line), column_of(.column))]
pub struct Mistake {
    /// File, by its name in the book's folder.
    pub file: String,
    /// Line; 0 where the whole file is meant.
    pub line: u64,
    /// Column by its header; empty where no one cell is to blame.
    pub column: String,
    /// What stands there.
    pub found: String,
    /// What should stand there.
    pub expected: String,
    /// What to do about it.
    pub advice: String,
}

fn at(line: u64) -> String {
    match line {
        0 => String::new(),
        line => format!(" line {line}"),
    }
}

fn column_of(column: &str) -> String {
    match column {
        "" => String::new(),
        column => format!(", column `{column}`"),
    }
}

/// The book has no such entry.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, thiserror::Error, serde::Serialize)]
#[error("{file} has no `{item}`: {}", why(*.line))]
pub struct Missing {
    /// File it belongs in.
    pub file: &'static str,
    /// The entry, as the first column would name it.
    pub item: String,
    /// Line where it stands without its value; 0 where it does not stand at all.
    pub line: u64,
}

fn why(line: u64) -> String {
    match line {
        0 => "add a line for it".to_owned(),
        line => format!("line {line} has no value, write one there"),
    }
}
