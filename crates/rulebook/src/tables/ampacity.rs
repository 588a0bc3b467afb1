//! How much current a conductor may carry: ampacity, correction, adjustment, dwelling sizes, cable rules.
//! Source: NFPA 70 Table 310.16 and its neighbours (`ampacity.csv`, `ambient.csv`, `bundling.csv`, `dwelling_conductors.csv`,
//! `cable_ampacity.csv`). Amperes at 30 C ambient; temperatures in degrees Celsius.

use std::sync::Arc;

use model::units::{Amperes, Celsius, Percent};
use model::{Edition, Material, WireSize};

use super::TablesIn;
use super::entry::{BySize, Entry, Steps, found, without_gap};
use super::reader::{Cells, Reader};
use super::subject::Subject;
use crate::source::Lookup;

/// Temperature column of the ampacity and correction tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Column {
    /// 60 C.
    C60,
    /// 75 C.
    C75,
    /// 90 C.
    C90,
}

impl Column {
    /// All three, coolest first.
    pub const ALL: [Self; 3] = [Self::C60, Self::C75, Self::C90];

    /// Conductor temperature of the column.
    #[must_use]
    pub const fn temperature(self) -> Celsius {
        match self {
            Self::C60 => Celsius(60.0),
            Self::C75 => Celsius(75.0),
            Self::C90 => Celsius(90.0),
        }
    }
}

impl std::fmt::Display for Column {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}", self.temperature())
    }
}

/// Cables with an ampacity rule of their own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Cable {
    /// Nonmetallic-sheathed cable.
    NM,
    /// Service-entrance cable used indoors.
    SE,
}

/// How a cable's ampacity differs from that of the same conductors in a raceway.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CableRule {
    /// Column that the final ampacity may never exceed.
    pub final_column: Option<Column>,
    /// Column that the final ampacity may not exceed where the cable touches thermal insulation.
    pub insulated_column: Option<Column>,
    /// Largest size the rule on thermal insulation applies to; `None`: every size.
    pub insulated_to_size: Option<WireSize>,
    /// Column to start correction and adjustment from.
    pub derate_column: Column,
    /// More cables than this, touching without spacing in insulation or a sealed opening, need the bundling factor; `None`: no such rule.
    pub adjust_over_cables: Option<u32>,
}

/// Three columns, 60, 75 and 90 C.
type Columns<T> = [Option<T>; 3];

#[derive(Clone, Debug, Default)]
pub(crate) struct Ampacities {
    by_material: [BySize<Columns<Amperes>>; 3],
    old_charts: [BySize<Columns<(Amperes, Amperes)>>; 3],
    ambient: Steps<Columns<f64>>,
    bundling: Steps<Percent>,
    dwelling: Steps<[Option<WireSize>; 2]>,
    cables: [Option<Entry<CableRule>>; 2],
}

struct Sized<T> {
    materials: Vec<Material>,
    sizes: (WireSize, WireSize),
    value: T,
}

pub(crate) fn load(reader: &mut Reader<'_>) -> [Ampacities; 5] {
    const FILE: &str = "tables/ampacity.csv";
    let header = &["size", "material", "c60_A", "c75_A", "c90_A"];
    let ampacity = reader.rows(FILE, header, 2, |cells| {
        let value = ["c60_A", "c75_A", "c90_A"].map(|c| cells.number(c, Amperes));
        Some(Sized {
            materials: materials(cells)?,
            sizes: cells.sizes("size")?,
            value,
        })
    });
    const OLD: &str = "tables/ampacity_old_charts.csv";
    let header = &["size", "material", "column", "older_A", "newer_A"];
    let old = reader.rows(OLD, header, 3, |cells| {
        let pair = cells
            .number("older_A", Amperes)
            .zip(cells.number("newer_A", Amperes));
        let pair = cells.needed("older_A", pair)?;
        let column = column(cells, "column")?;
        let value = (column, pair);
        Some(Sized {
            materials: materials(cells)?,
            sizes: cells.sizes("size")?,
            value,
        })
    });
    const AMBIENT: &str = "tables/ambient.csv";
    let header = &["to_C", "c60_factor", "c75_factor", "c90_factor"];
    let ambient = reader.rows(AMBIENT, header, 1, |cells| {
        let to = cells.number("to_C", |n| n);
        let factors = ["c60_factor", "c75_factor", "c90_factor"].map(|c| cells.number(c, |n| n));
        Some((cells.needed("to_C", to)?, factors))
    });
    const BUNDLING: &str = "tables/bundling.csv";
    let bundling = reader.rows(BUNDLING, &["from", "to", "percent"], 2, |cells| {
        let from = cells.count("from");
        let to = cells.count("to");
        Some((
            cells.needed("from", from)?,
            to,
            cells.number("percent", Percent),
        ))
    });
    without_gap(&bundling, BUNDLING, 1, reader, |r| (r.0, r.1));
    const DWELLING: &str = "tables/dwelling_conductors.csv";
    let dwelling = reader.rows(DWELLING, &["rating_A", "cu_size", "al_size"], 1, |cells| {
        let rating = cells.number("rating_A", |n| n);
        let sizes = ["cu_size", "al_size"].map(|c| cells.parsed(c, "a conductor size"));
        Some((cells.needed("rating_A", rating)?, sizes))
    });
    let cables = cable_rows(reader);

    let tables = Edition::ALL.map(|edition| {
        let mut by_material: [BySize<Columns<Amperes>>; 3] = Default::default();
        for row in ampacity.iter().filter(|r| r.holds_in(edition)) {
            let value = (row.value.value != [None; 3]).then_some(row.value.value);
            for material in &row.value.materials {
                let entry = Entry {
                    value,
                    check: row.check,
                    section: None,
                };
                by_material[*material as usize].put(
                    row.value.sizes,
                    entry,
                    (FILE, row.line),
                    reader,
                );
            }
        }
        let mut old_charts: [BySize<Columns<(Amperes, Amperes)>>; 3] = Default::default();
        for row in old.iter().filter(|r| r.holds_in(edition)) {
            for material in &row.value.materials {
                let table = &mut old_charts[*material as usize];
                let earlier = table.get(row.value.sizes.0).cloned();
                let mut value = earlier.and_then(|e| e.value).unwrap_or_default();
                value[row.value.value.0 as usize] = Some(row.value.value.1);
                table.replace(
                    row.value.sizes.0,
                    Entry {
                        value: Some(value),
                        check: row.check,
                        section: None,
                    },
                );
            }
        }
        Ampacities {
            by_material,
            old_charts,
            ambient: Steps::read(&ambient, edition, (AMBIENT, "to_C"), reader, |r| {
                Some((r.value.0, Some(r.value.1)))
            }),
            bundling: Steps::read(&bundling, edition, (BUNDLING, "to"), reader, |r| {
                Some((r.value.1.map_or(f64::INFINITY, f64::from), r.value.2))
            }),
            dwelling: Steps::read(&dwelling, edition, (DWELLING, "rating_A"), reader, |r| {
                Some((r.value.0, Some(r.value.1)))
            }),
            cables: [Cable::NM, Cable::SE].map(|cable| {
                cables
                    .iter()
                    .find(|r| r.holds_in(edition) && r.value.0 == cable)
                    .map(|r| Entry {
                        value: Some(r.value.1),
                        check: r.check,
                        section: Some(r.value.2.clone()),
                    })
            }),
        }
    });
    complete(&tables, reader);
    tables
}

/// Every size a house uses must have its ampacity in every edition.
fn complete(tables: &[Ampacities; 5], reader: &mut Reader<'_>) {
    for (material, smallest) in [(Material::Copper, "14"), (Material::Aluminum, "12")] {
        let sizes = WireSize::all().skip_while(|s| s.name() != smallest);
        for size in sizes.take_while(|s| s.area().0 <= 1_000_000.0) {
            let missing: Vec<String> = Edition::ALL
                .into_iter()
                .zip(tables)
                .filter(|(_, t)| t.by_material[material as usize].get(size).is_none())
                .map(|(edition, _)| edition.to_string())
                .collect();
            if !missing.is_empty() {
                let expected = format!("a row for {size} {material}");
                let found = format!("none in {}", missing.join(", "));
                let advice = "add it, with check `not found` if nobody could confirm a value";
                reader.wrong("tables/ampacity.csv", 0, None, expected, found, advice);
            }
        }
    }
}

fn cable_rows(reader: &mut Reader<'_>) -> Vec<super::reader::Row<(Cable, CableRule, Arc<str>)>> {
    let header = &[
        "cable",
        "final_column_C",
        "insulated_column_C",
        "insulated_to_size",
        "derate_column_C",
        "adjust_over_cables",
        "section",
    ];
    reader.rows("tables/cable_ampacity.csv", header, 1, |cells| {
        let cable = match cells.text("cable") {
            "NM" => Cable::NM,
            "SE" => Cable::SE,
            other => {
                let found = format!("`{other}`");
                cells.wrong("cable", "NM or SE", found, "correct the cell");
                return None;
            }
        };
        let optional = |cells: &mut Cells<'_>, name: &str| {
            (!cells.text(name).is_empty())
                .then(|| column(cells, name))
                .flatten()
        };
        let rule = CableRule {
            final_column: optional(cells, "final_column_C"),
            insulated_column: optional(cells, "insulated_column_C"),
            insulated_to_size: cells.parsed("insulated_to_size", "a conductor size"),
            derate_column: column(cells, "derate_column_C")?,
            adjust_over_cables: cells.count("adjust_over_cables"),
        };
        Some((cable, rule, Arc::from(cells.text("section"))))
    })
}

/// Metals of a row: `Al/CCA` fills both.
pub(crate) fn materials(cells: &mut Cells<'_>) -> Option<Vec<Material>> {
    match cells.text("material") {
        "Cu" => Some(vec![Material::Copper]),
        "Al" => Some(vec![Material::Aluminum]),
        "CCA" => Some(vec![Material::CopperClad]),
        "Al/CCA" => Some(vec![Material::Aluminum, Material::CopperClad]),
        other => {
            let found = format!("`{other}`");
            cells.wrong(
                "material",
                "Cu, Al, CCA or Al/CCA",
                found,
                "correct the cell",
            );
            None
        }
    }
}

fn column(cells: &mut Cells<'_>, name: &str) -> Option<Column> {
    match cells.text(name) {
        "60" => Some(Column::C60),
        "75" => Some(Column::C75),
        "90" => Some(Column::C90),
        other => {
            let found = format!("`{other}`");
            cells.wrong(name, "60, 75 or 90", found, "correct the cell");
            None
        }
    }
}

impl TablesIn<'_> {
    /// Ampacity at 30 C with not more than three current-carrying conductors.
    pub fn ampacity(&self, size: WireSize, material: Material, column: Column) -> Lookup<Amperes> {
        let entry = self.tables.ampacities.by_material[material as usize].get(size);
        found(
            entry.map(|e| e.map(|c| c[column as usize])),
            self.cite(Subject::Ampacity),
            || format!("{size} {material} at {column}"),
        )
    }

    /// Sizes that have an ampacity in a column, smallest first.
    pub fn ampacity_sizes(
        &self,
        material: Material,
        column: Column,
    ) -> impl Iterator<Item = (WireSize, Amperes)> {
        self.tables.ampacities.by_material[material as usize]
            .iter()
            .filter_map(move |(s, e)| e.value.and_then(|c| c[column as usize]).map(|a| (s, a)))
    }

    /// What charts printed before 2011 say, where it differs: older and newer ampacity.
    pub fn ampacity_in_old_charts(
        &self,
        size: WireSize,
        material: Material,
        column: Column,
    ) -> Lookup<(Amperes, Amperes)> {
        let entry = self.tables.ampacities.old_charts[material as usize].get(size);
        found(
            entry.map(|e| e.map(|c| c[column as usize])),
            self.cite(Subject::Ampacity),
            || format!("an older value of {size} {material} at {column}"),
        )
    }

    /// Factor for an ambient temperature other than 26 to 30 C. `NoEntry` where the column allows no current at that heat.
    pub fn ambient_factor(&self, column: Column, ambient: Celsius) -> Lookup<f64> {
        let entry = self.tables.ampacities.ambient.at(ambient.0);
        found(
            entry.map(|e| e.map(|c| c[column as usize])),
            self.cite(Subject::Ambient),
            || format!("the {column} column at {ambient} ambient"),
        )
    }

    /// Share of the ampacity that is left with that many current-carrying conductors together.
    pub fn bundling_factor(&self, conductors: u32) -> Lookup<Percent> {
        let entry = self
            .tables
            .ampacities
            .bundling
            .at(f64::from(conductors.max(1)));
        found(entry.cloned(), self.cite(Subject::Bundling), || {
            format!("{conductors} conductors")
        })
    }

    /// Size printed for a dwelling's service or main feeder. `NoEntry` between the printed ratings and in editions without the table.
    pub fn dwelling_conductor(&self, rating: Amperes, material: Material) -> Lookup<WireSize> {
        let entry = self.tables.ampacities.dwelling.exactly(rating.0);
        let of = usize::from(material.is_aluminum_column());
        found(
            entry.map(|e| e.map(|s| s[of])),
            self.cite(Subject::DwellingTable),
            || format!("{rating} in {material}"),
        )
    }

    /// Ratings that the dwelling table prints, lowest first.
    pub fn dwelling_ratings(&self) -> impl Iterator<Item = Amperes> {
        self.tables
            .ampacities
            .dwelling
            .iter()
            .map(|(rating, _)| Amperes(rating))
    }

    /// Ampacity rule of a cable type.
    pub fn cable_rule(&self, cable: Cable) -> Lookup<CableRule> {
        let (subject, slot) = match cable {
            Cable::NM => (Subject::NmCable, 0),
            Cable::SE => (Subject::SeCable, 1),
        };
        let entry = self.tables.ampacities.cables[slot].clone();
        found(entry, self.cite(subject), || format!("{cable:?} cable"))
    }
}
