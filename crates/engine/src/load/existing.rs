//! Existing dwelling: whether the service or feeder can take more load.
//! NFPA 70 220.83(A) and (B) (2014-2023), 120.83 (2026, its table not found). Nameplate VA in, outcome and worksheet out.

use model::house::DwellingKind;
use model::units::VoltAmperes;
use rulebook::tables::{Subject, TablesIn, limit};

use super::input::{Dwelling, ExistingClimateReading, Occasion, Units};
use super::optional;
use super::outcome::{Method, Outcome, Standing, Step};
use super::parts::{self, Parts};
use super::pot::{self, Factors};
use super::selection;
use super::standard::{self, Reckoned};
use super::told::{Told, told_line};
use super::{climate, nameplate};
use crate::worksheet::{Line, Text};

/// The calculation for added load in an existing dwelling.
#[must_use]
pub fn existing(dwelling: &Dwelling, book: &TablesIn<'_>) -> Outcome {
    let parts = parts::parts(
        &[Units {
            count: 1,
            unit: dwelling,
        }],
        &[],
        book,
    );
    from_parts(&parts, dwelling, book)
}

pub(super) fn from_parts(parts: &Parts, dwelling: &Dwelling, book: &TablesIn<'_>) -> Outcome {
    let mut sheet = standard::sheet(Method::Existing, book);
    let standing = conditions(dwelling);
    sheet
        .lines
        .extend(optional::standing_lines(&standing, Subject::Existing, book));

    let is_new = dwelling
        .new
        .iter()
        .any(|l| !l.future && nameplate::is_climate(l.kind));
    let reading = dwelling.readings.existing_climate;
    let in_pot = !is_new && reading == ExistingClimateReading::Edition;
    let factors = Factors {
        first: book.limit(limit::EXISTING_FIRST_STEP),
        rest: book.limit(limit::EXISTING_REMAINDER_DEMAND),
    };
    if factors.first.is_ok() {
        sheet.push(which_part(is_new, reading, book));
    }
    let pot = pot::pot(dwelling, Method::Existing, in_pot, book);
    let general = pot::on_pot(&pot.sum, &factors);
    let climate = if in_pot {
        Step {
            value: Told::default(),
            lines: Vec::new(),
        }
    } else {
        climate_outside(dwelling, reading, book)
    };
    // Without the edition's factors nothing of the pot can be told, and no part of it is shown as a result.
    sheet.lines.extend(pot.lines);
    sheet.lines.extend(general.lines);
    let mut demand = general.value;
    if factors.first.is_ok() {
        sheet.lines.extend(climate.lines);
        sheet.lines.extend(pot.outside_lines);
        demand = demand + climate.value + pot.outside;
    }
    let result = Reckoned {
        method: Method::Existing,
        standing,
        demand,
        line_to_neutral: None,
    };
    standard::close(sheet, result, parts, dwelling, book)
}

fn conditions(dwelling: &Dwelling) -> Standing {
    let mut fails: Vec<Text> = Vec::new();
    if !dwelling.is_whole() {
        fails.push(
            "the conductors carry only part of the dwelling; the total load is wanted".into(),
        );
    }
    if dwelling.occasion == Occasion::New {
        fails.push("a new dwelling".into());
    }
    if dwelling.kind.get() == Some(DwellingKind::Other) {
        fails.push("not a dwelling unit".into());
    }
    Standing::from_conditions(fails, Vec::new())
}

fn which_part(is_new: bool, reading: ExistingClimateReading, book: &TablesIn<'_>) -> Line {
    let text = if is_new {
        "heating or cooling is new or larger: it counts outside the pot, in full"
    } else {
        "no new heating or cooling: all of it stays in the pot"
    };
    let subject = if is_new {
        Subject::ExistingWithNewHvac
    } else {
        Subject::ExistingWithoutNewHvac
    };
    let line = Line::text("Heating and cooling in this project", text).cite(book.cite(subject));
    match reading {
        ExistingClimateReading::Edition if is_new => line,
        ExistingClimateReading::Edition => line.note(
            "the same house gives more once new heating or cooling is part of the project; some inspectors refuse this order of projects",
        ),
        ExistingClimateReading::AlwaysOutside => {
            line.note("a local reading: heating and cooling always count outside the pot, in full")
        }
        ExistingClimateReading::OptionalPercentages => {
            line.note("a local reading: heating and cooling at the percentages of the optional calculation")
        }
    }
}

fn climate_outside(
    dwelling: &Dwelling,
    reading: ExistingClimateReading,
    book: &TablesIn<'_>,
) -> Step<Told<VoltAmperes>> {
    if reading == ExistingClimateReading::OptionalPercentages {
        return selection::largest_selection(dwelling, book);
    }
    let seasons = climate::seasons_of(dwelling, book);
    if seasons.larger == Told::default() {
        return Step {
            value: Told::default(),
            lines: Vec::new(),
        };
    }
    let percent = match book.limit(limit::EXISTING_NEW_HVAC_DEMAND) {
        Ok(percent) => percent,
        Err(why) => {
            let mut value = seasons.larger;
            value.miss(why.to_string());
            return Step {
                value,
                lines: vec![Line::no_value(climate::LARGER, &why)],
            };
        }
    };
    let value = seasons.larger.times(percent.value.factor());
    let line = told_line(climate::LARGER, &value)
        .how("larger x percentage; no lower figure is given for many separately controlled units")
        .input("heating", seasons.heating.lower_bound())
        .input("cooling", seasons.cooling.lower_bound())
        .input("percentage", percent.value)
        .source(&percent);
    Step {
        value,
        lines: vec![line],
    }
}
