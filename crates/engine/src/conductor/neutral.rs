//! How small may the neutral be?
//! Source: NFPA 70 220.61 (120.61) for its load, 215.2(A) with Table 250.122 for a feeder, 230.42(C) with 250.102(C)(1) for a service.
//! Amperes in, trade size out.

use model::units::Amperes;
use model::{Material, Wire, WireSize};
use rulebook::NoValue;
use rulebook::tables::{Subject, TablesIn};
use serde::Serialize;

use super::ampacity::Installation;
use super::grounding::ServiceConductors;
use super::remedy::smallest_for_ampacity;
use crate::worksheet::{Line, Worksheet};

/// What else than its load bounds the neutral from below.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Floor {
    /// A feeder: the equipment grounding size for its device, so that a fault clears.
    Feeder {
        /// Rating of the feeder's device.
        device: Amperes,
    },
    /// A service: the size for the service conductors.
    Service(ServiceConductors),
}

impl Floor {
    const fn subject(self) -> Subject {
        match self {
            Self::Feeder { .. } => Subject::NeutralMinimumFeeder,
            Self::Service(_) => Subject::NeutralMinimumService,
        }
    }
}

/// Smallest neutral of `material` for a neutral load of `load`, run as in `installation` (whose own conductor does not matter).
pub fn smallest_neutral(
    id: &str,
    load: Amperes,
    installation: &Installation,
    material: Material,
    floor: Floor,
    book: &TablesIn<'_>,
) -> (Worksheet, Option<Wire>) {
    let mut sheet = Worksheet::new(format!("{id}.neutral"), "Smallest neutral", book.edition());
    let rating = match floor {
        Floor::Feeder { device } => Some(device),
        Floor::Service(_) => None,
    };
    let Some(by_load) = smallest_for_ampacity(installation, material, load, rating, book) else {
        sheet.push(Line::cannot_tell(
            "Size by the neutral load",
            "how the conductors are run, or a conductor large enough in the tables",
        ));
        return (sheet, None);
    };
    sheet.push(
        Line::text("Size by the neutral load", by_load.to_string())
            .how("smallest conductor whose ampacity is not below the neutral load")
            .input("neutral load", load)
            .cite(book.cite(Subject::Neutral)),
    );
    match floor_size(floor, material, book, &mut sheet) {
        Ok(size) => {
            let wire = Wire {
                size: by_load.size.max(size),
                material,
            };
            sheet.push(
                Line::text("Smallest neutral", wire.to_string())
                    .how("the larger of both")
                    .cite(book.cite(floor.subject())),
            );
            (sheet, Some(wire))
        }
        Err(why) => {
            sheet.push(Line::no_value("Smallest neutral", &why));
            (sheet, None)
        }
    }
}

fn floor_size(
    floor: Floor,
    material: Material,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<WireSize, NoValue> {
    let (label, size, source) = match floor {
        Floor::Feeder { device } => {
            let found = book.egc(device, material)?;
            (
                "Not below the equipment grounding size",
                found.value,
                (found.cite, found.check),
            )
        }
        Floor::Service(service) => {
            let area = service.leg.size.area() * f64::from(service.sets.max(1));
            let found = book.bonding_jumper(area, service.leg.material, material)?;
            let label = "Not below the size for the service conductors";
            (label, found.value.size, (found.cite, found.check))
        }
    };
    let line = Line::text(label, format!("{size} {material}"));
    sheet.push(line.checked(source.1).cite(source.0));
    Ok(size)
}
