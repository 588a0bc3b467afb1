//! How many spaces should the box have?
//! Source: counted from the two pictures; spare share and sizes of boxes are common practice without a source. Full-size spaces.

use model::house::Protection;
use serde::Serialize;

use super::build::{Prepared, needs_protection, number};
use super::remedy::BOX_SIZES;
use crate::check::Report;

/// Spare spaces: this share of what is needed, and at least so many. Common practice, no source.
const SPARE_SHARE: f64 = 0.2;
const SPARE_LEAST: u32 = 6;

/// Spaces counted, and the box that holds them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "BoxSize")]
pub struct Size {
    /// Spaces in use before the work.
    pub used_before: u32,
    /// Spaces more because halves of tandem breakers become breakers of full width.
    pub freed_tandems: u32,
    /// Circuits, feeders and devices that were not on the board before.
    pub added: u32,
    /// Spaces that everything takes with breakers of full width.
    pub needed: u32,
    /// Circuits that need arc-fault or ground-fault protection which is not planned yet; each takes a full space.
    pub protection_to_add: u32,
    /// Spaces for loads that the customer named for later.
    pub future: u32,
    /// Spare spaces.
    pub spare: u32,
    /// The smallest common box that holds all of it; `None` when one box is not enough.
    pub recommended: Option<u32>,
    /// Spaces of the planned box.
    pub planned: u32,
}

/// Counts the spaces of a board.
#[must_use]
pub fn recommend(report: &Report<'_>, prepared: &Prepared) -> Size {
    let problem = &prepared.problem;
    let board = problem.board.as_str();
    let mut old: Vec<u32> = Vec::new();
    let (mut halves, mut half_spaces) = (0, Vec::new());
    let before = &report.job.before;
    for circuit in before.circuits.values().filter(|c| c.board == board) {
        for space in circuit.spaces.known().into_iter().flatten() {
            let Some(n) = number(space) else { continue };
            old.push(n);
            if space.ends_with(['A', 'B']) {
                halves += 1;
                half_spaces.push(n);
            }
        }
    }
    for feeder in before.feeders.values().filter(|f| f.from == board) {
        old.extend(feeder.spaces.known().into_iter().flatten());
    }
    old.sort_unstable();
    old.dedup();
    half_spaces.sort_unstable();
    half_spaces.dedup();
    let needed = problem.width();
    let after = &report.job.after;
    let protection_to_add = after
        .circuits
        .iter()
        .filter(|(id, c)| {
            let plain = c.protection.get().is_none_or(|p| p == Protection::None);
            c.board == board && plain && needs_protection(report, id.as_str())
        })
        .count() as u32;
    let on_circuit = |id: &model::id::LoadId| after.circuits.values().any(|c| c.loads.contains(id));
    let future: u32 = after
        .loads
        .iter()
        .filter(|(id, l)| l.future && !on_circuit(id))
        .map(|(_, l)| {
            if l.volts.get().is_some_and(|v| v.0 < 200.0) {
                1
            } else {
                2
            }
        })
        .sum();
    let was_there = |circuit: &str| {
        let circuit_there = before
            .circuits
            .get(circuit)
            .is_some_and(|c| c.board == board);
        circuit_there || before.feeders.get(circuit).is_some_and(|f| f.from == board)
    };
    let added = problem
        .items
        .iter()
        .filter(|i| !i.poles.iter().any(|p| was_there(&p.circuit)))
        .map(|i| u32::from(i.width))
        .sum();
    let share = (f64::from(needed + future) * SPARE_SHARE).ceil() as u32;
    let spare = share.max(SPARE_LEAST).max(problem.spare);
    let all = needed + future + spare;
    Size {
        used_before: old.len() as u32,
        freed_tandems: halves - half_spaces.len() as u32,
        added,
        needed,
        protection_to_add,
        future,
        spare,
        recommended: BOX_SIZES.into_iter().find(|s| *s >= all),
        planned: problem.spaces.len() as u32,
    }
}
