//! How large must the grounding and bonding conductors be?
//! Source: NFPA 70 250.122 with (B), 250.66 with (A) to (C), 250.102(C) and (D), 250.28(D), by edition.
//! Amperes of the device or circular mils of the service conductors in, trade size out.

use model::units::{Amperes, CircularMils};
use model::{Material, Wire, WireSize};
use rulebook::tables::{Electrode, ElectrodeCap, Subject, TablesIn};
use rulebook::{NoValue, Sourced};
use serde::Serialize;

use super::feeder::Feeder;
use super::remedy::smallest_conductor;
use crate::worksheet::{Line, Quantity, Worksheet};

/// Ungrounded conductors that are larger than they need be, and what they are measured against.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Enlarged {
    /// One leg as it is run.
    pub leg: Wire,
    /// Parallel sets.
    pub sets: u32,
    /// Area that the circuit needs at least, all sets together.
    pub base: CircularMils,
    /// What that base is, in words: it decides the answer and must be said.
    pub base_words: String,
}

/// Equipment grounding conductor behind a device; enlarged in proportion where the legs are.
pub fn equipment_ground(
    id: &str,
    device: Amperes,
    material: Material,
    enlarged: Option<&Enlarged>,
    book: &TablesIn<'_>,
) -> (Worksheet, Option<Wire>) {
    let mut sheet = Worksheet::new(
        format!("{id}.equipment-ground"),
        "Equipment grounding conductor",
        book.edition(),
    );
    let table = match book.egc(device, material) {
        Ok(table) => table,
        Err(why) => {
            sheet.push(Line::no_value("Equipment grounding conductor", &why));
            return (sheet, None);
        }
    };
    sheet.push(
        Line::text("Size by the device", format!("{} {material}", table.value))
            .input("device", device)
            .source(&table),
    );
    let mut size = table.value;
    if let Some(enlarged) = enlarged {
        match in_proportion(&table, enlarged, book, &mut sheet) {
            Some(larger) => size = larger,
            None => return (sheet, None),
        }
    }
    let wire = Wire { size, material };
    sheet.push(Line::text("Equipment grounding conductor", wire.to_string()).source(&table));
    (sheet, Some(wire))
}

/// The base for [`Enlarged`]: the smallest conductors of the same metal and number of sets with which the feeder passes.
#[must_use]
pub fn enlarged(feeder: &Feeder, book: &TablesIn<'_>) -> Option<Enlarged> {
    let leg = feeder.installation.wire.get()?;
    let sets = feeder.installation.sets.max(1);
    let least = smallest_conductor(feeder, leg.material, book)?;
    (least.size < leg.size).then(|| Enlarged {
        leg,
        sets,
        base: least.size.area() * f64::from(sets),
        base_words: format!("{sets} x {least}, the smallest with which this circuit passes"),
    })
}

fn in_proportion(
    table: &Sourced<WireSize>,
    enlarged: &Enlarged,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Option<WireSize> {
    if enlarged.base.0 <= 0.0 {
        sheet.push(Line::cannot_tell(
            "Enlarged in proportion",
            "the size the circuit needs at least",
        ));
        return None;
    }
    let run = enlarged.leg.size.area() * f64::from(enlarged.sets.max(1));
    let ratio = (run / enlarged.base).max(1.0);
    let area = table.value.area() * ratio;
    sheet.push(
        Line::number("Circular mils in proportion", area)
            .how("circular mils of the table size x circular mils run / circular mils needed")
            .input("run", run)
            .input("needed", enlarged.base)
            .input("ratio", Quantity::number(ratio))
            .cite(book.cite(Subject::EgcUpsizing))
            .note(format!("Measured against {}.", enlarged.base_words)),
    );
    // Never required to be larger than the circuit conductors themselves. The half circular mil absorbs rounding of the ratio.
    let size = WireSize::at_least(area - CircularMils(0.5))
        .map_or(enlarged.leg.size, |s| s.min(enlarged.leg.size));
    Some(size.max(table.value))
}

/// Service conductors, for what is sized by them.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ServiceConductors {
    /// Largest ungrounded conductor.
    pub leg: Wire,
    /// Parallel sets.
    pub sets: u32,
}

impl ServiceConductors {
    fn area(self) -> CircularMils {
        self.leg.size.area() * f64::from(self.sets.max(1))
    }

    fn line(self) -> Line {
        Line::number(
            "Circular mils of one ungrounded service conductor",
            self.area(),
        )
        .how("circular mils x sets")
        .input_text("conductor", self.leg.to_string())
        .input("sets", Quantity::number(f64::from(self.sets.max(1))))
    }
}

/// Conductor to a grounding electrode. `electrode` names the kind where it is the only thing this conductor goes to, with the size
/// of the conductor it is made of where it is a ring.
pub fn electrode_conductor(
    id: &str,
    service: ServiceConductors,
    material: Material,
    electrode: Option<(Electrode, Option<WireSize>)>,
    book: &TablesIn<'_>,
) -> (Worksheet, Option<Wire>) {
    let mut sheet = Worksheet::new(
        format!("{id}.electrode-conductor"),
        "Grounding electrode conductor",
        book.edition(),
    );
    sheet.push(service.line());
    let size = match electrode_size(service, material, electrode, book, &mut sheet) {
        Ok(size) => size,
        Err(why) => {
            sheet.push(Line::no_value("Grounding electrode conductor", &why));
            return (sheet, None);
        }
    };
    let wire = Wire { size, material };
    sheet.push(
        Line::text("Grounding electrode conductor", wire.to_string()).cite(book.cite(Subject::Gec)),
    );
    (sheet, Some(wire))
}

fn electrode_size(
    service: ServiceConductors,
    material: Material,
    electrode: Option<(Electrode, Option<WireSize>)>,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<WireSize, NoValue> {
    let table =
        book.grounding_electrode_conductor(service.area(), service.leg.material, material)?;
    sheet.push(
        Line::text(
            "Size by the service conductors",
            format!("{} {material}", table.value),
        )
        .source(&table),
    );
    let Some((electrode, made_of)) = electrode else {
        return Ok(table.value);
    };
    let cap = match book.electrode_cap(electrode, material) {
        Ok(cap) => cap,
        // The table prints no cap for this metal: the full size stands.
        Err(NoValue::NoEntry { .. }) => return Ok(table.value),
        Err(why) => return Err(why),
    };
    let label = "Largest size that the electrode asks for";
    let size = match (cap.value, made_of) {
        (ElectrodeCap::Size(size), _) => size,
        (ElectrodeCap::SameAsElectrode, Some(size)) => size,
        (ElectrodeCap::SameAsElectrode, None) => {
            let line = Line::cannot_tell(label, "size of the electrode's own conductor");
            sheet.push(line.source(&cap).note("Until then the full size stands."));
            return Ok(table.value);
        }
    };
    sheet.push(Line::text(label, format!("{size} {material}")).source(&cap));
    Ok(table.value.min(size))
}

/// Main bonding jumper, supply-side bonding jumper, or smallest grounded conductor of a service.
pub fn bonding_jumper(
    id: &str,
    service: ServiceConductors,
    material: Material,
    book: &TablesIn<'_>,
) -> (Worksheet, Option<Wire>) {
    let mut sheet = Worksheet::new(
        format!("{id}.bonding-jumper"),
        "Main and supply-side bonding jumper",
        book.edition(),
    );
    sheet.push(service.line());
    match book.bonding_jumper(service.area(), service.leg.material, material) {
        Ok(size) => {
            let wire = Wire {
                size: size.value.size,
                material,
            };
            sheet.push(
                Line::text(
                    "Bonding jumper or smallest grounded conductor",
                    wire.to_string(),
                )
                .how("table, or a share of the area of the service conductor above its last row")
                .source(&size),
            );
            (sheet, Some(wire))
        }
        Err(why) => {
            sheet.push(Line::no_value(
                "Bonding jumper or smallest grounded conductor",
                &why,
            ));
            (sheet, None)
        }
    }
}
