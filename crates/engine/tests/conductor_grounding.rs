//! Grounding and neutral conductors: caps by electrode, jumpers above the table, floors of the neutral.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

use std::sync::LazyLock;

use engine::conductor::grounding::{ServiceConductors, bonding_jumper, electrode_conductor};
use model::{Edition, Material, WireSize};
use rulebook::tables::{Electrode, Tables};

/// Read once for all tests.
fn tables() -> &'static Tables {
    static TABLES: LazyLock<Tables> = LazyLock::new(|| Tables::built_in().unwrap());
    &TABLES
}

fn service(leg: &str, sets: u32) -> ServiceConductors {
    ServiceConductors {
        leg: leg.parse().unwrap(),
        sets,
    }
}

fn check_electrode(electrode: Option<(Electrode, Option<&str>)>, metal: Material, expected: &str) {
    let electrode =
        electrode.map(|(kind, ring)| (kind, ring.map(|r| r.parse::<WireSize>().unwrap())));
    for edition in Edition::ALL {
        let book = tables().edition(edition);
        let (_, wire) = electrode_conductor("any", service("250 Cu", 1), metal, electrode, &book);
        assert_eq!(wire.unwrap().to_string(), expected, "{edition}");
    }
}

#[test]
fn a_conductor_to_one_kind_of_electrode_only_has_a_cap() {
    check_electrode(None, Material::Copper, "2 AWG Cu");
    check_electrode(
        Some((Electrode::RodPipePlate, None)),
        Material::Copper,
        "6 AWG Cu",
    );
    check_electrode(
        Some((Electrode::RodPipePlate, None)),
        Material::Aluminum,
        "4 AWG Al",
    );
    check_electrode(
        Some((Electrode::ConcreteEncased, None)),
        Material::Copper,
        "4 AWG Cu",
    );
    check_electrode(
        Some((Electrode::GroundRing, Some("4"))),
        Material::Copper,
        "4 AWG Cu",
    );
}

#[test]
fn a_ring_of_unknown_size_or_a_metal_without_a_cap_leaves_the_full_size() {
    check_electrode(
        Some((Electrode::GroundRing, None)),
        Material::Copper,
        "2 AWG Cu",
    );
    check_electrode(
        Some((Electrode::ConcreteEncased, None)),
        Material::Aluminum,
        "1/0 AWG Al",
    );
}

fn check_jumper(leg: &str, sets: u32, metal: Material, expected: &str) {
    for edition in Edition::ALL {
        let (_, wire) =
            bonding_jumper("any", service(leg, sets), metal, &tables().edition(edition));
        assert_eq!(wire.unwrap().to_string(), expected, "{edition}");
    }
}

#[test]
fn above_the_table_a_jumper_has_an_eighth_of_the_area() {
    check_jumper("4/0 Al", 1, Material::Copper, "4 AWG Cu");
    // An eighth of 4 x 300 kcmil is 150 kcmil, of 4 x 350 kcmil 175 kcmil; 3/0 has 167.8 and 4/0 has 211.6.
    check_jumper("300 Cu", 4, Material::Copper, "3/0 AWG Cu");
    check_jumper("350 Cu", 4, Material::Copper, "4/0 AWG Cu");
}
