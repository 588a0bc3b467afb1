//! What stands in which space of a board, as a picture states it, before the work or after; nothing is laid out here.
//! Source: the survey, the plan, and how the label counts the spaces. Amperes, inches.

use std::collections::BTreeMap;

use model::Fact;
use model::house::{Board, DeviceKind, House, Leg, LegRows};
use model::units::{Amperes, Inches};
use serde::Serialize;

use super::MOST_SPACES;
use super::answer::Occupant;
use super::build::{USUAL_WIDTH, number, place_of};

/// A space, and what is in it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "SpaceOnFace")]
pub struct Held {
    /// Number on the label.
    pub number: u32,
    /// Column, from the left.
    pub column: u8,
    /// Row, from the top.
    pub row: u16,
    /// Leg its stab is on; `null` where nobody knows the legs.
    pub leg: Option<Leg>,
    /// The label allows a tandem breaker here.
    pub tandem_allowed: bool,
    /// What sits in it; two halves of a tandem breaker are two.
    pub occupants: Vec<Occupant>,
}

/// Sorts of things on a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(rename = "KindOnBoard")]
pub enum Kind {
    /// A branch circuit.
    Circuit,
    /// A feeder to another board.
    Feeder,
    /// A source besides the utility.
    Source,
    /// Surge protection, monitor, back-fed main.
    Device,
}

/// One thing on a board, with a space or without.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "ThingOnBoard")]
pub struct Thing {
    /// What sort of thing.
    pub kind: Kind,
    /// What it serves.
    pub serves: String,
    /// Rating of its breaker.
    pub amps: Option<Amperes>,
    /// Spaces it takes.
    pub poles: u8,
    /// It stays where it is.
    pub pinned: bool,
    /// Its spaces as the job states them, `19A` for half of one; none where nobody says.
    pub spaces: Vec<String>,
}

/// A board with everything on it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "BoardAsStated")]
pub struct Stands {
    /// Its spaces by column and row; none while nobody says how many there are.
    pub spaces: Vec<Held>,
    /// Everything on it, by name.
    pub things: BTreeMap<String, Thing>,
    /// Outside width of its cabinet, the usual one where nobody measured it, inches.
    pub width_in: f64,
    /// Outside height of its cabinet, inches.
    pub height_in: Option<f64>,
}

/// A board as the picture states it; nothing when the picture has no such board.
#[must_use]
pub fn stands(house: &House, board: &str) -> Option<Stands> {
    let facts = house.boards.get(board)?;
    let things = things(house, board, facts);
    let mut spaces = spaces(facts);
    for (name, thing) in &things {
        for (space, width) in tops(&spaces, &thing.spaces) {
            let Some(held) = spaces.iter_mut().find(|s| Some(s.number) == number(&space)) else {
                continue;
            };
            held.occupants.push(Occupant {
                name: name.clone(),
                serves: thing.serves.clone(),
                breaker: name.clone(),
                width,
                half: space.ends_with(['A', 'B']),
                space,
                old: Vec::new(),
                stays: None,
            });
        }
    }
    for held in &mut spaces {
        held.occupants.sort_by(|a, b| a.space.cmp(&b.space));
    }
    Some(Stands {
        spaces,
        things,
        width_in: facts.cabinet.width.get().map_or(USUAL_WIDTH, |w| w.0),
        height_in: facts.cabinet.height.get().map(|Inches(h)| h),
    })
}

/// Spaces of a board with nothing in them.
fn spaces(board: &Board) -> Vec<Held> {
    let count = board.spaces.get().unwrap_or(0).min(MOST_SPACES as u32);
    let tandem = board.tandem_spaces.known();
    let legs: Option<&LegRows> = board.leg_rows.known();
    let mut spaces: Vec<Held> = (1..=count)
        .map(|number| {
            let (column, row) = place_of(number, count, board.numbering);
            Held {
                number,
                column,
                row,
                leg: legs.map(|l| l.of_row(usize::from(row))),
                tandem_allowed: tandem.is_some_and(|t| t.contains(&number)),
                occupants: Vec::new(),
            }
        })
        .collect();
    spaces.sort_by_key(|s| (s.column, s.row));
    spaces
}

/// Each of these spaces; with how many the breaker takes where it begins, one after the other in a column.
fn tops(board: &[Held], spaces: &[String]) -> Vec<(String, Option<u8>)> {
    let place = |space: &String| {
        let at = board.iter().find(|s| Some(s.number) == number(space));
        at.map(|s| (s.column, s.row))
    };
    let mut mine: Vec<_> = spaces.iter().map(|s| (place(s), s.clone())).collect();
    mine.sort();
    let mut all: Vec<(String, Option<u8>)> = Vec::new();
    let (mut top, mut above) = (0, None);
    for (at, (place, space)) in mine.into_iter().enumerate() {
        let follows = above.is_some_and(|(column, row)| place == Some((column, row + 1)));
        above = place;
        if follows && let Some((_, width)) = all.get_mut(top) {
            *width = width.map(|n| n.saturating_add(1));
        } else {
            top = at;
        }
        all.push((space, (!follows).then_some(1)));
    }
    all
}

fn things(house: &House, board: &str, facts: &Board) -> BTreeMap<String, Thing> {
    let numbers = |spaces: &Fact<Vec<u32>>| -> Vec<String> {
        let all = spaces.known().into_iter().flatten();
        all.map(u32::to_string).collect()
    };
    let mut things = BTreeMap::new();
    for (id, device) in &facts.devices {
        let usual = match device.kind {
            DeviceKind::SurgeProtector => "surge protection",
            DeviceKind::Monitor => "monitor",
            DeviceKind::MainBreaker => "main breaker, fed backwards, held down",
            DeviceKind::Other => "device",
        };
        let thing = Thing {
            kind: Kind::Device,
            serves: match device.name.as_str() {
                "" => usual.to_owned(),
                name => name.to_owned(),
            },
            amps: None,
            poles: device.takes(),
            pinned: device.pinned,
            spaces: numbers(&device.spaces),
        };
        things.insert(id.to_string(), thing);
    }
    for (id, source) in house.sources.iter().filter(|(_, s)| s.board == board) {
        let thing = Thing {
            kind: Kind::Source,
            serves: id.to_string(),
            amps: source.breaker.get(),
            poles: 2,
            pinned: false,
            spaces: numbers(&source.spaces),
        };
        things.insert(id.to_string(), thing);
    }
    for (id, feeder) in house.feeders.iter().filter(|(_, f)| f.from == board) {
        let thing = Thing {
            kind: Kind::Feeder,
            serves: feeder.to.clone(),
            amps: feeder.breaker.get(),
            poles: 2,
            pinned: false,
            spaces: numbers(&feeder.spaces),
        };
        things.insert(id.to_string(), thing);
    }
    for (id, circuit) in house.circuits.iter().filter(|(_, c)| c.board == board) {
        let thing = Thing {
            kind: Kind::Circuit,
            serves: circuit.serves.clone(),
            amps: circuit.amps.get(),
            poles: circuit.poles,
            pinned: circuit.pinned,
            spaces: circuit.spaces.known().cloned().unwrap_or_default(),
        };
        things.insert(id.to_string(), thing);
    }
    things
}
