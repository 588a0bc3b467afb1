//! Findings by the place where the inspector stands: the job as a whole, then each board with all that hangs on it.
//! Source: the supply tree and the places of the findings.

use engine::facts::Place;
use engine::findings::{Finding, Instance};

use crate::material::Material;

/// What is looked at in one place.
pub(super) struct Group<'m> {
    /// The board; `None` for the job as a whole.
    pub(super) board: Option<&'m str>,
    /// Findings, each with its instances there.
    pub(super) findings: Vec<(&'m Finding<'m>, Vec<Instance<'m>>)>,
}

/// Groups with something in them: the job, then boards from the utility outwards.
pub(super) fn groups<'m>(material: &'m Material<'m>) -> Vec<Group<'m>> {
    let report = material.report;
    let boards = report.tree.nodes.iter().map(|n| Some(n.id));
    let mut groups: Vec<Group<'m>> = std::iter::once(None)
        .chain(boards)
        .map(|board| Group {
            board,
            findings: Vec::new(),
        })
        .collect();
    for finding in report.findings.findings.iter().filter(|f| !f.is_note()) {
        for group in &mut groups {
            let here = |i: &&Instance<'m>| board_of(material, i.place) == group.board;
            let mine: Vec<Instance<'m>> = finding.instances.iter().filter(here).copied().collect();
            if !mine.is_empty() {
                group.findings.push((finding, mine));
            }
        }
    }
    groups.retain(|g| !g.findings.is_empty());
    groups
}

/// The board that a place belongs to; the job where it belongs to none, or to one that is gone.
fn board_of<'m>(material: &'m Material<'m>, place: Place<'_>) -> Option<&'m str> {
    let report = material.report;
    let house = &report.job.after;
    let circuit = |id: &str| house.circuits.get(id).map(|c| c.board.as_str());
    let name = match place {
        Place::Job => None,
        Place::Board(id) | Place::OldCabinet(id) => Some(id.as_str()),
        Place::Feeder(id) => house.feeders.get(id).map(|f| f.to.as_str()),
        Place::Building(id) => {
            let mut boards = house.boards.iter();
            let there = boards.find(|(_, b)| b.building.as_ref() == Some(id));
            there.map(|(board, _)| board.as_str())
        }
        Place::Source(id) => house.sources.get(id).map(|s| s.board.as_str()),
        Place::Circuit(id) => circuit(id.as_str()),
        Place::Outlet(id) => house.outlets.get(id).and_then(|o| circuit(&o.circuit)),
    }?;
    report
        .tree
        .nodes
        .iter()
        .map(|n| n.id)
        .find(|id| *id == name)
}
