//! What must hold of every plan.

use engine::cutover::{CutOver, GateKind, Seconds, Step};
use model::Job;
use model::plan::Approach;

/// What must hold of every plan.
pub(crate) fn check(job: &Job, cut: &CutOver<'_>) {
    nobody_does_two_things_at_once(cut);
    gates_stand_before_every_energizing(cut);
    hands_are_only_where_it_is_dark(job, cut);
    every_circuit_comes_back(cut);
    let summed: u64 = cut.circuits.iter().map(|c| c.total().0 * c.weight).sum();
    assert_eq!(summed, cut.score.dark);
    assert!(cut.score.least <= cut.score.dark);
}

fn nobody_does_two_things_at_once(cut: &CutOver<'_>) {
    for (i, a) in cut.tasks.iter().enumerate() {
        assert!(a.start < a.end && (1..=usize::from(cut.plan.workers)).contains(&a.worker));
        assert!(a.end <= cut.end);
        for b in cut
            .tasks
            .iter()
            .skip(i + 1)
            .filter(|b| b.worker == a.worker)
        {
            assert!(a.end <= b.start || b.end <= a.start, "{a:?} {b:?}");
        }
    }
}

/// Between one energizing and the next: locked out, tested dead; torque, dead tests and bond wherever terminations were made.
fn gates_stand_before_every_energizing(cut: &CutOver<'_>) {
    let proofs: Vec<_> = cut.tasks.iter().filter(|t| t.step == Step::Prove).collect();
    assert!(!proofs.is_empty());
    let passed = |kind, from: Seconds, to: Seconds| {
        cut.gates
            .iter()
            .any(|g| g.kind == kind && g.at >= from && g.at <= to)
    };
    for proof in proofs {
        let locked = cut
            .tasks
            .iter()
            .filter(|t| t.step == Step::LockOut && t.end <= proof.start);
        let since = locked.map(|t| t.start).max();
        if let Some(since) = since {
            assert!(passed(GateKind::LockedOut, since, proof.start));
            assert!(passed(GateKind::TestedDead, since, proof.start));
        }
        let landed = |t: &&engine::cutover::Task<'_>| {
            matches!(t.step, Step::Feeder | Step::SupplyEnd | Step::Land)
                && since.is_none_or(|s| t.start >= s)
                && t.end <= proof.start
        };
        if cut.plan.approach == Approach::InPlace && cut.tasks.iter().any(|t| landed(&t)) {
            assert!(passed(GateKind::TorqueDone, since.unwrap(), proof.start));
        }
        assert!(
            passed(GateKind::VoltagesProven, proof.end, proof.end),
            "voltages before loads"
        );
    }
}

/// Landing and torque of a circuit happen while it is dark, or its loads are on temporary power and the panel is locked out.
fn hands_are_only_where_it_is_dark(job: &Job, cut: &CutOver<'_>) {
    for task in &cut.tasks {
        if !matches!(task.step, Step::Land | Step::Torque) {
            continue;
        }
        for id in &task.circuits {
            let Some(circuit) = cut.circuits.iter().find(|c| c.id == *id) else {
                assert!(!job.before.circuits.contains_key(*id), "{id} is never dark");
                continue;
            };
            let covered = circuit
                .dark
                .iter()
                .any(|d| d.from <= task.start && task.end <= d.to);
            assert!(covered || circuit.temporary, "{task:?} {:?}", circuit.dark);
        }
    }
}

/// Every span of darkness ends with the circuit switched on, or with its old panel alive again; none is left behind.
fn every_circuit_comes_back(cut: &CutOver<'_>) {
    for circuit in &cut.circuits {
        assert!(!circuit.dark.is_empty());
        for pair in circuit.dark.windows(2) {
            assert!(pair[0].to <= pair[1].from);
        }
        let landed = |t: &&engine::cutover::Task<'_>| {
            t.step == Step::Land && t.circuits.contains(&circuit.id)
        };
        assert!(
            cut.tasks.iter().filter(landed).count() <= 1,
            "{} landed twice",
            circuit.id
        );
        assert!(
            !cut.left_off.contains(&circuit.id),
            "{} is left off and comes back",
            circuit.id
        );
    }
}
