//! Does a screen see every fact of a job in one form, with what was asked, what was left out, and the words it may offer?
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod jobs;

use std::collections::BTreeSet;

use editing::{Edit, apply, read};
use model::JobFile;
use rulebook::Library;
use serde_json::{Value, json};

fn library() -> Library {
    Library::without_cases().unwrap()
}

fn reading(text: &str) -> Value {
    let file = JobFile::read(text).unwrap();
    let library = library();
    let book = library.rulebook(file.job.place.edition, &[], file.job.place.permit_date);
    serde_json::to_value(read(&file, book.unwrap().facts())).unwrap()
}

fn job(name: &str) -> String {
    jobs::all().into_iter().find(|(n, _)| n == name).unwrap().1
}

fn check(read: &Value, path: &[&str], expected: Value) {
    let found = path.iter().fold(read, |at, name| &at[name]);
    assert_eq!(found, &expected, "{path:?}");
}

#[test]
fn every_fact_has_one_form() {
    let read = reading(&job("ranch-subpanel"));
    let check = |path: &[&str], expected: Value| check(&read, path, expected);
    let known = |is: Value, by: &str| json!({ "known": true, "is": is, "by": by });
    check(
        &["before", "boards", "Q", "bus"],
        known(json!(125.0), "label"),
    );
    check(
        &["before", "boards", "Q", "main"],
        known(json!("main_lugs"), "seen"),
    );
    check(
        &["before", "boards", "Q", "poles_listed"],
        json!({ "known": false, "asked": true }),
    );
    check(&["before", "boards", "Q", "numbering"], json!("across"));
    check(
        &["before", "boards", "Q", "make_up"],
        json!({ "known": false, "asked": false }),
    );
    check(
        &["after", "boards", "Q", "make_up"],
        json!({ "known": false, "asked": true }),
    );
    check(
        &["before", "boards", "Q", "cabinet", "width"],
        known(json!(14.25), "measured"),
    );
    check(
        &["after", "boards", "Q", "location"],
        known(json!(["hall"]), "planned"),
    );
    check(
        &["before", "circuits", "fridge", "spaces"],
        known(json!(["9"]), "seen"),
    );
    check(
        &["before", "circuits", "fridge", "rooms"],
        known(json!(["kitchen"]), "seen"),
    );
    check(
        &["before", "feeders", "Q-feeder", "wire"],
        known(json!("2 Al"), "label"),
    );
    check(
        &["before", "grounding", "electrodes", "is", "1", "kind"],
        Value::Null,
    );
    let electrodes = &read["before"]["grounding"]["electrodes"]["is"];
    assert_eq!(electrodes[0]["conductor"], known(json!("6 Cu"), "measured"));
    assert_eq!(
        electrodes[1]["conductor"],
        json!({ "known": false, "asked": true })
    );
    check(
        &["place", "facts", "job.ahj_subfeeder_spd"],
        json!({ "known": false, "asked": true }),
    );
    check(
        &["before", "boards", "Q", "facts", "ws_storage"],
        known(json!(true), "seen"),
    );
}

#[test]
fn every_thing_has_its_name_and_what_becomes_of_it_in_the_order_of_the_file() {
    let read = reading(&job("ranch-subpanel"));
    check(&read, &["before", "boards", "S", "change"], json!("kept"));
    check(
        &read,
        &["after", "boards", "Q", "change"],
        json!("replaced"),
    );
    check(
        &read,
        &["after", "circuits", "freezer", "change"],
        json!("new"),
    );
    check(
        &read,
        &["after", "circuits", "freezer", "id"],
        json!("freezer"),
    );
    check(
        &read,
        &["before", "loads", "range", "change"],
        json!("kept"),
    );
    let circuits = read["before"]["circuits"].as_object().unwrap();
    assert_eq!(
        circuits.keys().take(3).collect::<Vec<_>>(),
        ["ac", "range", "shop"]
    );
    check(
        &read,
        &["stated_after", "loads", "charger", "kind"],
        json!("vehicle_charger"),
    );
    assert!(read["stated_after"]["boards"].get("S").is_none());
}

#[test]
fn what_was_set_is_what_is_read() {
    let text = job("big-house-42");
    for (to, expected) in [
        (
            json!(35),
            json!({ "known": true, "is": 35.0, "by": "seen" }),
        ),
        (
            json!({ "is": 35, "by": "customer" }),
            json!({ "known": true, "is": 35.0, "by": "customer" }),
        ),
        (json!("unknown"), json!({ "known": false, "asked": true })),
        (Value::Null, json!({ "known": false, "asked": false })),
    ] {
        let id = reading(&text)["before"]["circuits"]
            .as_object()
            .unwrap()
            .keys()
            .next()
            .unwrap()
            .clone();
        let at = ["before", "circuits", &id, "amps"]
            .map(str::to_owned)
            .to_vec();
        let file = apply(&text, &[Edit::Set { at, to }], &|_| None).unwrap();
        check(
            &reading(file.text()),
            &["before", "circuits", &id, "amps"],
            expected,
        );
    }
}

#[test]
fn every_demo_job_reads_whole() {
    for (name, text) in jobs::all() {
        let read = reading(&text);
        let job = JobFile::read(&text).unwrap().job;
        for (picture, house) in [("before", &job.before), ("after", &job.after)] {
            let count = |sort: &str| read[picture][sort].as_object().unwrap().len();
            assert_eq!(count("boards"), house.boards.len(), "{name}");
            assert_eq!(count("circuits"), house.circuits.len(), "{name}");
            assert_eq!(count("walls"), house.walls.len(), "{name}");
        }
    }
}

/// Names of definitions in the schema of the job file that list words, found from the house down.
fn listed(schema: &Value) -> BTreeSet<Vec<String>> {
    let mut found = BTreeSet::new();
    for definition in schema["$defs"].as_object().unwrap().values() {
        let words: Vec<String> = match (&definition["enum"], &definition["oneOf"]) {
            (Value::Array(words), _) => words
                .iter()
                .map(|w| w.as_str().unwrap().to_owned())
                .collect(),
            (_, Value::Array(each)) => each
                .iter()
                .filter_map(|w| Some(w["const"].as_str()?.to_owned()))
                .collect(),
            _ => continue,
        };
        found.insert(words);
    }
    found
}

#[test]
fn every_list_of_words_in_the_job_file_is_offered() {
    let schema = serde_json::to_value(model::file::schema()).unwrap();
    let choices = &reading(&job("swap-clean"))["choices"];
    let offered: Vec<BTreeSet<&str>> = choices
        .as_object()
        .unwrap()
        .values()
        .map(|words| {
            words
                .as_array()
                .unwrap()
                .iter()
                .map(|w| w.as_str().unwrap())
                .collect()
        })
        .collect();
    assert!(offered.iter().all(|words| !words.is_empty()));
    let lists = listed(&schema);
    assert!(lists.len() > 15, "{lists:?}");
    for words in lists {
        let words: BTreeSet<&str> = words
            .iter()
            .map(String::as_str)
            .filter(|w| *w != "derived")
            .collect();
        assert!(offered.contains(&words), "nowhere offered: {words:?}");
    }
}
