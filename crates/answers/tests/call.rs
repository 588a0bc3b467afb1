//! Is the one door honest: the same answer for the same job however it is handed in, and a clear word for whatever is no question?
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use std::path::Path;

use proptest::prelude::*;
use serde_json::{Value, json};

const COMMANDS: [&str; 5] = ["check", "face", "move", "cutover", "price"];

fn jobs() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut all: Vec<(String, String)> = std::fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .map(|p| {
            (
                p.display().to_string(),
                std::fs::read_to_string(&p).unwrap(),
            )
        })
        .collect();
    all.sort();
    assert_eq!(all.len(), 6);
    all
}

fn ask(question: &Value) -> Value {
    serde_json::from_str(&answers::call::call(&question.to_string())).unwrap()
}

#[test]
fn a_job_as_text_and_as_an_object_gets_the_same_answer() {
    for (name, text) in jobs() {
        let object: Value = toml::from_str(&text).unwrap();
        for command in COMMANDS {
            let one = ask(&json!({ "command": command, "job": text, "drawing": true }));
            let other = ask(&json!({ "command": command, "job": object, "drawing": true }));
            if one["command"] == "error" {
                // Places differ with the text; what is wrong does not.
                assert_eq!(
                    one["mistakes"][0]["found"], other["mistakes"][0]["found"],
                    "{name}"
                );
                continue;
            }
            assert_eq!(one["command"], command, "{name}");
            assert_eq!(one, other, "{name}, {command}");
        }
    }
}

#[test]
fn another_edition_is_looked_at_when_asked() {
    let (_, text) = &jobs()[2];
    let answer = ask(&json!({ "command": "check", "job": text, "edition": "2020" }));
    assert_eq!(answer["edition"], "2020", "{}", answer["mistakes"]);
}

#[test]
fn the_customers_price_has_no_cost() {
    for (name, text) in jobs() {
        let answer = ask(&json!({ "command": "price", "job": text, "customer": true }));
        assert!(answer["total"].is_object(), "{name}");
        assert!(answer.get("cost").is_none() && answer["lines"][0].get("cost").is_none());
    }
}

#[test]
fn a_mistake_tells_its_place() {
    let (_, text) = &jobs()[2];
    let broken = text.replacen("bus = { is = 200", "buss = { is = 200", 1);
    let answer = ask(&json!({ "command": "check", "job": broken }));
    let first = &answer["mistakes"][0];
    let line = first["line"].as_u64().unwrap() as usize;
    assert!(broken.lines().nth(line - 1).unwrap().contains("buss"));
    assert!(
        first["expected"].as_str().unwrap().contains("`bus`"),
        "{first}"
    );
}

#[test]
fn a_job_is_read_and_edited_through_the_same_door() {
    for (name, text) in jobs() {
        let read = ask(&json!({ "command": "read", "job": text }));
        assert_eq!(read["command"], "read", "{name}: {read}");
        assert!(read["before"]["boards"].is_object() && read["choices"]["by"].is_array());
        let edits = json!([{ "at": ["title"], "to": "another title" }]);
        let answer = ask(&json!({ "command": "edit", "job": text, "edits": edits }));
        let changed = answer["job"].as_str().unwrap();
        assert_eq!(
            ask(&json!({ "command": "check", "job": changed }))["title"],
            "another title"
        );
    }
}

#[test]
fn a_job_begins_with_an_interview_and_a_list_of_circuits() {
    let interview = json!({ "service_touched": false, "edition": "2023", "state": "OH", "boards": [{ "id": "P1", "name": "closet" }] });
    let started = ask(&json!({ "command": "start", "interview": interview }));
    let job = started["job"].as_str().unwrap();
    let rows = "space,serves,amps,rooms\n1,bedroom,15,bedroom\n2,kitchen,20,kitchen\n";
    let pasted = ask(
        &json!({ "command": "paste", "job": job, "board": "P1", "picture": "before", "rows": rows }),
    );
    assert_eq!(pasted["rows"][1]["id"], "kitchen", "{pasted}");
    let check = ask(&json!({ "command": "check", "job": pasted["job"] }));
    assert!(
        !check["questions"].as_array().unwrap().is_empty(),
        "{check}"
    );
    let wrong = ask(&json!({ "command": "start", "interview": {} }));
    assert!(
        wrong["mistakes"][0]["expected"]
            .as_str()
            .unwrap()
            .contains("no default")
    );
}

#[test]
fn an_arrangement_of_breakers_is_judged_as_often_as_one_is_dragged() {
    let (_, text) = &jobs()[2];
    let layout = |spaces: Value| {
        ask(&json!({ "command": "layout", "job": text, "board": "Q", "spaces": spaces }))
    };
    let apart = layout(json!({ "kitchen-1": ["1"], "kitchen-2": ["9"] }));
    assert_eq!(apart["legal"], false, "{apart}");
    assert_eq!(apart["edits"], json!([]));
    let one = layout(json!({ "freezer": ["30"] }));
    let again = layout(json!({ "freezer": ["30"] }));
    assert_eq!(one, again);
    let other = ask(&json!({ "command": "layout", "job": text, "board": "S" }));
    assert!(other["unplaced"].is_array() && other != one, "{other}");
    let none = ask(&json!({ "command": "layout", "job": text, "board": "nowhere" }));
    assert!(
        none["mistakes"][0]["found"]
            .as_str()
            .unwrap()
            .contains("nowhere")
    );
}

#[test]
fn answers_hand_out_the_edits_that_follow_from_them() {
    let (_, text) = &jobs()[2];
    let asked = |command: &str| ask(&json!({ "command": command, "job": text }));
    let edited = |edits: &Value| {
        let answer = ask(&json!({ "command": "edit", "job": text, "edits": edits }));
        answer["job"]
            .as_str()
            .unwrap_or_else(|| panic!("{answer}"))
            .to_owned()
    };
    let face = asked("face");
    let stated = edited(&face["edits"]);
    let layout = ask(&json!({ "command": "layout", "job": stated }));
    assert_eq!(
        (&layout["legal"], &layout["score"]),
        (&json!(true), &face["score"])
    );
    let check = asked("check");
    let feeders = check["conductors"]["feeders"].as_array().unwrap();
    let changes = feeders
        .iter()
        .flat_map(|f| f["changes"].as_array().unwrap());
    assert!(
        changes
            .filter(|c| !c["edits"].as_array().unwrap().is_empty())
            .count()
            > 0
    );
    for of in [&check, &asked("price")] {
        let first = &of["questions"][0]["places"][0];
        assert!(
            first["at"].is_array() && first["choices"]["kind"].is_string(),
            "{first}"
        );
    }
    let moved = asked("move");
    let place = &moved["move"]["walls"][0]["places"][3];
    let there = edited(&place["edits"]);
    let read = ask(&json!({ "command": "read", "job": there }));
    assert_eq!(read["after"]["boards"]["Q"]["position"], place["at"]);
}

#[test]
fn an_edit_that_the_dictionary_does_not_know_is_refused() {
    let (_, text) = &jobs()[2];
    let edit = |word: &str| {
        let edits = json!([{ "at": ["before", "circuits", "fridge", "rooms"], "to": [word] }]);
        ask(&json!({ "command": "edit", "job": text, "edits": edits }))
    };
    assert!(
        edit("dining_room")["job"].is_string(),
        "{}",
        edit("dining_room")
    );
    let refused = edit("kitchn");
    let first = &refused["mistakes"][0];
    assert!(
        first["expected"].as_str().unwrap().contains("kitchen"),
        "{refused}"
    );
    assert!(
        first["excerpt"].as_str().unwrap().starts_with("fridge = "),
        "{refused}"
    );
}

proptest! {
    #[test]
    fn whatever_is_asked_is_answered(question in ".{0,200}") {
        let answer: Value = serde_json::from_str(&answers::call::call(&question)).unwrap();
        prop_assert!(answer["mistakes"][0]["found"].is_string());
    }

    #[test]
    fn whatever_is_no_job_is_said_to_be_none(
        command in prop::sample::select(&COMMANDS[..]),
        key in "[a-z_]{1,8}",
        number in any::<i64>(),
        text in ".{0,40}",
    ) {
        let answer = ask(&json!({ "command": command, "job": { "format": 1, key: [number, null, { "a": text }] } }));
        prop_assert!(answer["mistakes"][0]["found"].is_string());
    }
}
