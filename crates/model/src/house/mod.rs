//! One picture of a house: boards, feeders, circuits, loads, sources, places. A job holds two of them.
//!
//! Everything has a stable name, so that the difference of two pictures is the scope of the work.

mod board;
mod circuit;
mod dwelling;
mod face;
mod feeder;
mod load;
mod path;
mod stated;
mod supply;
mod wall;

use serde::{Deserialize, Serialize};

pub use board::{
    Board, Cabinet, Leaves, Leg, LegRows, MainKind, Mounting, OldCabinet, WorkingSpace,
};
pub use circuit::{Circuit, Critical, Hazard, Protection, ProtectionAt, Purpose};
pub use dwelling::{Dwelling, DwellingKind, MeasuredDemand, System};
pub use face::{Device, DeviceKind, Entry, Numbering, Side};
pub use feeder::{Feeder, UTILITY};
pub use load::{Load, LoadKind};
pub use stated::{Stated, StatedFacts};
pub use supply::{
    Building, Electrode, ElectrodeKind, Grounding, Outlet, Source, SourceKind, Supply, Transformer,
};
pub use wall::{Obstacle, PlanPoint, Runs, Stretch, Wall};

use crate::fact::Fact;
use crate::id::{BoardId, BuildingId, CircuitId, FeederId, LoadId, OutletId, SourceId};
use crate::map::Map;
use crate::units::Inches;

/// One picture of the house.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct House {
    /// The dwelling.
    #[serde(default)]
    pub dwelling: Dwelling,
    /// The utility's side.
    #[serde(default)]
    pub supply: Supply,
    /// Electrodes and bonding.
    #[serde(default)]
    pub grounding: Grounding,
    /// Buildings apart from the main one.
    #[serde(default)]
    pub buildings: Map<BuildingId, Building>,
    /// Boards.
    #[serde(default)]
    pub boards: Map<BoardId, Board>,
    /// Feeders and service conductors.
    #[serde(default)]
    pub feeders: Map<FeederId, Feeder>,
    /// Branch circuits.
    #[serde(default)]
    pub circuits: Map<CircuitId, Circuit>,
    /// Loads.
    #[serde(default)]
    pub loads: Map<LoadId, Load>,
    /// Outlets that matter by themselves.
    #[serde(default)]
    pub outlets: Map<OutletId, Outlet>,
    /// Sources besides the utility.
    #[serde(default)]
    pub sources: Map<SourceId, Source>,
    /// Walls by the names that positions use.
    #[serde(default)]
    pub walls: Map<String, Wall>,
    /// Where cables run from one wall to another. Left out, above the ceiling is taken and said.
    #[serde(default)]
    pub runs: Fact<Runs>,
}

/// A place on a wall.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Point {
    /// Name of the wall.
    pub wall: String,
    /// From the wall's left end.
    pub x: Inches,
    /// Above the floor.
    pub y: Inches,
}
