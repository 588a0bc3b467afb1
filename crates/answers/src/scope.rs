//! What the work is, as JSON.

use model::scope::Scope;
use serde_json::{Value, json};

/// The documented form: everything of either picture, changed or kept.
#[must_use]
pub fn of(scope: &Scope) -> Value {
    let boards = scope.boards.iter().map(|(id, b)| {
        json!({ "id": id, "change": b.change, "relocated": b.relocated, "interior_only": b.interior_only })
    });
    let feeders = scope
        .feeders
        .iter()
        .map(|(id, change)| json!({ "id": id, "change": change }));
    let circuits = scope.circuits.iter().map(|(id, c)| {
        json!({
            "id": id,
            "change": c.change,
            "other_board": c.other_board,
            "extended": c.extended.get(),
            "added_outside_in": c.added_outside.get().map(|l| l.0),
            "added_total_in": c.added_total.get().map(|l| l.0),
            "cut_shorter": c.cut_shorter.get(),
        })
    });
    json!({
        "boards": boards.collect::<Vec<_>>(),
        "feeders": feeders.collect::<Vec<_>>(),
        "circuits": circuits.collect::<Vec<_>>(),
        "loads_added": scope.loads_added,
        "loads_removed": scope.loads_removed,
        "sources_added": scope.sources_added,
    })
}
