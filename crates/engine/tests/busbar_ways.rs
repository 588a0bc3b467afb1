//! Power sources on a bus: each way of meeting the rule, and what is not covered.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

use std::sync::LazyLock;

use engine::busbar::{Bus, bus_check};
use engine::conductor::Verdict;
use model::units::Amperes;
use model::{Edition, Fact};
use rulebook::tables::Tables;

/// Read once: a test asks thousands of times.
fn tables() -> &'static Tables {
    static TABLES: LazyLock<Tables> = LazyLock::new(|| Tables::built_in().unwrap());
    &TABLES
}

/// A 200 A bus with a 200 A main and a 32 A inverter at the far end.
fn roof() -> Bus {
    let amperes = |a: f64| Fact::seen(Amperes(a));
    Bus {
        id: "main".into(),
        rating: amperes(200.0),
        main: amperes(200.0),
        inverter_output: amperes(32.0),
        at_opposite_end: Fact::seen(true),
        sum_of_breakers: amperes(480.0),
        center_fed: Fact::seen(false),
    }
}

fn check(change: impl FnOnce(&mut Bus), expected: Verdict) {
    let mut bus = roof();
    change(&mut bus);
    let tables = tables();
    for edition in Edition::ALL {
        let found = bus_check(&bus, &tables.edition(edition));
        assert_eq!(
            found.verdict, expected,
            "{edition}: {:#?}",
            found.worksheet.lines
        );
    }
}

#[test]
fn forty_amperes_of_source_fit_a_200_ampere_bus_at_the_far_end() {
    check(|_| {}, Verdict::Pass);
    check(
        |b| b.inverter_output = Fact::seen(Amperes(32.5)),
        Verdict::Fail,
    );
}

#[test]
fn beside_the_main_only_the_plain_sum_counts() {
    check(|b| b.at_opposite_end = Fact::seen(false), Verdict::Fail);
    check(
        |b| {
            b.at_opposite_end = Fact::seen(false);
            b.main = Fact::seen(Amperes(150.0));
        },
        Verdict::Pass,
    );
}

#[test]
fn few_enough_breakers_pass_wherever_the_source_sits() {
    check(
        |b| {
            b.at_opposite_end = Fact::seen(false);
            b.sum_of_breakers = Fact::seen(Amperes(190.0));
        },
        Verdict::Pass,
    );
}

#[test]
fn what_decides_and_is_unknown_gives_no_verdict() {
    check(|b| b.at_opposite_end = Fact::Unknown, Verdict::CannotTell);
    check(|b| b.rating = Fact::Unknown, Verdict::CannotTell);
    check(
        |b| {
            b.inverter_output = Fact::seen(Amperes(60.0));
            b.sum_of_breakers = Fact::Unknown;
        },
        Verdict::CannotTell,
    );
}

#[test]
fn a_bus_fed_at_its_centre_is_not_failed_by_rules_for_other_buses() {
    check(|b| b.center_fed = Fact::seen(true), Verdict::CannotTell);
}
