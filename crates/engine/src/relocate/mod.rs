//! Where to put the new panel: what does each place along each wall bring with it, and which legal one is cheapest?
//! Sources: geometry of the job's walls, the length rules of [`model::scope`], and the requirements of the rulebook, judged by the same check
//! as everywhere. Inches along walls and framing, hours of one person, US dollars.
//!
//! - [`request`]: which board, walls, step, height and ways; [`setting`]: does the cabinet fit, and what lies in front of it;
//! - [`stage`]: the job with the board at a place; [`runs`]: how much longer each cable gets, and where along a wall that changes its course;
//! - [`judged`]: the requirements at a place, one check for all places that no requirement can tell apart;
//! - [`limits`]: the numbers that requirements hold lengths against; [`work`]: what a place asks for, counted;
//! - [`changes`]: the places worth to look at; [`along`]: one wall from end to end; [`cliff`]: where price or legality jump on it; [`mod@sweep`]: all walls and the best place;
//! - [`sheet`]: the best place, line by line.
//!
//! Every length is a piecewise linear function of the place along a wall, and a requirement sees a length only through the numbers it is held
//! against. So the places where a verdict can change are worked out exactly and looked at besides the grid, with a place 1/64 in on
//! either side of each.

mod along;
mod changes;
pub mod cliff;
mod cost;
mod judged;
mod limits;
mod request;
mod runs;
mod setting;
mod sheet;
mod stage;
pub mod sweep;
mod words;
mod work;

use model::Dollars;
use model::house::{OldCabinet, Point};
use model::units::{Feet, Hours, Inches};
use rulebook::Cite;
use serde::Serialize;

use crate::worksheet::{Text, Worksheet};

pub use cliff::{Cliff, Step};
pub use cost::Costing;
pub use judged::{Asked, Judged};
pub use request::{CannotSweep, Request};
pub use runs::{FeederRun, FeederWork};
pub use setting::Refusal;
pub use sheet::{Group, grouped, worksheet};
pub use sweep::{placed, sweep};
pub use words::signed;
pub use work::{Cable, Laid, Work};

/// From the least that can be to the most, while facts are unknown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "SpanOf{T}")]
pub struct Span<T> {
    /// If every open question is answered well.
    pub low: T,
    /// If none is.
    pub high: T,
}

impl<T: Copy> Span<T> {
    /// A value that nothing unknown can change.
    #[must_use]
    pub const fn exactly(value: T) -> Self {
        Self {
            low: value,
            high: value,
        }
    }
}

/// What the work of a place costs.
#[derive(Clone, Debug, Default, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "PlaceCost")]
pub struct Cost {
    /// Time of one person.
    pub hours: Span<Hours>,
    /// Material, as the shop buys it.
    pub material: Span<Dollars>,
    /// What the customer pays for it.
    pub price: Span<Dollars>,
    /// Parts and work that the price book has no figure for: with any of them the price is incomplete.
    pub unpriced: Vec<String>,
}

impl std::ops::Add for Cost {
    type Output = Self;
    fn add(mut self, other: Self) -> Self {
        self.hours.low += other.hours.low;
        self.hours.high += other.hours.high;
        self.material.low += other.material.low;
        self.material.high += other.material.high;
        self.price.low += other.price.low;
        self.price.high += other.price.high;
        for part in other.unpriced {
            if !self.unpriced.contains(&part) {
                self.unpriced.push(part);
            }
        }
        self
    }
}

/// Tells what counted work costs. [`Costing`] does so by a price book.
pub trait Pricing {
    /// What lengthening, boxes and feeders cost.
    fn work(&self, work: &Work<'_>) -> Cost;
    /// What requirements ask for costs: at least the sure ones, at most all.
    fn asked(&self, asked: &[Asked]) -> Cost;
}

/// What becomes of the old cabinet at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, schemars::JsonSchema)]
#[schemars(rename = "OldCabinetWay")]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// It stays as a splice box, and every circuit runs on from it.
    SpliceBox,
    /// It goes; cables are pulled back and run to the new place, and lengthened in a new box where they do not reach.
    Removed,
    /// The new panel goes where the old one was.
    InPlace,
}

impl From<OldCabinet> for Way {
    fn from(old: OldCabinet) -> Self {
        match old {
            OldCabinet::SpliceBox => Self::SpliceBox,
            OldCabinet::Removed => Self::Removed,
        }
    }
}

/// May a panel be put there?
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "snake_case", tag = "is", content = "because")]
pub enum Legality {
    /// Nothing speaks against it.
    Legal,
    /// Nothing known speaks against it, but these requirements about the place cannot be told yet.
    Open(Vec<Asked>),
    /// It does not fit, or a requirement forbids it.
    No(Vec<Refusal>),
}

impl Legality {
    /// Nothing known speaks against it.
    #[must_use]
    pub const fn is_possible(&self) -> bool {
        !matches!(self, Self::No(_))
    }
}

/// How many circuits are lengthened beyond a number that a requirement holds lengths against.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Beyond {
    /// The number.
    pub limit: Inches,
    /// Circuits lengthened by more than it, at least and, while lengths are unknown, at most.
    pub circuits: Span<u32>,
}

/// One place for the panel.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "PanelPlace")]
pub struct Candidate {
    /// Lower left corner of the cabinet.
    pub at: Point,
    /// What becomes of the old cabinet.
    pub way: Way,
    /// It is a place of the grid; else one where something changes, or just beside one.
    pub on_grid: bool,
    /// May a panel be put there?
    pub legality: Legality,
    /// Circuits that are lengthened.
    pub extended: Span<u32>,
    /// Sets of splices: in the old cabinet where that stays, else in new boxes.
    pub splices: Span<u32>,
    /// New boxes for them.
    pub boxes: Span<u32>,
    /// Length added outside enclosures, all circuits together.
    pub added_outside: Span<Feet>,
    /// The same with what lies inside cabinets, where that is known of every circuit.
    pub added_total: Option<Feet>,
    /// Circuits beyond each number that a requirement holds lengths against.
    pub beyond: Vec<Beyond>,
    /// Requirements that this place brings up and the old place does not, or may bring up.
    pub asked: usize,
    /// Which of [`Sweep::judged`] holds here.
    pub judged: usize,
    /// Feeders that change in length.
    pub feeders: Vec<FeederRun>,
    /// What it costs.
    pub cost: Cost,
}

/// All places along one wall, with one thing becoming of the old cabinet.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
pub struct WallSweep {
    /// The wall.
    pub wall: String,
    /// Its length.
    pub length: Inches,
    /// What becomes of the old cabinet.
    pub way: Way,
    /// Places from left to right.
    pub places: Vec<Candidate>,
    /// Where price or legality jump, from left to right.
    pub cliffs: Vec<Cliff>,
    /// The cheapest possible place here, by its number in `places`.
    pub best: Option<usize>,
}

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Sweep {
    /// The board.
    pub board: String,
    /// Where it stands now.
    pub old: Option<Point>,
    /// Size of the new cabinet: width and height.
    pub cabinet: (Inches, Inches),
    /// Height of the highest handle at these places, or the most it can be.
    pub highest_handle: Option<Inches>,
    /// Width and height of the working space that the edition asks for, where its tables have them.
    pub working_space: (Inches, Inches),
    /// Step of the grid.
    pub step: Inches,
    /// The new panel at the old place, for comparison; its legality is part of the answer.
    pub in_place: Candidate,
    /// Each wall, each way.
    pub walls: Vec<WallSweep>,
    /// The cheapest place that nothing known speaks against: its number in `walls` and there in `places`.
    pub best: Option<(usize, usize)>,
    /// The cheapest place without an open question about the place itself.
    pub best_sure: Option<(usize, usize)>,
    /// Verdicts, one entry for all places that no requirement can tell apart.
    pub judged: Vec<Judged>,
    /// What was taken where the job leaves a gap, and what is not counted, in words.
    pub said: Vec<Text>,
    /// Places looked at, of the grid and in all.
    pub looked_at: (usize, usize),
}

impl Sweep {
    /// The cheapest place that nothing known speaks against.
    #[must_use]
    pub fn best(&self) -> Option<&Candidate> {
        self.place(self.best?)
    }

    /// The cheapest place without an open question about the place itself.
    #[must_use]
    pub fn best_sure(&self) -> Option<&Candidate> {
        self.place(self.best_sure?)
    }

    fn place(&self, (wall, place): (usize, usize)) -> Option<&Candidate> {
        self.walls.get(wall)?.places.get(place)
    }

    /// The verdicts at a place.
    #[must_use]
    pub fn judged(&self, at: &Candidate) -> Option<&Judged> {
        self.judged.get(at.judged)
    }
}

/// The answer with the worksheet of the best place.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Moved {
    /// All places.
    pub sweep: Sweep,
    /// The best one, line by line.
    pub worksheet: Worksheet,
}

/// A length as a tape reads it, to the sixteenth of an inch, for example `6 ft 9 3/4 in`.
#[must_use]
pub fn tape(length: Inches) -> String {
    let sixteenths = (length.0.abs() * 16.0).round() as u64;
    let sign = if length.0 < 0.0 && sixteenths > 0 {
        "-"
    } else {
        ""
    };
    let (feet, rest) = (sixteenths / 192, sixteenths % 192);
    let (inches, mut part) = (rest / 16, rest % 16);
    let mut of = 16;
    while part > 0 && part.is_multiple_of(2) {
        (part, of) = (part / 2, of / 2);
    }
    let fraction = (part > 0).then(|| format!("{part}/{of}"));
    let whole = (inches > 0 || (feet == 0 && part == 0)).then(|| inches.to_string());
    let inches: Vec<String> = whole.into_iter().chain(fraction).collect();
    match (feet, inches.is_empty() || inches == ["0"]) {
        (0, _) => format!("{sign}{} in", inches.join(" ")),
        (feet, true) => format!("{sign}{feet} ft"),
        (feet, false) => format!("{sign}{feet} ft {} in", inches.join(" ")),
    }
}

/// A requirement's section, where it has one, ready to print.
pub(crate) fn section(cite: Option<&Cite>) -> String {
    cite.map(|c| c.section.to_string()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tape_is_read_in_feet_inches_and_sixteenths() {
        let read = |length| tape(Inches(length));
        assert_eq!(read(81.75), "6 ft 9 3/4 in");
        assert_eq!(read(68.0), "5 ft 8 in");
        assert_eq!(read(72.0), "6 ft");
        assert_eq!(read(72.5), "6 ft 1/2 in");
        assert_eq!(read(0.0), "0 in");
        assert_eq!(read(-0.0625), "-1/16 in");
        assert_eq!(read(11.99), "1 ft");
    }
}
