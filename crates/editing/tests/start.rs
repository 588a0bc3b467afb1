//! Does every interview make a job that reads, in which what nobody said is a question?
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use editing::start::{Interview, start};
use model::scope::{Change, Scope};
use model::{Fact, Job, Said};
use serde_json::{Value, json};

fn interview(value: Value) -> Interview {
    serde_json::from_value(value).unwrap()
}

fn job(value: Value) -> Job {
    start(&interview(value))
        .unwrap_or_else(|m| panic!("{m}"))
        .job
}

fn roles(job: &Job) -> Vec<(String, Option<String>)> {
    let fed = |id: &str| {
        job.before
            .feeders
            .values()
            .find(|f| f.to == id)
            .map(|f| f.from.clone())
    };
    job.before
        .boards
        .keys()
        .map(|b| (b.to_string(), fed(b.as_str())))
        .collect()
}

#[test]
fn the_service_touched_means_a_new_service_panel() {
    let job = job(
        json!({ "service_touched": true, "edition": "2023", "state": "OH",
        "boards": [{ "id": "P1", "name": "garage panel", "bus": 100 }, { "id": "P2", "name": "attic" }] }),
    );
    assert_eq!(
        roles(&job),
        [
            ("P1".into(), Some("utility".into())),
            ("P2".into(), Some("P1".into()))
        ]
    );
    let scope = Scope::of(&job);
    assert_eq!(scope.board("P1").unwrap().change, Change::Replaced);
    assert_eq!(scope.board("P2").unwrap().change, Change::Kept);
    let said = Fact::Known {
        is: model::units::Amperes(100.0),
        by: Said::Customer,
    };
    assert_eq!(job.before.boards["P1"].bus, said);
    assert!(
        job.after.boards["P1"].bus.is_unknown(),
        "the new one is not like for like until somebody says so"
    );
}

#[test]
fn the_service_not_touched_means_that_it_stays_though_nobody_named_it() {
    let job = job(
        json!({ "service_touched": false, "edition": "2023", "boards": [{ "name": "closet panel" }] }),
    );
    assert_eq!(
        roles(&job),
        [
            ("closet-panel".into(), Some("service-panel".into())),
            ("service-panel".into(), Some("utility".into()))
        ]
    );
    let scope = Scope::of(&job);
    assert_eq!(
        scope.board("closet-panel").unwrap().change,
        Change::Replaced
    );
    assert_eq!(scope.board("service-panel").unwrap().change, Change::Kept);
}

#[test]
fn when_nobody_knows_nothing_is_said_of_who_feeds_whom() {
    let job = job(json!({ "edition": "2020", "boards": [{ "id": "P1" }] }));
    assert!(job.before.feeders.is_empty());
}

#[test]
fn without_an_edition_there_is_no_job() {
    let why = start(&interview(json!({ "state": "OH" }))).unwrap_err();
    assert!(why.to_string().contains("there is no default"), "{why}");
}

#[test]
fn what_does_not_suit_comes_back_with_its_place() {
    let why = start(&interview(json!({ "edition": "2023", "area": "big" })))
        .unwrap_err()
        .to_string();
    assert!(why.contains("line ") && why.contains("big"), "{why}");
    let why = start(&interview(json!({ "edition": "2024" })))
        .unwrap_err()
        .to_string();
    assert!(why.contains("2023"), "{why}");
}

#[test]
fn every_interview_makes_a_job_that_can_be_checked_and_asks_for_what_was_not_said() {
    let library = rulebook::Library::without_cases().unwrap();
    let boards = |n: usize, told: bool| -> Vec<Value> {
        let one = |i: usize| match told {
            true => {
                json!({ "id": format!("P{i}"), "name": "a panel", "bus": 200, "main": "main_breaker", "spaces": 20 })
            }
            false => json!({ "name": "a panel" }),
        };
        (1..=n).map(one).collect()
    };
    for service in [json!(true), json!(false), Value::Null] {
        for count in 0..4 {
            for told in [false, true] {
                for edition in ["2014", "2026"] {
                    let mut value = json!({ "service_touched": service, "edition": edition, "boards": boards(count, told) });
                    if told {
                        let more = json!({ "title": "t \"1\"", "reason": "r", "state": "OH", "city": "Here", "customer": "c",
                            "address": "1 Way", "permit_date": "2026-11-30", "kind": "one_family",
                            "area": { "is": 1200, "by": "measured" }, "year_built": 1970 });
                        value
                            .as_object_mut()
                            .unwrap()
                            .extend(more.as_object().unwrap().clone());
                    }
                    let file = start(&interview(value)).unwrap_or_else(|m| panic!("{m}"));
                    let book = library
                        .rulebook(file.job.place.edition, &[], file.job.place.permit_date)
                        .unwrap();
                    assert!(engine::facts::check_stated(&file, book.facts()).is_empty());
                    let read = serde_json::to_value(editing::read(&file, book.facts())).unwrap();
                    assert_eq!(read["before"]["dwelling"]["area"]["known"], told);
                    let unknown = json!({ "known": false, "asked": true });
                    assert_eq!(read["before"]["dwelling"]["system"], unknown);
                    for board in read["before"]["boards"].as_object().unwrap().values() {
                        assert!(
                            board["bus"]["known"] == true || board["bus"] == unknown,
                            "{board}"
                        );
                    }
                    let report = engine::check(&file.job, &book);
                    let replaced = Scope::of(&file.job)
                        .boards
                        .iter()
                        .any(|(_, b)| b.change == Change::Replaced);
                    assert!(!replaced || !report.questions.is_empty(), "{}", file.text());
                }
            }
        }
    }
}
