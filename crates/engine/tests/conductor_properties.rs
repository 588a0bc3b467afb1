//! Laws that hold for every conductor: more load never asks for less, more metal never carries less, more length never loses less.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

use std::sync::LazyLock;

use engine::conductor::grounding::{
    Enlarged, ServiceConductors, bonding_jumper, electrode_conductor, equipment_ground,
};
use engine::conductor::remedy::smallest_for_ampacity;
use engine::conductor::{
    Feeder, Feeds, Installation, Load, Loading, Place, Run, Terminals, Verdict, ampacity, check,
    smallest_changes, smallest_conductor, voltage_drop,
};
use model::house::System;
use model::units::{Amperes, Celsius, Feet};
use model::{Edition, Fact, Insulation, Material, Wire, WireSize, WiringMethod};
use proptest::prelude::*;
use rulebook::tables::Tables;

/// Read once: a test asks thousands of times.
fn tables() -> &'static Tables {
    static TABLES: LazyLock<Tables> = LazyLock::new(|| Tables::built_in().unwrap());
    &TABLES
}

fn edition() -> impl Strategy<Value = Edition> {
    prop::sample::select(&Edition::ALL[..])
}

fn metal() -> impl Strategy<Value = Material> {
    prop::sample::select(&[Material::Copper, Material::Aluminum][..])
}

fn size(from: &str, to: &str) -> impl Strategy<Value = WireSize> {
    let (from, to): (WireSize, WireSize) = (from.parse().unwrap(), to.parse().unwrap());
    prop::sample::select(
        WireSize::all()
            .filter(|s| *s >= from && *s <= to)
            .collect::<Vec<_>>(),
    )
}

fn insulation() -> impl Strategy<Value = Insulation> {
    use Insulation::{NMB, RHW, THHN, THW, THWN2, TW, XHHW, XHHW2};
    prop::sample::select(&[TW, THW, THHN, THWN2, XHHW, XHHW2, NMB, RHW][..])
}

fn method() -> impl Strategy<Value = WiringMethod> {
    use WiringMethod::{EMT, MC, NM, Pvc40, SER, UF};
    prop::sample::select(&[NM, SER, UF, EMT, Pvc40, MC][..])
}

prop_compose! {
    fn installation()(
        insulation in insulation(),
        method in method(),
        ambient in 0.0..50.0f64,
        together in 1u32..30,
        terminals in prop::bool::ANY,
        insulated in prop::bool::ANY,
        wet in prop::bool::ANY,
        size in size("14", "750"),
        material in metal(),
    ) -> Installation {
        Installation {
            wire: Fact::seen(Wire { size, material }),
            sets: 1,
            insulation: Fact::seen(insulation),
            method: Fact::seen(method),
            ambient: Fact::seen(Celsius(ambient)),
            current_carrying: Fact::seen(together),
            terminals: Fact::seen(if terminals { Terminals::C75 } else { Terminals::C60 }),
            in_thermal_insulation: Fact::seen(insulated),
            wet: Fact::seen(wet),
        }
    }
}

prop_compose! {
    fn feeder()(
        installation in installation(),
        device in prop::sample::select(&[15.0, 20.0, 30.0, 60.0, 90.0, 100.0, 125.0, 200.0, 400.0][..]),
        continuous in 0.0..80.0f64,
        noncontinuous in 0.0..150.0f64,
        entire in prop::bool::ANY,
        wye in prop::bool::ANY,
        service in prop::bool::ANY,
    ) -> Feeder {
        Feeder {
            id: "any".into(),
            installation,
            device: Fact::seen(Amperes(device)),
            load: Fact::seen(Load { continuous: Amperes(continuous), noncontinuous: Amperes(noncontinuous) }),
            feeds: Feeds::Feeder,
            place: Place {
                system: if wye { System::TwoLegs208Y120 } else { System::SinglePhase120_240 },
                carries_entire_dwelling: Fact::seen(entire),
                is_service: service,
                service_rating: Fact::Unknown,
            },
        }
    }
}

/// The feeder with the facts named by `forget` unknown.
fn forget(feeder: &Feeder, forget: [bool; 9]) -> Feeder {
    let mut it = feeder.clone();
    let i = &mut it.installation;
    if forget[0] {
        i.insulation = Fact::Unknown;
    }
    if forget[1] {
        i.method = Fact::Unknown;
    }
    if forget[2] {
        i.ambient = Fact::Unknown;
    }
    if forget[3] {
        i.current_carrying = Fact::Unknown;
    }
    if forget[4] {
        i.terminals = Fact::Unknown;
    }
    if forget[5] {
        i.in_thermal_insulation = Fact::Unknown;
    }
    if forget[6] {
        i.wet = Fact::Unknown;
    }
    if forget[7] {
        it.load = Fact::Unknown;
    }
    if forget[8] {
        it.place.carries_entire_dwelling = Fact::Unknown;
    }
    it
}

/// A larger answer is not smaller; no answer counts as the largest.
fn not_smaller(small: Option<Wire>, large: Option<Wire>) -> bool {
    match (small, large) {
        (_, None) => true,
        (None, Some(_)) => false,
        (Some(a), Some(b)) => a.size <= b.size,
    }
}

proptest! {
    #[test]
    fn a_larger_wire_never_carries_less(it in installation(), edition in edition()) {
        let tables = tables();
        let book = tables.edition(edition);
        let wire = it.wire.get().unwrap();
        let Some(larger) = WireSize::all().find(|s| *s > wire.size) else { return Ok(()) };
        let of = |size| ampacity(&it.with_wire(Wire { size, ..wire }), None, &book).value.exact();
        if let (Some(small), Some(large)) = (of(wire.size), of(larger)) {
            prop_assert!(small <= large, "{wire}: {small} but {larger}: {large}");
        }
    }

    #[test]
    fn more_load_never_asks_for_a_smaller_conductor(it in feeder(), more in 0.0..100.0f64, edition in edition(), metal in metal()) {
        let tables = tables();
        let book = tables.edition(edition);
        let mut heavier = it.clone();
        let load = it.load.get().unwrap();
        heavier.load = Fact::seen(Load { noncontinuous: load.noncontinuous + Amperes(more), ..load });
        prop_assert!(not_smaller(smallest_conductor(&it, metal, &book), smallest_conductor(&heavier, metal, &book)));
        let ask = |amperes| smallest_for_ampacity(&it.installation, metal, amperes, None, &book);
        prop_assert!(not_smaller(ask(load.total()), ask(load.total() + Amperes(more))));
    }

    #[test]
    fn every_named_change_passes_the_same_check(it in feeder(), edition in edition()) {
        let tables = tables();
        let book = tables.edition(edition);
        for change in smallest_changes(&it, &book) {
            prop_assert_eq!(check(&change.applied(&it), &book).verdict, Verdict::Pass, "{}", change.describe());
        }
    }

    #[test]
    fn a_verdict_with_unknown_facts_is_the_verdict_with_the_facts(
        it in feeder(), edition in edition(), which in prop::array::uniform9(prop::bool::ANY)
    ) {
        let tables = tables();
        let book = tables.edition(edition);
        // Over 100 A terminals count as 75 C while nobody has read them; a 60 C mark there contradicts the equipment's own standard.
        let over_100 = it.device.get().is_some_and(|device| device > Amperes(100.0));
        prop_assume!(!(over_100 && it.installation.terminals.get() == Some(Terminals::C60)));
        let vague = check(&forget(&it, which), &book);
        let full = check(&it, &book);
        if vague.verdict != Verdict::CannotTell && full.verdict != Verdict::CannotTell {
            prop_assert_eq!(vague.verdict, full.verdict);
        }
        if let Some(exact) = full.ampacity.exact() {
            prop_assert!(vague.ampacity.low.is_none_or(|low| low <= exact));
            prop_assert!(vague.ampacity.high.is_none_or(|high| high >= exact));
        }
    }

    #[test]
    fn an_equipment_ground_is_never_larger_than_the_circuit_asks(
        device in 15.0..1200.0f64, leg in size("14", "750"), base in size("14", "750"), metal in metal(), edition in edition()
    ) {
        let tables = tables();
        let book = tables.edition(edition);
        let plain = equipment_ground("any", Amperes(device), metal, None, &book).1.unwrap();
        let enlarged = Enlarged { leg: Wire { size: leg, material: metal }, sets: 1, base: base.area(), base_words: "any".into() };
        let larger = equipment_ground("any", Amperes(device), metal, Some(&enlarged), &book).1.unwrap();
        prop_assert!(larger.size >= plain.size);
        prop_assert!(larger.size <= leg.max(plain.size));
        let more = equipment_ground("any", Amperes(device * 1.3), metal, None, &book).1.unwrap();
        prop_assert!(more.size >= plain.size);
    }

    #[test]
    fn a_larger_service_never_asks_for_smaller_grounding(leg in size("14", "750"), sets in 1u32..4, metal in metal(), edition in edition()) {
        let tables = tables();
        let book = tables.edition(edition);
        let service = |sets| ServiceConductors { leg: Wire { size: leg, material: metal }, sets };
        for copper_or_not in [Material::Copper, Material::Aluminum] {
            let gec = |sets| electrode_conductor("any", service(sets), copper_or_not, None, &book).1;
            prop_assert!(not_smaller(gec(sets), gec(sets + 1)));
        }
        // Of one metal: above the table the share is of the service conductors' own area.
        let jumper = |sets| bonding_jumper("any", service(sets), metal, &book).1;
        prop_assert!(not_smaller(jumper(sets), jumper(sets + 1)));
    }

    #[test]
    fn a_longer_run_never_loses_less(
        leg in size("14", "500"), metal in metal(), length in 1.0..400.0f64, more in 1.0..200.0f64,
        amperes in 1.0..200.0f64, power_factor in 0.5..1.0f64, method in method(), edition in edition()
    ) {
        prop_assume!(metal == Material::Copper || leg.name() != "14");
        let tables = tables();
        let book = tables.edition(edition);
        let wire = Wire { size: leg, material: metal };
        let load = Loading { line_to_line: Amperes(amperes), leg_a: Amperes::ZERO, leg_b: Amperes::ZERO, power_factor };
        let drop = |length| {
            let run = Run { leg: wire, neutral: Some(wire), sets: 1, method, length: Feet(length) };
            voltage_drop("any", System::SinglePhase120_240, &run, &load, &book).1.unwrap().line_to_line.hand
        };
        prop_assert!(drop(length) < drop(length + more));
    }
}
