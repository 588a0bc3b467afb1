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

/// What was seen at a board's old place says nothing about its new one: a board that moves keeps of these only what `after` states anew.
const TIED_TO_A_PLACE: [&str; 3] = ["location", "working_space", "facts"];

/// Fields of `after` that say a board moves.
const MOVES: [&str; 3] = ["position", "route_from_old", "old_cabinet"];

/// Takes from each board that moves what it inherited about its old place.
pub(super) fn forget_old_places<'t>(after: &mut DeTable<'t>, patch: &DeTable<'t>) {
    let Some(DeValue::Table(patched)) = patch.get("boards").map(|b| b.get_ref()) else {
        return;
    };
    let Some(DeValue::Table(boards)) = after.get_mut("boards").map(|b| b.get_mut()) else {
        return;
    };
    for (id, changes) in patched {
        let DeValue::Table(changes) = changes.get_ref() else {
            continue;
        };
        if !MOVES.iter().any(|field| changes.contains_key(*field)) {
            continue;
        }
        let Some(DeValue::Table(board)) =
            boards.get_mut(id.get_ref().as_ref()).map(|b| b.get_mut())
        else {
            continue;
        };
        for field in TIED_TO_A_PLACE {
            board.remove(field);
            if let Some(stated) = changes.get_key_value(field) {
                board.insert(stated.0.clone(), stated.1.clone());
            }
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
        (DeValue::Array(entries), false) => {
            let entry = rest
                .first()
                .and_then(|i| entries.get(i.parse::<usize>().ok()?));
            entry
                .map(toml::Spanned::span)
                .or_else(|| key_span(root, first))
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
