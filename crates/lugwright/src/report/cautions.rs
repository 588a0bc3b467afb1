//! What every report ends with, whatever it found.

use crate::page::Page;

/// Writes them.
pub(crate) fn write(page: &mut Page) {
    page.heading("Cautions");
    for caution in answers::CAUTIONS {
        page.paragraph("- ", caution);
    }
}
