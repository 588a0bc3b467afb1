//! What supply tree and worksheets tell of the facts: the numbers that no survey gives.
//! Source: [`crate::tree`] and [`crate::sheets`]. Amperes; `None` wherever the calculation could not be told.

use std::collections::BTreeMap;

use model::house::{Board, Feeder, House, MainKind, UTILITY};
use model::units::Amperes;
use model::{Fact, Job};

/// Worked-out answers, by the names of boards, feeders and circuits of the after picture.
#[derive(Clone, Debug, Default)]
pub struct Calculated<'j> {
    /// By board.
    pub boards: BTreeMap<&'j str, OfBoard<'j>>,
    /// By feeder, service conductors included.
    pub feeders: BTreeMap<&'j str, OfFeeder>,
    /// By circuit: its breaker suits its conductors.
    pub circuits: BTreeMap<&'j str, bool>,
    /// At the service.
    pub service: OfService,
}

/// Where a board stands in a supply tree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It holds the service disconnect.
    Service,
    /// A feeder supplies it.
    FeederFed,
    /// It was not there, or nothing supplies it.
    None,
}

/// Answers about one board.
#[derive(Clone, Debug, Default)]
pub struct OfBoard<'j> {
    /// Where it stands after the work.
    pub standing: Option<Standing>,
    /// Where it stood before.
    pub before: Option<Standing>,
    /// The feeder that supplies it after the work.
    pub feeder: Option<(&'j str, &'j Feeder)>,
    /// That feeder carries the entire dwelling.
    pub entire_dwelling: Option<bool>,
    /// Rating of the device that protects its bus.
    pub supply_device: Fact<Amperes>,
    /// Calculated load on it.
    pub load: Option<Amperes>,
    /// Available fault current at it.
    pub fault_current: Option<Amperes>,
    /// Gutter and terminal bending space meet the tables.
    pub bending_space: Option<bool>,
    /// Fill where its cabinet holds splices is within the limits.
    pub splice_fill: Option<bool>,
}

/// Answers about one feeder.
#[derive(Clone, Copy, Debug, Default)]
pub struct OfFeeder {
    /// Ampacity after every limit.
    pub ampacity: Option<Amperes>,
    /// Standard device rating at or next above that ampacity.
    pub next_standard: Option<Amperes>,
    /// Calculated load.
    pub load: Option<Amperes>,
    /// Its equipment ground is large enough.
    pub ground_size: Option<bool>,
    /// Its device is within what its conductors allow.
    pub device: Option<bool>,
}

/// Answers about the service.
#[derive(Clone, Copy, Debug, Default)]
pub struct OfService {
    /// Hand motions that open it.
    pub throws: Option<u32>,
    /// Available fault current.
    pub fault_current: Option<Amperes>,
    /// Every electrode conductor is large enough.
    pub electrode_conductors: Option<bool>,
}

impl<'j> Calculated<'j> {
    /// Standing and feeder of each board by the feeders' own ends alone: what can be told before any calculation.
    #[must_use]
    pub fn from_pictures(job: &'j Job) -> Self {
        let mut numbers = Self::default();
        for (id, board) in &job.after.boards {
            let feeder = feeder_to(&job.after, id.as_str());
            let before = job.before.boards.get(id).map_or(Standing::None, |_| {
                standing(feeder_to(&job.before, id.as_str()))
            });
            let of_board = OfBoard {
                standing: Some(standing(feeder)),
                before: Some(before),
                feeder,
                supply_device: supply_device(board, feeder),
                ..OfBoard::default()
            };
            numbers.boards.insert(id.as_str(), of_board);
        }
        numbers.service.fault_current = job.after.supply.fault_current.get();
        numbers
    }
}

fn feeder_to<'j>(house: &'j House, board: &str) -> Option<(&'j str, &'j Feeder)> {
    let mut feeders = house.feeders.iter();
    feeders
        .find(|(_, f)| f.to == board)
        .map(|(id, f)| (id.as_str(), f))
}

fn standing(feeder: Option<(&str, &Feeder)>) -> Standing {
    match feeder {
        None => Standing::None,
        Some((_, f)) if f.from == UTILITY => Standing::Service,
        Some(_) => Standing::FeederFed,
    }
}

/// Its own main breaker, or the breaker at the supply end of its feeder.
fn supply_device(board: &Board, feeder: Option<(&str, &Feeder)>) -> Fact<Amperes> {
    match board.main.get() {
        Some(MainKind::MainBreaker | MainKind::BackfedBreaker) => board.main_amps.clone(),
        Some(MainKind::MainLugs | MainKind::FeedThrough) => {
            feeder.map_or(Fact::Unknown, |(_, f)| f.breaker.clone())
        }
        None => Fact::Unknown,
    }
}
