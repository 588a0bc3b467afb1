//! A board: panelboard, disconnect or meter combination, as surveyed and as planned.
//! Source: survey and label. Its role (service or feeder-fed) is never entered; the supply tree tells.

use serde::{Deserialize, Serialize};

use super::{Device, Numbering, Point, StatedFacts};
use crate::fact::Fact;
use crate::id::{BuildingId, DeviceId};
use crate::map::Map;
use crate::units::{Amperes, Celsius, Inches};

/// One board.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Board {
    /// Words for papers, for example `hall panel`.
    #[serde(default)]
    pub name: String,
    /// Building it is in, when that is not the main building.
    #[serde(default)]
    pub building: Option<BuildingId>,
    /// Bus rating.
    #[serde(default)]
    pub bus: Fact<Amperes>,
    /// How the supply lands on the bus.
    #[serde(default)]
    pub main: Fact<MainKind>,
    /// Rating of the main breaker, when there is one.
    #[serde(default)]
    pub main_amps: Fact<Amperes>,
    /// Full-size spaces.
    #[serde(default)]
    pub spaces: Fact<u32>,
    /// Poles the label allows, tandems counted per pole.
    #[serde(default)]
    pub poles_listed: Fact<u32>,
    /// Spaces whose label allows a tandem breaker; an empty list means none.
    #[serde(default)]
    pub tandem_spaces: Fact<Vec<u32>>,
    /// Leg of each row of spaces from the top, for example `"ABAB"`, repeated downwards. A fact of the board.
    #[serde(default)]
    pub leg_rows: Fact<LegRows>,
    /// How its spaces are numbered.
    #[serde(default)]
    pub numbering: Numbering,
    /// What takes spaces besides circuits: surge protector, monitor, back-fed main.
    #[serde(default)]
    pub devices: Map<DeviceId, Device>,
    /// After picture only: spaces to be left free for later.
    #[serde(default)]
    pub spare_spaces: Option<u32>,
    /// Terminals on the neutral bars.
    #[serde(default)]
    pub neutral_terminals: Fact<u32>,
    /// An equipment grounding bar is in place and bonded to the cabinet.
    #[serde(default)]
    pub ground_bar: Fact<bool>,
    /// The neutral is bonded to the cabinet or to equipment grounds here.
    #[serde(default)]
    pub neutral_bonded: Fact<bool>,
    /// Short-circuit rating: the lowest of board mark and breakers, or a marked series rating.
    #[serde(default)]
    pub short_circuit_rating: Fact<Amperes>,
    /// Terminal temperature rating, the lowest of the terminals that matter.
    #[serde(default)]
    pub terminals: Fact<Celsius>,
    /// Cabinet.
    #[serde(default)]
    pub cabinet: Cabinet,
    /// What kind of place it stands in; tags of the fact dictionary.
    #[serde(default)]
    pub location: Fact<Vec<String>>,
    /// Working space in front.
    #[serde(default)]
    pub working_space: WorkingSpace,
    /// Lower left corner of the cabinet on its wall.
    #[serde(default)]
    pub position: Option<Point>,
    /// Floor area of the dwelling whose general lighting and receptacles this board and those below it carry.
    /// Leave out where the board carries the entire dwelling.
    #[serde(default)]
    pub area_served: Fact<crate::units::SquareFeet>,
    /// After picture only: the board is replaced by a new one.
    #[serde(default)]
    pub replaced: bool,
    /// After picture only: only the interior is new, the cabinet stays.
    #[serde(default)]
    pub interior_only: bool,
    /// After picture only: what becomes of the old cabinet of a board that moves.
    #[serde(default)]
    pub old_cabinet: Fact<OldCabinet>,
    /// After picture only: length along framing from the old cabinet to the new one, outside both.
    /// Left out, it is worked out from the two positions when they are on one wall.
    #[serde(default)]
    pub route_from_old: Fact<Inches>,
    /// After picture only: conductor length inside old and new cabinet together, per extended circuit.
    #[serde(default)]
    pub make_up: Fact<Inches>,
    /// After picture only: the board is taken out.
    #[serde(default)]
    pub gone: bool,
    /// Further facts by their dictionary name (`panel.`, `old.`, `limited.`, without the prefix).
    #[serde(default)]
    pub facts: StatedFacts,
    /// Facts that hold for every circuit of the board which does not speak of them itself (`circuit.`, without the prefix).
    #[serde(default)]
    pub circuit_facts: StatedFacts,
}

/// How the supply lands on a bus.
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
pub enum MainKind {
    /// A main breaker in its own place.
    MainBreaker,
    /// Main lugs only.
    MainLugs,
    /// A branch-type breaker fed backwards.
    BackfedBreaker,
    /// Lugs fed through from another board's bus.
    FeedThrough,
}

/// Legs of the rows of spaces, top row first.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(try_from = "String", into = "String")]
#[schemars(with = "String")]
pub struct LegRows(Vec<Leg>);

/// One of the two ungrounded legs.
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
pub enum Leg {
    /// First leg.
    A,
    /// Second leg.
    B,
}

impl LegRows {
    /// Leg of a row counted from 0 at the top; the pattern repeats downwards.
    #[must_use]
    pub fn of_row(&self, row: usize) -> Leg {
        self.0[row % self.0.len()]
    }
}

impl TryFrom<String> for LegRows {
    type Error = String;
    fn try_from(text: String) -> Result<Self, String> {
        let rows: Option<Vec<Leg>> = text
            .chars()
            .map(|c| match c {
                'A' => Some(Leg::A),
                'B' => Some(Leg::B),
                _ => None,
            })
            .collect();
        match rows {
            Some(rows) if !rows.is_empty() && rows.len() <= 100 => Ok(Self(rows)),
            _ => Err(
                "legs of the rows are written with the letters A and B, for example \"AB\""
                    .to_owned(),
            ),
        }
    }
}

impl From<LegRows> for String {
    fn from(rows: LegRows) -> Self {
        rows.0
            .iter()
            .map(|leg| if *leg == Leg::A { 'A' } else { 'B' })
            .collect()
    }
}

/// The box around a board.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Cabinet {
    /// Outside width.
    #[serde(default)]
    pub width: Fact<Inches>,
    /// Outside height.
    #[serde(default)]
    pub height: Fact<Inches>,
    /// Outside depth.
    #[serde(default)]
    pub depth: Fact<Inches>,
    /// Width of the side gutter between interior and wall of the cabinet.
    #[serde(default)]
    pub gutter: Fact<Inches>,
    /// Room between the lugs of the supply conductors and the wall they face.
    #[serde(default)]
    pub lug_space: Fact<Inches>,
    /// How the supply conductors leave the cabinet.
    #[serde(default)]
    pub supply_leaves: Fact<Leaves>,
    /// Flush or surface.
    #[serde(default)]
    pub mounting: Fact<Mounting>,
    /// The wall it is set in is combustible.
    #[serde(default)]
    pub combustible_wall: Fact<bool>,
}

/// Which wall of a cabinet a conductor leaves by, seen from its terminal.
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
pub enum Leaves {
    /// Not through the wall opposite its terminal: it turns.
    Turning,
    /// Through the wall opposite its terminal.
    Opposite,
}

/// How a cabinet sits in the wall.
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
pub enum Mounting {
    /// In the wall.
    Flush,
    /// On the wall.
    Surface,
}

/// Clear space in front of a board.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WorkingSpace {
    /// Clear depth in front.
    #[serde(default)]
    pub depth: Fact<Inches>,
    /// Clear width.
    #[serde(default)]
    pub width: Fact<Inches>,
    /// Clear height from the floor.
    #[serde(default)]
    pub height: Fact<Inches>,
    /// Center of the highest breaker handle above the floor.
    #[serde(default)]
    pub highest_handle: Fact<Inches>,
}

/// What becomes of the cabinet that a board leaves.
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
pub enum OldCabinet {
    /// Taken out; cables are pulled back and run to the new place.
    Removed,
    /// Stays as an accessible splice box.
    SpliceBox,
}
