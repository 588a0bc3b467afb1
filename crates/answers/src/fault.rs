//! Fault current at each board, as JSON.

use engine::sheets::Sheets;
use serde_json::Value;
use serde_json::json;

/// The documented form.
#[must_use]
pub fn of(sheets: &Sheets<'_>) -> Value {
    sheets
        .faults
        .iter()
        .map(|b| json!({ "board": b.board, "fault": b.fault }))
        .collect()
}
