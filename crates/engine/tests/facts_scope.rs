//! The difference of the pictures decides: what is lengthened, and by how much, is never entered.

#![allow(clippy::unwrap_used, clippy::panic)]

mod jobs_in_text;

use engine::facts::Place;
use jobs_in_text::{book, house, read};
use rulebook::requirement::Verdict;

/// Moves panel Q by `inches` along its wall, the old cabinet staying as a splice box with `make_up` inches inside the enclosures.
fn moved(edition: &str, place: &str, inches: f64, make_up: f64) -> String {
    let after = format!(
        "[after.boards.Q]\nreplaced = true\nold_cabinet = \"splice_box\"\nmake_up = {make_up}\nposition = {{ wall = \"north\", x = {}, y = 60 }}",
        10.0 + inches
    );
    house(edition, place, &after)
}

fn check(text: &str, requirement: &str, circuit: &str, expected: Option<Verdict>) {
    let file = read(text);
    let book = book(file.job.place.edition);
    let report = engine::check(&file.job, &book);
    let id = circuit.try_into().unwrap();
    let verdict = report.findings.verdict(requirement, Place::Circuit(&id));
    assert_eq!(verdict, expected, "{requirement} at {circuit}");
}

#[test]
fn a_panel_that_moves_nine_feet_asks_for_arc_fault_protection() {
    let text = moved("2023", "", 108.0, 30.0);
    check(&text, "afci-extension", "bed", Some(Verdict::Required));
}

#[test]
fn a_panel_that_moves_less_than_six_feet_does_not() {
    let text = moved("2023", "", 70.0, 30.0);
    check(&text, "afci-extension", "bed", None);
}

#[test]
fn before_2020_the_length_inside_enclosures_counts_unless_the_inspector_leaves_it_out() {
    let no = "\"job.ahj_measures_outside_only\" = false";
    let yes = "\"job.ahj_measures_outside_only\" = true";
    let text = moved("2017", no, 70.0, 30.0);
    check(&text, "afci-extension", "bed", Some(Verdict::Required));
    let text = moved("2017", yes, 70.0, 30.0);
    check(&text, "afci-extension", "bed", None);
    let text = moved("2017", "", 70.0, 30.0);
    let open = Some(Verdict::CannotTellIfApplies);
    check(&text, "afci-extension", "bed", open);
}

#[test]
fn a_circuit_that_stays_is_left_alone() {
    let text = moved("2023", "", 108.0, 30.0);
    check(&text, "afci-extension", "shop", None);
    check(&text, "splices-in-boxes", "shop", None);
}

#[test]
fn a_planned_arc_fault_breaker_meets_the_requirement() {
    let planned = "\n[after.circuits.bed]\nprotection = { is = \"afci\", by = \"planned\" }";
    let text = moved("2023", "", 108.0, 30.0) + planned;
    check(&text, "afci-extension", "bed", Some(Verdict::Met));
}
