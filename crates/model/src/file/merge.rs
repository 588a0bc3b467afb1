//! Lays the `after` tables over a copy of `before`, keeping where each value stands in the text.
//! A spelled fact (`{ is = .., by = .. }`) replaces the older one whole, so no old witness is kept.

use std::ops::Range;

use toml::de::{DeTable, DeValue};

/// Lays `patch` over `base`, table by table.
pub(super) fn overlay<'t>(base: &mut DeTable<'t>, patch: &DeTable<'t>) {
    for (key, value) in patch {
        let both_tables = match (base.get_mut(key.get_ref().as_ref()), value.get_ref()) {
            (Some(old), DeValue::Table(new)) if !new.contains_key("is") => match old.get_mut() {
                DeValue::Table(table) => {
                    overlay(table, new);
                    true
                }
                _ => false,
            },
            _ => false,
        };
        if !both_tables {
            base.remove(key.get_ref().as_ref());
            base.insert(key.clone(), value.clone());
        }
    }
}

/// Where the entry with this path stands, or the longest part of it that exists beyond the first step.
pub(super) fn locate(root: &DeTable<'_>, path: &[&str]) -> Option<Range<usize>> {
    let (first, rest) = path.split_first()?;
    let value = root.get(*first)?;
    match (value.get_ref(), rest.is_empty()) {
        (DeValue::Table(table), false) => {
            locate(table, rest).or_else(|| key_span(root, first).or_else(|| Some(value.span())))
        }
        _ => key_span(root, first).or_else(|| Some(value.span())),
    }
}

fn key_span(table: &DeTable<'_>, name: &str) -> Option<Range<usize>> {
    table
        .keys()
        .find(|k| k.get_ref() == name)
        .map(toml::Spanned::span)
}
