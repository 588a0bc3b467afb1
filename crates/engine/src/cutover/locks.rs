//! Where is the work made dead? At the feeder's device for a fed board, at the main or by the utility for the service.
//! Source: the supply tree. Line-side conductors of a main stay live; only the utility can kill them.

use std::collections::BTreeSet;

use model::Job;
use model::house::{MainKind, SourceKind, UTILITY};
use model::scope::{Change, Scope};
use serde::Serialize;

use super::words;
use super::work::Panel;
use crate::saying::Saying;
use crate::tree::{Role, SupplyTree};

/// A place where a board is made dead.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Lock<'j> {
    /// Board that is made dead, and all below it.
    pub board: &'j str,
    /// How.
    pub by: By,
    /// The same in words.
    pub words: Saying,
}

/// How a board is made dead.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "LockedBy")]
#[serde(rename_all = "snake_case")]
pub enum By {
    /// The device at the supply end of its feeder.
    FeederDevice,
    /// Its own main; the line side stays live.
    OwnMain,
    /// The utility disconnects.
    Utility,
    /// The breaker of another source.
    Source,
    /// Nobody can tell: nothing feeds the board in this picture.
    Unknown,
}

/// Locks of the topmost of these boards, then of every other source that could feed them.
pub(super) fn of<'j>(
    job: &'j Job,
    scope: &Scope,
    tree: &SupplyTree<'j>,
    boards: &BTreeSet<&'j str>,
    panels: &[Panel<'_>],
) -> Vec<Lock<'j>> {
    let below_another = |id: &str| {
        boards
            .iter()
            .any(|other| *other != id && tree.is_at_or_below(id, other))
    };
    let mut locks: Vec<Lock<'j>> = boards
        .iter()
        .filter(|b| !below_another(b))
        .map(|b| lock(scope, tree, b, panels))
        .collect();
    if locks.is_empty() {
        return locks;
    }
    for (id, source) in &job.before.sources {
        let pattern = match source.kind {
            SourceKind::Photovoltaic => words::LOCK_PHOTOVOLTAIC,
            SourceKind::Battery => words::LOCK_BATTERY,
            SourceKind::Generator => words::LOCK_GENERATOR,
        };
        locks.push(Lock {
            board: &source.board,
            by: By::Source,
            words: pattern.with("source", id).with("board", &source.board),
        });
    }
    locks
}

fn lock<'j>(
    scope: &Scope,
    tree: &SupplyTree<'j>,
    board: &'j str,
    panels: &[Panel<'_>],
) -> Lock<'j> {
    let told = |by, words| Lock { board, by, words };
    let Some(node) = tree.node(board) else {
        return told(By::Unknown, words::LOCK_SUPPLY_UNKNOWN.with("board", board));
    };
    let Some((feeder, wires)) = node.feeder.filter(|_| node.role != Role::Unfed) else {
        return told(By::Unknown, words::LOCK_UNFED.with("board", board));
    };
    if wires.from != UTILITY {
        let device = match wires.breaker.get() {
            Some(amps) => words::LOCK_FEEDER_AMPS.with("amps", amps),
            None => words::LOCK_FEEDER.into(),
        };
        let device = device.with("feeder", feeder).with("from", &wires.from);
        return told(By::FeederDevice, device.with("board", board));
    }
    let renewed = panels.iter().any(|p| p.id == board && p.stood)
        || scope.feeder(feeder) != Some(Change::Kept);
    let has_main = matches!(
        node.board.main.get(),
        Some(MainKind::MainBreaker | MainKind::BackfedBreaker)
    );
    if renewed || !has_main {
        told(By::Utility, words::LOCK_UTILITY.with("board", board))
    } else {
        told(By::OwnMain, words::LOCK_MAIN.with("board", board))
    }
}
