//! Is a panelboard's bus large enough for its main and the sources that feed into it?
//! Source: NFPA 70 705.12 by edition (the rule for bus connections), factors from the tables. Amperes.

use model::Fact;
use model::units::Amperes;
use rulebook::NoValue;
use rulebook::tables::{Subject, TablesIn, limit};
use serde::Serialize;

use crate::conductor::Verdict;
use crate::worksheet::{Line, Text, Worksheet};

/// A bus with power sources on it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Bus {
    /// Stable name, for the worksheet.
    pub id: String,
    /// Rating of the bus.
    pub rating: Fact<Amperes>,
    /// Rating of the device that protects the bus from the utility side.
    pub main: Fact<Amperes>,
    /// Continuous output current of all inverters that feed the bus.
    pub inverter_output: Fact<Amperes>,
    /// Their breakers sit at the end of the bus opposite the main.
    pub at_opposite_end: Fact<bool>,
    /// Sum of all breakers on the bus, loads and sources, without the main.
    pub sum_of_breakers: Fact<Amperes>,
    /// The main feeds the bus at its centre.
    pub center_fed: Fact<bool>,
}

/// One way of meeting the rule.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Way {
    /// In words.
    pub name: &'static str,
    /// Does it hold?
    pub verdict: Verdict,
}

/// Outcome for a bus.
#[derive(Clone, Debug, PartialEq)]
pub struct BusCheck {
    /// Steps.
    pub worksheet: Worksheet,
    /// Every way that is covered here.
    pub ways: Vec<Way>,
    /// Source current that the 120 % way leaves room for, at the factor already applied.
    pub room: Option<Amperes>,
    /// At least one way holds.
    pub verdict: Verdict,
}

/// Checks the ways of 705.12 that rest on ratings: the sum, the share with the opposite end, the sum of breakers.
/// Buses fed at the centre, buses with several ampacities, power control systems and engineered solutions are not covered.
#[must_use]
pub fn bus_check(bus: &Bus, book: &TablesIn<'_>) -> BusCheck {
    let mut worksheet = Worksheet::new(
        format!("{}.busbar", bus.id),
        "Power sources on the bus",
        book.edition(),
    );
    match ways(bus, book, &mut worksheet) {
        Ok((ways, room)) => {
            let verdict = ways
                .iter()
                .map(|w| w.verdict)
                .reduce(Verdict::or)
                .unwrap_or(Verdict::CannotTell);
            let verdict = outcome(bus, verdict, &mut worksheet, book);
            BusCheck {
                worksheet,
                ways,
                room,
                verdict,
            }
        }
        Err(why) => {
            worksheet.push(Line::no_value("Bus is large enough", &why));
            BusCheck {
                worksheet,
                ways: Vec::new(),
                room: None,
                verdict: Verdict::CannotTell,
            }
        }
    }
}

fn ways(
    bus: &Bus,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<(Vec<Way>, Option<Amperes>), NoValue> {
    let output = book.limit(limit::BUSBAR_SOURCE_FACTOR)?;
    let share = book.limit(limit::BUSBAR_SHARE)?;
    let cite = book.cite(Subject::Busbar);
    let source = bus.inverter_output.map(|a| *a * output.value.factor());
    if let (Some(current), Some(counted)) = (bus.inverter_output.get(), source.get()) {
        sheet.push(
            Line::number("Source current that counts", counted)
                .how("inverter output current x factor")
                .input("inverter output", current)
                .input("factor", output.value)
                .checked(output.check)
                .cite(cite.clone()),
        );
    }
    let both = source
        .get()
        .zip(bus.main.get())
        .map(|(source, main)| source + main);
    let limit = bus.rating.get().map(|rating| rating * share.value.factor());
    let unknown: Vec<&str> = [
        (source.is_unknown(), "inverter output current"),
        (bus.main.is_unknown(), "rating of the main"),
        (bus.rating.is_unknown(), "rating of the bus"),
    ]
    .into_iter()
    .filter_map(|(unknown, what)| unknown.then_some(what))
    .collect();

    let at_most = |value: Option<Amperes>, limit: Option<Amperes>| match (value, limit) {
        (Some(value), Some(limit)) => Verdict::from_bool(value <= limit),
        _ => Verdict::CannotTell,
    };
    let sum = at_most(both, bus.rating.get());
    let opposite = match bus.at_opposite_end.get() {
        Some(true) => Verdict::Pass,
        Some(false) => Verdict::Fail,
        None => Verdict::CannotTell,
    };
    // A bus fed at its centre has no opposite end; its own rule is not covered here.
    let opposite = if bus.center_fed.get() == Some(true) {
        Verdict::Fail
    } else {
        opposite
    };
    let room_there = at_most(both, limit);
    let by_share = room_there.and(opposite);
    let by_breakers = at_most(bus.sum_of_breakers.get(), bus.rating.get());

    push(
        sheet,
        "Source and main within the rating of the bus",
        sum,
        &unknown,
        both,
        bus.rating.get(),
        &cite,
    );
    let mut lacks = unknown.clone();
    if bus.at_opposite_end.is_unknown() && room_there != Verdict::Fail {
        lacks.push("whether the source's breaker sits at the end opposite the main");
    }
    push(
        sheet,
        "Source and main within the larger share of the bus, at opposite ends",
        by_share,
        &lacks,
        both,
        limit,
        &cite,
    );
    let lacks: Vec<&str> = [
        (
            bus.sum_of_breakers.is_unknown(),
            "sum of all breakers on the bus, without the main",
        ),
        (bus.rating.is_unknown(), "rating of the bus"),
    ]
    .into_iter()
    .filter_map(|(unknown, what)| unknown.then_some(what))
    .collect();
    push(
        sheet,
        "All breakers without the main within the rating of the bus",
        by_breakers,
        &lacks,
        bus.sum_of_breakers.get(),
        bus.rating.get(),
        &cite,
    );

    let room = limit
        .zip(bus.main.get())
        .map(|(limit, main)| (limit - main).max(Amperes::ZERO));
    if let Some(room) = room {
        sheet.push(
            Line::number("Room for source current at the opposite end", room)
                .how("share x rating of the bus - main; compare with the source current at its factor")
                .checked(share.check)
                .cite(cite),
        );
    }
    let ways = vec![
        Way {
            name: "sum within the bus",
            verdict: sum,
        },
        Way {
            name: "larger share, opposite ends",
            verdict: by_share,
        },
        Way {
            name: "sum of breakers",
            verdict: by_breakers,
        },
    ];
    Ok((ways, room))
}

fn push(
    sheet: &mut Worksheet,
    label: &'static str,
    verdict: Verdict,
    lacks: &[&str],
    value: Option<Amperes>,
    limit: Option<Amperes>,
    cite: &rulebook::Cite,
) {
    let mut line =
        Line::new(label, verdict.value(Text::Owned(lacks.join("; ")))).cite(cite.clone());
    if let Some(value) = value {
        line = line.input("amperes", value);
    }
    if let Some(limit) = limit {
        line = line.input("limit", limit);
    }
    sheet.push(line);
}

fn outcome(bus: &Bus, verdict: Verdict, sheet: &mut Worksheet, book: &TablesIn<'_>) -> Verdict {
    let not_covered = "Not covered here: a bus fed at its centre, a bus with several ampacities, power control systems, engineered solutions.";
    // A failed check of a centre-fed bus is no failure: the rule made for it is not covered.
    let verdict = match (verdict, bus.center_fed.get()) {
        (Verdict::Fail, Some(true) | None) => Verdict::CannotTell,
        (verdict, _) => verdict,
    };
    sheet.push(
        Line::new(
            "Bus is large enough by one of these ways",
            verdict.value("the facts above, or a rule that is not covered"),
        )
        .note(not_covered)
        .cite(book.cite(Subject::Busbar)),
    );
    verdict
}
