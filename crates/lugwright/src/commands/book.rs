//! The shop's price book: the built-in one, with the files of a folder laid over it.

use std::path::Path;

use shop::{Book, Mistake};

use crate::problem::{Failure, Problem};
use crate::reading;

/// Most files looked at in a folder.
const MOST_FILES: usize = 200;

/// Reads the book; without a folder, the built-in one.
pub(crate) fn open(folder: Option<&Path>) -> Result<Book, Failure> {
    let Some(folder) = folder else {
        return Book::built_in().map_err(|mistakes| of_book(None, &[], &mistakes));
    };
    let files = files(folder)?;
    let texts = files
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_str()));
    Book::read(texts).map_err(|mistakes| of_book(Some(folder), &files, &mistakes))
}

/// Every CSV file of the folder, by name.
fn files(folder: &Path) -> Result<Vec<(String, String)>, Failure> {
    let wrong = |found: String, advice: &str| {
        Failure(vec![Problem {
            file: reading::name(folder),
            found,
            advice: advice.to_owned(),
            ..Problem::default()
        }])
    };
    let advice = "name the folder that holds the files of your price book";
    let entries = std::fs::read_dir(folder)
        .map_err(|e| wrong(format!("cannot open the folder: {e}"), advice))?;
    let mut names: Vec<String> = entries
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".csv"))
        .collect();
    names.sort();
    if names.is_empty() {
        let known: Vec<&str> = shop::BUILT_IN.iter().map(|(name, _)| *name).collect();
        let advice = format!("put one of these in it: {}", known.join(", "));
        return Err(wrong(
            "no file of a price book in this folder".to_owned(),
            &advice,
        ));
    }
    if names.len() > MOST_FILES {
        return Err(wrong(
            format!("{} CSV files in this folder", names.len()),
            advice,
        ));
    }
    names
        .into_iter()
        .map(|name| {
            let text = reading::text(&folder.join(&name))?;
            Ok((name, text))
        })
        .collect()
}

/// Mistakes of a book, each with its line shown.
fn of_book(folder: Option<&Path>, files: &[(String, String)], mistakes: &[Mistake]) -> Failure {
    let problem = |m: &Mistake| {
        let own = files.iter().find(|(name, _)| *name == m.file);
        let file = match (folder, own) {
            (Some(folder), Some(_)) => reading::name(&folder.join(&m.file)),
            _ => format!("{} of the built-in price book", m.file),
        };
        let line = usize::try_from(m.line).unwrap_or(0);
        let column = match m.column.as_str() {
            "" => String::new(),
            column => format!(", in column `{column}`"),
        };
        Problem {
            file,
            line,
            column: 0,
            found: format!("found {}{column}", m.found),
            expected: m.expected.clone(),
            advice: m.advice.clone(),
            excerpt: own
                .and_then(|(_, text)| text.lines().nth(line.checked_sub(1)?))
                .map(|line| (line.to_owned(), 1)),
        }
    };
    Failure(mistakes.iter().map(problem).collect())
}
