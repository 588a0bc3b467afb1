//! Resistance and impedance of conductors, fault-current constants, typical transformers.
//! Source: NFPA 70 Chapter 9 Tables 8 and 9 (`conductor_properties.csv`, `impedance.csv`); a published handbook table (`fault_constants.csv`) and
//! typical utility data (`transformers.csv`), both recalled. Ohms per 1000 ft at 75 C and 60 Hz.

use model::units::{CircularMils, Inches, KilovoltAmperes, OhmsPerKft, Percent, SquareInches};
use model::{Edition, Material, WireSize};

use super::TablesIn;
use super::ampacity::materials;
use super::entry::{BySize, Entry, Steps, found};
use super::reader::Reader;
use super::subject::Subject;
use crate::source::Lookup;

/// What surrounds the conductors, as far as it changes their impedance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Conduit {
    /// PVC, cable, or open wiring.
    Nonmagnetic,
    /// Aluminum raceway.
    Aluminum,
    /// Steel raceway.
    Steel,
}

/// Bare conductor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ConductorProperties {
    /// Number of strands; 1 is solid.
    pub strands: u32,
    /// Diameter of a strand; `None` where the conductor is solid.
    pub strand_diameter: Option<Inches>,
    /// Overall diameter.
    pub diameter: Inches,
    /// Overall cross-section, gaps between strands included.
    pub area: SquareInches,
    /// Cross-section of the metal.
    pub metal: CircularMils,
    /// Direct-current resistance of uncoated copper.
    pub copper: OhmsPerKft,
    /// Direct-current resistance of aluminum.
    pub aluminum: OhmsPerKft,
}

impl ConductorProperties {
    /// Direct-current resistance at 75 C.
    #[must_use]
    pub fn resistance(&self, material: Material) -> OhmsPerKft {
        if material.is_aluminum_column() {
            self.aluminum
        } else {
            self.copper
        }
    }
}

/// Alternating-current impedance of one conductor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Impedance {
    /// Resistance.
    pub resistance: OhmsPerKft,
    /// Reactance.
    pub reactance: OhmsPerKft,
}

/// Typical single-phase transformer with 120/240 V secondary: a placeholder until the utility states its own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Transformer {
    /// Reactance over resistance.
    pub x_over_r: f64,
    /// Least impedance met with.
    pub impedance_low: Percent,
    /// Greatest impedance met with.
    pub impedance_high: Percent,
    /// Low impedance that worst-case tables use; `None` where they have no such size.
    pub impedance_worst_case: Option<Percent>,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct Impedances {
    /// Solid and stranded.
    properties: [BySize<ConductorProperties>; 2],
    /// By metal, then surroundings.
    impedance: [[BySize<Impedance>; 3]; 3],
    effective: [[BySize<OhmsPerKft>; 3]; 3],
    /// By metal; nonmagnetic and steel.
    constants: [[BySize<f64>; 2]; 3],
    transformers: Steps<Transformer>,
}

pub(crate) fn load(reader: &mut Reader<'_>) -> [Impedances; 5] {
    const PROPERTIES: &str = "tables/conductor_properties.csv";
    let header = &[
        "size",
        "strands",
        "strand_diameter_in",
        "diameter_in",
        "area_in2",
        "area_cmil",
        "cu_ohm_per_kft",
        "al_ohm_per_kft",
    ];
    let properties = reader.rows(PROPERTIES, header, 2, |cells| {
        let sizes = cells.sizes("size")?;
        let strands = cells.count("strands");
        let strands = cells.needed("strands", strands)?;
        let strand_diameter = cells.number("strand_diameter_in", Inches);
        let diameter = cells.number("diameter_in", Inches);
        let area = cells.number("area_in2", SquareInches);
        let metal = cells.number("area_cmil", CircularMils);
        let ohms = ["cu_ohm_per_kft", "al_ohm_per_kft"].map(|c| cells.number(c, OhmsPerKft));
        let value = match (diameter, area, metal, ohms) {
            (Some(diameter), Some(area), Some(metal), [Some(copper), Some(aluminum)]) => {
                Some(ConductorProperties {
                    strands,
                    strand_diameter,
                    diameter,
                    area,
                    metal,
                    copper,
                    aluminum,
                })
            }
            _ => None,
        };
        Some((sizes, strands > 1, value))
    });
    const IMPEDANCE: &str = "tables/impedance.csv";
    let header = &[
        "size",
        "material",
        "conduit",
        "resistance_ohm_per_kft",
        "reactance_ohm_per_kft",
        "effective_pf85_ohm_per_kft",
        "effective_check",
    ];
    let impedance = reader.rows(IMPEDANCE, header, 3, |cells| {
        let conduit = match cells.text("conduit") {
            "PVC" => Conduit::Nonmagnetic,
            "aluminum" => Conduit::Aluminum,
            "steel" => Conduit::Steel,
            other => {
                let found = format!("`{other}`");
                cells.wrong(
                    "conduit",
                    "PVC, aluminum or steel",
                    found,
                    "correct the cell",
                );
                return None;
            }
        };
        let resistance = cells.number("resistance_ohm_per_kft", OhmsPerKft);
        let reactance = cells.number("reactance_ohm_per_kft", OhmsPerKft);
        let value = resistance
            .zip(reactance)
            .map(|(resistance, reactance)| Impedance {
                resistance,
                reactance,
            });
        let effective = cells.number("effective_pf85_ohm_per_kft", OhmsPerKft);
        let check = cells.check_in("effective_check")?;
        Some((
            cells.sizes("size")?,
            materials(cells)?,
            conduit,
            value,
            (effective, check),
        ))
    });
    const CONSTANTS: &str = "tables/fault_constants.csv";
    let header = &["size", "material", "conduit", "c_A_ft_per_V"];
    let constants = reader.rows(CONSTANTS, header, 3, |cells| {
        let steel = match cells.text("conduit") {
            "nonmagnetic" => false,
            "steel" => true,
            other => {
                let found = format!("`{other}`");
                cells.wrong("conduit", "nonmagnetic or steel", found, "correct the cell");
                return None;
            }
        };
        Some((
            cells.sizes("size")?,
            materials(cells)?,
            steel,
            cells.number("c_A_ft_per_V", |n| n),
        ))
    });
    const TRANSFORMERS: &str = "tables/transformers.csv";
    let header = &[
        "size_kVA",
        "x_over_r",
        "impedance_low_percent",
        "impedance_high_percent",
        "impedance_worst_case_percent",
    ];
    let transformers = reader.rows(TRANSFORMERS, header, 1, |cells| {
        let size = cells.number("size_kVA", |n| n);
        let x_over_r = cells.number("x_over_r", |n| n);
        let impedance_low = cells.number("impedance_low_percent", Percent);
        let impedance_high = cells.number("impedance_high_percent", Percent);
        let impedance_worst_case = cells.number("impedance_worst_case_percent", Percent);
        let value = match (x_over_r, impedance_low, impedance_high) {
            (Some(x_over_r), Some(impedance_low), Some(impedance_high)) => Some(Transformer {
                x_over_r,
                impedance_low,
                impedance_high,
                impedance_worst_case,
            }),
            _ => None,
        };
        Some((cells.needed("size_kVA", size)?, value))
    });

    Edition::ALL.map(|edition| {
        let mut tables = Impedances::default();
        for row in properties.iter().filter(|r| r.holds_in(edition)) {
            let (sizes, stranded, value) = row.value;
            let entry = Entry {
                value,
                check: row.check,
                section: None,
            };
            tables.properties[usize::from(stranded)].put(
                sizes,
                entry,
                (PROPERTIES, row.line),
                reader,
            );
        }
        for row in impedance.iter().filter(|r| r.holds_in(edition)) {
            let (sizes, metals, conduit, value, (effective, check)) = &row.value;
            for metal in metals {
                let (metal, conduit) = (*metal as usize, *conduit as usize);
                let entry = Entry {
                    value: *value,
                    check: row.check,
                    section: None,
                };
                tables.impedance[metal][conduit].put(*sizes, entry, (IMPEDANCE, row.line), reader);
                let entry = Entry {
                    value: *effective,
                    check: *check,
                    section: None,
                };
                tables.effective[metal][conduit].put(*sizes, entry, (IMPEDANCE, row.line), reader);
            }
        }
        for row in constants.iter().filter(|r| r.holds_in(edition)) {
            let (sizes, metals, steel, value) = &row.value;
            for metal in metals {
                let entry = Entry {
                    value: *value,
                    check: row.check,
                    section: None,
                };
                let table = &mut tables.constants[*metal as usize][usize::from(*steel)];
                table.put(*sizes, entry, (CONSTANTS, row.line), reader);
            }
        }
        tables.transformers = Steps::read(
            &transformers,
            edition,
            (TRANSFORMERS, "size_kVA"),
            reader,
            |r| Some(r.value),
        );
        tables
    })
}

impl TablesIn<'_> {
    /// Bare conductor, solid or stranded. `NoEntry` where the table prints no such construction.
    pub fn properties(&self, size: WireSize, stranded: bool) -> Lookup<ConductorProperties> {
        let entry = self.tables.impedances.properties[usize::from(stranded)].get(size);
        found(
            entry.cloned(),
            self.cite(Subject::ConductorProperties),
            || format!("{size}, {}", if stranded { "stranded" } else { "solid" }),
        )
    }

    /// Resistance and reactance at 75 C, 60 Hz.
    pub fn impedance(
        &self,
        size: WireSize,
        material: Material,
        conduit: Conduit,
    ) -> Lookup<Impedance> {
        let entry = self.tables.impedances.impedance[material as usize][conduit as usize].get(size);
        found(entry.cloned(), self.cite(Subject::Impedance), || {
            format!("{size} {material}")
        })
    }

    /// Impedance as printed for a power factor of 0.85.
    pub fn effective_impedance(
        &self,
        size: WireSize,
        material: Material,
        conduit: Conduit,
    ) -> Lookup<OhmsPerKft> {
        let entry = self.tables.impedances.effective[material as usize][conduit as usize].get(size);
        found(entry.cloned(), self.cite(Subject::Impedance), || {
            format!("{size} {material}")
        })
    }

    /// Constant C of the point-to-point fault-current method, in ampere-feet per volt. It is not from the code; the cite names the rule it serves.
    pub fn c_value(&self, size: WireSize, material: Material, conduit: Conduit) -> Lookup<f64> {
        let steel = usize::from(conduit == Conduit::Steel);
        let entry = self.tables.impedances.constants[material as usize][steel].get(size);
        found(
            entry.cloned(),
            self.cite(Subject::ShortCircuitRating),
            || format!("the fault constant of {size} {material}"),
        )
    }

    /// Typical transformer of exactly that size. It is not from the code; the cite names the rule it serves.
    pub fn transformer(&self, size: KilovoltAmperes) -> Lookup<Transformer> {
        let entry = self.tables.impedances.transformers.exactly(size.0);
        found(
            entry.cloned(),
            self.cite(Subject::ShortCircuitRating),
            || format!("a {size} transformer"),
        )
    }

    /// Transformer sizes that have typical data, smallest first.
    pub fn transformer_sizes(&self) -> impl Iterator<Item = KilovoltAmperes> {
        self.tables
            .impedances
            .transformers
            .iter()
            .map(|(size, _)| KilovoltAmperes(size))
    }
}
