//! What does each part cost the shop?
//! Source: `parts.csv` of the book. US dollars each or by the foot, before tax and markup. A part may stand without a price: then no total is complete.

use std::collections::BTreeMap;

use model::Dollars;

use crate::mistake::{Missing, Mistake};
use crate::reader::Table;

/// Name of the table.
pub const FILE: &str = "parts.csv";
const HEADER: &[&str] = &["part", "unit", "price_usd", "what", "check"];

/// How a part is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum PartUnit {
    /// By the piece.
    Each,
    /// By the foot.
    Foot,
}

/// What the take-off names by itself; `*` stands for the size, rating or kind.
pub const NAMED: &[&str] = &[
    "panel-*",
    "breaker-*",
    "cable-*",
    "wire-*",
    "raceway-*",
    "outdoor-enclosure-step",
    "panel-interior",
    "hold-down-kit",
    "handle-tie",
    "cable-connector",
    "cable-connector-large",
    "wire-connector",
    "wire-connector-large",
    "al-cu-connector",
    "staple",
    "anti-oxidant",
    "ground-bar",
    "bonding-screw",
    "box-and-cover",
    "blank-cover-cabinet",
    "patch-plate",
    "filler",
    "directory-card",
    "label-set",
    "disposal",
];

/// One line of the table.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Part {
    /// How it is counted.
    pub unit: PartUnit,
    /// Price of one; `None` where nobody wrote one.
    pub price: Option<Dollars>,
    /// What it is.
    pub what: String,
    /// How far the price was checked.
    pub check: String,
    /// Line in the file.
    pub line: u64,
}

/// The parts table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Parts {
    parts: BTreeMap<String, Part>,
}

/// What a panelboard's name tells: `panel-30-125-lugs` has 30 spaces, a bus of 125 A and main lugs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct PanelSize {
    /// Spaces.
    pub spaces: u32,
    /// Rating of the bus, in amperes.
    pub amperes: u32,
    /// With a main breaker; otherwise with lugs.
    pub main_breaker: bool,
}

impl PanelSize {
    /// As the book names it.
    #[must_use]
    pub fn name(self) -> String {
        let main = if self.main_breaker { "main" } else { "lugs" };
        format!("panel-{}-{}-{main}", self.spaces, self.amperes)
    }

    fn parse(name: &str) -> Option<Self> {
        let mut words = name.strip_prefix("panel-")?.split('-');
        let size = Self {
            spaces: words.next()?.parse().ok()?,
            amperes: words.next()?.parse().ok()?,
            main_breaker: match words.next()? {
                "main" => true,
                "lugs" => false,
                _ => return None,
            },
        };
        words.next().is_none().then_some(size)
    }
}

impl Parts {
    pub(crate) fn read(text: &str, mistakes: &mut Vec<Mistake>) -> Self {
        let table = Table {
            file: FILE,
            header: HEADER,
            mistakes,
        };
        let units = [("each", PartUnit::Each), ("foot", PartUnit::Foot)];
        let rows = table.rows(text, |row| {
            let unit = row.one_of("unit", &units);
            let price = row.dollars("price_usd");
            let price = row.unless_wrong("price_usd", price);
            let what = row.needed("what");
            let check = row.needed("check");
            Some(Part {
                unit: unit?,
                price: price?,
                what: what?,
                check: check?,
                line: row.line,
            })
        });
        Self {
            parts: rows.into_iter().collect(),
        }
    }

    /// The line of a part.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Part> {
        self.parts.get(name)
    }

    /// Price of one of a part.
    ///
    /// # Errors
    /// There is no such part, or its line has no price.
    pub fn price(&self, name: &str) -> Result<Dollars, Missing> {
        let missing = |line| Missing {
            file: FILE,
            item: name.to_owned(),
            line,
        };
        let part = self.get(name).ok_or_else(|| missing(0))?;
        part.price.ok_or_else(|| missing(part.line))
    }

    /// The smallest panelboard of the book with at least these spaces and this bus, and the same sort of main.
    #[must_use]
    pub fn panel(&self, wanted: PanelSize) -> Option<(&str, PanelSize)> {
        self.parts
            .keys()
            .filter_map(|name| Some((name.as_str(), PanelSize::parse(name)?)))
            .filter(|(_, size)| {
                size.main_breaker == wanted.main_breaker
                    && size.spaces >= wanted.spaces
                    && size.amperes >= wanted.amperes
            })
            .min_by_key(|(_, size)| *size)
    }

    /// Every part, by name.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Part)> {
        self.parts.iter().map(|(name, part)| (name.as_str(), part))
    }
}

/// The take-off can name this part by itself.
pub(crate) fn is_named(part: &str) -> bool {
    NAMED.iter().any(|pattern| match pattern.strip_suffix('*') {
        Some(start) => part.starts_with(start),
        None => *pattern == part,
    })
}
