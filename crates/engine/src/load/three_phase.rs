//! Single-phase ranges and dryers on a three-phase, four-wire feeder: twice the most that any two phases carry.
//! NFPA 70 220.54, 220.55 (2014-2023), 120.54, 120.55 (2026). VA in, VA and amperes out.

use model::units::{Amperes, VoltAmperes, Volts};
use rulebook::NoValue;
use rulebook::tables::{Subject, TablesIn, limit};

use super::input::CookingReading;
use super::outcome::{Alike, Step};
use super::{cooking, dryers, lighting, neutral, totals};
use crate::worksheet::{Line, Quantity};

/// Label of the line with the demand that the table gives for twice the most on two phases.
pub const TABLE: &str = "Demand for twice the most on any two phases";
/// Label of the line with one phase's share.
pub const PER_PHASE: &str = "Per phase";
/// Label of the line with the three-phase demand.
pub const THREE_PHASE: &str = "Three-phase demand";

/// Demand of ranges; `between_two` are those between the two phases that have the most of them.
///
/// # Errors
/// The table needs a value that was not found.
pub fn ranges(between_two: &[Alike], book: &TablesIn<'_>) -> Result<Step, NoValue> {
    let twice = twice(between_two, book)?;
    let step = cooking::feeder(&twice, CookingReading::Larger, book)?;
    Ok(spread(step, &twice, Subject::Ranges, book))
}

/// Demand of dryers; `between_two` are those between the two phases that have the most of them.
///
/// # Errors
/// The table needs a value that was not found.
pub fn dryers(between_two: &[Alike], book: &TablesIn<'_>) -> Result<Step, NoValue> {
    let twice = twice(between_two, book)?;
    let step = dryers::demand(&twice, book)?;
    Ok(spread(step, &twice, Subject::Dryers, book))
}

/// Current of a balanced three-phase load.
#[must_use]
pub fn amperes(load: VoltAmperes, line_to_line: Volts) -> Amperes {
    load / (line_to_line * 3.0_f64.sqrt())
}

fn twice(between_two: &[Alike], book: &TablesIn<'_>) -> Result<Vec<Alike>, NoValue> {
    let times = book.limit(limit::RANGE_THREE_PHASE_COUNT_MULTIPLIER)?.value as u32;
    Ok(between_two
        .iter()
        .map(|a| Alike {
            count: a.count.saturating_mul(times),
            va: a.va,
        })
        .collect())
}

fn spread(mut step: Step, twice: &[Alike], subject: Subject, book: &TablesIn<'_>) -> Step {
    let per_phase = step.value / 2.0;
    let value = per_phase * 3.0;
    let cite = book.cite(subject);
    step.lines.push(
        Line::number(TABLE, step.value)
            .input(
                "appliances counted",
                Quantity::number(f64::from(Alike::count(twice))),
            )
            .cite(cite.clone()),
    );
    step.lines.push(
        Line::number(PER_PHASE, per_phase)
            .how("half of it")
            .cite(cite.clone()),
    );
    step.lines.push(
        Line::number(THREE_PHASE, value)
            .how("three phases")
            .cite(cite),
    );
    Step {
        value,
        lines: step.lines,
    }
}

/// A feeder that serves dwelling units from all three phases, before loads other than lighting, ranges and dryers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Feeder {
    /// Calculated load.
    pub load: VoltAmperes,
    /// Calculated load as current of each phase.
    pub current: Amperes,
    /// Neutral load.
    pub neutral_load: VoltAmperes,
    /// Neutral current, after the reduction of large currents.
    pub neutral: Amperes,
}

/// Lighting, small-appliance and laundry load, ranges and dryers of many units on a three-phase, four-wire feeder.
/// `general` is the connected lighting, small-appliance and laundry load.
///
/// # Errors
/// A table or limit that the edition needs was not found.
pub fn feeder(
    general: VoltAmperes,
    ranges_between_two: &[Alike],
    dryers_between_two: &[Alike],
    line_to_line: Volts,
    book: &TablesIn<'_>,
) -> Result<Step<Feeder>, NoValue> {
    let lighting = lighting::demand(general, book)?;
    let mut shared = VoltAmperes::ZERO;
    let mut lines = lighting.lines;
    if Alike::count(ranges_between_two) > 0 {
        let step = ranges(ranges_between_two, book)?;
        shared += step.value;
        lines.extend(step.lines);
    }
    if Alike::count(dryers_between_two) > 0 {
        let step = self::dryers(dryers_between_two, book)?;
        shared += step.value;
        lines.extend(step.lines);
    }
    let load = lighting.value + shared;
    let current = amperes(load, line_to_line);
    lines.push(Line::number(totals::TOTAL, load).cite(book.cite(Subject::StandardLoad)));
    lines.push(
        Line::number(totals::CURRENT, current)
            .how("calculated load / (voltage between phases x square root of 3)")
            .cite(book.cite(Subject::Rounding)),
    );
    let of_shared = neutral::of_cooking_and_dryers(shared, book)?;
    let neutral_load = lighting.value + of_shared.value;
    lines.extend(of_shared.lines);
    let neutral = neutral_current(neutral_load, line_to_line, book)?;
    lines.extend(neutral.lines);
    Ok(Step {
        value: Feeder {
            load,
            current,
            neutral_load,
            neutral: neutral.value,
        },
        lines,
    })
}

/// Neutral current of a three-phase, four-wire feeder.
///
/// # Errors
/// The limit from which large currents are reduced was not found for the edition.
pub fn neutral_current(
    load: VoltAmperes,
    line_to_line: Volts,
    book: &TablesIn<'_>,
) -> Result<Step<Amperes>, NoValue> {
    let unbalance = amperes(load, line_to_line);
    let cite = book.cite(Subject::Neutral);
    let mut lines = vec![
        Line::number(neutral::LOAD, load).cite(cite.clone()),
        Line::number(neutral::CURRENT, unbalance)
            .how("neutral load / (voltage between phases x square root of 3)")
            .cite(cite),
    ];
    let step = neutral::over_limit(unbalance, book)?;
    lines.extend(step.lines);
    Ok(Step {
        value: step.value,
        lines,
    })
}
