//! What a load calculation is told: one dwelling or part of one, its loads, and the readings its authority takes.
//! Source: the job. Nameplate VA, square feet by outside dimensions.

use model::Fact;
use model::house::{self, DwellingKind, Load, LoadKind, System};
use model::units::{Amperes, SquareFeet};
use serde::{Deserialize, Serialize};

use crate::worksheet::Text;

/// A dwelling, or the share of one that a feeder carries.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Dwelling {
    /// Kind of building the dwelling is in.
    pub kind: Fact<DwellingKind>,
    /// What the conductors in question carry. For a part, every other field describes that part alone.
    pub share: Share,
    /// Why the calculation is made.
    pub occasion: Occasion,
    /// Floor area served.
    pub area: Fact<SquareFeet>,
    /// 20 A small-appliance circuits served.
    pub small_appliance_circuits: Fact<u32>,
    /// Laundry circuits served.
    pub laundry_circuits: Fact<u32>,
    /// Electrical system at the panel.
    pub system: Fact<System>,
    /// Ampacity of the service or feeder conductors, or their rating where that is lower.
    pub ampacity: Fact<Amperes>,
    /// Loads that are there and stay. What is taken away is simply left out.
    pub existing: Vec<Load>,
    /// Loads that the work adds. In a new dwelling, all of them.
    pub new: Vec<Load>,
    /// Readings of disputed sentences.
    pub readings: Readings,
}

impl Dwelling {
    /// Every load that counts: existing and new, without the customer's mere wishes.
    pub fn loads(&self) -> impl Iterator<Item = &Load> {
        self.existing
            .iter()
            .chain(&self.new)
            .filter(|load| !load.future && load.count > 0)
    }

    /// True when the conductors carry everything the dwelling has.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.share != Share::PartFeeder
    }

    pub(super) fn loads_of(&self, of: fn(LoadKind) -> bool) -> impl Iterator<Item = &Load> {
        self.loads().filter(move |load| of(load.kind))
    }
}

/// Kind, area, circuits and system of a surveyed dwelling; its loads, share, ampacity and readings are still to be set.
impl From<&house::Dwelling> for Dwelling {
    fn from(surveyed: &house::Dwelling) -> Self {
        Self {
            kind: surveyed.kind.clone(),
            area: surveyed.area.clone(),
            small_appliance_circuits: surveyed.small_appliance_circuits.clone(),
            laundry_circuits: surveyed.laundry_circuits.clone(),
            system: surveyed.system.clone(),
            ..Self::default()
        }
    }
}

/// What the conductors in question carry.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Share {
    /// The whole dwelling, at its service.
    #[default]
    Service,
    /// The whole dwelling, through a feeder.
    WholeFeeder,
    /// Part of the dwelling: a subpanel. Only its own area, circuits and loads are given.
    PartFeeder,
}

/// Why the calculation is made; it decides which method comes first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Occasion {
    /// A new dwelling.
    New,
    /// Equipment of an existing dwelling is replaced like new.
    Replacement,
    /// Load is added, or has been, to an existing dwelling.
    #[default]
    Existing,
}

/// Dwelling units of one kind on a common service or feeder.
#[derive(Clone, Copy, Debug)]
pub struct Units<'a> {
    /// How many alike.
    pub count: u32,
    /// One of them.
    pub unit: &'a Dwelling,
}

/// Readings of sentences that are understood in more than one way. The default is always the safer result.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Readings {
    /// Small and large cooking appliances together, Note 3 of the cooking table.
    pub cooking: CookingReading,
    /// A motor left out as noncoincident, from 2020.
    pub noncoincident: NoncoincidentReading,
    /// Vehicle charging in the standard calculation of an edition that does not name it.
    pub charger_standard: ChargerStandardReading,
    /// Vehicle charging in the optional and existing-dwelling calculations.
    pub charger_optional: ChargerOptionalReading,
    /// Heating and cooling in the existing-dwelling calculation.
    pub existing_climate: ExistingClimateReading,
    /// Energy management as a load value before the edition that says so.
    pub managed_before_named: bool,
}

/// How the percentage row is found when both columns of Note 3 are used.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CookingReading {
    /// Work both and take the larger.
    #[default]
    Larger,
    /// Each group by its own number of appliances.
    OwnCount,
    /// Both groups by the number of appliances together.
    TotalCount,
}

/// Whether a left-out motor still adds its quarter.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum NoncoincidentReading {
    /// Work both and take the larger.
    #[default]
    Larger,
    /// As printed: the largest motor counts its quarter although it is left out.
    Literal,
    /// The whole total once for heat and once for cooling, with the largest motor of what runs.
    Split,
}

/// Where vehicle charging goes while the standard calculation is silent on it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ChargerStandardReading {
    /// Work both and take the larger.
    #[default]
    Larger,
    /// Among the fixed appliances.
    Appliance,
    /// Outside them, at full value.
    Outside,
}

/// Where vehicle charging goes in the optional and existing-dwelling calculations.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ChargerOptionalReading {
    /// As the edition says.
    #[default]
    Edition,
    /// Local: outside the demand factor, at full value.
    Outside,
    /// Local: outside the demand factor, as a continuous load.
    OutsideContinuous,
}

/// How an existing dwelling's heating and cooling count.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ExistingClimateReading {
    /// As the edition says: in the common pot, or at full value when any of it is new.
    #[default]
    Edition,
    /// Local: always at full value outside the pot, whatever is new.
    AlwaysOutside,
    /// Local: outside the pot at the percentages of the optional calculation.
    OptionalPercentages,
}

impl Readings {
    /// The readings in words, for the paper.
    #[must_use]
    pub fn in_words(&self) -> Vec<Text> {
        let cooking = match self.cooking {
            CookingReading::Larger => "both readings worked, the larger taken",
            CookingReading::OwnCount => "each group by its own number of appliances",
            CookingReading::TotalCount => "both groups by the number of appliances together",
        };
        let noncoincident = match self.noncoincident {
            NoncoincidentReading::Larger => "both readings worked, the larger taken",
            NoncoincidentReading::Literal => "its share is added although it is left out",
            NoncoincidentReading::Split => "only what runs in one season counts",
        };
        let standard = match self.charger_standard {
            ChargerStandardReading::Larger | ChargerStandardReading::Outside => {
                "in full, outside the fixed appliances"
            }
            ChargerStandardReading::Appliance => "among the fixed appliances",
        };
        let optional = match self.charger_optional {
            ChargerOptionalReading::Edition => "as the edition has it",
            ChargerOptionalReading::Outside => "in full outside the demand factor (local)",
            ChargerOptionalReading::OutsideContinuous => {
                "as a continuous load outside the demand factor (local)"
            }
        };
        let climate = match self.existing_climate {
            ExistingClimateReading::Edition => "as the edition has it",
            ExistingClimateReading::AlwaysOutside => "always outside the pot (local)",
            ExistingClimateReading::OptionalPercentages => {
                "at the percentages of the optional calculation (local)"
            }
        };
        vec![
            format!("small and large cooking appliances together: {cooking}").into(),
            format!("a motor left out with loads that never run together: {noncoincident}").into(),
            format!("vehicle chargers in the standard calculation of an edition that does not name them: {standard}").into(),
            format!("vehicle chargers in the optional and existing-dwelling calculations: {optional}").into(),
            format!("heating and cooling of an existing dwelling: {climate}").into(),
        ]
    }
}
