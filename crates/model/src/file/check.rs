//! Does the job hang together? References, ranges and sizes, after the types have been read.
//! Source: common sense of the trade and limits against runaway files. Each finding points into the text.

use toml::Spanned;
use toml::de::DeTable;

use super::merge::locate;
use super::mistake::Mistake;
use super::walls;
use crate::fact::Fact;
use crate::house::{House, UTILITY};
use crate::job::Job;
use crate::nearest::{advice, list};
use crate::units::Unit;

/// Most entries of each sort in one house.
const MOST: [(&str, usize); 6] = [
    ("boards", 40),
    ("feeders", 80),
    ("circuits", 400),
    ("loads", 400),
    ("outlets", 1000),
    ("sources", 20),
];

/// Longest text in a job.
const LONGEST_TEXT: usize = 500;

/// Every mistake of the two pictures, by the spans of the merged after picture, then of what stands beside them, by those of the file's head.
pub(super) fn job(
    job: &Job,
    head: &Spanned<DeTable<'_>>,
    after: &Spanned<DeTable<'_>>,
) -> Vec<Mistake> {
    let mut found = Found {
        table: after.get_ref(),
        mistakes: Vec::new(),
    };
    for (word, text) in [("title", &job.title), ("reason", &job.reason)] {
        if text.chars().count() > LONGEST_TEXT {
            found.add(
                &[],
                format!("`{word}` is longer than {LONGEST_TEXT} characters"),
                "a shorter text",
            );
        }
    }
    for house in [&job.before, &job.after] {
        sizes(house, &mut found);
        references(house, &mut found);
        ranges(house, &mut found);
        texts(house, &mut found);
        walls::of_house(house, &mut found);
    }
    found.table = head.get_ref();
    walls::candidates(&job.candidates, &job.after, &mut found);
    found.mistakes.dedup();
    found.mistakes
}

pub(super) struct Found<'a, 't> {
    table: &'a DeTable<'t>,
    mistakes: Vec<Mistake>,
}

impl Found<'_, '_> {
    pub(super) fn add(&mut self, path: &[&str], found: String, expected: impl Into<String>) {
        let span = locate(self.table, path).unwrap_or(0..0);
        let mistake = Mistake::new(span, found, expected);
        if !self.mistakes.contains(&mistake) {
            self.mistakes.push(mistake);
        }
    }
}

fn sizes(house: &House, found: &mut Found<'_, '_>) {
    let counts = [
        house.boards.len(),
        house.feeders.len(),
        house.circuits.len(),
        house.loads.len(),
        house.outlets.len(),
        house.sources.len(),
    ];
    for ((sort, most), count) in MOST.into_iter().zip(counts) {
        if count > most {
            found.add(
                &[sort],
                format!("{count} {sort}"),
                format!("at most {most} in one job"),
            );
        }
    }
}

fn references(house: &House, found: &mut Found<'_, '_>) {
    let boards = || house.boards.keys().map(|b| b.as_str());
    let board = |found: &mut Found<'_, '_>, path: &[&str], name: &str, role: &str| {
        if name.is_empty() {
            found.add(
                path,
                format!("no board given as `{role}`"),
                format!("one of: {}", list(boards())),
            );
        } else if !house.boards.contains_key(name) {
            let what = advice(name, boards(), &format!("boards here: {}", list(boards())));
            found.add(
                path,
                format!("`{role}` names the board `{name}`, which is not in this picture"),
                what,
            );
        }
    };
    for (id, feeder) in &house.feeders {
        let id = id.as_str();
        board(found, &["feeders", id, "to"], &feeder.to, "to");
        if feeder.from != UTILITY {
            board(found, &["feeders", id, "from"], &feeder.from, "from");
        }
        if feeder.from == feeder.to && !feeder.to.is_empty() {
            found.add(
                &["feeders", id],
                format!("feeder `{id}` feeds the board it comes from"),
                "two different boards",
            );
        }
    }
    for (id, circuit) in &house.circuits {
        let id = id.as_str();
        board(found, &["circuits", id, "board"], &circuit.board, "board");
        for load in &circuit.loads {
            if !house.loads.contains_key(load) {
                let names = || house.loads.keys().map(|l| l.as_str());
                let what = advice(
                    load.as_str(),
                    names(),
                    &format!("loads here: {}", list(names())),
                );
                found.add(
                    &["circuits", id, "loads"],
                    format!("`{load}` is not a load of this picture"),
                    what,
                );
            }
        }
        if let Some(partner) = &circuit.shared_with {
            let back = house
                .circuits
                .get(partner)
                .and_then(|p| p.shared_with.as_ref());
            if partner.as_str() == id || back.map(|b| b.as_str()) != Some(id) {
                found.add(
                    &["circuits", id, "shared_with"],
                    format!("`{id}` says it shares its neutral with `{partner}`, but `{partner}` does not say so"),
                    format!("`shared_with = \"{id}\"` in circuit `{partner}`"),
                );
            }
        }
    }
    for (id, source) in &house.sources {
        board(
            found,
            &["sources", id.as_str(), "board"],
            &source.board,
            "board",
        );
    }
    for (id, outlet) in &house.outlets {
        if !house.circuits.contains_key(outlet.circuit.as_str()) {
            let names = || house.circuits.keys().map(|c| c.as_str());
            let what = advice(
                &outlet.circuit,
                names(),
                &format!("circuits here: {}", list(names())),
            );
            let said = format!(
                "`circuit` names `{}`, which is not in this picture",
                outlet.circuit
            );
            found.add(&["outlets", id.as_str(), "circuit"], said, what);
        }
    }
    for (id, b) in &house.boards {
        if let Some(building) = &b.building
            && !house.buildings.contains_key(building)
        {
            let names = || house.buildings.keys().map(|n| n.as_str());
            let what = advice(
                building.as_str(),
                names(),
                &format!("buildings here: {}", list(names())),
            );
            found.add(
                &["boards", id.as_str(), "building"],
                format!("`{building}` is not a building here"),
                what,
            );
        }
    }
}

fn ranges(house: &House, found: &mut Found<'_, '_>) {
    fn between<U: Unit>(
        found: &mut Found<'_, '_>,
        path: &[&str],
        fact: &Fact<U>,
        least: f64,
        most: f64,
    ) {
        if let Some(value) = fact.get().map(Unit::get)
            && !(least..=most).contains(&value)
        {
            let name = path.last().copied().unwrap_or("");
            found.add(
                path,
                format!("`{name}` is {value} {}", U::SYMBOL),
                format!("{least} to {most} {}", U::SYMBOL),
            );
        }
    }
    let dwelling = &house.dwelling;
    between(found, &["dwelling", "area"], &dwelling.area, 0.0, 100_000.0);
    between(
        found,
        &["supply", "fault_current"],
        &house.supply.fault_current,
        1.0,
        1_000_000.0,
    );
    if let Some(t) = &house.supply.transformer {
        between(
            found,
            &["supply", "transformer", "kva"],
            &Fact::seen(t.kva),
            1.0,
            10_000.0,
        );
        between(
            found,
            &["supply", "transformer", "impedance"],
            &t.impedance,
            0.1,
            20.0,
        );
        if t.x_over_r.get().is_some_and(|x| !(0.0..=50.0).contains(&x)) {
            found.add(
                &["supply", "transformer", "x_over_r"],
                "`x_over_r` is out of range".into(),
                "0 to 50",
            );
        }
    }
    for (id, b) in &house.boards {
        let at = |field: &'static str| ["boards", id.as_str(), field];
        between(found, &at("bus"), &b.bus, 1.0, 6000.0);
        between(found, &at("main_amps"), &b.main_amps, 1.0, 6000.0);
        between(
            found,
            &at("short_circuit_rating"),
            &b.short_circuit_rating,
            100.0,
            200_000.0,
        );
        between(
            found,
            &at("route_from_old"),
            &b.route_from_old,
            0.0,
            12_000.0,
        );
        between(found, &at("make_up"), &b.make_up, 0.0, 600.0);
        between(found, &at("area_served"), &b.area_served, 0.0, 100_000.0);
        between(found, &at("terminals"), &b.terminals, 60.0, 90.0);
        if b.spare_spaces.is_some_and(|n| n > 200) {
            found.add(
                &at("spare_spaces"),
                "`spare_spaces` is above 200".into(),
                "the number of spaces to leave free",
            );
        }
        for (name, device) in &b.devices {
            if device.width.is_some_and(|w| !(1..=12).contains(&w)) {
                found.add(
                    &["boards", id.as_str(), "devices", name.as_str(), "width"],
                    "`width` is out of range".into(),
                    "1 to 12 spaces",
                );
            }
        }
        for (name, fact) in [
            ("depth", &b.working_space.depth),
            ("width", &b.working_space.width),
            ("height", &b.working_space.height),
            ("highest_handle", &b.working_space.highest_handle),
        ] {
            between(
                found,
                &["boards", id.as_str(), "working_space", name],
                fact,
                0.0,
                1200.0,
            );
        }
        for (name, fact) in [
            ("width", &b.cabinet.width),
            ("height", &b.cabinet.height),
            ("depth", &b.cabinet.depth),
            ("gutter", &b.cabinet.gutter),
            ("lug_space", &b.cabinet.lug_space),
        ] {
            between(
                found,
                &["boards", id.as_str(), "cabinet", name],
                fact,
                0.1,
                120.0,
            );
        }
        if b.spaces.get().is_some_and(|n| n > 200) {
            found.add(
                &at("spaces"),
                "`spaces` is above 200".into(),
                "the number of full-size spaces",
            );
        }
    }
    for (id, f) in &house.feeders {
        let at = |field: &'static str| ["feeders", id.as_str(), field];
        between(found, &at("breaker"), &f.breaker, 1.0, 6000.0);
        between(found, &at("length"), &f.length, 0.0, 10_000.0);
        between(found, &at("ambient"), &f.ambient, -50.0, 90.0);
        if f.wires.get().is_some_and(|n| !(2..=5).contains(&n)) {
            found.add(
                &at("wires"),
                "`wires` is out of range".into(),
                "3 (two hots and neutral) or 4 (with ground)",
            );
        }
        if !(1..=12).contains(&f.sets) {
            found.add(
                &at("sets"),
                format!("`sets` is {}", f.sets),
                "1 to 12 parallel sets",
            );
        }
    }
    for (id, c) in &house.circuits {
        let at = |field: &'static str| ["circuits", id.as_str(), field];
        between(found, &at("amps"), &c.amps, 1.0, 1200.0);
        between(found, &at("slack"), &c.slack, 0.0, 600.0);
        between(found, &at("reach"), &c.reach, 0.0, 600.0);
        between(
            found,
            &at("continuous_va"),
            &c.continuous_va,
            0.0,
            1_000_000.0,
        );
        if let Some(entry) = c.entry {
            let along = Fact::seen(entry.along);
            let path = ["circuits", id.as_str(), "entry", "along"];
            between(found, &path, &along, 0.0, 120.0);
        }
        if c.pinned && c.spaces.is_unknown() {
            found.add(
                &at("pinned"),
                format!("`{id}` is pinned to its spaces, and they are not known"),
                "`spaces`, or leave `pinned` out",
            );
        }
        between(found, &at("added_outside"), &c.added_outside, 0.0, 12_000.0);
        between(found, &at("added_total"), &c.added_total, 0.0, 12_000.0);
        if !(1..=3).contains(&c.poles) {
            found.add(&at("poles"), format!("`poles` is {}", c.poles), "1, 2 or 3");
        }
    }
    for (id, l) in &house.loads {
        let at = |field: &'static str| ["loads", id.as_str(), field];
        between(found, &at("va"), &l.va, 0.0, 1_000_000.0);
        between(found, &at("amps"), &l.amps, 0.0, 6000.0);
        between(found, &at("volts"), &l.volts, 1.0, 1000.0);
        if !(1..=1000).contains(&l.count) {
            found.add(&at("count"), format!("`count` is {}", l.count), "1 to 1000");
        }
    }
}

fn texts(house: &House, found: &mut Found<'_, '_>) {
    let too_long = |text: &str| text.chars().count() > LONGEST_TEXT;
    let say = format!("longer than {LONGEST_TEXT} characters");
    for (id, c) in &house.circuits {
        if too_long(&c.serves) {
            found.add(
                &["circuits", id.as_str(), "serves"],
                format!("`serves` is {say}"),
                "a shorter text",
            );
        }
    }
    for (id, b) in &house.boards {
        if too_long(&b.name) {
            found.add(
                &["boards", id.as_str(), "name"],
                format!("`name` is {say}"),
                "a shorter text",
            );
        }
    }
    for (id, l) in &house.loads {
        if too_long(&l.name) {
            found.add(
                &["loads", id.as_str(), "name"],
                format!("`name` is {say}"),
                "a shorter text",
            );
        }
    }
}
