//! May a conductor that carries a whole dwelling be smaller than its device?
//! Source: NFPA 70 310.15(B)(7) (2014, 2017), 310.12 (2020 on), conditions by edition. Amperes.

use model::house::System;
use model::units::{Amperes, Percent};
use model::{Fact, Wire};
use rulebook::tables::{Subject, TablesIn, flag, limit};
use rulebook::{Check, NoValue};
use serde::Serialize;

use super::ampacity::Ampacity;
use super::found::Verdict;
use super::load::steady;
use crate::worksheet::Line;

/// Where a conductor stands, as far as the dwelling rule asks.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Place {
    /// Electrical system.
    pub system: System,
    /// Carries the entire load of one dwelling unit. Read from the supply tree.
    pub carries_entire_dwelling: Fact<bool>,
    /// Service conductors; else a feeder.
    pub is_service: bool,
    /// Rating of the dwelling's service, for the disputed upper limit.
    pub service_rating: Fact<Amperes>,
}

impl Place {
    const fn subject(&self) -> Subject {
        if self.is_service {
            Subject::Dwelling83Service
        } else {
            Subject::Dwelling83Feeder
        }
    }
}

/// The edition's conditions.
struct Conditions {
    rating_from: Amperes,
    rating_to: Amperes,
    share: Percent,
    wye_feeders: bool,
    check: Check,
}

fn conditions(book: &TablesIn<'_>) -> Result<Conditions, NoValue> {
    let (from, to) = (
        book.limit(limit::DWELLING_RATING_LEAST)?,
        book.limit(limit::DWELLING_RATING_MOST)?,
    );
    let share = book.limit(limit::DWELLING_CONDUCTOR_SHARE)?;
    let wye = book.flag(flag::DWELLING_83_FEEDER_208Y120)?;
    Ok(Conditions {
        rating_from: from.value,
        rating_to: to.value,
        share: share.value,
        wye_feeders: wye.value,
        check: from.check.min(to.check).min(share.check).min(wye.check),
    })
}

/// What the rule says of one conductor.
#[derive(Clone, Debug, PartialEq)]
pub struct DwellingRule {
    /// The rule may be used here.
    pub applies: Verdict,
    /// Ampacity it asks for.
    pub needed: Amperes,
    /// The ampacity is that much.
    pub enough: Verdict,
    /// It may be used and the ampacity is enough.
    pub verdict: Verdict,
    rating: Amperes,
    why: Option<Why>,
}

/// Why the rule may not be used.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Why {
    Rating,
    System,
    PartOfDwelling,
}

/// The fact that decides, in words.
pub(super) const ENTIRE: &str = "whether the conductors carry the entire load of one dwelling unit";

/// The rule for a service or feeder of `rating`.
pub fn dwelling_rule(
    place: &Place,
    rating: Amperes,
    ampacity: &Ampacity,
    book: &TablesIn<'_>,
) -> Result<DwellingRule, NoValue> {
    let rule = conditions(book)?;
    let system_fits = match place.system {
        System::SinglePhase120_240 => true,
        System::TwoLegs208Y120 => rule.wye_feeders && !place.is_service,
    };
    let entire = place.carries_entire_dwelling.get();
    let why = if rating < rule.rating_from || rating > rule.rating_to {
        Some(Why::Rating)
    } else if !system_fits {
        Some(Why::System)
    } else if entire == Some(false) {
        Some(Why::PartOfDwelling)
    } else {
        None
    };
    let applies = match (why, entire) {
        (Some(_), _) => Verdict::Fail,
        (None, Some(_)) => Verdict::Pass,
        (None, None) => Verdict::CannotTell,
    };
    let needed = steady(rating * rule.share.factor());
    let enough = ampacity.value.at_least(needed);
    let verdict = applies.and(enough);
    Ok(DwellingRule {
        applies,
        needed,
        enough,
        verdict,
        rating,
        why,
    })
}

/// The steps as worksheet lines.
pub fn lines(
    found: &DwellingRule,
    place: &Place,
    wire: Option<Wire>,
    ampacity: &Ampacity,
    book: &TablesIn<'_>,
) -> Result<Vec<Line>, NoValue> {
    let rule = conditions(book)?;
    let mut lines = vec![may_be_used(found, place, &rule, book)];
    if found.applies != Verdict::Fail {
        lines.push(
            Line::number("Ampacity the dwelling rule asks for", found.needed)
                .how("rating x share")
                .input("rating", found.rating)
                .input("share", rule.share)
                .checked(rule.check)
                .cite(book.cite(place.subject())),
        );
        let enough = found.enough.value(ampacity.value.why());
        lines.push(Line::new("Ampacity meets the dwelling rule", enough).how(
            "ampacity after correction, adjustment and caps, against the share of the rating",
        ));
        lines.extend(wire.and_then(|wire| table_reading(found, wire, ampacity, book)));
    }
    lines.extend(upper_limit_reading(
        found, place, rule.share, ampacity, book,
    ));
    Ok(lines)
}

fn may_be_used(
    found: &DwellingRule,
    place: &Place,
    rule: &Conditions,
    book: &TablesIn<'_>,
) -> Line {
    let label = "Dwelling rule may be used";
    let line = match found.applies {
        Verdict::Pass => Line::text(label, "yes")
            .note("These conductors carry the entire load of one dwelling unit."),
        Verdict::Fail => Line::text(label, "no"),
        Verdict::CannotTell => Line::cannot_tell(label, ENTIRE),
    };
    let line = match found.why {
        None => line,
        Some(Why::System) => line.note("The edition does not allow it on this system."),
        Some(Why::PartOfDwelling) => {
            line.note("These conductors do not carry the entire load of one dwelling unit.")
        }
        Some(Why::Rating) => line.note(format!(
            "The rating is outside {} to {}.",
            rule.rating_from, rule.rating_to
        )),
    };
    line.input("rating", found.rating)
        .checked(rule.check)
        .cite(book.cite(place.subject()))
}

/// The sizes printed in the edition's table, which differ from the share only where a 60 C limit applies.
fn table_reading(
    found: &DwellingRule,
    wire: Wire,
    ampacity: &Ampacity,
    book: &TablesIn<'_>,
) -> Option<Line> {
    let size = book.dwelling_conductor(found.rating, wire.material).ok()?;
    let words = format!("{} {}", size.value, wire.material);
    let line = Line::text("Size in the dwelling table", words).source(&size);
    if ampacity.is_plain != Some(true) {
        return Some(line.note(
            "The table is for conductors that need neither correction nor adjustment; the share of the rating decides.",
        ));
    }
    if wire.size < size.value || found.enough != Verdict::Fail {
        return Some(line);
    }
    Some(line.note(if book.flag(flag::DWELLING_TABLE_NEEDS_75C).is_ok_and(|needs| needs.value) {
        "The table is for conductors rated 75 C or more; this one is limited to 60 C, so the share of the rating decides."
    } else {
        "Two readings: by the table this size is enough; by its ampacity, limited to 60 C, it is not. The safer is taken."
    }))
}

/// The disputed sentence that a feeder of a dwelling need never exceed the service's own share.
fn upper_limit_reading(
    found: &DwellingRule,
    place: &Place,
    share: Percent,
    ampacity: &Ampacity,
    book: &TablesIn<'_>,
) -> Option<Line> {
    let service = place.service_rating.get()?;
    if place.is_service || found.applies == Verdict::Pass {
        return None;
    }
    let cap = steady(service * share.factor());
    let says = match ampacity.value.at_least(cap) {
        Verdict::Pass => "These conductors reach it.",
        Verdict::Fail => "These conductors do not reach it.",
        Verdict::CannotTell => "Whether these conductors reach it cannot be told yet.",
    };
    Some(
        Line::number("Upper limit for feeders of the dwelling, disputed", cap)
            .how("service rating x share")
            .input("service rating", service)
            .input("share", share)
            .input("rating of this feeder", found.rating)
            .cite(book.cite(Subject::Dwelling83Cap))
            .note(format!(
                "One reading lets any feeder of a dwelling stop at this ampacity; another asks for the full rating of its \
                 device. {says} Not used for the verdict: ask the authority having jurisdiction."
            )),
    )
}
