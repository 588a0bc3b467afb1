//! What fits into a raceway: bores and areas, share that may be filled, dimensions of insulated conductors.
//! Source: NFPA 70 Chapter 9 Tables 1, 4, 5 and 5A (`raceway_fill.csv`, `raceways.csv`, `conductor_dimensions.csv`, `compact_bare.csv`).
//! Inches and square inches.

use model::units::{Inches, Percent, SquareInches};
use model::{Edition, Insulation, TradeSize, WireSize, WiringMethod};

use super::TablesIn;
use super::entry::{BySize, Entry, Steps, found, without_gap};
use super::keys::limit;
use super::reader::{Cells, Reader};
use super::subject::Subject;
use crate::source::Lookup;

/// Inside of a raceway, as the table prints it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Raceway {
    /// Internal diameter.
    pub bore: Inches,
    /// Whole area.
    pub total: SquareInches,
    /// Area that one conductor or cable may take.
    pub one_wire: SquareInches,
    /// Area that two may take.
    pub two_wires: SquareInches,
    /// Area that three or more may take.
    pub over_two_wires: SquareInches,
}

/// Outside of an insulated conductor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ConductorDimensions {
    /// Outside diameter.
    pub diameter: Inches,
    /// Cross-section.
    pub area: SquareInches,
}

const TRADE_SIZES: usize = 13;
const INSULATIONS: usize = 13;

#[derive(Clone, Debug, Default)]
pub(crate) struct Raceways {
    by_method: Vec<(WiringMethod, [Option<Entry<Raceway>>; TRADE_SIZES])>,
    fill: Steps<Percent>,
    /// Standard and compact construction.
    dimensions: [Vec<BySize<ConductorDimensions>>; 2],
    compact_bare: BySize<Inches>,
}

pub(crate) fn load(reader: &mut Reader<'_>) -> [Raceways; 5] {
    const RACEWAYS: &str = "tables/raceways.csv";
    let header = &[
        "raceway",
        "trade_size",
        "bore_in",
        "total_in2",
        "one_wire_in2",
        "two_wires_in2",
        "over_two_wires_in2",
    ];
    let raceways = reader.rows(RACEWAYS, header, 2, |cells| {
        let method: WiringMethod = named(cells, "raceway", "a raceway such as EMT or PVC-40")?;
        let size: TradeSize = cells.parsed("trade_size", "a trade size such as 1-1/4")?;
        let bore = cells.number("bore_in", Inches);
        let areas = [
            "total_in2",
            "one_wire_in2",
            "two_wires_in2",
            "over_two_wires_in2",
        ]
        .map(|c| cells.number(c, SquareInches));
        let raceway = match (bore, areas) {
            (
                Some(bore),
                [
                    Some(total),
                    Some(one_wire),
                    Some(two_wires),
                    Some(over_two_wires),
                ],
            ) => Some(Raceway {
                bore,
                total,
                one_wire,
                two_wires,
                over_two_wires,
            }),
            _ => None,
        };
        Some((method, size, raceway))
    });
    const FILL: &str = "tables/raceway_fill.csv";
    let fill = reader.rows(FILL, &["from", "to", "percent"], 2, |cells| {
        let from = cells.count("from");
        let to = cells.count("to");
        Some((
            cells.needed("from", from)?,
            to,
            cells.number("percent", Percent),
        ))
    });
    without_gap(&fill, FILL, 1, reader, |r| (r.0, r.1));
    const DIMENSIONS: &str = "tables/conductor_dimensions.csv";
    let header = &[
        "insulation",
        "construction",
        "size",
        "diameter_in",
        "area_in2",
    ];
    let dimensions = reader.rows(DIMENSIONS, header, 3, |cells| {
        let names = cells.text("insulation").to_owned();
        let mut insulations = Vec::new();
        for name in names.split_whitespace() {
            let Some(insulation) = from_name::<Insulation>(name) else {
                let expected = "insulations such as THHN THWN-2";
                cells.wrong(
                    "insulation",
                    expected,
                    format!("`{name}`"),
                    "correct the cell",
                );
                return None;
            };
            insulations.push(insulation);
        }
        let compact = match cells.text("construction") {
            "standard" => false,
            "compact" => true,
            other => {
                let found = format!("`{other}`");
                cells.wrong(
                    "construction",
                    "standard or compact",
                    found,
                    "correct the cell",
                );
                return None;
            }
        };
        let diameter = cells.number("diameter_in", Inches);
        let area = cells.number("area_in2", SquareInches);
        let value = diameter
            .zip(area)
            .map(|(diameter, area)| ConductorDimensions { diameter, area });
        Some((insulations, compact, cells.sizes("size")?, value))
    });
    const BARE: &str = "tables/compact_bare.csv";
    let bare = reader.rows(BARE, &["size", "diameter_in"], 1, |cells| {
        Some((cells.sizes("size")?, cells.number("diameter_in", Inches)))
    });

    Edition::ALL.map(|edition| {
        let mut by_method: Vec<(WiringMethod, [Option<Entry<Raceway>>; TRADE_SIZES])> = Vec::new();
        for row in raceways.iter().filter(|r| r.holds_in(edition)) {
            let (method, size, value) = row.value;
            if !by_method.iter().any(|(m, _)| *m == method) {
                by_method.push((method, [const { None }; TRADE_SIZES]));
            }
            if let Some((_, sizes)) = by_method.iter_mut().find(|(m, _)| *m == method) {
                sizes[size.index()] = Some(Entry {
                    value,
                    check: row.check,
                    section: None,
                });
            }
        }
        let mut tables = [
            vec![BySize::default(); INSULATIONS],
            vec![BySize::default(); INSULATIONS],
        ];
        for row in dimensions.iter().filter(|r| r.holds_in(edition)) {
            let (insulations, compact, sizes, value) = &row.value;
            for insulation in insulations {
                if let Some(table) = tables[usize::from(*compact)].get_mut(*insulation as usize) {
                    let entry = Entry {
                        value: *value,
                        check: row.check,
                        section: None,
                    };
                    table.put(*sizes, entry, (DIMENSIONS, row.line), reader);
                }
            }
        }
        let mut compact_bare = BySize::default();
        for row in bare.iter().filter(|r| r.holds_in(edition)) {
            let entry = Entry {
                value: row.value.1,
                check: row.check,
                section: None,
            };
            compact_bare.put(row.value.0, entry, (BARE, row.line), reader);
        }
        Raceways {
            by_method,
            fill: Steps::read(&fill, edition, (FILL, "to"), reader, |r| {
                Some((r.value.1.map_or(f64::INFINITY, f64::from), r.value.2))
            }),
            dimensions: tables,
            compact_bare,
        }
    })
}

/// A word of the model's vocabulary, spelled as in a job file.
fn from_name<'a, T: serde::Deserialize<'a>>(name: &'a str) -> Option<T> {
    let word = serde::de::value::BorrowedStrDeserializer::<serde::de::value::Error>::new(name);
    T::deserialize(word).ok()
}

fn named<T: for<'a> serde::Deserialize<'a>>(
    cells: &mut Cells<'_>,
    column: &str,
    expected: &str,
) -> Option<T> {
    let name = cells.text(column).to_owned();
    let value = from_name(&name);
    if value.is_none() {
        cells.wrong(column, expected, format!("`{name}`"), "correct the cell");
    }
    value
}

impl TablesIn<'_> {
    /// Inside of a raceway. `NoEntry` for a cable, or a trade size the raceway is not made in.
    pub fn raceway(&self, method: WiringMethod, size: TradeSize) -> Lookup<Raceway> {
        let entry = self
            .raceway_sizes(method)
            .and_then(|sizes| sizes.get(size.index()))
            .and_then(Option::as_ref);
        found(entry.cloned(), self.cite(Subject::Raceways), || {
            format!("{method:?} trade size {size}")
        })
    }

    /// Every trade size of a raceway, smallest first.
    pub fn raceways(&self, method: WiringMethod) -> impl Iterator<Item = (TradeSize, Raceway)> {
        TradeSize::all()
            .zip(self.raceway_sizes(method).into_iter().flatten())
            .filter_map(|(size, entry)| {
                entry
                    .as_ref()
                    .and_then(|e| e.value)
                    .map(|raceway| (size, raceway))
            })
    }

    fn raceway_sizes(
        &self,
        method: WiringMethod,
    ) -> Option<&[Option<Entry<Raceway>>; TRADE_SIZES]> {
        let methods = &self.tables.raceways.by_method;
        methods
            .iter()
            .find(|(m, _)| *m == method)
            .map(|(_, sizes)| sizes)
    }

    /// Share of a raceway that this many conductors may fill; a nipple is a raceway not over its limit of length.
    pub fn fill_percent(&self, conductors: u32, nipple: bool) -> Lookup<Percent> {
        if nipple {
            return self.limit(limit::NIPPLE_FILL);
        }
        let entry = self.tables.raceways.fill.at(f64::from(conductors.max(1)));
        found(entry.cloned(), self.cite(Subject::RacewayFill), || {
            format!("{conductors} conductors")
        })
    }

    /// Outside of an insulated conductor. `NoEntry` for conductors that exist only inside a cable.
    pub fn conductor_area(
        &self,
        insulation: Insulation,
        size: WireSize,
        compact: bool,
    ) -> Lookup<ConductorDimensions> {
        let subject = if compact {
            Subject::CompactDimensions
        } else {
            Subject::ConductorDimensions
        };
        let table = self.tables.raceways.dimensions[usize::from(compact)].get(insulation as usize);
        found(
            table.and_then(|t| t.get(size)).cloned(),
            self.cite(subject),
            || {
                format!(
                    "{size} {insulation:?}{}",
                    if compact { ", compact" } else { "" }
                )
            },
        )
    }

    /// Diameter of a compact aluminum conductor without insulation.
    pub fn compact_bare_diameter(&self, size: WireSize) -> Lookup<Inches> {
        let entry = self.tables.raceways.compact_bare.get(size);
        found(
            entry.cloned(),
            self.cite(Subject::CompactDimensions),
            || format!("bare {size}"),
        )
    }
}
