//! Electric clothes dryers: each at the larger of a least value and its nameplate, then the table for their number.
//! NFPA 70 220.54 and its table (2014-2023), 120.54 (2026). VA.

use model::units::VoltAmperes;
use rulebook::NoValue;
use rulebook::tables::{TablesIn, limit};

use super::outcome::{Alike, Step};
use crate::worksheet::{Line, Quantity};

/// Label of the line that carries the demand on dryers.
pub const DEMAND: &str = "Demand on dryers";

/// Demand of these dryers on a feeder or service.
///
/// # Errors
/// The factor for this many dryers was not found for the edition.
pub fn demand(ratings: &[Alike], book: &TablesIn<'_>) -> Result<Step, NoValue> {
    if Alike::count(ratings) == 0 {
        return Ok(Step {
            value: VoltAmperes::ZERO,
            lines: Vec::new(),
        });
    }
    let least = book.limit(limit::DRYER_LEAST)?;
    let count = Alike::count(ratings);
    let sum: VoltAmperes = ratings
        .iter()
        .map(|r| r.va.max(least.value) * f64::from(r.count))
        .sum();
    let factor = book.dryer_factor(count)?;
    let value = sum * factor.value.factor();
    let lines = vec![
        Line::number("Dryers", sum)
            .how("each the larger of nameplate and least value")
            .input("dryers", Quantity::number(f64::from(count)))
            .input("least value of one", least.value)
            .source(&least),
        Line::number(DEMAND, value)
            .how("sum x factor for this number of dryers")
            .input("factor", factor.value)
            .source(&factor),
    ];
    Ok(Step { value, lines })
}
