//! What is done about each requirement that bites, in parts and work of this book?
//! Source: `remedies.csv` of the book; the requirements are those of the rulebook, by id.

use std::collections::BTreeMap;

use crate::bill::{self, Counted};
use crate::mistake::Mistake;
use crate::reader::Table;

/// Name of the table.
pub const FILE: &str = "remedies.csv";
const HEADER: &[&str] = &["requirement", "does", "per", "parts", "labour", "note"];

/// What is done about a requirement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Does {
    /// The parts and work of the line, at each place.
    Lines,
    /// The breaker of the circuit gets arc-fault protection.
    Afci,
    /// The breaker of the circuit gets ground-fault protection.
    Gfci,
    /// The breaker of the circuit is bought new.
    Breaker,
    /// A shared-neutral set gets a common trip or a handle tie.
    Tie,
    /// The smallest change that makes the feeder pass, as the engine found it.
    Feeder,
    /// New feeder conductors with an equipment ground.
    NewFeeder,
    /// The work as counted brings it; parts and work of the line say what it would cost alone.
    Covered,
    /// No part helps: the plan must change.
    Plan,
    /// It asks for nothing that costs money.
    None,
}

const PER: &[(&str, CountedBy)] = &[
    ("place", CountedBy::Place),
    ("circuit", CountedBy::Circuit),
    ("board", CountedBy::Board),
    ("job", CountedBy::Job),
];

const DOES: &[(&str, Does)] = &[
    ("lines", Does::Lines),
    ("afci", Does::Afci),
    ("gfci", Does::Gfci),
    ("breaker", Does::Breaker),
    ("tie", Does::Tie),
    ("feeder", Does::Feeder),
    ("new-feeder", Does::NewFeeder),
    ("covered", Does::Covered),
    ("plan", Does::Plan),
    ("none", Does::None),
];

/// What a remedy is counted by, wherever its requirement is decided.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CountedBy {
    /// The place of the finding.
    Place,
    /// Each branch circuit it bites on.
    Circuit,
    /// Each board.
    Board,
    /// The whole job.
    Job,
}

/// One line of the table.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Remedy {
    /// What is done.
    pub does: Does,
    /// What it is counted by.
    pub per: CountedBy,
    /// Parts, by name in the parts table.
    pub parts: Vec<Counted>,
    /// Work, by item in the labour table.
    pub labour: Vec<Counted>,
    /// A remark for the cost sheet.
    pub note: String,
    /// Line in the file.
    pub line: u64,
}

/// The remedies table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Remedies {
    remedies: BTreeMap<String, Remedy>,
}

impl Remedies {
    pub(crate) fn read(text: &str, mistakes: &mut Vec<Mistake>) -> Self {
        let table = Table {
            file: FILE,
            header: HEADER,
            mistakes,
        };
        let rows = table.rows(text, |row| {
            let does = row.one_of("does", DOES)?;
            let per = row.one_of("per", PER)?;
            let parts = bill::read(row, "parts")?;
            let labour = bill::read(row, "labour")?;
            let empty = parts.is_empty() && labour.is_empty();
            match does {
                Does::Lines if empty => {
                    let advice = "name some, or write `none` or `plan`";
                    row.wrong("parts", "nothing", "parts or labour", advice);
                    return None;
                }
                Does::Lines | Does::Covered => {}
                _ if !empty => {
                    let expected = "nothing: only `lines` and `covered` name parts and labour";
                    let found = format!("`{}`", row.text("parts"));
                    row.wrong("parts", found, expected, "write `lines`, or empty the cell");
                    return None;
                }
                _ => {}
            }
            Some(Remedy {
                does,
                per,
                parts,
                labour,
                note: row.text("note").to_owned(),
                line: row.line,
            })
        });
        Self {
            remedies: rows.into_iter().collect(),
        }
    }

    /// What is done about a requirement; `None` when the book does not say.
    #[must_use]
    pub fn get(&self, requirement: &str) -> Option<&Remedy> {
        self.remedies.get(requirement)
    }

    /// Every remedy, by requirement.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Remedy)> {
        self.remedies.iter().map(|(id, one)| (id.as_str(), one))
    }
}
