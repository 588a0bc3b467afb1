//! How long does one person take for one of each thing that is counted?
//! Source: `labour.csv` of the book; every value says where it comes from. Minutes of one person.

use std::collections::BTreeMap;

use crate::amount::Minutes;
use crate::mistake::{Missing, Mistake};
use crate::reader::Table;

/// Name of the table.
pub const FILE: &str = "labour.csv";
const HEADER: &[&str] = &["item", "unit", "minutes", "note", "check"];

/// What is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// The whole job.
    Job,
    /// One board.
    Board,
    /// One branch circuit.
    Circuit,
    /// One feeder or set of service conductors.
    Feeder,
    /// One terminal with its conductor.
    Termination,
    /// One device: a breaker, a receptacle, a module.
    Device,
    /// One piece: a box, a rod, a jumper.
    Piece,
    /// One foot.
    Foot,
    /// One way there and back.
    Trip,
    /// One hour of it.
    Hour,
}

pub(crate) const UNITS: &[(&str, Unit)] = &[
    ("job", Unit::Job),
    ("board", Unit::Board),
    ("circuit", Unit::Circuit),
    ("feeder", Unit::Feeder),
    ("termination", Unit::Termination),
    ("device", Unit::Device),
    ("piece", Unit::Piece),
    ("foot", Unit::Foot),
    ("trip", Unit::Trip),
    ("hour", Unit::Hour),
];

impl std::fmt::Display for Unit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let word = UNITS.iter().find(|(_, unit)| unit == self);
        f.pad(word.map_or("", |(word, _)| word))
    }
}

/// What the calculations count by themselves, each with its unit. Every book has a line for each of them.
pub const COUNTED: &[(&str, Unit)] = &[
    ("travel-and-setup", Unit::Job),
    ("tag-circuit", Unit::Circuit),
    ("trace-circuit", Unit::Circuit),
    ("test-dead", Unit::Board),
    ("demount-panel", Unit::Board),
    ("mount-panel", Unit::Board),
    ("interior-swap", Unit::Board),
    ("old-cabinet-splice-box", Unit::Board),
    ("remove-old-cabinet", Unit::Board),
    ("land-feeder", Unit::Feeder),
    ("new-feeder", Unit::Feeder),
    ("new-feeder-foot", Unit::Foot),
    ("reland-circuit", Unit::Circuit),
    ("extend-circuit", Unit::Circuit),
    ("extend-foot", Unit::Foot),
    ("splice-set", Unit::Piece),
    ("arc-fault-device", Unit::Device),
    ("two-pole", Unit::Device),
    ("new-circuit", Unit::Circuit),
    ("new-circuit-foot", Unit::Foot),
    ("remove-circuit", Unit::Circuit),
    ("torque-termination", Unit::Termination),
    ("dead-test-circuit", Unit::Circuit),
    ("energize-and-check", Unit::Board),
    ("restore-circuit", Unit::Circuit),
    ("note-shared-neutral", Unit::Piece),
    ("lock-one-circuit", Unit::Circuit),
    ("feeder-supply-end", Unit::Feeder),
    ("join-extension", Unit::Circuit),
    ("short-check", Unit::Board),
    ("prove-energized", Unit::Board),
    ("temporary-power-circuit", Unit::Circuit),
    ("temporary-change-over", Unit::Circuit),
    ("directory", Unit::Board),
    ("clean-up", Unit::Job),
    ("permit-trip", Unit::Trip),
    ("inspection-attendance", Unit::Trip),
    ("utility-standby", Unit::Trip),
    ("second-trip", Unit::Trip),
    ("new-box", Unit::Piece),
    ("electrode-rod", Unit::Piece),
    ("bonding-jumper", Unit::Piece),
    ("surge-protector", Unit::Device),
];

/// One line of the table.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Task {
    /// What is counted.
    pub unit: Unit,
    /// Time for one of them.
    pub minutes: Minutes,
    /// Where the value comes from, in words.
    pub note: String,
    /// How far it was checked: `memory`, `invented for the demo`, or the shop's own word.
    pub check: String,
    /// Line in the file.
    pub line: u64,
}

/// The labour table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Labour {
    tasks: BTreeMap<String, Task>,
}

impl Labour {
    pub(crate) fn read(text: &str, mistakes: &mut Vec<Mistake>) -> Self {
        let table = Table {
            file: FILE,
            header: HEADER,
            mistakes,
        };
        let tasks: BTreeMap<String, Task> = table
            .rows(text, |row| {
                let unit = row.one_of("unit", UNITS);
                let minutes = row.needed_hundredths("minutes", "minutes of work");
                let counted = COUNTED.iter().find(|(item, _)| *item == row.text("item"));
                if let (Some(unit), Some((_, expected))) = (unit, counted)
                    && unit != *expected
                {
                    let expected = format!("`{expected}`: that is how it is counted");
                    row.wrong("unit", format!("`{unit}`"), expected, "put the unit back");
                }
                Some(Task {
                    unit: unit?,
                    minutes: Minutes::from_hundredths(minutes?),
                    note: row.text("note").to_owned(),
                    check: row.needed("check")?,
                    line: row.line,
                })
            })
            .into_iter()
            .collect();
        // Whatever is wrong with a line is told once, there.
        let told = |item: &str| text.lines().any(|l| l.split(',').next() == Some(item));
        for (item, unit) in COUNTED {
            if !tasks.contains_key(*item) && !told(item) {
                mistakes.push(Mistake {
                    file: FILE.to_owned(),
                    line: 0,
                    column: "item".to_owned(),
                    found: format!("no line for `{item}`"),
                    expected: format!("the minutes for it, counted by {unit}"),
                    advice: "add the line; 0 minutes if the shop does not charge for it".to_owned(),
                });
            }
        }
        Self { tasks }
    }

    /// Time of one person for one of an item.
    ///
    /// # Errors
    /// The table has no such item.
    pub fn minutes(&self, item: &str) -> Result<Minutes, Missing> {
        self.task(item).map(|task| task.minutes)
    }

    /// The line of an item.
    ///
    /// # Errors
    /// The table has no such item.
    pub fn task(&self, item: &str) -> Result<&Task, Missing> {
        self.tasks.get(item).ok_or_else(|| Missing {
            file: FILE,
            item: item.to_owned(),
            line: 0,
        })
    }

    /// Every item, by name.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Task)> {
        self.tasks.iter().map(|(name, task)| (name.as_str(), task))
    }
}
