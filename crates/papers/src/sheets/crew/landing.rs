//! Where does each circuit go? The face to scale before and after, and the list to land by: old space, new space, leg, breaker, wire.
//! Source: the layout, or the positions that the job states; the schedule after the work.

use engine::schedule::{Positions, Row, Schedule, What};
use model::Fact;
use model::house::{DeviceKind, Leg, Protection, Purpose, SourceKind};
use serde_json::{Value, json};

use super::breakers::Breakers;
use super::tongue::Tongue;
use crate::material::Material;
use crate::words;

pub(super) fn face(
    material: &Material<'_>,
    tongue: &Tongue<'_>,
    (board, breakers): (&str, &Breakers<'_>),
    drawings: &mut Vec<(String, String)>,
) -> Value {
    let title = tongue.say("crew-face", &[("board", &tongue.board_named(board))]);
    let Some(schedule) = material.schedule_after(board) else {
        return json!({ "title": title, "rows": [], "note": tongue.word("crew-face-none") });
    };
    let language = tongue.language();
    let in_words = |p| words::sentence(language, p);
    let laid_out = material.faces.get(board).and_then(|f| f.as_ref().ok());
    let drawn = laid_out
        .filter(|_| schedule.by == Positions::LaidOut)
        .map(|face| {
            let name = format!("face-{}.svg", drawings.len());
            let svg = pictures::face::draw_in(material.report, face, &in_words);
            drawings.push((name.clone(), svg));
            let alt = format!("{title}. {}", pictures::face::about(face, &in_words));
            json!({ "file": name, "alt": alt })
        });
    let note = match (&drawn, material.faces.contains_key(board)) {
        (Some(_), _) => None,
        (None, true) => Some(tongue.word("crew-face-none")),
        (None, false) => Some(tongue.word("crew-face-stated")),
    };
    let unplaced = (!schedule.unplaced.is_empty()).then(|| {
        let circuits = schedule.unplaced.join(", ");
        tongue.say("crew-unplaced", &[("circuits", &circuits)])
    });
    json!({
        "title": title,
        "drawing": drawn,
        // Taller than a page can show at full width.
        "tall": schedule.rows.len() > 50,
        "note": note,
        "unplaced": unplaced,
        "rows": rows(material, tongue, &schedule, breakers),
    })
}

/// One breaker or circuit: its poles together.
struct Seat<'s, 'j> {
    first: &'s Row<'j>,
    spaces: Vec<String>,
    legs: Vec<Option<Leg>>,
}

fn rows(
    material: &Material<'_>,
    tongue: &Tongue<'_>,
    schedule: &Schedule<'_>,
    breakers: &Breakers<'_>,
) -> Vec<[String; 7]> {
    let mut seats: Vec<Seat<'_, '_>> = Vec::new();
    for row in schedule.rows.iter().filter(|r| r.pole > 0) {
        match seats.iter_mut().find(|s| s.first.what == row.what) {
            Some(seat) => {
                seat.spaces.push(row.space());
                seat.legs.push(row.leg);
            }
            None => seats.push(Seat {
                first: row,
                spaces: vec![row.space()],
                legs: vec![row.leg],
            }),
        }
    }
    let each = seats.iter().map(|seat| {
        let (id, serves, stated, wire) = told(material, tongue, seat);
        let breaker = breakers.said(material, tongue, id).unwrap_or(stated);
        [
            id.to_owned(),
            serves,
            old_spaces(material, tongue, schedule.board, id, &seat.first.what),
            seat.spaces.join(", "),
            legs(&seat.legs, tongue),
            breaker,
            wire,
        ]
    });
    each.collect()
}

fn legs(legs: &[Option<Leg>], tongue: &Tongue<'_>) -> String {
    let each = legs.iter().map(|leg| match leg {
        Some(Leg::A) => "A".to_owned(),
        Some(Leg::B) => "B".to_owned(),
        None => tongue.unknown(),
    });
    let mut all: Vec<String> = each.collect();
    all.dedup();
    all.join(", ")
}

/// Name, what it serves, breaker, wire.
fn told<'j>(
    material: &Material<'_>,
    tongue: &Tongue<'_>,
    seat: &Seat<'_, 'j>,
) -> (&'j str, String, String, String) {
    let poles = seat.spaces.len();
    match seat.first.what {
        What::Free => ("", String::new(), String::new(), String::new()),
        What::Circuit(id, c) => {
            let mut serves = if c.purpose == Purpose::Spare {
                tongue.word("crew-spare")
            } else {
                c.serves.clone()
            };
            if let Some(partner) = &c.shared_with {
                let shared = tongue.say("crew-shared", &[("circuit", partner.as_str())]);
                serves = format!("{serves}; {shared}");
            }
            let breaker = if c.purpose == Purpose::Spare && c.amps.is_unknown() {
                String::new()
            } else {
                tongue.breaker(usize::from(c.poles), c.amps.get(), &c.protection)
            };
            let wire = if c.purpose == Purpose::Spare {
                String::new()
            } else {
                tongue.wire(&c.wire)
            };
            (id, serves, breaker, wire)
        }
        What::Feeder(id, f) => {
            let plain = Fact::seen(Protection::None);
            let serves = tongue.say("crew-feeds", &[("board", &tongue.board_named(&f.to))]);
            let breaker = tongue.breaker(poles, f.breaker.get(), &plain);
            (id, serves, breaker, tongue.wire(&f.wire))
        }
        What::Source(id, s) => {
            let kind = match s.kind {
                SourceKind::Photovoltaic => "crew-source-photovoltaic",
                SourceKind::Battery => "crew-source-battery",
                SourceKind::Generator => "crew-source-generator",
            };
            let plain = Fact::seen(Protection::None);
            let breaker = tongue.breaker(poles, s.breaker.get(), &plain);
            (id, tongue.word(kind), breaker, String::new())
        }
        What::Device(id, d) => {
            let kind = match d.kind {
                DeviceKind::SurgeProtector => "crew-device-surge_protector",
                DeviceKind::Monitor => "crew-device-monitor",
                DeviceKind::MainBreaker => "crew-device-main_breaker",
                DeviceKind::Other => "crew-device-other",
            };
            let mut serves = tongue.word(kind);
            if !d.name.is_empty() {
                serves = format!("{serves}: {}", d.name);
            }
            let main = material
                .report
                .job
                .after
                .boards
                .get(seat_board(material, id));
            let amps = main.and_then(|b| b.main_amps.get());
            let breaker = if d.kind == DeviceKind::MainBreaker {
                tongue.breaker(poles, amps, &Fact::seen(Protection::None))
            } else {
                String::new()
            };
            (id, serves, breaker, String::new())
        }
    }
}

/// The board that has a device of this name.
fn seat_board<'m>(material: &Material<'m>, device: &str) -> &'m str {
    let mut boards = material.report.job.after.boards.iter();
    let found = boards.find(|(_, b)| b.devices.contains_key(device));
    found.map_or("", |(id, _)| id.as_str())
}

/// Spaces before the work, with the board where it was another one.
fn old_spaces(
    material: &Material<'_>,
    tongue: &Tongue<'_>,
    board: &str,
    id: &str,
    what: &What<'_>,
) -> String {
    let before = &material.report.job.before;
    let numbers = |n: &Vec<u32>| n.iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
    match what {
        What::Circuit(..) => match before.circuits.get(id) {
            None => tongue.word("crew-new"),
            Some(old) => {
                let spaces = tongue.fact(&old.spaces, |s| s.join(", "));
                if old.board == board {
                    spaces
                } else {
                    let values = [("spaces", spaces.as_str()), ("board", old.board.as_str())];
                    tongue.say("crew-other-board", &values)
                }
            }
        },
        What::Feeder(..) => before.feeders.get(id).map_or_else(
            || tongue.word("crew-new"),
            |old| tongue.fact(&old.spaces, numbers),
        ),
        What::Source(..) => before.sources.get(id).map_or_else(
            || tongue.word("crew-new"),
            |old| tongue.fact(&old.spaces, numbers),
        ),
        What::Device(..) => {
            let old = before.boards.get(board).and_then(|b| b.devices.get(id));
            old.map_or_else(
                || tongue.word("crew-new"),
                |old| tongue.fact(&old.spaces, numbers),
            )
        }
        What::Free => String::new(),
    }
}
