//! Existing load from the demand that was really drawn, and what new load it leaves room for.
//! NFPA 70 220.87 (2014-2023), 120.87 (2026). Interval energy in kilowatt-hours or a stated maximum in; VA out.

use model::house::MeasuredDemand;
use model::units::{Amperes, VoltAmperes};
use rulebook::NoValue;
use rulebook::tables::{Subject, TablesIn, flag, limit};

use super::input::{Dwelling, Units};
use super::outcome::{Method, Outcome, Standing, Step};
use super::parts::{self, Parts};
use super::standard::{self, Reckoned};
use super::told::{Told, told_line};
use super::{chargers, nameplate, optional};
use crate::worksheet::{Line, Text};

/// Label of the line with the measured part at its percentage.
pub const MEASURED: &str = "Maximum demand at its percentage";
/// Label of the line with the new load.
pub const NEW: &str = "New load";
/// Label of the line that says whether the rating suffices.
pub const FITS: &str = "The service or feeder carries it";

/// The measured method. `record` is the demand at the same service or feeder.
#[must_use]
pub fn measured(dwelling: &Dwelling, record: &MeasuredDemand, book: &TablesIn<'_>) -> Outcome {
    let parts = parts::parts(
        &[Units {
            count: 1,
            unit: dwelling,
        }],
        &[],
        book,
    );
    from_parts(&parts, dwelling, record, book)
}

pub(super) fn from_parts(
    parts: &Parts,
    dwelling: &Dwelling,
    record: &MeasuredDemand,
    book: &TablesIn<'_>,
) -> Outcome {
    let mut sheet = standard::sheet(Method::Measured, book);
    let existing = existing_part(record, book);
    let new = new_part(dwelling, book);
    let demand = existing.value + new.value;
    let fits = fits(&demand, dwelling);
    let standing = conditions(dwelling, record, &fits, book);
    sheet
        .lines
        .extend(optional::standing_lines(&standing, Subject::Measured, book));
    sheet.lines.extend(existing.lines);
    sheet.lines.extend(new.lines);
    sheet.push(fits.line.cite(book.cite(Subject::Measured)));
    let result = Reckoned {
        method: Method::Measured,
        standing,
        demand,
        line_to_neutral: None,
    };
    standard::close(sheet, result, parts, dwelling, book)
}

/// The measured part: the maximum demand at the percentage that the section asks for.
#[must_use]
pub fn existing_part(record: &MeasuredDemand, book: &TablesIn<'_>) -> Step<Told<VoltAmperes>> {
    let kw = record.highest_15_minute.0;
    if !(kw.is_finite() && kw >= 0.0) {
        let why = "maximum demand: expected zero kilowatts or more";
        return Step {
            value: Told::at_least(VoltAmperes::ZERO, why),
            lines: vec![Line::cannot_tell(
                MEASURED,
                format!("needs the {why}, found {kw}"),
            )],
        };
    }
    let peak = VoltAmperes(kw * 1000.0);
    let shown = Line::number("Maximum demand over 15 minutes", peak)
        .how("highest average power of a 15-minute interval; kilowatt-hours of 15 minutes x 4")
        .input_text("record", format!("{} days", record.days))
        .cite(book.cite(Subject::Measured))
        .note(
            "a meter records kilowatts: they are taken as kVA, at a power factor of one; intervals that start on the clock \
             can hide a higher average, at most the sum of two neighbours",
        );
    match book.limit(limit::MEASURED_DEMAND) {
        Ok(percent) => {
            let value = peak * percent.value.factor();
            Step {
                value: Told::exactly(value),
                lines: vec![
                    shown,
                    Line::number(MEASURED, value)
                        .how("maximum demand x percentage")
                        .input("percentage", percent.value)
                        .source(&percent),
                ],
            }
        }
        Err(why) => Step {
            value: Told::at_least(peak, why.to_string()),
            lines: vec![shown, Line::no_value(MEASURED, &why)],
        },
    }
}

/// New load at its own value, without a demand factor.
fn new_part(dwelling: &Dwelling, book: &TablesIn<'_>) -> Step<Told<VoltAmperes>> {
    let mut sum = Told::default();
    let mut line = Line::text(NEW, "")
        .how("each at its own calculated value; no demand factor is given for it, and no credit for what is taken away")
        .cite(book.cite(Subject::Measured));
    for load in dwelling.new.iter().filter(|l| !l.future) {
        let va = if nameplate::is_charger(load.kind) {
            charger(load.count, nameplate::rated(load, book), book)
        } else {
            nameplate::rated_all(load, book)
        };
        line = line.input(nameplate::held_label(load, book), va.lower_bound());
        sum += va;
    }
    line.value = told_line("", &sum).value;
    Step {
        value: sum,
        lines: vec![line],
    }
}

fn charger(count: u32, va: Told<VoltAmperes>, book: &TablesIn<'_>) -> Told<VoltAmperes> {
    match chargers::demand(&[(count, va.clone())], book) {
        Ok(step) => step.value,
        Err(why) => {
            let mut va = va.times(f64::from(count));
            va.miss(why.to_string());
            va
        }
    }
}

struct Fits {
    line: Line,
    fits: Option<bool>,
}

fn fits(demand: &Told<VoltAmperes>, dwelling: &Dwelling) -> Fits {
    let (Some(ampacity), Some(system)) = (dwelling.ampacity.get(), dwelling.system.get()) else {
        return Fits {
            line: Line::cannot_tell(
                FITS,
                "needs the ampacity of the feeder or rating of the service, and the electrical system",
            ),
            fits: None,
        };
    };
    let load: Amperes = demand.lower_bound() / system.line_to_line();
    let fits = match demand.exact() {
        _ if load > ampacity => Some(false),
        Some(_) => Some(true),
        None => None,
    };
    let line = match fits {
        Some(fits) => Line::passes(FITS, fits),
        None => Line::cannot_tell(FITS, format!("needs the {}", demand.missing_text())),
    };
    Fits {
        line: line
            .how("maximum demand at its percentage + new load, not over the ampacity or rating")
            .note("the overcurrent and overload protection of the feeder or service is to be checked as well")
            .input("load", load)
            .input("ampacity or rating", ampacity),
        fits,
    }
}

fn conditions(
    dwelling: &Dwelling,
    record: &MeasuredDemand,
    fits: &Fits,
    book: &TablesIn<'_>,
) -> Standing {
    let mut fails: Vec<Text> = Vec::new();
    let mut unknown: Vec<Text> = Vec::new();
    length(record, book, &mut fails, &mut unknown);
    generation(record, book, &mut fails, &mut unknown);
    match fits.fits {
        Some(true) => {}
        Some(false) => fails.push(
            "maximum demand at its percentage with the new load exceeds the ampacity or rating"
                .into(),
        ),
        None => unknown.push(
            "ampacity or rating, system and every new load, to see whether it carries them".into(),
        ),
    }
    if dwelling.occasion == super::input::Occasion::New {
        fails.push("a new dwelling has no record".into());
    }
    Standing::from_conditions(fails, unknown)
}

/// One year, or the short record with its own conditions.
fn length(
    record: &MeasuredDemand,
    book: &TablesIn<'_>,
    fails: &mut Vec<Text>,
    unknown: &mut Vec<Text>,
) {
    let (year, short) = match (
        book.limit(limit::MEASURED_PERIOD),
        book.limit(limit::MEASURED_SHORT_PERIOD),
    ) {
        (Ok(year), Ok(short)) => (year.value, short.value),
        (Err(why), _) | (_, Err(why)) => {
            unknown.push(why.to_string().into());
            return;
        }
    };
    let days = f64::from(record.days);
    if days >= year {
        return;
    }
    if days < short {
        fails.push(
            format!("the record covers {days} days: {year} are wanted, or {short} of continuous recording").into(),
        );
        return;
    }
    match record.seasonal_loads_included.get() {
        Some(true) => {}
        Some(false) => fails.push(
            "a short record must include the larger of heating and cooling and other seasonal loads, by measurement or calculation".into(),
        ),
        None => unknown.push(
            "answer whether the short record includes the larger of heating and cooling and other seasonal loads".into(),
        ),
    }
}

fn generation(
    record: &MeasuredDemand,
    book: &TablesIn<'_>,
    fails: &mut Vec<Text>,
    unknown: &mut Vec<Text>,
) {
    match record.generation_or_peak_shaving.get() {
        Some(false) => {}
        None => unknown.push("answer whether on-site generation or peak shaving ran during the record".into()),
        Some(true) => match book.flag(flag::MEASURED_REFUSES_RENEWABLES) {
            Err(why @ NoValue::NotFound { .. }) => unknown.push(why.to_string().into()),
            Ok(refuses) if !refuses.value => {}
            Ok(_) | Err(NoValue::NoEntry { .. }) => fails.push(
                "on-site generation or peak shaving, a battery among them, hides load from the record".into(),
            ),
        },
    }
}
