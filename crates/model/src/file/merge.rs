//! Lays the `after` tables over a copy of `before`, keeping where each value stands in the text.
//! A spelled fact (`{ is = .., by = .. }`) replaces the older one whole, so no old witness is kept.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The picture after the work: `before` with `patch` laid over it, and without what that no longer is.
pub(super) fn merged<'t>(
    before: Spanned<DeTable<'t>>,
    patch: &DeTable<'t>,
) -> Spanned<DeTable<'t>> {
    let mut after = before;
    overlay(after.get_mut(), patch);
    forget_what_no_longer_is(after.get_mut(), patch);
    after
}

/// Lays `patch` over `base`, table by table.
fn overlay<'t>(base: &mut DeTable<'t>, patch: &DeTable<'t>) {
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

/// Marks and state of the old hardware: a board that is replaced keeps of these only what `after` states anew.
/// Its size (bus, main, spaces, legs, cabinet) is taken as like for like until `after` says otherwise.
const TIED_TO_THE_HARDWARE: [&str; 7] = [
    "poles_listed",
    "tandem_spaces",
    "neutral_terminals",
    "ground_bar",
    "neutral_bonded",
    "short_circuit_rating",
    "terminals",
];

/// Stated facts of a board that are about its place or the wiring that comes to it; a new board in the same place keeps them.
pub const FACTS_OF_THE_PLACE: [&str; 14] = [
    "readily_accessible",
    "occupant_access",
    "exposed_to_damage",
    "ws_storage",
    "ws_lit",
    "dedicated_space_clear",
    "floor_level",
    "flush_in_combustible",
    "was_within_sight_disconnect_for",
    "appliance_disconnects_ok",
    "nm_through_sleeve",
    "nm_sleeve_meets_exception",
    "complete_raceway_system",
    "supplies_dwelling_loads",
];

/// Takes from each board what it inherited and no longer is: the old place of one that moves, the old hardware of one that is replaced.
fn forget_what_no_longer_is<'t>(after: &mut DeTable<'t>, patch: &DeTable<'t>) {
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
        let Some(DeValue::Table(board)) =
            boards.get_mut(id.get_ref().as_ref()).map(|b| b.get_mut())
        else {
            continue;
        };
        if is_true(changes, "replaced") || is_true(changes, "interior_only") {
            keep_only_stated(board, changes, &TIED_TO_THE_HARDWARE);
            if let Some(DeValue::Table(facts)) = board.get_mut("facts").map(|f| f.get_mut()) {
                let stated = match changes.get("facts").map(|f| f.get_ref()) {
                    Some(DeValue::Table(stated)) => Some(stated),
                    _ => None,
                };
                let gone: Vec<_> = facts
                    .keys()
                    .filter(|name| {
                        let name = name.get_ref().as_ref();
                        let stated = stated.is_some_and(|s| s.contains_key(name));
                        !stated && !FACTS_OF_THE_PLACE.contains(&name)
                    })
                    .cloned()
                    .collect();
                for name in gone {
                    facts.remove(name.get_ref().as_ref());
                }
            }
        }
        if moves(changes) {
            keep_only_stated(board, changes, &TIED_TO_A_PLACE);
        }
    }
}

/// These changes of a board say that it moves.
pub(super) fn moves(changes: &DeTable<'_>) -> bool {
    MOVES.iter().any(|field| changes.contains_key(*field))
}

fn keep_only_stated<'t>(board: &mut DeTable<'t>, changes: &DeTable<'t>, fields: &[&str]) {
    for field in fields {
        board.remove(*field);
        if let Some(stated) = changes.get_key_value(*field) {
            board.insert(stated.0.clone(), stated.1.clone());
        }
    }
}

fn is_true(table: &DeTable<'_>, field: &str) -> bool {
    matches!(
        table.get(field).map(|v| v.get_ref()),
        Some(DeValue::Boolean(true))
    )
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
