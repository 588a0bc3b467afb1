//! Fault current along a chain of boards: laws, bounds while facts are unknown, and verdicts.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

use std::sync::LazyLock;

use engine::conductor::{Run, Verdict};
use engine::fault::{BoardFault, Motors, Segment, Source, fault_currents};
use model::house::System;
use model::units::{Amperes, Feet, KilovoltAmperes, Percent};
use model::{Edition, Fact, WiringMethod};
use proptest::prelude::*;
use rulebook::tables::Tables;

/// Read once: a test asks thousands of times.
fn tables() -> &'static Tables {
    static TABLES: LazyLock<Tables> = LazyLock::new(|| Tables::built_in().unwrap());
    &TABLES
}

fn transformer(kva: f64, impedance: Option<f64>, x_over_r: Option<f64>) -> Source {
    let fact = |v: Option<f64>| v.map_or(Fact::Unknown, Fact::seen);
    Source::Transformer {
        size: Fact::seen(KilovoltAmperes(kva)),
        impedance: fact(impedance).map(|p| Percent(*p)),
        tolerance: Percent(10.0),
        x_over_r: fact(x_over_r),
    }
}

fn segment(wire: &str, length: f64, rating: f64) -> Segment {
    let wire = wire.parse().unwrap();
    let run = Run {
        leg: wire,
        neutral: Some(wire),
        sets: 1,
        method: WiringMethod::Pvc40,
        length: Feet(length),
    };
    Segment {
        board: "main panel".into(),
        run: Fact::seen(run),
        rating: Fact::seen(Amperes(rating)),
    }
}

fn boards(source: &Source, chain: &[Segment]) -> Vec<BoardFault> {
    let tables = tables();
    let book = tables.edition(Edition::Y2023);
    fault_currents(
        "any",
        System::SinglePhase120_240,
        source,
        chain,
        Motors::LeftOut,
        &book,
    )
    .1
}

fn check_verdict(source: &Source, segment: Segment, expected: Verdict) {
    let found = boards(source, &[segment]);
    assert_eq!(found[1].verdict, expected, "{:?}", found[1]);
}

#[test]
fn a_small_transformer_far_away_suits_a_10_ka_panel() {
    check_verdict(
        &transformer(25.0, Some(2.0), Some(1.1)),
        segment("4/0 Al", 60.0, 10_000.0),
        Verdict::Pass,
    );
}

#[test]
fn a_large_transformer_close_by_does_not() {
    check_verdict(
        &transformer(167.0, Some(1.6), Some(2.5)),
        segment("350 Cu", 15.0, 10_000.0),
        Verdict::Fail,
    );
}

#[test]
fn without_the_nameplate_the_lowest_usual_impedance_can_show_that_it_suits_but_never_that_it_fails()
{
    check_verdict(
        &transformer(25.0, None, None),
        segment("4/0 Al", 60.0, 22_000.0),
        Verdict::Pass,
    );
    check_verdict(
        &transformer(167.0, None, None),
        segment("350 Cu", 15.0, 10_000.0),
        Verdict::CannotTell,
    );
}

#[test]
fn an_unknown_rating_or_transformer_gives_no_verdict() {
    let mut unrated = segment("4/0 Al", 60.0, 10_000.0);
    unrated.rating = Fact::Unknown;
    check_verdict(
        &transformer(25.0, Some(2.0), Some(1.1)),
        unrated,
        Verdict::CannotTell,
    );
    let unknown = Source::Transformer {
        size: Fact::Unknown,
        impedance: Fact::Unknown,
        tolerance: Percent(10.0),
        x_over_r: Fact::Unknown,
    };
    assert!(boards(&unknown, &[segment("4/0 Al", 60.0, 10_000.0)]).is_empty());
}

#[test]
fn a_run_nobody_measured_counts_as_no_length() {
    let mut unmeasured = segment("4/0 Al", 60.0, 22_000.0);
    unmeasured.run = Fact::Unknown;
    let found = boards(&transformer(25.0, Some(2.0), Some(1.1)), &[unmeasured]);
    assert_eq!(found[1].highest.high, found[0].highest.high);
    assert_eq!(found[1].highest.low, None);
    assert_eq!(found[1].verdict, Verdict::Pass);
}

#[test]
fn a_stated_current_without_x_over_r_bounds_every_x_over_r() {
    let stated = |x_over_r: Option<f64>| Source::Stated {
        line_to_line: Fact::seen(Amperes(12_000.0)),
        line_to_neutral: Fact::seen(Amperes(15_000.0)),
        x_over_r: x_over_r.map_or(Fact::Unknown, Fact::seen),
    };
    let at = |source: &Source| {
        boards(source, &[segment("2 Al", 40.0, 10_000.0)])[1]
            .impedance
            .clone()
    };
    let range = at(&stated(None));
    for x_over_r in [0.0, 0.3, 1.0, 2.0, 10.0] {
        let one = at(&stated(Some(x_over_r)));
        for (range, one) in [
            (&range.line_to_line, one.line_to_line),
            (&range.line_to_neutral, one.line_to_neutral),
        ] {
            let one = one.exact().unwrap();
            assert!(
                range.low.unwrap().0 <= one.0 + 1e-6 && one.0 <= range.high.unwrap().0 + 1e-6,
                "X/R {x_over_r}: {one}"
            );
        }
    }
}

#[test]
fn running_motors_add_to_the_current() {
    let tables = tables();
    let book = tables.edition(Edition::Y2023);
    let with = |motors| {
        let source = transformer(50.0, Some(2.0), Some(1.6));
        fault_currents(
            "any",
            System::SinglePhase120_240,
            &source,
            &[segment("2/0 Cu", 50.0, 10_000.0)],
            motors,
            &book,
        )
        .1[1]
            .highest
            .exact()
            .unwrap()
    };
    assert!(with(Motors::Running(Amperes(30.0))) > with(Motors::LeftOut) + Amperes(30.0));
}

proptest! {
    #[test]
    fn a_longer_run_never_raises_the_fault_current(
        kva in prop::sample::select(&[25.0, 50.0, 100.0, 167.0][..]),
        impedance in 1.2..6.0f64,
        x_over_r in 0.5..6.0f64,
        length in 0.0..300.0f64,
        more in 0.1..300.0f64,
        wire in prop::sample::select(&["8 Cu", "2 Al", "2/0 Cu", "4/0 Al", "500 Cu", "700 Cu"][..]),
    ) {
        let source = transformer(kva, Some(impedance), Some(x_over_r));
        let at = |length| boards(&source, &[segment(wire, length, 10_000.0)])[1].clone();
        let (near, far) = (at(length), at(length + more));
        prop_assert!(far.highest.high.unwrap() <= near.highest.high.unwrap());
        prop_assert!(far.point_to_point.line_to_line.high <= near.point_to_point.line_to_line.high);
        prop_assert!(far.impedance.line_to_neutral.high <= near.impedance.line_to_neutral.high);
    }
}
