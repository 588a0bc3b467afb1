//! Optional calculation of three or more dwelling units, and of two units on one feeder.
//! NFPA 70 220.84, 220.85 (2014-2023), 120.84, 120.85 (2026). Nameplate VA in, outcome and worksheet out.

use model::house::Load;
use model::units::VoltAmperes;
use rulebook::tables::{Subject, TablesIn, limit};

use super::input::{Dwelling, Units};
use super::outcome::{Method, Outcome, Standing, Step};
use super::parts;
use super::standard::{self, Reckoned};
use super::told::{Told, told_line};
use super::{climate, lighting, nameplate, optional};
use crate::worksheet::{Line, Quantity, Text};

/// Label of the line with the connected load of all units.
pub const CONNECTED: &str = "Connected load of all units";
/// Label of the line with the demand factor.
pub const FACTOR: &str = "Demand factor for this number of units";
/// Label of the line with the demand.
pub const DEMAND: &str = "Demand of all units";
/// Label of the line with heating and cooling of all units.
pub const CLIMATE: &str = "Larger of heating and cooling, unit by unit";

/// The optional calculation of three or more units on one service or feeder, with its conditions checked.
/// House loads go in at the standard calculation's value.
#[must_use]
pub fn multifamily(units: &[Units<'_>], house: &[Load], book: &TablesIn<'_>) -> Outcome {
    let parts = parts::parts(units, house, book);
    let nobody = Dwelling::default();
    let first = units.first().map_or(&nobody, |g| g.unit);
    let mut sheet = standard::sheet(Method::Multifamily, book);
    let standing = conditions(units, book);
    sheet.lines.extend(optional::standing_lines(
        &standing,
        Subject::Multifamily,
        book,
    ));

    let step = demand(units, book);
    let mut demand = step.value;
    sheet.lines.extend(step.lines);
    if !house.is_empty() {
        let sum: Told<VoltAmperes> = house.iter().map(|l| nameplate::rated_all(l, book)).sum();
        sheet.push(told_line("House loads, in full", &sum).cite(book.cite(Subject::StandardLoad)));
        demand += sum;
    }
    if lacks_cooking(units) {
        let standard = parts.whole.clone();
        sheet.push(
            told_line(
                "Standard calculation with the cooking allowance left out",
                &standard,
            )
            .how("without electric cooking the smaller of both may be used")
            .cite(book.cite(Subject::Multifamily)),
        );
        demand = demand.min(standard);
    }
    let result = Reckoned {
        method: Method::Multifamily,
        standing,
        demand,
        line_to_neutral: None,
    };
    standard::close(sheet, result, &parts, first, book)
}

/// Connected load of all units times the factor for their number.
#[must_use]
pub fn demand(units: &[Units<'_>], book: &TablesIn<'_>) -> Step<Told<VoltAmperes>> {
    let count = units.iter().fold(0_u32, |n, g| n.saturating_add(g.count));
    let connected = connected(units, book);
    let mut lines = connected.lines;
    match book.multifamily_factor(count) {
        Ok(factor) => {
            let value = connected.value.times(factor.value.factor());
            lines.push(
                Line::number(FACTOR, factor.value)
                    .input("units", Quantity::number(f64::from(count)))
                    .source(&factor),
            );
            lines.push(
                told_line(DEMAND, &value)
                    .how("connected load x factor")
                    .source(&factor),
            );
            Step { value, lines }
        }
        Err(why) => {
            lines.push(Line::no_value(FACTOR, &why));
            Step {
                value: Told::at_least(VoltAmperes::ZERO, why.to_string()),
                lines,
            }
        }
    }
}

fn connected(units: &[Units<'_>], book: &TablesIn<'_>) -> Step<Told<VoltAmperes>> {
    let mut general = lighting::general(units, book);
    let mut lines = general.lines;
    // The unit load of this calculation has its own entry: where that was not confirmed, the common one gives a bound.
    if let Err(why) = book.limit(limit::MULTIFAMILY_UNIT_LOAD) {
        lines.push(Line::no_value("Unit load of this calculation", &why));
        general.lighting.miss(why.to_string());
    }
    let cite = || book.cite(Subject::Multifamily);
    let mut push = |label: &'static str, va: &Told<VoltAmperes>| {
        if *va != Told::default() {
            lines.push(told_line(label, va).how("all units").cite(cite()));
        }
    };
    push("Lighting and receptacles of all units", &general.lighting);
    let circuits = general.small_appliance + general.laundry;
    push(
        "Small-appliance and laundry circuits of all units",
        &circuits,
    );

    let mut nameplates = Told::default();
    for group in units {
        let n = f64::from(group.count);
        for load in group
            .unit
            .loads()
            .filter(|l| !nameplate::is_climate(l.kind))
        {
            nameplates += nameplate::rated_all(load, book).times(n);
        }
    }
    push(
        "Appliances and cooking of all units, nameplate",
        &nameplates,
    );
    let allowance = cooking_allowance(units, book);
    push("Allowance for units without electric cooking", &allowance);
    let climate = climate::seasons(units, book).larger;
    push(CLIMATE, &climate);

    let value = general.lighting + circuits + nameplates + allowance + climate;
    push(CONNECTED, &value);
    Step { value, lines }
}

fn cooking_allowance(units: &[Units<'_>], book: &TablesIn<'_>) -> Told<VoltAmperes> {
    let lacking = units
        .iter()
        .filter(|g| !has(g.unit, nameplate::is_cooking))
        .fold(0_u32, |n, g| n.saturating_add(g.count));
    if lacking == 0 {
        return Told::default();
    }
    match book.limit(limit::MULTIFAMILY_WITHOUT_ELECTRIC_COOKING) {
        Ok(each) => Told::exactly(each.value * f64::from(lacking)),
        Err(why) => Told::at_least(VoltAmperes::ZERO, why.to_string()),
    }
}

fn lacks_cooking(units: &[Units<'_>]) -> bool {
    units
        .iter()
        .any(|g| g.count > 0 && !has(g.unit, nameplate::is_cooking))
}

fn has(dwelling: &Dwelling, of: fn(model::house::LoadKind) -> bool) -> bool {
    dwelling.loads_of(of).any(|l| l.count > 0)
}

fn conditions(units: &[Units<'_>], book: &TablesIn<'_>) -> Standing {
    let mut fails: Vec<Text> = Vec::new();
    let mut unknown: Vec<Text> = Vec::new();
    let count = units.iter().fold(0_u32, |n, g| n.saturating_add(g.count));
    match book.limit(limit::MULTIFAMILY_UNITS_FROM) {
        Ok(least) if f64::from(count) < least.value => {
            fails
                .push(format!("{count} dwelling units: {} or more are wanted", least.value).into());
        }
        Ok(_) => {}
        Err(why) => unknown.push(why.to_string().into()),
    }
    if units.iter().any(|g| !has(g.unit, nameplate::is_climate)) {
        fails.push("each unit is to have electric heat or air conditioning or both".into());
    }
    Standing::from_conditions(fails, unknown)
}

/// Two dwelling units on one feeder: the standard result, or that of three identical units by the optional calculation
/// where it is lower. Where the two differ, the three are of the larger kind.
#[must_use]
pub fn two_family(units: [&Dwelling; 2], book: &TablesIn<'_>) -> Outcome {
    let both = units.map(|unit| Units { count: 1, unit });
    let parts = parts::parts(&both, &[], book);
    let mut sheet = standard::sheet(Method::TwoFamily, book);
    sheet.lines.extend(parts.lines.iter().cloned());
    let standard_demand = parts.whole.clone();
    sheet.push(
        told_line("Two units by the standard calculation", &standard_demand)
            .cite(book.cite(Subject::StandardLoad)),
    );

    let count = book.limit(limit::TWO_FAMILY_AS_UNITS);
    if let Err(why) = &count {
        sheet.push(Line::no_value("Units taken instead of two", why));
    }
    let three = count
        .iter()
        .flat_map(|count| units.map(|unit| (count.value as u32, unit)))
        .map(|(count, unit)| demand(&[Units { count, unit }], book))
        .reduce(|a, b| {
            if b.value.lower_bound() > a.value.lower_bound() {
                b
            } else {
                a
            }
        });
    let mut demand = standard_demand;
    if let Some(three) = three {
        sheet.lines.extend(three.lines);
        sheet.push(
            told_line(
                "Three identical units by the optional calculation",
                &three.value,
            )
            .cite(book.cite(Subject::TwoFamily)),
        );
        demand = demand.min(three.value);
    }
    sheet.push(told_line("Lower of both", &demand).cite(book.cite(Subject::TwoFamily)));
    let result = Reckoned {
        method: Method::TwoFamily,
        standing: Standing::Applies,
        demand,
        line_to_neutral: None,
    };
    standard::close(sheet, result, &parts, units[0], book)
}
