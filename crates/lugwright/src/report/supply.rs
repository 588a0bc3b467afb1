//! Who feeds whom, and what is wrong with that.

use engine::tree::SupplyTree;
use serde_json::{Value, json};

use crate::page::Page;

/// Writes the tree of the house after the work.
pub(crate) fn write(page: &mut Page, tree: &SupplyTree<'_>) {
    page.heading("Supply tree, after the work");
    for line in tree.lines() {
        let start = line.find(|c| c != ' ').unwrap_or(0);
        let (indent, text) = line.split_at(start);
        match text.split_once(": ") {
            Some((name, rest)) => {
                page.paragraph(indent, name);
                page.paragraph(&format!("{indent}   |  "), rest);
            }
            None => page.paragraph(indent, text),
        }
    }
    for problem in &tree.problems {
        page.paragraph("WRONG    ", &problem.to_string());
    }
}

/// The documented form.
pub(crate) fn as_json(tree: &SupplyTree<'_>) -> Value {
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
