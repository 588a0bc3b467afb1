//! Small invented jobs to plan, the demo jobs, and the crews that do them.

use engine::cutover::Times;
use model::plan::{Approach, Plan, Transfer};
use model::{Fact, Job, JobFile};

pub(crate) fn times() -> Times {
    Times::of(&shop::Book::built_in().unwrap().labour).unwrap()
}

pub(crate) const HEAD: &str = r#"
format = 1
title = "cut-over"
[place]
state = "OH"
edition = "2023"
[before.dwelling]
system = "120/240"
[before.boards.S]
main = "main_breaker"
[before.boards.Q]
[before.feeders.service]
from = "utility"
to = "S"
[before.feeders.Q-feeder]
from = "S"
to = "Q"
breaker = 60
"#;

/// A subpanel Q below S, with these circuits on it, replaced as `after` says.
pub(crate) fn job(plan: &str, circuits: &str, after: &str) -> Job {
    let text = format!(
        "{HEAD}[before.circuits]\nmain-hall = {{ board = \"S\" }}\n{circuits}\n[after.boards.Q]\nreplaced = true\n{after}\n[plan]\n{plan}\n"
    );
    match JobFile::read(&text) {
        Ok(file) => file.job,
        Err(mistakes) => panic!("{mistakes}\n{text}"),
    }
}

pub(crate) fn circuits(count: usize) -> String {
    let line = |i| {
        format!("c{i:02} = {{ board = \"Q\", protection = \"none\", ground = true, amps = 15 }}\n")
    };
    (0..count).map(line).collect()
}

pub(crate) const ELSEWHERE: &str = "route_from_old = 120\nold_cabinet = \"removed\"\nmake_up = 10";
pub(crate) const ALL_EXTENDED: &str = "[after.circuits]\n";

pub(crate) fn example(name: &str) -> Job {
    let path = format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR"));
    JobFile::read(&std::fs::read_to_string(path).unwrap())
        .unwrap()
        .job
}

pub(crate) const EXAMPLES: [&str; 6] = [
    "apartment-208.toml",
    "big-house-42.toml",
    "ranch-subpanel.toml",
    "swap-clean.toml",
    "three-level-service.toml",
    "workshop-three-wire.toml",
];

pub(crate) fn beside(transfer: Transfer, workers: u8, shift: f64) -> Plan {
    Plan {
        workers,
        approach: Approach::NewPanelFirst,
        second_feeder: Fact::seen(true),
        transfer: Fact::seen(transfer),
        shift: model::units::Hours(shift),
        ..Plan::default()
    }
}

/// One line of a circuit, from dice.
pub(crate) fn line(i: usize, kind: u8) -> String {
    let more = match kind % 7 {
        0 => ", poles = 2",
        1 => ", protection = \"afci\"",
        2 => ", purpose = \"smoke_alarms\"",
        3 => ", critical = { why = \"pump\", longest_dark = 3 }",
        4 => ", purpose = \"vehicle_charging\"",
        5 => ", critical = { why = \"unknown for how long\" }",
        _ => ", ground = false",
    };
    format!("c{i:02} = {{ board = \"Q\"{more} }}\n")
}
