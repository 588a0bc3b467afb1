//! How many conductors that lie together count for the adjustment?
//! Source: NFPA 70 310.15(E) (310.15(B)(5) to 2017) on the neutral, 310.15(F) (310.15(B)(6)) on grounds,
//! 310.15(C)(1)(b) (310.15(B)(3)(a)(2)) on nipples. Counts in and out; inches.

use model::house::System;
use model::units::Inches;
use rulebook::NoValue;
use rulebook::tables::{Subject, TablesIn, flag, limit};
use serde::Serialize;

use crate::worksheet::{Line, Quantity};

/// What the neutral of a circuit carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum NeutralUse {
    /// There is no neutral.
    None,
    /// Linear loads.
    Linear,
    /// Mostly loads with harmonic currents, such as electronics.
    MostlyNonlinear,
}

/// One circuit or feeder among those that lie together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Bundled {
    /// Ungrounded conductors.
    pub legs: u32,
    /// Its neutral.
    pub neutral: NeutralUse,
}

/// Number that the adjustment table is entered with. Equipment grounds never count; over no more than the length of a nipple,
/// where that length is given, nothing is adjusted and the number is one.
pub fn current_carrying(
    system: System,
    circuits: &[Bundled],
    length: Option<Inches>,
    book: &TablesIn<'_>,
) -> Result<(Line, u32), NoValue> {
    let nipple = book.limit(limit::SHORT_BUNDLE_TO)?;
    let mut counted: u32 = 0;
    for circuit in circuits {
        let neutral = neutral(system, *circuit, book)?;
        counted = counted.saturating_add(circuit.legs).saturating_add(neutral);
    }
    let short = length.is_some_and(|length| length <= nipple.value);
    let count = if short { counted.min(1) } else { counted };
    let line = Line::number("Current-carrying conductors together", Quantity::number(f64::from(count)))
        .how("legs, and each neutral that carries more than the unbalance of its own circuit; grounds do not count")
        .input("circuits together", Quantity::number(circuits.len() as f64))
        .cite(book.cite(Subject::NeutralCounting));
    let line = if short {
        line.checked(nipple.check).note(format!(
            "{counted} conductors, but over no more than {}: no adjustment.",
            nipple.value
        ))
    } else {
        line
    };
    Ok((line, count))
}

/// A neutral that carries only the unbalance of two opposite legs, harmonics included, does not count. With one leg it carries
/// the whole current; with two legs of a wye system about as much as a leg.
fn neutral(system: System, circuit: Bundled, book: &TablesIn<'_>) -> Result<u32, NoValue> {
    let rule = match (circuit.neutral, circuit.legs, system) {
        (NeutralUse::None, ..) => return Ok(0),
        (_, 2, System::SinglePhase120_240) | (NeutralUse::Linear, 3, _) => {
            flag::NEUTRAL_COUNTED_UNBALANCE_ONLY
        }
        (_, 2, System::TwoLegs208Y120) => flag::NEUTRAL_COUNTED_TWO_LEGS_OF_WYE,
        (NeutralUse::MostlyNonlinear, 3, _) => flag::NEUTRAL_COUNTED_NONLINEAR_WYE,
        _ => return Ok(1),
    };
    Ok(u32::from(book.flag(rule)?.value))
}
