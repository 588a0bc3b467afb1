//! Room around and inside equipment: wire bending and depth of working space.
//! Source: NFPA 70 Tables 312.6(A), 312.6(B) and 110.26(A)(1) (`wire_bending_*.csv`, `working_space.csv`). Inches and feet.

use model::units::{Feet, Inches, Volts};
use model::{Edition, WireSize};

use super::TablesIn;
use super::entry::{BySize, Entry, Steps, found};
use super::reader::Reader;
use super::subject::Subject;
use crate::source::Lookup;

/// What stands opposite the equipment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Opposite {
    /// Condition 1: no live or grounded parts.
    NothingGrounded,
    /// Condition 2: grounded parts; concrete, brick and tile count as grounded.
    Grounded,
    /// Condition 3: live parts.
    Live,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct Spaces {
    same_wall: BySize<[Option<Inches>; 3]>,
    /// Standard and compact conductors.
    opposite_wall: [BySize<[Option<Inches>; 3]>; 2],
    reductions: BySize<Inches>,
    depth: Steps<[Option<Feet>; 3]>,
}

pub(crate) fn load(reader: &mut Reader<'_>) -> [Spaces; 5] {
    const SAME: &str = "tables/wire_bending_same_wall.csv";
    let header = &["size", "one_wire_in", "two_wires_in", "three_wires_in"];
    let same = reader.rows(SAME, header, 1, |cells| {
        let spaces =
            ["one_wire_in", "two_wires_in", "three_wires_in"].map(|c| cells.number(c, Inches));
        Some((cells.sizes("size")?, spaces))
    });
    const OPPOSITE: &str = "tables/wire_bending_opposite_wall.csv";
    let header = &["construction", "size", "one_wire_in", "two_wires_in"];
    let opposite = reader.rows(OPPOSITE, header, 2, |cells| {
        let compact = match cells.text("construction") {
            "standard" => false,
            "compact AA-8000" => true,
            other => {
                let found = format!("`{other}`");
                cells.wrong(
                    "construction",
                    "standard or compact AA-8000",
                    found,
                    "correct the cell",
                );
                return None;
            }
        };
        let one = cells.number("one_wire_in", Inches);
        let two = cells.number("two_wires_in", Inches);
        Some((compact, cells.sizes("size")?, [one, two, None]))
    });
    const REDUCTIONS: &str = "tables/wire_bending_reductions.csv";
    let reductions = reader.rows(REDUCTIONS, &["size", "reduction_in"], 1, |cells| {
        Some((cells.sizes("size")?, cells.number("reduction_in", Inches)))
    });
    const DEPTH: &str = "tables/working_space.csv";
    let header = &[
        "volts_to_ground_to_V",
        "condition_1_ft",
        "condition_2_ft",
        "condition_3_ft",
    ];
    let depth = reader.rows(DEPTH, header, 1, |cells| {
        let to = cells.number("volts_to_ground_to_V", |n| n);
        let depths =
            ["condition_1_ft", "condition_2_ft", "condition_3_ft"].map(|c| cells.number(c, Feet));
        Some((cells.needed("volts_to_ground_to_V", to)?, depths))
    });
    Edition::ALL.map(|edition| {
        let mut spaces = Spaces::default();
        for row in same.iter().filter(|r| r.holds_in(edition)) {
            let entry = Entry {
                value: Some(row.value.1),
                check: row.check,
                section: None,
            };
            let entry = entry.map(|v| (v != [None; 3]).then_some(v));
            spaces
                .same_wall
                .put(row.value.0, entry, (SAME, row.line), reader);
        }
        for row in opposite.iter().filter(|r| r.holds_in(edition)) {
            let (compact, sizes, value) = row.value;
            let entry = Entry {
                value: Some(value),
                check: row.check,
                section: None,
            };
            let entry = entry.map(|v| (v != [None; 3]).then_some(v));
            spaces.opposite_wall[usize::from(compact)].put(
                sizes,
                entry,
                (OPPOSITE, row.line),
                reader,
            );
        }
        for row in reductions.iter().filter(|r| r.holds_in(edition)) {
            let entry = Entry {
                value: row.value.1,
                check: row.check,
                section: None,
            };
            spaces
                .reductions
                .put(row.value.0, entry, (REDUCTIONS, row.line), reader);
        }
        spaces.depth = Steps::read(
            &depth,
            edition,
            (DEPTH, "volts_to_ground_to_V"),
            reader,
            |r| Some((r.value.0, Some(r.value.1))),
        );
        spaces
    })
}

impl TablesIn<'_> {
    /// Bending space where the conductor does not leave through the wall opposite its terminal. `NoEntry`: the table asks for none.
    pub fn wire_bending_same_wall(
        &self,
        size: WireSize,
        wires_per_terminal: u32,
    ) -> Lookup<Inches> {
        let entry = self.tables.spaces.same_wall.get(size);
        let cite = self.cite(Subject::WireBendingSameWall);
        found(
            entry.map(|e| e.map(|s| per_terminal(s, wires_per_terminal))),
            cite,
            || format!("{wires_per_terminal} x {size} on a terminal"),
        )
    }

    /// Bending space where the conductor leaves through the wall opposite its terminal. `compact`: AA-8000 aluminum, compact strand.
    pub fn wire_bending_opposite_wall(
        &self,
        size: WireSize,
        compact: bool,
        wires_per_terminal: u32,
    ) -> Lookup<Inches> {
        let entry = self.tables.spaces.opposite_wall[usize::from(compact)].get(size);
        let cite = self.cite(Subject::WireBendingOppositeWall);
        found(
            entry.map(|e| e.map(|s| per_terminal(s, wires_per_terminal))),
            cite,
            || format!("{wires_per_terminal} x {size} on a terminal"),
        )
    }

    /// What may be taken off the space at the opposite wall for one conductor in a removable or lay-in terminal.
    pub fn wire_bending_reduction(&self, size: WireSize) -> Lookup<Inches> {
        let entry = self.tables.spaces.reductions.get(size);
        found(
            entry.cloned(),
            self.cite(Subject::WireBendingOppositeWall),
            || format!("a reduction for {size}"),
        )
    }

    /// Depth of the clear space in front of equipment.
    pub fn working_space_depth(&self, to_ground: Volts, opposite: Opposite) -> Lookup<Feet> {
        let entry = self.tables.spaces.depth.at(to_ground.0);
        found(
            entry.map(|e| e.map(|d| d[opposite as usize])),
            self.cite(Subject::WorkingSpaceDepth),
            || format!("{to_ground} to ground"),
        )
    }
}

fn per_terminal(spaces: [Option<Inches>; 3], wires: u32) -> Option<Inches> {
    let place = usize::try_from(wires).ok()?.checked_sub(1)?;
    spaces.get(place).copied().flatten()
}
