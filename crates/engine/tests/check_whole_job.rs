//! The whole job in one call: nothing from nothing, differences between editions, and every reason down to its witness.

#![allow(clippy::unwrap_used, clippy::panic)]

mod jobs_in_text;

use engine::check::Status;
use engine::facts::Place;
use engine::findings::{Part, explain};
use jobs_in_text::{book, house, read};
use model::{Edition, Said};
use rulebook::requirement::Verdict;

const MOVED: &str = "[after.boards.Q]\nreplaced = true\nold_cabinet = \"splice_box\"\nmake_up = 30\nposition = { wall = \"north\", x = 80, y = 60 }";

#[test]
fn where_after_equals_before_there_is_no_scope_and_no_work() {
    let file = read(&house("2023", "", ""));
    for edition in Edition::ALL {
        let book = book(edition);
        let report = engine::check(&file.job, &book);
        assert!(report.scope.is_empty());
        assert_eq!(report.status(), Status::NothingMissing, "{edition}");
        let extended = ["afci-extension", "splices-in-boxes", "free-conductor"];
        for id in extended {
            assert_eq!(report.findings.of(id).count(), 0, "{id} in {edition}");
        }
        let unchanged = engine::compare(&file.job, &book, &book);
        assert!(unchanged.is_empty());
    }
}

#[test]
fn editions_differ_where_their_texts_differ() {
    let no = "\"job.ahj_measures_outside_only\" = false";
    let file = read(&house("2017", no, MOVED));
    let (old, new) = (book(Edition::Y2017), book(Edition::Y2020));
    let differences = engine::compare(&file.job, &old, &new);
    let length = differences
        .iter()
        .find(|d| d.requirement == "afci-extension")
        .unwrap();
    assert_eq!(
        (length.first, length.second),
        (Verdict::Required, Verdict::NotRequired)
    );
    assert_eq!(length.places.len(), 1);
}

#[test]
fn a_verdict_is_explained_down_to_who_said_each_fact() {
    let file = read(&house("2023", "", MOVED));
    let book = book(Edition::Y2023);
    let report = engine::check(&file.job, &book);
    let bed = "bed".try_into().unwrap();
    let why = explain(&report.facts, &book, "afci-extension", Place::Circuit(&bed)).unwrap();
    assert_eq!(why.verdict, Verdict::NotRequired);
    let mut facts = Vec::new();
    gather(&why.applies, &mut facts);
    let of = |name: &str| facts.iter().find(|f| f.0 == name).cloned().unwrap();
    let length = of("circuit.ext_outside_in");
    assert_eq!(length.1.as_deref(), Some("70 in"));
    assert_eq!(length.2, Some(Said::Derived));
    assert_eq!(of("circuit.areas").2, Some(Said::Seen));
    let inspector = of("job.ahj_shortening_is_modification");
    assert_eq!(inspector.1, None);
    assert_eq!(
        inspector.3.as_deref(),
        Some("place.facts.\"job.ahj_shortening_is_modification\"")
    );
}

type Used = (String, Option<String>, Option<Said>, Option<String>);

fn gather(part: &Part<'_>, into: &mut Vec<Used>) {
    for f in &part.facts {
        into.push((f.fact.clone(), f.value.clone(), f.said, f.answer.clone()));
    }
    for part in &part.parts {
        gather(part, into);
    }
}

#[test]
fn a_finding_stands_where_it_is_decided() {
    let file = read(&house("2023", "", MOVED));
    let book = book(Edition::Y2023);
    let report = engine::check(&file.job, &book);
    let sorts = |id: &str| -> Vec<String> {
        let findings = report.findings.of(id);
        findings
            .flat_map(|f| f.instances.iter().map(|i| i.place.to_string()))
            .collect()
    };
    assert_eq!(sorts("torque"), ["board Q"]);
    assert_eq!(sorts("ws-depth"), ["board Q"]);
    assert_eq!(sorts("old-cabinet-junction"), ["old cabinet Q"]);
    assert_eq!(sorts("splices-in-boxes"), ["circuit bed"]);
}

#[test]
fn a_board_that_is_taken_out_is_asked_only_what_becomes_of_its_cabinet() {
    let combined = "[after.boards.Q]\ngone = true\n[after.feeders.QF]\ngone = true\n[after.circuits.bed]\nboard = \"S\"";
    let file = read(&house("2023", "", combined));
    let book = book(Edition::Y2023);
    let report = engine::check(&file.job, &book);
    let about_q: Vec<&str> = report
        .findings
        .findings
        .iter()
        .filter(|f| f.instances.iter().any(|i| i.place.name() == "Q"))
        .map(|f| f.id())
        .collect();
    assert_eq!(about_q, ["old-cabinet-junction"]);
}
