//! Busbars that a source feeds too, and old cabinets that become splice boxes.
//! Sources: NFPA 70 705.12 and 312.8 (312.11 in 2026), by edition; [`crate::busbar`], [`crate::fill`]. Amperes, square inches.

use model::Fact;
use model::conductor::Insulation;
use model::house::{Board, House, OldCabinet, SourceKind};
use model::units::{Amperes, SquareInches};
use rulebook::tables::TablesIn;

use crate::busbar::{Bus, BusCheck, bus_check};
use crate::conductor::Verdict;
use crate::fill::gutter::{Gutter, gutter_fill};
use crate::fill::raceway::Conductor;
use crate::tree::SupplyTree;
use crate::worksheet::{Line, Worksheet};

/// Busbar of one board.
#[derive(Clone, Debug)]
pub struct BusSheet<'j> {
    /// The board.
    pub board: &'j str,
    /// What was worked out.
    pub check: BusCheck,
}

/// Cabinet that a board leaves behind as a splice box.
#[derive(Clone, Debug)]
pub struct SpliceSheet<'j> {
    /// The board that moved.
    pub board: &'j str,
    /// Steps.
    pub worksheet: Worksheet,
    /// Fill is within the limits.
    pub verdict: Verdict,
}

/// Every board with an inverter on it.
pub(super) fn buses<'j>(
    house: &'j House,
    tree: &SupplyTree<'j>,
    book: &TablesIn<'_>,
) -> Vec<BusSheet<'j>> {
    let mut sheets = Vec::new();
    for node in &tree.nodes {
        let mut sources = house
            .sources
            .values()
            .filter(|s| s.board == node.id && s.kind != SourceKind::Generator)
            .peekable();
        if sources.peek().is_none() {
            continue;
        }
        let (mut output, mut opposite) = (Fact::derived(Amperes::ZERO), Fact::derived(true));
        for source in sources {
            output = match (output.get(), source.output.get()) {
                (Some(sum), Some(more)) => Fact::derived(sum + more),
                _ => Fact::Unknown,
            };
            opposite = match (opposite.get(), source.opposite_end.get()) {
                (Some(false), _) | (_, Some(false)) => Fact::derived(false),
                (Some(true), Some(true)) => Fact::derived(true),
                _ => Fact::Unknown,
            };
        }
        let check = bus_check(
            &Bus {
                id: format!("board.{}", node.id),
                rating: node.board.bus.clone(),
                main: node.protected_by.clone(),
                inverter_output: output,
                at_opposite_end: opposite,
                sum_of_breakers: sum_of_breakers(house, node.id),
                center_fed: Fact::Unknown,
            },
            book,
        );
        sheets.push(BusSheet {
            board: node.id,
            check,
        });
    }
    sheets
}

/// Breakers of circuits, feeders and sources on a board; unknown as soon as one of them is.
fn sum_of_breakers(house: &House, board: &str) -> Fact<Amperes> {
    let circuits = house
        .circuits
        .values()
        .filter(|c| c.board == board)
        .map(|c| c.amps.get());
    let feeders = house
        .feeders
        .values()
        .filter(|f| f.from == board)
        .map(|f| f.breaker.get());
    let sources = house
        .sources
        .values()
        .filter(|s| s.board == board)
        .map(|s| s.breaker.get());
    let all: Option<Vec<Amperes>> = circuits.chain(feeders).chain(sources).collect();
    all.map_or(Fact::Unknown, |a| Fact::derived(a.into_iter().sum()))
}

/// Every old cabinet that stays as a splice box.
pub(super) fn splices<'j>(
    house: &'j House,
    before: Option<&House>,
    book: &TablesIn<'_>,
) -> Vec<SpliceSheet<'j>> {
    let moved = house
        .boards
        .iter()
        .filter(|(_, b)| b.old_cabinet.get() == Some(OldCabinet::SpliceBox));
    moved
        .map(|(id, _)| {
            let old = before.and_then(|b| b.boards.get(id));
            let (worksheet, verdict) = splice(id.as_str(), old, house, book);
            SpliceSheet {
                board: id.as_str(),
                worksheet,
                verdict,
            }
        })
        .collect()
}

/// The open old cabinet, empty of its interior: width times depth across the conductors.
/// Each circuit crosses once in and once out; splices are counted by nobody here and said so.
fn splice(
    id: &str,
    old: Option<&Board>,
    house: &House,
    book: &TablesIn<'_>,
) -> (Worksheet, Verdict) {
    let name = format!("old.{id}");
    let cannot = |why: String| {
        let mut sheet = Worksheet::new(
            format!("{name}.gutter-fill"),
            "Old cabinet as splice box",
            book.edition(),
        );
        sheet.push(Line::cannot_tell("Wiring space is large enough", why));
        (sheet, Verdict::CannotTell)
    };
    let Some((width, depth)) =
        old.and_then(|b| Some((b.cabinet.width.get()?, b.cabinet.depth.get()?)))
    else {
        return cannot(format!(
            "needs width and depth of the old cabinet (`boards.{id}.cabinet`)"
        ));
    };
    let mut conductors: Vec<Conductor> = Vec::new();
    for (circuit, c) in house.circuits.iter().filter(|(_, c)| c.board == id) {
        let Some(wire) = c.wire.get() else {
            return cannot(format!(
                "needs the conductor of circuit `{circuit}` (`wire`)"
            ));
        };
        // Legs, neutral and ground of each cable, in and out.
        let count = 2 * (u32::from(c.poles) + 2);
        match conductors.iter_mut().find(|k| k.size == wire.size) {
            Some(same) => same.count += count,
            None => conductors.push(Conductor {
                size: wire.size,
                insulation: Insulation::THHN,
                compact: false,
                count,
            }),
        }
    }
    let gutter = Gutter {
        space: SquareInches(width.0 * depth.0),
        conductors,
        splices: SquareInches::ZERO,
    };
    let (mut sheet, verdict) = gutter_fill(&name, &gutter, book);
    sheet.push(
        Line::text("Splices", "not counted: add the cross-section of the connectors, as their maker states it")
            .note("conductors of every circuit counted once in and once out, at the size of their hot conductor"),
    );
    (sheet, verdict)
}
