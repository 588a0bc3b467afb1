//! Small invented jobs, written as a contractor would, with places to fill in.
#![allow(clippy::unwrap_used, clippy::panic)] // A helper of tests, where a broken job file should stop the run.

use model::{Edition, JobFile};
use rulebook::{Library, Rulebook};

/// The rulebook of an edition, as carried.
pub(crate) fn book(edition: Edition) -> Rulebook {
    let library = Library::built_in().unwrap();
    library.rulebook(edition, &[], None).unwrap()
}

/// A job file that must be sound.
pub(crate) fn read(text: &str) -> JobFile {
    JobFile::read(text).unwrap_or_else(|mistakes| panic!("{mistakes}"))
}

/// A house with a service panel S and a subpanel Q on one bedroom circuit; `after` is the plan, `place` further facts of the place.
pub(crate) fn house(edition: &str, place: &str, after: &str) -> String {
    format!(
        r#"
format = 1
title = "Small house"
[place]
state = "OH"
edition = "{edition}"
[place.facts]
{place}
[before.dwelling]
kind = "one_family"
area = 1200
system = "120/240"
[before.supply]
fault_current = 9000
[before.boards.S]
bus = 200
main = "main_breaker"
main_amps = 200
[before.boards.Q]
bus = 125
main = "main_lugs"
position = {{ wall = "north", x = 10, y = 60 }}
location = ["hall"]
[before.feeders.service]
from = "utility"
to = "S"
wire = "4/0 Al"
wires = 3
length = 20
[before.feeders.QF]
from = "S"
to = "Q"
breaker = 60
wires = 4
wire = "4 Cu"
[before.circuits.bed]
board = "Q"
amps = 15
wire = "14 Cu"
method = "NM"
ground = true
rooms = ["bedroom"]
protection = "none"
[before.circuits.shop]
board = "S"
amps = 20
wire = "12 Cu"
rooms = ["garage"]
protection = "none"
{after}
"#
    )
}
