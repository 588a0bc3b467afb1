//! What stands behind the first board: utility, grounding electrodes, other sources, other buildings.
//! Source: utility, label and survey. Amperes of fault current, kVA and per cent of transformers.

use serde::{Deserialize, Serialize};

use super::StatedFacts;
use crate::conductor::Wire;
use crate::fact::Fact;
use crate::units::{Amperes, KilovoltAmperes, Percent};

/// The utility's side.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Supply {
    /// Available fault current at the utility's end of the service conductors, as the utility states it.
    #[serde(default)]
    pub fault_current: Fact<Amperes>,
    /// Utility transformer, where its data are known.
    #[serde(default)]
    pub transformer: Option<Transformer>,
    /// Further facts by their dictionary name (`service.`, without the prefix).
    #[serde(default)]
    pub facts: StatedFacts,
}

/// A utility transformer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Transformer {
    /// Rating.
    pub kva: KilovoltAmperes,
    /// Nameplate impedance.
    #[serde(default)]
    pub impedance: Fact<Percent>,
    /// Reactance over resistance.
    #[serde(default)]
    pub x_over_r: Fact<f64>,
}

/// Electrodes and bonding of the premises.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Grounding {
    /// Electrodes in use, each with its conductor.
    #[serde(default)]
    pub electrodes: Fact<Vec<Electrode>>,
    /// Further facts by their dictionary name (`ground.`, without the prefix).
    #[serde(default)]
    pub facts: StatedFacts,
}

/// One grounding electrode.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Electrode {
    /// Kind.
    pub kind: ElectrodeKind,
    /// How many alike.
    #[serde(default = "one")]
    pub count: u8,
    /// Its grounding electrode conductor.
    #[serde(default)]
    pub conductor: Fact<Wire>,
}

const fn one() -> u8 {
    1
}

/// Kinds of grounding electrode.
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
pub enum ElectrodeKind {
    /// Buried metal water pipe.
    WaterPipe,
    /// Rod or pipe.
    Rod,
    /// Plate.
    Plate,
    /// Concrete-encased.
    ConcreteEncased,
    /// Ground ring.
    GroundRing,
    /// Metal in-ground support structure.
    BuildingSteel,
}

/// A source besides the utility.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Kind.
    pub kind: SourceKind,
    /// Board its breaker is in.
    pub board: String,
    /// Rated output current of an inverter.
    #[serde(default)]
    pub output: Fact<Amperes>,
    /// Its breaker.
    #[serde(default)]
    pub breaker: Fact<Amperes>,
    /// Spaces its breaker is in.
    #[serde(default)]
    pub spaces: Fact<Vec<u32>>,
    /// Its breaker is at the end of the bus away from the main.
    #[serde(default)]
    pub opposite_end: Fact<bool>,
    /// After picture only: taken out.
    #[serde(default)]
    pub gone: bool,
    /// Further facts by their dictionary name (`source.`, without the prefix).
    #[serde(default)]
    pub facts: StatedFacts,
}

/// Kinds of source.
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
pub enum SourceKind {
    /// Photovoltaic inverter.
    Photovoltaic,
    /// Battery inverter.
    Battery,
    /// Generator or generator inlet.
    Generator,
}

/// A building or structure apart from the main one.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Building {
    /// Words for papers.
    #[serde(default)]
    pub name: String,
    /// It contains a dwelling unit.
    #[serde(default)]
    pub dwelling_unit: Fact<bool>,
    /// After picture only: no longer there.
    #[serde(default)]
    pub gone: bool,
    /// Further facts by their dictionary name (`building.`, without the prefix).
    #[serde(default)]
    pub facts: StatedFacts,
}

/// An outlet that matters by itself: a receptacle, or a hardwired appliance's point.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Outlet {
    /// Circuit it is on.
    #[serde(default)]
    pub circuit: String,
    /// Words for papers.
    #[serde(default)]
    pub name: String,
    /// It is a receptacle, not a hardwired point.
    #[serde(default)]
    pub receptacle: Fact<bool>,
    /// Places that ask for ground-fault protection; tags of the fact dictionary.
    #[serde(default)]
    pub place: Fact<Vec<String>>,
    /// Appliance it feeds; tags of the fact dictionary.
    #[serde(default)]
    pub appliance: Fact<Vec<String>>,
    /// After picture only: the device is replaced.
    #[serde(default)]
    pub replaced: bool,
    /// After picture only: taken out.
    #[serde(default)]
    pub gone: bool,
    /// Further facts by their dictionary name (`receptacle.`, `outlet.`, without the prefix).
    #[serde(default)]
    pub facts: StatedFacts,
}
