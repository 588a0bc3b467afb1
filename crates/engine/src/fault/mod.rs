//! What fault current can each board see, and is its rating enough?
//! Source: NFPA 70 110.9, 110.10; circuit theory with Chapter 9 Table 9; the point-to-point method.
//! Amperes, feet, kVA and percent in, amperes out. Two methods side by side; the larger answer is held against the rating.
//!
//! - [`source`]: the transformer, or the stated current;
//! - [`point_to_point`]: the handbook method, step by step;
//! - `chain`: from board to board by both methods, and the verdict.

mod board;
mod chain;
mod loops;
pub mod point_to_point;
pub mod source;

use model::Fact;
use model::house::System;
use model::units::Amperes;
use rulebook::tables::TablesIn;
use serde::Serialize;

use crate::conductor::found::{Found, Verdict};
use crate::conductor::run::Run;
use crate::worksheet::{Line, Worksheet};
use loops::{NoSource, loops};
pub use source::Source;

/// A board and the run that feeds it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Segment {
    /// Name of the board at the far end.
    pub board: String,
    /// The run; unknown where its conductors or its length are unknown.
    pub run: Fact<Run>,
    /// Lowest short-circuit rating of the board and its devices.
    pub rating: Fact<Amperes>,
}

/// Current that running motors add in the first instant.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Motors {
    /// Left out, as is usual in dwellings; the worksheet says so.
    LeftOut,
    /// Added: full-load current of all motors that can run together, times the table's factor.
    Running(Amperes),
}

/// Line-to-line and line-to-neutral fault current.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "FaultCurrents")]
pub struct Currents {
    /// Leg to leg.
    pub line_to_line: Found<Amperes>,
    /// Leg to neutral.
    pub line_to_neutral: Found<Amperes>,
}

/// Fault current at one board.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
pub struct BoardFault {
    /// Name of the board; the source itself comes first.
    pub board: String,
    /// By impedance.
    pub impedance: Currents,
    /// By the point-to-point method.
    pub point_to_point: Currents,
    /// The largest of all four, with the motors' share.
    pub highest: Found<Amperes>,
    /// Is the rating at least that?
    pub verdict: Verdict,
}

/// Fault current at the source and at every board behind it, in order of the chain.
/// A run that is not known is taken as having no length, so that what follows is an upper bound.
pub fn fault_currents(
    id: &str,
    system: System,
    source: &Source,
    chain: &[Segment],
    motors: Motors,
    book: &TablesIn<'_>,
) -> (Worksheet, Vec<BoardFault>) {
    let mut sheet = Worksheet::new(
        format!("{id}.fault-current"),
        "Available fault current",
        book.edition(),
    );
    let told = match loops(source, system, book, &mut sheet) {
        Ok(told) => told,
        Err(why) => {
            sheet.push(match why {
                NoSource::Missing(what) => Line::cannot_tell("Available fault current", what),
                NoSource::Table(why) => Line::no_value("Available fault current", &why),
            });
            return (sheet, Vec::new());
        }
    };
    match chain::walk(system, &told, chain, motors, book, &mut sheet) {
        Ok(boards) => (sheet, boards),
        Err(why) => {
            sheet.push(Line::no_value("Available fault current", &why));
            (sheet, Vec::new())
        }
    }
}
