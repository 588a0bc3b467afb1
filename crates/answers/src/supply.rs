//! Who feeds whom. Amperes.

use engine::tree::{Role, SupplyTree};
use schemars::JsonSchema;
use serde::Serialize;

/// The supply as it will stand.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Supply<'r> {
    /// From the utility outwards.
    boards: Vec<BoardInSupply<'r>>,
    /// What is wrong with it, in words.
    problems: Vec<String>,
}

/// A board's place in the supply.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct BoardInSupply<'r> {
    board: &'r str,
    /// The board that feeds it; `null` at the utility.
    fed_from: Option<&'r str>,
    /// The feeder that does.
    feeder: Option<&'r str>,
    /// Feeders between it and the utility's own, 0 at the service.
    depth: usize,
    role: Role,
    /// It and the boards below it carry every branch circuit of the dwelling; `null` when nobody can tell.
    carries_entire_dwelling: Option<bool>,
    /// Rating of the device that protects its bus, amperes.
    protected_by_a: Option<f64>,
}

/// The documented form.
#[must_use]
pub fn of<'r>(tree: &SupplyTree<'r>) -> Supply<'r> {
    let boards = tree.nodes.iter().map(|node| BoardInSupply {
        board: node.id,
        fed_from: node.parent.and_then(|p| tree.nodes.get(p)).map(|n| n.id),
        feeder: node.feeder.map(|(id, _)| id),
        depth: node.depth,
        role: node.role,
        carries_entire_dwelling: node.carries_entire_dwelling.get(),
        protected_by_a: node.protected_by.get().map(|a| a.0),
    });
    Supply {
        boards: boards.collect(),
        problems: tree.problems.iter().map(ToString::to_string).collect(),
    }
}
