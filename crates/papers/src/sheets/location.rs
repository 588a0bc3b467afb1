//! Where is the panel, before and after? A drawing of the walls, or words where the job has no walls.
//! Source: walls and positions of both pictures. Inches.

use pictures::wall_sketch;
use serde_json::{Value, json};

use super::plain;
use crate::material::Material;
use crate::words::say;

/// File of the floor plan.
const PLAN: &str = "plan.svg";
/// Walls shown from the front where there is no plan.
const MOST: usize = 2;

/// What the paper shows of it, and its drawings.
pub(super) fn location(material: &Material<'_>) -> (Value, Vec<(String, String)>) {
    let (job, language) = (material.report.job, material.setting.language);
    let rows = material
        .report
        .scope
        .boards
        .iter()
        .filter_map(|(id, change)| {
            let changes = change.change != model::scope::Change::Kept || change.relocated;
            if !changes {
                return None;
            }
            let of = |board: Option<&model::house::Board>| {
                let none = || say(language, "no-such-board", &[]);
                board.filter(|b| !b.gone).map_or_else(none, |b| {
                    let place = plain::tags(language, &b.location);
                    match &b.position {
                        Some(at) => say(
                            language,
                            "position",
                            &[
                                ("place", &place),
                                ("wall", &plain::tag(&at.wall)),
                                ("x", &at.x.as_tape()),
                                ("y", &at.y.as_tape()),
                            ],
                        ),
                        None => place,
                    }
                })
            };
            let before = of(job.before.boards.get(id.as_str()));
            let after = of(job.after.boards.get(id.as_str()));
            Some(json!([plain::board(material, id.as_str()), before, after]))
        });
    let rows: Vec<Value> = rows.collect();
    let mut drawings = Vec::new();
    let mut shown = Vec::new();
    if let Some(plan) = wall_sketch::plan(material.report) {
        shown
            .push(json!({ "file": PLAN, "plan": true, "alt": say(language, "location-alt", &[]) }));
        drawings.push((PLAN.to_owned(), plan));
    } else {
        for (i, wall) in wall_sketch::elevations(material.report)
            .into_iter()
            .take(MOST)
            .enumerate()
        {
            let file = format!("wall-{}.svg", i + 1);
            shown.push(json!({ "file": file, "plan": false, "alt": wall.words }));
            drawings.push((file, wall.svg));
        }
    }
    let value = json!({
        "rows": rows,
        "drawings": shown,
        "no_drawing": say(language, "no-walls", &[]),
    });
    (value, drawings)
}
