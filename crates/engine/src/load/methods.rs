//! Every method that can be run on one dwelling or building, and which of them to build on.
//! NFPA 70 Article 220 (2014-2023), Article 120 (2026); the order of preference is the trade's. Outcomes out.

use model::house::{Load, MeasuredDemand};
use rulebook::tables::TablesIn;
use serde::Serialize;

use super::input::{Dwelling, Occasion, Share, Units};
use super::outcome::{Method, Outcome, Standing};
use super::{existing, measured, multifamily, optional, parts, standard};
use crate::worksheet::Text;

/// Every method run, and the one to build on.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Comparison {
    /// One outcome for each method, standard first.
    pub outcomes: Vec<Outcome>,
    /// The method to build on.
    pub recommended: Method,
    /// Why that one.
    pub why: Text,
    /// Readings that were taken where a sentence can be read in two ways.
    pub readings: Vec<Text>,
}

impl Comparison {
    /// The outcome of one method, if it was run.
    #[must_use]
    pub fn outcome(&self, method: Method) -> Option<&Outcome> {
        self.outcomes.iter().find(|o| o.method == method)
    }

    /// The outcome to build on.
    #[must_use]
    pub fn recommended(&self) -> Option<&Outcome> {
        self.outcome(self.recommended)
    }
}

/// Runs every method on one dwelling. A feeder to part of it has the standard calculation only.
#[must_use]
pub fn all_methods(
    dwelling: &Dwelling,
    record: Option<&MeasuredDemand>,
    book: &TablesIn<'_>,
) -> Comparison {
    let units = [Units {
        count: 1,
        unit: dwelling,
    }];
    let parts = parts::parts(&units, &[], book);
    let mut outcomes = vec![standard::from_parts(&parts, &units, book)];
    if dwelling.share == Share::PartFeeder {
        return compare(
            outcomes,
            &[],
            "the feeder carries part of the dwelling: the standard calculation is the only one",
            dwelling,
        );
    }
    outcomes.push(optional::from_parts(&parts, dwelling, book));
    outcomes.push(existing::from_parts(&parts, dwelling, book));
    if let Some(record) = record {
        outcomes.push(measured::from_parts(&parts, dwelling, record, book));
    }
    let (order, why): (&[Method], _) = match dwelling.occasion {
        Occasion::New => (
            &[Method::Optional],
            "a new dwelling: the optional calculation where its conditions are met",
        ),
        Occasion::Replacement => (
            &[Method::Measured, Method::Optional, Method::Existing],
            "equipment replaced like new: a valid record first, then the optional calculation",
        ),
        Occasion::Existing => (
            &[Method::Measured, Method::Existing, Method::Optional],
            "an existing dwelling: a valid record first, then the calculation for added load",
        ),
    };
    compare(outcomes, order, why, dwelling)
}

/// Runs every method on several dwelling units with their house loads.
#[must_use]
pub fn all_methods_of(units: &[Units<'_>], house: &[Load], book: &TablesIn<'_>) -> Comparison {
    let nobody = Dwelling::default();
    let first = units.first().map_or(&nobody, |g| g.unit);
    let mut outcomes = vec![standard::standard_of(units, house, book)];
    outcomes.push(multifamily::multifamily(units, house, book));
    let pair = match units {
        [two] if two.count == 2 => Some([two.unit, two.unit]),
        [a, b] if a.count == 1 && b.count == 1 => Some([a.unit, b.unit]),
        _ => None,
    };
    if let (Some(pair), true) = (pair, house.is_empty()) {
        outcomes.push(multifamily::two_family(pair, book));
    }
    compare(
        outcomes,
        &[Method::TwoFamily, Method::Multifamily],
        "several dwelling units: the optional calculation where its conditions are met",
        first,
    )
}

/// The first of the order that applies and can be told; the standard calculation where none does.
fn compare(outcomes: Vec<Outcome>, order: &[Method], why: &str, dwelling: &Dwelling) -> Comparison {
    let mut passed_over = Vec::new();
    let mut recommended = Method::Standard;
    for method in order {
        let Some(outcome) = outcomes.iter().find(|o| o.method == *method) else {
            continue;
        };
        match reason_against(outcome) {
            None => {
                recommended = *method;
                break;
            }
            Some(reason) => passed_over.push(format!("{method}: {reason}")),
        }
    }
    let why = if passed_over.is_empty() {
        why.to_owned()
    } else {
        format!("{why}; passed over: {}", passed_over.join("; "))
    };
    Comparison {
        outcomes,
        recommended,
        why: why.into(),
        readings: dwelling.readings.in_words(),
    }
}

fn reason_against(outcome: &Outcome) -> Option<String> {
    match &outcome.standing {
        Standing::DoesNotApply(why) => Some(why.join(", ")),
        Standing::CannotTell(why) => Some(format!("cannot tell until known: {}", why.join(", "))),
        Standing::Applies if outcome.demand.exact().is_none() => Some(format!(
            "cannot tell until known: {}",
            outcome.demand.missing_text()
        )),
        Standing::Applies => None,
    }
}
