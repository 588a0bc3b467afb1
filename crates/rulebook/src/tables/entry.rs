//! The shapes of a table: one entry, entries by conductor size, entries by rising bound.
//! Source: none; an entry keeps the check status of its row, and an empty one gives no value.

use std::sync::Arc;

use model::{Edition, WireSize};

use super::reader::{Reader, Row};
use crate::source::{Check, Cite, Lookup, NoValue, Sourced};

/// What one row says of one thing. Without a value: `NotFound` if nobody could confirm one, otherwise the table prints nothing.
#[derive(Clone, Debug)]
pub(crate) struct Entry<T> {
    pub(crate) value: Option<T>,
    pub(crate) check: Check,
    /// Section of the row itself, where it is finer than the table's.
    pub(crate) section: Option<Arc<str>>,
}

impl<T: Copy> Entry<T> {
    /// The same row, looked at for one of its columns.
    pub(crate) fn map<U>(&self, column: impl Fn(T) -> Option<U>) -> Entry<U> {
        Entry {
            value: self.value.and_then(column),
            check: self.check,
            section: self.section.clone(),
        }
    }
}

/// Turns what a table holds into the outcome of a look-up.
pub(crate) fn found<T>(
    entry: Option<Entry<T>>,
    mut cite: Cite,
    wanted: impl FnOnce() -> String,
) -> Lookup<T> {
    let Some(entry) = entry else {
        return Err(NoValue::NoEntry {
            cite,
            wanted: wanted(),
        });
    };
    if let Some(section) = entry.section {
        cite.section = section;
    }
    match entry.value {
        Some(value) => Ok(Sourced {
            value,
            cite,
            check: entry.check,
        }),
        None if entry.check == Check::NotFound => Err(NoValue::NotFound {
            cite,
            wanted: wanted(),
        }),
        None => Err(NoValue::NoEntry {
            cite,
            wanted: wanted(),
        }),
    }
}

/// One entry per conductor size.
#[derive(Clone, Debug)]
pub(crate) struct BySize<T>(Vec<Option<Entry<T>>>);

impl<T> Default for BySize<T> {
    fn default() -> Self {
        Self(WireSize::all().map(|_| None).collect())
    }
}

impl<T: Clone> BySize<T> {
    /// Fills a range of sizes; a size that is already taken is a mistake in the file.
    pub(crate) fn put(
        &mut self,
        (from, to): (WireSize, WireSize),
        entry: Entry<T>,
        place: (&str, u64),
        reader: &mut Reader<'_>,
    ) {
        for size in WireSize::all().filter(|s| (from..=to).contains(s)) {
            if let Some(slot) = self.0.get_mut(size.index()) {
                if slot.is_some() {
                    let found = format!("a second row for {size}");
                    let advice = "remove one, or narrow the sizes or editions";
                    reader.wrong(
                        place.0,
                        place.1,
                        Some("size"),
                        "one row per size and edition",
                        found,
                        advice,
                    );
                }
                *slot = Some(entry.clone());
            }
        }
    }

    /// Sets the entry of one size, whatever stood there.
    pub(crate) fn replace(&mut self, size: WireSize, entry: Entry<T>) {
        if let Some(slot) = self.0.get_mut(size.index()) {
            *slot = Some(entry);
        }
    }

    pub(crate) fn get(&self, size: WireSize) -> Option<&Entry<T>> {
        self.0.get(size.index()).and_then(Option::as_ref)
    }

    /// Sizes that have a row, smallest first.
    pub(crate) fn iter(&self) -> impl Iterator<Item = (WireSize, &Entry<T>)> {
        WireSize::all().filter_map(|s| self.get(s).map(|e| (s, e)))
    }
}

/// Entries by a rising bound: the first one that the wanted number does not exceed counts.
#[derive(Clone, Debug)]
pub(crate) struct Steps<T>(Vec<(f64, Entry<T>)>);

impl<T> Default for Steps<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<T: Copy> Steps<T> {
    /// Collects the rows of an edition; `bound` is infinity for the open last row.
    pub(crate) fn read<R>(
        rows: &[Row<R>],
        edition: Edition,
        place: (&'static str, &'static str),
        reader: &mut Reader<'_>,
        take: impl Fn(&Row<R>) -> Option<(f64, Option<T>)>,
    ) -> Self {
        let mut steps: Vec<(f64, Entry<T>)> = Vec::new();
        for row in rows.iter().filter(|r| r.holds_in(edition)) {
            let Some((bound, value)) = take(row) else {
                continue;
            };
            if steps.last().is_some_and(|(last, _)| bound <= *last) {
                let advice = format!("put the rows of {edition} in rising order, without overlap");
                let found = format!("{bound} after a bound that is not lower");
                reader.wrong(
                    place.0,
                    row.line,
                    Some(place.1),
                    "a bound above the one before",
                    found,
                    advice,
                );
            }
            steps.push((
                bound,
                Entry {
                    value,
                    check: row.check,
                    section: None,
                },
            ));
        }
        Self(steps)
    }

    pub(crate) fn at(&self, wanted: f64) -> Option<&Entry<T>> {
        let i = self.0.partition_point(|(bound, _)| *bound < wanted);
        self.0.get(i).map(|(_, e)| e)
    }

    /// The entry of exactly that bound.
    pub(crate) fn exactly(&self, wanted: f64) -> Option<&Entry<T>> {
        let i = self.0.partition_point(|(bound, _)| *bound < wanted);
        self.0
            .get(i)
            .filter(|(bound, _)| *bound == wanted)
            .map(|(_, e)| e)
    }

    /// The last entry whose bound does not exceed the wanted number, for tables whose bound is a lower one.
    pub(crate) fn from(&self, wanted: f64) -> Option<&Entry<T>> {
        let i = self.0.partition_point(|(bound, _)| *bound <= wanted);
        i.checked_sub(1).and_then(|i| self.0.get(i)).map(|(_, e)| e)
    }

    pub(crate) fn iter(&self) -> impl Iterator<Item = (f64, &Entry<T>)> {
        self.0.iter().map(|(b, e)| (*b, e))
    }
}

/// Reports a run of counts that does not start at `first`, leaves one out, or names one twice.
pub(crate) fn without_gap<R>(
    rows: &[Row<R>],
    file: &'static str,
    first: u32,
    reader: &mut Reader<'_>,
    span: impl Fn(&R) -> (u32, Option<u32>),
) {
    if rows.is_empty() {
        return;
    }
    for edition in Edition::ALL {
        let mut next = Some(first);
        for row in rows.iter().filter(|r| r.holds_in(edition)) {
            let (from, to) = span(&row.value);
            if next != Some(from) {
                let expected = next.map_or_else(
                    || "no row after the open one".to_owned(),
                    |n| format!("{n}, so that every count stands once"),
                );
                let advice = "add the missing row, or correct the range or its editions";
                let found = from.to_string();
                reader.wrong(file, row.line, Some("from"), expected, found, advice);
            }
            next = to.map(|t| t + 1);
        }
        if next.is_some() {
            let found = format!("none in edition {edition}");
            let advice = "leave `to` empty in the last row";
            reader.wrong(file, 0, None, "an open last row", found, advice);
        }
    }
}
