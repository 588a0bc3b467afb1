//! Which answers to a question could make a difference?
//! Source: the fact's vocabulary, and the numbers that conditions hold it against. Numbers in the fact's unit.

use rulebook::{Datum, FactEntry, FactKind};

use super::Open;
use crate::facts::Bound;

/// How far below and above a threshold an answer is tried: one whole unit, as tape and label read.
const STEP: f64 = 1.0;

/// Every answer worth trying: both truths, each word, no tag and each tag alone, numbers below, at and above each threshold.
pub(super) fn to_try(bound: &Bound<'_>, entry: &FactEntry, open: &[Open<'_>]) -> Vec<Datum> {
    match entry.kind {
        FactKind::Bool => vec![Datum::Bool(false), Datum::Bool(true)],
        FactKind::Word => (0..entry.words.len() as u16).map(Datum::Word).collect(),
        FactKind::Set => std::iter::once(0)
            .chain((0..entry.words.len()).map(|i| 1 << i))
            .map(Datum::Set)
            .collect(),
        FactKind::Number => numbers(bound, open),
    }
}

fn numbers(bound: &Bound<'_>, open: &[Open<'_>]) -> Vec<Datum> {
    let mut at = Vec::new();
    for one in open {
        at.extend(one.requirement.thresholds(one.fact));
        // A number may also be held against another known number of the same requirement.
        let slots = bound.slots(one.row);
        for other in one.requirement.facts().iter().filter(|f| *f != one.fact) {
            if let Some(Some(Datum::Number(n))) = slots.get(other.index()) {
                at.push(*n);
            }
        }
    }
    at.sort_by(f64::total_cmp);
    at.dedup();
    at.into_iter()
        .flat_map(|n| [n - STEP, n, n + STEP])
        .map(Datum::Number)
        .collect()
}
