//! What has to go into a board, and what may go where?
//! Source: the board's label and the survey; see [`super::build`] for how a job becomes this. Whole volt-amperes, whole inches.

use model::house::Leg;
use serde::{Deserialize, Serialize};

/// Most spaces of one board that are worked on.
pub const MOST_SPACES: usize = 120;

/// Load, rounded to whole volt-amperes so that sums are exact.
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
pub struct WholeVa(pub i64);

/// Length, rounded to whole inches so that sums are exact.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
pub struct WholeInches(pub i64);

/// One full-size space.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Space {
    /// Number on the label.
    pub number: u32,
    /// Column, from the left.
    pub column: u8,
    /// Row, from the top.
    pub row: u16,
    /// Leg its stab is on.
    pub leg: Leg,
    /// The label allows a tandem breaker here.
    pub tandem: bool,
}

/// One circuit's conductor on one pole.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pole {
    /// Circuit, feeder, source or device it belongs to.
    pub circuit: String,
    /// Load it puts on its leg.
    pub load: WholeVa,
    /// Part of it that is continuous.
    pub continuous: WholeVa,
}

/// A circuit's cable: where its conductors end, how long they are, where they were.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Cable {
    /// Length from the cable's entry to each space, in the order of [`Problem::spaces`]; empty when the entry is not known.
    pub distance: Vec<WholeInches>,
    /// Free conductor from the entry, when known.
    pub free: Option<WholeInches>,
    /// Numbers of the spaces it had in this board, highest first; empty for a new circuit.
    pub old: Vec<u32>,
}

/// Sorts of things that take spaces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Form {
    /// One pole in one space.
    Single,
    /// One pole that may also be half of a tandem breaker where the label allows one.
    Half,
    /// Two poles of one circuit: two spaces, one above the other, on opposite legs.
    Double,
    /// Two circuits that share a neutral: as [`Form::Double`], either of them on top.
    Tied,
    /// A device that takes spaces but no load: any spaces one above the other.
    Module,
}

/// One breaker or device.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Item {
    /// Name: the circuit, both circuits of a tied pair, or the device.
    pub id: String,
    /// Sort.
    pub form: Form,
    /// Spaces it takes, one above the other.
    pub width: u8,
    /// Its poles: one, two, or none for a module.
    pub poles: Vec<Pole>,
    /// One cable, or two for a tied pair whose circuits come in two cables, in the order of `poles`; none for a device.
    pub cables: Vec<Cable>,
    /// Numbers of the spaces its top may be in; `None` when any will do.
    pub allowed: Option<Vec<u32>>,
    /// Carries much continuous load, so that it should not touch another of its sort.
    pub heavy: bool,
}

/// A whole board.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Problem {
    /// Name of the board.
    pub board: String,
    /// Its spaces, by column and then by row.
    pub spaces: Vec<Space>,
    /// Everything that needs a place.
    pub items: Vec<Item>,
    /// Spaces to be left free.
    pub spare: u32,
}

impl Problem {
    /// Index of the space right below another one in the same column.
    #[must_use]
    pub fn below(&self, space: usize) -> Option<usize> {
        let here = self.spaces.get(space)?;
        let next = self.spaces.get(space + 1)?;
        (next.column == here.column && next.row == here.row + 1).then_some(space + 1)
    }

    /// Index of the space with this number.
    #[must_use]
    pub fn index(&self, number: u32) -> Option<usize> {
        self.spaces.iter().position(|s| s.number == number)
    }

    /// Full-size spaces that everything would take without tandem breakers.
    #[must_use]
    pub fn width(&self) -> u32 {
        self.items.iter().map(|i| u32::from(i.width)).sum()
    }
}

/// Where an item sits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Seat {
    /// Index in [`Problem::spaces`] of its topmost space.
    pub space: usize,
    /// It is half of a tandem breaker.
    pub half: bool,
    /// A tied pair with its second circuit on top.
    pub turned: bool,
}

/// What a layout is judged by, in strict order: the first difference decides. Less is better.
#[derive(
    Clone,
    Copy,
    Debug,
    Default,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Serialize,
    Deserialize,
    schemars::JsonSchema,
)]
#[schemars(rename = "FaceScore")]
pub struct Score {
    /// Tandem halves used.
    pub tandem_halves: i64,
    /// Difference between the legs' loads, VA.
    pub imbalance: i64,
    /// Difference between the legs' continuous loads, VA.
    pub continuous: i64,
    /// Inches by which conductors do not reach their spaces.
    pub shortfall: i64,
    /// Inches from the cables' entries to their spaces.
    pub reach: i64,
    /// Circuits that leave their old position.
    pub moves: i64,
    /// Heavily loaded continuous breakers that touch.
    pub touching: i64,
    /// Free spaces that are not part of a whole free pair.
    pub odd_spares: i64,
}

/// Names of the levels of a [`Score`], in order.
pub const LEVELS: [&str; 8] = [
    "tandem halves",
    "imbalance of the legs",
    "imbalance of continuous load",
    "conductors too short",
    "total reach",
    "changes of position",
    "heavy continuous breakers that touch",
    "spare spaces outside a whole pair",
];

/// Units of the levels of a [`Score`], in order.
pub const LEVEL_UNITS: [&str; 8] = ["", "VA", "VA", "in", "in", "", "", ""];

impl Score {
    /// The levels in order.
    #[must_use]
    pub const fn levels(&self) -> [i64; 8] {
        [
            self.tandem_halves,
            self.imbalance,
            self.continuous,
            self.shortfall,
            self.reach,
            self.moves,
            self.touching,
            self.odd_spares,
        ]
    }
}
