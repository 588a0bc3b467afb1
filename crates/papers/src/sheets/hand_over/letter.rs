//! The letter for the insurer: what was there, what stands there now, under which permit. Facts of the job alone; no test is claimed.
//! Source: both pictures of the boards that are worked on. Amperes.

use model::house::{Board, DeviceKind, House, Stated};
use model::scope::Change;
use serde_json::{Value, json};

use super::protection;
use crate::material::{Language, Material};
use crate::sheets::{plain, works};
use crate::words::say;

/// Rows for each board; nothing where no board is worked on.
pub(super) fn letter(material: &Material<'_>) -> Value {
    let job = material.report.job;
    let boards = material.report.scope.boards.iter().filter_map(|(id, change)| {
        if change.change == Change::Kept && !change.relocated {
            return None;
        }
        let id = id.as_str();
        let before = job.before.boards.get(id);
        let after = job.after.boards.get(id).filter(|b| !b.gone);
        let pair = |name: &str, of: &dyn Fn(&House, &Board) -> String| -> Value {
            let language = material.setting.language;
            let none = || say(language, "no-such-board", &[]);
            json!([
                say(language, name, &[]),
                before.map_or_else(none, |b| of(&job.before, b)),
                after.map_or_else(none, |b| of(&job.after, b)),
            ])
        };
        let language = material.setting.language;
        Some(json!({
            "title": plain::board(material, id),
            "rows": [
                pair("letter-name", &|_, b| plain::told(language, &b.name)),
                pair("letter-location", &|_, b| plain::tags(language, &b.location)),
                pair("letter-bus", &|_, b| plain::claimed(language, &b.bus, ToString::to_string)),
                pair("letter-main", &|_, b| plain::claimed(language, &b.main, |_| works::main_of(language, b))),
                pair("letter-spaces", &|_, b| plain::claimed(language, &b.spaces, ToString::to_string)),
                pair("letter-ground-bar", &|_, b| plain::claimed(language, &b.ground_bar, |is| yes_or_no(language, Some(*is)))),
                pair("letter-surge", &|_, b| surge(language, b)),
                pair("letter-protection", &|house, _| protections(language, house, id)),
            ],
        }))
    });
    boards.collect()
}

fn yes_or_no(language: Language, is: Option<bool>) -> String {
    let name = match is {
        None => "not-known",
        Some(true) => "yes",
        Some(false) => "no",
    };
    say(language, name, &[])
}

/// A surge protector in the picture, or what the survey says of one.
fn surge(language: Language, board: &Board) -> String {
    let drawn = board
        .devices
        .values()
        .any(|d| d.kind == DeviceKind::SurgeProtector && !d.gone);
    if drawn {
        return yes_or_no(language, Some(true));
    }
    let said = board.facts.get("spd_present").cloned();
    plain::claimed(language, &said.unwrap_or_default(), |said| match said {
        Stated::Bool(is) => yes_or_no(language, Some(*is)),
        _ => yes_or_no(language, None),
    })
}

/// How many circuits of a board have which protection.
fn protections(language: Language, house: &House, board: &str) -> String {
    let mut counts: Vec<(String, usize)> = Vec::new();
    for circuit in house.circuits.values() {
        if circuit.board != board || circuit.gone || circuit.purpose == model::house::Purpose::Spare
        {
            continue;
        }
        let name = plain::claimed(language, &circuit.protection, |_| {
            protection(language, circuit)
        });
        match counts.iter_mut().find(|(known, _)| *known == name) {
            Some((_, count)) => *count += 1,
            None => counts.push((name, 1)),
        }
    }
    counts.sort();
    let each: Vec<String> = counts
        .iter()
        .map(|(name, count)| format!("{count} {name}"))
        .collect();
    if each.is_empty() {
        return say(language, "letter-no-circuits", &[]);
    }
    each.join("; ")
}
