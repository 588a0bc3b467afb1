//! Where is the panel, before and after? A drawing of the walls, or words where the job has no walls.
//! Source: walls and positions of both pictures. Inches.

use serde_json::{Value, json};

use super::plain;
use crate::material::Material;
use crate::words::say;

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
    let value = json!({
        "rows": rows.collect::<Vec<_>>(),
        "drawing": Value::Null,
        "no_drawing": say(language, "no-walls", &[]),
    });
    (value, Vec::new())
}
