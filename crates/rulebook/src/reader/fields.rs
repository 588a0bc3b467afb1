//! What does one table of a file hold under each key, and which keys does nobody know?
//! Source: TOML 1.0. Offsets are bytes of the file.

use model::{BadDate, Date, Edition, nearest};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::{Located, Source, all_editions, describe, locate, number};
use crate::load_error::line_and_column;
use crate::{Check, LoadError};

/// One table of a file: asks for keys by name and remembers which were asked for.
#[derive(Debug)]
pub(crate) struct Fields<'a> {
    source: &'a Source<'a>,
    table: &'a DeTable<'a>,
    start: usize,
    what: &'static str,
    asked: Vec<String>,
    errors: Vec<LoadError>,
}

impl<'a> Fields<'a> {
    pub(super) fn new(
        source: &'a Source<'a>,
        table: &'a DeTable<'a>,
        start: usize,
        what: &'static str,
    ) -> Self {
        Self {
            source,
            table,
            start,
            what,
            asked: Vec::new(),
            errors: Vec::new(),
        }
    }

    /// Where the table starts.
    pub(crate) fn start(&self) -> usize {
        self.start
    }

    /// Line of the table.
    pub(crate) fn line(&self) -> usize {
        line_and_column(self.source.text, self.start).0
    }

    /// Lets a key stand that is read elsewhere or not at all.
    pub(crate) fn allow(&mut self, key: &str) {
        self.asked.push(key.to_owned());
    }

    /// Name of the file.
    pub(crate) fn file(&self) -> &'a str {
        self.source.file
    }

    /// Notes a mistake.
    pub(crate) fn fail(&mut self, at: usize, expected: &str, found: &str, help: &str) {
        self.errors
            .push(self.source.error(at, expected, found, help));
    }

    /// Is the key there?
    pub(crate) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// Offset of the value of a key, else of the table.
    pub(crate) fn place(&self, key: &str) -> usize {
        self.table
            .get(key)
            .map_or(self.start, |value| value.span().start)
    }

    /// Required text.
    pub(crate) fn text(&mut self, key: &'static str) -> Option<String> {
        self.located(key).map(|l| l.text.to_owned())
    }

    /// Text or nothing.
    pub(crate) fn optional_text(&mut self, key: &'static str) -> Option<String> {
        self.has(key).then(|| self.text(key)).flatten().or_else(|| {
            self.asked.push(key.to_owned());
            None
        })
    }

    /// Required text with its place.
    pub(crate) fn located(&mut self, key: &'static str) -> Option<Located<'a>> {
        let value = self.required(key, "text in quotes")?;
        match value.get_ref() {
            DeValue::String(text) if text.trim().is_empty() => {
                self.fail(
                    value.span().start,
                    "some text",
                    "nothing",
                    "write it or remove the key",
                );
                None
            }
            DeValue::String(text) => Some(locate(self.source.text, value.span().start, text)),
            other => {
                self.wrong_kind(value, other, key, "text in quotes");
                None
            }
        }
    }

    /// Texts of a list; an absent key is an empty list.
    pub(crate) fn optional_texts(&mut self, key: &'static str) -> Vec<String> {
        let texts = self.located_texts(key);
        texts.into_iter().map(|l| l.text.to_owned()).collect()
    }

    /// Texts of a list with their places; an absent key is an empty list.
    pub(crate) fn located_texts(&mut self, key: &'static str) -> Vec<Located<'a>> {
        self.list(key)
            .iter()
            .filter_map(|value| match value.get_ref() {
                DeValue::String(text) => Some(locate(self.source.text, value.span().start, text)),
                other => {
                    self.wrong_kind(value, other, key, "text in quotes");
                    None
                }
            })
            .collect()
    }

    /// Values of a list; an absent key is an empty list.
    pub(crate) fn list(&mut self, key: &'static str) -> &'a [Spanned<DeValue<'a>>] {
        self.asked.push(key.to_owned());
        let Some(value) = self.table.get(key) else {
            return &[];
        };
        if let DeValue::Array(items) = value.get_ref() {
            return items;
        }
        self.wrong_kind(value, value.get_ref(), key, "a list");
        &[]
    }

    /// A required finite number.
    pub(crate) fn number(&mut self, key: &'static str) -> Option<f64> {
        let value = self.required(key, "a number")?;
        let number = number(value.get_ref());
        if number.is_none() {
            self.wrong_kind(value, value.get_ref(), key, "a finite number");
        }
        number
    }

    /// A required word out of a few.
    pub(crate) fn one_of<T: Copy>(
        &mut self,
        key: &'static str,
        choices: &[(&str, T)],
    ) -> Option<T> {
        let text = self.located(key)?;
        let found = choices.iter().find(|(name, _)| *name == text.text);
        if found.is_none() {
            let names = || choices.iter().map(|c| c.0);
            let help = nearest::advice(text.text, names(), "choose one of these");
            let expected = format!("`{key}` to be one of {}", nearest::list(names()));
            self.fail(text.start, &expected, &format!("`{}`", text.text), &help);
        }
        found.map(|(_, value)| *value)
    }

    /// A required check status.
    pub(crate) fn check(&mut self, key: &'static str) -> Option<Check> {
        self.one_of(
            key,
            &[
                ("memory", Check::Memory),
                ("1 source", Check::OneSource),
                ("2+ sources", Check::TwoSources),
                ("not found", Check::NotFound),
                ("arithmetic", Check::Arithmetic),
            ],
        )
    }

    /// A check status or nothing.
    pub(crate) fn optional_check(&mut self, key: &'static str) -> Option<Check> {
        self.allow(key);
        self.has(key).then(|| self.check(key)).flatten()
    }

    /// A date, written plainly or in quotes; nothing when absent.
    pub(crate) fn optional_date(&mut self, key: &'static str) -> Option<Date> {
        self.asked.push(key.to_owned());
        let value = self.table.get(key)?;
        let text = match value.get_ref() {
            DeValue::Datetime(date) => date.to_string(),
            DeValue::String(text) => text.to_string(),
            other => describe(other),
        };
        match text.parse() {
            Ok(date) => Some(date),
            Err(BadDate(found)) => {
                let help = "write year-month-day, for example 2026-11-25";
                self.fail(value.span().start, "a date", &format!("`{found}`"), help);
                None
            }
        }
    }

    /// Editions of a list; an absent key is an empty list.
    pub(crate) fn editions(&mut self, key: &'static str) -> Vec<Edition> {
        self.list(key)
            .iter()
            .filter_map(|value| self.edition_of(value))
            .collect()
    }

    /// A required edition.
    pub(crate) fn edition(&mut self, key: &'static str) -> Option<Edition> {
        let value = self.required(key, "an edition")?;
        self.edition_of(value)
    }

    fn edition_of(&mut self, value: &Spanned<DeValue<'a>>) -> Option<Edition> {
        let text = match value.get_ref() {
            DeValue::Integer(year) => year.as_str().to_owned(),
            DeValue::String(text) => text.to_string(),
            other => describe(other),
        };
        let edition = text.parse().ok();
        if edition.is_none() {
            let expected = format!("an edition: {}", all_editions());
            let help = "editions are named, never guessed";
            self.fail(value.span().start, &expected, &format!("`{text}`"), help);
        }
        edition
    }

    /// Is the value exactly this text? Asks for nothing.
    pub(crate) fn text_is(&mut self, key: &str, text: &str) -> bool {
        let is = self.table.get(key).and_then(|v| v.get_ref().as_str()) == Some(text);
        if is {
            self.allow(key);
        }
        is
    }

    /// Every key, whose values must all be texts.
    pub(crate) fn every_text(&mut self) -> Vec<(String, String)> {
        self.every()
            .into_iter()
            .filter_map(|(key, _, value)| match value.get_ref() {
                DeValue::String(text) => Some((key.to_owned(), text.to_string())),
                other => {
                    self.wrong_kind(value, other, key, "text in quotes");
                    None
                }
            })
            .collect()
    }

    /// A required sub-table.
    pub(crate) fn table(&mut self, key: &'static str) -> Option<Fields<'a>> {
        let value = self.required(key, "a table")?;
        self.sub_table(key, value)
    }

    /// A list of tables, `[[key]]`; an absent key is an empty list.
    pub(crate) fn tables(&mut self, key: &'static str) -> Vec<Fields<'a>> {
        self.list(key)
            .iter()
            .filter_map(|value| self.sub_table(key, value))
            .collect()
    }

    /// Every key, whose values must all be tables.
    pub(crate) fn every_table(&mut self) -> Vec<(&'a str, Fields<'a>)> {
        self.every()
            .into_iter()
            .filter_map(|(key, _, value)| Some((key, self.sub_table(key, value)?)))
            .collect()
    }

    /// Every key with its place and value.
    pub(crate) fn every(&mut self) -> Vec<(&'a str, usize, &'a Spanned<DeValue<'a>>)> {
        let all: Vec<_> = self
            .table
            .iter()
            .map(|(key, value)| (key.get_ref().as_ref(), key.span().start, value))
            .collect();
        self.asked
            .extend(all.iter().map(|(key, _, _)| (*key).to_owned()));
        all
    }

    /// Keys not asked for yet, with place and value.
    pub(crate) fn remaining(&mut self) -> Vec<(&'a str, usize, &'a Spanned<DeValue<'a>>)> {
        let asked = std::mem::take(&mut self.asked);
        let mut rest = self.every();
        rest.retain(|(key, _, _)| !asked.iter().any(|a| a == key));
        self.asked.extend(asked);
        rest
    }

    fn sub_table(&mut self, key: &str, value: &'a Spanned<DeValue<'a>>) -> Option<Fields<'a>> {
        let start = value.span().start;
        if let DeValue::Table(table) = value.get_ref() {
            return Some(Fields::new(self.source, table, start, self.what));
        }
        self.wrong_kind(value, value.get_ref(), key, "a table");
        None
    }

    fn required(&mut self, key: &'static str, kind: &str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.asked.push(key.to_owned());
        let value = self.table.get(key);
        if value.is_none() {
            let expected = format!("`{key}` in {}", self.what);
            let help = format!("add `{key}` with {kind}");
            self.fail(self.start, &expected, "none", &help);
        }
        value
    }

    pub(crate) fn wrong_kind(
        &mut self,
        value: &Spanned<DeValue<'_>>,
        found: &DeValue<'_>,
        key: &str,
        kind: &str,
    ) {
        let expected = format!("`{key}` to be {kind}");
        self.fail(
            value.span().start,
            &expected,
            &describe(found),
            "correct the value",
        );
    }

    /// Takes over the mistakes of a table inside this one.
    pub(crate) fn absorb(&mut self, inner: Fields<'_>) {
        self.errors.extend(inner.finish());
    }

    /// All mistakes, with the keys that nobody asked for.
    pub(crate) fn finish(mut self) -> Vec<LoadError> {
        let unknown: Vec<_> = self
            .table
            .keys()
            .filter(|key| !self.asked.iter().any(|a| a == key.get_ref()))
            .collect();
        for key in unknown {
            let names = self.asked.iter().map(String::as_str);
            let help = nearest::advice(key.get_ref(), names, "remove it");
            let expected = format!("a key of {}", self.what);
            let found = format!("`{}`", key.get_ref());
            self.errors.push(
                self.source
                    .error(key.span().start, &expected, &found, &help),
            );
        }
        self.errors
    }
}
