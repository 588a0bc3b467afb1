//! Fixed appliances, dryers and cooking of one or more units, as groups of the standard calculation.
//! NFPA 70 220.53 to 220.55 (2014-2023), 120.53 to 120.55 (2026). VA.

use model::house::LoadKind;
use model::units::VoltAmperes;
use rulebook::tables::{Subject, TablesIn};

use super::appliances::{self, Appliance};
use super::input::{ChargerStandardReading, Units};
use super::outcome::{Alike, Step};
use super::parts::{Parts, each};
use super::told::{Told, told_line};
use super::{chargers, cooking, dryers, nameplate};

pub(super) fn fixed_appliances(
    units: &[Units<'_>],
    chargers: &[(u32, Told<VoltAmperes>)],
    book: &TablesIn<'_>,
    parts: &mut Parts,
) {
    let mut missing = Told::default();
    let mut on_neutral = Vec::new();
    let mut list: Vec<Appliance> = each(units, nameplate::is_appliance)
        .map(|(count, load)| {
            let va = nameplate::rated(load, book);
            missing += va.times(0.0);
            on_neutral.push(nameplate::uses_neutral(load));
            Appliance {
                name: nameplate::held_label(load, book).into(),
                count,
                va: va.lower_bound(),
                horsepower: load.horsepower.get(),
                is_known: va.exact().is_some(),
            }
        })
        .collect();
    if chargers_among_appliances(units, book) {
        for (count, va) in chargers {
            missing += va.times(0.0);
            on_neutral.push(false);
            list.push(Appliance {
                name: "vehicle charger".into(),
                count: *count,
                va: va.lower_bound(),
                horsepower: None,
                is_known: va.exact().is_some(),
            });
        }
    }
    let Some(step) = parts.take(appliances::DEMAND, appliances::demand(&list, book)) else {
        return;
    };
    parts.lines.extend(step.lines);
    let demand = missing.map(|_| step.value.value);
    if let (Some(line), None) = (parts.lines.last_mut(), demand.exact()) {
        line.value = told_line("", &demand).value;
    }
    let neutral: VoltAmperes = list
        .iter()
        .zip(&step.value.factors)
        .zip(&on_neutral)
        .filter(|(_, uses)| **uses)
        .map(|((a, factor), _)| a.va * f64::from(a.count) * *factor)
        .sum();
    parts.on_neutral(
        "Appliances fastened in place, on the neutral",
        missing.map(|_| neutral),
    );
    parts.add(demand);
}

/// Only an edition that does not name chargers leaves room for reading them among the appliances.
pub(super) fn chargers_among_appliances(units: &[Units<'_>], book: &TablesIn<'_>) -> bool {
    !chargers::are_named(book)
        && units
            .first()
            .is_some_and(|g| g.unit.readings.charger_standard == ChargerStandardReading::Appliance)
}

/// Ratings that are known, and the names of those that are not.
fn ratings(
    units: &[Units<'_>],
    of: fn(LoadKind) -> bool,
    keep_unknown: bool,
    book: &TablesIn<'_>,
) -> (Vec<Alike>, Told<VoltAmperes>, f64) {
    let mut list = Vec::new();
    let mut missing = Told::default();
    let (mut sharing, mut all) = (0.0, 0.0);
    for (count, load) in each(units, of) {
        let va = nameplate::rated(load, book);
        missing += va.times(0.0);
        if va.exact().is_some() || keep_unknown {
            list.push(Alike {
                count,
                va: va.lower_bound(),
            });
        }
        let weight = f64::from(count) * va.lower_bound().0.max(1.0);
        all += weight;
        if load.uses_neutral.get() != Some(false) {
            sharing += weight;
        }
    }
    let share = if all > 0.0 { sharing / all } else { 0.0 };
    (list, missing, share)
}

pub(super) fn drying(units: &[Units<'_>], book: &TablesIn<'_>, parts: &mut Parts) {
    // A dryer of unknown size is at least the least value, so it stays in the count.
    let (list, missing, share) = ratings(units, nameplate::is_dryer, true, book);
    let Some(step) = parts.take(dryers::DEMAND, dryers::demand(&list, book)) else {
        return;
    };
    shared(step, &missing, share, parts);
}

pub(super) fn cook(units: &[Units<'_>], book: &TablesIn<'_>, parts: &mut Parts) {
    let (list, missing, share) = ratings(units, nameplate::is_cooking, false, book);
    if list.is_empty() {
        if missing.exact().is_none() {
            parts
                .lines
                .push(told_line(cooking::DEMAND, &missing).cite(book.cite(Subject::Ranges)));
            parts.shared += missing.clone();
            parts.add(missing);
        }
        return;
    }
    let reading = units
        .first()
        .map(|g| g.unit.readings.cooking)
        .unwrap_or_default();
    let Some(step) = parts.take(cooking::DEMAND, cooking::feeder(&list, reading, book)) else {
        return;
    };
    shared(step, &missing, share, parts);
}

fn shared(step: Step, missing: &Told<VoltAmperes>, share: f64, parts: &mut Parts) {
    let demand = missing.map(|_| step.value);
    parts.lines.extend(step.lines);
    if let (Some(line), None) = (parts.lines.last_mut(), demand.exact()) {
        line.value = told_line("", &demand).value;
    }
    parts.shared += demand.times(share);
    parts.add(demand);
}
