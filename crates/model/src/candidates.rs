//! Where a panel might go: which walls are tried, how finely, at which height, and what may become of the old cabinet.
//! Source: the contractor's own choice for this job. Inches.

use serde::{Deserialize, Serialize};

use crate::house::OldCabinet;
use crate::id::BoardId;
use crate::units::Inches;

/// What a sweep of places tries. Everything may be left out.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Candidates {
    /// Board that is to move. Left out, the only board that the after picture moves.
    #[serde(default)]
    pub board: Option<BoardId>,
    /// Walls to try. Left out, every wall of the after picture.
    #[serde(default)]
    pub walls: Vec<String>,
    /// Step along a wall.
    #[serde(default)]
    pub step: Option<Inches>,
    /// Lower edge of the cabinet above the floor. Left out, that of the planned position, else that of the old one.
    #[serde(default)]
    pub bottom: Option<Inches>,
    /// What may become of the old cabinet. Left out, what the after picture plans, else both ways are tried.
    #[serde(default)]
    pub old_cabinet: Vec<OldCabinet>,
    /// Farthest along framing from the old place.
    #[serde(default)]
    pub farthest: Option<Inches>,
}

/// Finest step along a wall.
pub const FINEST_STEP: Inches = Inches(0.25);
