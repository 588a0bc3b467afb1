//! Reads one table of a book into rows with typed cells, and gathers every mistake with its place.
//! Form: comma-separated, a header that names the units; amounts are decimals with at most two places.

use std::collections::BTreeMap;

use model::{Dollars, nearest};

use crate::mistake::Mistake;

/// Largest file and most rows of one table.
const LARGEST: usize = 1_000_000;
const MOST_ROWS: usize = 5_000;
/// Largest amount in a cell, in hundredths: one million.
const MOST: i64 = 100_000_000;

/// A table as it is read.
pub(crate) struct Table<'m> {
    pub(crate) file: &'static str,
    pub(crate) header: &'static [&'static str],
    pub(crate) mistakes: &'m mut Vec<Mistake>,
}

/// Cells of one line, by header.
pub(crate) struct Row<'r> {
    pub(crate) line: u64,
    file: &'static str,
    header: &'static [&'static str],
    record: &'r csv::StringRecord,
    mistakes: &'r mut Vec<Mistake>,
}

impl Table<'_> {
    fn wrong(&mut self, line: u64, found: String, expected: String, advice: &str) {
        self.mistakes.push(Mistake {
            file: self.file.to_owned(),
            line,
            column: String::new(),
            found,
            expected,
            advice: advice.to_owned(),
        });
    }

    /// Rows by name, in the order of the file. The first column names the row; it may not be empty or stand twice.
    pub(crate) fn rows<T>(
        mut self,
        text: &str,
        mut read: impl FnMut(&mut Row<'_>) -> Option<T>,
    ) -> Vec<(String, T)> {
        let mut rows = Vec::new();
        let mut seen: BTreeMap<String, u64> = BTreeMap::new();
        for record in self.records(text) {
            let line = record.position().map_or(0, csv::Position::line);
            let name = record.get(0).unwrap_or_default().to_owned();
            if let Some(first) = seen.get(&name) {
                let expected = format!("one line for it; line {first} is the first");
                self.wrong(
                    line,
                    format!("`{name}` again"),
                    expected,
                    "keep one of the two",
                );
                continue;
            }
            seen.insert(name.clone(), line);
            let mut row = Row {
                line,
                file: self.file,
                header: self.header,
                record: &record,
                mistakes: self.mistakes,
            };
            let value = row.name(0).and_then(|()| read(&mut row));
            rows.extend(value.map(|value| (name, value)));
        }
        rows
    }

    /// Every record of the right width; none when the header is not as expected.
    fn records(&mut self, text: &str) -> Vec<csv::StringRecord> {
        let columns = self.header.join(",");
        if text.len() > LARGEST {
            let expected = format!("at most {LARGEST} bytes");
            let found = format!("{} bytes", text.len());
            self.wrong(0, found, expected, "a table of a price book is short");
            return Vec::new();
        }
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .trim(csv::Trim::All)
            .from_reader(text.as_bytes());
        let mut records = Vec::new();
        let mut header_seen = false;
        for record in reader.records() {
            let record = match record {
                Ok(record) => record,
                Err(error) => {
                    let line = error.position().map_or(0, csv::Position::line);
                    let expected = "cells with commas between them".to_owned();
                    self.wrong(line, error.to_string(), expected, "check the quotes there");
                    continue;
                }
            };
            let line = record.position().map_or(0, csv::Position::line);
            if !header_seen {
                header_seen = true;
                if record.iter().ne(self.header.iter().copied()) {
                    let found = format!("`{}`", record.iter().collect::<Vec<_>>().join(","));
                    let expected = format!("the columns {columns}");
                    self.wrong(line, found, expected, "put that header back");
                    return records;
                }
            } else if record.len() != self.header.len() {
                let found = format!("{} cells", record.len());
                let expected = format!("{} cells: {columns}", self.header.len());
                let advice = "put a comma for each empty cell, quotes around a cell with commas";
                self.wrong(line, found, expected, advice);
            } else if records.len() == MOST_ROWS {
                let expected = format!("at most {MOST_ROWS} rows");
                self.wrong(line, "one more".to_owned(), expected, "shorten the table");
                return records;
            } else {
                records.push(record);
            }
        }
        if !header_seen {
            let expected = format!("the columns {columns}");
            let advice = "put the table back, or leave the file out to use the built-in one";
            self.wrong(0, "an empty file".to_owned(), expected, advice);
        }
        records
    }
}

impl Row<'_> {
    pub(crate) fn wrong(
        &mut self,
        column: &str,
        found: impl Into<String>,
        expected: impl Into<String>,
        advice: impl Into<String>,
    ) {
        self.mistakes.push(Mistake {
            file: self.file.to_owned(),
            line: self.line,
            column: column.to_owned(),
            found: found.into(),
            expected: expected.into(),
            advice: advice.into(),
        });
    }

    /// The cell as text, trimmed.
    pub(crate) fn text(&self, column: &str) -> &str {
        let place = self.header.iter().position(|h| *h == column);
        place.and_then(|p| self.record.get(p)).unwrap_or_default()
    }

    /// A cell that must say something.
    pub(crate) fn needed(&mut self, column: &str) -> Option<String> {
        let text = self.text(column).to_owned();
        if text.is_empty() {
            self.wrong(column, "nothing", "some words", "fill the cell");
            return None;
        }
        Some(text)
    }

    /// The name of the row: lower-case words with hyphens, as everything in a book is named.
    fn name(&mut self, place: usize) -> Option<()> {
        let text = self.record.get(place).unwrap_or_default();
        let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if !text.is_empty() && text.len() <= 60 && text.chars().all(fits) {
            return Some(());
        }
        let found = format!("`{text}`");
        let column = self.header.get(place).copied().unwrap_or_default();
        let expected = "a name of lower-case letters, digits and hyphens, at most 60";
        self.wrong(column, found, expected, "rename it");
        None
    }

    /// A decimal of at most two places that is not negative, in hundredths; `None` where the cell is empty or wrong.
    pub(crate) fn hundredths(&mut self, column: &str, what: &str) -> Option<i64> {
        let text = self.text(column).to_owned();
        if text.is_empty() {
            return None;
        }
        match hundredths(&text) {
            Some(n) if (0..=MOST).contains(&n) => Some(n),
            Some(n) if n < 0 => {
                let expected = format!("{what}, not negative");
                self.wrong(column, format!("`{text}`"), expected, "take the sign away");
                None
            }
            Some(_) => {
                let expected = format!("{what}, at most {}", MOST / 100);
                self.wrong(column, format!("`{text}`"), expected, "correct the amount");
                None
            }
            None => {
                let expected = format!("{what}: digits, a point and at most two places");
                self.wrong(column, format!("`{text}`"), expected, "correct the number");
                None
            }
        }
    }

    /// The same where the cell may not be empty.
    pub(crate) fn needed_hundredths(&mut self, column: &str, what: &str) -> Option<i64> {
        if self.text(column).is_empty() {
            let advice = "write a number; 0 where there is none";
            self.wrong(column, "nothing", what, advice);
            return None;
        }
        self.hundredths(column, what)
    }

    /// An amount of money; `None` where the cell is empty or wrong.
    pub(crate) fn dollars(&mut self, column: &str) -> Option<Dollars> {
        self.hundredths(column, "US dollars")
            .map(Dollars::from_cents)
    }

    /// The cell is empty, or what was read of it.
    pub(crate) fn unless_wrong<T>(&self, column: &str, value: Option<T>) -> Option<Option<T>> {
        (value.is_some() || self.text(column).is_empty()).then_some(value)
    }

    /// One of these words.
    pub(crate) fn one_of<T: Copy>(&mut self, column: &str, words: &[(&str, T)]) -> Option<T> {
        let text = self.text(column).to_owned();
        let found = words.iter().find(|(word, _)| *word == text);
        if found.is_none() {
            let known = || words.iter().map(|(word, _)| *word);
            let expected = format!("one of {}", nearest::list(known()));
            let advice = nearest::advice(&text, known(), "use one of these");
            self.wrong(column, format!("`{text}`"), expected, advice);
        }
        found.map(|(_, value)| *value)
    }
}

/// A decimal with at most two places, in hundredths.
pub(crate) fn hundredths(text: &str) -> Option<i64> {
    let (sign, digits) = match text.strip_prefix('-') {
        Some(rest) => (-1, rest),
        None => (1, text),
    };
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    let all_digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    if whole.is_empty() || whole.len() > 12 || part.len() > 2 || !all_digits(whole) {
        return None;
    }
    if !all_digits(part) || digits.ends_with('.') {
        return None;
    }
    let whole: i64 = whole.parse().ok()?;
    let part: i64 = format!("{part:0<2}").parse().ok()?;
    Some(sign * (whole * 100 + part))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_decimal_is_read_exactly_or_not_at_all() {
        let read = [
            "12", "12.5", "0.05", "-3.20", "1.255", "1e3", "", ".5", "7.", "1,000",
        ];
        let expected = [
            Some(1200),
            Some(1250),
            Some(5),
            Some(-320),
            None,
            None,
            None,
            None,
            None,
            None,
        ];
        assert_eq!(read.map(hundredths), expected);
    }
}
