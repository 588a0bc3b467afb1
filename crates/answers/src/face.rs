//! The face of a board. Volt-amperes, inches.

use std::collections::BTreeMap;

use editing::Edit;
use engine::face::{CircuitLoad, Face, Held, Legs, Proof, Score, Size, Sort};
use engine::worksheet::Worksheet;
use model::Job;
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
    changes_that_fit: Vec<FaceChange<'r>>,
    spaces: Vec<Held>,
    /// The same of the board before the work, as the job states it; none where it is new. Of what sits there nothing older is told.
    spaces_before: &'r [Held],
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

/// A change that makes everything fit.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FaceChange<'r> {
    change: &'r Sort,
    /// What to change, in words.
    what: &'r str,
    /// How much is changed: spaces, circuits or facts.
    amount: u32,
    /// What makes the change in the picture after the work; none where it is no matter of a field.
    edits: Vec<Edit>,
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
    let spaces = spaces.map(|(space, occupants)| Held {
        number: space.number,
        column: space.column,
        row: space.row,
        leg: Some(space.leg),
        tandem_allowed: space.tandem,
        occupants,
    });
    let layout = face.layout.as_ref();
    let changes = face.changes.iter().map(|change| FaceChange {
        change: &change.sort,
        what: &change.what,
        amount: change.amount,
        edits: editing::remedy::of_face(job, &problem.board, change),
    });
    FaceOfBoard {
        board: &problem.board,
        fits: layout.is_ok(),
        why_not: layout.err().map(ToString::to_string),
        changes_that_fit: changes.collect(),
        spaces: spaces.collect(),
        spaces_before: &face.spaces_before,
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
