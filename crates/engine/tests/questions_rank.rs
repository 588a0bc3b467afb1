//! Questions in order of what hangs on them: danger, then money; and none that no answer could turn into work.

#![allow(clippy::unwrap_used, clippy::panic)]

mod jobs_in_text;

use engine::questions::Question;
use jobs_in_text::{book, house, read};
use model::{Dollars, Edition};
use rulebook::Datum;
use rulebook::requirement::Verdict;

const MOVED: &str = "[after.boards.Q]\nreplaced = true\nold_cabinet = \"splice_box\"\nmake_up = 30\nposition = { wall = \"north\", x = 118, y = 60 }";

fn check(place: &str, after: &str, look: impl Fn(&[Question<'_>])) {
    let file = read(&house("2023", place, after));
    let book = book(Edition::Y2023);
    look(&engine::check(&file.job, &book).questions);
}

#[test]
fn grave_danger_comes_first_then_money_then_lesser_danger() {
    check("", MOVED, |questions| {
        assert!(questions.len() > 5);
        for pair in questions.windows(2) {
            let weight = |q: &Question<'_>| (q.danger == 3, q.swing, q.danger);
            assert!(weight(&pair[0]) >= weight(&pair[1]), "{pair:?}");
        }
    });
}

#[test]
fn an_answer_goes_where_the_job_file_has_a_place_for_it() {
    check("", MOVED, |questions| {
        let path = |name: &str| {
            let question = questions.iter().find(|q| q.name == name);
            question.map(|q| q.places[0].path.clone())
        };
        assert_eq!(
            path("panel.ws_depth_in").as_deref(),
            Some("boards.Q.working_space.depth")
        );
        assert_eq!(
            path("panel.torque_recorded").as_deref(),
            Some("boards.Q.facts.torque_recorded")
        );
    });
}

#[test]
fn the_swing_is_what_the_answers_change_in_remedies() {
    let rooms = "\n[after.circuits.bed]\nrooms = \"unknown\"";
    check("", &format!("{MOVED}{rooms}"), |questions| {
        let areas = questions
            .iter()
            .find(|q| q.name == "circuit.areas")
            .unwrap();
        let book = book(Edition::Y2023);
        let requirement = book.requirement("afci-extension").unwrap().requirement();
        let high = requirement.cost.as_ref().map(|c| c.high);
        assert_eq!(Some(areas.swing), high);
        assert!(areas.swing > Dollars::ZERO);
        assert_eq!(areas.requirements, ["afci-extension"]);
    });
}

#[test]
fn an_answered_question_is_not_asked_again() {
    let facts = "\n[after.boards.Q.facts]\ntorque_recorded = true";
    let asks =
        |questions: &[Question<'_>]| questions.iter().any(|q| q.name == "panel.torque_recorded");
    check("", MOVED, |q| assert!(asks(q)));
    check("", &format!("{MOVED}{facts}"), |q| assert!(!asks(q)));
}

#[test]
fn every_question_has_an_answer_that_bites_or_leaves_another_open() {
    let file = read(&house("2023", "", MOVED));
    let book = book(Edition::Y2023);
    let report = engine::check(&file.job, &book);
    let mut tried = 0;
    for question in &report.questions {
        let Some(fact) = question.fact else { continue };
        let entry = book.facts().get(fact).unwrap();
        if entry.kind != rulebook::FactKind::Bool {
            continue;
        }
        let bites = report.findings.open().any(|finding| {
            finding.instances.iter().any(|instance| {
                [false, true].into_iter().any(|answer| {
                    let mut slots = report.facts.slots(instance.row).to_vec();
                    slots[fact.index()] = Some(Datum::Bool(answer));
                    let verdict = finding.requirement.judge(&slots).verdict;
                    instance.missing.contains(fact)
                        && !matches!(verdict, Verdict::NotRequired | Verdict::Met)
                })
            })
        });
        assert!(bites, "{}", question.name);
        tried += 1;
    }
    assert!(tried > 5, "{tried}");
}

#[test]
fn two_runs_ask_the_same_questions_in_the_same_order() {
    let file = read(&house("2020", "", MOVED));
    let book = book(Edition::Y2020);
    let names = || -> Vec<String> {
        let questions = engine::check(&file.job, &book).questions;
        questions.into_iter().map(|q| q.name).collect()
    };
    assert_eq!(names(), names());
}

#[test]
fn a_calculation_that_lacks_something_says_what() {
    let unknown = "\n[after.supply]\nfault_current = \"unknown\"\n[after.boards.Q]\nreplaced = true\nshort_circuit_rating = 10000";
    check("", unknown, |questions| {
        let current = questions.iter().find(|q| q.name == "panel.afc_a").unwrap();
        assert_eq!(current.places[0].path, "supply.fault_current");
        assert!(!current.worksheets.is_empty());
        let needs = current.needs.join("; ");
        assert!(needs.contains("fault current"), "{needs}");
    });
}
