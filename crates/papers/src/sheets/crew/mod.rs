//! The crew pack, for the people who do the work: safety, cut-over, faces, lengths, parts, torque, tests. In English or Spanish.
//! Source: the cut-over, the layouts, the take-off, the published torque tables, and practice of the trade that says so.

mod breakers;
mod landing;
mod lengths;
mod pick;
mod plan;
mod proof;
mod safety;
mod tongue;
mod torque;

use model::house::Circuit;
use serde_json::{Value, json};

use super::head::head;
use crate::material::Material;
use crate::paper::Paper;
use crate::problem::Problem;
use crate::sheet::Sheet;
use breakers::Breakers;
use tongue::Tongue;

pub(super) fn sheet(material: &Material<'_>) -> Result<Sheet, Problem> {
    let tongue = Tongue::of(material);
    let boards = boards(material);
    if boards.is_empty() && material.cut.is_err() {
        return Err(Problem::Nothing {
            paper: Paper::Crew.name(),
            what: "the difference of the two pictures gives a crew nothing to do".to_owned(),
        });
    }
    let breakers = Breakers::of(material);
    let mut drawings = Vec::new();
    let plan = plan::plan(material, &tongue, &mut drawings);
    let faces: Vec<Value> = boards
        .iter()
        .map(|board| landing::face(material, &tongue, (board, &breakers), &mut drawings))
        .collect();
    let data = json!({
        "head": head(material, "crew"),
        "opening": opening(material, &tongue, &boards),
        "safety": safety::safety(material, &tongue),
        "plan": plan,
        "faces": faces,
        "lengths": lengths::lengths(material, &tongue),
        "pick": pick::pick(material, &tongue),
        "torque": torque::torque(material, &tongue),
        "tests": proof::tests(material, &tongue, &boards, &breakers),
    });
    Ok(Sheet {
        paper: Paper::Crew,
        setting: material.setting,
        data,
        drawings,
        enclosed: Vec::new(),
    })
}

/// What the pack is about, in pairs of label and value.
fn opening(material: &Material<'_>, tongue: &Tongue<'_>, boards: &[&str]) -> Vec<[String; 2]> {
    let job = material.report.job;
    let names: Vec<String> = boards.iter().map(|b| tongue.board_named(b)).collect();
    let mut all = vec![[tongue.word("crew-boards"), names.join("; ")]];
    let plan = &job.plan;
    let workers = plan.workers.to_string();
    let people = match plan.start {
        Some(start) => tongue.say(
            "crew-people-of",
            &[("workers", &workers), ("start", &start.to_string())],
        ),
        None => tongue.say("crew-people-no-time", &[("workers", &workers)]),
    };
    all.push([tongue.word("crew-people"), people]);
    if let Ok(cut) = &material.cut {
        let spans = || cut.circuits.iter().flat_map(|c| &c.dark);
        let (from, to) = (spans().map(|d| d.from).min(), spans().map(|d| d.to).max());
        if let (Some(from), Some(to)) = (from, to) {
            let values = [
                ("from", tongue.at(from)),
                ("to", tongue.at(to)),
                ("end", tongue.at(cut.end)),
            ];
            let values: Vec<(&str, &str)> = values.iter().map(|(k, v)| (*k, v.as_str())).collect();
            all.push([
                tongue.word("crew-dark"),
                tongue.say("crew-dark-from", &values),
            ]);
        }
        let utility = if cut.needs_utility {
            let name = if job.place.utility.is_empty() {
                tongue.unknown()
            } else {
                job.place.utility.clone()
            };
            tongue.say("crew-utility-needed", &[("name", &name)])
        } else {
            tongue.word("crew-utility-not")
        };
        all.push([tongue.word("crew-utility"), utility]);
    }
    all
}

/// Boards of the after picture in which something is landed, those laid out anew first.
fn boards<'m>(material: &Material<'m>) -> Vec<&'m str> {
    let house = &material.report.job.after;
    let mut all: Vec<&str> = material.faces.keys().copied().collect();
    let landed = landed(material).into_iter().map(|(_, c)| c.board.as_str());
    let cut = material.cut.as_ref().ok();
    let fed = cut.into_iter().flat_map(|c| &c.feeders).map(|f| f.board);
    for board in landed.chain(fed) {
        if let Some((id, _)) = house.boards.get_key_value(board)
            && !all.contains(&id.as_str())
        {
            all.push(id.as_str());
        }
    }
    all
}

/// Circuits whose terminations are worked on: those that the take-off lands, in order of names.
fn landed<'m>(material: &Material<'m>) -> Vec<(&'m str, &'m Circuit)> {
    use engine::facts::Place;
    use engine::price::What;
    let house = &material.report.job.after;
    let mut all: Vec<(&str, &Circuit)> = Vec::new();
    for line in &material.price.lines {
        if !matches!(&line.what, What::Work(item) if item == "torque-termination") {
            continue;
        }
        for place in &line.places {
            if let Place::Circuit(id) = place
                && let Some((id, circuit)) = house.circuits.get_key_value(*id)
            {
                all.push((id.as_str(), circuit));
            }
        }
    }
    all.sort_by_key(|(id, _)| *id);
    all.dedup_by_key(|(id, _)| *id);
    all
}
