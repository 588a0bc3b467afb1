//! Every calculation of one picture: load, feeders, fault current, busbars, fill, from the job as surveyed to worksheets.
//! Sources: the modules it calls, each by edition. Nothing is worked out twice; what is unknown stays so and is named.
//!
//! - [`load`]: the dwelling, or a board's share of it, as the load calculation wants it; [`change`], [`larger`], [`remedy`], [`turned`]: what would make it fit;
//! - [`feeder`]: conductors, device, neutral, ground, voltage drop and raceway of each feeder;
//! - [`fault`]: short-circuit current at each board;
//! - [`circuit`]: breaker against conductor of each branch circuit;
//! - [`cabinet`]: busbars and cabinets; [`bending`]: room for the bend at lugs and in gutters.

pub mod bending;
pub mod cabinet;
pub mod change;
pub mod circuit;
pub mod fault;
pub mod feeder;
pub mod larger;
pub mod load;
pub mod remedy;
pub mod turned;

use model::house::{House, System};
use rulebook::tables::TablesIn;

use crate::load::Comparison;
use crate::tree::SupplyTree;
use crate::worksheet::Worksheet;
use bending::BendSheet;
use cabinet::{BusSheet, SpliceSheet};
use circuit::CircuitSheet;
use fault::BoardFaultSheet;
use feeder::FeederSheet;
use load::BoardLoad;

/// All calculations of one picture.
#[derive(Clone, Debug)]
pub struct Sheets<'j> {
    /// Load on each board, in the order of the tree.
    pub loads: Vec<BoardLoad<'j>>,
    /// Each feeder and the service conductors, in the order of the tree.
    pub feeders: Vec<FeederSheet<'j>>,
    /// Fault current at each board, in the order of the tree.
    pub faults: Vec<BoardFaultSheet<'j>>,
    /// The worksheets behind the fault currents, one per path from the utility.
    pub fault_worksheets: Vec<Worksheet>,
    /// Busbar of each board with a source on it.
    pub buses: Vec<BusSheet<'j>>,
    /// Each branch circuit.
    pub circuits: Vec<CircuitSheet<'j>>,
    /// Each old cabinet that becomes a splice box.
    pub splices: Vec<SpliceSheet<'j>>,
    /// Room for bends in each cabinet whose spaces are known.
    pub bends: Vec<BendSheet<'j>>,
    /// Electrode conductors and bonding jumper.
    pub grounding: Vec<feeder::GroundingSheet>,
}

/// How far the calculations go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// With the changes that would make a load fit and a failing feeder pass.
    Remedies,
    /// What is so, and no more: for going through many jobs.
    Verdicts,
}

/// Works out everything about `house`. `before` is the other picture when `house` is the one after the work: loads it did not have count as new.
#[must_use]
pub fn all<'j>(
    house: &'j House,
    before: Option<&House>,
    tree: &SupplyTree<'j>,
    depth: Depth,
    book: &TablesIn<'_>,
) -> Sheets<'j> {
    let loads = load::of_boards(house, before, tree, book);
    let mut feeders = feeder::of_tree(house, tree, &loads, book);
    if depth == Depth::Remedies {
        feeders.iter_mut().for_each(|f| f.seek_changes(book));
    }
    let (faults, fault_worksheets) = fault::of_tree(house, tree, book);
    let mut sheets = Sheets {
        buses: cabinet::buses(house, tree, book),
        circuits: circuit::of_house(house, book),
        splices: cabinet::splices(house, before, book),
        bends: bending::of_tree(house, tree, book),
        grounding: feeder::grounding(house, tree, book),
        loads,
        feeders,
        faults,
        fault_worksheets,
    };
    if depth == Depth::Remedies {
        let remedies = remedy::of_boards(house, before, &sheets, tree, book);
        for (load, remedies) in sheets.loads.iter_mut().zip(remedies) {
            load.remedies = remedies;
        }
    }
    sheets
}

/// System of the picture; 120/240 V where nobody said, which each feeder then tells in [`FeederSheet::said`].
pub(crate) fn system(house: &House) -> System {
    house
        .dwelling
        .system
        .get()
        .unwrap_or(System::SinglePhase120_240)
}

impl<'j> Sheets<'j> {
    /// Load on a board.
    #[must_use]
    pub fn load(&self, board: &str) -> Option<&BoardLoad<'j>> {
        self.loads.iter().find(|l| l.board == board)
    }

    /// The load comparison of the service, where there is one.
    #[must_use]
    pub fn service_load(&self) -> Option<&Comparison> {
        self.loads.first().map(|l| &l.comparison)
    }

    /// A feeder.
    #[must_use]
    pub fn feeder(&self, id: &str) -> Option<&FeederSheet<'j>> {
        self.feeders.iter().find(|f| f.id == id)
    }

    /// Fault current at a board.
    #[must_use]
    pub fn fault(&self, board: &str) -> Option<&BoardFaultSheet<'j>> {
        self.faults.iter().find(|f| f.board == board)
    }

    /// Every worksheet, in the order of a report.
    pub fn worksheets(&self) -> impl Iterator<Item = &Worksheet> {
        let loads = self
            .loads
            .iter()
            .flat_map(|l| l.comparison.outcomes.iter().map(|o| &o.worksheet));
        loads
            .chain(self.feeders.iter().flat_map(FeederSheet::worksheets))
            .chain(self.grounding.iter().map(|g| &g.worksheet))
            .chain(&self.fault_worksheets)
            .chain(self.buses.iter().map(|b| &b.check.worksheet))
            .chain(self.splices.iter().map(|s| &s.worksheet))
            .chain(self.bends.iter().map(|b| &b.worksheet))
            .chain(self.circuits.iter().map(|c| &c.worksheet))
    }

    /// The worksheet with this name.
    #[must_use]
    pub fn find(&self, id: &str) -> Option<&Worksheet> {
        self.worksheets().find(|w| w.id == id)
    }
}
