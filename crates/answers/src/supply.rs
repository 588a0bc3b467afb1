//! Who feeds whom, as JSON.

use engine::tree::SupplyTree;
use serde_json::{Value, json};

/// The documented form.
#[must_use]
pub fn of(tree: &SupplyTree<'_>) -> Value {
    let nodes = tree.nodes.iter().map(|node| {
        json!({
            "board": node.id,
            "fed_from": node.parent.and_then(|p| tree.nodes.get(p)).map(|n| n.id),
            "feeder": node.feeder.map(|(id, _)| id),
            "depth": node.depth,
            "role": node.role,
            "carries_entire_dwelling": node.carries_entire_dwelling.get(),
            "protected_by_a": node.protected_by.get().map(|a| a.0),
        })
    });
    json!({
        "boards": nodes.collect::<Vec<_>>(),
        "problems": tree.problems.iter().map(ToString::to_string).collect::<Vec<_>>(),
    })
}
