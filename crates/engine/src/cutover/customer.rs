//! What is the customer told? Which rooms are dark from when to when, and what to do before.
//! Source: the plan's dark spans and the rooms of the circuits. Advice is common practice, no source.

use std::collections::BTreeMap;

use model::Job;
use model::house::LoadKind;

use super::diary::Dark;
use super::{CutOver, Seconds, words};
use crate::saying::Saying;

/// A room in the dark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoomDark<'c> {
    /// Room, by its tag; none where nobody knows what a circuit serves.
    pub room: Option<&'c str>,
    /// Circuits of it that go dark.
    pub circuits: Vec<&'c str>,
    /// Spans in which any of them is dark.
    pub dark: Vec<Dark>,
}

/// Rooms, longest dark first.
#[must_use]
pub fn rooms<'c>(cut: &'c CutOver<'_>) -> Vec<RoomDark<'c>> {
    let mut rooms: BTreeMap<Option<&str>, RoomDark<'c>> = BTreeMap::new();
    for circuit in &cut.circuits {
        let tags: Vec<Option<&str>> = match circuit.rooms.known() {
            Some(tags) if !tags.is_empty() => tags.iter().map(|t| Some(t.as_str())).collect(),
            _ => vec![None],
        };
        for room in tags {
            let entry = rooms.entry(room).or_insert_with(|| RoomDark {
                room,
                circuits: Vec::new(),
                dark: Vec::new(),
            });
            entry.circuits.push(circuit.id);
            entry.dark.extend(&circuit.dark);
        }
    }
    let mut rooms: Vec<RoomDark<'c>> = rooms.into_values().collect();
    for room in &mut rooms {
        room.dark = joined(&room.dark);
    }
    let length = |r: &RoomDark<'_>| r.dark.iter().map(|d| d.length()).sum::<Seconds>();
    rooms.sort_by(|a, b| {
        length(b)
            .cmp(&length(a))
            .then(b.room.cmp(&a.room).reverse())
    });
    rooms
}

/// Spans that touch or overlap become one.
fn joined(spans: &[Dark]) -> Vec<Dark> {
    let mut spans = spans.to_vec();
    spans.sort_by_key(|d| (d.from, d.to));
    let mut all: Vec<Dark> = Vec::new();
    for span in spans {
        match all.last_mut() {
            Some(last) if span.from <= last.to => last.to = last.to.max(span.to),
            _ => all.push(span),
        }
    }
    all
}

/// What to prepare before the day.
#[must_use]
pub fn advice(job: &Job, cut: &CutOver<'_>) -> Vec<Saying> {
    let mut advice: Vec<Saying> = vec![
        words::TELL_COMPUTERS.into(),
        words::TELL_CLEAR.into(),
        words::TELL_MEDICAL.into(),
    ];
    let dark = |kinds: &[LoadKind]| {
        cut.circuits.iter().any(|c| {
            let loads = job.before.circuits.get(c.id).map(|c| c.loads.as_slice());
            let mut loads = loads
                .into_iter()
                .flatten()
                .filter_map(|l| job.before.loads.get(l));
            loads.any(|l| kinds.contains(&l.kind))
        })
    };
    if dark(&[LoadKind::Refrigerator]) {
        advice.push(words::TELL_FRIDGE.into());
    }
    if dark(&[
        LoadKind::Blower,
        LoadKind::SpaceHeat,
        LoadKind::HeatPump,
        LoadKind::Cooling,
    ]) {
        advice.push(words::TELL_HEAT.into());
    }
    if dark(&[LoadKind::WellPump]) {
        advice.push(words::TELL_WELL.into());
    }
    if dark(&[LoadKind::SumpPump]) {
        advice.push(words::TELL_SUMP.into());
    }
    let garage = |c: &super::DarkCircuit<'_>| {
        c.rooms
            .known()
            .is_some_and(|r| r.iter().any(|room| room == "garage"))
    };
    if cut.circuits.iter().any(garage) {
        advice.push(words::TELL_GARAGE.into());
    }
    if cut
        .circuits
        .iter()
        .any(|c| c.kind == "alarms" || c.serves.contains("smoke"))
    {
        advice.push(words::TELL_ALARMS.into());
    }
    advice
}
