//! What every report ends with, whatever it found.

use crate::page::Page;

/// The cautions, one sentence each.
pub(crate) const CAUTIONS: [&str; 4] = [
    "De-energize, lock out, and test dead: tester on a live source, then the work, then the live source again.",
    "Line-side conductors stay live when the main is off; only the utility can kill them.",
    "Verify every result against the adopted code and with the authority having jurisdiction.",
    "Licensed practice decides. This report supports that judgement and does not replace it.",
];

/// Writes them.
pub(crate) fn write(page: &mut Page) {
    page.heading("Cautions");
    for caution in CAUTIONS {
        page.paragraph("- ", caution);
    }
}
