//! What short-circuit current can flow at each board, against what the board is marked for. Amperes, an upper bound where facts are unknown.

use engine::sheets::Sheets;

use super::feeders::{found, word};
use super::sheet::value;
use crate::page::{Page, columns};

/// Writes a line per board, then what is missing, each thing once.
pub(crate) fn write(page: &mut Page, sheets: &Sheets<'_>) {
    page.heading("Fault current");
    let rows: Vec<Vec<String>> = sheets
        .faults
        .iter()
        .map(|b| {
            vec![
                b.board.to_owned(),
                found(&b.fault.highest),
                word(b.fault.verdict).to_owned(),
            ]
        })
        .collect();
    if rows.is_empty() {
        page.line("Cannot tell at any board:");
        for sheet in &sheets.fault_worksheets {
            for line in sheet.missing() {
                page.paragraph("  ", &format!("{}: {}", line.label, value(&line.value)));
            }
        }
        return;
    }
    columns(
        page,
        "",
        &["board", "highest of all methods", "rating against it"],
        &rows,
    );
    let mut missing: Vec<&str> = Vec::new();
    for what in sheets.faults.iter().flat_map(|b| &b.fault.highest.missing) {
        if !missing.contains(&&**what) {
            missing.push(what);
        }
    }
    if !missing.is_empty() {
        page.paragraph("unknown: ", &missing.join("; "));
    }
    let ids: Vec<&str> = sheets
        .fault_worksheets
        .iter()
        .map(|w| w.id.as_str())
        .collect();
    page.paragraph("worksheets: ", &ids.join(", "));
}
