//! From a calculated load to amperes and to the smallest standard rating that is not below it.
//! NFPA 70 220.5, 230.79, 240.6(A) (2014-2023), 120.5 (2026). VA in, amperes out.

use model::house::{DwellingKind, System};
use model::units::{Amperes, VoltAmperes};
use rulebook::tables::{Subject, TablesIn, limit};

use super::input::{Dwelling, Share};
use super::outcome::weakest;
use super::standard::Reckoned;
use super::told::Told;
use crate::worksheet::{Line, Worksheet};

/// Label of the line with the calculated load.
pub const TOTAL: &str = "Calculated load";
/// Label of the line with the current before rounding.
pub const CURRENT: &str = "Calculated load in amperes";
/// Label of the line with the current in whole amperes.
pub const ROUNDED: &str = "In whole amperes";
/// Label of the line with the smallest standard rating.
pub const RATING: &str = "Smallest standard rating not below it";

/// Current of a load of which `line_to_neutral` is connected between a leg and the neutral and the rest between the legs.
/// On two legs of a wye the two parts are taken apart; on 120/240 V the split makes no difference.
#[must_use]
pub fn amperes(whole: VoltAmperes, line_to_neutral: VoltAmperes, system: System) -> Amperes {
    let line_to_line = whole - line_to_neutral;
    line_to_line / system.line_to_line() + line_to_neutral / 2.0 / system.line_to_neutral()
}

/// What the total comes to.
pub(super) struct Totals {
    pub(super) current: Told<Amperes>,
    pub(super) rounded: Told<Amperes>,
    pub(super) rating: Told<Amperes>,
}

/// Writes the closing lines of a method.
pub(super) fn totals(
    sheet: &mut Worksheet,
    result: &Reckoned,
    dwelling: &Dwelling,
    book: &TablesIn<'_>,
) -> Totals {
    let demand = &result.demand;
    let line_to_neutral = result.line_to_neutral.as_ref();
    let first = sheet.lines.len();
    let check = weakest(&sheet.lines);
    sheet.push(total_line(demand).cite(book.cite(result.method.subject())));
    let current = current(sheet, demand, line_to_neutral, dwelling.system.get(), book);
    let rounded = current.map(Amperes::rounded);
    sheet.push(
        told_amperes(ROUNDED, &rounded)
            .how("a fraction under one half is dropped")
            .cite(book.cite(Subject::Rounding)),
    );
    let rating = rating(sheet, &rounded, dwelling, book);
    for line in sheet.lines.iter_mut().skip(first) {
        line.check = line.check.min(check);
    }
    Totals {
        current,
        rounded,
        rating,
    }
}

fn total_line(demand: &Told<VoltAmperes>) -> Line {
    match demand.exact() {
        Some(va) => Line::number(TOTAL, va).how("sum of the groups"),
        None => Line::cannot_tell(
            TOTAL,
            format!(
                "at least {:.0}, without: {}",
                demand.lower_bound(),
                demand.missing_text()
            ),
        )
        .how("sum of the groups")
        .input("known part, a lower bound", demand.lower_bound()),
    }
}

fn current(
    sheet: &mut Worksheet,
    demand: &Told<VoltAmperes>,
    line_to_neutral: Option<&Told<VoltAmperes>>,
    system: Option<System>,
    book: &TablesIn<'_>,
) -> Told<Amperes> {
    let Some(system) = system else {
        let mut current = demand.map(|va| {
            let highest = System::SinglePhase120_240.line_to_line();
            va / highest
        });
        current.miss("electrical system: 120/240 V or two legs of 208Y/120 V");
        sheet.push(told_amperes(CURRENT, &current).cite(book.cite(Subject::Rounding)));
        return current;
    };
    let neutral_part = line_to_neutral.map_or(VoltAmperes::ZERO, Told::lower_bound);
    let current = demand.map(|va| amperes(va, neutral_part.min(va), system));
    let mut line = told_amperes(CURRENT, &current).cite(book.cite(Subject::Rounding));
    line = match system {
        System::SinglePhase120_240 => line
            .how("calculated load / voltage between legs")
            .input("voltage between legs", system.line_to_line()),
        System::TwoLegs208Y120 => {
            let line = line
                .how(
                    "between legs / voltage between legs + leg to neutral / 2 / voltage to neutral",
                )
                .input("leg to neutral", neutral_part)
                .input(
                    "between legs",
                    (demand.lower_bound() - neutral_part).max(VoltAmperes::ZERO),
                );
            if line_to_neutral.is_some() {
                line
            } else {
                line.note("this method has no published split: all of it is taken between the legs, which is never less")
            }
        }
    };
    sheet.push(line);
    current
}

fn rating(
    sheet: &mut Worksheet,
    rounded: &Told<Amperes>,
    dwelling: &Dwelling,
    book: &TablesIn<'_>,
) -> Told<Amperes> {
    let mut wanted = rounded.clone();
    if let Some((label, least)) = service_minimum(dwelling, book) {
        match least {
            Ok(least) => {
                sheet.push(Line::number(label, least.value).source(&least));
                wanted = wanted.map(|a| a.max(least.value));
            }
            Err(why) => {
                sheet.push(Line::no_value(label, &why));
                wanted.miss(why.to_string());
            }
        }
    }
    match book.next_standard_rating(wanted.lower_bound()) {
        Ok(found) => {
            let rating = wanted.map(|_| found.value);
            sheet.push(told_amperes(RATING, &rating).source(&found));
            rating
        }
        Err(why) => {
            sheet.push(Line::no_value(RATING, &why));
            let mut rating = wanted;
            rating.miss(why.to_string());
            rating
        }
    }
}

/// Least size of a service disconnect; a feeder has none.
fn service_minimum(
    dwelling: &Dwelling,
    book: &TablesIn<'_>,
) -> Option<(&'static str, rulebook::Lookup<Amperes>)> {
    if dwelling.share != Share::Service {
        return None;
    }
    match dwelling.kind.get() {
        Some(DwellingKind::OneFamily) => Some((
            "Least service disconnect, one-family dwelling",
            book.limit(limit::SERVICE_ONE_FAMILY_LEAST),
        )),
        Some(_) => Some((
            "Least service disconnect, not a one-family dwelling",
            book.limit(limit::SERVICE_OTHER_LEAST),
        )),
        // Nobody said what it is: the larger minimum is the safe one.
        None => Some((
            "Least service disconnect, taken as a one-family dwelling",
            book.limit(limit::SERVICE_ONE_FAMILY_LEAST),
        )),
    }
}

/// A line for a current that may be only a lower bound.
pub(super) fn told_amperes(label: &'static str, told: &Told<Amperes>) -> Line {
    match told.exact() {
        Some(amperes) => Line::number(label, amperes),
        None => Line::cannot_tell(
            label,
            format!(
                "at least {:.1}, without: {}",
                told.lower_bound(),
                told.missing_text()
            ),
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wye_takes_the_two_parts_apart() {
        let two_legs = amperes(
            VoltAmperes(18_782.0),
            VoltAmperes(3_882.0),
            System::TwoLegs208Y120,
        );
        assert!((two_legs.0 - 87.81).abs() < 0.01, "{two_legs}");
        let single = amperes(
            VoltAmperes(18_600.0),
            VoltAmperes(5_100.0),
            System::SinglePhase120_240,
        );
        assert_eq!(single, Amperes(77.5));
    }
}
