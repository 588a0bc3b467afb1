//! Where the new panel goes. Inches, feet, US dollars.

use engine::relocate::{Moved, Sweep};
use engine::worksheet::Worksheet;
use schemars::JsonSchema;
use serde::Serialize;

/// Every place along every wall, as the engine has it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Places<'r> {
    /// The places.
    #[serde(rename = "move")]
    sweep: &'r Sweep,
    /// The best place, line by line.
    worksheets: [&'r Worksheet; 1],
}

/// The documented form.
#[must_use]
pub fn of(moved: &Moved) -> Places<'_> {
    Places {
        sweep: &moved.sweep,
        worksheets: [&moved.worksheet],
    }
}
