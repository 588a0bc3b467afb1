//! What the work is. Inches.

use model::id::{BoardId, CircuitId, FeederId, LoadId, SourceId};
use model::scope::{Change, Scope};
use schemars::JsonSchema;
use serde::Serialize;

/// The difference of the two pictures: everything of either, changed or kept.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ScopeOfWork<'r> {
    /// Boards.
    boards: Vec<BoardInScope<'r>>,
    /// Feeders.
    feeders: Vec<FeederInScope<'r>>,
    /// Circuits.
    circuits: Vec<CircuitInScope<'r>>,
    /// Loads that are new.
    loads_added: &'r [LoadId],
    /// Loads that go.
    loads_removed: &'r [LoadId],
    /// Sources that are new.
    sources_added: &'r [SourceId],
}

/// What happens to a board.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct BoardInScope<'r> {
    id: &'r BoardId,
    change: Change,
    /// It moves to another place.
    relocated: bool,
    /// Only the interior is new.
    interior_only: bool,
}

/// What happens to a feeder.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FeederInScope<'r> {
    id: &'r FeederId,
    change: Change,
}

/// What happens to a circuit. `null` where nobody can tell.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CircuitInScope<'r> {
    id: &'r CircuitId,
    change: Change,
    /// It starts in another board than before.
    other_board: bool,
    /// Its conductors are lengthened.
    extended: Option<bool>,
    /// Length added outside enclosures, inches.
    added_outside_in: Option<f64>,
    /// Length added in all, inches.
    added_total_in: Option<f64>,
    /// It is only cut shorter.
    cut_shorter: Option<bool>,
}

/// The documented form.
#[must_use]
pub fn of(scope: &Scope) -> ScopeOfWork<'_> {
    let boards = scope.boards.iter().map(|(id, b)| BoardInScope {
        id,
        change: b.change,
        relocated: b.relocated,
        interior_only: b.interior_only,
    });
    let feeders = scope.feeders.iter();
    let circuits = scope.circuits.iter().map(|(id, c)| CircuitInScope {
        id,
        change: c.change,
        other_board: c.other_board,
        extended: c.extended.get(),
        added_outside_in: c.added_outside.get().map(|l| l.0),
        added_total_in: c.added_total.get().map(|l| l.0),
        cut_shorter: c.cut_shorter.get(),
    });
    ScopeOfWork {
        boards: boards.collect(),
        feeders: feeders
            .map(|(id, change)| FeederInScope {
                id,
                change: *change,
            })
            .collect(),
        circuits: circuits.collect(),
        loads_added: &scope.loads_added,
        loads_removed: &scope.loads_removed,
        sources_added: &scope.sources_added,
    }
}
