//! Which terminations are tightened, to what, and where does the target come from? An empty cell for each reading.
//! Source: the maker's marking, read on site; else NFPA 70 Informative Annex I as published. Pound-force inches.

use std::collections::BTreeSet;

use engine::cutover::FeederLanding;
use engine::tree::Role;
use model::conductor::Wire;
use model::house::{Circuit, Purpose};
use model::{Fact, WireSize};
use rulebook::tables::{Screw, Subject};
use serde_json::{Value, json};

use super::landed;
use super::tongue::Tongue;
use crate::material::Material;

/// Screws of a panelboard's terminals.
const SCREWS: [Screw; 3] = [Screw::SlottedSmall, Screw::SlottedLarge, Screw::Hex];
/// Widths of hexagon sockets, as the table names them.
const SOCKETS: [&str; 9] = [
    "1/8", "5/32", "3/16", "7/32", "1/4", "5/16", "3/8", "1/2", "9/16",
];

/// Whether there is a conductor under a terminal.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Cell {
    There,
    Perhaps,
    No,
}

impl Cell {
    const fn mark(self) -> &'static str {
        match self {
            Self::There => "",
            Self::Perhaps => "(?)",
            Self::No => "—",
        }
    }

    fn known(there: Option<bool>) -> Self {
        match there {
            Some(true) => Self::There,
            Some(false) => Self::No,
            None => Self::Perhaps,
        }
    }
}

/// One line: what is tightened, its conductor, and which of hot, second hot, neutral, ground there are.
struct Line {
    what: String,
    wire: Fact<Wire>,
    cells: [Cell; 4],
}

pub(super) fn torque(material: &Material<'_>, tongue: &Tongue<'_>) -> Value {
    let tables = material.report.book.tables();
    let house = &material.report.job.after;
    let circuits = landed(material);
    let cut = material.cut.as_ref().ok();
    let feeders = cut.map_or(&[][..], |c| c.feeders.as_slice());
    let mut boards: Vec<&str> = feeders.iter().map(|f| f.board).collect();
    boards.extend(circuits.iter().map(|(_, c)| c.board.as_str()));
    boards.sort_unstable();
    boards.dedup();
    let mut sizes: BTreeSet<WireSize> = BTreeSet::new();
    let mut count = 0;
    let mut sheets = Vec::new();
    for board in boards {
        let here = feeders.iter().filter(|f| f.board == board);
        let mut lines: Vec<Line> = here.map(|f| feeder(material, tongue, f)).collect();
        lines.extend(electrodes(material, tongue, board));
        let mine = circuits.iter().filter(|(_, c)| c.board == board);
        lines.extend(mine.map(|(id, c)| circuit(material, id, c, tongue)));
        for line in &lines {
            count += line.cells.iter().filter(|c| **c != Cell::No).count();
            sizes.extend(line.wire.get().map(|w| w.size));
        }
        let rows = lines.iter().map(|line| {
            let default = line
                .wire
                .get()
                .map_or_else(|| "?".to_owned(), |w| defaults(material, w.size));
            let mut row = vec![line.what.clone(), tongue.wire(&line.wire), default];
            row.extend(line.cells.map(|c| c.mark().to_owned()));
            row
        });
        let name = house
            .boards
            .contains_key(board)
            .then(|| tongue.board_named(board));
        sheets.push(json!({
            "title": tongue.say("crew-torque-of", &[("board", &name.unwrap_or_else(|| board.to_owned()))]),
            "rows": rows.collect::<Vec<_>>(),
        }));
    }
    let first = sizes
        .iter()
        .find_map(|s| tables.torque_for_wire(*s, Screw::SlottedLarge).ok());
    let check = first
        .as_ref()
        .map_or(rulebook::Check::NotFound, |found| found.check);
    let cite = tables.cite(Subject::TorqueValues);
    let check = tongue.word(&format!("crew-check-{check}"));
    let values = [("cite", cite.to_string()), ("check", check)];
    let values: Vec<(&str, &str)> = values.iter().map(|(k, v)| (*k, v.as_str())).collect();
    let defaults = sizes.iter().map(|size| {
        let mut row = vec![size.to_string()];
        row.extend(SCREWS.map(|screw| default(material, *size, screw, tongue)));
        row
    });
    let sockets = SOCKETS.iter().filter_map(|across| {
        let found = tables.torque_for_socket(across).ok()?;
        Some(format!("{across}: {}", found.value.0))
    });
    let sockets = sockets.collect::<Vec<_>>().join("; ");
    json!({
        "note": tongue.say("crew-torque-note", &values),
        "defaults": defaults.collect::<Vec<_>>(),
        "sockets": tongue.say("crew-torque-sockets", &[("values", &sockets)]),
        "sheets": sheets,
        "count": tongue.say("crew-torque-count", &[("count", &count.to_string())]),
    })
}

fn default(material: &Material<'_>, size: WireSize, screw: Screw, tongue: &Tongue<'_>) -> String {
    let found = material.report.book.tables().torque_for_wire(size, screw);
    found.map_or_else(
        |_| tongue.word("crew-torque-no-entry"),
        |found| found.value.0.to_string(),
    )
}

/// The defaults of a size in the order of [`SCREWS`]; a dash where the table has none.
fn defaults(material: &Material<'_>, size: WireSize) -> String {
    let tables = material.report.book.tables();
    let each = SCREWS.map(|screw| {
        let found = tables.torque_for_wire(size, screw);
        found.map_or_else(|_| "–".to_owned(), |found| found.value.0.to_string())
    });
    each.join(" / ")
}

/// A branch circuit; the second one of a shared-neutral set brings one more hot only.
fn circuit(material: &Material<'_>, id: &str, circuit: &Circuit, tongue: &Tongue<'_>) -> Line {
    let circuits = &material.report.job.after.circuits;
    let second = circuit.shared_with.as_ref().is_some_and(|other| {
        let partner = circuits.get(other);
        other.as_str() < id && partner.is_some_and(|p| p.board == circuit.board)
    });
    // A circuit on both legs may have no neutral; the job file does not say.
    let neutral = match (second, circuit.poles) {
        (true, _) => Cell::No,
        (false, 1) => Cell::There,
        (false, _) => Cell::Perhaps,
    };
    let ground = if second {
        Cell::No
    } else {
        Cell::known(circuit.ground.get())
    };
    let second_hot = if circuit.poles > 1 {
        Cell::There
    } else {
        Cell::No
    };
    let serves = if circuit.purpose == Purpose::Spare {
        tongue.word("crew-spare")
    } else {
        circuit.serves.clone()
    };
    Line {
        what: if serves.is_empty() {
            id.to_owned()
        } else {
            format!("{id}: {serves}")
        },
        wire: circuit.wire.clone(),
        cells: [Cell::There, second_hot, neutral, ground],
    }
}

/// One end of a feeder.
fn feeder(material: &Material<'_>, tongue: &Tongue<'_>, end: &FeederLanding<'_>) -> Line {
    let feeder = material.report.job.after.feeders.get(end.feeder);
    let name = if end.is_supply_end {
        "crew-torque-feeder-supply"
    } else {
        "crew-torque-feeder-load"
    };
    let from_utility = feeder.is_some_and(|f| f.from == model::house::UTILITY);
    let ground = match feeder.and_then(|f| f.wires.get()) {
        _ if from_utility => Cell::No,
        Some(wires) => Cell::known(Some(wires >= 4)),
        None => Cell::Perhaps,
    };
    Line {
        what: tongue.say(name, &[("feeder", end.feeder)]),
        wire: feeder.map_or(Fact::Unknown, |f| f.wire.clone()),
        cells: [Cell::There, Cell::There, Cell::There, ground],
    }
}

/// At the service: the bonding jumper and the electrode conductors.
fn electrodes(material: &Material<'_>, tongue: &Tongue<'_>, board: &str) -> Vec<Line> {
    let report = material.report;
    let node = report.tree.node(board);
    if node.is_none_or(|n| n.role != Role::Service) || !material.faces.contains_key(board) {
        return Vec::new();
    }
    let only_ground = [Cell::No, Cell::No, Cell::No, Cell::There];
    let bond = Line {
        what: tongue.word("crew-torque-bond"),
        wire: Fact::Unknown,
        cells: only_ground,
    };
    let known = report.job.after.grounding.electrodes.known();
    let each = known.into_iter().flatten().map(|e| Line {
        what: tongue.word("crew-torque-electrodes"),
        wire: e.conductor.clone(),
        cells: only_ground,
    });
    std::iter::once(bond).chain(each).collect()
}
