//! What a load calculation comes to: demand, current, neutral, rating, and whether the method may be used at all.
//! Source: the method's own sections, on the worksheet. VA and amperes.

use std::fmt;

use model::units::{Amperes, VoltAmperes};
use rulebook::Check;
use rulebook::tables::Subject;
use serde::Serialize;

use super::told::Told;
use crate::worksheet::{Line, Text, Worksheet};

/// The methods of calculation.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, schemars::JsonSchema,
)]
#[schemars(rename = "LoadMethod")]
#[serde(rename_all = "snake_case")]
pub enum Method {
    /// Step by step with its own demand factor for each group; always permitted.
    Standard,
    /// The short form for one dwelling on one service or feeder.
    Optional,
    /// The short form for adding load to an existing dwelling.
    Existing,
    /// From a record of the demand that was really drawn.
    Measured,
    /// The short form for three or more dwelling units.
    Multifamily,
    /// Two dwelling units on one feeder.
    TwoFamily,
    /// The setting of an energy management system.
    Managed,
}

impl Method {
    /// Name on papers, lower case.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Standard => "standard calculation",
            Self::Optional => "optional calculation, one dwelling unit",
            Self::Existing => "existing dwelling, added load",
            Self::Measured => "existing load from its maximum demand",
            Self::Multifamily => "optional calculation, three or more units",
            Self::TwoFamily => "two dwelling units on one feeder",
            Self::Managed => "energy management setting",
        }
    }

    /// Name for look-ups: `load.` and this is the worksheet's id.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Standard => "standard",
            Self::Optional => "optional",
            Self::Existing => "existing",
            Self::Measured => "measured",
            Self::Multifamily => "multifamily",
            Self::TwoFamily => "two_family",
            Self::Managed => "managed",
        }
    }
}

impl Method {
    /// The section the method rests on.
    pub(crate) const fn subject(self) -> Subject {
        match self {
            Self::Standard => Subject::StandardLoad,
            Self::Optional => Subject::Optional,
            Self::Existing => Subject::Existing,
            Self::Measured => Subject::Measured,
            Self::Multifamily => Subject::Multifamily,
            Self::TwoFamily => Subject::TwoFamily,
            Self::Managed => Subject::Ems,
        }
    }
}

impl fmt::Display for Method {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// Whether the method may be used here.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "MethodStanding")]
#[serde(rename_all = "snake_case", tag = "standing", content = "because")]
pub enum Standing {
    /// Every condition is met.
    Applies,
    /// At least one condition is not met; each is named.
    DoesNotApply(Vec<Text>),
    /// Not known to fail, but conditions cannot be told; each is named.
    CannotTell(Vec<Text>),
}

impl Standing {
    /// True when every condition is met.
    #[must_use]
    pub const fn applies(&self) -> bool {
        matches!(self, Self::Applies)
    }

    /// From what fails and what cannot be told.
    #[must_use]
    pub fn from_conditions(fails: Vec<Text>, unknown: Vec<Text>) -> Self {
        match (fails.is_empty(), unknown.is_empty()) {
            (false, _) => Self::DoesNotApply(fails),
            (true, false) => Self::CannotTell(unknown),
            (true, true) => Self::Applies,
        }
    }
}

/// The result of one method.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Outcome {
    /// Which method.
    pub method: Method,
    /// Whether it may be used.
    pub standing: Standing,
    /// Calculated load.
    pub demand: Told<VoltAmperes>,
    /// Calculated load as current, not yet rounded.
    pub current: Told<Amperes>,
    /// Calculated load in whole amperes.
    pub rounded: Told<Amperes>,
    /// Neutral load, not yet rounded.
    pub neutral: Told<Amperes>,
    /// Smallest standard rating that is neither below the rounded load nor below the least size required here.
    pub rating: Told<Amperes>,
    /// Every step.
    pub worksheet: Worksheet,
}

/// The value of one step and the lines that show it.
#[derive(Clone, Debug, PartialEq)]
pub struct Step<T = VoltAmperes> {
    /// What the step came to.
    pub value: T,
    /// Its lines, in the order of the hand calculation.
    pub lines: Vec<Line>,
}

/// Several appliances of the same nameplate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alike {
    /// How many.
    pub count: u32,
    /// Nameplate of one.
    pub va: VoltAmperes,
}

impl Alike {
    /// A single one.
    #[must_use]
    pub const fn one(va: VoltAmperes) -> Self {
        Self { count: 1, va }
    }

    pub(super) fn sum(all: &[Self]) -> VoltAmperes {
        all.iter().map(|a| a.va * f64::from(a.count)).sum()
    }

    pub(super) fn count(all: &[Self]) -> u32 {
        all.iter().fold(0, |n, a| n.saturating_add(a.count))
    }
}

/// Weakest check status of several lines: what stands on them is no better.
pub(super) fn weakest(lines: &[Line]) -> Check {
    lines
        .iter()
        .map(|line| line.check)
        .min()
        .unwrap_or(Check::Arithmetic)
}
