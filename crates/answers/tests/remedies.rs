//! Does a remedy keep its promise? Its edits are made on the job's text, the job is asked about again, and what was promised must be there.
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod jobs;

use jobs::{asked, demo_jobs, edited};
use serde_json::{Value, json};

/// Ratings that devices are lowered to.
const RATINGS: [u32; 14] = [
    20, 30, 40, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225,
];

fn check(job: &str) -> Value {
    let answer = asked(&json!({ "command": "check", "job": job }));
    assert_eq!(answer["command"], "check", "{answer}");
    answer
}

fn find<'v>(all: &'v Value, name: &str, is: &str) -> &'v Value {
    let mut all = all.as_array().unwrap().iter();
    all.find(|one| one[name] == is)
        .unwrap_or_else(|| panic!("no `{is}`"))
}

/// What holds the load of a board: its own main, and the device of its feeder.
fn lowered(answer: &Value, board: &str, rating: u32) -> Value {
    let planned = json!({ "is": rating, "by": "planned" });
    let supply = find(&answer["supply"]["boards"], "board", board);
    let mut edits = vec![json!({ "at": ["after", "boards", board, "main_amps"], "to": planned })];
    if supply["role"] == "feeder_fed" {
        let feeder = supply["feeder"].as_str().unwrap();
        edits.push(json!({ "at": ["after", "feeders", feeder, "breaker"], "to": planned }));
    }
    json!(edits)
}

/// A load of 48 A that the work adds on a circuit of the board.
fn with_more(kind: &str, board: &str) -> Value {
    json!([
        { "at": ["after", "loads", "more", "kind"], "to": kind },
        { "at": ["after", "loads", "more", "amps"], "to": 48 },
        { "at": ["after", "loads", "more", "volts"], "to": 240 },
        { "at": ["after", "circuits", "more-load", "board"], "to": board },
        { "at": ["after", "circuits", "more-load", "loads"], "to": ["more"] },
    ])
}

/// The job with a load more on a board, held to the two largest ratings that are too small for it: little is missing to one, more to the other.
fn tight(job: &str, kind: &str, board: &str) -> Vec<String> {
    let crowded = edited(job, &with_more(kind, board));
    let answer = check(&crowded);
    let load = find(&answer["load"], "board", board);
    let method = load["recommended"].as_str().unwrap();
    let amperes = &find(&load["methods"], "method", method)["rounded_a"]["value"];
    let too_small = |rating: &u32| f64::from(*rating) < amperes.as_f64().unwrap();
    let small = RATINGS.into_iter().filter(too_small).rev().take(2);
    small
        .map(|rating| edited(&crowded, &lowered(&answer, board, rating)))
        .collect()
}

/// Holds each remedy of a board to its word; says how many had edits, and how many could not be applied.
fn hold(job: &str, answer: &Value, board: &str) -> (usize, usize) {
    let load = find(&answer["load"], "board", board);
    let remedies = load["remedies"].as_array().unwrap();
    if load["fits"] != "fail" {
        assert!(
            remedies.is_empty(),
            "{board} fits, and is offered {remedies:?}"
        );
    }
    let (mut made, mut by_hand) = (0, 0);
    for remedy in remedies {
        let to = &remedy["comes_to"];
        assert!(to["load_a"].as_f64() <= to["held_to_a"].as_f64());
        assert!(to["load_now_a"].as_f64() > to["held_to_now_a"].as_f64());
        assert_eq!(to["held_to_now_a"], load["held_to_a"]);
        assert!(!remedy["cites"].as_array().unwrap().is_empty());
        if remedy["edits"].as_array().unwrap().is_empty() {
            by_hand += 1;
            continue;
        }
        made += 1;
        let changed = check(&edited(job, &remedy["edits"]));
        let then = find(&changed["load"], "board", board);
        let text = &remedy["text"];
        assert_eq!(then["fits"], "pass", "{text}");
        assert_eq!(then["recommended"], to["method"], "{text}");
        let method = then["recommended"].as_str().unwrap();
        let outcome = find(&then["methods"], "method", method);
        assert_eq!(outcome["rounded_a"]["value"], to["load_a"], "{text}");
        assert_eq!(then["held_to_a"], to["held_to_a"], "{text}");
        for turned in remedy["verdicts"].as_array().unwrap() {
            let what = turned["what"].as_str().unwrap();
            let Some(feeder) = what.strip_suffix("`: conductors and device") else {
                continue;
            };
            let feeder = feeder.trim_start_matches('`');
            let verdict = |answer: &Value| {
                find(&answer["conductors"]["feeders"], "feeder", feeder)["verdict"].clone()
            };
            assert_eq!(verdict(answer), turned["now"], "{text}: {what}");
            assert_eq!(verdict(&changed), turned["then"], "{text}: {what}");
        }
        for other in changed["load"].as_array().unwrap() {
            let name = other["board"].as_str().unwrap();
            let over = other["fits"] == "fail" && name != board;
            let told = remedy["still_over"].as_array().unwrap();
            assert_eq!(told.contains(&other["board"]), over, "{text}: {name}");
        }
    }
    (made, by_hand)
}

#[test]
fn demo_jobs_as_they_are_fit_and_are_offered_nothing() {
    for (name, job) in demo_jobs() {
        let answer = check(&job);
        for load in answer["load"].as_array().unwrap() {
            let board = load["board"].as_str().unwrap();
            assert_eq!(load["fits"], "pass", "{name} {board}");
            assert_eq!(hold(&job, &answer, board), (0, 0));
        }
    }
}

#[test]
fn every_remedy_of_a_demo_job_made_tight_comes_to_what_it_promised() {
    let (mut made, mut by_hand) = (0, 0);
    let mut kinds = std::collections::BTreeSet::new();
    for (_, job) in demo_jobs() {
        let boards = check(&job)["load"].clone();
        for load in boards.as_array().unwrap() {
            let board = load["board"].as_str().unwrap();
            for kind in ["vehicle_charger", "space_heat"] {
                for tight in tight(&job, kind, board) {
                    let answer = check(&tight);
                    let load = find(&answer["load"], "board", board);
                    assert_eq!(load["fits"], "fail");
                    let (with_edits, without) = hold(&tight, &answer, board);
                    made += with_edits;
                    by_hand += without;
                    for remedy in load["remedies"].as_array().unwrap() {
                        let change = remedy["change"].as_object().unwrap();
                        kinds.extend(change.keys().cloned());
                    }
                }
            }
        }
    }
    assert!(made > 80, "{made}");
    assert!(by_hand > 5, "{by_hand}");
    let kinds: Vec<&str> = kinds.iter().map(String::as_str).collect();
    let all = ["larger_rating", "left_out", "other_method", "setting"];
    assert_eq!(kinds, all);
}

#[test]
fn a_load_that_stays_as_it_was_is_taken_out_of_the_plan() {
    let (_, job) = demo_jobs()
        .into_iter()
        .find(|(name, _)| name == "swap-clean")
        .unwrap();
    let larger = json!([
        { "at": ["after", "loads", "range", "va"], "to": { "is": 30_000, "by": "planned" } },
        { "at": ["after", "boards", "S", "main_amps"], "to": { "is": 70, "by": "planned" } },
    ]);
    let job = edited(&job, &larger);
    let answer = check(&job);
    assert!(hold(&job, &answer, "S").0 >= 2);
    let remedies = find(&answer["load"], "board", "S")["remedies"].clone();
    let stays = remedies.as_array().unwrap().iter();
    let stays = stays.clone().find(|r| r["text"] == "`range` as it was");
    let undone = edited(&job, &stays.unwrap()["edits"]);
    assert!(!undone.contains("30000"), "{undone}");
}
