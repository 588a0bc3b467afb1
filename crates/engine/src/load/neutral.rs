//! The feeder or service neutral: the largest unbalance, with the reductions that are permitted.
//! NFPA 70 220.61 (2014-2023), 120.61 (2026). VA in, amperes out. The optional methods have no neutral of their own.

use model::house::System;
use model::units::{Amperes, VoltAmperes};
use rulebook::NoValue;
use rulebook::tables::{Subject, TablesIn, limit};

use super::outcome::{Step, weakest};
use super::parts::Parts;
use super::told::{Told, told_line};
use super::totals::told_amperes;
use crate::worksheet::Line;

/// Label of the line with the neutral load.
pub const LOAD: &str = "Neutral load";
/// Label of the line with the neutral current.
pub const CURRENT: &str = "Neutral load in amperes";
/// Label of the line after the reduction of large currents.
pub const REDUCED: &str = "Neutral load after the reduction of large currents";

/// Reduces the part of an unbalance over the limit. Single phase and four-wire systems only.
///
/// # Errors
/// The limit or percentage was not found for the edition.
pub fn over_limit(unbalance: Amperes, book: &TablesIn<'_>) -> Result<Step<Amperes>, NoValue> {
    let limit = book.limit(limit::NEUTRAL_EXCESS_OVER)?;
    let percent = book.limit(limit::NEUTRAL_EXCESS_DEMAND)?;
    let over = (unbalance - limit.value).max(Amperes::ZERO);
    let reduced = over * percent.value.factor();
    let value = unbalance.min(limit.value) + reduced;
    let mut lines = Vec::new();
    if over > Amperes::ZERO {
        lines.push(
            Line::number("Part over the limit, reduced", reduced)
                .how("part over the limit x percentage")
                .input("limit", limit.value)
                .input("part over it", over)
                .input("percentage", percent.value)
                .source(&percent)
                .checked(limit.check),
        );
        lines.push(
            Line::number(REDUCED, value)
                .how("limit + reduced part")
                .source(&percent),
        );
    }
    Ok(Step { value, lines })
}

/// The cooking and drying load's share on the neutral.
///
/// # Errors
/// The percentage was not found for the edition.
pub fn of_cooking_and_dryers(demand: VoltAmperes, book: &TablesIn<'_>) -> Result<Step, NoValue> {
    let percent = book.limit(limit::NEUTRAL_COOKING_DRYING_DEMAND)?;
    let value = demand * percent.value.factor();
    let line = Line::number("Ranges, ovens, cooktops and dryers on the neutral", value)
        .how("their calculated load x percentage")
        .input("calculated load", demand)
        .input("percentage", percent.value)
        .source(&percent);
    Ok(Step {
        value,
        lines: vec![line],
    })
}

/// The neutral of a whole calculation.
pub(super) fn neutral(
    parts: &Parts,
    system: Option<System>,
    book: &TablesIn<'_>,
) -> Step<Told<Amperes>> {
    let cite = book.cite(Subject::Neutral);
    let mut lines = Vec::new();
    let mut load = Told::default();
    for (what, va) in &parts.to_neutral {
        lines.push(told_line(format!("Neutral: {what}"), va).cite(cite.clone()));
        load += va.clone();
    }
    // The full legs-and-neutral load of a wye stays on the neutral; so does it where nobody knows the system.
    let may_reduce = system == Some(System::SinglePhase120_240);
    if parts.shared != Told::default() {
        load += shared(&parts.shared, may_reduce, book, &mut lines);
    }
    lines.push(
        told_line(LOAD, &load)
            .how("240 V loads carry none")
            .cite(cite.clone()),
    );

    let mut current = load.map(|va| match system {
        Some(System::TwoLegs208Y120) => va / 2.0 / System::TwoLegs208Y120.line_to_neutral(),
        _ => va / System::SinglePhase120_240.line_to_line(),
    });
    if system.is_none() {
        current.miss("electrical system: 120/240 V or two legs of 208Y/120 V");
    }
    let mut line = told_amperes(CURRENT, &current).cite(cite);
    if !may_reduce {
        line = line
            .note("two legs and the neutral of a wye: the neutral carries about as much as a leg, nothing is reduced");
    }
    lines.push(line);
    if may_reduce {
        match over_limit(current.lower_bound(), book) {
            Ok(step) => {
                lines.extend(step.lines);
                current = current.map(|_| step.value);
            }
            Err(why) => lines.push(Line::no_value(REDUCED, &why)),
        }
    }
    // The neutral stands on the groups of the whole calculation.
    let check = weakest(&parts.lines);
    for line in &mut lines {
        line.check = line.check.min(check);
    }
    Step {
        value: current,
        lines,
    }
}

fn shared(
    demand: &Told<VoltAmperes>,
    may_reduce: bool,
    book: &TablesIn<'_>,
    lines: &mut Vec<Line>,
) -> Told<VoltAmperes> {
    const LABEL: &str = "Ranges, ovens, cooktops and dryers on the neutral";
    let full = || told_line(LABEL, demand).cite(book.cite(Subject::Neutral));
    if !may_reduce {
        lines.push(full().how("in full"));
        return demand.clone();
    }
    match of_cooking_and_dryers(demand.lower_bound(), book) {
        Ok(step) => {
            let value = demand.map(|_| step.value);
            lines.extend(step.lines);
            if let (Some(line), None) = (lines.last_mut(), value.exact()) {
                line.value = told_line("", &value).value;
            }
            value
        }
        // Without the percentage the full load is the safe one.
        Err(_) => {
            lines.push(full().how("in full: the percentage was not found"));
            demand.clone()
        }
    }
}
