//! What is dark with a service, a feeder, a circuit that goes or comes; and what two legs of a wye are asked.

use engine::cutover::{GateKind, Step, plan};
use model::JobFile;

use crate::holds::check;
use crate::plans::{HEAD, circuits, example, job, times};

#[test]
fn a_service_waits_for_the_utility_and_a_subpanel_does_not() {
    let service = |plan: &str| {
        let text = format!(
            "{HEAD}[before.circuits]\na = {{ board = \"S\" }}\nb = {{ board = \"Q\" }}\n[after.boards.S]\nreplaced = true\n[plan]\nworkers = 1\n{plan}"
        );
        JobFile::read(&text).unwrap().job
    };
    let unbooked = service("");
    let cut = plan(&unbooked, &times()).unwrap();
    check(&unbooked, &cut);
    assert!(
        cut.needs_utility
            && cut
                .warnings
                .iter()
                .any(|w| w.to_string().contains("utility"))
    );
    let b = cut.circuits.iter().find(|c| c.id == "b").unwrap();
    assert_eq!(b.dark.len(), 1, "the subpanel below goes dark too");
    let gate = cut
        .gates
        .iter()
        .find(|g| g.kind == GateKind::BondState)
        .unwrap();
    assert!(gate.words.to_string().contains("bond IN"), "{}", gate.words);

    let booked =
        service("start = \"07:00\"\nutility_window = { from = \"10:00\", to = \"12:00\" }");
    let cut = plan(&booked, &times()).unwrap();
    assert!(cut.circuits.iter().all(|c| c.dark[0].from.hours().0 >= 3.0));
    assert!(
        cut.warnings
            .iter()
            .any(|w| w.to_string().contains("window has closed"))
    );
    let long = service("start = \"07:00\"\nutility_window = { from = \"08:00\", to = \"16:00\" }");
    let cut = plan(&long, &times()).unwrap();
    assert!(
        !cut.warnings
            .iter()
            .any(|w| w.to_string().contains("window")),
        "{:?}",
        cut.warnings
    );

    let sub = job(
        "start = \"07:00\"\nutility_window = { from = \"10:00\", to = \"12:00\" }",
        &circuits(2),
        "",
    );
    let cut = plan(&sub, &times()).unwrap();
    assert!(
        !cut.needs_utility
            && cut
                .notices
                .iter()
                .any(|n| n.to_string().contains("utility is not needed"))
    );
    let gate = cut
        .gates
        .iter()
        .find(|g| g.kind == GateKind::BondState)
        .unwrap();
    assert!(
        gate.words.to_string().contains("bond OUT"),
        "{}",
        gate.words
    );
}

#[test]
fn a_new_feeder_darkens_the_board_above_for_its_landing_only() {
    let job = job(
        "workers = 1",
        &circuits(2),
        "[after.feeders.Q-feeder]\nreplaced = true",
    );
    let cut = plan(&job, &times()).unwrap();
    check(&job, &cut);
    let above = cut.circuits.iter().find(|c| c.id == "main-hall").unwrap();
    // Lock out 20, land 20, prove 20.
    assert_eq!(above.total().minutes(), 60);
    assert!(
        cut.locks
            .iter()
            .any(|l| l.words.to_string().contains("STAYS LIVE"))
    );
}

#[test]
fn two_legs_of_208_are_not_asked_to_add_up() {
    let job = example("apartment-208.toml");
    let cut = plan(&job, &times()).unwrap();
    let gate = cut
        .gates
        .iter()
        .find(|g| g.kind == GateKind::VoltagesProven)
        .unwrap();
    assert!(
        gate.words.to_string().contains("1.73") && gate.words.to_string().contains("208"),
        "{}",
        gate.words
    );
}

#[test]
fn circuits_taken_out_are_left_off_and_new_ones_come_on_once() {
    let job = job(
        "workers = 1",
        &circuits(3),
        "[after.circuits]\nc01 = { gone = true }\nnew = { board = \"Q\" }",
    );
    let cut = plan(&job, &times()).unwrap();
    check(&job, &cut);
    assert_eq!(
        (cut.left_off.as_slice(), cut.new_circuits.as_slice()),
        (["c01"].as_slice(), ["new"].as_slice())
    );
    let on = cut.tasks.iter().filter(|t| t.step == Step::Restore);
    let mut on: Vec<&str> = on.flat_map(|t| t.circuits.iter().copied()).collect();
    on.sort_unstable();
    assert_eq!(on, ["c00", "c02", "new"]);
}
