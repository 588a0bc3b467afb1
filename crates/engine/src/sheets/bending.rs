//! Is there room in each cabinet for the bend of its supply conductors, and of the stiff branch conductors in its gutter?
//! Source: NFPA 70 312.6(A), 312.6(B), by edition; [`crate::fill::bending`]. Inches.

use model::house::{House, Leaves};
use model::units::Inches;
use model::{Material, WireSize};
use rulebook::tables::TablesIn;

use crate::conductor::Verdict;
use crate::fill::bending::bending_space;
use crate::tree::{Node, SupplyTree};
use crate::worksheet::{Line, Worksheet};

/// Bending space of one board.
#[derive(Clone, Debug)]
pub struct BendSheet<'j> {
    /// The board.
    pub board: &'j str,
    /// Steps.
    pub worksheet: Worksheet,
    /// Room at the lugs and in the gutter is enough.
    pub verdict: Verdict,
}

/// Every board of the tree whose cabinet was measured, or is planned, with its gutter or the room at its lugs.
pub(super) fn of_tree<'j>(
    house: &'j House,
    tree: &SupplyTree<'j>,
    book: &TablesIn<'_>,
) -> Vec<BendSheet<'j>> {
    let cabinet = |n: &&Node<'_>| {
        let cabinet = &n.board.cabinet;
        !(cabinet.gutter.is_unknown() && cabinet.lug_space.is_unknown())
    };
    let nodes = tree.nodes.iter().filter(cabinet);
    nodes.map(|node| one(house, node, book)).collect()
}

fn one<'j>(house: &House, node: &Node<'j>, book: &TablesIn<'_>) -> BendSheet<'j> {
    let mut sheet = Worksheet::new(
        format!("board.{}.wire-bending", node.id),
        "Wire-bending space",
        book.edition(),
    );
    let verdict =
        at_the_lugs(node, book, &mut sheet).and(in_the_gutter(house, node, book, &mut sheet));
    BendSheet {
        board: node.id,
        worksheet: sheet,
        verdict,
    }
}

/// The supply conductors. How they leave and, for aluminum, how they are stranded is tried both ways while unknown.
fn at_the_lugs(node: &Node<'_>, book: &TablesIn<'_>, sheet: &mut Worksheet) -> Verdict {
    const WHAT: &str = "supply conductors at their lugs";
    let known = node
        .feeder
        .and_then(|(_, feeder)| Some((feeder.wire.get()?, feeder.sets)));
    let Some((wire, sets)) = known else {
        sheet.push(Line::cannot_tell(
            WHAT,
            "needs the size of the supply conductors (`feeders`)",
        ));
        return Verdict::CannotTell;
    };
    let leaves = match node.board.cabinet.supply_leaves.get() {
        Some(leaves) => vec![leaves],
        None => vec![Leaves::Opposite, Leaves::Turning],
    };
    let compact: &[bool] = match wire.material {
        Material::Copper => &[false],
        _ => &[false, true],
    };
    let room = node.board.cabinet.lug_space.get();
    let tried: Vec<Tried> = leaves
        .into_iter()
        .flat_map(|leaves| compact.iter().map(move |compact| (leaves, *compact)))
        .map(|(leaves, compact)| {
            let wires = u32::from(sets);
            bending_space("", wire.size, wires, leaves, compact, room, book)
        })
        .collect();
    settle(WHAT, tried, sheet)
}

/// The stiffest branch conductor of the board, where every conductor is known.
fn in_the_gutter(
    house: &House,
    node: &Node<'_>,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Verdict {
    const WHAT: &str = "branch conductors in the gutter";
    let on_board = house.circuits.iter().filter(|(_, c)| c.board == node.id);
    let sizes: Result<Vec<WireSize>, &str> = on_board
        .filter(|(_, c)| c.purpose != model::house::Purpose::Spare)
        .map(|(id, c)| c.wire.get().map(|w| w.size).ok_or(id.as_str()))
        .collect();
    let largest = match sizes {
        Ok(sizes) => sizes.into_iter().max(),
        Err(circuit) => {
            let why = format!("needs the conductor of circuit `{circuit}` (`wire`)");
            sheet.push(Line::cannot_tell(WHAT, why));
            return Verdict::CannotTell;
        }
    };
    let Some(size) = largest else {
        return Verdict::Pass;
    };
    let room = node.board.cabinet.gutter.get();
    let found = bending_space("", size, 1, Leaves::Turning, false, room, book);
    settle(WHAT, vec![found], sheet)
}

type Tried = (Worksheet, Option<Inches>, Verdict);

/// Keeps the lines of the case that asks for most; the verdict holds only where all cases agree.
fn settle(what: &str, tried: Vec<Tried>, sheet: &mut Worksheet) -> Verdict {
    let agreed = tried
        .iter()
        .map(|(.., verdict)| *verdict)
        .reduce(|a, b| if a == b { a } else { Verdict::CannotTell });
    let several = tried.len() > 1;
    let most = |a: Tried, b: Tried| {
        if b.1.unwrap_or(Inches::ZERO) > a.1.unwrap_or(Inches::ZERO) {
            b
        } else {
            a
        }
    };
    let verdict = agreed.unwrap_or(Verdict::CannotTell);
    let Some((lines, ..)) = tried.into_iter().reduce(most) else {
        return verdict;
    };
    for mut line in lines.lines {
        line.label = format!("{}, {what}", line.label).into();
        if several {
            line.note = Some("the case that asks for most: through the wall opposite the terminal, ordinary strand, unless the job says otherwise".into());
        }
        sheet.push(line);
    }
    if several && verdict == Verdict::CannotTell {
        sheet.push(Line::cannot_tell(
            format!("Room for the bend in every case, {what}"),
            "needs the room at the lugs and how the conductors leave (`cabinet.lug_space`, `cabinet.supply_leaves`)",
        ));
    }
    verdict
}
