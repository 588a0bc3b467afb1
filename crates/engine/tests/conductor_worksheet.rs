//! The worksheet of a feeder, read as prose: every step in the order of the hand calculation, with section and check status.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

use std::fmt::Write;

use engine::conductor::{
    Feeder, Feeds, Installation, Load, Place, Terminals, check, smallest_changes,
};
use engine::worksheet::{Value, Worksheet};
use model::house::System;
use model::units::{Amperes, Celsius};
use model::{Edition, Fact, Insulation, WiringMethod};
use rulebook::tables::Tables;

fn prose(sheet: &Worksheet) -> String {
    let mut text = format!("{}\n", sheet.title);
    for line in &sheet.lines {
        let value = match &line.value {
            Value::Number(q) => format!("{:.2} {}", q.value, q.unit),
            Value::Text(words) => words.to_string(),
            Value::Passes(true) => "passes".into(),
            Value::Passes(false) => "FAILS".into(),
            Value::CannotTell(why) => format!("cannot tell: {why}"),
        };
        let place = line
            .cite
            .as_ref()
            .map(|c| format!(" [{c}]"))
            .unwrap_or_default();
        writeln!(text, "- {}: {value}{place} ({})", line.label, line.check).unwrap();
        if let Some(note) = &line.note {
            writeln!(text, "  {note}").unwrap();
        }
    }
    text
}

fn closet_subpanel() -> Feeder {
    Feeder {
        id: "subpanel".into(),
        installation: Installation {
            wire: Fact::seen("2 Al".parse().unwrap()),
            sets: 1,
            insulation: Fact::seen(Insulation::XHHW2),
            method: Fact::seen(WiringMethod::SER),
            ambient: Fact::seen(Celsius(38.0)),
            current_carrying: Fact::seen(2),
            terminals: Fact::seen(Terminals::C75),
            in_thermal_insulation: Fact::Unknown,
            wet: Fact::seen(false),
        },
        device: Fact::seen(Amperes(100.0)),
        load: Fact::seen(Load {
            continuous: Amperes(12.0),
            noncontinuous: Amperes(50.0),
        }),
        feeds: Feeds::Feeder,
        place: Place {
            system: System::SinglePhase120_240,
            carries_entire_dwelling: Fact::seen(false),
            is_service: false,
            service_rating: Fact::seen(Amperes(200.0)),
        },
    }
}

#[test]
fn the_worksheet_of_a_feeder_reads_like_the_hand_calculation() {
    let tables = Tables::built_in().unwrap();
    let book = tables.edition(Edition::Y2023);
    let mut text = prose(&check(&closet_subpanel(), &book).worksheet);
    for change in smallest_changes(&closet_subpanel(), &book) {
        writeln!(text, "passes with {}", change.describe()).unwrap();
    }
    insta::assert_snapshot!(text);
}
