//! Which conductors count when several lie together.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

use std::sync::LazyLock;

use engine::conductor::bundle::{Bundled, NeutralUse, current_carrying};
use model::Edition;
use model::house::System;
use model::units::Inches;
use rulebook::tables::Tables;

/// Read once: a test asks thousands of times.
fn tables() -> &'static Tables {
    static TABLES: LazyLock<Tables> = LazyLock::new(|| Tables::built_in().unwrap());
    &TABLES
}

const SPLIT: System = System::SinglePhase120_240;
const WYE: System = System::TwoLegs208Y120;

fn check(system: System, circuits: &[(u32, NeutralUse)], length: Option<f64>, expected: u32) {
    let tables = tables();
    let circuits: Vec<_> = circuits
        .iter()
        .map(|&(legs, neutral)| Bundled { legs, neutral })
        .collect();
    for edition in Edition::ALL {
        let book = tables.edition(edition);
        let (_, count) = current_carrying(system, &circuits, length.map(Inches), &book).unwrap();
        assert_eq!(count, expected, "{edition}");
    }
}

#[test]
fn a_two_wire_circuit_counts_two() {
    check(SPLIT, &[(1, NeutralUse::Linear)], None, 2);
}

#[test]
fn the_neutral_between_opposite_legs_does_not_count_whatever_the_load() {
    check(SPLIT, &[(2, NeutralUse::Linear)], None, 2);
    check(SPLIT, &[(2, NeutralUse::MostlyNonlinear)], None, 2);
}

#[test]
fn the_neutral_of_two_wye_legs_counts() {
    check(WYE, &[(2, NeutralUse::Linear)], None, 3);
    check(WYE, &[(2, NeutralUse::None)], None, 2);
}

#[test]
fn the_neutral_of_a_full_wye_counts_for_nonlinear_loads_only() {
    check(WYE, &[(3, NeutralUse::Linear)], None, 3);
    check(WYE, &[(3, NeutralUse::MostlyNonlinear)], None, 4);
}

#[test]
fn circuits_together_add_up_except_over_a_nipple() {
    let nine = [
        (1, NeutralUse::Linear),
        (1, NeutralUse::Linear),
        (2, NeutralUse::Linear),
        (3, NeutralUse::None),
    ];
    check(SPLIT, &nine, None, 9);
    check(SPLIT, &nine, Some(25.0), 9);
    check(SPLIT, &nine, Some(24.0), 1);
}
