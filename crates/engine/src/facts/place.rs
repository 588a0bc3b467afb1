//! What is a fact or a finding about: the job, a board, a feeder, a circuit and so on?
//! Source: the dictionary's prefixes and the job's names. No units.

use std::fmt;

use model::id::{BoardId, BuildingId, CircuitId, FeederId, OutletId, SourceId};
use serde::Serialize;

/// A thing of the job, by its name.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, schemars::JsonSchema,
)]
#[schemars(rename = "Thing")]
#[serde(rename_all = "snake_case", tag = "kind", content = "id")]
pub enum Place<'j> {
    /// The job as a whole, its service and electrodes.
    Job,
    /// A board.
    Board(&'j BoardId),
    /// The cabinet that a board leaves behind.
    OldCabinet(&'j BoardId),
    /// A feeder.
    Feeder(&'j FeederId),
    /// A building apart from the main one.
    Building(&'j BuildingId),
    /// A source besides the utility.
    Source(&'j SourceId),
    /// A branch circuit.
    Circuit(&'j CircuitId),
    /// An outlet.
    Outlet(&'j OutletId),
}

impl Place<'_> {
    /// The sort of thing, in a word or two.
    #[must_use]
    pub const fn sort(&self) -> &'static str {
        match self {
            Self::Job => "job",
            Self::Board(_) => "board",
            Self::OldCabinet(_) => "old cabinet",
            Self::Feeder(_) => "feeder",
            Self::Building(_) => "building",
            Self::Source(_) => "source",
            Self::Circuit(_) => "circuit",
            Self::Outlet(_) => "outlet",
        }
    }

    /// Its name; the job has none.
    #[must_use]
    pub fn name(&self) -> &str {
        match self {
            Self::Job => "",
            Self::Board(id) | Self::OldCabinet(id) => id.as_str(),
            Self::Feeder(id) => id.as_str(),
            Self::Building(id) => id.as_str(),
            Self::Source(id) => id.as_str(),
            Self::Circuit(id) => id.as_str(),
            Self::Outlet(id) => id.as_str(),
        }
    }
}

impl fmt::Display for Place<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Job => f.write_str("job"),
            other => write!(f, "{} {}", other.sort(), other.name()),
        }
    }
}

/// What a fact is about: the part of its name before the point.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Subject {
    /// `job.`, and whatever an amendment adds under a prefix of its own.
    #[default]
    Job,
    /// `service.`
    Service,
    /// `ground.`
    Ground,
    /// `local.`
    Local,
    /// `panel.`
    Panel,
    /// `limited.`
    Limited,
    /// `old.`
    Old,
    /// `feeder.`
    Feeder,
    /// `building.`
    Building,
    /// `source.`
    Source,
    /// `circuit.`
    Circuit,
    /// `ev.`
    Ev,
    /// `receptacle.`
    Receptacle,
    /// `outlet.`
    Outlet,
}

impl Subject {
    /// All of them.
    pub const ALL: [Self; 14] = [
        Self::Job,
        Self::Service,
        Self::Ground,
        Self::Local,
        Self::Panel,
        Self::Limited,
        Self::Old,
        Self::Feeder,
        Self::Building,
        Self::Source,
        Self::Circuit,
        Self::Ev,
        Self::Receptacle,
        Self::Outlet,
    ];

    /// The prefix in fact names.
    #[must_use]
    pub const fn prefix(self) -> &'static str {
        match self {
            Self::Job => "job",
            Self::Service => "service",
            Self::Ground => "ground",
            Self::Local => "local",
            Self::Panel => "panel",
            Self::Limited => "limited",
            Self::Old => "old",
            Self::Feeder => "feeder",
            Self::Building => "building",
            Self::Source => "source",
            Self::Circuit => "circuit",
            Self::Ev => "ev",
            Self::Receptacle => "receptacle",
            Self::Outlet => "outlet",
        }
    }

    /// What the fact of this name is about.
    #[must_use]
    pub fn of_fact(name: &str) -> Self {
        match name.split('.').next().unwrap_or("") {
            "service" => Self::Service,
            "ground" => Self::Ground,
            "local" => Self::Local,
            "panel" => Self::Panel,
            "limited" => Self::Limited,
            "old" => Self::Old,
            "feeder" => Self::Feeder,
            "building" => Self::Building,
            "source" => Self::Source,
            "circuit" => Self::Circuit,
            "ev" => Self::Ev,
            "receptacle" => Self::Receptacle,
            "outlet" => Self::Outlet,
            _ => Self::Job,
        }
    }

    /// Subjects whose facts the whole job shares.
    pub const OF_JOB: &[Self] = &[Self::Job, Self::Service, Self::Ground, Self::Local];
    /// Subjects that a board answers for.
    pub const OF_BOARD: &[Self] = &[
        Self::Panel,
        Self::Limited,
        Self::Old,
        Self::Feeder,
        Self::Building,
    ];
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_prefix_reads_back_as_its_subject() {
        for subject in Subject::ALL {
            let fact = format!("{}.anything", subject.prefix());
            assert_eq!(Subject::of_fact(&fact), subject, "{fact}");
        }
    }
}
