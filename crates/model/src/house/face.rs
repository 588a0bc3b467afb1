//! What takes spaces in a board besides circuits, how its spaces are numbered, and where a cable comes in.
//! Source: the board's label and the survey. Inches.

use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::units::Inches;

/// Something in a board that takes spaces and is neither circuit nor feeder.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Device {
    /// What it is.
    pub kind: DeviceKind,
    /// Words for papers.
    #[serde(default)]
    pub name: String,
    /// It sits on the bus or beside it and takes no space.
    #[serde(default)]
    pub bolt_on: bool,
    /// Spaces it takes, one above the other. Left out, a surge protector and a back-fed main take 2, anything else 1.
    #[serde(default)]
    pub width: Option<u8>,
    /// Spaces it is in, or has to be in.
    #[serde(default)]
    pub spaces: Fact<Vec<u32>>,
    /// It stays in these spaces.
    #[serde(default)]
    pub pinned: bool,
    /// After picture only: taken out.
    #[serde(default)]
    pub gone: bool,
}

impl Device {
    /// Spaces it takes.
    #[must_use]
    pub fn takes(&self) -> u8 {
        let usual = match self.kind {
            DeviceKind::SurgeProtector | DeviceKind::MainBreaker => 2,
            DeviceKind::Monitor | DeviceKind::Other => 1,
        };
        if self.bolt_on {
            0
        } else {
            self.width.unwrap_or(usual)
        }
    }
}

/// Kinds of device.
#[derive(
    Clone,
    Copy,
    Debug,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Serialize,
    Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum DeviceKind {
    /// Surge protection on a breaker or in breaker form.
    SurgeProtector,
    /// Energy monitor or load controller.
    Monitor,
    /// Main breaker of branch type, fed backwards and held down.
    MainBreaker,
    /// Anything else.
    Other,
}

/// How spaces are numbered.
#[derive(
    Clone,
    Copy,
    Debug,
    Default,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Serialize,
    Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Numbering {
    /// 1 left, 2 right, 3 left, and so on downwards.
    #[default]
    Across,
    /// Down the left column, then down the right one.
    Down,
}

/// Where a cable enters a cabinet.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// Side of the cabinet.
    pub side: Side,
    /// From its left end, or from its upper end for the left and right side.
    pub along: Inches,
}

/// Sides of a cabinet, seen from the front.
#[derive(
    Clone,
    Copy,
    Debug,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Serialize,
    Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// Upper.
    Top,
    /// Lower.
    Bottom,
    /// Left.
    Left,
    /// Right.
    Right,
}
