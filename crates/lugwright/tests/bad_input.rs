//! What a user reads when the input is wrong: the place, what was found, what was expected, exit code 2.

#![allow(clippy::expect_used, reason = "a test may stop")]

mod run;

use run::{file, lugwright};

const JOB: &str = "\
format = 1
title = \"small\"
[place]
state = \"OH\"
edition = \"2023\"
[before.boards.P]
bus = 125
[before.circuits]
c1 = { board = \"P\", amps = 15 }
";

fn check(name: &str, bytes: &[u8], says: &[&str]) {
    let path = file(name, bytes);
    let ran = lugwright(&["validate", &path]);
    assert_eq!(ran.code, 2, "{}{}", ran.out, ran.err);
    assert!(ran.out.is_empty(), "{}", ran.out);
    for part in says {
        assert!(ran.err.contains(part), "no `{part}` in\n{}", ran.err);
    }
}

fn check_job(name: &str, find: &str, put: &str, says: &[&str]) {
    assert!(JOB.contains(find), "{find}");
    check(name, JOB.replacen(find, put, 1).as_bytes(), says);
}

#[test]
fn a_wrong_name_is_shown_under_its_line_with_the_nearest_right_one() {
    check_job(
        "name.toml",
        "amps",
        "ampz",
        &[
            "name.toml:9:21",
            "9 | c1 = { board = \"P\", ampz = 15 }",
            "  |                     ^^^^",
            "did you mean `amps`?",
        ],
    );
}

#[test]
fn an_unknown_edition_is_an_error_never_a_default() {
    check_job(
        "edition.toml",
        "2023",
        "2022",
        &["edition.toml:5:11", "2014, 2017, 2020, 2023, 2026"],
    );
    check_job(
        "no-edition.toml",
        "edition = \"2023\"",
        "",
        &["there is no `edition`"],
    );
}

#[test]
fn a_stated_fact_must_be_in_the_dictionary_and_suit_its_kind() {
    let with = |fact: &str| format!("board = \"P\", facts = {{ {fact} }}, amps");
    check_job(
        "fact.toml",
        "board = \"P\", amps",
        &with("new_wir = true"),
        &["fact.toml:9", "new_wir"],
    );
}

#[test]
fn an_unknown_state_is_an_error_with_its_place() {
    let path = file("state.toml", JOB.replace("\"OH\"", "\"QQ\"").as_bytes());
    let ran = lugwright(&["check", &path]);
    assert_eq!(ran.code, 2, "{}", ran.out);
    assert!(ran.err.contains("state.toml:4:"), "{}", ran.err);
}

#[test]
fn an_amendment_outside_the_folder_of_the_job_is_refused() {
    let text = JOB.replace("edition =", "amendments = [\"../other.toml\"]\nedition =");
    let path = file("outside.toml", text.as_bytes());
    let ran = lugwright(&["check", &path]);
    assert_eq!(ran.code, 2, "{}", ran.out);
    assert!(ran.err.contains("leaves the folder"), "{}", ran.err);
}

#[test]
fn text_that_is_not_utf_8_is_named_by_its_byte() {
    let bytes = [JOB.as_bytes(), b"title2 = \"\xff\""].concat();
    let place = format!("byte {}", JOB.len() + 10);
    check("bytes.toml", &bytes, &[&place, "bytes.toml:10", "UTF-8"]);
}

#[test]
fn a_huge_file_is_refused_by_its_size() {
    check(
        "huge.toml",
        &vec![b'#'; 1_000_001],
        &["more than 1000000 bytes"],
    );
}

#[test]
fn deep_nesting_is_an_error_not_a_crash() {
    let deep = format!("{JOB}x = {}1{}\n", "[".repeat(5000), "]".repeat(5000));
    check("deep.toml", deep.as_bytes(), &["deep.toml"]);
}

#[test]
fn a_file_that_is_not_there_and_a_file_of_no_kind_say_what_to_do() {
    let ran = lugwright(&["validate", "no-such-file.toml"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("there is no such file"), "{}", ran.err);
    check("empty.toml", b"", &["no job, amendment or requirement"]);
}

#[test]
fn every_mistake_of_a_job_is_told_at_once() {
    let two = JOB
        .replace("bus = 125", "bus = -4")
        .replace("amps = 15", "amps = -15");
    check(
        "two.toml",
        two.as_bytes(),
        &["two.toml:7", "two.toml:9", "2 mistakes"],
    );
}

#[test]
fn with_json_the_mistakes_come_as_json_too() {
    let path = file("json.toml", JOB.replace("amps", "ampz").as_bytes());
    let ran = lugwright(&["validate", &path, "--format", "json"]);
    assert_eq!(ran.code, 2);
    let value: serde_json::Value = serde_json::from_str(&ran.out).expect("one JSON value");
    assert_eq!(value["mistakes"][0]["line"], 9);
    assert_eq!(value["mistakes"][0]["column"], 21);
}

#[test]
fn control_characters_of_a_file_do_not_reach_the_terminal() {
    let path = file(
        "control.toml",
        JOB.replace("c1 =", "\"c\\u001b[2J\" =")
            .replace("amps", "ampz")
            .as_bytes(),
    );
    let ran = lugwright(&["validate", &path]);
    assert!(!ran.err.contains('\u{1b}'), "{:?}", ran.err);
}

#[test]
fn a_command_that_does_not_exist_ends_with_2() {
    assert_eq!(lugwright(&["chek"]).code, 2);
    assert_eq!(lugwright(&[]).code, 2);
}
