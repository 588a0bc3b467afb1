//! Look-ups as calculations make them: values, sections and check status by edition, and the reasons for having none.
//! Source: the data files; each expected value is one that a published page or worked example names.

#![allow(clippy::unwrap_used, clippy::panic)]

use model::units::{Amperes, Celsius, Percent, SquareFeet, Unit, VoltAmperes};
use model::{Edition, Material, WireSize};
use rulebook::tables::{Column, RangeColumn, Subject, Tables, TablesIn, flag, limit};
use rulebook::{Check, Lookup, NoValue};

fn tables() -> Tables {
    Tables::built_in().unwrap_or_else(|errors| {
        panic!(
            "{}",
            errors.iter().map(|e| format!("{e}\n")).collect::<String>()
        )
    })
}

fn size(name: &str) -> WireSize {
    name.parse().unwrap()
}

/// `value @ section (check)`, or the reason for having none, in every edition.
fn check<T: std::fmt::Display>(lookup: impl Fn(TablesIn<'_>) -> Lookup<T>, expected: [&str; 5]) {
    let tables = tables();
    let got = Edition::ALL.map(|e| match lookup(tables.edition(e)) {
        Ok(found) => format!("{} @ {} ({})", found.value, found.cite.section, found.check),
        Err(NoValue::NotFound { cite, .. }) => format!("not found @ {}", cite.section),
        Err(NoValue::NoEntry { cite, .. }) => format!("none @ {}", cite.section),
    });
    assert_eq!(got, expected.map(str::to_owned));
}

#[test]
fn ampacity_of_2_aluminum_is_90_a_in_every_edition() {
    check(
        |b| b.ampacity(size("2"), Material::Aluminum, Column::C75),
        [
            "90 A @ Table 310.15(B)(16) (2+ sources)",
            "90 A @ Table 310.15(B)(16) (2+ sources)",
            "90 A @ Table 310.16 (2+ sources)",
            "90 A @ Table 310.16 (2+ sources)",
            "90 A @ Table 310.16 (2+ sources)",
        ],
    );
}

#[test]
fn copper_clad_14_gives_no_ampacity_before_2026_and_is_not_found_in_2026() {
    check(
        |b| b.ampacity(size("14"), Material::CopperClad, Column::C60),
        [
            "none @ Table 310.15(B)(16)",
            "none @ Table 310.15(B)(16)",
            "none @ Table 310.16",
            "none @ Table 310.16",
            "not found @ Table 310.16",
        ],
    );
}

#[test]
fn dwelling_conductors_are_printed_from_2020_on() {
    check(
        |b| b.dwelling_conductor(Amperes(200.0), Material::Aluminum),
        [
            "none @ (no section in this edition)",
            "none @ (no section in this edition)",
            "4/0 AWG @ Table 310.12 (2+ sources)",
            "4/0 AWG @ Table 310.12(A) (2+ sources)",
            "4/0 AWG @ Table 310.12(A) (2+ sources)",
        ],
    );
}

#[test]
fn ten_amperes_is_a_standard_rating_from_2023_on() {
    check(
        |b| b.next_standard_rating(Amperes(7.0)),
        [
            "15 A @ Table 240.6(A) (1 source)",
            "15 A @ Table 240.6(A) (1 source)",
            "15 A @ Table 240.6(A) (1 source)",
            "10 A @ Table 240.6(A) (2+ sources)",
            "10 A @ Table 240.6(A) (memory)",
        ],
    );
}

#[test]
fn small_conductors_keep_their_limit_while_the_paragraph_moves() {
    check(
        |b| b.small_conductor_limit(size("12"), Material::Copper),
        [
            "20 A @ 240.4(D)(5) (2+ sources)",
            "20 A @ 240.4(D)(5) (2+ sources)",
            "20 A @ 240.4(D)(5) (2+ sources)",
            "20 A @ 240.4(D)(6) (2+ sources)",
            "20 A @ 240.4(D) (memory)",
        ],
    );
}

#[test]
fn further_grounds_in_a_box_count_a_quarter_from_2020_on() {
    check(
        |b| b.box_grounds(7),
        [
            "1 @ 314.16(B)(5) (2+ sources)",
            "1 @ 314.16(B)(5) (2+ sources)",
            "1.75 @ 314.16(B)(5) (2+ sources)",
            "1.75 @ 314.16(B)(5) (2+ sources)",
            "1.75 @ 314.16(B)(5) (2+ sources)",
        ],
    );
}

#[test]
fn dryers_from_6_to_42_have_no_confirmed_factor_in_2026() {
    check(
        |b| b.dryer_factor(24),
        [
            "34.50 % @ Table 220.54 (1 source)",
            "34.50 % @ Table 220.54 (1 source)",
            "34.50 % @ Table 220.54 (1 source)",
            "34.50 % @ Table 220.54 (1 source)",
            "not found @ Table 120.54",
        ],
    );
}

#[test]
fn the_existing_dwelling_step_is_not_guessed_for_2026() {
    check(
        |b| b.limit(limit::EXISTING_REMAINDER_DEMAND),
        [
            "40 % @ 220.83 (2+ sources)",
            "40 % @ 220.83 (2+ sources)",
            "40 % @ 220.83 (2+ sources)",
            "40 % @ 220.83 (2+ sources)",
            "not found @ 120.83 and Table 120.83",
        ],
    );
}

#[test]
fn wire_bending_is_not_found_where_the_place_of_its_table_is_not() {
    check(
        |b| b.wire_bending_same_wall(size("4/0"), 1),
        [
            "4 in @ Table 312.6(A) (1 source)",
            "4 in @ Table 312.6(A) (1 source)",
            "4 in @ Table 312.6(A) (1 source)",
            "4 in @ Table 312.6(A) (1 source)",
            "not found @ (place not found; Table 312.6(A) in 2023)",
        ],
    );
}

#[test]
fn charging_equipment_has_a_least_load_from_2023_on() {
    check(
        |b| b.limit(limit::EVSE_LEAST),
        [
            "none @ (no section in this edition)",
            "none @ (no section in this edition)",
            "none @ (no section in this edition)",
            "7200 VA @ 220.57 (2+ sources)",
            "7200 VA @ 120.57 (memory)",
        ],
    );
}

#[test]
fn the_unit_load_falls_to_2_va_in_2026() {
    check(
        |b| {
            b.limit(limit::UNIT_LOAD).map(|found| rulebook::Sourced {
                value: found.value * SquareFeet(1500.0),
                cite: found.cite,
                check: found.check,
            })
        },
        [
            "4500 VA @ 220.12 and Table 220.12 (2+ sources)",
            "4500 VA @ 220.12 and Table 220.12 (2+ sources)",
            "4500 VA @ 220.14(J) (2+ sources)",
            "4500 VA @ 220.41 (2+ sources)",
            "3000 VA @ 120.41 (2+ sources)",
        ],
    );
}

#[test]
fn a_rule_that_an_edition_lacks_has_no_entry() {
    check(
        |b| b.flag(flag::DWELLING_TABLE_NEEDS_75C),
        [
            "none @ (no section in this edition)",
            "none @ (no section in this edition)",
            "false @ Table 310.12 (2+ sources)",
            "false @ Table 310.12(A) (2+ sources)",
            "true @ Table 310.12(A) (1 source)",
        ],
    );
}

#[test]
fn a_section_number_carries_its_own_check_status() {
    let tables = tables();
    let book = tables.edition(Edition::Y2026);
    assert_eq!(book.cite(Subject::LightingDemand).check, Check::Memory);
    assert_eq!(
        book.cite(Subject::WireBendingSameWall).check,
        Check::NotFound
    );
    assert!(!tables.edition(Edition::Y2014).has_section(Subject::Evse));
}

#[test]
fn ranges_follow_the_table_past_its_last_printed_row() {
    let tables = tables();
    let book = tables.edition(Edition::Y2020);
    for (n, demand) in [
        (1, 8_000.0),
        (5, 20_000.0),
        (25, 40_000.0),
        (30, 45_000.0),
        (70, 77_500.0),
    ] {
        assert_eq!(
            book.range_column_c(n).unwrap().value,
            VoltAmperes(demand),
            "{n} ranges"
        );
    }
    assert_eq!(
        book.range_percent(RangeColumn::B, 100).unwrap().value,
        Percent(16.0)
    );
}

#[test]
fn a_column_that_allows_no_current_at_that_heat_has_no_factor() {
    let tables = tables();
    let book = tables.edition(Edition::Y2023);
    assert_eq!(
        book.ambient_factor(Column::C75, Celsius(38.0))
            .unwrap()
            .value,
        0.88
    );
    assert!(matches!(
        book.ambient_factor(Column::C60, Celsius(58.0)),
        Err(NoValue::NoEntry { .. })
    ));
}

#[test]
fn a_bonding_jumper_above_the_last_row_is_a_share_of_the_area() {
    let tables = tables();
    let book = tables.edition(Edition::Y2023);
    let parallel = 4.0 * size("350").area();
    let jumper = book
        .bonding_jumper(parallel, Material::Copper, Material::Copper)
        .unwrap()
        .value;
    assert_eq!(jumper.least_area.map(Unit::get), Some(175_000.0));
    assert_eq!(jumper.size, size("4/0"));
    assert!(
        book.bonding_jumper(parallel, Material::Copper, Material::Aluminum)
            .is_err()
    );
}
