//! Tightening torque where the maker of the equipment gives none.
//! Source: NFPA 70 Informative Annex I, Tables I.1 to I.3 (`torque_screws.csv`, `torque_slots.csv`, `torque_sockets.csv`). Pound-force inches.

use model::units::{Inches, PoundInches};
use model::{Edition, WireSize};

use super::TablesIn;
use super::entry::{BySize, Entry, Steps, found};
use super::reader::Reader;
use super::subject::Subject;
use crate::source::Lookup;

/// Screw that holds a conductor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Screw {
    /// Slotted head, slot not wider than 0.047 in and not longer than 1/4 in.
    SlottedSmall,
    /// Slotted head, slot wider or longer.
    SlottedLarge,
    /// External hexagon of a split-bolt connector.
    SplitBolt,
    /// External hexagon of any other connector.
    Hex,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct Torques {
    screws: BySize<[Option<PoundInches>; 4]>,
    slots: Steps<[Option<PoundInches>; 2]>,
    sockets: Vec<(String, Entry<PoundInches>)>,
}

pub(crate) fn load(reader: &mut Reader<'_>) -> [Torques; 5] {
    const SCREWS: &str = "tables/torque_screws.csv";
    let header = &[
        "size",
        "slotted_small_lbf_in",
        "slotted_large_lbf_in",
        "split_bolt_lbf_in",
        "other_hex_lbf_in",
    ];
    let screws = reader.rows(SCREWS, header, 1, |cells| {
        let values = [
            "slotted_small_lbf_in",
            "slotted_large_lbf_in",
            "split_bolt_lbf_in",
            "other_hex_lbf_in",
        ]
        .map(|c| cells.number(c, PoundInches));
        Some((cells.sizes("size")?, values))
    });
    const SLOTS: &str = "tables/torque_slots.csv";
    let slots = reader.rows(
        SLOTS,
        &["slot_from_in", "narrow_lbf_in", "wide_lbf_in"],
        1,
        |cells| {
            let from = cells.number("slot_from_in", |n| n);
            let values = ["narrow_lbf_in", "wide_lbf_in"].map(|c| cells.number(c, PoundInches));
            Some((cells.needed("slot_from_in", from)?, values))
        },
    );
    let header = &["across_flats", "torque_lbf_in"];
    let sockets = reader.rows("tables/torque_sockets.csv", header, 1, |cells| {
        Some((
            cells.text("across_flats").to_owned(),
            cells.number("torque_lbf_in", PoundInches),
        ))
    });
    Edition::ALL.map(|edition| {
        let mut by_size = BySize::default();
        for row in screws.iter().filter(|r| r.holds_in(edition)) {
            let entry = Entry {
                value: Some(row.value.1),
                check: row.check,
                section: None,
            };
            by_size.put(row.value.0, entry, (SCREWS, row.line), reader);
        }
        Torques {
            screws: by_size,
            slots: Steps::read(&slots, edition, (SLOTS, "slot_from_in"), reader, |r| {
                Some((r.value.0, Some(r.value.1)))
            }),
            sockets: sockets
                .iter()
                .filter(|r| r.holds_in(edition))
                .map(|r| {
                    (
                        r.value.0.clone(),
                        Entry {
                            value: r.value.1,
                            check: r.check,
                            section: None,
                        },
                    )
                })
                .collect(),
        }
    })
}

impl TablesIn<'_> {
    /// Torque of a screw that holds a conductor.
    pub fn torque_for_wire(&self, size: WireSize, screw: Screw) -> Lookup<PoundInches> {
        let entry = self.tables.torques.screws.get(size);
        found(
            entry.map(|e| e.map(|t| t[screw as usize])),
            self.cite(Subject::TorqueValues),
            || format!("{size} under that screw"),
        )
    }

    /// Torque of a small slotted screw by the length of its slot; `wide`: slot 0.047 in or wider. Between printed lengths the shorter counts.
    pub fn torque_for_slot(&self, length: Inches, wide: bool) -> Lookup<PoundInches> {
        let entry = self.tables.torques.slots.from(length.0);
        found(
            entry.map(|e| e.map(|t| t[usize::from(wide)])),
            self.cite(Subject::TorqueValues),
            || format!("a slot of {length}"),
        )
    }

    /// Torque of a socket-head screw by its width across flats, for example `3/16` (inches, as the trade writes it).
    pub fn torque_for_socket(&self, across_flats: &str) -> Lookup<PoundInches> {
        let sockets = &self.tables.torques.sockets;
        let entry = sockets
            .iter()
            .find(|(name, _)| name == across_flats)
            .map(|(_, e)| e.clone());
        found(entry, self.cite(Subject::TorqueValues), || {
            format!("a socket `{across_flats}`")
        })
    }
}
