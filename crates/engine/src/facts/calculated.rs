//! What supply tree and worksheets tell of the facts: the numbers that no survey gives.
//! Source: [`crate::tree`] and [`crate::sheets`]. Amperes; `None` wherever the calculation could not be told.

use std::collections::BTreeMap;

use model::Fact;
use model::house::{Feeder, House, MainKind};
use model::units::Amperes;
use rulebook::tables::TablesIn;

use crate::conductor::FeederCheck;
use crate::conductor::found::Verdict;
use crate::fault::BoardFault;
use crate::sheets::Sheets;
use crate::sheets::load::BoardLoad;
use crate::tree::{Role, SupplyTree};

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
    /// Gathers what the facts need from the trees of both pictures and the sheets of the after picture.
    #[must_use]
    pub fn of(
        before: &SupplyTree<'_>,
        tree: &SupplyTree<'j>,
        sheets: &Sheets<'j>,
        house: &House,
        book: &TablesIn<'_>,
    ) -> Self {
        let mut numbers = Self::default();
        for node in &tree.nodes {
            let was = before
                .node(node.id)
                .map_or(Standing::None, |n| standing(n.role));
            let of_board = OfBoard {
                standing: Some(standing(node.role)),
                before: Some(was),
                feeder: node.feeder,
                entire_dwelling: node.carries_entire_dwelling.get(),
                supply_device: node.protected_by.clone(),
                load: sheets.load(node.id).and_then(BoardLoad::amperes),
                fault_current: sheets.fault(node.id).and_then(|f| deciding(&f.fault)),
                bending_space: sheets
                    .bends
                    .iter()
                    .find(|b| b.board == node.id)
                    .and_then(|b| told(b.verdict)),
                splice_fill: sheets
                    .splices
                    .iter()
                    .find(|s| s.board == node.id)
                    .and_then(|s| told(s.verdict)),
            };
            numbers.boards.insert(node.id, of_board);
        }
        for sheet in &sheets.feeders {
            let ampacity = ampacity(&sheet.check);
            let next = ampacity.and_then(|a| book.next_standard_rating(a).ok());
            let of_feeder = OfFeeder {
                ampacity,
                next_standard: next.map(|n| n.value),
                load: sheets.load(sheet.board).and_then(BoardLoad::amperes),
                ground_size: sheet.ground.as_ref().and_then(|g| told(g.verdict)),
                device: told(sheet.check.protected),
            };
            numbers.feeders.insert(sheet.id, of_feeder);
        }
        let circuits = sheets.circuits.iter();
        numbers.circuits = circuits
            .filter_map(|c| Some((c.id, told(c.verdict)?)))
            .collect();
        numbers.service = OfService {
            throws: throws(house, tree),
            fault_current: tree
                .services()
                .next()
                .and_then(|n| numbers.boards.get(n.id)?.fault_current),
            electrode_conductors: electrode_conductors(sheets),
        };
        numbers
    }
}

fn standing(role: Role) -> Standing {
    match role {
        Role::Service => Standing::Service,
        Role::FeederFed => Standing::FeederFed,
        Role::Unfed => Standing::None,
    }
}

fn told(verdict: Verdict) -> Option<bool> {
    match verdict {
        Verdict::Pass => Some(true),
        Verdict::Fail => Some(false),
        Verdict::CannotTell => None,
    }
}

/// Hand motions that open the service: one for a main, one for each breaker of a service board without one.
fn throws(house: &House, tree: &SupplyTree<'_>) -> Option<u32> {
    let each = tree.services().map(|node| match node.board.main.get()? {
        MainKind::MainBreaker | MainKind::BackfedBreaker => Some(1),
        MainKind::MainLugs | MainKind::FeedThrough => {
            let circuits = house.circuits.values();
            let circuits = circuits.filter(|c| c.board == node.id).count();
            let feeders = house.feeders.values().filter(|f| f.from == node.id).count();
            let sources = house
                .sources
                .values()
                .filter(|s| s.board == node.id)
                .count();
            u32::try_from(circuits + feeders + sources).ok()
        }
    });
    each.sum::<Option<u32>>().filter(|n| *n > 0)
}

/// The fault current itself; where only bounds are known, the bound that already decides against the rating.
fn deciding(fault: &BoardFault) -> Option<Amperes> {
    match fault.verdict {
        Verdict::Pass => fault.highest.high,
        Verdict::Fail => fault.highest.low,
        Verdict::CannotTell => fault.highest.exact(),
    }
}

/// The ampacity itself; where only bounds are known, the lower one when that already carries load and device.
fn ampacity(check: &FeederCheck) -> Option<Amperes> {
    let passes = check.verdict == Verdict::Pass;
    let ampacity = &check.ampacity;
    ampacity
        .exact()
        .or(if passes { ampacity.low } else { None })
}

fn electrode_conductors(sheets: &Sheets<'_>) -> Option<bool> {
    let electrodes = sheets.grounding.iter();
    electrodes
        .filter(|g| g.worksheet.id.contains("electrode"))
        .map(|g| g.verdict)
        .reduce(Verdict::and)
        .and_then(told)
}
