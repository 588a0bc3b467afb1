//! Which edits make the changes that the engine names as remedies?
//! Source: the changes themselves, each tried by the engine on the picture after the work. Amperes, conductor sizes.

use engine::conductor::Change;
use engine::sheets::feeder::FeederSheet;
use model::Job;
use model::house::UTILITY;
use serde_json::{Value, json};

use crate::edit::Edit;

/// The edits of a change to a feeder; none where it is no matter of a field: another arrangement of boards, terminals of equipment that stays.
#[must_use]
pub fn of_feeder(job: &Job, feeder: &FeederSheet<'_>, change: &Change) -> Vec<Edit> {
    let set = |field: &str, to: Value| Edit::set(["after", "feeders", feeder.id, field], to);
    let planned = |is: Value| json!({ "is": is, "by": "planned" });
    let Some(stated) = job.after.feeders.get(feeder.id) else {
        return Vec::new();
    };
    match change {
        Change::NextSize(wire) | Change::Copper(wire) => {
            let word = format!("{} {}", wire.size.name(), wire.material);
            let mut edits = vec![set("wire", planned(json!(word)))];
            if job.before.feeders.contains_key(feeder.id) && !stated.replaced {
                edits.push(set("replaced", json!(true)));
            }
            edits
        }
        // The device of the service conductors is the main of the board they feed.
        Change::SmallerDevice(amperes) if stated.from == UTILITY => {
            let at = ["after", "boards", feeder.board, "main_amps"];
            vec![Edit::set(at, planned(json!(amperes.0)))]
        }
        Change::SmallerDevice(amperes) => vec![set("breaker", planned(json!(amperes.0)))],
        Change::Terminals75 => terminals(job, &stated.from, feeder.board),
        Change::CarryWholeDwelling => Vec::new(),
    }
}

/// New boards may be bought with such terminals; a board that stays has the ones it has.
fn terminals(job: &Job, from: &str, to: &str) -> Vec<Edit> {
    let mut edits = Vec::new();
    for id in [from, to].into_iter().filter(|id| *id != UTILITY) {
        let Some(board) = job.after.boards.get(id) else {
            continue;
        };
        if board.terminals.get().is_some_and(|c| c.0 == 75.0) {
            continue;
        }
        let is_new = board.replaced || board.interior_only || !job.before.boards.contains_key(id);
        if !is_new {
            return Vec::new();
        }
        let to = json!({ "is": 75, "by": "planned" });
        edits.push(Edit::set(["after", "boards", id, "terminals"], to));
    }
    edits
}
