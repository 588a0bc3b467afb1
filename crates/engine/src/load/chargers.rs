//! Electric vehicle supply equipment in the standard calculation.
//! NFPA 70 220.57 (2023), 120.57 (2026); earlier editions name no value. Nameplate VA in, VA out.

use model::units::VoltAmperes;
use rulebook::tables::{Subject, TablesIn, limit};
use rulebook::{Check, NoValue, Sourced};

use super::outcome::Step;
use super::told::{Told, told_line};
use crate::worksheet::Text;

/// Label of the line that carries the load of vehicle chargers.
pub const DEMAND: &str = "Electric vehicle supply equipment";

/// Load of these chargers, given as pairs of number and nameplate of one: each at the larger of its nameplate and the edition's least value.
/// A charger of unknown size is at least the least value.
///
/// # Errors
/// Never for an edition without a least value: the nameplate stands. An edition whose value was not found.
pub fn demand(
    ratings: &[(u32, Told<VoltAmperes>)],
    book: &TablesIn<'_>,
) -> Result<Step<Told<VoltAmperes>>, NoValue> {
    if ratings.is_empty() {
        return Ok(Step {
            value: Told::default(),
            lines: Vec::new(),
        });
    }
    let nameplates: Told<VoltAmperes> = ratings.iter().map(|(n, r)| r.times(f64::from(*n))).sum();
    let least = match book.limit(limit::EVSE_LEAST) {
        Ok(least) => Some(least),
        Err(NoValue::NoEntry { .. }) => None,
        Err(why) => return Err(why),
    };
    let value: Told<VoltAmperes> = match &least {
        None => nameplates.clone(),
        Some(least) => ratings
            .iter()
            .map(|(n, r)| r.map(|va| va.max(least.value)).times(f64::from(*n)))
            .sum(),
    };
    let mut line = told_line(DEMAND, &value).input("sum of nameplates", nameplates.lower_bound());
    line = match &least {
        Some(least) => line
            .how("each the larger of nameplate and least value")
            .input("least value of one", least.value)
            .source(least),
        None => line
            .how("nameplate")
            .cite(book.cite(Subject::StandardLoad))
            .note("this edition names no value for vehicle chargers"),
    };
    if let Some(least) = least.as_ref().filter(|l| is_unsettled(l)) {
        line = line.note(settled_note(
            nameplates.lower_bound(),
            value.lower_bound(),
            least.value,
        ));
    }
    Ok(Step {
        value,
        lines: vec![line],
    })
}

/// The edition has a value whose place or meaning nobody confirmed.
fn is_unsettled(least: &Sourced<VoltAmperes>) -> bool {
    least.check <= Check::Memory
}

fn settled_note(nameplates: VoltAmperes, value: VoltAmperes, least: VoltAmperes) -> Text {
    format!(
        "two readings: nameplate with {least} only where it is unknown gives {nameplates}, \
         {least} as the least of each gives {value}; the larger is taken, the text was not confirmed"
    )
    .into()
}

/// Whether the edition names vehicle chargers at all.
pub(super) fn are_named(book: &TablesIn<'_>) -> bool {
    !matches!(book.limit(limit::EVSE_LEAST), Err(NoValue::NoEntry { .. }))
}
