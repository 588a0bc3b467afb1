//! Reads a table file into rows with typed cells, and reports every mistake with its place.
//! Form: a header with units, then `editions`, `source`, `check` as the last three columns of every table.

use std::collections::HashMap;
use std::str::FromStr;

use model::{Edition, WireSize};

use super::editions::Editions;
use super::error::TableError;
use super::record::{self, Record};
use crate::source::Check;

/// All files at hand, and the mistakes found so far.
pub(crate) struct Reader<'f> {
    files: HashMap<&'f str, &'f str>,
    pub(crate) errors: Vec<TableError>,
}

/// One line of a table: what it says, for which editions, how far checked.
pub(crate) struct Row<T> {
    pub(crate) line: u64,
    pub(crate) editions: Editions,
    pub(crate) check: Check,
    pub(crate) value: T,
}

impl<T> Row<T> {
    pub(crate) fn holds_in(&self, edition: Edition) -> bool {
        self.editions.contains(edition)
    }
}

/// The cells of one line, by header.
pub(crate) struct Cells<'r> {
    pub(crate) file: &'r str,
    pub(crate) line: u64,
    header: &'r [&'static str],
    record: &'r Record<'r>,
    errors: &'r mut Vec<TableError>,
}

const TAIL: [&str; 3] = ["editions", "source", "check"];

impl<'f> Reader<'f> {
    pub(crate) fn new(files: impl IntoIterator<Item = (&'f str, &'f str)>) -> Self {
        Self {
            files: files.into_iter().collect(),
            errors: Vec::new(),
        }
    }

    pub(crate) fn wrong(
        &mut self,
        file: &str,
        line: u64,
        column: Option<&str>,
        expected: impl Into<String>,
        found: impl Into<String>,
        advice: impl Into<String>,
    ) {
        let error = TableError {
            file: file.to_owned(),
            line,
            column: column.map(str::to_owned),
            expected: expected.into(),
            found: found.into(),
            advice: advice.into(),
        };
        // The same row is looked at once per edition; its mistake is told once.
        if !self.errors.contains(&error) {
            self.errors.push(error);
        }
    }

    /// Reads `file`, whose first columns are `header`, of which the first `keys` say what the row is about.
    /// Two rows about the same thing may not hold for the same edition.
    pub(crate) fn rows<T>(
        &mut self,
        file: &'static str,
        header: &'static [&'static str],
        keys: usize,
        mut read: impl FnMut(&mut Cells<'_>) -> Option<T>,
    ) -> Vec<Row<T>> {
        let full: Vec<&'static str> = header.iter().chain(&TAIL).copied().collect();
        let mut rows = Vec::new();
        let mut seen: HashMap<String, Vec<(Editions, u64)>> = HashMap::new();
        for record in self.records(file, &full) {
            let line = record.line;
            let mut cells = Cells {
                file,
                line,
                header: &full,
                record: &record,
                errors: &mut self.errors,
            };
            let editions = cells.editions("editions");
            let check = cells.check();
            if cells.text("source").is_empty() {
                cells.wrong(
                    "source",
                    "the published source, or `recall`",
                    "nothing",
                    "name it",
                );
            }
            let value = read(&mut cells);
            let (Some(editions), Some(check), Some(value)) = (editions, check, value) else {
                continue;
            };
            let key: Vec<&str> = (0..keys).map(|i| record.cell(i)).collect();
            let same = seen.entry(key.join(", ")).or_default();
            if let Some((_, earlier)) = same.iter().find(|(e, _)| e.overlaps(editions)) {
                self.errors.push(TableError {
                    file: file.to_owned(),
                    line,
                    column: Some("editions".to_owned()),
                    expected: "editions that no other row on the same thing holds for".to_owned(),
                    found: format!("an overlap with line {earlier} on `{}`", key.join(", ")),
                    advice: "narrow one of the two ranges".to_owned(),
                });
            }
            same.push((editions, line));
            rows.push(Row {
                line,
                editions,
                check,
                value,
            });
        }
        rows
    }

    /// The records of a file, or none and an error if the file or its header is not as expected.
    pub(crate) fn records(&mut self, file: &str, header: &[&str]) -> Vec<Record<'f>> {
        let Some(text) = self.files.get(file).copied() else {
            self.wrong(
                file,
                0,
                None,
                "the file",
                "none",
                "put it back under `data/`",
            );
            return Vec::new();
        };
        let mut all = record::records(text);
        let first = all.next();
        let found: Vec<&str> = match &first {
            Some(Ok(first)) => first.cells.iter().map(|c| c.trim()).collect(),
            _ => Vec::new(),
        };
        if !self.header_fits(file, header, &found) {
            return Vec::new();
        }
        let mut records = Vec::new();
        for record in all {
            match record {
                Ok(record) if record.cells.len() == header.len() => records.push(record),
                Ok(record) => {
                    let expected = format!("{} cells", header.len());
                    let found = record.cells.len().to_string();
                    let advice =
                        "put a comma for each empty cell, and quotes around a cell with commas";
                    self.wrong(file, record.line, None, expected, found, advice);
                }
                Err((line, found)) => {
                    let expected = "cells with commas between them";
                    self.wrong(
                        file,
                        line,
                        None,
                        expected,
                        found,
                        "check the quotes on that line",
                    );
                }
            }
        }
        records
    }

    fn header_fits(&mut self, file: &str, header: &[&str], found: &[&str]) -> bool {
        let mut fits = true;
        for (i, name) in found.iter().enumerate() {
            if !header.contains(name) {
                let expected = format!("one of the columns {}", header.join(", "));
                let near = nearest(name, header.iter().copied());
                self.wrong(file, 1, Some(name), expected, format!("`{name}`"), near);
                fits = false;
            } else if header.get(i) != Some(name) {
                let expected = format!("the columns in the order {}", header.join(", "));
                let found = format!("`{name}` in place {}", i + 1);
                self.wrong(
                    file,
                    1,
                    Some(name),
                    expected,
                    found,
                    "put the columns in that order",
                );
                fits = false;
            }
        }
        if fits && found.len() != header.len() {
            let expected = format!("the columns {}", header.join(", "));
            let found = format!("{} of them", found.len());
            self.wrong(file, 1, None, expected, found, "add the missing ones");
            fits = false;
        }
        fits
    }
}

impl Cells<'_> {
    pub(crate) fn wrong(
        &mut self,
        column: &str,
        expected: impl Into<String>,
        found: impl Into<String>,
        advice: impl Into<String>,
    ) {
        self.errors.push(TableError {
            file: self.file.to_owned(),
            line: self.line,
            column: Some(column.to_owned()),
            expected: expected.into(),
            found: found.into(),
            advice: advice.into(),
        });
    }

    /// The cell as text, trimmed.
    pub(crate) fn text(&self, column: &str) -> &str {
        self.header
            .iter()
            .position(|h| *h == column)
            .map_or("", |place| self.record.cell(place))
    }

    /// A number in the unit the header names, made into its type; `None` where the cell is empty.
    pub(crate) fn number<U>(&mut self, column: &str, unit: impl Fn(f64) -> U) -> Option<U> {
        let text = self.text(column).to_owned();
        if text.is_empty() {
            return None;
        }
        match text.parse::<f64>() {
            Ok(n) if n.is_finite() && n >= 0.0 => Some(unit(n)),
            _ => {
                let advice = "write digits with a point, or leave the cell empty";
                self.wrong(
                    column,
                    "a number that is not negative",
                    format!("`{text}`"),
                    advice,
                );
                None
            }
        }
    }

    /// A whole number; `None` where the cell is empty.
    pub(crate) fn count(&mut self, column: &str) -> Option<u32> {
        self.parsed(column, "a whole number")
    }

    /// Something with a text form; `None` where the cell is empty.
    pub(crate) fn parsed<T: FromStr>(&mut self, column: &str, expected: &str) -> Option<T> {
        let text = self.text(column).to_owned();
        if text.is_empty() {
            return None;
        }
        let value = text.parse().ok();
        if value.is_none() {
            self.wrong(column, expected, format!("`{text}`"), "correct the cell");
        }
        value
    }

    /// A size or a range of sizes, `14` or `1250 to 2000`, smallest first.
    pub(crate) fn sizes(&mut self, column: &str) -> Option<(WireSize, WireSize)> {
        let text = self.text(column).to_owned();
        let (from, to) = text.split_once(" to ").unwrap_or((&text, &text));
        match (from.parse::<WireSize>(), to.parse::<WireSize>()) {
            (Ok(from), Ok(to)) if from <= to => Some((from, to)),
            _ => {
                let expected = "a conductor size such as 14, 1/0, 250, or a range such as 14 to 10";
                self.wrong(column, expected, format!("`{text}`"), "correct the cell");
                None
            }
        }
    }

    /// A cell that must be filled.
    pub(crate) fn needed<T>(&mut self, column: &str, value: Option<T>) -> Option<T> {
        if value.is_none() && self.text(column).is_empty() {
            self.wrong(column, "a value", "nothing", "fill the cell");
        }
        value
    }

    fn editions(&mut self, column: &str) -> Option<Editions> {
        match Editions::parse(self.text(column)) {
            Ok(set) => Some(set),
            Err(found) => {
                let expected = "editions such as 2014-2026, 2020 or `2014 2020-2023`";
                self.wrong(column, expected, found, "correct the range");
                None
            }
        }
    }

    fn check(&mut self) -> Option<Check> {
        self.check_in("check")
    }

    /// A check status in a column of its own.
    pub(crate) fn check_in(&mut self, column: &str) -> Option<Check> {
        let text = self.text(column).to_owned();
        let check = check_status(&text);
        if check.is_none() {
            let expected = "memory, 1 source, 2+ sources or not found";
            self.wrong(
                column,
                expected,
                format!("`{text}`"),
                "say how far the value was checked",
            );
        }
        check
    }
}

/// A check status as the data files write it.
pub(crate) fn check_status(text: &str) -> Option<Check> {
    match text {
        "memory" => Some(Check::Memory),
        "1 source" => Some(Check::OneSource),
        "2+ sources" => Some(Check::TwoSources),
        "not found" => Some(Check::NotFound),
        _ => None,
    }
}

/// Advice that names the likeliest spelling.
pub(crate) fn nearest<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> String {
    known
        .map(|k| (strsim::jaro_winkler(name, k), k))
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map_or_else(
            || "correct it".to_owned(),
            |(_, k)| format!("did you mean `{k}`?"),
        )
}
