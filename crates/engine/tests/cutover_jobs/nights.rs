//! What is dark overnight, and what makes darkness shorter: temporary power, a round of restoring.

use engine::cutover::{Limit, plan, plan_as};
use model::plan::Transfer;

use crate::holds::check;
use crate::plans::{ELSEWHERE, beside, circuits, job, times};

#[test]
fn the_old_panel_is_alive_overnight_for_what_is_still_on_it() {
    let job = job("", &circuits(30), ELSEWHERE);
    let cut = plan_as(&job, &beside(Transfer::OldCabinet, 1, 8.0), &times()).unwrap();
    check(&job, &cut);
    assert!(
        cut.circuits
            .iter()
            .all(|c| c.dark.iter().all(|d| !d.is_overnight()))
    );
    assert!(
        cut.circuits.iter().any(|c| c.dark.len() > 2),
        "some are dark on two days"
    );
    assert!(!cut.score.is_optimal());
}

#[test]
fn what_is_landed_by_the_end_of_a_day_is_not_dark_overnight_and_the_heavy_ones_are() {
    let mut list = circuits(30);
    list.push_str("fridge = { board = \"Q\", critical = { why = \"food\", longest_dark = 9 } }\n");
    let job = job("workers = 1\nshift = 8", &list, "");
    let cut = plan(&job, &times()).unwrap();
    check(&job, &cut);
    let fridge = cut.circuits.iter().find(|c| c.id == "fridge").unwrap();
    assert_eq!(fridge.dark.len(), 2, "dark, live overnight, dark");
    assert!(matches!(fridge.limit, Limit::Kept(_)));
    assert!(
        cut.warnings
            .iter()
            .any(|w| w.to_string().starts_with("dark overnight:")
                && !w.to_string().contains("fridge")),
        "{:?}",
        cut.warnings
    );
    let kept = cut.ways.iter().filter(|w| w.keeps_all);
    assert!(kept.clone().count() > 0, "{:?}", cut.ways);
    assert!(cut.warnings.iter().any(|w| w.to_string().contains("days")));
}

#[test]
fn temporary_power_leaves_two_short_darknesses() {
    let job = job("workers = 1\ntemporary_power = [\"c01\"]", &circuits(3), "");
    let cut = plan(&job, &times()).unwrap();
    check(&job, &cut);
    let c = cut.circuits.iter().find(|c| c.id == "c01").unwrap();
    assert!(c.temporary);
    let lengths: Vec<u64> = c.dark.iter().map(|d| d.length().minutes()).collect();
    assert_eq!(lengths, [3, 3]);
}

#[test]
fn a_restore_round_gives_two_shorter_darknesses() {
    let once = job("workers = 1\nshift = 14", &circuits(8), "");
    let twice = job(
        "workers = 1\nshift = 14\nrestore_round = 1",
        &circuits(8),
        "",
    );
    let (once_cut, twice_cut) = (
        plan(&once, &times()).unwrap(),
        plan(&twice, &times()).unwrap(),
    );
    check(&twice, &twice_cut);
    assert!(twice_cut.score.is_optimal());
    // Without a limit to keep, cutting in two can only add darkness: that is why it is never done unasked.
    assert!(twice_cut.score.dark > once_cut.score.dark);
    assert!(twice_cut.circuits.iter().any(|c| c.dark.len() == 2));
}
