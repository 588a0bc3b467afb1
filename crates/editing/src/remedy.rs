//! Which edits make the changes that the engine names as remedies?
//! Source: the changes themselves, each tried by the engine on the picture after the work. Amperes, conductor sizes.

use engine::conductor::Change;
use engine::face::{self, Field};
use engine::sheets::feeder::FeederSheet;
use engine::sheets::larger::NewRating;
use engine::sheets::remedy;
use model::house::UTILITY;
use model::{Job, Wire};
use serde_json::{Value, json};

use crate::edit::Edit;

/// What somebody plans to do, as a fact.
fn planned(is: Value) -> Value {
    json!({ "is": is, "by": "planned" })
}

fn word(wire: Wire) -> Value {
    json!(format!("{} {}", wire.size.name(), wire.material))
}

/// The edits of a change that makes the load of a board fit; none where it is no matter of a field: another method, another board.
#[must_use]
pub fn of_load(job: &Job, board: &str, change: &remedy::Change) -> Vec<Edit> {
    match change {
        remedy::Change::OtherMethod(_) => Vec::new(),
        remedy::Change::Setting { load, amperes } => {
            let at = ["after", "loads", load.as_str(), "managed_limit"];
            vec![Edit::set(at, planned(json!(amperes.0)))]
        }
        remedy::Change::LeftOut { loads } => loads
            .iter()
            .map(|load| match job.before.loads.contains_key(load) {
                true => Edit::set(["after", "loads", load.as_str()], Value::Null),
                false => Edit::set(["after", "loads", load.as_str(), "future"], true),
            })
            .collect(),
        remedy::Change::LargerRating(new) if new.another_board => Vec::new(),
        remedy::Change::LargerRating(new) => of_rating(job, board, new),
    }
}

fn of_rating(job: &Job, board: &str, new: &NewRating) -> Vec<Edit> {
    let rating = || planned(json!(new.rating.0));
    let of_board = |field: &str, to: Value| Edit::set(["after", "boards", board, field], to);
    let mut edits = Vec::new();
    if new.main {
        edits.push(of_board("main_amps", rating()));
    }
    if let Some(bus) = new.bus {
        edits.push(of_board("bus", planned(json!(bus.0))));
    }
    let Some(feeder) = new.feeder.as_deref() else {
        return edits;
    };
    let of_feeder = |field: &str, to: Value| Edit::set(["after", "feeders", feeder, field], to);
    if new.device {
        edits.push(of_feeder("breaker", rating()));
    }
    let wires = [
        ("wire", new.legs),
        ("neutral", new.neutral),
        ("ground", new.ground),
    ];
    for (field, wire) in wires {
        edits.extend(wire.map(|wire| of_feeder(field, planned(word(wire)))));
    }
    if new.replaces_conductors() {
        edits.extend(replaced(job, feeder));
    }
    edits
}

/// Other conductors in a feeder that was there are a new feeder.
fn replaced(job: &Job, feeder: &str) -> Option<Edit> {
    let stated = job.after.feeders.get(feeder)?;
    let was_there = job.before.feeders.contains_key(feeder) && !stated.replaced;
    was_there.then(|| Edit::set(["after", "feeders", feeder, "replaced"], true))
}

/// The edits of a change that makes a board's face fit; none where it is no matter of a field.
#[must_use]
pub fn of_face(job: &Job, board: &str, change: &face::Change) -> Vec<Edit> {
    let of_board = |field: &str, to: Value| Edit::set(["after", "boards", board, field], to);
    let each = face::fields(job, board, &change.sort).into_iter();
    each.map(|field| match field {
        Field::SpareSpaces(spare) => of_board("spare_spaces", json!(spare)),
        Field::CircuitUnpinned(id) => Edit::set(["after", "circuits", &id, "pinned"], false),
        Field::DeviceUnpinned(id) => {
            Edit::set(["after", "boards", board, "devices", &id, "pinned"], false)
        }
        Field::TandemSpaces(spaces) => of_board("tandem_spaces", planned(json!(spaces))),
        Field::Spaces(spaces) => of_board("spaces", planned(json!(spaces))),
        Field::PolesListed(poles) => of_board("poles_listed", planned(json!(poles))),
    })
    .collect()
}

/// The edits of a change to a feeder; none where it is no matter of a field: another arrangement of boards, terminals of equipment that stays.
#[must_use]
pub fn of_feeder(job: &Job, feeder: &FeederSheet<'_>, change: &Change) -> Vec<Edit> {
    let set = |field: &str, to: Value| Edit::set(["after", "feeders", feeder.id, field], to);
    let Some(stated) = job.after.feeders.get(feeder.id) else {
        return Vec::new();
    };
    match change {
        Change::NextSize(wire) | Change::Copper(wire) => {
            let mut edits = vec![set("wire", planned(word(*wire)))];
            edits.extend(replaced(job, feeder.id));
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
