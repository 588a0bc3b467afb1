//! Published tables: what do they say, in the edition at hand, and how far was it checked?
//! Source: the CSV files under `data/tables/` and `data/sections.csv`; each row names its editions, published source and check status.
//! Every look-up takes and returns typed units and ends in a [`Lookup`](crate::Lookup): a value with its section, or why there is none.
//!
//! ```
//! use model::{Edition, Material};
//! use rulebook::tables::{Column, Tables};
//!
//! let tables = Tables::built_in().map_err(|e| e[0].clone())?;
//! let book = tables.edition(Edition::Y2023);
//! let found = book.ampacity("2".parse()?, Material::Aluminum, Column::C75)?;
//! assert_eq!(found.value.to_string(), "90 A");
//! assert_eq!(found.cite.to_string(), "NEC 2023 Table 310.16");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod ampacity;
mod boxes;
mod demand;
mod editions;
mod entry;
mod error;
mod grounding;
mod impedance;
mod keys;
mod limits;
mod overcurrent;
mod raceway;
mod reader;
mod record;
mod sections;
mod space;
mod subject;
mod torque;

use model::Edition;

use crate::source::Cite;

pub use ampacity::{Cable, CableRule, Column};
pub use boxes::{BoxCount, BoxItem, CountedAs};
pub use demand::{DemandStep, RangeColumn};
pub use error::TableError;
pub use grounding::{BondingJumper, Electrode, ElectrodeCap};
pub use impedance::{ConductorProperties, Conduit, Impedance, Transformer};
pub use keys::{Flag, Limit, Quantity, flag, limit};
pub use raceway::{ConductorDimensions, Raceway};
pub use space::Opposite;
pub use subject::Subject;
pub use torque::Screw;

/// All tables in all editions. Made once, then only read.
#[derive(Clone, Debug)]
pub struct Tables {
    editions: [InEdition; 5],
}

/// The tables of one edition: the handle that calculations look values up with. Cheap to copy.
#[derive(Clone, Copy, Debug)]
pub struct TablesIn<'t> {
    edition: Edition,
    tables: &'t InEdition,
}

#[derive(Clone, Debug)]
struct InEdition {
    sections: sections::Sections,
    limits: limits::Limits,
    ampacities: ampacity::Ampacities,
    overcurrent: overcurrent::Overcurrent,
    grounding: grounding::Grounding,
    raceways: raceway::Raceways,
    impedances: impedance::Impedances,
    boxes: boxes::Boxes,
    spaces: space::Spaces,
    torques: torque::Torques,
    demands: demand::Demands,
}

impl Tables {
    /// The tables that the program carries.
    pub fn built_in() -> Result<Self, Vec<TableError>> {
        Self::parse(crate::data::FILES.iter().copied())
    }

    /// Tables from files: relative path and whole text of each. Every mistake is reported, not only the first.
    pub fn parse<'f>(
        files: impl IntoIterator<Item = (&'f str, &'f str)>,
    ) -> Result<Self, Vec<TableError>> {
        let mut reader = reader::Reader::new(files);
        let mut sections = sections::load(&mut reader).into_iter();
        let mut limits = limits::load(&mut reader).into_iter();
        let mut ampacities = ampacity::load(&mut reader).into_iter();
        let mut overcurrent = overcurrent::load(&mut reader).into_iter();
        let mut grounding = grounding::load(&mut reader).into_iter();
        let mut raceways = raceway::load(&mut reader).into_iter();
        let mut impedances = impedance::load(&mut reader).into_iter();
        let mut boxes = boxes::load(&mut reader).into_iter();
        let mut spaces = space::load(&mut reader).into_iter();
        let mut torques = torque::load(&mut reader).into_iter();
        let mut demands = demand::load(&mut reader).into_iter();
        if !reader.errors.is_empty() {
            return Err(reader.errors);
        }
        let editions = Edition::ALL.map(|_| InEdition {
            sections: sections.next().unwrap_or_default(),
            limits: limits.next().unwrap_or_default(),
            ampacities: ampacities.next().unwrap_or_default(),
            overcurrent: overcurrent.next().unwrap_or_default(),
            grounding: grounding.next().unwrap_or_default(),
            raceways: raceways.next().unwrap_or_default(),
            impedances: impedances.next().unwrap_or_default(),
            boxes: boxes.next().unwrap_or_default(),
            spaces: spaces.next().unwrap_or_default(),
            torques: torques.next().unwrap_or_default(),
            demands: demands.next().unwrap_or_default(),
        });
        Ok(Self { editions })
    }

    /// Whether a row marked with these editions (`2014-2026`, `2014 2020-2023`) holds in one of them.
    #[must_use]
    pub fn row_holds_in(editions: &str, edition: Edition) -> bool {
        editions::Editions::parse(editions).is_ok_and(|set| set.contains(edition))
    }

    /// The tables as one edition prints them.
    #[must_use]
    pub fn edition(&self, edition: Edition) -> TablesIn<'_> {
        TablesIn {
            edition,
            tables: &self.editions[edition.index()],
        }
    }
}

impl<'t> TablesIn<'t> {
    /// The edition at hand.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.edition
    }

    /// Where a subject stands in this edition. Where it has no section, or nobody confirmed the number, the text says so.
    #[must_use]
    pub fn cite(&self, subject: Subject) -> Cite {
        self.tables.sections.cite(subject, self.edition)
    }

    /// Whether this edition has a section on the subject.
    #[must_use]
    pub fn has_section(&self, subject: Subject) -> bool {
        self.tables.sections.exists(subject)
    }
}
