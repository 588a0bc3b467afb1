//! The page for the day of the inspection: what will be looked for, place by place, with its section, what satisfies it, and the evidence.
//! Source: the findings of the report; the short list of what is asked on most days is the trade's (published inspection reports).

mod items;
mod places;

use model::house::{Protection, ProtectionAt};
use serde_json::{Value, json};

use super::head::head;
use crate::material::Material;
use crate::paper::Paper;
use crate::problem::Problem;
use crate::sheet::Sheet;
use crate::words::say;

/// What is asked on most days, by names in the catalogue.
const DAY: [&str; 9] = [
    "inspection-day-papers",
    "inspection-day-access",
    "inspection-day-space",
    "inspection-day-directory",
    "inspection-day-bonding",
    "inspection-day-torque",
    "inspection-day-openings",
    "inspection-day-labels",
    "inspection-day-tidy",
];

pub(super) fn sheet(material: &Material<'_>) -> Result<Sheet, Problem> {
    let language = material.setting.language;
    let mut photos = 0;
    let groups: Vec<Value> = places::groups(material)
        .into_iter()
        .map(|group| items::group(material, &group, &mut photos))
        .collect();
    let data = json!({
        "head": head(material, "inspection"),
        "day": DAY.map(|name| say(language, name, &[])),
        "buttons": buttons(material),
        "groups": groups,
        "notes": items::notes(material),
        "photos": photos,
    });
    Ok(Sheet {
        paper: Paper::Inspection,
        setting: material.setting,
        data,
        drawings: Vec::new(),
        enclosed: Vec::new(),
    })
}

/// Everything with a test button, board by board.
fn buttons(material: &Material<'_>) -> Vec<Value> {
    let house = &material.report.job.after;
    let mut all = Vec::new();
    for (id, circuit) in house.circuits.iter().filter(|(_, c)| !c.gone) {
        let kind = match circuit.protection.get() {
            Some(Protection::Afci) => "inspection-afci",
            Some(Protection::Gfci) => "inspection-gfci",
            Some(Protection::Dual) => "inspection-dual",
            Some(Protection::None) | None => continue,
        };
        let at = match circuit.protection_at.get() {
            Some(ProtectionAt::Breaker) => "inspection-at-breaker",
            Some(ProtectionAt::Outlet) => "inspection-at-outlet",
            None => "inspection-at-unknown",
        };
        let word = |name: &str| say(material.setting.language, name, &[]);
        all.push(json!({
            "board": circuit.board,
            "circuit": id,
            "serves": circuit.serves,
            "kind": word(kind),
            "at": word(at),
        }));
    }
    all.sort_by_key(|b| b["board"].as_str().map(str::to_owned));
    all
}
