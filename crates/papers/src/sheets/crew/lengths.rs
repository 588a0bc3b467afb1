//! Which circuits are moved, lengthened, rewired, new or taken out, by how much, spliced where, and what to watch for?
//! Source: the difference of the two pictures; hazards of the survey. Inches along framing, feet of cable.

use model::house::{Circuit, OldCabinet};
use model::scope::{Change, CircuitChange};
use serde_json::Value;
use serde_json::json;

use super::tongue::Tongue;
use crate::material::Material;

pub(super) fn lengths(material: &Material<'_>, tongue: &Tongue<'_>) -> Value {
    let job = material.report.job;
    let mut rows: Vec<[String; 6]> = Vec::new();
    for (id, change) in &material.report.scope.circuits {
        let pictures = [&job.after, &job.before];
        let circuit = pictures.iter().find_map(|h| h.circuits.get(id));
        if let Some(circuit) = circuit
            && (is_touched(change) || !circuit.hazards.is_empty())
        {
            rows.push(row(material, tongue, id.as_str(), change, circuit));
        }
    }
    json!({ "rows": rows })
}

/// Something is done to its length or its board.
fn is_touched(change: &CircuitChange) -> bool {
    change.change != Change::Kept
        || change.other_board
        || change.extended.get() != Some(false)
        || change.cut_shorter.get() == Some(true)
}

fn row(
    material: &Material<'_>,
    tongue: &Tongue<'_>,
    id: &str,
    change: &CircuitChange,
    circuit: &Circuit,
) -> [String; 6] {
    let job = material.report.job;
    let length = || tongue.fact(&circuit.length, |l| tongue.feet(*l));
    let mut what = match change.change {
        Change::New => tongue.say("crew-change-new", &[("length", &length())]),
        Change::Replaced => tongue.say("crew-change-replaced", &[("length", &length())]),
        Change::Removed => tongue.word("crew-change-removed"),
        Change::Kept => tongue.word(match (change.extended.get(), change.cut_shorter.get()) {
            (Some(true), _) => "crew-change-lengthened",
            (None, _) => "crew-change-unknown",
            (_, Some(true)) => "crew-change-shorter",
            _ => "crew-change-moved",
        }),
    };
    if change.other_board
        && let Some(old) = job.before.circuits.get(id)
    {
        let from = tongue.say("crew-from-board", &[("board", &old.board)]);
        what = format!("{what}, {from}");
    }
    let stays = change.change == Change::Kept && change.extended.get() != Some(false);
    let added = |length: &model::Fact<model::units::Inches>| {
        if stays {
            length
                .known()
                .map_or_else(|| tongue.word("crew-short-unknown"), |l| tongue.inches(*l))
        } else {
            "—".to_owned()
        }
    };
    let hazards = circuit
        .hazards
        .iter()
        .map(|h| tongue.word(&format!("crew-hazard-{}", h.word())));
    [
        id.to_owned(),
        what,
        added(&change.added_outside),
        added(&change.added_total),
        if stays {
            splice(material, tongue, circuit)
        } else {
            tongue.word("crew-splice-none")
        },
        hazards.collect::<Vec<_>>().join("; "),
    ]
}

/// Where a lengthened cable is joined: in the old cabinet that stays as a splice box, else in a box that stays accessible.
fn splice(material: &Material<'_>, tongue: &Tongue<'_>, circuit: &Circuit) -> String {
    let board = material.report.job.after.boards.get(circuit.board.as_str());
    match board.and_then(|b| b.old_cabinet.get()) {
        Some(OldCabinet::SpliceBox) => tongue.say("crew-splice-old", &[("board", &circuit.board)]),
        Some(OldCabinet::Removed) => tongue.word("crew-splice-own"),
        None => tongue.word("crew-splice-unknown"),
    }
}
