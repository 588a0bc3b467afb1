//! Fault current at each board. Amperes.

use engine::fault::BoardFault;
use engine::sheets::Sheets;
use schemars::JsonSchema;
use serde::Serialize;

/// Fault current at a board.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FaultAtBoard<'r> {
    board: &'r str,
    fault: &'r BoardFault,
}

/// The documented form.
#[must_use]
pub fn of<'r>(sheets: &'r Sheets<'_>) -> Vec<FaultAtBoard<'r>> {
    let all = sheets.faults.iter();
    all.map(|b| FaultAtBoard {
        board: b.board,
        fault: &b.fault,
    })
    .collect()
}
