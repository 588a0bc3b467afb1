//! Heating and cooling that never run together, and the largest motor of what does run.
//! NFPA 70 220.50, 220.51, 220.60 (2014-2023), 120.50, 120.51, 120.60 (2026). VA.

use model::house::LoadKind;
use model::units::VoltAmperes;
use rulebook::tables::{Subject, TablesIn, limit};
use rulebook::{Check, NoValue};

use super::input::{Dwelling, NoncoincidentReading, Units};
use super::nameplate;
use super::outcome::Step;
use super::told::{Told, told_line};
use crate::worksheet::Text;

/// Label of the line that carries the larger of heating and cooling.
pub const LARGER: &str = "Larger of heating and cooling";
/// Label of the line that carries the quarter of the largest motor.
pub const MOTOR: &str = "Largest motor, added share";

/// Loads of one dwelling unit, or of several, in the heating and in the cooling season.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Seasons {
    /// What runs while heating.
    pub heating: Told<VoltAmperes>,
    /// What runs while cooling.
    pub cooling: Told<VoltAmperes>,
    /// The larger of both, unit by unit.
    pub larger: Told<VoltAmperes>,
    /// Largest motor that runs while heating.
    pub heating_motor: Told<VoltAmperes>,
    /// Largest motor that runs while cooling.
    pub cooling_motor: Told<VoltAmperes>,
}

/// What heating, cooling and the largest motor add to the load.
#[derive(Clone, Debug, PartialEq)]
pub struct Demand {
    /// Heating or cooling.
    pub climate: Told<VoltAmperes>,
    /// The largest motor's added share.
    pub motor: Told<VoltAmperes>,
}

impl Demand {
    /// Both together.
    #[must_use]
    pub fn sum(&self) -> Told<VoltAmperes> {
        self.climate.clone() + self.motor.clone()
    }
}

/// The seasons of one unit. A compressor runs in both; with supplementary heat it runs too, unless it is locked out.
#[must_use]
pub fn seasons_of(dwelling: &Dwelling, book: &TablesIn<'_>) -> Seasons {
    let sum = |kinds: &[LoadKind]| -> Told<VoltAmperes> {
        dwelling
            .loads()
            .filter(|l| kinds.contains(&l.kind))
            .map(|l| nameplate::rated_all(l, book))
            .sum()
    };
    let motor = |kinds: &[LoadKind]| -> Told<VoltAmperes> {
        dwelling
            .loads()
            .filter(|l| kinds.contains(&l.kind))
            .filter_map(nameplate::motor)
            .fold(Told::default(), Told::max)
    };
    let compressor = sum(&[LoadKind::HeatPump]);
    let supplement = sum(&[LoadKind::SupplementalHeat]);
    let pump = if is_locked_out(dwelling) {
        compressor.clone().max(supplement)
    } else {
        compressor.clone() + supplement
    };
    let blower = sum(&[LoadKind::Blower]);
    let heating = pump + sum(&[LoadKind::SpaceHeat, LoadKind::StorageHeat]) + blower.clone();
    let cooling = compressor + sum(&[LoadKind::Cooling]) + blower;
    Seasons {
        larger: heating.clone().max(cooling.clone()),
        heating,
        cooling,
        heating_motor: motor(&[LoadKind::HeatPump, LoadKind::Blower]),
        cooling_motor: motor(&[LoadKind::HeatPump, LoadKind::Blower, LoadKind::Cooling]),
    }
}

/// True when every compressor is known to be held off while its supplementary heat runs.
pub(super) fn is_locked_out(dwelling: &Dwelling) -> bool {
    let mut pumps = dwelling
        .loads_of(|kind| kind == LoadKind::HeatPump)
        .peekable();
    pumps.peek().is_some() && pumps.all(|pump| pump.compressor_locked_out.get() == Some(true))
}

pub(super) fn seasons(units: &[Units<'_>], book: &TablesIn<'_>) -> Seasons {
    let mut all = Seasons::default();
    for group in units {
        let one = seasons_of(group.unit, book);
        let n = f64::from(group.count);
        all.heating += one.heating.times(n);
        all.cooling += one.cooling.times(n);
        all.larger += one.larger.times(n);
        all.heating_motor = all.heating_motor.max(one.heating_motor);
        all.cooling_motor = all.cooling_motor.max(one.cooling_motor);
    }
    all
}

/// Takes the larger season and adds the largest motor's share. `other_motor` is the largest motor outside the seasons.
///
/// # Errors
/// The share of the largest motor was not found for the edition.
pub fn demand(
    seasons: &Seasons,
    other_motor: &Told<VoltAmperes>,
    reading: NoncoincidentReading,
    book: &TablesIn<'_>,
) -> Result<Step<Demand>, NoValue> {
    let share = book.limit(limit::LARGEST_MOTOR_EXTRA)?;
    let quarter = share.value.factor();
    let clause = match book.limit(limit::NONCOINCIDENT_MOTOR_DEMAND) {
        Ok(clause) => Some(clause.check),
        Err(NoValue::NotFound { .. }) => Some(Check::NotFound),
        Err(NoValue::NoEntry { .. }) => None,
    };

    let split = split(seasons, other_motor, quarter);
    let every_motor = seasons
        .heating_motor
        .clone()
        .max(seasons.cooling_motor.clone())
        .max(other_motor.clone());
    let literal = Demand {
        climate: seasons.larger.clone(),
        motor: every_motor.times(quarter),
    };
    let (chosen, note) = match (clause, reading) {
        (None, _) => (split, None),
        (Some(_), NoncoincidentReading::Split) => (split, Some(chosen_note())),
        (Some(_), NoncoincidentReading::Literal) => (literal, Some(chosen_note())),
        (Some(check), NoncoincidentReading::Larger) => larger_reading(literal, split, check),
    };

    let mut lines = Vec::new();
    let has_climate = seasons.larger != Told::default();
    if has_climate {
        lines.push(
            told_line("Heating load", &seasons.heating)
                .how("in full, with what runs while heating")
                .cite(book.cite(Subject::Heating)),
        );
        lines.push(
            told_line("Cooling load", &seasons.cooling)
                .how("in full, with what runs while cooling")
                .cite(book.cite(Subject::Motors)),
        );
        lines.push(
            told_line(LARGER, &chosen.climate)
                .how("loads that never run together: the larger")
                .cite(book.cite(Subject::Noncoincident)),
        );
    }
    if every_motor != Told::default() {
        let mut line = told_line(MOTOR, &chosen.motor)
            .how("share of the largest motor's full-load VA")
            .input("share", share.value)
            .source(&share);
        if let Some(check) = clause.filter(|_| has_climate) {
            line = line.checked(check);
        }
        if let (Some(note), true) = (note, has_climate) {
            line = line.note(note);
        }
        lines.push(line);
    }
    Ok(Step {
        value: chosen,
        lines,
    })
}

/// The whole total once for heat and once for cooling, each with the largest motor of what runs; the larger total.
fn split(seasons: &Seasons, other: &Told<VoltAmperes>, quarter: f64) -> Demand {
    let with = |climate: &Told<VoltAmperes>, motor: &Told<VoltAmperes>| Demand {
        climate: climate.clone(),
        motor: motor.clone().max(other.clone()).times(quarter),
    };
    let heats = seasons.heating.lower_bound() >= seasons.cooling.lower_bound();
    let mixed = with(
        &seasons.larger,
        if heats {
            &seasons.heating_motor
        } else {
            &seasons.cooling_motor
        },
    );
    [
        with(&seasons.heating, &seasons.heating_motor),
        with(&seasons.cooling, &seasons.cooling_motor),
    ]
    .into_iter()
    .fold(mixed, |best, next| {
        if next.sum().lower_bound() > best.sum().lower_bound() {
            next
        } else {
            best
        }
    })
}

fn larger_reading(literal: Demand, split: Demand, check: Check) -> (Demand, Option<Text>) {
    let (a, b) = (literal.sum(), split.sum());
    let confirmed = if check == Check::NotFound {
        "; the text of this edition was not confirmed"
    } else {
        ""
    };
    if a == b {
        return (literal, None);
    }
    let note = format!(
        "two readings: the largest motor adds its share although it is left out, {}; \
         only what runs in one season counts, {}; the larger is taken{confirmed}",
        a.lower_bound(),
        b.lower_bound()
    );
    if a.lower_bound() >= b.lower_bound() {
        (literal, Some(note.into()))
    } else {
        (split, Some(note.into()))
    }
}

fn chosen_note() -> Text {
    "the reading chosen for this authority".into()
}
