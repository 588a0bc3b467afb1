//! The new panel first, and the ways that a plan names: what each comes to, and what refuses one.

use engine::cutover::{CannotPlan, Limit, plan, plan_as};
use model::plan::{Plan, Transfer};
use model::{Fact, Job, JobFile};

use crate::holds::check;
use crate::plans::{ALL_EXTENDED, ELSEWHERE, HEAD, beside, circuits, example, job, times};

#[test]
fn with_the_new_panel_first_a_circuit_is_dark_for_its_own_transfer_alone() {
    let job = job("", &circuits(5), &format!("{ELSEWHERE}\n{ALL_EXTENDED}"));
    for workers in 1..=3 {
        let cut = plan_as(&job, &beside(Transfer::OwnBox, workers, 8.0), &times()).unwrap();
        check(&job, &cut);
        assert!(cut.score.is_optimal());
        for circuit in cut.circuits.iter().filter(|c| c.id != "main-hall") {
            // The board above is dark 20 + 20 + 20 min for the feeder, the circuit for lock 3 + join 10 + splices 5 + tests 4 + on 2.
            let lengths: Vec<u64> = circuit.dark.iter().map(|d| d.length().minutes()).collect();
            assert_eq!(lengths, [60, 24], "{}", circuit.id);
        }
        let above = cut.circuits.iter().find(|c| c.id == "main-hall").unwrap();
        assert_eq!(above.total().minutes(), 60);
        // The board above is locked out at its main, whose line side stays live; the page says so first.
        assert!(
            cut.locks
                .iter()
                .any(|l| l.board == "S" && l.words.to_string().contains("STAYS LIVE"))
        );
        assert!(!cut.needs_utility);
    }
}

#[test]
fn every_way_is_what_planning_again_says() {
    let job = example("ranch-subpanel.toml");
    let cut = plan(&job, &times()).unwrap();
    assert!(
        cut.circuits
            .iter()
            .any(|c| matches!(c.limit, Limit::Broken(_)))
    );
    let three = cut
        .ways
        .iter()
        .find(|w| w.words.to_string() == "3 workers")
        .unwrap();
    let again = plan_as(
        &job,
        &Plan {
            workers: 3,
            ..job.plan.clone()
        },
        &times(),
    )
    .unwrap();
    assert!((three.dark_hours - again.score.dark_hours()).abs() < 1e-9);
    assert_eq!(three.end, again.end);
    let power = cut
        .ways
        .iter()
        .find(|w| w.words.to_string().starts_with("temporary power"))
        .unwrap();
    assert!(power.keeps_all && power.longest.minutes() < 10);
}

#[test]
fn an_approach_that_does_not_suit_the_job_is_refused_with_what_would_make_it_suit() {
    let refused = |job: &Job, plan: Plan, says: &str| match plan_as(job, &plan, &times()) {
        Err(CannotPlan::NewPanelFirst(why)) => assert!(why.to_string().contains(says), "{why}"),
        other => panic!("{other:?}"),
    };
    let here = job("", &circuits(2), "");
    refused(&here, beside(Transfer::OwnBox, 1, 8.0), "stand clear");
    let there = job("", &circuits(2), ELSEWHERE);
    let alone = Plan {
        second_feeder: Fact::Unknown,
        ..beside(Transfer::OwnBox, 1, 8.0)
    };
    refused(&there, alone, "second_feeder");
    let splice_box = job(
        "",
        &circuits(2),
        "route_from_old = 120\nold_cabinet = \"splice_box\"",
    );
    refused(&splice_box, beside(Transfer::OldCabinet, 1, 8.0), "own_box");
    let nothing = JobFile::read(&format!(
        "{HEAD}[before.circuits]\na = {{ board = \"Q\" }}\n"
    ))
    .unwrap()
    .job;
    assert!(matches!(plan(&nothing, &times()), Err(CannotPlan::Nothing)));
}
