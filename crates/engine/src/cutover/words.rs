//! The sentences of a cut-over: gates, ends of feeders, times of the plan. Safety first, in plain words.

use model::Job;
use model::house::System;
use model::plan::Plan;

use super::diary::{Diary, GateKind};
use super::locks::Lock;
use super::lots::Lot;
use super::time::Seconds;
use super::work::{FeederEnd, Panel};
use crate::tree::Role;

/// The utility's window, from and to, counted from the crew's arrival.
pub(super) fn window(plan: &Plan) -> Option<(Seconds, Seconds)> {
    let (window, start) = (plan.utility_window?, plan.start?);
    let since = |minutes: u16| Seconds(u64::from(minutes.saturating_sub(start.minutes())) * 60);
    Some((since(window.from.minutes()), since(window.to.minutes())))
}

pub(super) fn panel(panel: &Panel<'_>) -> String {
    if panel.name.is_empty() {
        format!("board {}", panel.id)
    } else {
        format!("board {} ({})", panel.id, panel.name)
    }
}

pub(super) fn feeder_end(end: &FeederEnd<'_>) -> String {
    if end.is_supply_end {
        format!(
            "land feeder {} on its device in board {}",
            end.feeder, end.board
        )
    } else {
        format!(
            "land feeder {} on board {}: ground first, then neutral, then hots",
            end.feeder, end.board
        )
    }
}

pub(super) fn landing(lot: &Lot<'_>) -> &'static str {
    if lot.prepare > Seconds::ZERO {
        "dead tests with the neutral lifted, join to its extension"
    } else if lot.extended != Some(false) {
        "lengthen, dead tests with the neutral lifted, land"
    } else {
        "dead tests with the neutral lifted, land"
    }
}

/// Locked out, and tested dead.
pub(super) fn dead_gates(diary: &mut Diary<'_>, locks: &[Lock<'_>]) {
    let words: Vec<&str> = locks.iter().map(|l| l.words.as_str()).collect();
    diary.gate(GateKind::LockedOut, words.join("; "));
    diary.gate(
        GateKind::TestedDead,
        "tester on a known live source; L1-G, L2-G, L1-N, L2-N, L1-L2, N-G all dead; tester on the live source again, same tester",
    );
}

/// Before anything is energized: bond, dead tests, torque.
pub(super) fn proof_gates(diary: &mut Diary<'_>, panels: &[Panel<'_>]) {
    for p in panels.iter().filter(|p| p.stays) {
        let bond = match p.role {
            Role::Service => "service: neutral-to-cabinet bond IN",
            Role::FeederFed => {
                "subpanel: neutral-to-cabinet bond OUT, neutrals and grounds on separate bars"
            }
            Role::Unfed => "its place in the supply is not known: do not energize before it is",
        };
        diary.gate(GateKind::BondState, format!("{}: {bond}", panel(p)));
    }
    diary.gate(
        GateKind::DeadTests,
        "no short at the bus; what failed a dead test stays off, tagged, with reason and next step",
    );
    diary.gate(
        GateKind::TorqueDone,
        "every termination torqued to the value marked on the equipment, marked, recorded",
    );
}

/// The identity of voltages that shows a sound neutral, by system.
const fn identity_of(system: System) -> &'static str {
    match system {
        System::SinglePhase120_240 => {
            "L1-N and L2-N near 120 V, L1-N + L2-N = L1-L2 within 1 to 2 V, N-G near 0 V; if not, open the main at once; only then loads come on"
        }
        System::TwoLegs208Y120 => {
            "L1-N and L2-N near 120 V and equal, L1-L2 = 1.73 x L1-N within 2 V (208 V; the legs do not add up here), N-G near 0 V; \
             if not, open the main at once; only then loads come on"
        }
    }
}

pub(super) fn identity(job: &Job) -> &'static str {
    match job.after.dwelling.system.get() {
        Some(system) => identity_of(system),
        None => {
            "L1-N and L2-N near 120 V; L1-L2 their sum on 120/240 V, 1.73 times one of them on 208Y/120 V (system not known: find out); \
             N-G near 0 V; if not, open the main at once; only then loads come on"
        }
    }
}
