//! Writes a drawing to the file the user named.

use std::path::Path;

use crate::problem::Failure;
use crate::reading;

/// Writes it, over an older one if there is one.
pub(crate) fn write(path: &Path, drawing: &str) -> Result<(), Failure> {
    std::fs::write(path, drawing).map_err(|e| {
        Failure::new(
            format!("cannot write the drawing `{}`: {e}", reading::name(path)),
            "name a file in a folder that exists and can be written",
        )
    })
}
