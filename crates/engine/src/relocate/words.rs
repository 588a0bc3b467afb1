//! A cliff in words: where it is, what happens there, what it adds.
//! Source: the cliff. Lengths as a tape reads them, US dollars.

use std::fmt::Write;

use model::Dollars;
use model::house::{House, Point};
use model::units::Inches;

use super::cliff::Step;
use super::{Candidate, Span, tape};

/// The cliff in words, for example `past 5 ft 8 in to the right of the old place: 11 circuits cross 6 ft: ...: +$640 to +$890`.
pub(super) fn words(
    at: Inches,
    to_the_right: bool,
    steps: &[Step],
    adds: Span<Dollars>,
    from: &Candidate,
    old: Old<'_>,
) -> String {
    let mut words = format!("past {}", where_is(at, to_the_right, from, old));
    // What nobody can tell and what moves no price is left to the list.
    let open = adds.low != adds.high;
    let told = |s: &&Step| !matches!(s, Step::Asked { places, .. } if places.low == 0 && !open);
    let mut parts: Vec<String> = steps.iter().filter(told).map(part).collect();
    if parts.is_empty() {
        parts = steps.iter().map(part).collect();
    }
    let _ = write!(words, ": {}", parts.join("; "));
    let only_refused = steps.iter().all(|s| matches!(s, Step::Refused { .. }));
    if !only_refused {
        let _ = write!(words, ": {}", signed(adds));
    }
    words
}

fn part(step: &Step) -> String {
    match step {
        Step::CrossLimit { circuits, limit } => {
            let verb = if *circuits == 1 { "crosses" } else { "cross" };
            format!("{} {verb} {}", circuits_are(*circuits), tape(*limit))
        }
        Step::Lengthened { circuits } => {
            let verbs = if *circuits == 1 {
                "no longer reaches and is lengthened"
            } else {
                "no longer reach and are lengthened"
            };
            format!("{} {verbs}", circuits_are(*circuits))
        }
        Step::Asked {
            title,
            section,
            sort,
            places,
            ..
        } => {
            let things = if places.high == 1 {
                (*sort).to_owned()
            } else {
                format!("{sort}s")
            };
            let at = match (places.low, places.high) {
                (low, high) if low == high => format!("at {low} {things}"),
                (0, high) => format!("perhaps at {high} {things}"),
                (low, high) => format!("at {low} to {high} {things}"),
            };
            format!("{} ({section}) {at}", lower(title))
        }
        Step::LeavesOldPlace => "the panel leaves its place, and the old cabinet goes".to_owned(),
        Step::FeederTooShort { feeder } => format!("feeder {feeder} no longer reaches"),
        Step::Refused { why, section } if section.is_empty() => format!("no panel: {}", lower(why)),
        Step::Refused { why, section } => format!("no panel: {} ({section})", lower(why)),
    }
}

/// A title within a sentence.
fn lower(title: &str) -> String {
    let mut letters = title.chars();
    let second_is_capital = title.chars().nth(1).is_some_and(char::is_uppercase);
    match letters.next() {
        Some(first) if !second_is_capital => first.to_lowercase().chain(letters).collect(),
        _ => title.to_owned(),
    }
}

/// The old place, and the house it is in.
#[derive(Clone, Copy)]
pub(super) struct Old<'a> {
    pub(super) at: Option<&'a Point>,
    pub(super) house: &'a House,
}

/// A place in words: from the old place where that is on the same wall, else along the wall and, where that is known, along framing.
fn where_is(at: Inches, to_the_right: bool, from: &Candidate, old: Old<'_>) -> String {
    let side = if to_the_right {
        "rightwards"
    } else {
        "leftwards"
    };
    match old.at {
        Some(old) if old.wall == from.at.wall && old.x == at => format!("the old place {side}"),
        Some(old) if old.wall == from.at.wall => {
            let right = if at > old.x { "right" } else { "left" };
            let by = tape((at - old.x).abs());
            let back = if (at > old.x) == to_the_right {
                String::new()
            } else {
                format!(", {side}")
            };
            format!("{by} to the {right} of the old place{back}")
        }
        other => {
            let mut here = from.at.clone();
            here.x = at;
            let path = other.and_then(|o| old.house.path(o, &here));
            let path = path.map_or(String::new(), |p| {
                format!(" ({} along framing from the old place)", tape(p))
            });
            format!("{} along the wall{path}, {side}", tape(at))
        }
    }
}

fn circuits_are(count: u32) -> String {
    match count {
        1 => "1 circuit".to_owned(),
        more => format!("{more} circuits"),
    }
}

/// An amount that is added, with its sign; a range where both ends differ.
#[must_use]
pub fn signed(adds: Span<Dollars>) -> String {
    let one = |d: Dollars| {
        if d < Dollars::ZERO {
            d.to_string()
        } else {
            format!("+{d}")
        }
    };
    if adds.low == adds.high {
        one(adds.low)
    } else {
        format!("{} to {}", one(adds.low), one(adds.high))
    }
}
