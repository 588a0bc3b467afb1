//! What the offer of this job holds beside the work itself: options the customer chose, and settings other than the shop's own.
//! Source: the talk with the customer. Names are those of the price book; a setting is in the unit the book gives it.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::map::Map;

/// The offer of a job.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Offer {
    /// Options chosen, by their names in the price book.
    pub options: Vec<String>,
    /// Settings for this job alone, by their names in the price book, for example `margin = 15`.
    pub settings: Map<String, Setting>,
}

/// Value of a setting.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(untagged)]
pub enum Setting {
    /// A number, in the unit of the setting.
    Number(f64),
    /// A word, where the setting is one.
    Word(String),
}

impl fmt::Display for Setting {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number(n) => write!(f, "{n}"),
            Self::Word(word) => f.write_str(word),
        }
    }
}
