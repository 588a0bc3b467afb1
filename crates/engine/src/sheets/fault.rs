//! Short-circuit current at each board, along every path from the utility.
//! Source: utility's figure or transformer nameplate, feeders of the tree; [`crate::fault`]. Amperes.

use model::Fact;
use model::house::House;
use model::units::Percent;
use rulebook::tables::{TablesIn, limit};

use super::feeder::run;
use super::system;
use crate::fault::{BoardFault, Motors, Segment, Source, fault_currents};
use crate::tree::{Role, SupplyTree};
use crate::worksheet::Worksheet;

/// Fault current at one board.
#[derive(Clone, Debug)]
pub struct BoardFaultSheet<'j> {
    /// The board.
    pub board: &'j str,
    /// What was worked out.
    pub fault: BoardFault,
}

/// Every board of the tree once, and a worksheet for each path to a board at its end.
pub(super) fn of_tree<'j>(
    house: &'j House,
    tree: &SupplyTree<'j>,
    book: &TablesIn<'_>,
) -> (Vec<BoardFaultSheet<'j>>, Vec<Worksheet>) {
    let source = source(house, book);
    let mut sheets: Vec<BoardFaultSheet<'j>> = Vec::new();
    let mut worksheets = Vec::new();
    for (place, node) in tree.nodes.iter().enumerate() {
        let is_end = !tree.nodes.iter().any(|n| n.parent == Some(place));
        if !is_end || node.role == Role::Unfed {
            continue;
        }
        let chain = tree.chain(place);
        let segments: Vec<Segment> = chain
            .iter()
            .map(|&at| {
                let node = &tree.nodes[at];
                Segment {
                    board: node.id.to_owned(),
                    run: node
                        .feeder
                        .and_then(|(_, f)| run(f))
                        .map_or(Fact::Unknown, Fact::derived),
                    rating: node.board.short_circuit_rating.clone(),
                }
            })
            .collect();
        let (worksheet, faults) = fault_currents(
            &format!("board.{}", node.id),
            system(house),
            &source,
            &segments,
            Motors::LeftOut,
            book,
        );
        worksheets.push(worksheet);
        for &at in &chain {
            let id = tree.nodes[at].id;
            if sheets.iter().any(|s| s.board == id) {
                continue;
            }
            if let Some(fault) = faults.iter().find(|f| f.board == id) {
                sheets.push(BoardFaultSheet {
                    board: id,
                    fault: fault.clone(),
                });
            }
        }
    }
    (sheets, worksheets)
}

fn source(house: &House, book: &TablesIn<'_>) -> Source {
    let tolerance = book
        .limit(limit::TRANSFORMER_IMPEDANCE_TOLERANCE)
        .map_or(Percent::ZERO, |t| t.value);
    match (&house.supply.fault_current, &house.supply.transformer) {
        (Fact::Unknown, Some(t)) => Source::Transformer {
            size: Fact::seen(t.kva),
            impedance: t.impedance.clone(),
            tolerance,
            x_over_r: t.x_over_r.clone(),
        },
        (stated, t) => Source::Stated {
            line_to_line: stated.clone(),
            line_to_neutral: Fact::Unknown,
            x_over_r: t.as_ref().map_or(Fact::Unknown, |t| t.x_over_r.clone()),
        },
    }
}
