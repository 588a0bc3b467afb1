//! One branch circuit for household cooking: its demand, and the least rating of a range circuit.
//! NFPA 70 Table 220.55 Note 4, 210.19 (2014-2023), Table 120.55 (2026). Nameplate VA in, VA out.

use model::units::VoltAmperes;
use rulebook::NoValue;
use rulebook::tables::{Subject, TablesIn, limit};

use super::cooking::{DEMAND, feeder};
use super::input::CookingReading;
use super::outcome::{Alike, Step};
use crate::worksheet::Line;

/// Demand of one branch circuit: a range by itself, one wall oven or one counter-mounted unit by itself,
/// or one counter-mounted unit with at most two wall ovens in the same room.
///
/// # Errors
/// The appliances do not fit one of these, or a table value was not found.
pub fn branch_circuit(circuit: &Circuit, book: &TablesIn<'_>) -> Result<Step, NoValue> {
    let cite = book.cite(Subject::Ranges);
    let mut step = match circuit {
        Circuit::Range(rating) => feeder(&[Alike::one(*rating)], CookingReading::Larger, book)?,
        Circuit::Single(rating) => Step {
            value: *rating,
            lines: vec![
                Line::number(DEMAND, *rating)
                    .how("one wall oven or counter-mounted unit: its nameplate")
                    .cite(cite),
            ],
        },
        Circuit::Together { cooktop, ovens } if (1..=2).contains(&ovens.len()) => {
            let sum = *cooktop + ovens.iter().copied().sum();
            let mut step = feeder(&[Alike::one(sum)], CookingReading::Larger, book)?;
            let line = Line::number(
                "Counter-mounted unit and wall ovens, taken as one range",
                sum,
            )
            .how("sum of nameplates")
            .input("counter-mounted unit", *cooktop)
            .input("wall ovens", ovens.iter().copied().sum::<VoltAmperes>())
            .cite(cite);
            step.lines.insert(0, line);
            step
        }
        Circuit::Together { ovens, .. } => {
            return Err(NoValue::NoEntry {
                cite,
                wanted: format!(
                    "one counter-mounted unit with {} wall ovens on one circuit: one or two are expected",
                    ovens.len()
                ),
            });
        }
    };
    if let Circuit::Range(rating) = circuit {
        let from = book.limit(limit::RANGE_CIRCUIT_LEAST_FROM)?;
        if *rating >= from.value {
            let least = book.limit(limit::RANGE_CIRCUIT_LEAST)?;
            step.lines.push(
                Line::number("Smallest rating of this range circuit", least.value)
                    .how("range of the named size or more")
                    .input("from", from.value)
                    .source(&least),
            );
        }
    }
    Ok(step)
}

/// What one cooking branch circuit supplies.
#[derive(Clone, Debug, PartialEq)]
pub enum Circuit {
    /// One range.
    Range(VoltAmperes),
    /// One wall oven or one counter-mounted unit.
    Single(VoltAmperes),
    /// One counter-mounted unit and one or two wall ovens in one room.
    Together {
        /// Nameplate of the counter-mounted unit.
        cooktop: VoltAmperes,
        /// Nameplates of the wall ovens.
        ovens: Vec<VoltAmperes>,
    },
}
