//! Rulebook folders, requirements and amendments, checked as the person who writes them would.

#![allow(clippy::expect_used, reason = "a test may stop")]

mod run;

use run::{file, lugwright, root};

const AMENDMENT: &str = r#"
title = "Example City amendments"
authority = "Example City"
state = "OH"
editions = ["2023"]
from = "2026-01-01"
check = "memory"
"#;

fn requirement() -> String {
    let path = root().join("crates/rulebook/data/requirements/service/service-spd.toml");
    std::fs::read_to_string(path).expect("the file is there")
}

fn check(name: &str, text: &str, code: i32, says: &[&str]) {
    let path = file(name, text.as_bytes());
    let ran = lugwright(&["validate", &path]);
    let all = format!("{}{}", ran.out, ran.err);
    assert_eq!(ran.code, code, "{all}");
    for part in says {
        assert!(all.contains(part), "no `{part}` in\n{all}");
    }
}

#[test]
fn the_built_in_rulebook_is_sound_and_so_is_its_folder() {
    for words in [&["validate"][..], &["validate", "crates/rulebook/data"]] {
        let ran = lugwright(words);
        assert_eq!(ran.code, 0, "{}", ran.err);
        assert!(ran.out.contains("156 requirements"), "{}", ran.out);
    }
}

#[test]
fn a_requirement_of_ones_own_takes_the_place_of_the_built_in_one() {
    check(
        "service/service-spd.toml",
        &requirement(),
        0,
        &["a sound requirement"],
    );
}

#[test]
fn an_unknown_fact_is_placed_and_the_nearest_named() {
    let text = requirement();
    let line = 1 + text
        .lines()
        .position(|l| l.contains("job.dwelling"))
        .expect("a condition");
    let place = format!("service-spd.toml:{line}:");
    check(
        "facts/service/service-spd.toml",
        &text.replacen("job.dwelling", "job.dweling", 1),
        2,
        &[&place, "did you mean `job.dwelling`?"],
    );
}

#[test]
fn a_case_that_does_not_come_out_is_shown_with_what_came_out() {
    check(
        "cases/service/service-spd.toml",
        &requirement().replace("AND job.dwelling", "AND NOT job.dwelling"),
        2,
        &[
            "the case comes out as",
            "as the case says",
            "service-spd.toml:",
        ],
    );
}

#[test]
fn a_requirement_in_no_known_folder_is_told_where_it_belongs() {
    check(
        "nowhere/service-spd.toml",
        &requirement(),
        2,
        &["a folder named by its subject"],
    );
}

#[test]
fn an_amendment_is_read_and_its_mistakes_are_placed() {
    check(
        "city.toml",
        AMENDMENT,
        0,
        &["a sound amendment, Example City amendments"],
    );
    check(
        "city-2.toml",
        &AMENDMENT.replace("2023", "2022"),
        2,
        &["city-2.toml:5:"],
    );
}
