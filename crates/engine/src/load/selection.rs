//! Heating and air conditioning in the optional calculation: only the largest of the selections counts.
//! NFPA 70 220.82(C) (2014-2023), 120.82(C) (2026). Nameplate VA in, VA out.

use model::house::LoadKind;
use model::units::{Percent, VoltAmperes};
use rulebook::Lookup;
use rulebook::tables::{Subject, TablesIn, limit};

use super::input::Dwelling;
use super::outcome::{Step, weakest};
use super::told::{Told, told_line};
use super::{climate, nameplate};
use crate::worksheet::Line;

/// Label of the line with the heating or cooling that counts.
pub const CLIMATE: &str = "Heating and air conditioning, the largest of the selections";

/// The largest of the selections for heating and air conditioning; the blower goes with each.
pub(super) fn largest_selection(
    dwelling: &Dwelling,
    book: &TablesIn<'_>,
) -> Step<Told<VoltAmperes>> {
    let sum = |of: &dyn Fn(&model::house::Load) -> bool| -> Told<VoltAmperes> {
        dwelling
            .loads()
            .filter(|l| of(l))
            .map(|l| nameplate::rated_all(l, book))
            .sum()
    };
    let kind = |kind: LoadKind| sum(&move |l| l.kind == kind);
    let compressor = kind(LoadKind::HeatPump);
    let supplement = kind(LoadKind::SupplementalHeat);
    let blower = kind(LoadKind::Blower);
    let heat = kind(LoadKind::SpaceHeat);
    let separate: u32 = dwelling
        .loads()
        .filter(|l| l.kind == LoadKind::SpaceHeat && l.separately_controlled)
        .fold(0, |n, l| n.saturating_add(l.count));

    let mut lines = Vec::new();
    let mut best: Told<VoltAmperes> = Told::default();
    let mut consider = |label: &'static str,
                        load: &Told<VoltAmperes>,
                        beside: &Told<VoltAmperes>,
                        percent: Lookup<Percent>| {
        if *load == Told::default() && *beside == Told::default() {
            return;
        }
        match percent {
            Ok(percent) => {
                let value = load.times(percent.value.factor()) + beside.clone() + blower.clone();
                let mut line = told_line(label, &value)
                    .how("load x percentage")
                    .input("load", load.lower_bound())
                    .input("percentage", percent.value)
                    .source(&percent);
                if *beside != Told::default() {
                    line = line.input("compressor, in full", beside.lower_bound());
                }
                if blower != Told::default() {
                    line = line.input("blower, in full", blower.lower_bound());
                }
                lines.push(line);
                best = best.clone().max(value);
            }
            Err(why) => {
                lines.push(Line::no_value(label, &why));
                best.miss(why.to_string());
            }
        }
    };
    let nothing = Told::default();
    consider(
        "Air conditioning",
        &kind(LoadKind::Cooling),
        &nothing,
        book.limit(limit::OPTIONAL_COOLING_DEMAND),
    );
    if supplement == Told::default() {
        consider(
            "Heat pump without supplementary heat",
            &compressor,
            &nothing,
            book.limit(limit::OPTIONAL_HEAT_PUMP_DEMAND),
        );
    } else {
        let beside = if climate::is_locked_out(dwelling) {
            &nothing
        } else {
            &compressor
        };
        consider(
            "Heat pump with supplementary heat",
            &supplement,
            beside,
            book.limit(limit::OPTIONAL_SUPPLEMENTAL_HEAT_DEMAND),
        );
        if climate::is_locked_out(dwelling) {
            consider(
                "Heat pump compressor alone",
                &compressor,
                &nothing,
                book.limit(limit::OPTIONAL_HEAT_PUMP_DEMAND),
            );
        }
    }
    match book.limit(limit::OPTIONAL_HEAT_SEPARATE_UNITS_FROM) {
        Ok(many) if f64::from(separate) >= many.value => consider(
            "Electric space heat, many separately controlled units",
            &heat,
            &nothing,
            book.limit(limit::OPTIONAL_HEAT_FOUR_OR_MORE_DEMAND),
        ),
        _ => consider(
            "Electric space heat, few separately controlled units",
            &heat,
            &nothing,
            book.limit(limit::OPTIONAL_HEAT_UNDER_FOUR_DEMAND),
        ),
    }
    consider(
        "Storage heat",
        &kind(LoadKind::StorageHeat),
        &nothing,
        book.limit(limit::OPTIONAL_STORAGE_HEAT_DEMAND),
    );
    if lines.is_empty() && blower != Told::default() {
        best = blower.clone();
    }
    if best != Told::default() {
        lines.push(
            told_line(CLIMATE, &best)
                .how("the largest, alone")
                .cite(book.cite(Subject::OptionalHvac))
                .checked(weakest(&lines)),
        );
    }
    Step { value: best, lines }
}
