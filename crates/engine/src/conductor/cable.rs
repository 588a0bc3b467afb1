//! What does the cable's own rule allow, below the terminals and the insulation?
//! Source: NFPA 70 334.80 (nonmetallic-sheathed), 338.10(B)(4) (service-entrance, by edition), from the cable table; amperes.

use model::WiringMethod;
use model::units::Amperes;
use rulebook::tables::{Cable, CableRule, Column, TablesIn};
use rulebook::{NoValue, Sourced};

use super::ampacity::Settled;
use crate::worksheet::Text;

/// The cable type whose rule governs a wiring method, where there is one.
#[must_use]
pub const fn kind(method: WiringMethod) -> Option<Cable> {
    match method {
        WiringMethod::NM => Some(Cable::NM),
        WiringMethod::SER | WiringMethod::SEU => Some(Cable::SE),
        _ => None,
    }
}

/// Column, value and reason of the cable's cap, where it has one. `insulation` is the column of the insulation.
pub(super) fn cap(
    it: Settled,
    insulation: Column,
    book: &TablesIn<'_>,
) -> Result<Option<(Column, Sourced<Amperes>, Text)>, NoValue> {
    let Some(cable) = kind(it.method) else {
        return Ok(None);
    };
    let rule = book.cable_rule(cable)?;
    let Some((column, why)) = limit(&rule.value, it) else {
        return Ok(None);
    };
    let mut amperes = book.ampacity(it.wire.size, it.wire.material, column.min(insulation))?;
    amperes.check = amperes.check.min(rule.check);
    amperes.cite = rule.cite;
    Ok(Some((column, amperes, why)))
}

fn limit(rule: &CableRule, it: Settled) -> Option<(Column, Text)> {
    if let Some(column) = rule.final_column {
        return Some((column, "Correction may start from the insulation's column; the result may not exceed this one.".into()));
    }
    let column = rule.insulated_column?;
    let covered = rule
        .insulated_to_size
        .is_none_or(|size| it.wire.size <= size);
    (it.insulated && covered).then(|| (column, "In contact with thermal insulation.".into()))
}

/// Does contact with thermal insulation matter for this method?
pub(super) const fn minds_insulation(method: WiringMethod) -> bool {
    matches!(kind(method), Some(Cable::SE))
}
