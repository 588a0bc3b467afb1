//! What is the household told about the day? Rooms and hours without power, what stays on, what cannot wait, what to do before.
//! Source: the cut-over. Times of day where the plan says when the crew arrives, else hours from its arrival.

use engine::cutover::customer::{advice, rooms};
use engine::cutover::{CannotPlan, Clock, CutOver, Limit, Seconds};
use serde_json::{Value, json};

use super::plain;
use crate::material::Material;
use crate::words::say;

/// Circuits named in one line.
const MOST: usize = 12;

/// Everything of it.
pub(super) fn dark(material: &Material<'_>) -> Value {
    let language = material.setting.language;
    match &material.cut {
        Ok(cut) => of_plan(material, cut),
        Err(CannotPlan::Nothing) => json!({ "none": say(language, "dark-nothing", &[]) }),
        Err(why) => {
            json!({ "none": say(language, "dark-not-planned", &[("why", &why.to_string())]) })
        }
    }
}

fn of_plan(material: &Material<'_>, cut: &CutOver<'_>) -> Value {
    let (job, language) = (material.report.job, material.setting.language);
    let clock = Clock(cut.plan.start);
    let by_room: Vec<Value> = rooms(cut)
        .iter()
        .map(|room| {
            let name = room
                .room
                .map_or_else(|| say(language, "dark-room-unknown", &[]), plain::tag);
            let total: Seconds = room.dark.iter().map(|d| d.length()).sum();
            let names = room.circuits.iter().map(|id| plain::circuit(material, id));
            json!([
                name,
                clock.spans(&room.dark),
                total.to_string(),
                plain::first(language, 4, names)
            ])
        })
        .collect();
    let spans = || cut.circuits.iter().flat_map(|c| &c.dark);
    let first = spans().map(|d| d.from).min().unwrap_or_default();
    let last = spans().map(|d| d.to).max().unwrap_or_default();
    let whole = say(
        language,
        if cut.plan.start.is_some() {
            "dark-from-to"
        } else {
            "dark-from-to-arrival"
        },
        &[("from", &clock.at(first)), ("to", &clock.at(last))],
    );
    let goes_dark = |id: &str| cut.circuits.iter().any(|c| c.id == id);
    let stays: Vec<String> = job
        .before
        .circuits
        .iter()
        .filter(|(id, c)| !goes_dark(id.as_str()) && c.purpose != model::house::Purpose::Spare)
        .map(|(id, _)| plain::circuit(material, id.as_str()))
        .collect();
    let temporary = cut.circuits.iter().filter(|c| c.temporary);
    let temporary: Vec<String> = temporary.map(|c| plain::circuit(material, c.id)).collect();
    let critical = cut.circuits.iter().filter_map(|c| {
        let limit = match c.limit {
            Limit::None => return None,
            Limit::Unknown => say(language, "dark-limit-unknown", &[]),
            Limit::Kept(most) => say(
                language,
                "dark-limit-kept",
                &[("most", &Seconds::of(most).to_string())],
            ),
            Limit::Broken(most) => say(
                language,
                "dark-limit-broken",
                &[("most", &Seconds::of(most).to_string())],
            ),
        };
        let name = plain::circuit(material, c.id);
        Some(json!([
            name,
            c.critical.unwrap_or_default(),
            c.longest().to_string(),
            limit
        ]))
    });
    json!({
        "whole": whole,
        "rooms": by_room,
        "stays": if stays.is_empty() { say(language, "dark-nothing-stays", &[]) } else { plain::first(language, MOST, stays) },
        "temporary": if temporary.is_empty() { say(language, "dark-no-temporary", &[]) } else { plain::first(language, MOST, temporary) },
        "critical": critical.collect::<Vec<_>>(),
        "utility": cut.needs_utility,
        "advice": advice(job, cut),
    })
}
