//! A wall a panel may stand on: how long and high it is, what is in the way, what kind of place lies in front of it.
//! Source: survey. Inches; along the wall from its left end as one faces it, upwards from the floor.

use serde::{Deserialize, Serialize};

use super::StatedFacts;
use crate::fact::Fact;
use crate::units::Inches;

/// One wall.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Wall {
    /// Left end on the floor plan, as one faces the wall.
    #[serde(default)]
    pub from: Option<PlanPoint>,
    /// Right end on the floor plan.
    #[serde(default)]
    pub to: Option<PlanPoint>,
    /// Length, where there is no floor plan.
    #[serde(default)]
    pub length: Option<Inches>,
    /// The wall on whose other side it is: cables pass straight through the studs they share. Both need their ends on the floor plan.
    #[serde(default)]
    pub back_of: Option<String>,
    /// Clear height from floor to ceiling.
    #[serde(default)]
    pub height: Fact<Inches>,
    /// Height of its floor over the job's lowest floor; 0 in a house on one level.
    #[serde(default)]
    pub floor: Inches,
    /// What kind of place lies in front of it; tags of the fact dictionary, as for the location of a board.
    #[serde(default)]
    pub location: Fact<Vec<String>>,
    /// Clear depth straight out from its face.
    #[serde(default)]
    pub clear_depth: Fact<Inches>,
    /// The wall goes on or ends free at its left: the space in front of it is not closed by a corner there.
    #[serde(default)]
    pub open_left: bool,
    /// The same at its right.
    #[serde(default)]
    pub open_right: bool,
    /// What is in it, on it or opposite.
    #[serde(default)]
    pub obstacles: Vec<Obstacle>,
    /// Stretches where another kind of place lies in front, or where no panel may go for a reason of the house.
    #[serde(default)]
    pub stretches: Vec<Stretch>,
    /// Facts about any panel on this wall by their dictionary name (`panel.`, without the prefix), for example `ws_lit`.
    #[serde(default)]
    pub facts: StatedFacts,
}

/// A point on the floor plan.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlanPoint {
    /// Across the plan.
    pub x: Inches,
    /// Up the plan.
    pub y: Inches,
}

/// Something in, on or opposite a wall.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Obstacle {
    /// What it is, for example `bathroom door`.
    pub what: String,
    /// Its left edge along the wall.
    pub from: Inches,
    /// Its right edge along the wall.
    pub to: Inches,
    /// Its lower edge above the floor.
    #[serde(default)]
    pub bottom: Inches,
    /// Its upper edge above the floor. Left out, it reaches the ceiling.
    #[serde(default)]
    pub top: Option<Inches>,
    /// How far it stands out from the wall, or a door leaf sweeps in front of it. 0 is in the wall: a doorway, a window, a pipe.
    #[serde(default)]
    pub stands_out: Inches,
    /// Where it stands opposite the wall: the clear distance to it. 0 is at the wall.
    #[serde(default)]
    pub opposite_at: Inches,
}

/// A part of a wall.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Stretch {
    /// Its left end along the wall.
    pub from: Inches,
    /// Its right end along the wall.
    pub to: Inches,
    /// What lies in front of it besides what lies in front of the wall; tags of the fact dictionary, for example `over_stair_steps`.
    #[serde(default)]
    pub location: Vec<String>,
    /// Why no panel may go there, where that is not a matter of the code, for example `tile the customer wants kept`.
    #[serde(default)]
    pub kept_free: Option<String>,
}

/// Where cables run from one wall to another.
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
pub enum Runs {
    /// Over the ceiling: attic, joists, truss space.
    Above,
    /// Under the floor: crawl space or basement.
    Below,
}

impl Wall {
    /// Length along the floor: of the plan, else as given.
    #[must_use]
    pub fn length(&self) -> Option<Inches> {
        match (self.from, self.to) {
            (Some(a), Some(b)) => {
                let (x, y) = ((b.x - a.x).0, (b.y - a.y).0);
                Some(Inches((x * x + y * y).sqrt()).to_the_millionth())
            }
            _ => self.length,
        }
    }

    /// Place on the floor plan of a point `x` along the wall.
    #[must_use]
    pub fn on_plan(&self, x: Inches) -> Option<PlanPoint> {
        let (from, to, length) = (self.from?, self.to?, self.length()?);
        if length.0 <= 0.0 {
            return None;
        }
        let share = x.0 / length.0;
        Some(PlanPoint {
            x: from.x + (to.x - from.x) * share,
            y: from.y + (to.y - from.y) * share,
        })
    }

    /// Height over the job's lowest floor at which cables leave the wall: its ceiling or its floor.
    #[must_use]
    pub fn level(&self, runs: Runs) -> Option<Inches> {
        match runs {
            Runs::Above => self.height.get().map(|h| self.floor + h),
            Runs::Below => Some(self.floor),
        }
    }
}
