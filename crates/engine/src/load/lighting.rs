//! General lighting and receptacles, small-appliance and laundry circuits, and the demand on them together.
//! NFPA 70 Table 220.42 (2014-2020), 220.45 (2023), 120.45 (2026); floor area by outside dimensions. VA.

use model::house::{DwellingKind, System};
use model::units::{Amperes, SquareFeet, VoltAmperes};
use rulebook::tables::{Subject, TablesIn, limit};
use rulebook::{Check, NoValue};

use super::input::{Share, Units};
use super::outcome::Step;
use super::told::Told;
use crate::worksheet::{Line, Quantity};

/// General lighting and receptacle load of a floor area, before any demand factor.
///
/// # Errors
/// The edition's unit load was not found.
pub fn lighting(area: SquareFeet, book: &TablesIn<'_>) -> Result<Step, NoValue> {
    let unit = book.limit(limit::UNIT_LOAD)?;
    let value = unit.value * area;
    let line = Line::number("General lighting and receptacles", value)
        .how("floor area x unit load")
        .input("floor area", area)
        .input("unit load", unit.value)
        .source(&unit);
    Ok(Step {
        value,
        lines: vec![line],
    })
}

/// Lighting load of a floor area as current at the voltage to neutral, for the number of general branch circuits.
/// It has its own unit load where the edition keeps one for that purpose; no demand factor goes with it.
///
/// # Errors
/// The edition's unit load for branch circuits was not found.
pub fn branch_circuit_current(
    area: SquareFeet,
    book: &TablesIn<'_>,
) -> Result<Step<Amperes>, NoValue> {
    let unit = book.limit(limit::UNIT_LOAD_CIRCUITS)?;
    let volts = System::SinglePhase120_240.line_to_neutral();
    let value = (unit.value * area) / volts;
    let line = Line::number(
        "Lighting load as current, for the number of branch circuits",
        value,
    )
    .how("floor area x unit load / voltage to neutral")
    .input("floor area", area)
    .input("voltage to neutral", volts)
    .source(&unit);
    Ok(Step {
        value,
        lines: vec![line],
    })
}

/// Demand on general lighting, small-appliance and laundry load together, band by band.
///
/// # Errors
/// The edition's demand table was not found.
pub fn demand(general: VoltAmperes, book: &TablesIn<'_>) -> Result<Step, NoValue> {
    let mut lines = Vec::new();
    let mut total = VoltAmperes::ZERO;
    let mut below = VoltAmperes::ZERO;
    let mut check = Check::Arithmetic;
    for step in book.lighting_demand()? {
        let top = step.to.unwrap_or(general).min(general);
        let band = (top - below).max(VoltAmperes::ZERO);
        let percent = step.percent.value;
        let part = band * percent.factor();
        if band > VoltAmperes::ZERO || below == VoltAmperes::ZERO {
            let label = match step.to {
                Some(to) if below == VoltAmperes::ZERO => format!("First {to} at {percent}"),
                Some(to) => format!("From {below} to {to} at {percent}"),
                None => format!("Over {below} at {percent}"),
            };
            lines.push(
                Line::number(label, part)
                    .how("part in this band x percentage")
                    .input("part in this band", band)
                    .input("percentage", percent)
                    .source(&step.percent),
            );
        }
        check = check.min(step.percent.check);
        total += part;
        below = below.max(top);
    }
    lines.push(
        Line::number(DEMAND, total)
            .how("sum of the bands")
            .cite(book.cite(Subject::LightingDemand))
            .checked(check),
    );
    Ok(Step {
        value: total,
        lines,
    })
}

/// Label of the line that carries the demand on lighting, small-appliance and laundry load.
pub const DEMAND: &str = "Demand on lighting, small-appliance and laundry load";
/// Label of the line before it: the load without any demand factor.
pub const GENERAL: &str = "Lighting, small-appliance and laundry load";

/// The three connected loads of one kind of unit, times how many: lighting, small-appliance circuits, laundry circuits.
pub(super) struct General {
    pub(super) lighting: Told<VoltAmperes>,
    pub(super) small_appliance: Told<VoltAmperes>,
    pub(super) laundry: Told<VoltAmperes>,
    pub(super) lines: Vec<Line>,
}

impl General {
    pub(super) fn sum(&self) -> Told<VoltAmperes> {
        self.lighting.clone() + self.small_appliance.clone() + self.laundry.clone()
    }
}

/// Connected load of lighting and of the circuits that count with it, for all units.
pub(super) fn general(units: &[Units<'_>], book: &TablesIn<'_>) -> General {
    let mut all = General {
        lighting: Told::default(),
        small_appliance: Told::default(),
        laundry: Told::default(),
        lines: Vec::new(),
    };
    for group in units {
        let n = f64::from(group.count);
        all.lighting += area_load(group, book, &mut all.lines).times(n);
        all.small_appliance += small_appliance(group, book, &mut all.lines).times(n);
        all.laundry += laundry(group, book, &mut all.lines).times(n);
    }
    all
}

fn area_load(group: &Units<'_>, book: &TablesIn<'_>, lines: &mut Vec<Line>) -> Told<VoltAmperes> {
    const LABEL: &str = "General lighting and receptacles";
    let area = group
        .unit
        .area
        .get()
        .filter(|area| area.0.is_finite() && area.0 >= 0.0);
    let Some(area) = area else {
        let why = "floor area by outside dimensions, zero or more";
        lines.push(
            Line::cannot_tell(LABEL, format!("needs the {why}")).cite(book.cite(Subject::UnitLoad)),
        );
        return Told::at_least(VoltAmperes::ZERO, why);
    };
    match lighting(area, book) {
        Ok(step) => {
            lines.extend(
                step.lines
                    .into_iter()
                    .map(|line| for_count(line, group.count)),
            );
            Told::exactly(step.value)
        }
        Err(why) => {
            lines.push(Line::no_value(LABEL, &why));
            Told::at_least(VoltAmperes::ZERO, why.to_string())
        }
    }
}

fn small_appliance(
    group: &Units<'_>,
    book: &TablesIn<'_>,
    lines: &mut Vec<Line>,
) -> Told<VoltAmperes> {
    let least = match (
        group.unit.share,
        book.limit(limit::SMALL_APPLIANCE_CIRCUITS_LEAST),
    ) {
        (Share::PartFeeder, _) | (_, Err(_)) => 0,
        (_, Ok(least)) => least.value as u32,
    };
    circuits(
        &Circuits {
            label: "Small-appliance circuits",
            what: "number of small-appliance circuits",
            given: group.unit.small_appliance_circuits.get(),
            least,
            each: book.limit(limit::SMALL_APPLIANCE_CIRCUIT),
        },
        group.count,
        lines,
    )
}

fn laundry(group: &Units<'_>, book: &TablesIn<'_>, lines: &mut Vec<Line>) -> Told<VoltAmperes> {
    let dwelling = group.unit;
    let may_be_none = dwelling.share == Share::PartFeeder
        || matches!(
            dwelling.kind.get(),
            Some(DwellingKind::Multifamily | DwellingKind::Other)
        );
    let least = match book.limit(limit::LAUNDRY_CIRCUITS_LEAST) {
        Ok(least) if !may_be_none => least.value as u32,
        _ => 0,
    };
    circuits(
        &Circuits {
            label: "Laundry circuits",
            what: "number of laundry circuits",
            given: dwelling.laundry_circuits.get(),
            least,
            each: book.limit(limit::LAUNDRY_CIRCUIT),
        },
        group.count,
        lines,
    )
}

struct Circuits {
    label: &'static str,
    what: &'static str,
    given: Option<u32>,
    least: u32,
    each: rulebook::Lookup<VoltAmperes>,
}

fn circuits(circuits: &Circuits, units: u32, lines: &mut Vec<Line>) -> Told<VoltAmperes> {
    let each = match &circuits.each {
        Ok(each) => each,
        Err(why) => {
            lines.push(Line::no_value(circuits.label, why));
            return Told::at_least(VoltAmperes::ZERO, why.to_string());
        }
    };
    let count = circuits.given.unwrap_or(0).max(circuits.least);
    let value = each.value * f64::from(count);
    let line = if circuits.given.is_some() {
        Line::number(circuits.label, value)
    } else {
        Line::cannot_tell(
            circuits.label,
            format!("needs the {}; at least {value} is counted", circuits.what),
        )
    };
    let mut line = line
        .how("number of circuits x VA of one")
        .input("circuits", Quantity::number(f64::from(count)))
        .input("VA of one", each.value)
        .source(each);
    if circuits.given.is_some_and(|given| given < circuits.least) {
        line = line.note(format!("at least {} must be counted", circuits.least));
    }
    lines.push(for_count(line, units));
    if circuits.given.is_some() {
        Told::exactly(value)
    } else {
        Told::at_least(value, circuits.what)
    }
}

/// Says that a line stands for one of several units alike.
pub(super) fn for_count(line: Line, units: u32) -> Line {
    if units == 1 {
        line
    } else {
        line.input(
            "units alike, this line shows one",
            Quantity::number(f64::from(units)),
        )
    }
}
