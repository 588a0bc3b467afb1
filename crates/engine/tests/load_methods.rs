//! Which method may be used, which one is built on, and what is said when something is unknown or unconfirmed.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::sync::LazyLock;

use engine::load::cooking_circuit::{self, Circuit};
use engine::load::managed::{self, Management};
use engine::load::{
    ChargerStandardReading, Comparison, Dwelling, Method, Occasion, Outcome, Readings, Share,
    Standing, Told, Units, all_methods, all_methods_of, interval, standard,
};
use engine::{Value, Worksheet};
use model::house::{DwellingKind, Load, LoadKind, MeasuredDemand, System};
use model::units::{Amperes, Kilowatts, SquareFeet, VoltAmperes};
use model::{Edition, Fact};
use rulebook::tables::Tables;

static TABLES: LazyLock<Tables> = LazyLock::new(|| Tables::built_in().unwrap());

fn house() -> Dwelling {
    Dwelling {
        kind: Fact::seen(DwellingKind::OneFamily),
        area: Fact::seen(SquareFeet(1800.0)),
        small_appliance_circuits: Fact::seen(2),
        laundry_circuits: Fact::seen(1),
        system: Fact::seen(System::SinglePhase120_240),
        ampacity: Fact::seen(Amperes(150.0)),
        existing: vec![
            Load::new(LoadKind::Range, VoltAmperes(11_000.0)),
            Load::new(LoadKind::Dryer, VoltAmperes(5_200.0)),
            Load::new(LoadKind::WaterHeater, VoltAmperes(4_500.0)),
        ],
        new: vec![Load::new(LoadKind::VehicleCharger, VoltAmperes(7_680.0))],
        ..Dwelling::default()
    }
}

fn record() -> MeasuredDemand {
    MeasuredDemand {
        highest_15_minute: Kilowatts(6.0),
        days: 365,
        generation_or_peak_shaving: Fact::seen(false),
        seasonal_loads_included: Fact::Unknown,
    }
}

fn run(dwelling: &Dwelling, record: Option<&MeasuredDemand>, edition: Edition) -> Comparison {
    all_methods(dwelling, record, &TABLES.edition(edition))
}

fn method(
    dwelling: &Dwelling,
    record: Option<&MeasuredDemand>,
    edition: Edition,
    method: Method,
) -> Outcome {
    run(dwelling, record, edition)
        .outcome(method)
        .cloned()
        .unwrap()
}

/// Everything a reader sees, as one text.
fn text(sheet: &Worksheet) -> String {
    format!("{:?}", sheet.lines)
}

/// The standing is the expected kind, and one of its reasons holds the words.
fn check(standing: &Standing, expected: &str, words: &str) {
    let (kind, reasons) = match standing {
        Standing::Applies => ("applies", ""),
        Standing::DoesNotApply(why) => ("does not apply", &*why.join("; ")),
        Standing::CannotTell(why) => ("cannot tell", &*why.join("; ")),
    };
    assert_eq!(kind, expected, "{standing:?}");
    assert!(reasons.contains(words), "{standing:?}");
}

#[test]
fn an_existing_house_is_built_on_its_record_when_the_record_is_valid() {
    let comparison = run(&house(), Some(&record()), Edition::Y2023);
    assert_eq!(comparison.recommended, Method::Measured);
    assert_eq!(
        comparison.recommended().unwrap().demand.exact(),
        Some(VoltAmperes(15_180.0))
    );
}

#[test]
fn without_a_record_an_existing_house_takes_the_calculation_for_added_load() {
    assert_eq!(
        run(&house(), None, Edition::Y2023).recommended,
        Method::Existing
    );
}

#[test]
fn solar_or_a_battery_bars_the_record_and_the_next_method_is_named() {
    let shaved = MeasuredDemand {
        generation_or_peak_shaving: Fact::seen(true),
        ..record()
    };
    let comparison = run(&house(), Some(&shaved), Edition::Y2023);
    check(
        &comparison.outcome(Method::Measured).unwrap().standing,
        "does not apply",
        "peak shaving",
    );
    assert_eq!(comparison.recommended, Method::Existing);
    assert!(
        comparison.why.contains("peak shaving"),
        "{}",
        comparison.why
    );
}

#[test]
fn a_month_of_records_needs_the_seasonal_loads_in_it() {
    let standing = |days, included| {
        let short = MeasuredDemand {
            days,
            seasonal_loads_included: included,
            ..record()
        };
        method(&house(), Some(&short), Edition::Y2020, Method::Measured).standing
    };
    check(&standing(30, Fact::seen(true)), "applies", "");
    check(
        &standing(30, Fact::seen(false)),
        "does not apply",
        "seasonal",
    );
    check(&standing(30, Fact::Unknown), "cannot tell", "seasonal");
    check(&standing(29, Fact::seen(true)), "does not apply", "29 days");
}

#[test]
fn a_record_that_with_the_new_load_exceeds_the_rating_does_not_apply() {
    let small = Dwelling {
        ampacity: Fact::seen(Amperes(60.0)),
        ..house()
    };
    let outcome = method(&small, Some(&record()), Edition::Y2023, Method::Measured);
    check(&outcome.standing, "does not apply", "exceeds");
    assert!(
        outcome
            .worksheet
            .lines
            .iter()
            .any(|l| l.value == Value::Passes(false))
    );
}

#[test]
fn the_existing_dwelling_table_of_2026_was_not_found_and_is_not_guessed() {
    let comparison = run(&house(), None, Edition::Y2026);
    let existing = comparison.outcome(Method::Existing).unwrap();
    assert_eq!(existing.demand.exact(), None);
    assert_eq!(existing.rating.exact(), None);
    assert!(
        existing.demand.missing_text().contains("120.83"),
        "{}",
        existing.demand.missing_text()
    );
    assert_eq!(comparison.recommended, Method::Optional);
}

#[test]
fn the_optional_calculation_wants_conductors_of_100_amperes() {
    let with = |ampacity| {
        let dwelling = Dwelling {
            ampacity,
            ..house()
        };
        method(&dwelling, None, Edition::Y2023, Method::Optional).standing
    };
    check(&with(Fact::seen(Amperes(90.0))), "does not apply", "100 A");
    check(&with(Fact::Unknown), "cannot tell", "100 A");
    check(&with(Fact::seen(Amperes(100.0))), "applies", "");
}

#[test]
fn a_feeder_to_part_of_the_house_has_the_standard_calculation_only_and_no_least_service() {
    let part = Dwelling {
        share: Share::PartFeeder,
        area: Fact::seen(SquareFeet(400.0)),
        small_appliance_circuits: Fact::seen(0),
        laundry_circuits: Fact::seen(0),
        existing: Vec::new(),
        ..house()
    };
    let comparison = run(&part, Some(&record()), Edition::Y2023);
    assert_eq!(comparison.outcomes.len(), 1);
    assert_eq!(comparison.recommended, Method::Standard);
    let standard = comparison.recommended().unwrap();
    assert_eq!(standard.demand.exact(), Some(VoltAmperes(1200.0 + 7680.0)));
    assert_eq!(standard.rating.exact(), Some(Amperes(40.0)));
}

#[test]
fn a_load_of_unknown_size_leaves_a_lower_bound_and_its_name_never_a_zero() {
    let mut dwelling = house();
    dwelling.existing[0].va = Fact::Unknown;
    for outcome in run(&dwelling, None, Edition::Y2023).outcomes {
        assert_eq!(outcome.demand.exact(), None, "{}", outcome.method);
        assert!(
            outcome.demand.missing_text().contains("range"),
            "{}",
            outcome.method
        );
        assert!(
            outcome.demand.lower_bound() > VoltAmperes(5_000.0),
            "{}",
            outcome.method
        );
        assert!(
            outcome
                .worksheet
                .missing()
                .any(|l| l.label == "Calculated load"),
            "{}",
            outcome.method
        );
        assert!(
            text(&outcome.worksheet).contains("at least"),
            "{}",
            outcome.method
        );
    }
}

#[test]
fn a_charger_of_unknown_size_counts_at_least_the_least_value_from_2023() {
    let with = |va| {
        let mut dwelling = house();
        dwelling.new[0].va = va;
        method(&dwelling, None, Edition::Y2023, Method::Standard).demand
    };
    let (unknown, small) = (with(Fact::Unknown), with(Fact::seen(VoltAmperes(2_400.0))));
    assert_eq!(unknown.exact(), None);
    assert_eq!(Some(unknown.lower_bound()), small.exact());
}

#[test]
fn unknown_circuits_count_at_the_least_number_and_the_sum_stays_a_bound() {
    let unknown = Dwelling {
        small_appliance_circuits: Fact::Unknown,
        ..house()
    };
    let standard = method(&unknown, None, Edition::Y2020, Method::Standard);
    let known = method(&house(), None, Edition::Y2020, Method::Standard);
    assert_eq!(standard.demand.exact(), None);
    assert_eq!(Some(standard.demand.lower_bound()), known.demand.exact());
}

#[test]
fn one_small_appliance_circuit_counts_as_two_in_a_whole_dwelling() {
    let with = |circuits| {
        let dwelling = Dwelling {
            small_appliance_circuits: Fact::seen(circuits),
            ..house()
        };
        method(&dwelling, None, Edition::Y2023, Method::Standard)
            .demand
            .exact()
    };
    assert_eq!(with(1), with(2));
    assert!(with(3) > with(2));
}

#[test]
fn an_edition_that_does_not_name_chargers_takes_them_in_full_unless_the_authority_reads_otherwise()
{
    let with = |charger_standard, edition| {
        let mut dwelling = Dwelling {
            readings: Readings {
                charger_standard,
                ..Readings::default()
            },
            ..house()
        };
        let more = Load {
            count: 2,
            ..Load::new(LoadKind::Dishwasher, VoltAmperes(1_200.0))
        };
        dwelling.existing.push(more);
        method(&dwelling, None, edition, Method::Standard)
            .demand
            .lower_bound()
            .0
    };
    let full = with(ChargerStandardReading::Larger, Edition::Y2020);
    let among = with(ChargerStandardReading::Appliance, Edition::Y2020);
    // The charger makes four of three appliances: a quarter of 6,900 and of 7,680 VA comes off.
    assert!((full - among - 3_645.0).abs() < 1e-6, "{full} {among}");
    let named = with(ChargerStandardReading::Appliance, Edition::Y2023);
    assert_eq!(named, with(ChargerStandardReading::Larger, Edition::Y2023));
}

#[test]
fn both_readings_of_the_cooking_note_are_shown_and_column_c_caps_them() {
    let mut dwelling = house();
    dwelling.existing[0] = Load {
        count: 2,
        ..Load::new(LoadKind::WallOven, VoltAmperes(2_400.0))
    };
    dwelling
        .existing
        .push(Load::new(LoadKind::Cooktop, VoltAmperes(7_200.0)));
    let sheet = method(&dwelling, None, Edition::Y2023, Method::Standard).worksheet;
    assert_eq!(
        sheet.number("Demand on household cooking appliances"),
        Some(9_360.0)
    );
    assert!(text(&sheet).contains("7320 VA"), "{}", text(&sheet));

    dwelling.existing = vec![Load {
        count: 3,
        ..Load::new(LoadKind::WallOven, VoltAmperes(8_700.0))
    }];
    let sheet = method(&dwelling, None, Edition::Y2023, Method::Standard).worksheet;
    assert_eq!(sheet.number("Not more than column C"), Some(14_000.0));
}

#[test]
fn a_cooking_circuit_takes_one_counter_mounted_unit_with_at_most_two_ovens() {
    let book = TABLES.edition(Edition::Y2020);
    let together = |ovens: usize| Circuit::Together {
        cooktop: VoltAmperes(5_000.0),
        ovens: vec![VoltAmperes(3_000.0); ovens],
    };
    assert!(cooking_circuit::branch_circuit(&together(2), &book).is_ok());
    let error = cooking_circuit::branch_circuit(&together(3), &book)
        .unwrap_err()
        .to_string();
    assert!(error.contains("3 wall ovens"), "{error}");
    let range =
        cooking_circuit::branch_circuit(&Circuit::Range(VoltAmperes(12_000.0)), &book).unwrap();
    assert!(
        range
            .lines
            .iter()
            .any(|l| l.value == Value::Number(Amperes(40.0).into()))
    );
    let oven =
        cooking_circuit::branch_circuit(&Circuit::Single(VoltAmperes(3_000.0)), &book).unwrap();
    assert_eq!(oven.value, VoltAmperes(3_000.0));
}

#[test]
fn two_legs_of_a_wye_take_the_parts_apart_and_reduce_no_neutral() {
    let wye = Dwelling {
        system: Fact::seen(System::TwoLegs208Y120),
        ..house()
    };
    let standard = method(&wye, None, Edition::Y2023, Method::Standard);
    let neutral_part = 3_000.0 + 0.35 * 6_900.0;
    let demand = standard.demand.exact().unwrap().0;
    let expected = (demand - neutral_part) / 208.0 + neutral_part / 240.0;
    assert!((standard.current.exact().unwrap().0 - expected).abs() < 1e-9);
    // Lighting and the whole of range and dryer, each on one of two legs.
    let neutral = (neutral_part + 8_000.0 + 5_200.0) / 240.0;
    assert!((standard.neutral.exact().unwrap().0 - neutral).abs() < 1e-9);
}

#[test]
fn an_unknown_system_leaves_the_current_a_bound() {
    let unknown = Dwelling {
        system: Fact::Unknown,
        ..house()
    };
    let standard = method(&unknown, None, Edition::Y2023, Method::Standard);
    assert!(standard.demand.exact().is_some());
    assert_eq!(standard.current.exact(), None);
    assert!(standard.current.missing_text().contains("208Y/120"));
}

#[test]
fn a_setting_stands_for_the_load_only_where_the_edition_says_so_and_covers_the_rest() {
    let with = |edition, setting, restricted| {
        let book = TABLES.edition(edition);
        let management = Management {
            setting: Amperes(setting),
            controlled: Told::exactly(VoltAmperes(7_680.0)),
            access_is_restricted: restricted,
        };
        managed::managed(
            &standard::standard(&house(), &book),
            &management,
            &house(),
            &book,
        )
        .standing
    };
    check(
        &with(Edition::Y2023, 100.0, Fact::seen(true)),
        "applies",
        "",
    );
    check(
        &with(Edition::Y2020, 100.0, Fact::seen(true)),
        "does not apply",
        "edition",
    );
    check(
        &with(Edition::Y2023, 100.0, Fact::seen(false)),
        "does not apply",
        "restricted",
    );
    check(
        &with(Edition::Y2023, 100.0, Fact::Unknown),
        "cannot tell",
        "restricted",
    );
    check(
        &with(Edition::Y2023, 60.0, Fact::seen(true)),
        "does not apply",
        "exceeds the setting",
    );
}

#[test]
fn two_units_compare_with_three_and_one_unit_alone_has_no_such_method() {
    let book = TABLES.edition(Edition::Y2023);
    let mut unit = house();
    unit.kind = Fact::seen(DwellingKind::TwoFamily);
    unit.existing
        .push(Load::new(LoadKind::SpaceHeat, VoltAmperes(8_000.0)));
    let two = all_methods_of(
        &[Units {
            count: 2,
            unit: &unit,
        }],
        &[],
        &book,
    );
    assert_eq!(two.recommended, Method::TwoFamily);
    check(
        &two.outcome(Method::Multifamily).unwrap().standing,
        "does not apply",
        "3 or more",
    );
    let one = all_methods_of(
        &[Units {
            count: 1,
            unit: &unit,
        }],
        &[],
        &book,
    );
    assert!(one.outcome(Method::TwoFamily).is_none());
}

#[test]
fn a_unit_without_electric_cooking_gets_an_allowance_and_the_smaller_result() {
    let book = TABLES.edition(Edition::Y2023);
    let mut unit = house();
    unit.kind = Fact::seen(DwellingKind::Multifamily);
    unit.existing = vec![Load::new(LoadKind::SpaceHeat, VoltAmperes(5_000.0))];
    unit.new = Vec::new();
    let comparison = all_methods_of(
        &[Units {
            count: 4,
            unit: &unit,
        }],
        &[],
        &book,
    );
    let outcome = comparison.outcome(Method::Multifamily).unwrap();
    check(&outcome.standing, "applies", "");
    let sheet = &outcome.worksheet;
    assert_eq!(
        sheet.number("Allowance for units without electric cooking"),
        Some(32_000.0)
    );
    let standard = comparison.outcome(Method::Standard).unwrap().demand.exact();
    let factored = sheet.number("Demand of all units").map(VoltAmperes);
    assert_eq!(
        outcome.demand.exact(),
        standard.map(|s| s.min(factored.unwrap()))
    );
}

#[test]
fn the_unit_load_of_several_units_in_2026_was_not_found_and_leaves_a_bound() {
    let mut unit = house();
    unit.kind = Fact::seen(DwellingKind::Multifamily);
    unit.existing
        .push(Load::new(LoadKind::SpaceHeat, VoltAmperes(8_000.0)));
    let group = [Units {
        count: 4,
        unit: &unit,
    }];
    let demand = |edition| {
        let comparison = all_methods_of(&group, &[], &TABLES.edition(edition));
        comparison
            .outcome(Method::Multifamily)
            .unwrap()
            .demand
            .clone()
    };
    assert!(demand(Edition::Y2023).exact().is_some());
    let in_2026 = demand(Edition::Y2026);
    assert_eq!(in_2026.exact(), None);
    assert!(
        in_2026.missing_text().contains("120.84"),
        "{}",
        in_2026.missing_text()
    );
    assert!(in_2026.lower_bound() > VoltAmperes::ZERO);
}

#[test]
fn a_new_dwelling_is_built_on_the_optional_calculation_and_never_on_those_for_existing_ones() {
    let new = Dwelling {
        occasion: Occasion::New,
        ..house()
    };
    let comparison = run(&new, Some(&record()), Edition::Y2023);
    assert_eq!(comparison.recommended, Method::Optional);
    check(
        &comparison.outcome(Method::Existing).unwrap().standing,
        "does not apply",
        "new dwelling",
    );
    check(
        &comparison.outcome(Method::Measured).unwrap().standing,
        "does not apply",
        "new dwelling",
    );
}

#[test]
fn an_hour_or_a_broken_record_gives_no_15_minute_peak() {
    assert_eq!(interval::peak(&[2.0, 3.0], 60), None);
    assert_eq!(interval::peak(&[], 15), None);
    assert_eq!(interval::peak(&[0.5, f64::NAN], 15), None);
    let fives = interval::peak(&[0.1, 0.5, 0.6, 0.7, 0.2], 5).unwrap();
    assert!((fives.recorded_kw - 7.2).abs() < 1e-9, "{fives:?}");
    assert!((fives.sliding_bound_kw - 8.0).abs() < 1e-9, "{fives:?}");
}

#[test]
fn every_line_of_every_method_has_its_section_in_the_edition() {
    for edition in Edition::ALL {
        for outcome in run(&house(), Some(&record()), edition).outcomes {
            for line in &outcome.worksheet.lines {
                let cite = line.cite.as_ref();
                assert!(
                    cite.is_some_and(|c| c.edition == edition),
                    "{edition} {}: {line:?}",
                    outcome.method
                );
            }
        }
    }
}
