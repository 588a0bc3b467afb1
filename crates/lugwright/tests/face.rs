//! The face of a board from the command line: layout, proof, drawing, and what is said when it cannot be.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod run;

use run::{file, lugwright, root};
use serde_json::Value;

const RANCH: &str = "examples/ranch-subpanel.toml";

fn json(words: &[&str], code: i32) -> Value {
    let ran = lugwright(&[words, &["--format", "json"]].concat());
    assert_eq!(ran.code, code, "{words:?}\n{}{}", ran.out, ran.err);
    serde_json::from_str(&ran.out).expect("JSON")
}

/// Number, column, row and leg of the space where something sits.
fn seat(face: &Value, name: &str) -> (u64, u64, u64, String) {
    let spaces = face["spaces"].as_array().expect("spaces");
    let here = |s: &&Value| {
        let occupants = s["occupants"].as_array().expect("occupants");
        occupants.iter().any(|o| o["name"] == name)
    };
    let space = spaces.iter().find(here).unwrap_or_else(|| panic!("{name}"));
    let number = |field: &str| space[field].as_u64().expect("a number");
    (
        number("number"),
        number("column"),
        number("row"),
        space["leg"].to_string(),
    )
}

/// The ranch with these words exchanged in its job file.
fn ranch(name: &str, exchanges: &[(&str, &str)]) -> String {
    let mut text = std::fs::read_to_string(root().join(RANCH)).expect("the demo");
    for (old, new) in exchanges {
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
    }
    file(name, text.as_bytes())
}

#[test]
fn the_demo_is_proven_on_every_level_and_its_shared_neutral_comes_to_opposite_legs() {
    let face = json(&["face", RANCH], 0);
    let proofs = face["proofs"].as_array().expect("proofs");
    assert_eq!(proofs.len(), 8);
    assert!(proofs.iter().all(|p| p["proven"] == true), "{proofs:?}");
    let (one, other) = (seat(&face, "kitchen-1"), seat(&face, "kitchen-2"));
    assert_eq!(one.1, other.1);
    assert_eq!(one.2.abs_diff(other.2), 1);
    assert_ne!(one.3, other.3);
}

#[test]
fn the_solar_breaker_goes_to_the_far_end_of_the_bus() {
    let face = json(
        &["face", "examples/three-level-service.toml", "--board", "P"],
        0,
    );
    let (_, _, row, _) = seat(&face, "solar");
    assert_eq!(row, 18, "the last two rows of twenty");
}

#[test]
fn the_drawing_is_well_formed_and_shows_both_boards() {
    let path = file("face.svg", b"");
    let ran = lugwright(&["face", RANCH, "--svg", &path]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let text = std::fs::read_to_string(&path).expect("the drawing");
    let document = roxmltree::Document::parse(&text).expect("XML");
    let words: Vec<&str> = document.descendants().filter_map(|n| n.text()).collect();
    for word in ["before", "after", "on leg A", "on leg B"] {
        assert!(words.contains(&word), "{word}");
    }
}

#[test]
fn more_circuits_than_spaces_are_answered_with_changes_that_fit() {
    let path = ranch(
        "full.toml",
        &[(
            "spaces = { is = 30, by = \"planned\" }",
            "spaces = { is = 20, by = \"planned\" }",
        )],
    );
    let face = json(&["face", &path], 1);
    assert_eq!(face["fits"], false);
    let page = lugwright(&["face", &path]);
    let text = std::fs::read_to_string(&path).expect("the job");
    let line = text
        .lines()
        .position(|l| l == "spaces = { is = 20, by = \"planned\" }");
    let place = format!("at {path}:{}:1", line.expect("the line") + 1);
    assert!(page.out.contains(&place), "no `{place}` in\n{}", page.out);
    assert_eq!(face["why_not"], "28 spaces are needed and 20 are there");
    let offered = face["changes_that_fit"].as_array().expect("changes");
    let next = offered
        .iter()
        .find(|c| c["what"].as_str().is_some_and(|w| w.contains("30 spaces")));
    assert!(next.is_some(), "{offered:?}");
}

#[test]
fn a_wrong_board_is_answered_with_the_boards_there_are() {
    let ran = lugwright(&["face", RANCH, "--board", "X"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("no board `X`") && ran.err.contains('Q'),
        "{}",
        ran.err
    );
}

#[test]
fn a_board_whose_legs_nobody_read_is_asked_for_them() {
    let path = ranch(
        "legs.toml",
        &[("leg_rows = \"AB\"\n", "leg_rows = \"unknown\"\n")],
    );
    let ran = lugwright(&["face", &path]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("leg_rows"), "{}", ran.err);
}

#[test]
fn a_circuit_pinned_to_unknown_spaces_is_a_mistake_with_its_line() {
    let path = ranch(
        "pinned.toml",
        &[(
            "alarms = { spaces = { is = [\"19\"], by = \"planned\" }",
            "alarms = { spaces = \"unknown\", pinned = true",
        )],
    );
    let ran = lugwright(&["face", &path]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("pinned") && ran.err.contains("pinned.toml:"),
        "{}",
        ran.err
    );
}
