//! Where the new panel goes. Inches, feet, US dollars.

use editing::Edit;
use editing::place::PanelPlace;
use engine::relocate::{Candidate, Cliff, Judged, Moved, Sweep, WallSweep, Way};
use engine::worksheet::{Text, Worksheet};
use model::house::Point;
use model::units::Inches;
use schemars::JsonSchema;
use serde::Serialize;

/// Every place along every wall.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Places<'r> {
    /// The places.
    #[serde(rename = "move")]
    sweep: SweepOfPlaces<'r>,
    /// The best place, line by line.
    worksheets: [&'r Worksheet; 1],
}

/// The sweep, each place with the edits that put the panel there.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(rename = "Sweep")]
pub struct SweepOfPlaces<'r> {
    /// The board.
    board: &'r str,
    /// Where it stands now.
    old: Option<&'r Point>,
    /// Size of the new cabinet: width and height.
    cabinet: (Inches, Inches),
    /// Height of the highest handle at these places, or the most it can be.
    highest_handle: Option<Inches>,
    /// Width and height of the working space that the edition asks for, where its tables have them.
    working_space: (Inches, Inches),
    /// Step of the grid.
    step: Inches,
    /// The new panel at the old place, for comparison; its legality is part of the answer.
    in_place: PlaceOfSweep<'r>,
    /// Each wall, each way.
    walls: Vec<WallOfSweep<'r>>,
    /// The cheapest place that nothing known speaks against: its number in `walls` and there in `places`.
    best: Option<(usize, usize)>,
    /// The cheapest place without an open question about the place itself.
    best_sure: Option<(usize, usize)>,
    /// Verdicts, one entry for all places that no requirement can tell apart.
    judged: &'r [Judged],
    /// What was taken where the job leaves a gap, and what is not counted, in words.
    said: &'r [Text],
    /// Places looked at, of the grid and in all.
    looked_at: (usize, usize),
}

/// All places along one wall, with one thing becoming of the old cabinet.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(rename = "WallSweep")]
pub struct WallOfSweep<'r> {
    /// The wall.
    wall: &'r str,
    /// Its length.
    length: Inches,
    /// What becomes of the old cabinet.
    way: Way,
    /// Places from left to right.
    places: Vec<PlaceOfSweep<'r>>,
    /// Where price or legality jump, from left to right.
    cliffs: &'r [Cliff],
    /// The cheapest possible place here, by its number in `places`.
    best: Option<usize>,
}

/// One place for the panel.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(rename = "PanelPlace")]
pub struct PlaceOfSweep<'r> {
    /// What the sweep saw.
    #[serde(flatten)]
    candidate: &'r Candidate,
    /// What puts the panel there.
    edits: [Edit; 1],
}

/// The documented form.
#[must_use]
pub fn of(moved: &Moved) -> Places<'_> {
    let Sweep {
        board,
        old,
        cabinet,
        highest_handle,
        working_space,
        step,
        in_place,
        walls,
        best,
        best_sure,
        judged,
        said,
        looked_at,
    } = &moved.sweep;
    let sweep = SweepOfPlaces {
        board,
        old: old.as_ref(),
        cabinet: *cabinet,
        highest_handle: *highest_handle,
        working_space: *working_space,
        step: *step,
        in_place: place(board, in_place),
        walls: walls.iter().map(|w| wall(board, w)).collect(),
        best: *best,
        best_sure: *best_sure,
        judged,
        said,
        looked_at: *looked_at,
    };
    Places {
        sweep,
        worksheets: [&moved.worksheet],
    }
}

fn wall<'r>(board: &str, wall: &'r WallSweep) -> WallOfSweep<'r> {
    WallOfSweep {
        wall: &wall.wall,
        length: wall.length,
        way: wall.way,
        places: wall.places.iter().map(|c| place(board, c)).collect(),
        cliffs: &wall.cliffs,
        best: wall.best,
    }
}

fn place<'r>(board: &str, candidate: &'r Candidate) -> PlaceOfSweep<'r> {
    PlaceOfSweep {
        candidate,
        edits: [Edit::Place {
            at: ["after", "boards", board].map(str::to_owned).to_vec(),
            place: PanelPlace {
                wall: candidate.at.wall.clone(),
                x: candidate.at.x.0,
                way: candidate.way.into(),
            },
        }],
    }
}
