//! Conductors between boards, and from the utility to the first board.
//! Source: survey. Lengths one way in feet, ambient in degrees Celsius.

use serde::{Deserialize, Serialize};

use super::{Point, StatedFacts};
use crate::conductor::{Insulation, Wire, WiringMethod};
use crate::fact::Fact;
use crate::units::{Amperes, Celsius, Feet, Inches};

/// The end of the supply tree that is not ours.
pub const UTILITY: &str = "utility";

/// One feeder, or the service conductors when `from` is `utility`.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Feeder {
    /// Board it comes from, or `utility`.
    #[serde(default)]
    pub from: String,
    /// Board it feeds.
    #[serde(default)]
    pub to: String,
    /// Rating of the overcurrent device at its supply end. Service conductors have none of their own.
    #[serde(default)]
    pub breaker: Fact<Amperes>,
    /// Spaces of that device in the supplying board.
    #[serde(default)]
    pub spaces: Fact<Vec<u32>>,
    /// Wires: 3 is two hots and neutral, 4 adds an equipment ground.
    #[serde(default)]
    pub wires: Fact<u8>,
    /// Ungrounded conductors.
    #[serde(default)]
    pub wire: Fact<Wire>,
    /// Neutral conductor, when not the size of the ungrounded ones.
    #[serde(default)]
    pub neutral: Fact<Wire>,
    /// Equipment grounding conductor.
    #[serde(default)]
    pub ground: Fact<Wire>,
    /// Sets in parallel.
    #[serde(default = "one")]
    pub sets: u8,
    /// Insulation of the ungrounded conductors.
    #[serde(default)]
    pub insulation: Fact<Insulation>,
    /// Wiring method.
    #[serde(default)]
    pub method: Fact<WiringMethod>,
    /// Trade size of the raceway, where there is one.
    #[serde(default)]
    pub raceway_size: Fact<String>,
    /// One-way length.
    #[serde(default)]
    pub length: Fact<Feet>,
    /// Where it comes from on the wall, before it turns to the board it feeds.
    #[serde(default)]
    pub home_run: Option<Point>,
    /// Spare conductor length at the board it feeds.
    #[serde(default)]
    pub slack: Fact<Inches>,
    /// Highest ambient temperature along the run. Left out, 30 C is taken and said.
    #[serde(default)]
    pub ambient: Fact<Celsius>,
    /// Current-carrying conductors in the same raceway or bundle, this feeder's own included.
    #[serde(default)]
    pub current_carrying: Fact<u32>,
    /// In contact with thermal insulation, caulk or foam.
    #[serde(default)]
    pub in_thermal_insulation: Fact<bool>,
    /// Runs outside between buildings or outdoors.
    #[serde(default)]
    pub outside: Fact<bool>,
    /// Depth of cover where it is buried.
    #[serde(default)]
    pub burial_depth: Fact<Inches>,
    /// Year it was installed, where that is known.
    #[serde(default)]
    pub year_installed: Fact<u16>,
    /// After picture only: new conductors in place of the old ones.
    #[serde(default)]
    pub replaced: bool,
    /// After picture only: taken out.
    #[serde(default)]
    pub gone: bool,
    /// Further facts by their dictionary name (`feeder.`, without the prefix).
    #[serde(default)]
    pub facts: StatedFacts,
}

const fn one() -> u8 {
    1
}
