//! Demand factors of dwelling loads: lighting, dryers, cooking, multifamily.
//! Source: NFPA 70 Tables 220.42 / 220.45, 220.54, 220.55, 220.84; 2026 Article 120 (`lighting_demand.csv`, `dryer_demand.csv`,
//! `range_demand.csv`, `multifamily_demand.csv`). Volt-amperes and percent.

use model::Edition;
use model::units::{Percent, VoltAmperes};

use super::TablesIn;
use super::entry::{Entry, Steps, found, without_gap};
use super::reader::Reader;
use super::subject::Subject;
use crate::source::{Lookup, Sourced};

/// Columns of the cooking table that are percentages.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RangeColumn {
    /// Appliances under 3.5 kW.
    A,
    /// Appliances of 3.5 through 8.75 kW.
    B,
}

/// One step of the lighting demand.
#[derive(Clone, Debug, PartialEq)]
pub struct DemandStep {
    /// The step reaches from the one before to here; `None`: to any load.
    pub to: Option<VoltAmperes>,
    /// Share of the load inside the step that counts.
    pub percent: Sourced<Percent>,
}

#[derive(Clone, Copy, Debug)]
struct Falling {
    percent: f64,
    less_each: f64,
    counted_from: f64,
}

#[derive(Clone, Copy, Debug)]
struct Ranges {
    percent: Option<Percent>,
    base_kw: Option<f64>,
    each_kw: f64,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct Demands {
    lighting: Steps<Percent>,
    dryers: Steps<Falling>,
    ranges: [Steps<Ranges>; 3],
    multifamily: Steps<Percent>,
}

pub(crate) fn load(reader: &mut Reader<'_>) -> [Demands; 5] {
    const LIGHTING: &str = "tables/lighting_demand.csv";
    let lighting = reader.rows(LIGHTING, &["to_VA", "percent"], 1, |cells| {
        let to = cells.number("to_VA", |n| n).unwrap_or(f64::INFINITY);
        Some((to, cells.number("percent", Percent)))
    });
    const DRYERS: &str = "tables/dryer_demand.csv";
    let header = &[
        "from",
        "to",
        "percent",
        "less_per_dryer_percent",
        "counted_from",
    ];
    let dryers = reader.rows(DRYERS, header, 2, |cells| {
        let from = cells.count("from");
        let to = cells.count("to");
        let less_each = cells
            .number("less_per_dryer_percent", |n| n)
            .unwrap_or_default();
        let counted_from = cells.number("counted_from", |n| n).unwrap_or_default();
        let value = cells.number("percent", |n| n).map(|percent| Falling {
            percent,
            less_each,
            counted_from,
        });
        Some((cells.needed("from", from)?, to, value))
    });
    without_gap(&dryers, DRYERS, 1, reader, |r| (r.0, r.1));
    const RANGES: &str = "tables/range_demand.csv";
    let header = &["column", "from", "to", "percent", "base_kW", "each_kW"];
    let mut ranges = [const { Vec::new() }; 3];
    let all = reader.rows(RANGES, header, 3, |cells| {
        let column = match cells.text("column") {
            "A" => 0,
            "B" => 1,
            "C" => 2,
            other => {
                let found = format!("`{other}`");
                cells.wrong("column", "A, B or C", found, "correct the cell");
                return None;
            }
        };
        let from = cells.count("from");
        let to = cells.count("to");
        let percent = cells.number("percent", Percent);
        let base_kw = cells.number("base_kW", |n| n);
        let each_kw = cells.number("each_kW", |n| n).unwrap_or_default();
        let value = (percent.is_some() || base_kw.is_some()).then_some(Ranges {
            percent,
            base_kw,
            each_kw,
        });
        Some((column, (cells.needed("from", from)?, to, value)))
    });
    for row in all {
        let (column, value) = row.value;
        let row = super::reader::Row {
            line: row.line,
            editions: row.editions,
            check: row.check,
            value,
        };
        if let Some(rows) = ranges.get_mut::<usize>(column) {
            rows.push(row);
        }
    }
    for rows in &ranges {
        without_gap(rows, RANGES, 1, reader, |r| (r.0, r.1));
    }
    const MULTIFAMILY: &str = "tables/multifamily_demand.csv";
    let multifamily = reader.rows(MULTIFAMILY, &["from", "to", "percent"], 2, |cells| {
        let from = cells.count("from");
        let to = cells.count("to");
        Some((
            cells.needed("from", from)?,
            to,
            cells.number("percent", Percent),
        ))
    });
    without_gap(&multifamily, MULTIFAMILY, 3, reader, |r| (r.0, r.1));

    let open = |to: Option<u32>| to.map_or(f64::INFINITY, f64::from);
    Edition::ALL.map(|edition| Demands {
        lighting: Steps::read(&lighting, edition, (LIGHTING, "to_VA"), reader, |r| {
            Some(r.value)
        }),
        dryers: Steps::read(&dryers, edition, (DRYERS, "to"), reader, |r| {
            Some((open(r.value.1), r.value.2))
        }),
        ranges: [0, 1, 2].map(|column: usize| {
            let rows = ranges.get(column).map_or(&[][..], Vec::as_slice);
            Steps::read(rows, edition, (RANGES, "to"), reader, |r| {
                Some((open(r.value.1), r.value.2))
            })
        }),
        multifamily: Steps::read(&multifamily, edition, (MULTIFAMILY, "to"), reader, |r| {
            Some((open(r.value.1), r.value.2))
        }),
    })
}

impl TablesIn<'_> {
    /// Steps of the lighting demand, lowest first; the whole look-up fails if one step has no value.
    pub fn lighting_demand(&self) -> Result<Vec<DemandStep>, crate::source::NoValue> {
        self.tables
            .demands
            .lighting
            .iter()
            .map(|(to, entry)| {
                let wanted = || "lighting demand".to_owned();
                let percent = found(
                    Some(entry.clone()),
                    self.cite(Subject::LightingDemand),
                    wanted,
                )?;
                Ok(DemandStep {
                    to: to.is_finite().then_some(VoltAmperes(to)),
                    percent,
                })
            })
            .collect()
    }

    /// Demand on that many household dryers.
    pub fn dryer_factor(&self, dryers: u32) -> Lookup<Percent> {
        let n = f64::from(dryers.max(1));
        let entry = self.tables.demands.dryers.at(n);
        let percent = |f: Falling| Some(Percent(f.percent - f.less_each * (n - f.counted_from)));
        found(
            entry.map(|e| e.map(percent)),
            self.cite(Subject::Dryers),
            || format!("{dryers} dryers"),
        )
    }

    /// Demand on that many cooking appliances of a column's size, as a share of their nameplates.
    pub fn range_percent(&self, column: RangeColumn, appliances: u32) -> Lookup<Percent> {
        let entry = self.tables.demands.ranges[column as usize].at(f64::from(appliances.max(1)));
        found(
            entry.map(|e| e.map(|r| r.percent)),
            self.cite(Subject::Ranges),
            || format!("column {column:?}, {appliances} appliances"),
        )
    }

    /// Column C: demand of that many ranges of not over 12 kW each, all together.
    pub fn range_column_c(&self, ranges: u32) -> Lookup<VoltAmperes> {
        let entry = self.tables.demands.ranges[2].at(f64::from(ranges.max(1)));
        let demand = |r: Ranges| {
            r.base_kw
                .map(|base| VoltAmperes(1000.0 * (base + r.each_kw * f64::from(ranges))))
        };
        found(
            entry.map(|e: &Entry<Ranges>| e.map(demand)),
            self.cite(Subject::Ranges),
            || format!("column C, {ranges} ranges"),
        )
    }

    /// Demand on a multifamily building of that many units by the optional method. `NoEntry` under three units.
    pub fn multifamily_factor(&self, units: u32) -> Lookup<Percent> {
        let entry = self
            .tables
            .demands
            .multifamily
            .at(f64::from(units))
            .filter(|_| units >= 3);
        found(entry.cloned(), self.cite(Subject::Multifamily), || {
            format!("{units} dwelling units")
        })
    }
}
