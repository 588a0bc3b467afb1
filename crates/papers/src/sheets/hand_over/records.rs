//! Fields for what is read and seen on site: torque, dead tests, live tests, photographs. All of them empty: nothing here is claimed.
//! Source: the schedule after the work says what there is to test.

use engine::schedule::{Schedule, What};
use model::house::Purpose;
use model::scope::Change;
use serde_json::{Value, json};

use crate::material::Material;
use crate::sheets::plain;
use crate::words::say;

/// Photographs that are kept of every job, by their names in the catalogue.
const PHOTOS: [&str; 8] = [
    "photo-old-panel",
    "photo-old-label",
    "photo-old-open",
    "photo-new-open",
    "photo-new-label",
    "photo-torque",
    "photo-hidden",
    "photo-directory",
];

/// Readings at the supply of a board, by their names in the catalogue.
const SUPPLY: [&str; 8] = [
    "reading-supply-torque",
    "reading-neutral-torque",
    "reading-ground-torque",
    "reading-separation",
    "reading-l1-n",
    "reading-l2-n",
    "reading-l1-l2",
    "reading-legs",
];

/// Each board that is worked on: readings of its supply, then a row for each breaker.
pub(super) fn records(material: &Material<'_>, schedules: &[Schedule<'_>]) -> Value {
    let (job, language) = (material.report.job, material.setting.language);
    let worked_on = material.report.scope.boards.iter().filter(|(id, change)| {
        let stays = job.after.boards.get(id.as_str()).is_some_and(|b| !b.gone);
        stays && (change.change != Change::Kept || change.relocated)
    });
    let each = worked_on.map(|(id, _)| {
        let schedule = schedules.iter().find(|s| s.board == id.as_str());
        let rows = schedule.into_iter().flat_map(|s| &s.rows);
        let breakers = rows.filter(|r| r.pole == 1).filter_map(|r| {
            let serves = match r.what {
                What::Free => return None,
                What::Circuit(_, c) if c.purpose == Purpose::Spare => return None,
                What::Circuit(id, _) => plain::circuit(material, id),
                What::Feeder(id, _) => plain::feeder(material, id),
                What::Source(id, _) | What::Device(id, _) => id.to_owned(),
            };
            Some(json!([r.space(), serves]))
        });
        json!({
            "title": plain::board(material, id.as_str()),
            "supply": SUPPLY.map(|name| say(language, name, &[])),
            "breakers": breakers.collect::<Vec<_>>(),
        })
    });
    each.collect()
}

/// What is photographed.
pub(super) fn photos(material: &Material<'_>) -> Value {
    let language = material.setting.language;
    json!(PHOTOS.map(|name| say(language, name, &[])))
}
