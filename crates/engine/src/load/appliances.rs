//! Appliances fastened in place: in full, or at a reduced percentage when enough of them share the feeder.
//! NFPA 70 220.53 (2014-2023), 120.53 (2026); which appliances count differs by edition. VA.

use model::units::VoltAmperes;
use rulebook::NoValue;
use rulebook::tables::{Subject, TablesIn, limit};

use super::outcome::Step;
use crate::worksheet::{Line, Quantity, Text};

/// Label of the line that carries the demand on fixed appliances.
pub const DEMAND: &str = "Demand on appliances fastened in place";
/// Label of the line that carries their connected load.
pub const CONNECTED: &str = "Appliances fastened in place that count together";

/// One fixed appliance, or a group that is already several alike.
#[derive(Clone, Debug, PartialEq)]
pub struct Appliance {
    /// Words for the worksheet.
    pub name: Text,
    /// How many.
    pub count: u32,
    /// Nameplate of one; zero where nobody knows it, so that the result is a lower bound.
    pub va: VoltAmperes,
    /// Motor horsepower of one, when known.
    pub horsepower: Option<f64>,
    /// True when the nameplate is known.
    pub is_known: bool,
}

impl Appliance {
    /// One appliance known by nameplate.
    pub fn new(name: impl Into<Text>, va: VoltAmperes) -> Self {
        Self {
            name: name.into(),
            count: 1,
            va,
            horsepower: None,
            is_known: true,
        }
    }

    fn total(&self) -> VoltAmperes {
        self.va * f64::from(self.count)
    }
}

/// The demand, and the share of its nameplate at which each appliance went in.
#[derive(Clone, Debug, PartialEq)]
pub struct Demand {
    /// Demand of all.
    pub value: VoltAmperes,
    /// Factor of each appliance, in the order given.
    pub factors: Vec<f64>,
}

/// Demand of these appliances on a feeder or service.
///
/// # Errors
/// The percentage or number was not found for the edition.
pub fn demand(appliances: &[Appliance], book: &TablesIn<'_>) -> Result<Step<Demand>, NoValue> {
    let number = book.limit(limit::FIXED_APPLIANCES_FROM)?;
    let percent = book.limit(limit::FIXED_APPLIANCES_DEMAND)?;
    let least = least(book);
    let counts: Vec<bool> = appliances
        .iter()
        .map(|a| counts_together(a, least))
        .collect();
    let together = |yes: bool| {
        appliances
            .iter()
            .zip(&counts)
            .filter(move |(_, counts)| **counts == yes)
            .map(|(a, _)| a)
    };
    let how_many: u32 = together(true).fold(0, |n, a| n.saturating_add(a.count));
    let is_reduced = f64::from(how_many) >= number.value;
    let factor = if is_reduced {
        percent.value.factor()
    } else {
        1.0
    };
    let connected: VoltAmperes = together(true).map(Appliance::total).sum();
    let apart: VoltAmperes = together(false).map(Appliance::total).sum();
    let value = connected * factor + apart;

    let mut lines = Vec::new();
    if how_many > 0 {
        let mut line = Line::number(CONNECTED, connected)
            .how("sum of nameplates")
            .cite(book.cite(Subject::FixedAppliances));
        for appliance in together(true) {
            line = line.input(appliance.name.clone(), appliance.total());
        }
        lines.push(line);
    }
    if apart > VoltAmperes::ZERO {
        let mut line = Line::number("Small appliances fastened in place, in full", apart)
            .how("below the size from which this edition counts an appliance with the others")
            .cite(book.cite(Subject::FixedAppliances));
        for appliance in together(false) {
            line = line.input(appliance.name.clone(), appliance.total());
        }
        lines.push(line);
    }
    if !appliances.is_empty() {
        let how = if is_reduced {
            "enough appliances for the reduced percentage"
        } else {
            "too few appliances for the reduced percentage: in full"
        };
        lines.push(
            Line::number(DEMAND, value)
                .how(how)
                .input(
                    "appliances that count together",
                    Quantity::number(f64::from(how_many)),
                )
                .input(
                    "number from which the percentage is permitted",
                    Quantity::number(number.value),
                )
                .input("percentage", percent.value)
                .source(&percent)
                .checked(number.check),
        );
    }
    let factors = counts
        .iter()
        .map(|&c| if c { factor } else { 1.0 })
        .collect();
    Ok(Step {
        value: Demand { value, factors },
        lines,
    })
}

/// From which power or motor on an appliance counts; `None` in an edition without a threshold.
fn least(book: &TablesIn<'_>) -> Option<(f64, f64)> {
    let power = book.limit(limit::FIXED_APPLIANCE_LEAST_POWER).ok()?;
    let motor = book.limit(limit::FIXED_APPLIANCE_LEAST_MOTOR).ok()?;
    Some((power.value, motor.value))
}

/// An edition without a threshold counts every one; its watts are taken as volt-amperes. Where a size is unknown, it counts: the bound stays a bound.
fn counts_together(appliance: &Appliance, least: Option<(f64, f64)>) -> bool {
    let Some((power, motor)) = least else {
        return true;
    };
    !appliance.is_known
        || appliance.va.0 >= power
        || appliance.horsepower.is_some_and(|hp| hp >= motor)
}
