//! The check of a feeder on the cases that cost contractors money, and what it says while facts are unknown.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

use std::sync::LazyLock;

use engine::conductor::grounding::{enlarged, equipment_ground};
use engine::conductor::overcurrent::largest_device;
use engine::conductor::{
    Change, Feeder, Feeds, Installation, Load, Place, Terminals, Verdict, check, smallest_changes,
};
use model::house::System;
use model::units::{Amperes, Celsius};
use model::{Edition, Fact, Insulation, Material, WiringMethod};
use rulebook::tables::Tables;

/// Read once: a test asks thousands of times.
fn tables() -> &'static Tables {
    static TABLES: LazyLock<Tables> = LazyLock::new(|| Tables::built_in().unwrap());
    &TABLES
}

/// 2 AWG aluminum in round service-entrance cable under a 100 A device, to a subpanel with part of the house on it.
fn closet_subpanel() -> Feeder {
    Feeder {
        id: "subpanel".into(),
        installation: Installation {
            wire: Fact::seen("2 Al".parse().unwrap()),
            sets: 1,
            insulation: Fact::seen(Insulation::XHHW2),
            method: Fact::seen(WiringMethod::SER),
            ambient: Fact::seen(Celsius(30.0)),
            current_carrying: Fact::seen(2),
            terminals: Fact::seen(Terminals::C75),
            in_thermal_insulation: Fact::seen(false),
            wet: Fact::seen(false),
        },
        device: Fact::seen(Amperes(100.0)),
        load: Fact::seen(Load::noncontinuous(Amperes(62.0))),
        feeds: Feeds::Feeder,
        place: Place {
            system: System::SinglePhase120_240,
            carries_entire_dwelling: Fact::seen(false),
            is_service: false,
            service_rating: Fact::Unknown,
        },
    }
}

fn changed(change: impl FnOnce(&mut Feeder)) -> Feeder {
    let mut feeder = closet_subpanel();
    change(&mut feeder);
    feeder
}

fn check_verdict(feeder: &Feeder, editions: &[Edition], expected: Verdict) {
    let tables = tables();
    for &edition in editions {
        let found = check(feeder, &tables.edition(edition));
        assert_eq!(
            found.verdict, expected,
            "{edition}: {:#?}",
            found.worksheet.lines
        );
    }
}

#[test]
fn part_of_a_house_may_not_hang_on_2_aluminum_at_100_amperes() {
    check_verdict(&closet_subpanel(), &Edition::ALL, Verdict::Fail);
}

#[test]
fn the_smallest_changes_are_next_size_copper_90_amperes_or_the_whole_dwelling() {
    let tables = tables();
    for edition in Edition::ALL {
        let book = tables.edition(edition);
        let feeder = closet_subpanel();
        let changes = smallest_changes(&feeder, &book);
        let expected = [
            Change::NextSize("1 Al".parse().unwrap()),
            Change::Copper("3 Cu".parse().unwrap()),
            Change::SmallerDevice(Amperes(90.0)),
            Change::CarryWholeDwelling,
        ];
        assert_eq!(changes, expected, "{edition}");
        for change in &changes {
            assert_eq!(
                check(&change.applied(&feeder), &book).verdict,
                Verdict::Pass,
                "{edition}: {}",
                change.describe()
            );
        }
    }
}

#[test]
fn the_whole_dwelling_may_hang_on_2_aluminum_at_100_amperes() {
    let feeder = changed(|f| f.place.carries_entire_dwelling = Fact::seen(true));
    check_verdict(&feeder, &Edition::ALL, Verdict::Pass);
    let tables = tables();
    assert!(smallest_changes(&feeder, &tables.edition(Edition::Y2023)).is_empty());
}

#[test]
fn the_dwelling_rule_reaches_208_volt_feeders_from_2017() {
    let feeder = changed(|f| {
        f.place.carries_entire_dwelling = Fact::seen(true);
        f.place.system = System::TwoLegs208Y120;
    });
    check_verdict(&feeder, &[Edition::Y2014], Verdict::Fail);
    check_verdict(
        &feeder,
        &[
            Edition::Y2017,
            Edition::Y2020,
            Edition::Y2023,
            Edition::Y2026,
        ],
        Verdict::Pass,
    );
}

#[test]
fn the_dwelling_rule_stops_below_100_and_above_400_amperes() {
    for (device, wire) in [(90.0, "4 Al"), (450.0, "600 Al")] {
        let feeder = changed(|f| {
            f.place.carries_entire_dwelling = Fact::seen(true);
            f.device = Fact::seen(Amperes(device));
            f.installation.wire = Fact::seen(wire.parse().unwrap());
        });
        check_verdict(&feeder, &Edition::ALL, Verdict::Fail);
    }
}

#[test]
fn heat_counts_under_the_dwelling_rule_too() {
    // 2 AWG aluminum with 75 C insulation at 50 C: 90 A x 0.75 is under the 83 A that 100 A asks for.
    let feeder = changed(|f| {
        f.place.carries_entire_dwelling = Fact::seen(true);
        f.installation.insulation = Fact::seen(Insulation::THW);
        f.installation.ambient = Fact::seen(Celsius(50.0));
    });
    check_verdict(&feeder, &Edition::ALL, Verdict::Fail);
}

#[test]
fn thermal_insulation_limits_large_service_entrance_cable_only_in_2014() {
    let feeder = changed(|f| {
        f.place.carries_entire_dwelling = Fact::seen(true);
        f.installation.in_thermal_insulation = Fact::seen(true);
    });
    check_verdict(&feeder, &[Edition::Y2014], Verdict::Fail);
    check_verdict(
        &feeder,
        &[
            Edition::Y2017,
            Edition::Y2020,
            Edition::Y2023,
            Edition::Y2026,
        ],
        Verdict::Pass,
    );
}

#[test]
fn an_unknown_that_decides_gives_no_verdict_and_is_named() {
    let feeder = changed(|f| f.place.carries_entire_dwelling = Fact::Unknown);
    check_verdict(&feeder, &Edition::ALL, Verdict::CannotTell);
    let tables = tables();
    let found = check(&feeder, &tables.edition(Edition::Y2023));
    let words = format!("{:?}", found.worksheet.missing().collect::<Vec<_>>());
    assert!(
        words.contains("entire load of one dwelling unit"),
        "{words}"
    );
}

#[test]
fn an_unknown_that_cannot_save_the_feeder_still_fails() {
    // At 100 A the cable fails with 75 C terminals; unmarked ones can only be worse.
    check_verdict(
        &changed(|f| f.installation.terminals = Fact::Unknown),
        &Edition::ALL,
        Verdict::Fail,
    );
}

#[test]
fn an_unknown_that_does_not_matter_is_not_asked() {
    let feeder = changed(|f| {
        f.place.carries_entire_dwelling = Fact::seen(true);
        f.installation.wet = Fact::Unknown;
        f.installation.in_thermal_insulation = Fact::Unknown;
    });
    check_verdict(
        &feeder,
        &[
            Edition::Y2017,
            Edition::Y2020,
            Edition::Y2023,
            Edition::Y2026,
        ],
        Verdict::Pass,
    );
    check_verdict(&feeder, &[Edition::Y2014], Verdict::CannotTell);
}

#[test]
fn unknown_conductors_give_no_verdict() {
    check_verdict(
        &changed(|f| f.installation.wire = Fact::Unknown),
        &Edition::ALL,
        Verdict::CannotTell,
    );
    check_verdict(
        &changed(|f| f.device = Fact::Unknown),
        &Edition::ALL,
        Verdict::CannotTell,
    );
    check_verdict(
        &changed(|f| f.load = Fact::Unknown),
        &Edition::ALL,
        Verdict::Fail,
    );
}

#[test]
fn continuous_load_counts_more_than_its_amperes() {
    let with = |continuous: f64| {
        changed(|f| {
            f.installation.wire = Fact::seen("1 Al".parse().unwrap());
            f.load = Fact::seen(Load {
                continuous: Amperes(continuous),
                noncontinuous: Amperes::ZERO,
            });
        })
    };
    check_verdict(&with(80.0), &Edition::ALL, Verdict::Pass);
    check_verdict(&with(81.0), &Edition::ALL, Verdict::Fail);
}

fn check_device(wire: &str, ampacity: f64, feeds: Feeds, expected: f64) {
    let tables = tables();
    for edition in Edition::ALL {
        let book = tables.edition(edition);
        let device = largest_device(Amperes(ampacity), wire.parse().unwrap(), 1, feeds, &book)
            .unwrap()
            .device;
        assert_eq!(device, Amperes(expected), "{wire}, {ampacity} A, {edition}");
    }
}

#[test]
fn the_next_standard_rating_is_allowed_up_to_800_amperes_and_not_for_receptacle_circuits() {
    check_device("2 Al", 90.0, Feeds::Feeder, 90.0);
    check_device("4 Al", 65.0, Feeds::Feeder, 70.0);
    check_device("4 Al", 65.0, Feeds::Receptacles, 60.0);
    check_device("600 Cu", 760.0, Feeds::Feeder, 800.0);
    check_device("1000 Cu", 820.0, Feeds::Feeder, 800.0);
}

#[test]
fn small_conductors_have_a_device_of_their_own() {
    check_device("14 Cu", 20.0, Feeds::Feeder, 15.0);
    check_device("12 Cu", 25.0, Feeds::Receptacles, 20.0);
    check_device("10 Cu", 35.0, Feeds::Feeder, 30.0);
    check_device("10 Al", 30.0, Feeds::Feeder, 25.0);
}

#[test]
fn nonmetallic_cable_ends_in_the_60_degree_column() {
    // 6 AWG copper: 65 A at 75 C, 55 A at 60 C; a 60 A device is the next size up.
    let feeder = |device: f64| {
        changed(|f| {
            f.installation.wire = Fact::seen("6 Cu".parse().unwrap());
            f.installation.method = Fact::seen(WiringMethod::NM);
            f.installation.insulation = Fact::seen(Insulation::NMB);
            f.load = Fact::seen(Load::noncontinuous(Amperes(50.0)));
            f.device = Fact::seen(Amperes(device));
        })
    };
    check_verdict(&feeder(60.0), &Edition::ALL, Verdict::Pass);
    check_verdict(&feeder(70.0), &Edition::ALL, Verdict::Fail);
}

#[test]
fn armored_cable_in_thermal_insulation_is_not_guessed() {
    let feeder = |insulated: Fact<bool>| {
        changed(|f| {
            f.installation.method = Fact::seen(WiringMethod::AC);
            f.installation.wire = Fact::seen("2 Cu".parse().unwrap());
            f.installation.in_thermal_insulation = insulated;
        })
    };
    check_verdict(&feeder(Fact::seen(false)), &Edition::ALL, Verdict::Pass);
    check_verdict(
        &feeder(Fact::seen(true)),
        &Edition::ALL,
        Verdict::CannotTell,
    );
    check_verdict(&feeder(Fact::Unknown), &Edition::ALL, Verdict::CannotTell);
}

#[test]
fn parallel_conductors_have_a_smallest_size() {
    let feeder = |wire: &str| {
        changed(|f| {
            f.installation.wire = Fact::seen(wire.parse().unwrap());
            f.installation.sets = 2;
        })
    };
    check_verdict(&feeder("1 Al"), &Edition::ALL, Verdict::Fail);
    check_verdict(&feeder("1/0 Al"), &Edition::ALL, Verdict::Pass);
}

#[test]
fn enlarged_legs_enlarge_the_equipment_ground_against_the_smallest_that_would_pass() {
    // 60 A for 50 A of load: 4 AWG aluminum would do. With 1/0 the 8 AWG ground grows by 105,600 / 41,740.
    let feeder = changed(|f| {
        f.installation.wire = Fact::seen("1/0 Al".parse().unwrap());
        f.device = Fact::seen(Amperes(60.0));
        f.load = Fact::seen(Load::noncontinuous(Amperes(50.0)));
    });
    let tables = tables();
    for edition in Edition::ALL {
        let book = tables.edition(edition);
        let enlarged = enlarged(&feeder, &book).unwrap();
        let (sheet, wire) = equipment_ground(
            "any",
            Amperes(60.0),
            Material::Aluminum,
            Some(&enlarged),
            &book,
        );
        assert_eq!(wire.unwrap().to_string(), "3 AWG Al", "{edition}");
        let note = sheet.lines.iter().find_map(|l| l.note.clone()).unwrap();
        assert!(note.contains("1 x 4 AWG Al"), "{note}");
    }
}
