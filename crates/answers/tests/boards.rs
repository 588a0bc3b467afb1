//! Is a board told the same by every answer: as the job states it, as it was before, as it is laid out?
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod jobs;

use jobs::{asked, demo_jobs, edited};
use serde_json::{Value, json};

fn board(job: &str, board: &str) -> Value {
    let answer = asked(&json!({ "command": "board", "job": job, "board": board }));
    assert_eq!(answer["command"], "board", "{answer}");
    answer
}

/// Number, column, row, leg of each space, and who sits in it where.
fn seats(spaces: &Value) -> Vec<(Value, Vec<(String, String)>)> {
    let each = spaces.as_array().unwrap().iter().map(|space| {
        let text = |o: &Value, name: &str| o[name].as_str().unwrap().to_owned();
        let occupants = space["occupants"].as_array().unwrap().iter();
        let mut seats: Vec<_> = occupants
            .map(|o| (text(o, "space"), text(o, "name")))
            .collect();
        seats.sort();
        let place = json!([
            space["number"],
            space["column"],
            space["row"],
            space["leg"],
            space["tandem_allowed"]
        ]);
        (place, seats)
    });
    each.collect()
}

#[test]
fn a_solved_face_once_stated_is_told_space_by_space_as_it_was_solved() {
    let mut solved = 0;
    for (name, job) in demo_jobs() {
        let face = asked(&json!({ "command": "face", "job": job, "effort": 1500 }));
        let id = face["board"].as_str().unwrap();
        assert_eq!(face["fits"], true);
        let stands = board(&edited(&job, &face["edits"]), id);
        assert_eq!(
            seats(&face["spaces"]),
            seats(&stands["after"]["spaces"]),
            "{name}"
        );
        let before = board(&job, id)["before"]["spaces"].clone();
        let none = json!([]);
        let before = if before.is_null() { &none } else { &before };
        assert_eq!(&face["spaces_before"], before, "{name}");
        solved += before.as_array().unwrap().len();
    }
    assert!(solved > 80, "{solved}");
}

#[test]
fn everything_that_has_a_space_sits_in_it_and_wide_breakers_begin_once() {
    for (name, job) in demo_jobs() {
        let read = asked(&json!({ "command": "read", "job": job }));
        for id in read["before"]["boards"].as_object().unwrap().keys() {
            let before = board(&job, id)["before"].clone();
            let count = &read["before"]["boards"][id]["spaces"];
            let spaces = before["spaces"].as_array().unwrap();
            assert_eq!(spaces.len() as u64, count["is"].as_u64().unwrap_or(0));
            let occupants: Vec<&Value> = spaces
                .iter()
                .flat_map(|s| s["occupants"].as_array().unwrap())
                .collect();
            for (thing, told) in before["things"].as_object().unwrap() {
                let mine = occupants.iter().filter(|o| o["name"] == thing.as_str());
                let on_board = told["spaces"].as_array().unwrap().len();
                assert_eq!(mine.clone().count(), on_board, "{name} {id} {thing}");
                let widths = mine.filter_map(|o| o["width"].as_u64());
                assert_eq!(widths.sum::<u64>(), on_board as u64, "{name} {id} {thing}");
            }
        }
    }
}

#[test]
fn a_board_whose_legs_nobody_knows_is_still_counted_and_one_that_is_not_there_is_null() {
    let (_, job) = demo_jobs().into_iter().next().unwrap();
    let face = asked(&json!({ "command": "face", "job": job, "effort": 1 }));
    let id = face["board"].as_str().unwrap();
    let unknown = json!([
        { "at": ["before", "boards", id, "leg_rows"], "to": "unknown" },
        { "at": ["before", "boards", id, "numbering"], "to": "down" },
        { "at": ["before", "boards", id, "spaces"], "to": 6 },
    ]);
    let stands = board(&edited(&job, &unknown), id);
    let spaces = stands["before"]["spaces"].as_array().unwrap();
    let told: Vec<_> = spaces
        .iter()
        .map(|s| json!([s["number"], s["column"], s["row"], s["leg"]]))
        .collect();
    let expected = [
        json!([1, 0, 0, null]),
        json!([2, 0, 1, null]),
        json!([3, 0, 2, null]),
        json!([4, 1, 0, null]),
        json!([5, 1, 1, null]),
        json!([6, 1, 2, null]),
    ];
    assert_eq!(told, expected);
    let nowhere = board(&job, "nowhere");
    assert!(nowhere["before"].is_null() && nowhere["after"].is_null());
}
