//! The face of a board, as JSON. Volt-amperes, inches.

use engine::face::Face;
use serde_json::{Value, json};

/// The documented form.
#[must_use]
pub fn of(face: &Face) -> Value {
    let problem = &face.prepared.problem;
    let spaces: Vec<Value> = problem
        .spaces
        .iter()
        .zip(face.occupants())
        .map(|(space, occupants)| {
            json!({
                "number": space.number,
                "column": space.column,
                "row": space.row,
                "leg": space.leg,
                "tandem_allowed": space.tandem,
                "occupants": occupants,
            })
        })
        .collect();
    let before = face
        .before
        .as_ref()
        .map(|(legs, left_out)| json!({ "legs": legs, "left_out": left_out }));
    json!({
        "board": problem.board,
        "fits": face.layout.is_ok(),
        "why_not": face.layout.as_ref().err().map(ToString::to_string),
        "changes_that_fit": face.changes,
        "spaces": spaces,
        "before": before,
        "after": face.after.map(|legs| json!({ "legs": legs })),
        "score": face.layout.as_ref().ok().map(|l| l.score),
        "proofs": face.layout.as_ref().ok().map(|l| &l.proofs),
        "size": face.size,
        "loads": face.prepared.loads,
        "said": face.prepared.said,
        "worksheets": [&face.worksheet],
    })
}
