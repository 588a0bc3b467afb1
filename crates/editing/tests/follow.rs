//! Do the edits that the engine hands out do what they say: answers settle questions, remedies make feeders pass, places are those of the sweep?
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod jobs;

use std::sync::OnceLock;

use editing::place::PanelPlace;
use editing::question::{Answerable, Desk, Kind};
use editing::remedy::of_feeder;
use editing::{Edit, apply};
use engine::conductor::Verdict;
use engine::price;
use engine::relocate::{Candidate, Costing, Request, Way, placed, sweep};
use model::{Dollars, Job, JobFile};
use rulebook::{Library, Rulebook};
use serde_json::{Value, json};

fn book(job: &Job) -> Rulebook {
    static LIBRARY: OnceLock<Library> = OnceLock::new();
    let library = LIBRARY.get_or_init(|| Library::without_cases().unwrap());
    library
        .rulebook(job.place.edition, &[], job.place.permit_date)
        .unwrap()
}

fn changed(text: &str, edits: &[Edit]) -> JobFile {
    apply(text, edits, &|file| Some(book(&file.job))).unwrap_or_else(|m| panic!("{m}"))
}

fn job(name: &str) -> String {
    jobs::all().into_iter().find(|(n, _)| n == name).unwrap().1
}

/// A place in words, and where the answer goes.
type Asked = (String, Option<Answerable>);

/// Questions by name, each with the places it is asked about.
fn questions(file: &JobFile, book: &Rulebook) -> Vec<(String, Vec<Asked>)> {
    let report = engine::check(&file.job, book);
    let desk = Desk::of(file, book.facts());
    let one = |q: &engine::questions::Question<'_>| {
        let places = q.places.iter().map(|p| {
            let place = format!("{} {}", p.place.sort(), p.place.name());
            (place, desk.place(&q.name, p.place, &p.path))
        });
        (q.name.clone(), places.collect())
    };
    report.questions.iter().map(one).collect()
}

fn answers(takes: &Answerable) -> Vec<Value> {
    let words = &takes.choices.choices;
    match takes.choices.kind {
        Kind::YesNo => vec![json!(true), json!(false)],
        Kind::Number => vec![json!(75), json!(4)],
        Kind::Choice => words.iter().take(3).map(|w| json!(w)).collect(),
        Kind::Choices => vec![json!([]), json!([words[0]])],
        Kind::Date => vec![json!("2026-11-30")],
    }
}

#[test]
fn an_answer_in_its_place_settles_the_question_there() {
    let mut tried = 0;
    let mut nowhere = Vec::new();
    for (name, text) in jobs::all() {
        let file = JobFile::read(&text).unwrap();
        let book = book(&file.job);
        for (fact, places) in questions(&file, &book) {
            let (first, rest): (Vec<_>, Vec<_>) =
                places.into_iter().enumerate().partition(|(n, _)| *n == 0);
            for (_, (_, answerable)) in rest {
                let takes = answerable.unwrap_or_else(|| panic!("{name}: {fact}"));
                // That it reads is enough for the others of its sort.
                changed(
                    &text,
                    &[Edit::Set {
                        at: takes.at.clone(),
                        to: answers(&takes)[0].clone(),
                    }],
                );
            }
            for (_, (place, answerable)) in first {
                let Some(takes) = answerable else {
                    nowhere.push(format!("{name}: {fact}"));
                    continue;
                };
                let mut settled = 0;
                for to in answers(&takes) {
                    let at = takes.at.clone();
                    let now = changed(
                        &text,
                        &[Edit::Set {
                            at: at.clone(),
                            to: to.clone(),
                        }],
                    );
                    assert!(
                        engine::facts::check_stated(&now, book.facts()).is_empty(),
                        "{name}: {fact} {at:?} {to}"
                    );
                    let left = questions(&now, &book);
                    let open = left
                        .iter()
                        .any(|(f, p)| *f == fact && p.iter().any(|(p, _)| *p == place));
                    settled += usize::from(!open);
                    tried += 1;
                }
                assert!(
                    settled > 0,
                    "{name}: no answer to `{fact}` ({place}) at {:?} settles it",
                    takes.at
                );
            }
        }
    }
    assert!(tried > 50, "{tried}");
    // What only a worksheet asks for hangs on several fields.
    nowhere.sort();
    nowhere.dedup();
    let of_sheets = [
        "big-house-42: board.P.wire-bending",
        "workshop-three-wire: feeder.W-feeder.raceway-fill",
    ];
    assert_eq!(nowhere, of_sheets);
}

#[test]
fn a_remedy_once_applied_makes_the_feeder_pass() {
    let mut tried = 0;
    for (name, text) in jobs::all() {
        let file = JobFile::read(&text).unwrap();
        let book = book(&file.job);
        let report = engine::check(&file.job, &book);
        for feeder in &report.sheets.feeders {
            for change in &feeder.changes {
                let edits = of_feeder(&file.job, feeder, change);
                if edits.is_empty() {
                    continue;
                }
                let now = changed(&text, &edits);
                let after = engine::check(&now.job, &book);
                let passes = after
                    .sheets
                    .feeders
                    .iter()
                    .find(|f| f.id == feeder.id)
                    .map(|f| f.check.verdict);
                assert_eq!(
                    passes,
                    Some(Verdict::Pass),
                    "{name}: {} {change:?}",
                    feeder.id
                );
                tried += 1;
            }
        }
    }
    assert!(tried > 1, "{tried}");
}

fn place_of(at: &Candidate) -> Edit {
    Edit::Place {
        at: ["after", "boards", "Q"].map(str::to_owned).to_vec(),
        place: PanelPlace {
            wall: at.at.wall.clone(),
            x: at.at.x.0,
            way: at.way.into(),
        },
    }
}

#[test]
fn a_panel_that_is_placed_is_the_one_that_the_sweep_looked_at() {
    let text = job("ranch-subpanel");
    let file = JobFile::read(&text).unwrap();
    let book = book(&file.job);
    let shop = shop::Book::built_in().unwrap();
    let costing = Costing::new(&shop, &file.job, &file.job.offer);
    let moved = sweep(&file.job, &book, &Request::default(), &costing)
        .unwrap()
        .sweep;
    let cost = |file: &JobFile| -> (Dollars, Dollars) {
        price::price(&engine::check(&file.job, &book), &shop, &file.job.offer).span()
    };
    let (mut first, mut compared): (Option<(Dollars, Dollars)>, usize) = (None, 0);
    for wall in &moved.walls {
        let (possible, not): (Vec<_>, Vec<_>) =
            wall.places.iter().partition(|p| p.legality.is_possible());
        let some = possible.into_iter().step_by(14);
        for at in some.chain(not.into_iter().step_by(60)) {
            let now = changed(&text, &[place_of(at)]);
            let meant = placed(&file.job, &book, "Q", (&at.at.wall, at.at.x), at.way).unwrap();
            assert_eq!(now.job.after, meant.after, "{} {}", at.at.wall, at.at.x);
            // Placing it there again changes nothing.
            assert_eq!(changed(now.text(), &[place_of(at)]).text(), now.text());
            if !at.legality.is_possible() {
                continue;
            }
            assert!(at.cost.unpriced.is_empty(), "{:?}", at.cost.unpriced);
            // Two places differ in the whole job by what they differ in the sweep; half a cent a line and a staple a circuit are rounded there.
            let (whole, swept) = (cost(&now).0, at.cost.price.low);
            let (whole_first, swept_first) = *first.get_or_insert((whole, swept));
            let apart = ((whole - whole_first) - (swept - swept_first))
                .cents()
                .abs();
            assert!(apart <= 500, "{} {}: {apart}", at.at.wall, at.at.x);
            compared += 1;
        }
    }
    assert!(compared > 5, "{compared}");
    let back = changed(&text, &[place_of(&moved.in_place)]);
    assert_eq!(moved.in_place.way, Way::InPlace);
    assert_eq!(
        back.job.after.boards["Q"].position,
        file.job.before.boards["Q"].position
    );
}

#[test]
fn a_place_that_is_not_there_is_refused() {
    let text = job("ranch-subpanel");
    let place = |at: &[&str], wall: &str, x: f64| {
        let place = json!({ "wall": wall, "x": x, "way": "splice_box" });
        let edit = serde_json::from_value(json!({ "at": at, "place": place })).unwrap();
        apply(&text, &[edit], &|file| Some(book(&file.job)))
            .unwrap_err()
            .to_string()
    };
    assert!(place(&["after", "boards", "Q"], "attic", 3.0).contains("wall"));
    assert!(place(&["after", "boards", "Q"], "hall", 300.0).contains("beyond wall `hall`"));
    assert!(place(&["before", "boards", "Q"], "hall", 3.0).contains("cannot be put on a wall"));
    assert!(place(&["after", "boards", "X"], "hall", 3.0).contains("`X`"));
}
