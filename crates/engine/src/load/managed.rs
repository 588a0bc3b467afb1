//! Energy management: a setting that stands for the load, and what it leaves to the loads it controls.
//! NFPA 70 750.30 (2014-2020), 220.70 and 750.30 (2023), 120.7 and Article 130 (2026). Amperes and VA.

use model::Fact;
use model::units::{Amperes, VoltAmperes};
use rulebook::NoValue;
use rulebook::tables::{Subject, TablesIn, flag, limit};

use super::input::Dwelling;
use super::optional;
use super::outcome::{Method, Outcome, Standing, Step};
use super::standard;
use super::told::{Told, told_line};
use super::totals::{self, told_amperes};
use crate::worksheet::{Line, Quantity, Text};

/// Label of the line with the load that the system does not control.
pub const REST: &str = "Load that is not controlled";
/// Label of the line with what is left for the controlled loads.
pub const LEFT: &str = "Left for the controlled loads";
/// Label of the line with the setting as a continuous load.
pub const CONTINUOUS: &str = "For conductors and overcurrent device, as a continuous load";

/// A listed system that holds a service or feeder to a setting.
#[derive(Clone, Debug, PartialEq)]
pub struct Management {
    /// Highest current the system lets through.
    pub setting: Amperes,
    /// Calculated load of what the system can hold back.
    pub controlled: Told<VoltAmperes>,
    /// Whether only qualified persons can reach the setting.
    pub access_is_restricted: Fact<bool>,
}

/// The load under management. `unmanaged` is the calculation of the same service or feeder as if nothing were controlled.
#[must_use]
pub fn managed(
    unmanaged: &Outcome,
    management: &Management,
    dwelling: &Dwelling,
    book: &TablesIn<'_>,
) -> Outcome {
    let mut sheet = standard::sheet(Method::Managed, book);
    let cite = book.cite(Subject::Ems);
    let amperes_per_va = match (
        unmanaged.current.lower_bound(),
        unmanaged.demand.lower_bound(),
    ) {
        (amperes, va) if va > VoltAmperes::ZERO => amperes.0 / va.0,
        _ => 0.0,
    };
    let controlled = management
        .controlled
        .map(|va| Amperes(va.0 * amperes_per_va));
    let rest = unmanaged
        .current
        .map(|whole| (whole - controlled.lower_bound()).max(Amperes::ZERO));
    let setting = management.setting;
    let left = (setting - rest.lower_bound()).max(Amperes::ZERO);
    let standing = conditions(&rest, management, dwelling, book);

    sheet
        .lines
        .extend(optional::standing_lines(&standing, Subject::Ems, book));
    sheet.push(
        told_amperes("Calculated load without management", &unmanaged.current)
            .cite(book.cite(unmanaged.method.subject())),
    );
    sheet.push(told_line("Controlled part of it", &management.controlled).cite(cite.clone()));
    sheet.push(told_amperes("Controlled part of it, in amperes", &controlled).cite(cite.clone()));
    sheet.push(
        told_amperes(REST, &rest)
            .how("calculated load - controlled part")
            .cite(cite.clone()),
    );
    sheet.push(
        Line::number(LEFT, left)
            .how("setting - load that is not controlled")
            .input("setting", setting)
            .cite(cite.clone()),
    );
    let volts = dwelling
        .system
        .get()
        .map(model::house::System::line_to_line);
    let demand = match volts {
        Some(volts) => Told::exactly(volts * setting),
        None => Told::at_least(VoltAmperes::ZERO, "electrical system"),
    };
    sheet.push(
        told_line(totals::TOTAL, &demand)
            .how("setting x voltage between legs")
            .cite(cite),
    );
    let rating = match as_continuous(setting, book) {
        Ok(step) => {
            let needed = step.value;
            sheet.lines.extend(step.lines);
            match book.next_standard_rating(needed) {
                Ok(found) => {
                    sheet.push(Line::number(totals::RATING, found.value).source(&found));
                    Told::exactly(found.value)
                }
                Err(why) => {
                    sheet.push(Line::no_value(totals::RATING, &why));
                    Told::at_least(needed, why.to_string())
                }
            }
        }
        Err(why) => {
            sheet.push(Line::no_value(CONTINUOUS, &why));
            Told::at_least(setting, why.to_string())
        }
    };
    // All of it stands on the calculation without management.
    let check = unmanaged.worksheet.check();
    for line in &mut sheet.lines {
        line.check = line.check.min(check);
    }
    Outcome {
        method: Method::Managed,
        standing,
        demand,
        current: Told::exactly(setting),
        rounded: Told::exactly(setting.rounded()),
        neutral: unmanaged.neutral.map(|a| a.min(setting)),
        rating,
        worksheet: sheet,
    }
}

/// The setting as conductors and overcurrent device see it: a continuous load.
///
/// # Errors
/// The percentage was not found for the edition.
pub fn as_continuous(setting: Amperes, book: &TablesIn<'_>) -> Result<Step<Amperes>, NoValue> {
    let percent = book.limit(limit::CONTINUOUS_LOAD_FACTOR)?;
    let value = setting * percent.value.factor();
    let line = Line::number(CONTINUOUS, value)
        .how("setting x percentage")
        .input("setting", setting)
        .input("percentage", percent.value)
        .source(&percent)
        .cite(book.cite(Subject::Ems));
    Ok(Step {
        value,
        lines: vec![line],
    })
}

/// What each of several alike gets when `active` of them share one circuit under management.
///
/// # Errors
/// The percentage for continuous loads was not found for the edition.
pub fn each_of(
    circuit: Amperes,
    each: Amperes,
    active: u32,
    book: &TablesIn<'_>,
) -> Result<Step<Amperes>, NoValue> {
    let percent = book.limit(limit::CONTINUOUS_LOAD_FACTOR)?;
    let limit = circuit / percent.value.factor();
    let value = each.min(limit / f64::from(active.max(1)));
    let cite = book.cite(Subject::Ems);
    let lines = vec![
        Line::number("Continuous current the circuit may carry", limit)
            .how("rating / percentage for continuous loads")
            .input("rating", circuit)
            .source(&percent),
        Line::number("Each of those active", value)
            .how("equal shares, none over its own rating")
            .input("active", Quantity::number(f64::from(active)))
            .cite(cite),
    ];
    Ok(Step { value, lines })
}

fn conditions(
    rest: &Told<Amperes>,
    management: &Management,
    dwelling: &Dwelling,
    book: &TablesIn<'_>,
) -> Standing {
    let mut fails: Vec<Text> = Vec::new();
    let mut unknown: Vec<Text> = Vec::new();
    match book.flag(flag::EMS_SETTING_IS_LOAD) {
        Ok(named) if named.value || dwelling.readings.managed_before_named => {}
        Ok(_) | Err(NoValue::NoEntry { .. }) => fails.push(
            "this edition does not let the setting stand for the load; an authority may accept it as loads that never run together".into(),
        ),
        Err(why) => unknown.push(why.to_string().into()),
    }
    match management.access_is_restricted.get() {
        Some(true) => {}
        Some(false) => fails.push("access to the setting is not restricted".into()),
        None => unknown.push("answer whether access to the setting is restricted".into()),
    }
    if rest.lower_bound() > management.setting {
        fails.push(
            format!(
                "the load that is not controlled, {:.1}, exceeds the setting of {}",
                rest.lower_bound(),
                management.setting
            )
            .into(),
        );
    } else if rest.exact().is_none() {
        unknown.push(rest.missing_text().into());
    }
    Standing::from_conditions(fails, unknown)
}
