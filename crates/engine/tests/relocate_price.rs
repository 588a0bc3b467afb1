//! Does the price of a place agree with the price of the whole job planned at that place?
//! Source: [`engine::price`] over the demo job, its after picture put to each place by hand. What is the same at both places cancels out.

#![allow(clippy::unwrap_used, clippy::panic, reason = "tests may stop")]

use engine::check::check;
use engine::price::price;
use engine::relocate::{Candidate, Costing, Request, sweep};
use model::house::Point;
use model::units::{Feet, Inches};
use model::{Dollars, Fact, Job, JobFile};
use rulebook::{Library, Rulebook};
use shop::Book;

fn ranch() -> Job {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../examples/ranch-subpanel.toml"
    );
    let text = std::fs::read_to_string(path).unwrap();
    match JobFile::read(&text) {
        Ok(file) => file.job,
        Err(mistakes) => panic!("{mistakes}"),
    }
}

/// The least that the whole job costs with the panel planned at this place of the hall.
fn whole(job: &Job, book: &Rulebook, shop: &Book, x: f64) -> Dollars {
    let mut job = job.clone();
    let old = job.before.boards["Q"].position.clone().unwrap();
    let at = Point {
        wall: "hall".to_owned(),
        x: Inches(x),
        y: Inches(34.0),
    };
    let path = job.after.path(&old, &at).unwrap();
    let board = job.after.boards.get_mut("Q").unwrap();
    board.position = Some(at);
    board.route_from_old = Fact::Unknown;
    let length = job.before.feeders["Q-feeder"].length.get().unwrap() + Feet::from(path);
    job.after.feeders.get_mut("Q-feeder").unwrap().length = Fact::seen(length);
    price(&check(&job, book), shop, &job.offer).span().0
}

#[test]
fn two_places_differ_by_what_the_whole_job_differs_by() {
    let job = ranch();
    let library = Library::built_in().unwrap();
    let book = library
        .rulebook(job.place.edition, &[], job.place.permit_date)
        .unwrap();
    let shop = Book::built_in().unwrap();
    let costing = Costing::new(&shop, &job, &job.offer);
    let moved = sweep(&job, &book, &Request::default(), &costing).unwrap();
    let hall = moved.sweep.walls.iter().find(|w| w.wall == "hall").unwrap();
    let at = |x: f64| -> &Candidate { hall.places.iter().find(|p| p.at.x == Inches(x)).unwrap() };
    // Within six feet, at the end of that stretch, and beyond it.
    for (near, far) in [(58.0, 81.0), (58.0, 154.0), (70.0, 180.0)] {
        let here = at(far).cost.price.low - at(near).cost.price.low;
        let there = whole(&job, &book, &shop, far) - whole(&job, &book, &shop, near);
        // Cable of one sort is one line here and one line for each circuit there, and staples are whole there: half a cent a line and a staple a circuit.
        let apart = (here - there).cents().abs();
        assert!(
            apart <= 500,
            "{near} to {far}: {here} here, {there} in the whole job"
        );
    }
}
