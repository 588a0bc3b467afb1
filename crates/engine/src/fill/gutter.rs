//! Is there room for feed-through conductors and splices in a cabinet?
//! Source: NFPA 70 312.8 by edition; shares of the cross-section from the tables. Square inches.

use model::units::{Percent, SquareInches};
use rulebook::NoValue;
use rulebook::tables::{Limit, Subject, TablesIn, limit};
use serde::Serialize;

use super::raceway::{Conductor, area};
use crate::conductor::Verdict;
use crate::worksheet::{Line, Worksheet};

/// One cross-section of the wiring space.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Gutter {
    /// Clear area of the space, across the conductors.
    pub space: SquareInches,
    /// Conductors that cross it.
    pub conductors: Vec<Conductor>,
    /// Cross-section of the splices and taps in it, as their maker states it.
    pub splices: SquareInches,
}

/// Fill of the wiring space without and with splices.
pub fn gutter_fill(id: &str, gutter: &Gutter, book: &TablesIn<'_>) -> (Worksheet, Verdict) {
    let mut sheet = Worksheet::new(
        format!("{id}.gutter-fill"),
        "Wiring space of the cabinet",
        book.edition(),
    );
    match fill(gutter, book, &mut sheet) {
        Ok(verdict) => (sheet, verdict),
        Err(why) => {
            sheet.push(Line::no_value("Wiring space is large enough", &why));
            (sheet, Verdict::CannotTell)
        }
    }
}

fn fill(gutter: &Gutter, book: &TablesIn<'_>, sheet: &mut Worksheet) -> Result<Verdict, NoValue> {
    let conductors = area(&gutter.conductors, book, sheet)?;
    if gutter.space.0 <= 0.0 {
        sheet.push(Line::cannot_tell(
            "Wiring space is large enough",
            "clear area of the wiring space, a number above zero",
        ));
        return Ok(Verdict::CannotTell);
    }
    let alone = against(
        sheet,
        "Conductors",
        conductors,
        gutter.space,
        limit::GUTTER_FILL,
        book,
    )?;
    if gutter.splices.0 <= 0.0 {
        return Ok(alone);
    }
    let with = against(
        sheet,
        "Conductors with splices and taps",
        conductors + gutter.splices,
        gutter.space,
        limit::GUTTER_FILL_SPLICES,
        book,
    )?;
    Ok(alone.and(with))
}

fn against(
    sheet: &mut Worksheet,
    what: &'static str,
    area: SquareInches,
    space: SquareInches,
    limit: Limit<Percent>,
    book: &TablesIn<'_>,
) -> Result<Verdict, NoValue> {
    let limit = book.limit(limit)?;
    let share = Percent(100.0 * (area / space));
    let passes = share <= limit.value;
    sheet.push(
        Line::number(format!("{what}, share of the space"), share)
            .how("area / clear area of the space")
            .input("area", area)
            .input("space", space),
    );
    sheet.push(
        Line::passes(format!("{what} within the limit"), passes)
            .input("limit", limit.value)
            .checked(limit.check)
            .cite(book.cite(Subject::GutterFill)),
    );
    Ok(Verdict::from_bool(passes))
}
