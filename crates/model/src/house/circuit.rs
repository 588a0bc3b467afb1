//! A branch circuit from its breaker to its outlets.
//! Source: survey and plan. Lengths in inches; volts follow from poles and system.

use serde::{Deserialize, Serialize};

use super::{Entry, Point, StatedFacts};
use crate::conductor::{Wire, WiringMethod};
use crate::fact::Fact;
use crate::id::{CircuitId, LoadId};
use crate::units::{Amperes, Feet, Hours, Inches, VoltAmperes};

/// One branch circuit. A shared-neutral set is two circuits that name each other in `shared_with`.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Circuit {
    /// Words for schedule and directory, for example `northeast bedroom receptacles`.
    #[serde(default)]
    pub serves: String,
    /// Board it starts in.
    #[serde(default)]
    pub board: String,
    /// Spaces it takes; a tandem half is the space with `A` or `B`, for example `"14A"`.
    #[serde(default)]
    pub spaces: Fact<Vec<String>>,
    /// It stays in these spaces, for example because its conductors are too short for others.
    #[serde(default)]
    pub pinned: bool,
    /// Where its cable enters the cabinet.
    #[serde(default)]
    pub entry: Option<Entry>,
    /// Free conductor from that entry.
    #[serde(default)]
    pub reach: Fact<Inches>,
    /// Poles of its breaker.
    #[serde(default = "one")]
    pub poles: u8,
    /// Breaker rating.
    #[serde(default)]
    pub amps: Fact<Amperes>,
    /// Protection its breaker or first device gives.
    #[serde(default)]
    pub protection: Fact<Protection>,
    /// Where that protection sits.
    #[serde(default)]
    pub protection_at: Fact<ProtectionAt>,
    /// Ungrounded conductors.
    #[serde(default)]
    pub wire: Fact<Wire>,
    /// Wiring method at the panel.
    #[serde(default)]
    pub method: Fact<WiringMethod>,
    /// Has an equipment grounding conductor or a recognized metal path.
    #[serde(default)]
    pub ground: Fact<bool>,
    /// The other circuit of a shared-neutral set.
    #[serde(default)]
    pub shared_with: Option<CircuitId>,
    /// What it is for, as the load calculation counts circuits.
    #[serde(default)]
    pub purpose: Purpose,
    /// Rooms or areas whose outlets it supplies; tags of the fact dictionary.
    #[serde(default)]
    pub rooms: Fact<Vec<String>>,
    /// Outlets on it.
    #[serde(default)]
    pub outlets: Fact<u32>,
    /// Loads on it.
    #[serde(default)]
    pub loads: Vec<LoadId>,
    /// Calculated or measured load on it, where that is better known than by its loads.
    #[serde(default)]
    pub load_va: Fact<VoltAmperes>,
    /// Part of its load that runs three hours or more at a time.
    #[serde(default)]
    pub continuous_va: Fact<VoltAmperes>,
    /// Where its home run comes from on the wall, before it turns to the board.
    #[serde(default)]
    pub home_run: Option<Point>,
    /// After picture only: one-way length of the cable of a new or rewired circuit.
    #[serde(default)]
    pub length: Fact<Feet>,
    /// Spare conductor length in the old cabinet.
    #[serde(default)]
    pub slack: Fact<Inches>,
    /// After picture only: length added outside cabinets and boxes, where it was measured rather than worked out.
    #[serde(default)]
    pub added_outside: Fact<Inches>,
    /// After picture only: length added in all.
    #[serde(default)]
    pub added_total: Fact<Inches>,
    /// After picture only: the old cable is only cut shorter.
    #[serde(default)]
    pub cut_shorter: Fact<bool>,
    /// After picture only: outlets or devices are added (splices do not count).
    #[serde(default)]
    pub outlets_added: Fact<bool>,
    /// What the household cannot do without, and for how long it may be dark.
    #[serde(default)]
    pub critical: Option<Critical>,
    /// What makes work on it dangerous or slow.
    #[serde(default)]
    pub hazards: Vec<Hazard>,
    /// After picture only: taken out.
    #[serde(default)]
    pub gone: bool,
    /// Further facts by their dictionary name (`circuit.`, `ev.`, without the prefix).
    #[serde(default)]
    pub facts: StatedFacts,
}

const fn one() -> u8 {
    1
}

/// Protection beyond overcurrent.
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
pub enum Protection {
    /// Overcurrent only.
    None,
    /// Arc-fault.
    Afci,
    /// Ground-fault, people.
    Gfci,
    /// Arc-fault and ground-fault in one.
    Dual,
}

impl Protection {
    /// True when arc-fault protection is part of it.
    #[must_use]
    pub const fn has_afci(self) -> bool {
        matches!(self, Self::Afci | Self::Dual)
    }

    /// True when ground-fault protection for people is part of it.
    #[must_use]
    pub const fn has_gfci(self) -> bool {
        matches!(self, Self::Gfci | Self::Dual)
    }
}

impl Hazard {
    /// As a job file writes it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::AluminumBranch => "aluminum_branch",
            Self::KnobAndTube => "knob_and_tube",
            Self::BrittleInsulation => "brittle_insulation",
            Self::Ungrounded => "ungrounded",
            Self::Overheated => "overheated",
            Self::ShortConductors => "short_conductors",
            Self::MixedNeutral => "mixed_neutral",
        }
    }
}

/// Where a protection sits.
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
pub enum ProtectionAt {
    /// In the breaker: a new panel needs such a breaker again.
    Breaker,
    /// In a device of the circuit: it stays when the panel goes.
    Outlet,
}

/// What a circuit is for.
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
pub enum Purpose {
    /// General lighting and receptacles.
    #[default]
    General,
    /// Kitchen, pantry, dining receptacles at 20 A.
    SmallAppliance,
    /// Laundry receptacles at 20 A.
    Laundry,
    /// Bathroom receptacles.
    Bathroom,
    /// Garage receptacles.
    Garage,
    /// One appliance or machine.
    Individual,
    /// Vehicle charging.
    VehicleCharging,
    /// Smoke alarms, on their own.
    SmokeAlarms,
    /// Kept for later.
    Spare,
}

/// What cannot be dark for long.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Critical {
    /// Why, for example `sump pump`.
    pub why: String,
    /// Longest dark time the household can bear.
    #[serde(default)]
    pub longest_dark: Fact<Hours>,
}

/// What makes work on a circuit dangerous or slow.
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
pub enum Hazard {
    /// 12 or 10 AWG solid aluminum.
    AluminumBranch,
    /// Knob-and-tube.
    KnobAndTube,
    /// Insulation that cracks when moved.
    BrittleInsulation,
    /// Two-wire without ground.
    Ungrounded,
    /// Conductors scorched or overheated.
    Overheated,
    /// Too short to reach another space.
    ShortConductors,
    /// Fed from two boards, or its neutral is mixed with another circuit.
    MixedNeutral,
}
