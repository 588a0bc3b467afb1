//! What can the ampacity be while facts are unknown?
//! Source: logic over [`super::ampacity`]: every fact that is unknown and matters is tried at its extremes.

use model::units::{Amperes, Celsius};
use model::{Insulation, WiringMethod};
use rulebook::NoValue;
use rulebook::tables::{Column, TablesIn, limit};

use super::ampacity::{Ampacity, Case, Installation, Settled, Terminals, case};
use super::cable::minds_insulation;
use super::found::Found;
use super::insulation::column;
use crate::worksheet::Text;

/// Colder than any row of the correction table, and more conductors than any row of the adjustment table.
const COLDEST: Celsius = Celsius(-40.0);
const MOST: u32 = 10_000;

/// Ampacity over everything the unknown facts can be.
pub(super) fn bounds(
    installation: &Installation,
    rating: Option<Amperes>,
    book: &TablesIn<'_>,
) -> Result<Ampacity, NoValue> {
    let Some(wire) = installation.wire.get() else {
        return Ok(nothing("size and metal of the conductors"));
    };
    let mut missing: Vec<Text> = Vec::new();
    let methods = known_or(
        &mut missing,
        "wiring method",
        installation.method.get(),
        &[
            WiringMethod::UF,
            WiringMethod::NM,
            WiringMethod::SER,
            WiringMethod::EMT,
        ],
    );
    if let [WiringMethod::KnobAndTube | WiringMethod::Other] = methods[..] {
        return Ok(nothing(
            "an ampacity for this wiring method: it is not in the tables",
        ));
    }
    // Armored cable has a limit of its own in thermal insulation, and no table here has it.
    if methods[..] == [WiringMethod::AC] {
        match installation.in_thermal_insulation.get() {
            Some(false) => {}
            Some(true) => {
                return Ok(nothing(
                    "the limit of armored cable in thermal insulation: it is not in the tables",
                ));
            }
            None => return Ok(nothing("whether the cable lies in thermal insulation")),
        }
    }
    let insulations = known_or(
        &mut missing,
        "insulation of the conductors",
        installation.insulation.get(),
        &[Insulation::TW, Insulation::THWN2],
    );
    let over_the_terminal_limit = match rating {
        Some(rating) => rating > book.limit(limit::TERMINAL_COLUMN_TO)?.value,
        None => false,
    };
    let terminals = match installation.terminals.get() {
        None if over_the_terminal_limit => vec![Terminals::C75],
        marked => known_or(
            &mut missing,
            "temperature marking of the terminals",
            marked,
            &[Terminals::C60, Terminals::C75],
        ),
    };
    let insulated = if methods.iter().any(|m| minds_insulation(*m)) {
        known_or(
            &mut missing,
            "whether the cable lies in thermal insulation",
            installation.in_thermal_insulation.get(),
            &[true, false],
        )
    } else {
        vec![false]
    };
    let wet = if insulations
        .iter()
        .any(|i| column(*i, true) != column(*i, false))
    {
        known_or(
            &mut missing,
            "whether the place is wet",
            installation.wet.get(),
            &[true, false],
        )
    } else {
        vec![false]
    };
    let ambients = known_or(
        &mut missing,
        "temperature of the surroundings",
        installation.ambient.get(),
        &[COLDEST],
    );
    let counts = known_or(
        &mut missing,
        "number of current-carrying conductors together",
        installation.current_carrying.get(),
        &[1, MOST],
    );

    let mut cases = Vec::new();
    for &method in &methods {
        for &insulation in &insulations {
            for &terminals in &terminals {
                for &insulated in &insulated {
                    for &wet in &wet {
                        for &ambient in &ambients {
                            for &together in &counts {
                                // The cable's own rule, not the print on its conductors, decides for underground feeder cable.
                                let insulation = if method == WiringMethod::UF {
                                    Insulation::UF
                                } else {
                                    insulation
                                };
                                let sets = installation.sets;
                                let it = Settled {
                                    wire,
                                    sets,
                                    insulation,
                                    method,
                                    ambient,
                                    together,
                                    terminals,
                                    insulated,
                                    wet,
                                };
                                cases.push(case(it, book)?);
                            }
                        }
                    }
                }
            }
        }
    }
    Ok(over(cases, installation.ambient.is_unknown(), missing))
}

fn known_or<T: Copy>(
    missing: &mut Vec<Text>,
    what: &'static str,
    known: Option<T>,
    possible: &[T],
) -> Vec<T> {
    match known {
        Some(value) => vec![value],
        None => {
            missing.push(what.into());
            possible.to_vec()
        }
    }
}

fn nothing(missing: &'static str) -> Ampacity {
    Ampacity {
        value: Found::nothing(missing),
        uncorrected: Found::nothing(missing),
        is_plain: None,
        is_75: None,
        case: None,
        no_value: None,
    }
}

fn over(cases: Vec<Case>, any_heat: bool, missing: Vec<Text>) -> Ampacity {
    let found = |amperes: fn(&Case) -> Amperes, no_low: bool| {
        let low = cases
            .iter()
            .map(amperes)
            .reduce(Amperes::min)
            .filter(|_| !no_low);
        let high = cases.iter().map(amperes).reduce(Amperes::max);
        let exact = low == high;
        Found {
            low,
            high,
            missing: if exact { Vec::new() } else { missing.clone() },
        }
    };
    let agreed = |question: fn(&Case) -> bool| {
        let first = cases.first().map(question)?;
        cases.iter().all(|c| question(c) == first).then_some(first)
    };
    Ampacity {
        value: found(|c| c.ampacity, any_heat),
        uncorrected: found(|c| c.uncorrected, false),
        is_plain: agreed(Case::is_plain).filter(|_| !any_heat),
        is_75: agreed(|c| {
            c.cable
                .as_ref()
                .is_none_or(|(column, ..)| *column >= Column::C75)
                && c.column >= Column::C75
        }),
        case: cases
            .into_iter()
            .reduce(|a, b| if b.ampacity < a.ampacity { b } else { a }),
        no_value: None,
    }
}
