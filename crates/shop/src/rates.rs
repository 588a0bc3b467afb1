//! What does an hour cost, what is added to a cost, and what do offices ask?
//! Source: `rates.csv` of the book; every value says where it comes from. US dollars, per cent, hours, days, people.

use std::collections::BTreeMap;

use model::{Dollars, nearest};

use crate::amount::{Count, Share};
use crate::mistake::Mistake;
use crate::reader::{self, Row, Table};

/// Name of the table.
pub const FILE: &str = "rates.csv";
const HEADER: &[&str] = &["setting", "value", "unit", "note", "check"];

/// What a material tax is laid on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum TaxOn {
    /// No tax is laid on material.
    #[default]
    None,
    /// The shop pays it when it buys: a part of the direct cost.
    Cost,
    /// The customer pays it on the price of the material: added last.
    Price,
}

const TAX_ON: [(&str, TaxOn); 3] = [
    ("none", TaxOn::None),
    ("cost", TaxOn::Cost),
    ("price", TaxOn::Price),
];

/// Every setting: its name, its unit, and the largest value that makes sense, in hundredths.
const SETTINGS: &[(&str, &str, i64)] = &[
    ("labour-wage", "USD/h", 100_000),
    ("labour-burden", "%", 30_000),
    ("labour-difficulty", "%", 30_000),
    ("overhead-per-hour", "USD/h", 100_000),
    ("material-markup", "%", 50_000),
    ("wire-waste", "%", 10_000),
    ("contingency", "%", 10_000),
    ("margin", "%", 9_000),
    ("sales-tax", "%", 3_000),
    ("permit-fee", "USD", 10_000_000),
    ("utility-fee", "USD", 10_000_000),
    ("reinspection-fee", "USD", 10_000_000),
    ("second-trips-planned", "trips", 1_000),
    ("deposit", "%", 10_000),
    ("holdback", "%", 10_000),
    ("valid-days", "days", 100_000),
];

const TAX_ON_SETTING: &str = "sales-tax-on";

/// The rates table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Rates {
    values: BTreeMap<&'static str, i64>,
    /// What a material tax is laid on.
    pub tax_on: TaxOn,
}

impl Rates {
    pub(crate) fn read(text: &str, mistakes: &mut Vec<Mistake>) -> Self {
        let table = Table {
            file: FILE,
            header: HEADER,
            mistakes,
        };
        let mut rates = Self::default();
        let mut told = Vec::new();
        table.rows(text, |row| {
            told.push(row.text("setting").to_owned());
            row.needed("check")?;
            rates.row(row)
        });
        let all = SETTINGS.iter().map(|(name, unit, _)| (*name, *unit));
        for (name, unit) in all.chain([(TAX_ON_SETTING, "word")]) {
            if !told.iter().any(|t| t == name) {
                mistakes.push(Mistake {
                    file: FILE.to_owned(),
                    line: 0,
                    column: "setting".to_owned(),
                    found: format!("no line for `{name}`"),
                    expected: format!("its value, in {unit}"),
                    advice: "add the line; 0 where there is none".to_owned(),
                });
            }
        }
        rates
    }

    fn row(&mut self, row: &mut Row<'_>) -> Option<()> {
        let name = row.text("setting").to_owned();
        let unit = row.text("unit").to_owned();
        let right_unit = |row: &mut Row<'_>, right: &str| {
            if unit == right {
                return true;
            }
            row.wrong(
                "unit",
                format!("`{unit}`"),
                format!("`{right}`"),
                "put the unit back",
            );
            false
        };
        if name == TAX_ON_SETTING {
            right_unit(row, "word").then_some(())?;
            self.tax_on = row.one_of("value", &TAX_ON)?;
            return Some(());
        }
        let Some((known, right, most)) = SETTINGS.iter().find(|(s, ..)| *s == name) else {
            let advice = nearest::advice(&name, names(), "take the line out");
            let expected = format!("one of {}", names().collect::<Vec<_>>().join(", "));
            row.wrong("setting", format!("`{name}`"), expected, advice);
            return None;
        };
        right_unit(row, right).then_some(())?;
        let value = row.needed_hundredths("value", right)?;
        if value > *most {
            let expected = format!("at most {} {right}", most / 100);
            let found = format!("`{}`", row.text("value"));
            row.wrong("value", found, expected, "correct the value");
            return None;
        }
        self.values.insert(known, value);
        Some(())
    }

    /// The same rates with one setting of a job's own; the text is a number or, for `sales-tax-on`, a word.
    ///
    /// # Errors
    /// What was expected instead.
    pub fn set(&mut self, name: &str, value: &str) -> Result<(), String> {
        if name == TAX_ON_SETTING {
            let found = TAX_ON.iter().find(|(word, _)| *word == value);
            self.tax_on = found.map(|(_, on)| *on).ok_or("none, cost or price")?;
            return Ok(());
        }
        let Some((known, unit, most)) = SETTINGS.iter().find(|(s, ..)| *s == name) else {
            let otherwise = format!("one of {}", names().collect::<Vec<_>>().join(", "));
            return Err(format!(
                "a setting of the price book: {}",
                nearest::advice(name, names(), &otherwise)
            ));
        };
        match reader::hundredths(value) {
            Some(n) if (0..=*most).contains(&n) => {
                self.values.insert(known, n);
                Ok(())
            }
            _ => Err(format!(
                "{unit}: a number from 0 to {} with at most two decimals",
                most / 100
            )),
        }
    }

    fn of(&self, name: &str) -> i64 {
        self.values.get(name).copied().unwrap_or_default()
    }

    fn dollars(&self, name: &str) -> Dollars {
        Dollars::from_cents(self.of(name))
    }

    fn share(&self, name: &str) -> Share {
        Share::from_hundredths(self.of(name))
    }

    /// Wage of an hour, before burden.
    #[must_use]
    pub fn wage(&self) -> Dollars {
        self.dollars("labour-wage")
    }

    /// Taxes, insurance and benefits on top of the wage.
    #[must_use]
    pub fn burden(&self) -> Share {
        self.share("labour-burden")
    }

    /// An hour of work with its burden: the wage and its burden, rounded to the cent.
    #[must_use]
    pub fn burdened(&self) -> Dollars {
        self.wage() + self.burden().of(self.wage())
    }

    /// More time for plaster, crawl space or heat.
    #[must_use]
    pub fn difficulty(&self) -> Share {
        self.share("labour-difficulty")
    }

    /// Overhead that each hour sold must carry.
    #[must_use]
    pub fn overhead(&self) -> Dollars {
        self.dollars("overhead-per-hour")
    }

    /// Added to material for fetching, screws and tape, and what is damaged.
    #[must_use]
    pub fn material_markup(&self) -> Share {
        self.share("material-markup")
    }

    /// Wire bought beyond the length that is laid.
    #[must_use]
    pub fn wire_waste(&self) -> Share {
        self.share("wire-waste")
    }

    /// For what is uncertain, on direct cost and overhead.
    #[must_use]
    pub fn contingency(&self) -> Share {
        self.share("contingency")
    }

    /// Profit as a share of the price.
    #[must_use]
    pub fn margin(&self) -> Share {
        self.share("margin")
    }

    /// Tax on material.
    #[must_use]
    pub fn tax(&self) -> Share {
        self.share("sales-tax")
    }

    /// What the permit costs.
    #[must_use]
    pub fn permit_fee(&self) -> Dollars {
        self.dollars("permit-fee")
    }

    /// What the utility asks for disconnecting and connecting again.
    #[must_use]
    pub fn utility_fee(&self) -> Dollars {
        self.dollars("utility-fee")
    }

    /// What the office asks for coming again.
    #[must_use]
    pub fn reinspection_fee(&self) -> Dollars {
        self.dollars("reinspection-fee")
    }

    /// Second trips that the price counts on.
    #[must_use]
    pub fn second_trips(&self) -> Count {
        Count::from_hundredths(self.of("second-trips-planned"))
    }

    /// Payment on signing that the shop would like.
    #[must_use]
    pub fn deposit(&self) -> Share {
        self.share("deposit")
    }

    /// Kept by the customer until the final inspection.
    #[must_use]
    pub fn holdback(&self) -> Share {
        self.share("holdback")
    }

    /// Days that an offer holds.
    #[must_use]
    pub fn valid_days(&self) -> Count {
        Count::from_hundredths(self.of("valid-days"))
    }
}

fn names() -> impl Iterator<Item = &'static str> {
    SETTINGS
        .iter()
        .map(|(name, ..)| *name)
        .chain([TAX_ON_SETTING])
}
