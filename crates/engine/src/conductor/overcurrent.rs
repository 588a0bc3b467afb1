//! Which overcurrent device may protect a conductor?
//! Source: NFPA 70 240.4(B), (C), (D), 240.6(A), by edition. Amperes in and out.

use model::Wire;
use model::units::Amperes;
use rulebook::tables::{Subject, TablesIn, limit};
use rulebook::{NoValue, Sourced};
use serde::Serialize;

use super::found::Found;
use crate::worksheet::Line;

/// What the conductor feeds, for the rule of the next size up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Feeds {
    /// A feeder, a service, or a branch circuit with a single outlet or fixed equipment.
    Feeder,
    /// A branch circuit with more than one receptacle for portable loads: no next size up.
    Receptacles,
}

/// Largest standard device for a conductor, and how it was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Largest {
    /// The device.
    pub device: Amperes,
    ampacity: Amperes,
    how: &'static str,
    standard: Sourced<Amperes>,
    small: Option<Sourced<Amperes>>,
}

impl Largest {
    /// As a worksheet line.
    #[must_use]
    pub fn line(&self, book: &TablesIn<'_>) -> Line {
        let line = Line::number("Largest standard device", self.device)
            .how(self.how)
            .input("ampacity", self.ampacity)
            .checked(self.standard.check)
            .cite(book.cite(Subject::NextSizeUp));
        match &self.small {
            Some(small) => line
                .note(format!(
                    "Small conductor: protected at {} at most, whatever its ampacity.",
                    self.device
                ))
                .source(small),
            None => line,
        }
    }
}

/// Largest standard device for a conductor of `ampacity` (all sets together).
pub fn largest_device(
    ampacity: Amperes,
    wire: Wire,
    sets: u32,
    feeds: Feeds,
    book: &TablesIn<'_>,
) -> Result<Largest, NoValue> {
    let limit = book.limit(limit::NEXT_SIZE_UP_TO)?;
    let (standard, how) = match (book.next_standard_rating(ampacity), feeds) {
        (Ok(up), _) if up.value == ampacity => (up, "the ampacity is itself a standard rating"),
        (Ok(up), Feeds::Feeder) if up.value <= limit.value => {
            (up, "next standard rating above the ampacity")
        }
        (_, Feeds::Feeder) => (
            book.standard_rating_not_above(ampacity)?,
            "above the limit for the next size up: next standard rating below the ampacity",
        ),
        (_, Feeds::Receptacles) => (
            book.standard_rating_not_above(ampacity)?,
            "more than one receptacle outlet: next standard rating below the ampacity",
        ),
    };
    let small = if sets <= 1 {
        small_conductor(wire, book)?
    } else {
        None
    };
    let small = small.filter(|limit| limit.value < standard.value);
    Ok(Largest {
        device: small.as_ref().map_or(standard.value, |limit| limit.value),
        ampacity,
        how,
        standard,
        small,
    })
}

/// The limit for small conductors, where the edition has one for this conductor.
fn small_conductor(wire: Wire, book: &TablesIn<'_>) -> Result<Option<Sourced<Amperes>>, NoValue> {
    match book.small_conductor_limit(wire.size, wire.material) {
        Ok(limit) => Ok(Some(limit)),
        Err(NoValue::NoEntry { .. }) => Ok(None),
        Err(why) => Err(why),
    }
}

/// Largest device over a range of ampacities, and the lowest case of it.
pub fn largest_device_over(
    ampacity: &Found<Amperes>,
    wire: Wire,
    sets: u32,
    feeds: Feeds,
    book: &TablesIn<'_>,
) -> Result<(Found<Amperes>, Option<Largest>), NoValue> {
    let at = |bound: Option<Amperes>| {
        bound
            .map(|a| largest_device(a, wire, sets, feeds, book))
            .transpose()
    };
    let low = at(ampacity.low)?;
    let high = if ampacity.high == ampacity.low {
        low.clone()
    } else {
        at(ampacity.high)?
    };
    let found = Found {
        low: low.as_ref().map(|l| l.device),
        high: high.as_ref().map(|l| l.device),
        missing: ampacity.missing.clone(),
    };
    Ok((found, low.or(high)))
}
