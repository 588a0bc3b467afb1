//! `move` from the command line: the demo's answer, its drawing, and what is said of wrong input.
//! Sources: the demo jobs; lengths beside them are worked out by hand.

#![allow(clippy::expect_used, reason = "a test may stop")]

mod run;

use run::{file, lugwright, root};
use serde_json::Value;

const RANCH: &str = "examples/ranch-subpanel.toml";

fn check(words: &[&str], code: i32, says: &[&str]) {
    let ran = lugwright(words);
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let all = flat(&format!("{}{}", ran.out, ran.err));
    assert_eq!(ran.code, code, "{words:?}\n{all}");
    for part in says {
        assert!(
            all.contains(&flat(part)),
            "{words:?}: no `{part}` in\n{all}"
        );
    }
}

fn json(words: &[&str], code: i32) -> Value {
    let ran = lugwright(&[words, &["--format", "json"]].concat());
    assert_eq!(ran.code, code, "{words:?}\n{}", ran.err);
    serde_json::from_str(&ran.out).expect("one JSON value")
}

/// By hand: the old panel is 10 in from the left end of the closet wall, that is at 50 in along the hall, and 38 in high; the new one hangs at
/// 34 in. 72 in of path are used up at 50 + 72 - 4 = 118 in, 9 ft 10 in along the hall; the return-air duct ends at 58 in.
#[test]
fn the_demo_names_its_cheapest_place_and_the_cliff_at_six_feet() {
    let says = [
        "Cheapest hall, 4 ft 10 in along the wall",
        "Planned hall, 12 ft 10 in along the wall",
        "Working space depth 3 ft (110.26(A)(1))",
        "past 9 ft 10 in along the wall (6 ft along framing from the old place), rightwards: 24 circuits cross 6 ft",
        "(210.12(E)) at 14 to 16 circuits",
        "(240.24(E))",
        "(240.24(F))",
        "De-energize, lock out, and test dead",
    ];
    check(&["move", RANCH], 0, &says);
    for line in lugwright(&["move", RANCH]).out.lines() {
        assert!(line.chars().count() <= 100, "{line}");
    }
}

#[test]
fn json_has_every_place_with_its_verdicts_and_the_worksheet() {
    let value = json(&["move", RANCH, "--step", "6"], 0);
    let moved = &value["move"];
    let best = moved["best"].as_array().expect("a best place");
    let index = |i: usize| usize::try_from(best[i].as_u64().expect("a number")).expect("small");
    let place = &moved["walls"][index(0)]["places"][index(1)];
    assert_eq!(place["at"]["wall"], "hall");
    assert_eq!(place["at"]["x"], 58.0);
    let kind = usize::try_from(place["judged"].as_u64().expect("a number")).expect("small");
    assert!(moved["judged"][kind]["asked"].is_array());
    assert_eq!(value["worksheets"][0]["id"], "move.Q");
    assert_eq!(moved["step"], 6.0);
}

#[test]
fn the_drawing_is_written_and_tells_its_title() {
    let path = file("move.svg", b"");
    check(
        &["move", RANCH, "--svg", &path],
        0,
        &["Where to put panel Q"],
    );
    let svg = std::fs::read_to_string(&path).expect("a drawing");
    assert!(svg.starts_with("<svg "), "{svg:.80}");
    assert!(svg.trim_end().ends_with("</svg>"));
    for part in ["<title", "return-air duct", "cheapest place", "9 ft 10 in"] {
        assert!(svg.contains(part), "no `{part}`");
    }
    check(
        &["move", RANCH, "--svg", "no/such/folder/move.svg"],
        2,
        &["cannot write the drawing"],
    );
}

#[test]
fn wrong_input_is_named_with_its_line_or_as_the_command_line_gave_it() {
    check(
        &["move", RANCH, "--step", "0"],
        2,
        &["a step of 0 in", "0.25 to 120 in"],
    );
    check(&["move", RANCH, "--step=-3"], 2, &["a step of -3 in"]);
    check(
        &["move", RANCH, "--board", "Z"],
        2,
        &["`Z` is not a board of both pictures", "Q, S"],
    );
    check(
        &["move", "examples/swap-clean.toml"],
        2,
        &["the after picture moves 0 boards", "[candidates]"],
    );
    let text = std::fs::read_to_string(root().join(RANCH)).expect("the demo");
    let broken = |find: &str, put: &str, says: &[&str]| {
        assert!(text.contains(find), "{find}");
        let path = file("move-broken.toml", text.replacen(find, put, 1).as_bytes());
        let line = text.lines().position(|l| l.contains(find)).expect("a line") + 1;
        let place = format!("move-broken.toml:{line}:");
        check(&["move", &path], 2, &[&[place.as_str()], says].concat());
    };
    broken(
        "to = { x = 0, y = 0 }",
        "to = { x = 60, y = 0 }",
        &["wall `closet` is 0 in long"],
    );
    broken(
        "{ what = \"bathroom door\", from = 96, to = 126",
        "{ what = \"bathroom door\", from = 96, to = 326",
        &["obstacle `bathroom door` runs from 96 in to 326 in"],
    );
    broken("step = 1", "step = 0", &["`step` is 0 in"]);
    broken(
        "position = { wall = \"hall\", x = 154, y = 34 }",
        "position = { wall = \"hall\", x = 190, y = 34 }",
        &["it ends beyond wall `hall`"],
    );
}
