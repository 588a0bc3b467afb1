//! Are the conductors of a feeder, service or circuit enough for its load and its device?
//! Source: NFPA 70 215.2, 215.3, 240.4, the ampacity rules and the dwelling rule, by edition. Amperes in, verdict out.

use model::Fact;
use model::units::Amperes;
use rulebook::tables::{Subject, TablesIn, limit};
use rulebook::{Check, NoValue};
use serde::Serialize;

use super::ampacity::{Ampacity, Installation, ampacity, lines};
use super::dwelling::{self, DwellingRule, Place, dwelling_rule};
use super::found::{Found, Verdict};
use super::load::{Load, weighted, weighted_line};
use super::overcurrent::{Feeds, Largest, largest_device_over};
use crate::worksheet::{Line, Worksheet};

/// A feeder, service or circuit as it is, or as it is planned.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Feeder {
    /// Stable name, for the worksheet.
    pub id: String,
    /// Conductors and how they are run.
    pub installation: Installation,
    /// Rating of the overcurrent device that protects them.
    pub device: Fact<Amperes>,
    /// Calculated load.
    pub load: Fact<Load>,
    /// What it feeds, for the next size up.
    pub feeds: Feeds,
    /// Where it stands in the supply tree.
    pub place: Place,
}

/// What was found for a feeder.
#[derive(Clone, Debug, PartialEq)]
pub struct FeederCheck {
    /// Steps.
    pub worksheet: Worksheet,
    /// Ampacity after correction, adjustment and caps.
    pub ampacity: Found<Amperes>,
    /// Ampacity that the load and the device ask for, where both are known.
    pub needed: Option<Amperes>,
    /// Largest device without the dwelling rule.
    pub largest_device: Found<Amperes>,
    /// The dwelling rule may be used.
    pub dwelling_rule_applies: Verdict,
    /// The load is carried by conductors and device.
    pub carries_load: Verdict,
    /// The device protects the conductors, by the general rule or the dwelling rule.
    pub protected: Verdict,
    /// Both.
    pub verdict: Verdict,
}

/// The same without the worksheet, for searches.
pub(super) struct Judged {
    pub(super) ampacity: Ampacity,
    pub(super) weighted: Option<Amperes>,
    pub(super) largest: Found<Amperes>,
    pub(super) dwelling: Option<DwellingRule>,
    parallel: Verdict,
    device_carries: Verdict,
    conductors_carry: Verdict,
    device_protects: Verdict,
    pub(super) carries_load: Verdict,
    pub(super) protected: Verdict,
    pub(super) verdict: Verdict,
    lowest: Option<Largest>,
}

/// Checks a feeder. Every part that cannot be told names what is missing.
#[must_use]
pub fn check(feeder: &Feeder, book: &TablesIn<'_>) -> FeederCheck {
    let mut worksheet = Worksheet::new(
        format!("{}.conductors", feeder.id),
        "Conductors and overcurrent device",
        book.edition(),
    );
    match judge(feeder, book) {
        Ok(judged) => {
            worksheet.lines = render(feeder, &judged, book);
            FeederCheck {
                worksheet,
                needed: needed(feeder, &judged),
                ampacity: judged.ampacity.value,
                largest_device: judged.largest,
                dwelling_rule_applies: judged.dwelling.map_or(Verdict::CannotTell, |d| d.applies),
                carries_load: judged.carries_load,
                protected: judged.protected,
                verdict: judged.verdict,
            }
        }
        Err(why) => {
            worksheet.push(Line::no_value("Conductors are enough", &why));
            FeederCheck {
                worksheet,
                ampacity: Found::nothing(why.to_string()),
                needed: None,
                largest_device: Found::nothing(why.to_string()),
                dwelling_rule_applies: Verdict::CannotTell,
                carries_load: Verdict::CannotTell,
                protected: Verdict::CannotTell,
                verdict: Verdict::CannotTell,
            }
        }
    }
}

/// Under the dwelling rule its share of the device; else the weighted load.
fn needed(feeder: &Feeder, judged: &Judged) -> Option<Amperes> {
    match &judged.dwelling {
        Some(rule) if rule.applies == Verdict::Pass => Some(rule.needed),
        _ => feeder
            .load
            .get()
            .zip(judged.weighted)
            .map(|(load, weighted)| load.total().max(weighted)),
    }
}

pub(super) fn judge(feeder: &Feeder, book: &TablesIn<'_>) -> Result<Judged, NoValue> {
    let device = feeder.device.get();
    let installation = &feeder.installation;
    let wire = installation.wire.get();
    let ampacity = ampacity(installation, device, book);
    let weighted = feeder
        .load
        .get()
        .map(|load| weighted(load, book))
        .transpose()?;
    let carry = match (feeder.load.get(), weighted) {
        (Some(load), Some(weighted)) => {
            let (before, after) = (&ampacity.uncorrected, &ampacity.value);
            before.at_least(weighted).and(after.at_least(load.total()))
        }
        _ => Verdict::CannotTell,
    };
    let (sets, feeds) = (installation.sets, feeder.feeds);
    let (largest, lowest) = match wire {
        None => (Found::nothing("size and metal of the conductors"), None),
        Some(wire) => largest_device_over(&ampacity.value, wire, sets, feeds, book)?,
    };
    let dwelling = device
        .map(|rating| dwelling_rule(&feeder.place, rating, &ampacity, book))
        .transpose()?;
    let device_protects = device.map_or(Verdict::CannotTell, |device| largest.at_least(device));
    let device_carries = match (device, weighted) {
        (Some(device), Some(weighted)) => Verdict::from_bool(device >= weighted),
        _ => Verdict::CannotTell,
    };
    let parallel = parallel(installation, book)?;
    let by_dwelling_rule = dwelling.as_ref().map_or(Verdict::CannotTell, |d| d.verdict);
    let carries_load = carry.or(by_dwelling_rule).and(device_carries);
    let protected = device_protects.or(by_dwelling_rule);
    Ok(Judged {
        verdict: carries_load.and(protected).and(parallel),
        ampacity,
        weighted,
        largest,
        dwelling,
        parallel,
        device_carries,
        conductors_carry: carry,
        device_protects,
        carries_load,
        protected,
        lowest,
    })
}

/// Conductors in parallel have a smallest size.
fn parallel(installation: &Installation, book: &TablesIn<'_>) -> Result<Verdict, NoValue> {
    if installation.sets <= 1 {
        return Ok(Verdict::Pass);
    }
    let smallest = book.limit(limit::PARALLEL_LEAST)?;
    Ok(installation.wire.get().map_or(Verdict::CannotTell, |wire| {
        Verdict::from_bool(wire.size.area() >= smallest.value)
    }))
}

fn render(feeder: &Feeder, judged: &Judged, book: &TablesIn<'_>) -> Vec<Line> {
    let mut all = lines(&feeder.installation, &judged.ampacity, book);
    all.extend(feeder.load.get().map(|load| weighted_line(load, book)));
    all.extend(judged.lowest.as_ref().map(|largest| largest.line(book)));
    let unknown = |known: bool, what: &'static str| (!known).then_some(what);
    let why = |facts: &[Option<&'static str>]| {
        let mut words: Vec<String> = facts.iter().flatten().map(|s| (*s).to_owned()).collect();
        words.extend(judged.ampacity.value.missing.iter().map(|t| t.to_string()));
        words.join("; ")
    };
    let load = unknown(!feeder.load.is_unknown(), "calculated load");
    let device = unknown(
        !feeder.device.is_unknown(),
        "rating of the overcurrent device",
    );
    // A verdict is checked no further than the weakest number it rests on.
    let judged_by = weakest(&all);
    if feeder.installation.sets > 1 {
        all.push(
            Line::new(
                "Parallel conductors are large enough",
                judged.parallel.value("size of the conductors"),
            )
            .cite(book.cite(Subject::Parallel)),
        );
    }
    all.push(
        Line::new("Conductors carry the load by the general rule", judged.conductors_carry.value(why(&[load])))
            .how("ampacity before correction against the weighted load, and ampacity after correction against the load")
            .checked(judged_by)
            .cite(book.cite(Subject::FeederSize)),
    );
    all.push(
        Line::new(
            "Device carries the load",
            judged.device_carries.value(why(&[load, device])),
        )
        .how("device, against the weighted load")
        .checked(judged_by)
        .cite(book.cite(Subject::FeederOvercurrent)),
    );
    let mut protects = Line::new(
        "Device protects the conductors by the general rule",
        judged.device_protects.value(why(&[device])),
    )
    .how("device, against the largest standard device")
    .checked(judged_by)
    .cite(book.cite(Subject::NextSizeUp));
    if let Some(rating) = feeder.device.get() {
        protects = protects.input("device", rating);
    }
    if let (Verdict::Fail, Some(high)) = (judged.device_protects, judged.largest.high) {
        protects = protects.note(format!(
            "The largest device these conductors may have by this rule is {high}."
        ));
    }
    all.push(protects);
    if let Some(dwelling) = &judged.dwelling {
        let wire = feeder.installation.wire.get();
        match dwelling::lines(dwelling, &feeder.place, wire, &judged.ampacity, book) {
            Ok(lines) => all.extend(lines),
            Err(why) => all.push(Line::no_value("Dwelling rule may be used", &why)),
        }
    }
    let entire = judged
        .dwelling
        .as_ref()
        .is_some_and(|d| d.applies == Verdict::CannotTell)
        .then_some(dwelling::ENTIRE);
    let weakest_of_all = weakest(&all);
    all.push(
        Line::new(
            "Conductors and device are enough",
            judged.verdict.value(why(&[load, device, entire])),
        )
        .how("load carried and conductors protected, by the general rule or by the dwelling rule")
        .checked(weakest_of_all),
    );
    all
}

fn weakest(lines: &[Line]) -> Check {
    lines
        .iter()
        .map(|line| line.check)
        .min()
        .unwrap_or(Check::Arithmetic)
}
