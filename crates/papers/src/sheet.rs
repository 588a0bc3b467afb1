//! What one paper says, before it is typeset: words and numbers as data, drawings, files to enclose.

use serde_json::Value;

use crate::material::Setting;
use crate::paper::Paper;

/// A paper ready for the press.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Which paper.
    pub paper: Paper,
    /// How it is to be printed.
    pub setting: Setting,
    /// Words and numbers, as the template reads them from `data.json`.
    pub data: Value,
    /// Drawings as SVG text, by the file name that `data` uses. Names are of the program's choosing.
    pub drawings: Vec<(String, String)>,
    /// Files enclosed in the PDF: name and text.
    pub enclosed: Vec<(&'static str, String)>,
}
