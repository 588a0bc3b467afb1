//! The face of a board. Volt-amperes, inches.

use std::collections::BTreeMap;

use editing::Edit;
use engine::face::{Change, CircuitLoad, Face, Legs, Occupant, Proof, Score, Size};
use engine::worksheet::Worksheet;
use model::Job;
use model::house::Leg;
use schemars::JsonSchema;
use serde::Serialize;

/// Which circuit goes in which space.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FaceOfBoard<'r> {
    board: &'r str,
    /// There is a layout.
    fits: bool,
    /// Why not, where there is none.
    why_not: Option<String>,
    /// What would help where nothing fits, each tried out.
    changes_that_fit: &'r [Change],
    spaces: Vec<SpaceOnFace>,
    /// Legs before the work, where positions and legs are known.
    before: Option<LegsBefore<'r>>,
    after: Option<LegsAfter>,
    /// How good the layout is; less is better, in strict order.
    score: Option<Score>,
    /// What is proven of it, level by level.
    proofs: Option<&'r [Proof]>,
    /// Spaces counted, and the box that holds them.
    size: &'r Size,
    /// Load of each circuit, by name.
    loads: &'r BTreeMap<String, CircuitLoad>,
    /// What was taken for granted, and what is not known.
    said: &'r [String],
    /// What puts this layout into the picture after the work.
    edits: Vec<Edit>,
    worksheets: [&'r Worksheet; 1],
}

/// A space.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SpaceOnFace {
    /// Number on the label.
    number: u32,
    /// Column, from the left.
    column: u8,
    /// Row, from the top.
    row: u16,
    /// Leg its stab is on.
    leg: Leg,
    /// The label allows a tandem breaker here.
    tandem_allowed: bool,
    /// What sits in it; two halves of a tandem breaker are two.
    occupants: Vec<Occupant>,
}

/// Legs as they stand.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LegsBefore<'r> {
    legs: Legs,
    /// Circuits whose position or load nobody knows.
    left_out: &'r [String],
}

/// Legs of the layout.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LegsAfter {
    legs: Legs,
}

/// The documented form.
#[must_use]
pub fn of<'r>(face: &'r Face, job: &Job) -> FaceOfBoard<'r> {
    let problem = &face.prepared.problem;
    let spaces = problem.spaces.iter().zip(face.occupants());
    let spaces = spaces.map(|(space, occupants)| SpaceOnFace {
        number: space.number,
        column: space.column,
        row: space.row,
        leg: space.leg,
        tandem_allowed: space.tandem,
        occupants,
    });
    let layout = face.layout.as_ref();
    FaceOfBoard {
        board: &problem.board,
        fits: layout.is_ok(),
        why_not: layout.err().map(ToString::to_string),
        changes_that_fit: &face.changes,
        spaces: spaces.collect(),
        before: face.before.as_ref().map(|(legs, left_out)| LegsBefore {
            legs: *legs,
            left_out,
        }),
        after: face.after.map(|legs| LegsAfter { legs }),
        score: layout.ok().map(|l| l.score),
        proofs: layout.ok().map(|l| l.proofs.as_slice()),
        size: &face.size,
        loads: &face.prepared.loads,
        said: &face.prepared.said,
        edits: editing::layout::edits_of(job, face),
        worksheets: [&face.worksheet],
    }
}
