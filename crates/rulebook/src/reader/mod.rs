//! How is a TOML data file read so that every mistake is told with its place?
//! Source: TOML 1.0. Offsets are bytes; places given to people are lines and columns.

mod fields;

use model::Edition;
use toml::de::{DeTable, DeValue};

use crate::LoadError;
use crate::load_error::line_and_column;

pub(crate) use fields::Fields;

/// The largest data file, bytes.
pub(crate) const MAX_FILE: usize = 1 << 20;

/// A file by its name and text.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Source<'a> {
    pub(crate) file: &'a str,
    pub(crate) text: &'a str,
}

/// A text value and where its first character stands in the file.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Located<'a> {
    pub(crate) text: &'a str,
    pub(crate) start: usize,
    /// Offsets inside `text` are offsets in the file; false when the text was written with escapes.
    pub(crate) exact: bool,
}

impl<'a> Source<'a> {
    pub(crate) fn error(&self, at: usize, expected: &str, found: &str, help: &str) -> LoadError {
        let (line, column) = line_and_column(self.text, at);
        LoadError {
            file: self.file.to_owned(),
            line,
            column,
            expected: expected.to_owned(),
            found: found.to_owned(),
            help: help.to_owned(),
        }
    }

    /// Parses the file, hands its fields to `body`, and gathers every mistake.
    pub(crate) fn read<T>(
        &self,
        what: &'static str,
        body: impl FnOnce(&mut Fields<'_>) -> T,
    ) -> Result<T, Vec<LoadError>> {
        if self.text.len() > MAX_FILE {
            let found = format!("{} bytes", self.text.len());
            let expected = format!("a file of at most {MAX_FILE} bytes");
            return Err(vec![self.error(0, &expected, &found, "split the file")]);
        }
        let (table, errors) = DeTable::parse_recoverable(self.text);
        if !errors.is_empty() {
            return Err(errors.iter().map(|e| self.syntax(e)).collect());
        }
        let mut fields = Fields::new(self, table.get_ref(), 0, what);
        let value = body(&mut fields);
        let errors = fields.finish();
        if errors.is_empty() {
            Ok(value)
        } else {
            Err(errors)
        }
    }

    fn syntax(&self, error: &toml::de::Error) -> LoadError {
        let span = error.span().unwrap_or(0..0);
        let found = self.text.get(span.clone()).unwrap_or_default();
        let found = match found.lines().next().unwrap_or_default().trim() {
            "" => "something else".to_owned(),
            text => format!("`{}`", text.chars().take(40).collect::<String>()),
        };
        let help = error.message().replace('\n', ", ");
        self.error(span.start, "a well-formed TOML file", &found, &help)
    }
}

/// The names of all editions, for messages.
pub(crate) fn all_editions() -> String {
    Edition::ALL.map(|e| e.to_string()).join(", ")
}

/// A finite number, whole or not.
pub(crate) fn number(value: &DeValue<'_>) -> Option<f64> {
    let number: f64 = match value {
        DeValue::Integer(n) if n.radix() == 10 => n.as_str().parse().ok()?,
        DeValue::Float(n) => n.as_str().parse().ok()?,
        _ => return None,
    };
    number.is_finite().then_some(number)
}

/// A value in words, for messages.
pub(crate) fn describe(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => format!("the text `{text}`"),
        DeValue::Integer(n) => format!("the number {}", n.as_str()),
        DeValue::Float(n) => format!("the number {}", n.as_str()),
        DeValue::Boolean(b) => format!("`{b}`"),
        DeValue::Datetime(d) => format!("the date {d}"),
        DeValue::Array(_) => "a list".to_owned(),
        DeValue::Table(_) => "a table".to_owned(),
    }
}

/// Finds where the characters of a quoted text stand in the file.
fn locate<'a>(file: &str, start: usize, text: &'a str) -> Located<'a> {
    let raw = file.get(start..).unwrap_or_default();
    let quotes = if raw.starts_with("'''") || raw.starts_with("\"\"\"") {
        3
    } else {
        1
    };
    let after = raw.get(quotes..).unwrap_or_default();
    let newline = match quotes {
        3 if after.starts_with("\r\n") => 2,
        3 if after.starts_with('\n') => 1,
        _ => 0,
    };
    let exact = after.get(newline..).is_some_and(|r| r.starts_with(text));
    Located {
        text,
        start: if exact {
            start + quotes + newline
        } else {
            start
        },
        exact,
    }
}
