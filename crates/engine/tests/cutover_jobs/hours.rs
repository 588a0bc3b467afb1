//! Does a plan take the hours that its labour lines add up to, and those that are published?

use engine::cutover::{Times, plan};

use crate::holds::check;
use crate::plans::{EXAMPLES, circuits, example, job, times};

#[test]
fn a_shutdown_takes_what_its_labour_lines_add_up_to() {
    // By hand from labour.csv, one worker, three circuits replaced in place:
    // dead 20 + demount 60 + mount 60 + feeder 30 + 3 x (land 9 + tests 4) + torque 1.25 x (4 + 3 x 3) + short check 10 + proof 20
    // = 255.25 min; then 2 min for each circuit that is switched on.
    let job = job("workers = 1", &circuits(3), "");
    let cut = plan(&job, &times()).unwrap();
    check(&job, &cut);
    let dead = 20.0 + 120.0 + 30.0 + 3.0 * 13.0 + 1.25 * 13.0 + 10.0 + 20.0;
    let mut totals: Vec<f64> = cut
        .circuits
        .iter()
        .map(|c| c.total().hours().0 * 60.0)
        .collect();
    totals.sort_by(f64::total_cmp);
    for (total, on) in totals.iter().zip([2.0, 4.0, 6.0]) {
        assert!((total - dead - on).abs() < 0.02, "{totals:?}");
    }
    assert!(cut.score.is_optimal());
    assert!(
        cut.circuits.iter().all(|c| c.id != "main-hall"),
        "S stays live"
    );
}

#[test]
fn a_panel_of_24_circuits_takes_the_hours_that_are_published() {
    // Two electricians 4 to 8 h, 8 to 16 person-hours (contractor's article, 2023); up to three people 3 to 11 h (article, 2022);
    // sum of the default parameters about 15 person-hours. Inspection and permit trips (2 to 2.5 h) are not part of the cut-over.
    let job = job("workers = 2\nshift = 12", &circuits(24), "");
    let cut = plan(&job, &times()).unwrap();
    check(&job, &cut);
    let person_hours: f64 = cut.tasks.iter().map(|t| (t.end - t.start).hours().0).sum();
    assert!((8.0..=16.0).contains(&person_hours), "{person_hours}");
    assert!((person_hours - 15.0).abs() < 1.0, "{person_hours}");
    assert!(
        (3.0..=11.0).contains(&cut.end.hours().0),
        "{:?}",
        cut.end.hours()
    );
}

#[test]
fn work_that_takes_no_time_does_no_harm() {
    for name in EXAMPLES {
        let job = example(name);
        let cut = plan(&job, &Times::default()).unwrap();
        assert_eq!(cut.score.dark, 0);
    }
}

#[test]
fn the_worksheet_adds_up_to_the_score() {
    let job = example("ranch-subpanel.toml");
    let cut = plan(&job, &times()).unwrap();
    let sheet = engine::cutover::sheet::sheet(&cut, job.place.edition);
    let lines = sheet.lines.iter().filter(|l| {
        l.label.starts_with("Weighted dark hours of ") && l.label != "Weighted dark hours of all"
    });
    let sum: f64 = lines.filter_map(|l| sheet.number(&l.label)).sum();
    let all = sheet.number("Weighted dark hours of all").unwrap();
    assert!((sum - all).abs() < 1e-6 && (all - cut.score.dark_hours()).abs() < 1e-9);
    assert!(sheet.number("They cannot be less than").unwrap() <= all);
}
