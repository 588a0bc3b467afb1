//! Does the drag of a breaker agree with the solver: the same measure, the same law, and a reason for every refusal?
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod jobs;

use std::collections::BTreeMap;
use std::sync::OnceLock;

use editing::layout::{Spaces, edits_of, layout, spaces_of};
use editing::{Edit, apply};
use engine::face::{Form, Prepared, Problem, Seat, face_within, prepare, score};
use model::{Job, JobFile};
use proptest::prelude::*;
use rulebook::{Library, Rulebook};
use serde_json::json;

fn book(job: &Job) -> Rulebook {
    static LIBRARY: OnceLock<Library> = OnceLock::new();
    let library = LIBRARY.get_or_init(|| Library::without_cases().unwrap());
    library
        .rulebook(job.place.edition, &[], job.place.permit_date)
        .unwrap()
}

fn prepared(job: &Job, board: &str) -> Prepared {
    let book = book(job);
    prepare(&engine::check(job, &book), board).unwrap()
}

/// The ranch job with its face solved and stated, and what the face had to say.
fn ranch() -> &'static (JobFile, Prepared, Vec<Seat>) {
    static RANCH: OnceLock<(JobFile, Prepared, Vec<Seat>)> = OnceLock::new();
    RANCH.get_or_init(|| {
        let (_, text) = jobs::all()
            .into_iter()
            .find(|(n, _)| n == "ranch-subpanel")
            .unwrap();
        let file = JobFile::read(&text).unwrap();
        let book = book(&file.job);
        let report = engine::check(&file.job, &book);
        let face = face_within(&report, "Q", Some(4_000)).unwrap();
        let edits = edits_of(&file.job, &face);
        let seats = face.layout.unwrap().seats;
        let stated = apply(&text, &edits, &|_| None).unwrap_or_else(|m| panic!("{m}"));
        let prepared = prepared(&stated.job, "Q");
        (stated, prepared, seats)
    })
}

fn asked(spaces: &[(&str, &[&str])]) -> Spaces {
    let owned = |s: &[&str]| s.iter().map(|s| (*s).to_owned()).collect();
    spaces
        .iter()
        .map(|(name, s)| ((*name).to_owned(), owned(s)))
        .collect()
}

#[test]
fn the_solved_layout_once_stated_is_legal_and_just_as_good() {
    for (name, text) in jobs::all() {
        let file = JobFile::read(&text).unwrap();
        let book = book(&file.job);
        let report = engine::check(&file.job, &book);
        let mut solved = 0;
        for board in file.job.after.boards.keys().map(|b| b.as_str()) {
            let Ok(face) = face_within(&report, board, Some(60)) else {
                continue;
            };
            let Ok(best) = &face.layout else { continue };
            if best.seats.is_empty() {
                continue;
            }
            solved += 1;
            let edits = edits_of(&file.job, &face);
            let stated = apply(&text, &edits, &|_| None).unwrap_or_else(|m| panic!("{name}: {m}"));
            let found = layout(&stated.job, &prepared(&stated.job, board), &Spaces::new());
            assert!(found.legal, "{name}, {board}: {:?}", found.refused);
            // The main that the face takes for granted has no place in the job to be stated at.
            assert!(
                found.unplaced.iter().all(|n| n == "main"),
                "{name}: {:?}",
                found.unplaced
            );
            let legs = face.after.unwrap();
            assert_eq!(found.legs.load, legs.load, "{name}, {board}");
            if found.unplaced.is_empty() {
                assert_eq!(found.score, Some(best.score), "{name}, {board}");
            }
            assert!(
                edits_of(&stated.job, &face).is_empty(),
                "{name}: nothing is left to do"
            );
        }
        assert!(solved > 0 || name == "three-level-service", "{name}");
    }
}

fn refused(spaces: &[(&str, &[&str])], circuit: &str, says: &str) {
    let (file, prepared, _) = ranch();
    let found = layout(&file.job, prepared, &asked(spaces));
    assert!(!found.legal && found.edits.is_empty());
    let hit = found
        .refused
        .iter()
        .any(|r| r.circuit == circuit && r.why.contains(says));
    assert!(hit, "{spaces:?}: {:?}", found.refused);
}

#[test]
fn every_illegal_move_is_refused_with_its_reason() {
    let (file, _, _) = ranch();
    let taken = file.job.after.circuits["fridge"].spaces.known().unwrap()[0].clone();
    refused(&[("living", &["99"])], "living", "spaces 1 to 30");
    refused(&[("living", &["zero"])], "living", "space zero");
    refused(&[("living", &[&taken])], "living", "taken by `fridge`");
    refused(&[("dryer", &["1", "5"])], "dryer", "on leg A");
    refused(&[("dryer", &["1", "7"])], "dryer", "stand apart");
    refused(&[("dryer", &["1"])], "dryer", "takes 2 spaces");
    refused(&[("shop", &["14A", "14B"])], "shop", "half a tandem");
    refused(
        &[("kitchen-1", &["1"]), ("kitchen-2", &["5"])],
        "kitchen-1",
        "on leg A",
    );
    refused(
        &[("kitchen-1", &["1"]), ("kitchen-2", &["7"])],
        "kitchen-2",
        "handle tie or common trip",
    );
    refused(
        &[("kitchen-1", &["1A"]), ("kitchen-2", &["1B"])],
        "kitchen-2",
        "common trip",
    );
    refused(&[("nobody", &["1"])], "nobody", "not on board `Q`");
    // The label of the new panel allows no tandem breakers.
    let half = file.job.after.circuits.keys().find(|id| {
        let layout = layout(&file.job, &ranch().1, &asked(&[(id.as_str(), &["14A"])]));
        layout
            .refused
            .iter()
            .any(|r| r.why.contains("allows no tandem"))
    });
    assert!(half.is_some());
    refused(&[("bed-south", &["14A"])], "bed-south", "full width");
}

#[test]
fn what_is_pinned_stays() {
    let (file, _, _) = ranch();
    let at = ["after", "circuits", "sump", "pinned"];
    let pinned = apply(file.text(), &[Edit::set(at, true)], &|_| None).unwrap();
    let prepared = prepared(&pinned.job, "Q");
    assert!(layout(&pinned.job, &prepared, &Spaces::new()).legal);
    let stays = &pinned.job.after.circuits["sump"].spaces.known().unwrap()[0];
    let other = if stays == "29" { "30" } else { "29" };
    let found = layout(&pinned.job, &prepared, &asked(&[("sump", &[other])]));
    assert!(
        found
            .refused
            .iter()
            .any(|r| r.circuit == "sump" && r.why.contains("has to stay")),
        "{found:?}"
    );
}

#[test]
fn a_legal_move_comes_with_its_edit_and_two_may_change_places() {
    let (file, prepared, _) = ranch();
    let space = |id: &str| file.job.after.circuits[id].spaces.known().unwrap()[0].clone();
    let (a, b) = (space("bed-south"), space("bed-northwest"));
    let swap = asked(&[("bed-south", &[&b]), ("bed-northwest", &[&a])]);
    let found = layout(&file.job, prepared, &swap);
    assert!(found.legal, "{found:?}");
    let changed = apply(file.text(), &found.edits, &|_| None).unwrap();
    assert_eq!(
        changed.job.after.circuits["bed-south"]
            .spaces
            .known()
            .unwrap(),
        &[b]
    );
    let again = layout(&changed.job, prepared, &Spaces::new());
    assert_eq!(
        (again.imbalance, again.score),
        (found.imbalance, found.score)
    );
    let off = layout(&file.job, prepared, &asked(&[("bed-south", &[])]));
    assert_eq!(
        (off.legal, off.unplaced.as_slice()),
        (true, &["bed-south".to_owned()][..])
    );
    assert_eq!(json!(off.edits[0])["to"], "unknown");
}

/// A seat like those of the problem, right or wrong.
fn seat(problem: &Problem, at: usize, turned: bool, half: bool, form: Form) -> Seat {
    Seat {
        space: at % problem.spaces.len(),
        half: half && form == Form::Half,
        turned: turned && form == Form::Tied,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn drag_and_solver_have_one_law(
        moved in prop::collection::vec((any::<prop::sample::Index>(), 0..30usize, any::<bool>(), any::<bool>()), 0..3),
        tandems in prop::collection::vec(any::<bool>(), 30),
    ) {
        let (file, prepared, solved) = ranch();
        let mut prepared = prepared.clone();
        let problem = &mut prepared.problem;
        problem.spare = 0;
        for (space, tandem) in problem.spaces.iter_mut().zip(tandems) {
            space.tandem = tandem;
        }
        let mut seats = solved.clone();
        for (which, at, turned, half) in moved {
            let item = which.index(seats.len());
            seats[item] = seat(problem, at, turned, half, problem.items[item].form);
        }
        let faults = score::faults(problem, &seats);
        let spaces: BTreeMap<String, Vec<String>> = spaces_of(problem, &seats);
        let found = layout(&file.job, &prepared, &spaces);
        prop_assert_eq!(found.legal, faults.is_empty(), "{:?} {:?}", found.refused, faults);
        if found.legal {
            let expected = score::score(&prepared.problem, &seats);
            prop_assert_eq!(found.imbalance, expected.imbalance);
            prop_assert_eq!(found.score, Some(expected));
        }
    }
}
