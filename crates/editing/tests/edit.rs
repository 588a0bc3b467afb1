//! Does an edit change what it says and nothing else, and is a text that does not read never handed out?
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod jobs;

use editing::{Edit, apply};
use model::{Fact, JobFile, Said};
use proptest::prelude::*;
use serde_json::{Value, json};

fn edit(value: Value) -> Edit {
    serde_json::from_value(value).unwrap()
}

fn file(text: &str, edits: Value) -> JobFile {
    let edits: Vec<Edit> = serde_json::from_value(edits).unwrap();
    apply(text, &edits, &|_| None).unwrap_or_else(|m| panic!("{m}"))
}

fn edited(text: &str, edits: Value) -> String {
    file(text, edits).text().to_owned()
}

fn refused(text: &str, edits: Value) -> String {
    let edits: Vec<Edit> = serde_json::from_value(edits).unwrap();
    apply(text, &edits, &|_| None).unwrap_err().to_string()
}

fn job(name: &str) -> String {
    jobs::all().into_iter().find(|(n, _)| n == name).unwrap().1
}

/// Lines of `new` that are not in `old`, and the other way round.
fn difference(old: &str, new: &str) -> (Vec<String>, Vec<String>) {
    let missing_in = |a: &str, b: &str| {
        let there: std::collections::HashSet<&str> = b.lines().collect();
        let missing = a.lines().filter(|l| !there.contains(l));
        missing.map(str::to_owned).collect()
    };
    (missing_in(old, new), missing_in(new, old))
}

const TINY: &str = r#"
format = 1
title = "tiny" # of one room
[place]
state = "OH"
edition = "2023"

[before.boards.P]
bus = 100   # by its label
facts.ws_lit = true

# what it feeds
[before.circuits]
a = { board = "P", amps = 20 } # first
b = { board = "P", amps = { is = 15, by = "label" }, rooms = ["kitchen", "hallway"] }

[after.circuits]
a = { amps = 30 }
"#;

fn check(edits: Value, old: &str, new: &str) {
    assert!(TINY.contains(old), "{old}");
    let expected = TINY.replacen(old, new, 1);
    assert_eq!(edited(TINY, edits), expected);
}

#[test]
fn a_value_takes_the_place_of_the_one_before_and_comments_stay() {
    let at = ["before", "boards", "P", "bus"];
    check(json!([{ "at": at, "to": 125 }]), "bus = 100 ", "bus = 125 ");
    check(
        json!([{ "at": at, "to": { "is": 125, "by": "label" } }]),
        "bus = 100 ",
        "bus = { is = 125, by = \"label\" } ",
    );
    check(
        json!([{ "at": at, "to": "unknown" }]),
        "bus = 100 ",
        "bus = \"unknown\" ",
    );
    check(
        json!([{ "at": ["before", "circuits", "b", "amps"], "to": 20 }]),
        "{ is = 15, by = \"label\" }",
        "20",
    );
    check(
        json!([{ "at": ["before", "circuits", "b", "rooms", "1"], "to": "bath\"room" }]),
        "\"hallway\"",
        "\"bath\\\"room\"",
    );
}

#[test]
fn what_is_new_goes_where_a_hand_would_write_it() {
    check(
        json!([{ "at": ["before", "boards", "P", "spaces"], "to": 12 }]),
        "ws_lit = true\n",
        "ws_lit = true\nspaces = 12\n",
    );
    check(
        json!([{ "at": ["before", "boards", "P", "facts", "ws_storage"], "to": false }]),
        "ws_lit = true\n",
        "ws_lit = true\nfacts.ws_storage = false\n",
    );
    check(
        json!([{ "at": ["before", "circuits", "a", "poles"], "to": 2 }]),
        "amps = 20 }",
        "amps = 20, poles = 2 }",
    );
    check(
        json!([{ "at": ["before", "circuits", "a", "facts", "ccc_in_raceway"], "to": 3 }]),
        "amps = 20 }",
        "amps = 20, facts = { ccc_in_raceway = 3 } }",
    );
    check(
        json!([{ "at": ["before", "circuits", "b", "rooms", "2"], "to": "attic" }]),
        "\"hallway\"]",
        "\"hallway\", \"attic\"]",
    );
    check(
        json!([{ "at": ["before", "circuits", "c"], "to": { "board": "P", "amps": null, "serves": "porch" } }]),
        "by = \"label\" }, rooms = [\"kitchen\", \"hallway\"] }\n",
        "by = \"label\" }, rooms = [\"kitchen\", \"hallway\"] }\nc = { board = \"P\", serves = \"porch\" }\n",
    );
    check(
        json!([{ "at": ["after", "boards", "P", "bus"], "to": 200 }]),
        "a = { amps = 30 }\n",
        "a = { amps = 30 }\n\n[after.boards.P]\nbus = 200\n",
    );
    check(
        json!([{ "at": ["before", "boards", "Q"], "to": { "name": "new", "facts": { "ws_lit": true } } }]),
        "ws_lit = true\n",
        "ws_lit = true\n\n[before.boards.Q]\nname = \"new\"\n\n[before.boards.Q.facts]\nws_lit = true\n",
    );
    check(
        json!([{ "at": ["reason"], "to": "asked" }]),
        "# of one room\n",
        "# of one room\nreason = \"asked\"\n",
    );
    check(
        json!([{ "at": ["place", "facts", "job.building_permit_work"], "to": true }]),
        "edition = \"2023\"\n",
        "edition = \"2023\"\n\n[place.facts]\n\"job.building_permit_work\" = true\n",
    );
}

#[test]
fn what_goes_leaves_no_trace() {
    check(
        json!([{ "at": ["before", "boards", "P", "bus"], "to": null }]),
        "bus = 100   # by its label\n",
        "",
    );
    check(
        json!([{ "at": ["before", "circuits", "a", "amps"], "to": null }]),
        ", amps = 20",
        "",
    );
    check(
        json!([{ "at": ["before", "circuits", "b", "rooms", "0"], "to": null }]),
        "\"kitchen\", ",
        "",
    );
    // An empty patch says nothing, so it goes too, with its header.
    check(
        json!([{ "at": ["after", "circuits", "a", "amps"], "to": null }]),
        "\n[after.circuits]\na = { amps = 30 }\n",
        "",
    );
    check(json!([{ "at": ["after", "boards"], "to": null }]), "", "");
}

#[test]
fn a_thing_taken_out_goes_from_both_pictures_with_whatever_names_it() {
    let text = edited(
        TINY,
        json!([
            { "at": ["before", "circuits", "a", "shared_with"], "to": "b" },
        { "at": ["before", "circuits", "b", "shared_with"], "to": "a" },
            { "at": ["before", "outlets", "o"], "to": { "circuit": "a" } },
            { "at": ["plan", "temporary_power"], "to": ["b", "a"] },
            { "at": ["plan", "follows", "a"], "to": "b" },
            { "at": ["plan", "weight_of", "a"], "to": 3 },
        ]),
    );
    let without = edited(
        &text,
        json!([{ "at": ["before", "circuits", "a"], "to": null }]),
    );
    let job = JobFile::read(&without).unwrap().job;
    assert_eq!(job.before.circuits.len(), 1);
    assert_eq!(job.before.circuits["b"].shared_with, None);
    assert!(job.before.outlets.is_empty());
    assert_eq!(job.plan.temporary_power.len(), 1);
    assert!(job.plan.follows.is_empty() && job.plan.weight_of.is_empty());
}

#[test]
fn a_new_name_is_known_to_all_who_use_it() {
    let text = edited(
        &job("ranch-subpanel"),
        json!([{ "at": ["after", "boards", "Q"], "rename": "Hall" }]),
    );
    assert!(
        text.contains("[after.boards.Hall.circuit_facts]")
            && text.contains("[before.boards.Hall.facts]")
    );
    let job = JobFile::read(&text).unwrap().job;
    assert_eq!(job.before.feeders["Q-feeder"].to, "Hall");
    assert_eq!(job.before.circuits["fridge"].board, "Hall");
    let text = edited(
        &text,
        json!([{ "at": ["before", "walls", "closet"], "rename": "old closet" }]),
    );
    let job = JobFile::read(&text).unwrap().job;
    assert_eq!(
        job.after.walls["hall"].back_of.as_deref(),
        Some("old closet")
    );
    let message = refused(
        &text,
        json!([{ "at": ["before", "circuits", "fridge"], "rename": "freezer" }]),
    );
    assert!(
        message.contains("`after.circuits.freezer` is there already"),
        "{message}"
    );
}

#[test]
fn a_copy_stands_beside_its_model_and_has_no_spaces_yet() {
    let old = job("ranch-subpanel");
    let text = edited(
        &old,
        json!([{ "at": ["before", "circuits", "kitchen-1"], "copy": "kitchen-3" }]),
    );
    let (gone, added) = difference(&old, &text);
    assert!(gone.is_empty() && added.len() == 1, "{gone:?} {added:?}");
    assert!(added[0].starts_with(
        "kitchen-3 = { board = \"Q\", serves = \"kitchen counter, sink side\", amps = 20"
    ));
    let line = |name: &str| text.lines().position(|l| l.starts_with(name)).unwrap();
    assert_eq!(line("kitchen-1 ="), line("kitchen-3 =") - 1);
    let job = JobFile::read(&text).unwrap().job;
    assert!(job.before.circuits["kitchen-3"].spaces.is_unknown());
    let text = edited(
        &text,
        json!([{ "at": ["after", "circuits", "kitchen-1"], "copy": "island" }]),
    );
    let job = JobFile::read(&text).unwrap().job;
    assert!(!job.before.circuits.contains_key("island"));
    assert_eq!(
        job.after.circuits["island"].amps.get(),
        job.after.circuits["kitchen-1"].amps.get()
    );
}

#[test]
fn what_would_not_read_is_refused_with_its_place() {
    let message = refused(
        TINY,
        json!([{ "at": ["before", "boards", "P", "buss"], "to": 1 }]),
    );
    assert!(message.contains("did you mean `bus`"), "{message}");
    let message = refused(
        TINY,
        json!([{ "at": ["before", "boards", "P"], "to": null }]),
    );
    assert!(message.contains("`board` names the board `P`"), "{message}");
    let message = refused(
        TINY,
        json!([{ "at": ["before", "boards", "P", "bus", "by"], "to": "label" }]),
    );
    assert!(
        message.contains("`bus`, which holds a single value"),
        "{message}"
    );
    let message = refused("a = [", json!([{ "at": ["title"], "to": "x" }]));
    assert!(message.contains("line 1"), "{message}");
}

#[test]
fn no_board_can_be_the_utility() {
    for edit in [
        json!({ "at": ["before", "boards", "P"], "rename": "utility" }),
        json!({ "at": ["before", "boards", "P"], "copy": "utility" }),
    ] {
        assert!(refused(TINY, json!([edit])).contains("a board named `utility`"));
    }
}

#[test]
fn half_of_a_shared_neutral_may_go() {
    let text = job("ranch-subpanel");
    let gone = json!([{ "at": ["after", "circuits", "kitchen-1", "gone"], "to": true }]);
    let job = file(&text, gone).job;
    assert_eq!(job.after.circuits["kitchen-2"].shared_with, None);
}

#[test]
fn one_bad_edit_undoes_the_good_ones() {
    let edits = [
        edit(json!({ "at": ["title"], "to": "new" })),
        edit(json!({ "at": ["before", "circuits", "a", "poles"], "to": 9 })),
    ];
    assert!(
        apply(TINY, &edits, &|_| None)
            .unwrap_err()
            .to_string()
            .contains("`poles` is 9")
    );
    assert_eq!(
        apply(TINY, &edits[..1], &|_| None).unwrap().job.title,
        "new"
    );
}

#[test]
fn line_ends_of_another_system_stay() {
    let text = TINY.replace('\n', "\r\n");
    let changed = edited(
        &text,
        json!([{ "at": ["after", "boards", "P", "bus"], "to": 200 }]),
    );
    assert_eq!(
        changed.matches('\n').count(),
        changed.matches("\r\n").count()
    );
    assert!(changed.starts_with(&text));
}

#[test]
fn every_circuit_of_every_demo_job_can_be_changed_renamed_copied_and_taken_out() {
    for (name, text) in jobs::all() {
        let circuits = JobFile::read(&text).unwrap().job.before.circuits;
        for id in circuits.keys().map(|c| c.as_str()) {
            let at = ["before", "circuits", id];
            let field = ["before", "circuits", id, "amps"];
            let now = file(
                &text,
                json!([{ "at": field, "to": { "is": 25, "by": "label" } }]),
            );
            let expected = Fact::Known {
                is: model::units::Amperes(25.0),
                by: Said::Label,
            };
            assert_eq!(now.job.before.circuits[id].amps, expected, "{name}: {id}");
            let (gone, added) = difference(&text, now.text());
            assert!(gone.len() == 1 && added.len() == 1, "{name}: {id}");
            let now = file(&text, json!([{ "at": at, "rename": "x-1" }]));
            assert!(!now.job.after.circuits.contains_key(id), "{name}: {id}");
            let back = json!([{ "at": ["before", "circuits", "x-1"], "rename": id }]);
            assert_eq!(edited(now.text(), back), text, "{name}: {id}");
            let now = file(&text, json!([{ "at": at, "copy": "x-1" }]));
            assert!(now.job.before.circuits.contains_key("x-1"), "{name}: {id}");
            let now = file(&text, json!([{ "at": at, "to": null }]));
            assert!(!now.job.before.circuits.contains_key(id), "{name}: {id}");
        }
    }
}

/// Paths that mostly mean something.
fn paths() -> impl Strategy<Value = Vec<String>> {
    let words = prop::sample::select(vec![
        "before",
        "after",
        "boards",
        "circuits",
        "feeders",
        "loads",
        "walls",
        "outlets",
        "plan",
        "place",
        "facts",
        "amps",
        "spaces",
        "P",
        "Q",
        "kitchen-1",
        "fridge",
        "hall",
        "obstacles",
        "0",
        "1",
        "is",
        "by",
        "bus",
        "name",
        "title",
        "weight_of",
        "dwelling",
        "area",
        "cabinet",
        "working_space",
        "position",
        "x y",
        "ü",
        "candidates",
    ]);
    prop::collection::vec(words.prop_map(str::to_owned), 0..6)
}

fn values() -> impl Strategy<Value = Value> {
    let one = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<u64>().prop_map(Value::from),
        ".{0,12}".prop_map(Value::from),
        Just(json!("unknown")),
        Just(json!("Q")),
        (0..40).prop_map(|n| json!({ "is": n, "by": "label" })),
    ];
    one.prop_recursive(3, 12, 4, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..4).prop_map(Value::from),
            prop::collection::hash_map("[a-z ]{0,4}", inner, 0..4)
                .prop_map(|m| Value::Object(m.into_iter().collect())),
        ]
    })
}

fn edits() -> impl Strategy<Value = Edit> {
    prop_oneof![
        4 => (paths(), values()).prop_map(|(at, to)| Edit::Set { at, to }),
        1 => (paths(), ".{0,9}").prop_map(|(at, rename)| Edit::Rename { at, rename }),
        1 => (paths(), "[a-z0-9-]{0,9}").prop_map(|(at, copy)| Edit::Copy { at, copy }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn whatever_is_edited_reads_or_is_refused(which in 0..7usize, edits in prop::collection::vec(edits(), 1..4)) {
        let text = jobs::all().get(which).map_or(TINY.to_owned(), |(_, text)| text.clone());
        match apply(&text, &edits, &|_| None) {
            Ok(file) => prop_assert!(JobFile::read(file.text()).is_ok()),
            Err(mistakes) => prop_assert!(!mistakes.all().is_empty()),
        }
    }

    #[test]
    fn a_value_set_is_the_value_read_and_set_back_it_is_as_before(
        which in 0..6usize, pick in any::<prop::sample::Index>(), amps in 1..1200u32, slack in 0..600u32,
    ) {
        let (_, text) = &jobs::all()[which];
        let circuits = JobFile::read(text).unwrap().job.before.circuits;
        let (id, circuit) = circuits.iter().nth(pick.index(circuits.len())).unwrap();
        let at = |field| json!(["before", "circuits", id, field]);
        let now = edited(text, json!([{ "at": at("amps"), "to": amps }]));
        let read = JobFile::read(&now).unwrap().job;
        prop_assert_eq!(read.before.circuits[id].amps.get().unwrap().0, f64::from(amps));
        if let Fact::Known { is, by: Said::Seen } = circuit.amps {
            let back = edited(&now, json!([{ "at": at("amps"), "to": is.0 }]));
            prop_assert_eq!(&back, text);
        }
        // What was not there before is gone without a trace afterwards.
        let fresh = json!(["after", "circuits", id, "added_total"]);
        let now = edited(text, json!([{ "at": fresh, "to": slack }]));
        prop_assert_eq!(JobFile::read(&now).unwrap().job.after.circuits[id].added_total.get().unwrap().0, f64::from(slack));
        prop_assert_eq!(&edited(&now, json!([{ "at": fresh, "to": null }])), text);
    }
}
