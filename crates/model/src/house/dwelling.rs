//! The dwelling behind the panels: what kind it is, how large, on which system.
//! Source: survey. Square feet by outside dimensions.

use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::units::{Kilowatts, SquareFeet, Volts};

/// The dwelling, and what of it every load calculation needs.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Dwelling {
    /// Kind of building the dwelling is in.
    #[serde(default)]
    pub kind: Fact<DwellingKind>,
    /// Floor area by outside dimensions, without open porches, garages and space that can never be finished.
    #[serde(default)]
    pub area: Fact<SquareFeet>,
    /// Year built.
    #[serde(default)]
    pub year_built: Fact<u16>,
    /// Electrical system at the panels.
    #[serde(default)]
    pub system: Fact<System>,
    /// 20 A small-appliance circuits; at least two count.
    #[serde(default)]
    pub small_appliance_circuits: Fact<u32>,
    /// Laundry circuits; none only where a multifamily building has a common laundry.
    #[serde(default)]
    pub laundry_circuits: Fact<u32>,
    /// Dwelling units fed by the service.
    #[serde(default)]
    pub units: Fact<u32>,
    /// One year of demand at the service, where the utility or a recorder gave it.
    #[serde(default)]
    pub measured_demand: Option<MeasuredDemand>,
}

/// Kind of building.
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
pub enum DwellingKind {
    /// A house for one family.
    OneFamily,
    /// Two dwelling units in one building.
    TwoFamily,
    /// Three or more units.
    Multifamily,
    /// Not a dwelling, or something else.
    Other,
}

/// Electrical system.
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
pub enum System {
    /// 120/240 V, single phase, three wires.
    #[serde(rename = "120/240")]
    SinglePhase120_240,
    /// Two legs and the neutral of a 208Y/120 V system.
    #[serde(rename = "208Y/120")]
    TwoLegs208Y120,
}

impl System {
    /// Nominal voltage between the two legs.
    #[must_use]
    pub const fn line_to_line(self) -> Volts {
        match self {
            Self::SinglePhase120_240 => Volts(240.0),
            Self::TwoLegs208Y120 => Volts(208.0),
        }
    }

    /// Nominal voltage from a leg to the neutral.
    #[must_use]
    pub const fn line_to_neutral(self) -> Volts {
        Volts(120.0)
    }
}

/// A stated maximum demand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MeasuredDemand {
    /// Highest average power over a 15-minute interval.
    pub highest_15_minute: Kilowatts,
    /// Days covered by the record.
    pub days: u32,
    /// True when on-site generation or peak shaving ran in that time.
    #[serde(default)]
    pub generation_or_peak_shaving: Fact<bool>,
    /// True when the larger of heating and cooling and other seasonal loads are in the record.
    #[serde(default)]
    pub seasonal_loads_included: Fact<bool>,
}
