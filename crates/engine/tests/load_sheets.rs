//! Worksheets as a reader meets them: the steps of the hand calculation, in its order and words.

#![allow(clippy::unwrap_used)]

use std::fmt::Write as _;

use engine::load::{Dwelling, optional, standard};
use engine::{Line, Value, Worksheet};
use model::house::{DwellingKind, Load, LoadKind, System};
use model::units::{Amperes, SquareFeet, VoltAmperes};
use model::{Edition, Fact};
use rulebook::tables::Tables;

fn house() -> Dwelling {
    Dwelling {
        kind: Fact::seen(DwellingKind::OneFamily),
        area: Fact::seen(SquareFeet(1650.0)),
        small_appliance_circuits: Fact::seen(2),
        laundry_circuits: Fact::seen(1),
        system: Fact::seen(System::SinglePhase120_240),
        ampacity: Fact::seen(Amperes(150.0)),
        existing: vec![
            Load::new(LoadKind::Range, VoltAmperes(13_500.0)),
            Load::new(LoadKind::Dryer, VoltAmperes(4_600.0)),
            Load::new(LoadKind::WaterHeater, VoltAmperes(4_500.0)),
            Load::new(LoadKind::SpaceHeat, VoltAmperes(9_600.0)),
            Load::new(LoadKind::Cooling, VoltAmperes(5_280.0)),
        ],
        new: vec![Load::new(LoadKind::VehicleCharger, VoltAmperes(5_760.0))],
        ..Dwelling::default()
    }
}

fn line(line: &Line) -> String {
    let value = match &line.value {
        Value::Number(q) => format!("{:.2} {}", q.value, q.unit),
        Value::Text(text) => text.to_string(),
        Value::Passes(passes) => passes.to_string(),
        Value::CannotTell(why) => format!("cannot tell: {why}"),
    };
    let section = line.cite.as_ref().map(|c| &*c.section).unwrap_or_default();
    let mut text = format!("{} = {value} [{section}; {}]", line.label, line.check);
    if let Some(note) = &line.note {
        let _ = write!(text, "\n    {note}");
    }
    text
}

fn check(name: &str, sheet: &Worksheet) {
    let lines: Vec<String> = sheet.lines.iter().map(line).collect();
    insta::assert_snapshot!(name, format!("{}\n{}", sheet.title, lines.join("\n")));
}

#[test]
fn the_standard_calculation_reads_like_the_hand_calculation() {
    let tables = Tables::built_in().unwrap();
    check(
        "standard_2023",
        &standard::standard(&house(), &tables.edition(Edition::Y2023)).worksheet,
    );
}

#[test]
fn a_gap_is_named_on_its_line_and_on_the_total() {
    let tables = Tables::built_in().unwrap();
    let mut gap = house();
    gap.existing[0].va = Fact::Unknown;
    check(
        "standard_2017_gap",
        &standard::standard(&gap, &tables.edition(Edition::Y2017)).worksheet,
    );
}

#[test]
fn the_optional_calculation_of_2026_says_what_was_not_confirmed() {
    let tables = Tables::built_in().unwrap();
    check(
        "optional_2026",
        &optional::optional(&house(), &tables.edition(Edition::Y2026)).worksheet,
    );
}
