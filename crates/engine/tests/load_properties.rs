//! What must hold for every dwelling, whatever its loads: more load never gives less, order does not matter,
//! a lower bound is one, and nothing panics.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::sync::LazyLock;

use engine::load::{Dwelling, Method, Occasion, Outcome, Units, all_methods, all_methods_of};
use model::house::{DwellingKind, Load, LoadKind, MeasuredDemand, System};
use model::units::{Amperes, Kilowatts, SquareFeet, VoltAmperes};
use model::{Edition, Fact};
use proptest::prelude::*;
use rulebook::tables::Tables;

static TABLES: LazyLock<Tables> = LazyLock::new(|| Tables::built_in().unwrap());

const KINDS: [LoadKind; 21] = [
    LoadKind::Range,
    LoadKind::WallOven,
    LoadKind::Cooktop,
    LoadKind::Dryer,
    LoadKind::WaterHeater,
    LoadKind::Dishwasher,
    LoadKind::Disposer,
    LoadKind::Microwave,
    LoadKind::Refrigerator,
    LoadKind::FixedAppliance,
    LoadKind::Motor,
    LoadKind::WellPump,
    LoadKind::SumpPump,
    LoadKind::Spa,
    LoadKind::Cooling,
    LoadKind::HeatPump,
    LoadKind::SupplementalHeat,
    LoadKind::SpaceHeat,
    LoadKind::StorageHeat,
    LoadKind::Blower,
    LoadKind::VehicleCharger,
];

fn record() -> MeasuredDemand {
    MeasuredDemand {
        highest_15_minute: Kilowatts(6.4),
        days: 365,
        generation_or_peak_shaving: Fact::seen(false),
        seasonal_loads_included: Fact::seen(true),
    }
}

fn outcomes(dwelling: &Dwelling, edition: Edition) -> Vec<Outcome> {
    all_methods(dwelling, Some(&record()), &TABLES.edition(edition)).outcomes
}

/// Large enough for every edition to count it with the others, so that no size moves a load from one group to another.
fn load() -> impl Strategy<Value = Load> {
    (0..KINDS.len(), 500..20_000_u32, 1..4_u32, any::<bool>()).prop_map(
        |(kind, va, count, separate)| Load {
            count,
            separately_controlled: separate,
            ..Load::new(KINDS[kind], VoltAmperes(f64::from(va)))
        },
    )
}

fn dwelling() -> impl Strategy<Value = Dwelling> {
    (
        0..6_000_u32,
        2..6_u32,
        1..3_u32,
        prop::collection::vec(load(), 0..8),
        prop::collection::vec(load(), 0..4),
        any::<bool>(),
    )
        .prop_map(|(area, small, laundry, existing, new, wye)| Dwelling {
            kind: Fact::seen(DwellingKind::OneFamily),
            occasion: Occasion::Existing,
            area: Fact::seen(SquareFeet(f64::from(area))),
            small_appliance_circuits: Fact::seen(small),
            laundry_circuits: Fact::seen(laundry),
            system: Fact::seen(if wye {
                System::TwoLegs208Y120
            } else {
                System::SinglePhase120_240
            }),
            ampacity: Fact::seen(Amperes(200.0)),
            existing,
            new,
            ..Dwelling::default()
        })
}

fn edition() -> impl Strategy<Value = Edition> {
    (0..Edition::ALL.len()).prop_map(|i| Edition::ALL[i])
}

/// A larger load in the same column of the cooking table. From one column to the next the published percentage falls,
/// and with it the demand: that is the table's doing and not to be hidden.
fn stays_in_its_column(kind: LoadKind, before: f64, after: f64) -> bool {
    let is_cooking = matches!(
        kind,
        LoadKind::Range | LoadKind::WallOven | LoadKind::Cooktop
    );
    let column = |va: f64| {
        [1750.0, 3499.9, 8750.0, 27_000.0]
            .iter()
            .filter(|limit| va > **limit)
            .count()
    };
    !is_cooking || column(before) == column(after)
}

fn check_never_less(before: &[Outcome], after: &[Outcome]) -> Result<(), TestCaseError> {
    for (a, b) in before.iter().zip(after) {
        let method = a.method;
        prop_assert!(
            b.demand.lower_bound().0 >= a.demand.lower_bound().0 - 1e-6,
            "{method}: demand"
        );
        prop_assert!(
            b.current.lower_bound().0 >= a.current.lower_bound().0 - 1e-9,
            "{method}: current"
        );
        prop_assert!(
            b.rating.lower_bound() >= a.rating.lower_bound(),
            "{method}: rating"
        );
        prop_assert!(
            b.neutral.lower_bound().0 >= a.neutral.lower_bound().0 - 1e-9,
            "{method}: neutral"
        );
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_larger_nameplate_never_lowers_any_result(
        before in dwelling(), edition in edition(), which in any::<prop::sample::Index>(), more in 1..9_000_u32,
    ) {
        let mut after = before.clone();
        let count = before.existing.len();
        prop_assume!(count > 0);
        let load = &mut after.existing[which.index(count)];
        let old = load.va.get().unwrap_or_default().0;
        let new = old + f64::from(more);
        prop_assume!(stays_in_its_column(load.kind, old, new));
        load.va = Fact::seen(VoltAmperes(new));
        check_never_less(&outcomes(&before, edition), &outcomes(&after, edition))?;
    }

    #[test]
    fn a_larger_nameplate_in_one_of_several_units_never_lowers_any_result(
        before in dwelling(), count in 1..12_u32, edition in edition(), which in any::<prop::sample::Index>(),
        more in 1..9_000_u32,
    ) {
        let mut after = before.clone();
        prop_assume!(!before.existing.is_empty());
        let load = &mut after.existing[which.index(before.existing.len())];
        let old = load.va.get().unwrap_or_default().0;
        let new = old + f64::from(more);
        prop_assume!(stays_in_its_column(load.kind, old, new));
        load.va = Fact::seen(VoltAmperes(new));
        let run = |unit| all_methods_of(&[Units { count, unit }], &[], &TABLES.edition(edition)).outcomes;
        check_never_less(&run(&before), &run(&after))?;
    }

    #[test]
    fn more_floor_area_never_lowers_any_result(before in dwelling(), edition in edition(), more in 1..4_000_u32) {
        let area = before.area.get().unwrap_or_default() + SquareFeet(f64::from(more));
        let after = Dwelling { area: Fact::seen(area), ..before.clone() };
        check_never_less(&outcomes(&before, edition), &outcomes(&after, edition))?;
    }

    // Dryers, fixed appliances, cooking and space heat are left out: there the published factor falls with the number.
    #[test]
    fn one_more_load_never_lowers_any_result_where_no_factor_falls_with_the_number(
        before in dwelling(), edition in edition(), va in 500..20_000_u32, kind in 0..6_usize,
    ) {
        let kind = [
            LoadKind::Refrigerator,
            LoadKind::Cooling,
            LoadKind::StorageHeat,
            LoadKind::Blower,
            LoadKind::VehicleCharger,
            LoadKind::HeatPump,
        ][kind];
        let mut after = before.clone();
        after.existing.push(Load::new(kind, VoltAmperes(f64::from(va))));
        check_never_less(&outcomes(&before, edition), &outcomes(&after, edition))?;
    }

    #[test]
    fn the_order_of_loads_does_not_matter(before in dwelling(), edition in edition()) {
        let mut after = before.clone();
        after.existing.reverse();
        after.new.reverse();
        for (a, b) in outcomes(&before, edition).iter().zip(&outcomes(&after, edition)) {
            prop_assert!((a.demand.lower_bound().0 - b.demand.lower_bound().0).abs() < 1e-6);
            prop_assert!((a.neutral.lower_bound().0 - b.neutral.lower_bound().0).abs() < 1e-6);
            prop_assert!((a.current.lower_bound().0 - b.current.lower_bound().0).abs() < 1e-6);
        }
    }

    #[test]
    fn the_bound_without_an_unknown_load_holds_whatever_the_load_turns_out_to_be(
        known in dwelling(), edition in edition(), which in any::<prop::sample::Index>(),
    ) {
        let count = known.existing.len();
        prop_assume!(count > 0);
        let mut gap = known.clone();
        gap.existing[which.index(count)].va = Fact::Unknown;
        let kind = gap.existing[which.index(count)].kind;
        for (a, b) in outcomes(&gap, edition).iter().zip(&outcomes(&known, edition)) {
            prop_assert!(a.demand.lower_bound().0 <= b.demand.lower_bound().0 + 1e-6, "{}", a.method);
            prop_assert!(a.neutral.lower_bound().0 <= b.neutral.lower_bound().0 + 1e-6, "{}", a.method);
            if a.method == Method::Standard {
                prop_assert!(a.demand.exact().is_none(), "an unknown {kind:?} went in as nothing");
                prop_assert!(a.rating.exact().is_none());
            }
        }
    }

    #[test]
    fn no_input_panics(
        va in prop::num::f64::ANY, area in prop::num::f64::ANY, count in any::<u32>(), kind in 0..KINDS.len(),
        kw in prop::num::f64::ANY, days in any::<u32>(), edition in edition(), horsepower in prop::num::f64::ANY,
    ) {
        let load = Load {
            count,
            horsepower: Fact::seen(horsepower),
            managed_limit: Fact::seen(Amperes(va)),
            ..Load::new(KINDS[kind], VoltAmperes(va))
        };
        let dwelling = Dwelling {
            area: Fact::seen(SquareFeet(area)),
            small_appliance_circuits: Fact::seen(count),
            laundry_circuits: Fact::seen(count),
            existing: vec![load.clone(), load.clone()],
            new: vec![load],
            ..Dwelling::default()
        };
        let record = MeasuredDemand { highest_15_minute: Kilowatts(kw), days, ..record() };
        let book = TABLES.edition(edition);
        let comparison = all_methods(&dwelling, Some(&record), &book);
        prop_assert_eq!(comparison.outcomes.len(), 4);
        let units = [Units { count, unit: &dwelling }];
        prop_assert!(all_methods_of(&units, &dwelling.new, &book).outcomes.len() >= 2);
    }
}

#[test]
fn an_empty_dwelling_of_no_area_has_the_least_circuits_only() {
    for edition in Edition::ALL {
        let dwelling = Dwelling {
            area: Fact::seen(SquareFeet::ZERO),
            small_appliance_circuits: Fact::seen(0),
            laundry_circuits: Fact::seen(0),
            system: Fact::seen(System::SinglePhase120_240),
            ..Dwelling::default()
        };
        let standard = &outcomes(&dwelling, edition)[0];
        assert_eq!(
            standard.demand.exact(),
            Some(VoltAmperes(3525.0)),
            "{edition}"
        );
    }
}
