//! The demo jobs, from the command line to the report, as a contractor reads it.

#![allow(clippy::expect_used, reason = "a test may stop")]

mod run;

use std::collections::BTreeMap;

use run::{lugwright, root};
use serde_json::Value;

const RANCH: &str = "examples/ranch-subpanel.toml";

fn check(words: &[&str], code: i32, says: &[&str]) {
    let ran = lugwright(words);
    assert_eq!(ran.code, code, "{words:?}\n{}{}", ran.out, ran.err);
    // A wrapped sentence is still that sentence.
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let page = flat(&ran.out);
    for part in says {
        assert!(
            page.contains(&flat(part)),
            "{words:?}: no `{part}` in\n{}",
            ran.out
        );
    }
}

fn json(words: &[&str], code: i32) -> Value {
    let ran = lugwright(&[words, &["--format", "json"]].concat());
    assert_eq!(ran.code, code, "{words:?}\n{}", ran.err);
    serde_json::from_str(&ran.out).expect("one JSON value")
}

/// Name and expected exit code of every example.
fn examples() -> BTreeMap<String, i32> {
    let text = std::fs::read_to_string(root().join("examples/exit-codes.txt")).expect("the list");
    text.lines()
        .filter(|l| !l.starts_with('#') && !l.trim().is_empty())
        .map(|l| {
            let (name, code) = l.split_once(' ').expect("FILE CODE");
            (
                format!("examples/{name}"),
                code.trim().parse().expect("a code"),
            )
        })
        .collect()
}

#[test]
fn every_example_ends_as_listed_in_either_form_and_fits_in_100_columns() {
    for (name, code) in examples() {
        let ran = lugwright(&["check", &name]);
        assert_eq!(ran.code, code, "{name}\n{}{}", ran.out, ran.err);
        for line in ran.out.lines() {
            assert!(line.chars().count() <= 100, "{name}: {line}");
        }
        let value = json(&["check", &name], code);
        let status = if code == 0 {
            "nothing_missing"
        } else {
            "something_missing"
        };
        assert_eq!(value["status"], status, "{name}");
    }
}

#[test]
fn the_report_of_the_ranch_goes_from_tree_to_cautions() {
    check(
        &["check", RANCH],
        1,
        &[
            "edition 2023",
            "fed by feeder, neutral kept apart",
            "existing dwelling, added load",
            "Q-feeder to board Q: FAILS",
            "Any one of these makes it pass",
            "a 90 A overcurrent device",
            "[afci-extension] 210.12(E)",
            "Open questions, weightiest first",
            "Line-side conductors stay live",
        ],
    );
}

#[test]
fn another_edition_is_said_loudly() {
    check(
        &["findings", RANCH, "--edition", "2017"],
        1,
        &["LOOKED AT UNDER EDITION 2017", "the job says 2023"],
    );
    assert_eq!(
        json(&["findings", RANCH, "--edition", "2017"], 1)["edition"],
        "2017"
    );
}

#[test]
fn an_explanation_goes_down_to_each_fact_and_who_said_it() {
    check(
        &["explain", RANCH, "afci-extension", "kitchen-1"],
        0,
        &[
            "verdict required",
            "circuit.ext_outside_in of circuit kitchen-1: 108 in (derived)",
            "circuit.amps of circuit kitchen-1: 20 A (seen)",
        ],
    );
    let ran = lugwright(&["explain", RANCH, "afci-extension", "kitchn-1"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("did you mean `kitchen-1`?"), "{}", ran.err);
}

#[test]
fn a_worksheet_shows_each_step_with_its_section() {
    check(
        &["sheet", RANCH, "load.S.standard"],
        0,
        &["Standard calculation", "Edition 2023", "VA"],
    );
    let ids = json(&["sheet", RANCH], 0);
    for id in ids["ids"].as_array().expect("a list") {
        let one = json(&["sheet", RANCH, id.as_str().expect("an id")], 0);
        let lines = &one["worksheets"][0]["lines"];
        assert!(!lines.as_array().expect("lines").is_empty(), "{id}");
    }
}

#[test]
fn questions_come_with_the_place_of_their_answer() {
    let value = json(&["ask", RANCH], 1);
    let questions = value["questions"].as_array().expect("a list");
    assert!(!questions.is_empty());
    let grave = |q: &Value| q["danger"].as_i64() >= Some(3);
    let first_mild = questions
        .iter()
        .position(|q| !grave(q))
        .unwrap_or(questions.len());
    assert!(
        questions[first_mild..].iter().all(|q| !grave(q)),
        "danger comes first"
    );
    for question in questions {
        let places = question["places"].as_array().expect("places");
        assert!(places.iter().all(|p| p["answer"].is_string()), "{question}");
    }
}

#[test]
fn two_editions_are_compared_requirement_by_requirement() {
    check(
        &["compare", RANCH, "--with", "2017"],
        0,
        &[
            "What edition 2017 would say differently from 2023",
            "[afci-extension]",
        ],
    );
    let same = json(&["compare", RANCH, "--with", "2023"], 0);
    assert_eq!(same["differences"].as_array().map(Vec::len), Some(0));
}

#[test]
fn the_job_in_the_documentation_is_read_and_checked() {
    let page = std::fs::read_to_string(root().join("docs/job-file.md")).expect("the page");
    let job = page
        .split("```toml\n")
        .nth(1)
        .and_then(|t| t.split("```").next())
        .expect("an example");
    let path = run::file("documented.toml", job.as_bytes());
    check(
        &["check", &path],
        1,
        &["Closet panel to the hall", "[afci-extension]"],
    );
}

const CITY: &str = "crates/rulebook/data/amendments/example-city.toml";

#[test]
fn an_amendment_in_force_changes_what_is_asked_and_says_so() {
    // Of the invented city: service surge protection is asked at replaced subpanels too, the ladder place is to be marked,
    // and the outdoor disconnect is switched off.
    let with = ["findings", RANCH, "--amendment", CITY];
    check(
        &with,
        1,
        &[
            "Amendment in force and applied: Example City",
            "[service-spd] 230.67 as amended, 1301.04(B)",
            "[roof-ladder-mark] 1301.09",
            "Does the directory show where to set the ladder for the equipment on the roof?",
        ],
    );
    let requirements = |words: &[&str]| {
        let value = json(words, 1);
        let all = value["findings"]["findings"]
            .as_array()
            .expect("findings")
            .clone();
        all.into_iter()
            .map(|f| f["requirement"].as_str().expect("an id").to_owned())
            .collect::<Vec<_>>()
    };
    let (plain, amended) = (requirements(&["findings", RANCH]), requirements(&with));
    assert!(
        !plain.contains(&"roof-ladder-mark".to_owned())
            && !plain.contains(&"service-spd".to_owned())
    );
    assert!(
        amended.contains(&"roof-ladder-mark".to_owned())
            && amended.contains(&"service-spd".to_owned())
    );
    check(
        &["explain", RANCH, "roof-ladder-mark", "--amendment", CITY],
        0,
        &["cannot tell if met", "NEC 2023 1301.09"],
    );
}

#[test]
fn an_amendment_of_another_edition_or_time_is_not_applied_and_that_is_said() {
    check(
        &["findings", RANCH, "--edition", "2020", "--amendment", CITY],
        1,
        &["Amendment NOT applied: Example City"],
    );
    let late = std::fs::read_to_string(root().join(RANCH))
        .expect("the job")
        .replace("2026-11-30", "2028-01-01");
    let late = run::file("late/job.toml", late.as_bytes());
    check(
        &["findings", &late, "--amendment", CITY],
        1,
        &["Amendment NOT applied: Example City"],
    );
}

#[test]
fn a_job_names_its_amendments_beside_itself() {
    let city = std::fs::read(root().join(CITY)).expect("the amendment");
    run::file("amended/city.toml", &city);
    let job = std::fs::read_to_string(root().join(RANCH)).expect("the job");
    let job = job.replacen("[place]\n", "[place]\namendments = [\"city.toml\"]\n", 1);
    let job = run::file("amended/job.toml", job.as_bytes());
    check(
        &["findings", &job],
        1,
        &[
            "Amendment in force and applied: Example City",
            "[roof-ladder-mark]",
        ],
    );
}

#[test]
fn the_readme_shows_what_the_report_says() {
    let readme = std::fs::read_to_string(root().join("README.md")).expect("the README");
    let (_, rest) = readme.split_once("```text\n").expect("an excerpt");
    let (excerpt, _) = rest.split_once("```").expect("its end");
    let report = lugwright(&["check", RANCH]).out;
    let mut left = report.lines();
    for line in excerpt
        .lines()
        .filter(|l| !l.trim().is_empty() && *l != "...")
    {
        assert!(
            left.any(|l| l == line),
            "not in the report, or not in this order: `{line}`"
        );
    }
}

/// A car charger on a service of 80 A. By 220.83 the rest of the house comes to 16,408 VA; 40 % of 30 A x 240 V on top make 19,288 VA, 80.4 A.
#[test]
fn a_load_that_does_not_fit_is_told_with_what_makes_it_fit() {
    let text = std::fs::read_to_string(root().join("examples/swap-clean.toml")).expect("the job");
    let tight = text
        .replace("edition = \"2017\"", "edition = \"2023\"")
        .replace("main_amps = { is = 150,", "main_amps = { is = 80,");
    let charger = "[after.loads]\ncharger = { kind = \"vehicle_charger\", amps = 40, volts = 240 }\n[after.circuits]\ncar = { board = \"S\", loads = [\"charger\"] }\n";
    let path = run::file("tight.toml", format!("{tight}\n{charger}").as_bytes());
    check(
        &["check", &path],
        1,
        &[
            "TOO MUCH 84 A calculated, and 80 A holds it",
            "`charger` under a listed energy management system, set to 30 A at most: 80 A against 80 A [NEC 2023 220.70 and 750.30",
            "`charger` left for later: 68 A against 80 A",
            "a 100 A main breaker in `S`: 84 A against 100 A [NEC 2023 Table 240.6(A)",
        ],
    );
}
