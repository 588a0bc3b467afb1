//! Facts that rebate forms ask for: amperes of the old and new panel, open spaces before and after, what could still be added.
//! Source: both pictures, the schedules, the load calculation after the work. Amperes, VA.

use engine::schedule::{Schedule, What};
use engine::sheets::load::spare;
use engine::tree::SupplyTree;
use model::house::Board;
use model::scope::Change;
use serde_json::{Value, json};

use crate::material::Material;
use crate::sheets::plain;
use crate::words::say;

/// A table for each board that is worked on, and for the service: label, before, after.
pub(super) fn rebate(material: &Material<'_>) -> Value {
    let (report, language) = (material.report, material.setting.language);
    let job = report.job;
    let service = |id: &str| report.tree.nodes.iter().any(|n| n.id == id && n.depth == 0);
    let wanted = report
        .scope
        .boards
        .iter()
        .filter(|(id, b)| b.change != Change::Kept || b.relocated || service(id.as_str()));
    let each = wanted.map(|(id, _)| {
        let id = id.as_str();
        let word = |name: &str| say(language, name, &[]);
        let (before, after) = (
            job.before.boards.get(id),
            job.after.boards.get(id).filter(|b| !b.gone),
        );
        let none = || word("no-such-board");
        let bus = |b: Option<&Board>| {
            b.map_or_else(none, |b| plain::fact(language, &b.bus, ToString::to_string))
        };
        let device = |tree: &SupplyTree<'_>| {
            let node = tree.nodes.iter().find(|n| n.id == id);
            node.map_or_else(none, |n| plain::fact(language, &n.protected_by, ToString::to_string))
        };
        let node = report.tree.nodes.iter().find(|n| n.id == id);
        let load = report.sheets.load(id);
        let demand = load.and_then(|l| l.outcome()).and_then(|o| o.demand.exact());
        let left = load.zip(node).and_then(|(load, node)| {
            spare(load, &node.protected_by, &job.after.dwelling.system)
        });
        let va = |va: Option<model::units::VoltAmperes>| {
            va.map_or_else(|| word("not-known"), |va| format!("{:.0} VA", va.0))
        };
        let spaces = |board: Option<&Board>, schedule: Option<Schedule<'_>>| {
            let known = board.is_some_and(|b| b.spaces.get().is_some());
            match (board, schedule) {
                (None, _) => none(),
                (_, Some(schedule)) if known => open_spaces(material, &schedule),
                _ => word("not-known"),
            }
        };
        json!({
            "title": plain::board(material, id),
            "rows": [
                [word("rebate-bus"), bus(before), bus(after)],
                [word("rebate-device"), device(&report.tree_before), device(&report.tree)],
                [word("rebate-open"), spaces(before, material.schedule_before(id)), spaces(after, material.schedule_after(id))],
                [word("rebate-load"), word("rebate-after-only"), va(demand)],
                [word("rebate-spare"), word("rebate-after-only"), va(left)],
            ],
        })
    });
    each.collect()
}

/// Spaces with nothing in them; fewer, where the places of circuits are not known.
fn open_spaces(material: &Material<'_>, schedule: &Schedule<'_>) -> String {
    let language = material.setting.language;
    let free = schedule
        .rows
        .iter()
        .filter(|r| r.what == What::Free)
        .count();
    match schedule.unplaced.len() {
        0 => free.to_string(),
        lost => say(
            language,
            "rebate-open-unsure",
            &[("free", &free.to_string()), ("count", &lost.to_string())],
        ),
    }
}
