//! Where a published value comes from, and how far it was checked.
//! Nobody on the project has read the code text itself; this travels with every value to screen and paper.

use std::fmt;
use std::sync::Arc;

use model::Edition;

/// How far a value was checked. Ordered from weakest to strongest, so that the least of several is their `min`.
#[derive(
    Clone,
    Copy,
    Debug,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    serde::Serialize,
    serde::Deserialize,
    schemars::JsonSchema,
)]
#[schemars(rename = "CheckStatus")]
pub enum Check {
    /// Looked for and not confirmed: there is no value, only the section to look up.
    #[serde(rename = "not found")]
    NotFound,
    /// Recalled only.
    #[serde(rename = "memory")]
    Memory,
    /// Seen on one published page.
    #[serde(rename = "1 source")]
    OneSource,
    /// Seen on two or more published pages.
    #[serde(rename = "2+ sources")]
    TwoSources,
    /// Arithmetic or physics; nothing to look up.
    #[serde(rename = "arithmetic")]
    Arithmetic,
}

impl fmt::Display for Check {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotFound => "not found",
            Self::Memory => "memory",
            Self::OneSource => "1 source",
            Self::TwoSources => "2+ sources",
            Self::Arithmetic => "arithmetic",
        })
    }
}

/// A section or table of one edition, for example `NFPA 70-2023 220.45`, and how far the number was checked.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, schemars::JsonSchema)]
pub struct Cite {
    /// The edition the section number belongs to.
    pub edition: Edition,
    /// Section or table as the edition numbers it, for example `Table 310.16`. Shared, so that a copy is cheap.
    #[serde(serialize_with = "as_text")]
    #[schemars(with = "String")]
    pub section: Arc<str>,
    /// How far the number itself was checked.
    pub check: Check,
}

pub(crate) fn as_text<S: serde::Serializer>(section: &Arc<str>, s: S) -> Result<S::Ok, S::Error> {
    s.serialize_str(section)
}

impl fmt::Display for Cite {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "NEC {} {}", self.edition, self.section)
    }
}

/// A published value with its place and check status.
#[derive(Clone, Debug, PartialEq)]
pub struct Sourced<T> {
    /// The value.
    pub value: T,
    /// Where it stands in the edition.
    pub cite: Cite,
    /// How far the value was checked.
    pub check: Check,
}

/// Why a table gave no value. Never replaced by a guess.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoValue {
    /// The edition has a value there, but nobody confirmed it.
    #[error("the value for {wanted} was not found in any published source: look up {cite}")]
    NotFound {
        /// Where to look.
        cite: Cite,
        /// What was asked for, in words.
        wanted: String,
    },
    /// The table prints nothing there: the combination does not exist or is not permitted.
    #[error("{cite} has no entry for {wanted}")]
    NoEntry {
        /// The table.
        cite: Cite,
        /// What was asked for, in words.
        wanted: String,
    },
}

/// Outcome of a table look-up.
pub type Lookup<T> = Result<Sourced<T>, NoValue>;
