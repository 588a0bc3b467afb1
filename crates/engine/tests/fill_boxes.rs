//! Boxes, raceways, cabinets and bends: the edges that the published examples do not reach.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

use std::sync::LazyLock;

use engine::conductor::Verdict;
use engine::fill::bending::bending_space;
use engine::fill::boxes::{BoxContents, Counted, box_fill};
use engine::fill::gutter::{Gutter, gutter_fill};
use engine::fill::raceway::{Conductor, Use, raceway_fill, smallest_raceway};
use model::house::Leaves;
use model::units::{CubicInches, Inches, SquareInches};
use model::{Edition, Fact, Insulation, WiringMethod};
use rulebook::tables::Tables;

/// Read once: a test asks thousands of times.
fn tables() -> &'static Tables {
    static TABLES: LazyLock<Tables> = LazyLock::new(|| Tables::built_in().unwrap());
    &TABLES
}

fn counted(size: &str, count: u32) -> Counted {
    Counted {
        size: size.parse().unwrap(),
        count,
    }
}

fn conductors(size: &str, count: u32) -> Conductor {
    Conductor {
        size: size.parse().unwrap(),
        insulation: Insulation::THHN,
        compact: false,
        count,
    }
}

fn check_box(contents: &BoxContents, edition: Edition, expected: Option<f64>) {
    let tables = tables();
    let needed = box_fill("any", contents, &tables.edition(edition)).1;
    assert_eq!(needed, expected.map(CubicInches), "{edition}");
}

#[test]
fn grounding_conductors_beyond_four_count_from_2020() {
    let contents = BoxContents {
        grounds: vec![counted("12", 4), counted("14", 3)],
        ..BoxContents::default()
    };
    check_box(&contents, Edition::Y2014, Some(2.25));
    check_box(&contents, Edition::Y2017, Some(2.25));
    check_box(&contents, Edition::Y2020, Some(3.9375));
    check_box(&contents, Edition::Y2026, Some(3.9375));
}

#[test]
fn an_isolated_ground_set_has_no_confirmed_allowance_from_2020_and_none_is_guessed() {
    let contents = BoxContents {
        isolated_grounds: vec![counted("12", 1)],
        ..BoxContents::default()
    };
    check_box(&contents, Edition::Y2017, Some(2.25));
    check_box(&contents, Edition::Y2020, None);
    check_box(&contents, Edition::Y2023, None);
}

#[test]
fn a_box_of_unknown_volume_gives_no_verdict_but_says_what_it_needs() {
    let contents = BoxContents {
        volume: Fact::Unknown,
        ending: vec![counted("14", 4)],
        ..BoxContents::default()
    };
    let tables = tables();
    let (_, needed, verdict) = box_fill("any", &contents, &tables.edition(Edition::Y2023));
    assert_eq!(
        (needed, verdict),
        (Some(CubicInches(8.0)), Verdict::CannotTell)
    );
}

fn check_raceway(trade_size: &str, conductors: &[Conductor], used: Use, expected: Verdict) {
    let tables = tables();
    for edition in Edition::ALL {
        let (sheet, verdict) = raceway_fill(
            "any",
            WiringMethod::EMT,
            trade_size.parse().unwrap(),
            conductors,
            used,
            &tables.edition(edition),
        );
        assert_eq!(verdict, expected, "{edition}: {:#?}", sheet.lines);
    }
}

#[test]
fn two_conductors_have_the_tightest_column() {
    // Two of 1 AWG: 0.3124 in2. The one-inch bore allows 0.268 to two conductors, 0.346 to more than two.
    check_raceway("1", &[conductors("1", 2)], Use::Run, Verdict::Fail);
    check_raceway("1", &[conductors("1", 1)], Use::Run, Verdict::Pass);
}

#[test]
fn a_nipple_holds_more() {
    check_raceway("1", &[conductors("4", 5)], Use::Run, Verdict::Fail);
    check_raceway("1", &[conductors("4", 5)], Use::Nipple, Verdict::Pass);
}

#[test]
fn a_trade_size_that_the_table_lacks_gives_no_verdict() {
    check_raceway("6", &[conductors("12", 3)], Use::Run, Verdict::CannotTell);
}

#[test]
fn a_cable_is_not_a_raceway() {
    let tables = tables();
    let found = smallest_raceway(
        "any",
        WiringMethod::NM,
        &[conductors("12", 3)],
        Use::Run,
        &tables.edition(Edition::Y2023),
    )
    .1;
    assert_eq!(found, None);
}

fn check_gutter(space: f64, splices: f64, expected: Verdict) {
    let gutter = Gutter {
        space: SquareInches(space),
        conductors: vec![conductors("12", 30)],
        splices: SquareInches(splices),
    };
    let tables = tables();
    for edition in Edition::ALL {
        assert_eq!(
            gutter_fill("any", &gutter, &tables.edition(edition)).1,
            expected,
            "{edition}"
        );
    }
}

#[test]
fn conductors_may_take_40_percent_of_the_gutter_and_75_with_splices() {
    // 30 conductors of 0.0133 in2 are 0.399 in2.
    check_gutter(1.0, 0.0, Verdict::Pass);
    check_gutter(0.99, 0.0, Verdict::Fail);
    check_gutter(1.0, 0.35, Verdict::Pass);
    check_gutter(1.0, 0.36, Verdict::Fail);
    check_gutter(0.0, 0.0, Verdict::CannotTell);
}

fn check_bend(size: &str, leaves: Leaves, room: f64, edition: Edition, expected: Verdict) {
    let tables = tables();
    let found = bending_space(
        "any",
        size.parse().unwrap(),
        1,
        leaves,
        false,
        Some(Inches(room)),
        &tables.edition(edition),
    )
    .2;
    assert_eq!(found, expected, "{size}, {room} in, {edition}");
}

#[test]
fn a_large_conductor_needs_room_to_turn_and_more_to_face_its_wall() {
    check_bend("4/0", Leaves::Turning, 4.0, Edition::Y2023, Verdict::Pass);
    check_bend("4/0", Leaves::Turning, 3.9, Edition::Y2023, Verdict::Fail);
    check_bend("4/0", Leaves::Opposite, 6.9, Edition::Y2023, Verdict::Fail);
    check_bend("4/0", Leaves::Opposite, 7.0, Edition::Y2023, Verdict::Pass);
    check_bend("12", Leaves::Turning, 0.5, Edition::Y2023, Verdict::Pass);
}

#[test]
fn a_size_beyond_the_bending_table_gives_no_verdict() {
    check_bend(
        "2000",
        Leaves::Turning,
        30.0,
        Edition::Y2023,
        Verdict::CannotTell,
    );
}

#[test]
fn the_bending_tables_were_not_found_for_2026() {
    check_bend(
        "4/0",
        Leaves::Turning,
        10.0,
        Edition::Y2026,
        Verdict::CannotTell,
    );
}
