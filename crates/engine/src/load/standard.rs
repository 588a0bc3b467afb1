//! Standard calculation of a dwelling's load, and of several units on one service or feeder.
//! NFPA 70 Article 220 (2014-2023), Article 120 (2026): cite sections, the Parts moved. VA in, outcome and worksheet out.

use model::house::Load;
use model::units::VoltAmperes;
use rulebook::tables::TablesIn;

use super::input::{Dwelling, Units};
use super::neutral;
use super::outcome::{Method, Outcome, Standing};
use super::parts::{self, Parts};
use super::told::Told;
use super::totals;
use crate::worksheet::Worksheet;

/// The standard calculation of one dwelling, or of the share of it that a feeder carries. Always permitted.
#[must_use]
pub fn standard(dwelling: &Dwelling, book: &TablesIn<'_>) -> Outcome {
    standard_of(
        &[Units {
            count: 1,
            unit: dwelling,
        }],
        &[],
        book,
    )
}

/// The standard calculation of several dwelling units and their house loads on one service or feeder.
/// The first unit says on which system, at which share and with which readings.
#[must_use]
pub fn standard_of(units: &[Units<'_>], house: &[Load], book: &TablesIn<'_>) -> Outcome {
    let parts = parts::parts(units, house, book);
    from_parts(&parts, units, book)
}

pub(super) fn from_parts(parts: &Parts, units: &[Units<'_>], book: &TablesIn<'_>) -> Outcome {
    let nobody = Dwelling::default();
    let first = units.first().map_or(&nobody, |g| g.unit);
    let mut sheet = sheet(Method::Standard, book);
    sheet.lines.extend(parts.lines.iter().cloned());
    let result = Reckoned {
        method: Method::Standard,
        standing: Standing::Applies,
        demand: parts.whole.clone(),
        line_to_neutral: Some(parts.line_to_neutral()),
    };
    close(sheet, result, parts, first, book)
}

/// An empty worksheet of a method.
pub(super) fn sheet(method: Method, book: &TablesIn<'_>) -> Worksheet {
    let mut letters = method.name().chars();
    let title = letters
        .next()
        .map(|first| first.to_uppercase().collect::<String>() + letters.as_str())
        .unwrap_or_default();
    Worksheet::new(format!("load.{}", method.key()), title, book.edition())
}

/// What a method came to before its closing lines.
pub(super) struct Reckoned {
    pub(super) method: Method,
    pub(super) standing: Standing,
    pub(super) demand: Told<VoltAmperes>,
    /// The part connected line to neutral; none where the method has no published split, and all is taken between the legs.
    pub(super) line_to_neutral: Option<Told<VoltAmperes>>,
}

/// Adds total, current, rating and the neutral, which is the same under every method.
pub(super) fn close(
    mut sheet: Worksheet,
    result: Reckoned,
    parts: &Parts,
    dwelling: &Dwelling,
    book: &TablesIn<'_>,
) -> Outcome {
    let totals = totals::totals(&mut sheet, &result, dwelling, book);
    let neutral = neutral::neutral(parts, dwelling.system.get(), book);
    sheet.lines.extend(neutral.lines);
    Outcome {
        method: result.method,
        standing: result.standing,
        demand: result.demand,
        current: totals.current,
        rounded: totals.rounded,
        neutral: neutral.value,
        rating: totals.rating,
        worksheet: sheet,
    }
}
