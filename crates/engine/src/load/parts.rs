//! The groups of the standard calculation, each with its demand and with what it puts on the neutral.
//! NFPA 70 220.41 to 220.60 (2014-2023), 120.41 to 120.60 (2026). VA.

use model::house::Load;
use model::units::VoltAmperes;
use rulebook::NoValue;
use rulebook::tables::{Subject, TablesIn, limit};

use super::input::Units;
use super::outcome::weakest;
use super::told::{Told, told_line};
use super::{chargers, climate, lighting, nameplate, parts_fixed};
use crate::worksheet::{Line, Text};

/// The whole standard calculation before its total, and the same seen from the neutral.
#[derive(Clone, Debug, Default)]
pub(super) struct Parts {
    pub(super) lines: Vec<Line>,
    /// Calculated load.
    pub(super) whole: Told<VoltAmperes>,
    /// Connected line to neutral, group by group, as calculated.
    pub(super) to_neutral: Vec<(Text, Told<VoltAmperes>)>,
    /// Cooking and drying load that shares the neutral, before its reduction.
    pub(super) shared: Told<VoltAmperes>,
}

impl Parts {
    /// Everything connected line to neutral.
    pub(super) fn line_to_neutral(&self) -> Told<VoltAmperes> {
        self.to_neutral.iter().map(|(_, va)| va.clone()).sum()
    }

    pub(super) fn add(&mut self, va: Told<VoltAmperes>) {
        self.whole += va;
    }

    pub(super) fn on_neutral(&mut self, what: &'static str, va: Told<VoltAmperes>) {
        if va != Told::default() {
            self.to_neutral.push((what.into(), va));
        }
    }

    /// A table gave no value: the line says so, and the sum stays a lower bound.
    fn no_value(&mut self, label: &'static str, why: &NoValue) {
        self.lines.push(Line::no_value(label, why));
        self.whole.miss(why.to_string());
    }

    pub(super) fn take<T>(&mut self, label: &'static str, found: Result<T, NoValue>) -> Option<T> {
        match found {
            Ok(value) => Some(value),
            Err(why) => {
                self.no_value(label, &why);
                None
            }
        }
    }
}

/// Works every group, in the order of the hand calculation.
pub(super) fn parts(units: &[Units<'_>], house: &[Load], book: &TablesIn<'_>) -> Parts {
    let mut parts = Parts::default();
    general(units, book, &mut parts);
    let chargers = charger_load(units, book);
    parts_fixed::fixed_appliances(units, &chargers, book, &mut parts);
    free_standing(units, house, book, &mut parts);
    parts_fixed::drying(units, book, &mut parts);
    parts_fixed::cook(units, book, &mut parts);
    heat_and_cool(units, house, book, &mut parts);
    charge(&chargers, units, book, &mut parts);
    parts
}

fn general(units: &[Units<'_>], book: &TablesIn<'_>, parts: &mut Parts) {
    let general = lighting::general(units, book);
    let sum = general.sum();
    parts.lines.extend(general.lines);
    parts.lines.push(
        told_line(lighting::GENERAL, &sum)
            .how("general lighting + small-appliance circuits + laundry circuits")
            .cite(book.cite(Subject::LightingDemand))
            .checked(weakest(&parts.lines)),
    );
    let Some(step) = parts.take(lighting::DEMAND, lighting::demand(sum.lower_bound(), book)) else {
        return;
    };
    parts.lines.extend(step.lines);
    let demand = sum.map(|_| step.value);
    if let (Some(line), None) = (parts.lines.last_mut(), demand.exact()) {
        line.value = told_line("", &demand).value;
    }
    parts.on_neutral(
        "Lighting, small-appliance and laundry demand",
        demand.clone(),
    );
    parts.add(demand);
}

/// Chargers as pairs of number and load of one.
fn charger_load(units: &[Units<'_>], book: &TablesIn<'_>) -> Vec<(u32, Told<VoltAmperes>)> {
    each(units, nameplate::is_charger)
        .map(|(n, load)| (n, nameplate::rated(load, book)))
        .collect()
}

/// How many of each load all the units have together.
pub(super) fn each<'a>(
    units: &'a [Units<'a>],
    of: fn(model::house::LoadKind) -> bool,
) -> impl Iterator<Item = (u32, &'a Load)> {
    units.iter().flat_map(move |group| {
        group
            .unit
            .loads_of(of)
            .map(move |load| (group.count.saturating_mul(load.count), load))
    })
}

fn free_standing(units: &[Units<'_>], house: &[Load], book: &TablesIn<'_>, parts: &mut Parts) {
    let groups = [
        (
            "Appliances on circuits of their own, in full",
            each(units, nameplate::is_free_standing).collect(),
        ),
        (
            "House loads, in full",
            house.iter().map(|l| (l.count, l)).collect::<Vec<_>>(),
        ),
    ];
    for (label, loads) in groups {
        if loads.is_empty() {
            continue;
        }
        let mut sum = Told::default();
        let mut neutral = Told::default();
        let mut line = Line::text(label, "");
        for (count, load) in loads {
            let va = nameplate::rated(load, book).times(f64::from(count));
            line = line.input(nameplate::held_label(load, book), va.lower_bound());
            if nameplate::uses_neutral(load) {
                neutral += va.clone();
            }
            sum += va;
        }
        line.value = told_line("", &sum).value;
        parts.lines.push(
            line.how("sum of nameplates")
                .cite(book.cite(Subject::StandardLoad)),
        );
        parts.on_neutral(label, neutral);
        parts.add(sum);
    }
}

fn heat_and_cool(units: &[Units<'_>], house: &[Load], book: &TablesIn<'_>, parts: &mut Parts) {
    let seasons = climate::seasons(units, book);
    let others: Vec<&Load> = each(units, nameplate::is_appliance)
        .map(|(_, load)| load)
        .chain(house)
        .collect();
    let largest = |on_neutral_only: bool| {
        others
            .iter()
            .filter(|l| !on_neutral_only || nameplate::uses_neutral(l))
            .filter_map(|l| nameplate::motor(l))
            .fold(Told::default(), Told::max)
    };
    let reading = units
        .first()
        .map(|g| g.unit.readings.noncoincident)
        .unwrap_or_default();
    let found = climate::demand(&seasons, &largest(false), reading, book);
    let Some(step) = parts.take(climate::LARGER, found) else {
        parts.whole += seasons.larger;
        return;
    };
    parts.lines.extend(step.lines);
    parts.add(step.value.sum());

    let climate: Vec<(u32, &Load)> = each(units, nameplate::is_climate)
        .filter(|(_, load)| nameplate::uses_neutral(load))
        .collect();
    let neutral: Told<VoltAmperes> = climate
        .iter()
        .map(|(n, load)| nameplate::rated(load, book).times(f64::from(*n)))
        .sum();
    parts.on_neutral("Heating and cooling, on the neutral", neutral);
    let motor = climate
        .iter()
        .filter_map(|(_, load)| nameplate::motor(load))
        .fold(largest(true), Told::max);
    if let Ok(share) = book.limit(limit::LARGEST_MOTOR_EXTRA) {
        parts.on_neutral(
            "Largest motor on the neutral, added share",
            motor.times(share.value.factor()),
        );
    }
}

fn charge(
    chargers: &[(u32, Told<VoltAmperes>)],
    units: &[Units<'_>],
    book: &TablesIn<'_>,
    parts: &mut Parts,
) {
    if chargers.is_empty() || parts_fixed::chargers_among_appliances(units, book) {
        return;
    }
    let Some(mut step) = parts.take(chargers::DEMAND, chargers::demand(chargers, book)) else {
        return;
    };
    if !chargers::are_named(book)
        && let Some(line) = step.lines.last_mut()
    {
        line.note = Some(
            "this edition does not name vehicle chargers: some count them among the fixed appliances, \
             some in full; in full is the larger and is taken"
                .into(),
        );
    }
    parts.lines.extend(step.lines);
    parts.add(step.value);
    let neutral: Told<VoltAmperes> = each(units, nameplate::is_charger)
        .filter(|(_, load)| nameplate::uses_neutral(load))
        .map(|(n, load)| nameplate::rated(load, book).times(f64::from(n)))
        .sum();
    parts.on_neutral("Vehicle chargers on the neutral", neutral);
}
