//! Panel schedules as two columns of spaces, like the panel itself, before and after the work, with the load on each leg.
//! Source: [`engine::schedule`]. Whole VA, amperes.

use engine::schedule::{Positions, Row, Schedule, What};
use model::House;
use model::house::{Board, Circuit, Leg, MainKind, Protection, ProtectionAt, Purpose};
use serde_json::{Value, json};

use super::super::worksheet::whole;
use super::facts::{system, told};
use crate::material::Material;
use crate::words::say;

/// Schedules of the boards that change, as they were.
pub(super) fn before(material: &Material<'_>) -> Vec<Value> {
    let report = material.report;
    let changed = |id: &str| {
        let change = report.scope.board(id);
        change.is_some_and(|c| c.change != model::scope::Change::Kept || c.relocated)
    };
    let boards = report
        .job
        .before
        .boards
        .keys()
        .filter(|id| changed(id.as_str()));
    let each = boards.filter_map(|id| {
        let schedule = material.schedule_before(id.as_str())?;
        Some(table(
            material,
            &report.job.before,
            &schedule,
            "permit-schedule-before",
        ))
    });
    each.collect()
}

/// Schedules of all boards after the work.
pub(super) fn after(material: &Material<'_>) -> Vec<Value> {
    let boards = material.report.tree.nodes.iter().map(|n| n.id);
    let each = boards.filter_map(|id| {
        let schedule = material.schedule_after(id)?;
        let house = &material.report.job.after;
        Some(table(material, house, &schedule, "permit-schedule-after"))
    });
    each.collect()
}

fn table(material: &Material<'_>, house: &House, schedule: &Schedule<'_>, title: &str) -> Value {
    let language = material.setting.language;
    let word = |name: &str| say(language, name, &[]);
    let board = house.boards.get(schedule.board);
    let name = board.map_or("", |b| b.name.as_str());
    let name = if name.is_empty() {
        schedule.board.to_owned()
    } else {
        format!("{}: {name}", schedule.board)
    };
    let by = match schedule.by {
        Positions::Stated => word("permit-stated"),
        Positions::LaidOut => word("permit-laid-out"),
    };
    let sums = match &schedule.legs {
        Some(legs) => json!([
            [word("permit-leg-a"), whole(legs.load[0])],
            [word("permit-leg-b"), whole(legs.load[1])],
            [word("permit-total"), whole(schedule.total.0)],
        ]),
        None => json!([
            [word("permit-legs"), word("permit-unknown")],
            [word("permit-total"), whole(schedule.total.0)],
        ]),
    };
    json!({
        "title": say(language, title, &[("board", &name)]),
        "facts": board.map_or_else(Vec::new, |b| of_board(material, house, b)),
        "by": by,
        "rows": rows(material, house, schedule),
        "sums": sums,
        "unplaced": schedule.unplaced.iter().map(|id| named(house, id)).collect::<Vec<_>>(),
        "no_load": no_load(house, schedule),
    })
}

/// Circuits whose load nobody knows; feeders and sources have none of their own.
fn no_load<'j>(house: &House, schedule: &Schedule<'j>) -> Vec<&'j str> {
    let all = schedule.no_load.iter().copied();
    all.filter(|id| house.circuits.contains_key(*id)).collect()
}

fn of_board(material: &Material<'_>, house: &House, board: &Board) -> Vec<[String; 2]> {
    let language = material.setting.language;
    let word = |name: &str| say(language, name, &[]);
    let main = match board.main.get() {
        Some(MainKind::MainBreaker | MainKind::BackfedBreaker) => told(material, &board.main_amps),
        Some(MainKind::MainLugs) => word("permit-main-lugs"),
        Some(MainKind::FeedThrough) => word("permit-feed-through"),
        None => word("permit-unknown"),
    };
    vec![
        [word("permit-system"), system(material, house)],
        [word("permit-bus"), told(material, &board.bus)],
        [word("permit-main"), main],
        [word("permit-spaces"), told(material, &board.spaces)],
        [
            word("permit-rating"),
            told(material, &board.short_circuit_rating),
        ],
    ]
}

/// Rows of the panel, each with what stands left and right; halves of tandem breakers under each other.
fn rows(
    material: &Material<'_>,
    house: &House,
    schedule: &Schedule<'_>,
) -> Vec<[Option<Value>; 2]> {
    let last = schedule
        .rows
        .iter()
        .filter_map(|r| r.at)
        .map(|at| at.1)
        .max()
        .unwrap_or(0);
    let mut all = Vec::new();
    for row in 0..=last {
        let side = |column: u32| -> Vec<&Row<'_>> {
            schedule
                .rows
                .iter()
                .filter(|r| r.at == Some((column, row)))
                .collect()
        };
        let (left, right) = (side(0), side(1));
        for i in 0..left.len().max(right.len()) {
            let cell = |side: &[&Row<'_>]| side.get(i).map(|r| entry(material, house, schedule, r));
            all.push([cell(&left), cell(&right)]);
        }
    }
    // Where the numbering leaves the place open, one column is enough.
    let rest = schedule.rows.iter().filter(|r| r.at.is_none());
    all.extend(rest.map(|r| [Some(entry(material, house, schedule, r)), None]));
    all
}

fn entry(material: &Material<'_>, house: &House, schedule: &Schedule<'_>, row: &Row<'_>) -> Value {
    let word = |name: &str| say(material.setting.language, name, &[]);
    let leg = match row.leg {
        Some(Leg::A) => "A",
        Some(Leg::B) => "B",
        None => "?",
    };
    let mine = |r: &&Row<'_>| r.pole > 0 && r.what == row.what;
    let poles = schedule.rows.iter().filter(mine).count();
    let device = |amps: Option<String>| amps.unwrap_or_else(|| "?".to_owned());
    let bare = |a: model::units::Amperes| format!("{}", a.0);
    let (label, amps, wire, protection) = match row.what {
        What::Free => (
            word("open-space"),
            String::new(),
            String::new(),
            String::new(),
        ),
        What::Circuit(_, c) if c.purpose == Purpose::Spare => (
            word("spare"),
            device(c.amps.get().map(bare)),
            wire(c),
            protected(c),
        ),
        What::Circuit(_, c) => (
            c.serves.clone(),
            device(c.amps.get().map(bare)),
            wire(c),
            protected(c),
        ),
        What::Feeder(_, f) => {
            let label = say(
                material.setting.language,
                "feeds",
                &[("board", &named_board(house, &f.to))],
            );
            let wire = f
                .wire
                .known()
                .map_or("?".to_owned(), |w| short(&w.to_string()));
            (
                label,
                device(f.breaker.get().map(bare)),
                wire,
                String::new(),
            )
        }
        What::Source(id, s) => {
            let label = say(material.setting.language, "permit-source", &[("label", id)]);
            (
                label,
                device(s.breaker.get().map(bare)),
                String::new(),
                String::new(),
            )
        }
        What::Device(id, d) => {
            let name = if d.name.is_empty() { id } else { &d.name };
            (name.to_owned(), String::new(), String::new(), String::new())
        }
    };
    let first = row.pole <= 1;
    let load = match row.what {
        What::Feeder(..) if row.load.0 == 0 => "-".to_owned(),
        What::Circuit(id, _) if schedule.no_load.contains(&id) => "?".to_owned(),
        What::Circuit(..) | What::Feeder(..) => whole(row.load.0),
        _ => String::new(),
    };
    let label = match (row.pole > 1, row.what.id()) {
        (true, Some(_)) => say(
            material.setting.language,
            "permit-pole-of",
            &[
                ("pole", &row.pole.to_string()),
                ("poles", &poles.to_string()),
                ("label", &label),
            ],
        ),
        _ => label,
    };
    json!({
        "space": row.space(),
        "leg": leg,
        "label": label,
        "free": matches!(row.what, What::Free),
        "amps": if first { rated(&amps, poles) } else { String::new() },
        "wire": if first { wire } else { String::new() },
        "protection": if first { protection } else { String::new() },
        "load": load,
    })
}

/// Rating, with the poles where there are several.
fn rated(amps: &str, poles: usize) -> String {
    match (amps, poles) {
        ("", _) | (_, 0 | 1) => amps.to_owned(),
        (amps, poles) => format!("{amps}/{poles}"),
    }
}

/// Size, metal and way of running, short.
fn wire(circuit: &Circuit) -> String {
    let size = circuit
        .wire
        .known()
        .map_or("?".to_owned(), |w| short(&w.to_string()));
    let method = circuit.method.known().map_or("?", |m| m.name());
    let ground = match circuit.ground.get() {
        Some(true) => "",
        Some(false) => " ng",
        None => " g?",
    };
    format!("{size} {method}{ground}")
}

fn short(wire: &str) -> String {
    wire.replace(" AWG", "").replace(" kcmil", "k")
}

/// Abbreviations that the legend explains.
fn protected(circuit: &Circuit) -> String {
    let word = match circuit.protection.get() {
        Some(Protection::None) => return "-".to_owned(),
        Some(Protection::Afci) => "AF",
        Some(Protection::Gfci) => "GF",
        Some(Protection::Dual) => "AG",
        None => return "?".to_owned(),
    };
    match circuit.protection_at.get() {
        Some(ProtectionAt::Outlet) => format!("{word}*"),
        _ => word.to_owned(),
    }
}

fn named(house: &House, id: &str) -> String {
    match house.circuits.get(id) {
        Some(c) if !c.serves.is_empty() => format!("{id} ({})", c.serves),
        _ => id.to_owned(),
    }
}

fn named_board(house: &House, id: &str) -> String {
    match house.boards.get(id) {
        Some(b) if !b.name.is_empty() => b.name.clone(),
        _ => id.to_owned(),
    }
}
