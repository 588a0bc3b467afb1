//! The cut-over from the command line: what a contractor reads, what a program reads, what is drawn, and what is refused.

#![allow(clippy::expect_used, reason = "a test may stop")]

mod run;

use run::{file, lugwright, root};
use serde_json::Value;

const RANCH: &str = "examples/ranch-subpanel.toml";

fn check(words: &[&str], code: i32, says: &[&str]) {
    let ran = lugwright(words);
    assert_eq!(ran.code, code, "{words:?}\n{}{}", ran.out, ran.err);
    // A wrapped sentence is still that sentence.
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let page = flat(&format!("{}{}", ran.out, ran.err));
    for part in says {
        assert!(
            page.contains(&flat(part)),
            "{words:?}: no `{part}` in\n{}{}",
            ran.out,
            ran.err
        );
    }
}

/// The demo job with one thing changed.
fn changed(name: &str, from: &str, to: &str) -> String {
    let text = std::fs::read_to_string(root().join(RANCH)).expect("the demo job");
    assert!(text.contains(from), "{from}");
    file(name, text.replacen(from, to, 1).as_bytes())
}

#[test]
fn the_page_tells_gates_timeline_dark_hours_customer_and_ways_out() {
    check(
        &["cutover", RANCH],
        1,
        &[
            "Cut-over: one shutdown, 2 workers",
            "open and lock the 100 A device of feeder Q-feeder in board S",
            "proven the least",
            "L1-G, L2-G, L1-N, L2-N, L1-L2, N-G all dead",
            "neutral-to-cabinet bond OUT",
            "L1-N + L2-N = L1-L2 within 1 to 2 V",
            "lock out, tag, test dead with six readings",
            "sump (water in the crawl space) is dark for",
            "2 h: BROKEN",
            "Weights are our own judgement",
            "Tell the customer",
            "keep refrigerator and freezer doors shut",
            "temporary power for",
            "Line-side conductors stay live",
        ],
    );
}

#[test]
fn no_line_is_wider_than_the_page() {
    for job in ["ranch-subpanel", "big-house-42", "three-level-service"] {
        let ran = lugwright(&["cutover", &format!("examples/{job}.toml")]);
        for line in ran.out.lines() {
            assert!(line.chars().count() <= 100, "{job}: {line}");
        }
    }
}

#[test]
fn the_json_adds_up() {
    let ran = lugwright(&["cutover", RANCH, "--workers", "1", "--format", "json"]);
    assert_eq!(ran.code, 1, "{}", ran.err);
    let value: Value = serde_json::from_str(&ran.out).expect("one JSON value");
    let cut = &value["cutover"];
    let number = |v: &Value| v.as_f64().expect("a number");
    let list = |v: &Value| v.as_array().cloned().expect("a list");
    assert_eq!(cut["workers"], 1);
    let sum: f64 = list(&cut["circuits"])
        .iter()
        .map(|c| number(&c["dark_h"]) * number(&c["weight"]))
        .sum();
    assert!((sum - number(&cut["weighted_dark_h"])).abs() < 1e-6);
    for circuit in list(&cut["circuits"]) {
        let dark: f64 = list(&circuit["dark"])
            .iter()
            .map(|d| number(&d["to_h"]) - number(&d["from_h"]))
            .sum();
        assert!((dark - number(&circuit["dark_h"])).abs() < 1e-9);
    }
    assert_eq!(cut["proven_least"], true);
    assert_eq!(value["worksheets"][0]["id"], "cutover");
}

#[test]
fn the_drawing_is_a_whole_svg_with_every_dark_circuit() {
    let path = file("cutover.svg", b"");
    let ran = lugwright(&["cutover", RANCH, "--svg", &path]);
    assert_eq!(ran.code, 1, "{}", ran.err);
    let svg = std::fs::read_to_string(&path).expect("the drawing");
    assert!(
        svg.starts_with("<svg") || svg.starts_with("<?xml"),
        "{svg:.80}"
    );
    assert!(svg.trim_end().ends_with("</svg>"));
    for name in [
        "worker 2",
        "sump (limit broken)",
        "furnace (critical)",
        "water-heater",
        "day 2",
    ] {
        assert!(svg.contains(name), "{name}");
    }
    check(
        &["cutover", RANCH, "--svg", "no/such/folder/x.svg"],
        2,
        &["cannot write the drawing"],
    );
}

#[test]
fn an_approach_that_does_not_suit_is_refused_at_its_line() {
    let says = ["cannot be done new panel first", "second_feeder"];
    check(
        &["cutover", RANCH, "--approach", "new-panel-first"],
        2,
        &says,
    );
    let path = changed("approach.toml", "\"in_place\"", "\"new_panel_first\"");
    check(
        &["cutover", &path],
        2,
        &[says[0], "approach.toml:", "approach = \"new_panel_first\""],
    );
    let more = "\"new_panel_first\"\nsecond_feeder = true\ntransfer = \"own_box\"";
    let path = changed("beside.toml", "\"in_place\"", more);
    check(
        &["cutover", &path],
        0,
        &[
            "Cut-over: new panel first",
            "cut over in its own box",
            "two free spaces for the second feeder's device",
        ],
    );
}

#[test]
fn wrong_numbers_are_named_with_their_place() {
    for workers in ["0", "4", "-1"] {
        check(
            &["cutover", RANCH, &format!("--workers={workers}")],
            2,
            &["--workers"],
        );
    }
    for (name, from, to, says) in [
        (
            "workers.toml",
            "workers = 2",
            "workers = 0",
            "`workers` is 0",
        ),
        ("shift.toml", "shift = 9", "shift = 0", "`shift` is 0 h"),
        (
            "negative.toml",
            "shift = 9",
            "shift = -1",
            "`shift` is -1 h",
        ),
        (
            "window.toml",
            "shift = 9",
            "shift = 9\nutility_window = { from = \"12:00\", to = \"09:00\" }",
            "ends at 09:00, begins at 12:00",
        ),
        ("start.toml", "\"07:30\"", "\"7.30\"", "not a time of day"),
        (
            "who.toml",
            "shift = 9",
            "temporary_power = [\"sumpp\"]",
            "did you mean `sump`?",
        ),
    ] {
        let path = changed(name, from, to);
        check(&["cutover", &path], 2, &[says, &format!("{name}:")]);
    }
}

#[test]
fn a_book_with_negative_hours_or_without_an_item_is_refused_with_its_line() {
    let (_, labour) = ("", include_str!("../../shop/data/labour.csv"));
    let folder = |name: &str, text: String| {
        let path = file(&format!("{name}/labour.csv"), text.as_bytes());
        path.trim_end_matches("/labour.csv").to_owned()
    };
    let negative = labour.replacen("reland-circuit,circuit,9", "reland-circuit,circuit,-9", 1);
    let negative = folder("negative-book", negative);
    check(
        &["cutover", RANCH, "--book", &negative],
        2,
        &["labour.csv:", "`-9`", "not negative"],
    );
    let without: String = labour
        .lines()
        .filter(|l| !l.starts_with("join-extension"))
        .map(|l| format!("{l}\n"))
        .collect();
    let without = folder("short-book", without);
    check(
        &["cutover", RANCH, "--book", &without],
        2,
        &["join-extension"],
    );
    let slower = labour.replacen("join-extension,circuit,10", "join-extension,circuit,20", 1);
    let slower = folder("slow-book", slower);
    let dark = |words: &[&str]| -> f64 {
        let ran = lugwright(&[&["cutover", RANCH, "--format", "json"], words].concat());
        let value: Value = serde_json::from_str(&ran.out).expect("one JSON value");
        value["cutover"]["weighted_dark_h"]
            .as_f64()
            .expect("a number")
    };
    assert!(dark(&["--book", &slower]) > dark(&[]));
}

#[test]
fn a_job_that_opens_no_board_says_so() {
    let job = "format = 1\ntitle = \"nothing\"\n[place]\nstate = \"OH\"\nedition = \"2023\"\n[before.boards.P]\n[before.circuits]\na = { board = \"P\" }\n";
    let path = file("nothing.toml", job.as_bytes());
    check(&["cutover", &path], 0, &["Nothing goes dark"]);
    check(
        &["cutover", &path, "--format", "json"],
        0,
        &["\"cutover\": null"],
    );
}
