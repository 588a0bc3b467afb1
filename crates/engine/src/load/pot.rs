//! The common pot of the optional and existing-dwelling calculations: nameplates, the first part in full, the rest reduced.
//! NFPA 70 220.82(B), 220.83 (2014-2023), 120.82(B) (2026). Nameplate VA in, VA out.

use model::units::{Percent, VoltAmperes};
use rulebook::tables::{TablesIn, limit};
use rulebook::{Check, Lookup, NoValue};

use super::input::{ChargerOptionalReading, Dwelling, Units};
use super::outcome::{Method, Step, weakest};
use super::told::{Told, told_line};
use super::{chargers, climate, lighting, nameplate};
use crate::worksheet::Line;

/// Label of the line with everything that goes into the common pot.
pub const GENERAL: &str = "General loads";
/// Label of the line with the first part of the pot, in full.
pub const FIRST: &str = "First part, in full";
/// Label of the line with the remainder of the pot at its percentage.
pub const REST: &str = "Remainder, at its percentage";
/// Label of the line with the demand on the pot.
pub const GENERAL_DEMAND: &str = "Demand on general loads";
/// Everything that goes in one pot, and what stays outside it.
pub(super) struct Pot {
    pub(super) sum: Told<VoltAmperes>,
    pub(super) lines: Vec<Line>,
    pub(super) outside: Told<VoltAmperes>,
    pub(super) outside_lines: Vec<Line>,
}

/// Lighting, circuits and nameplates; vehicle chargers where edition or authority puts them.
/// `with_climate` puts the larger of heating and cooling into the pot as well.
pub(super) fn pot(
    dwelling: &Dwelling,
    method: Method,
    with_climate: bool,
    book: &TablesIn<'_>,
) -> Pot {
    let cite = book.cite(method.subject());
    let general = lighting::general(
        &[Units {
            count: 1,
            unit: dwelling,
        }],
        book,
    );
    let mut sum = general.sum();
    let mut lines = general.lines;
    let (charger_in, outside, outside_lines) = place_chargers(dwelling, book);

    let mut nameplates = Told::default();
    let mut line = Line::text("Appliances, motors and cooking at nameplate", "")
        .how("sum of nameplates")
        .cite(cite.clone());
    for load in dwelling.loads() {
        let is_charger = nameplate::is_charger(load.kind);
        if nameplate::is_climate(load.kind) || (is_charger && !charger_in) {
            continue;
        }
        let va = nameplate::rated_all(load, book);
        line = line.input(nameplate::held_label(load, book), va.lower_bound());
        nameplates += va;
    }
    if nameplates != Told::default() {
        line.value = told_line("", &nameplates).value;
        lines.push(line);
    }
    sum += nameplates;
    if with_climate {
        let seasons = climate::seasons_of(dwelling, book);
        if seasons.larger != Told::default() {
            lines.push(
                told_line(climate::LARGER, &seasons.larger)
                    .how("existing heating and cooling stay in the pot: the larger")
                    .input("heating", seasons.heating.lower_bound())
                    .input("cooling", seasons.cooling.lower_bound())
                    .cite(cite.clone()),
            );
            sum += seasons.larger;
        }
    }
    lines.push(
        told_line(GENERAL, &sum)
            .how("sum of the above")
            .cite(cite.clone())
            .checked(weakest(&lines)),
    );
    Pot {
        sum,
        lines,
        outside,
        outside_lines,
    }
}

/// Whether chargers stay in the pot, and what they add outside it.
fn place_chargers(
    dwelling: &Dwelling,
    book: &TablesIn<'_>,
) -> (bool, Told<VoltAmperes>, Vec<Line>) {
    let list: Vec<(u32, Told<VoltAmperes>)> = dwelling
        .loads_of(nameplate::is_charger)
        .map(|l| (l.count, nameplate::rated(l, book)))
        .collect();
    if list.is_empty() {
        return (true, Told::default(), Vec::new());
    }
    let nameplates: Told<VoltAmperes> = list.iter().map(|(n, va)| va.times(f64::from(*n))).sum();
    let outside = |percent: Lookup<Percent>, note: &'static str| match percent {
        Ok(percent) => {
            let va = nameplates.times(percent.value.factor());
            let line = told_line(chargers::DEMAND, &va)
                .how("nameplate x percentage, outside the demand factor")
                .input("percentage", percent.value)
                .source(&percent)
                .note(note);
            (false, va, vec![line])
        }
        Err(why) => {
            let mut va = nameplates.clone();
            va.miss(why.to_string());
            (false, va, vec![Line::no_value(chargers::DEMAND, &why)])
        }
    };
    match dwelling.readings.charger_optional {
        ChargerOptionalReading::Outside => {
            let line = told_line(chargers::DEMAND, &nameplates)
                .how("nameplate, outside the demand factor")
                .note("a local reading, not the text of the edition");
            (false, nameplates, vec![line])
        }
        ChargerOptionalReading::OutsideContinuous => outside(
            book.limit(limit::CONTINUOUS_LOAD_FACTOR),
            "a local reading, not the text of the edition: as a continuous load",
        ),
        ChargerOptionalReading::Edition => match book.limit(limit::OPTIONAL_EVSE_DEMAND) {
            Err(NoValue::NoEntry { .. }) => (true, Told::default(), Vec::new()),
            // Counted apart, at a share that nobody confirmed: in full is the larger of the two readings.
            Err(NoValue::NotFound { cite, .. }) => {
                let line = told_line(chargers::DEMAND, &nameplates)
                    .how("nameplate, in full, outside the demand factor")
                    .cite(cite)
                    .checked(Check::NotFound)
                    .note(
                        "two readings: in the pot or apart from it in full; apart gives more and is taken, \
                         the text of this edition was not confirmed",
                    );
                (false, nameplates, vec![line])
            }
            found @ Ok(_) => outside(
                found,
                "this edition counts chargers apart from the general loads",
            ),
        },
    }
}

/// The two factors of a pot.
pub(super) struct Factors {
    pub(super) first: Lookup<VoltAmperes>,
    pub(super) rest: Lookup<Percent>,
}

/// First part in full, remainder at its percentage.
pub(super) fn on_pot(sum: &Told<VoltAmperes>, factors: &Factors) -> Step<Told<VoltAmperes>> {
    let (first, rest) = match (&factors.first, &factors.rest) {
        (Ok(first), Ok(rest)) => (first, rest),
        (Err(why), _) | (_, Err(why)) => {
            return Step {
                value: Told::at_least(VoltAmperes::ZERO, why.to_string()),
                lines: vec![Line::no_value(GENERAL_DEMAND, why)],
            };
        }
    };
    let known = sum.lower_bound();
    let in_full = known.min(first.value);
    let remainder = known - in_full;
    let at_percent = remainder * rest.value.factor();
    let value = sum.map(|_| in_full + at_percent);
    let lines = vec![
        Line::number(FIRST, in_full)
            .input("limit of the first part", first.value)
            .source(first),
        Line::number(REST, at_percent)
            .how("remainder x percentage")
            .input("remainder", remainder)
            .input("percentage", rest.value)
            .source(rest),
        told_line(GENERAL_DEMAND, &value)
            .how("first part + remainder")
            .source(rest)
            .checked(first.check),
    ];
    Step { value, lines }
}
