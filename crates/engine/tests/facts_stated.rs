//! Facts stated by their dictionary name: where they fill, where they disagree, and how a mistake in one is reported.

#![allow(clippy::unwrap_used, clippy::panic)]

mod jobs_in_text;

use engine::facts::check_stated;
use jobs_in_text::{book, house, read};
use model::Edition;

/// Each mistake as `line: found / expected`.
fn check(after: &str, place: &str, expected: &[(&str, &str, &str)]) {
    let text = house("2023", place, after);
    let file = read(&text);
    let book = book(Edition::Y2023);
    let mistakes = check_stated(&file, book.facts());
    assert_eq!(mistakes.len(), expected.len(), "{mistakes:?}");
    for (mistake, (line, found, advice)) in mistakes.iter().zip(expected) {
        let (at, _) = mistake.position(file.text());
        let stands = text.lines().nth(at - 1).unwrap_or("");
        assert!(stands.contains(line), "points at `{stands}`");
        assert!(mistake.found.contains(found), "{}", mistake.found);
        assert!(mistake.expected.contains(advice), "{}", mistake.expected);
    }
}

#[test]
fn an_unknown_name_is_shown_with_its_line_and_the_nearest_name() {
    check(
        "[after.boards.Q.facts]\nws_lite = true",
        "",
        &[("ws_lite = true", "`ws_lite`", "`ws_lit`")],
    );
}

#[test]
fn a_name_of_another_thing_is_not_taken() {
    check(
        "[after.circuits.bed.facts]\nws_lit = true",
        "",
        &[("ws_lit", "no fact `ws_lit`", "")],
    );
}

#[test]
fn a_wrong_kind_says_what_the_fact_takes() {
    check(
        "[after.boards.Q.facts]\nws_lit = 3",
        "",
        &[("ws_lit = 3", "`3`", "true or false")],
    );
}

#[test]
fn a_word_outside_the_vocabulary_is_shown_with_the_nearest() {
    check(
        "[after.boards.Q.facts]\nface = \"vertikal\"",
        "",
        &[("face", "`vertikal`", "`vertical`")],
    );
    check(
        "[after.circuits.bed]\nrooms = [\"bedrom\"]",
        "",
        &[("rooms", "`bedrom`", "`bedroom`")],
    );
}

#[test]
fn facts_of_the_place_are_checked_by_their_full_name() {
    check(
        "",
        "\"job.building_permit_wrok\" = true",
        &[("wrok", "building_permit_wrok", "`job.building_permit_work`")],
    );
    check("", "\"job.building_permit_work\" = true", &[]);
}

#[test]
fn a_stated_fact_that_the_pictures_contradict_is_reported_and_not_used() {
    let after = "[after.circuits.bed.facts]\nextended = true\nknob_and_tube = true";
    let file = read(&house("2023", "", after));
    let book = book(Edition::Y2023);
    let report = engine::check(&file.job, &book);
    let said: Vec<_> = report
        .disagreements()
        .iter()
        .map(|d| (book.facts().name(d.fact), d.place.to_string()))
        .collect();
    assert_eq!(said, [("circuit.extended", "circuit bed".to_owned())]);
    assert_eq!(report.findings.of("splices-in-boxes").count(), 0);
    assert_eq!(report.findings.of("knob-and-tube").count(), 0);
}

#[test]
fn every_fact_that_stays_with_a_place_is_one_about_a_panel() {
    let book = book(Edition::Y2023);
    for name in model::file::FACTS_OF_THE_PLACE {
        let full = format!("panel.{name}");
        assert!(book.facts().find(&full).is_some(), "no fact `{full}`");
    }
}

#[test]
fn what_a_board_states_of_its_circuits_fills_only_what_they_leave_open() {
    let after = "[after.boards.Q]\ncircuit_facts = { splices_in_boxes = { is = true, by = 'planned' }, boxes_accessible = true }\n\
        [after.circuits.bed]\nfacts = { boxes_accessible = 'unknown' }\n";
    let file = read(&house("2023", "", after));
    let book = book(Edition::Y2023);
    assert!(check_stated(&file, book.facts()).is_empty());
    let report = engine::check(&file.job, &book);
    let bed = file.job.after.circuits.get_key_value("bed").unwrap().0;
    let row = report
        .facts
        .row_of(engine::facts::Place::Circuit(bed))
        .unwrap();
    let value = |name: &str| report.facts.value(row, book.facts().find(name).unwrap());
    assert_eq!(
        value("circuit.splices_in_boxes"),
        Some((rulebook::Datum::Bool(true), model::Said::Planned))
    );
    assert_eq!(value("circuit.boxes_accessible"), None);
    let wrong = after.replace("splices_in_boxes", "splices_in_boxen");
    check(
        &wrong,
        "",
        &[(
            "splices_in_boxen",
            "no fact `splices_in_boxen`",
            "splices_in_boxes",
        )],
    );
}
