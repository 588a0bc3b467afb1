//! Does a change that makes a face fit keep its promise? Its edits are made on the job's text, and then there is a layout.
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod jobs;

use std::collections::BTreeMap;

use jobs::{asked, demo_jobs, edited};
use serde_json::{Value, json};

/// The face after at most so many steps; what a change is tried with by the engine is the least that must find a layout again.
fn face(job: &str, board: &str, effort: u32) -> Value {
    let question = json!({ "command": "face", "job": job, "board": board, "effort": effort });
    let answer = asked(&question);
    assert_eq!(answer["command"], "face", "{answer}");
    answer
}

/// Makes every change of a face that does not fit; how many of each sort led to a layout, how many are no matter of a field.
fn hold(job: &str, board: &str, made: &mut BTreeMap<String, usize>) -> usize {
    let answer = face(job, board, 10);
    assert_eq!(answer["fits"], false, "{board}");
    let mut by_hand = 0;
    for change in answer["changes_that_fit"].as_array().unwrap() {
        if change["edits"].as_array().unwrap().is_empty() {
            by_hand += 1;
            continue;
        }
        let then = face(&edited(job, &change["edits"]), board, 1_500);
        assert_eq!(
            then["fits"], true,
            "{}: {}",
            change["what"], then["why_not"]
        );
        let sort = change["change"].as_object().unwrap().keys().next().unwrap();
        *made.entry(sort.clone()).or_default() += 1;
    }
    by_hand
}

fn planned(is: &Value) -> Value {
    json!({ "is": is, "by": "planned" })
}

/// The board that is usually asked about, of each demo job, and its size: spaces that everything on it takes, and those it is to have.
fn boards() -> Vec<(String, String, [u64; 2])> {
    let each = demo_jobs().into_iter().map(|(_, job)| {
        let answer = asked(&json!({ "command": "face", "job": job, "effort": 10 }));
        let board = answer["board"].as_str().unwrap().to_owned();
        let size = |name: &str| answer["size"][name].as_u64().unwrap();
        (job, board, [size("needed"), size("planned")])
    });
    each.collect()
}

#[test]
fn boards_that_are_too_small_fit_with_each_change_also_when_they_count_downwards() {
    let (mut made, mut by_hand) = (BTreeMap::new(), 0);
    for (job, board, [needed, _]) in boards() {
        let field = |name: &str| json!(["after", "boards", board, name]);
        for (numbering, spaces) in [("across", needed - 4), ("down", needed - 1)] {
            let small = json!([
                { "at": field("spaces"), "to": planned(&json!(spaces)) },
                { "at": field("tandem_spaces"), "to": planned(&json!([])) },
                { "at": field("numbering"), "to": numbering },
            ]);
            by_hand += hold(&edited(&job, &small), &board, &mut made);
        }
    }
    assert!(made["larger_box"] >= 10, "{made:?}");
    assert!(made["tandems"] >= 4, "{made:?}");
    assert!(by_hand > 0);
}

#[test]
fn fewer_spares_and_a_pin_taken_out_make_room() {
    let mut made = BTreeMap::new();
    for (job, board, [needed, planned]) in boards().into_iter().step_by(2) {
        let too_many = planned - needed + 2;
        let spare = json!([{ "at": ["after", "boards", board, "spare_spaces"], "to": too_many }]);
        hold(&edited(&job, &spare), &board, &mut made);
        // Two circuits that both have to stay in one space.
        let answer = asked(&json!({ "command": "board", "job": job, "board": board }));
        let things = answer["after"]["things"].as_object().unwrap();
        let single = things
            .iter()
            .filter(|(_, t)| t["kind"] == "circuit" && t["poles"] == 1);
        let single: Vec<&String> = single.map(|(name, _)| name).collect();
        let pins = single.iter().rev().take(2).flat_map(|name| {
            let field = |field: &str| json!(["after", "circuits", name, field]);
            [
                json!({ "at": field("spaces"), "to": ["2"] }),
                json!({ "at": field("shared_with"), "to": null }),
                json!({ "at": field("pinned"), "to": true }),
            ]
        });
        let pins: Vec<Value> = pins.collect();
        hold(&edited(&job, &json!(pins)), &board, &mut made);
    }
    assert!(made["fewer_spares"] >= 2, "{made:?}");
    assert!(made["unpinned"] >= 4, "{made:?}");
}

#[test]
fn a_label_that_stays_cannot_be_chosen() {
    let job = demo_jobs().into_iter().find(|(n, _)| n == "swap-clean");
    let (_, job) = job.unwrap();
    let small = edited(
        &job,
        &json!([{ "at": ["after", "boards", "S", "spaces"], "to": 6 }]),
    );
    let answer = face(&small, "S", 10);
    let changes = answer["changes_that_fit"].as_array().unwrap();
    let of = |sort: &str| changes.iter().find(|c| c["change"].get(sort).is_some());
    let larger = of("larger_box").unwrap();
    assert_eq!(larger["edits"], json!([]));
}
