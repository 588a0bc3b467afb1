//! When is which part of the price paid, within what the state allows?
//! Source: the shop's wishes in `rates.csv`, the state's terms in `terms.csv`, published and to be verified. US dollars.

use model::Dollars;
use serde::Serialize;
use shop::offer::{Term, TermKind};

use super::cost::Pricer;
use super::offer::Amount;
use crate::check::Report;

/// The payments, and what the state says.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Payments<'a> {
    /// One schedule for each end of the price; none while the total is incomplete.
    pub schedules: Vec<Schedule>,
    /// What the book knows of the job's state.
    pub terms: Vec<&'a Term>,
    /// Days that the offer holds.
    pub valid_days: shop::Count,
}

/// Payments that add up to a price.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "PaymentSchedule")]
pub struct Schedule {
    /// The price.
    pub price: Dollars,
    /// On signing: the shop's wish, or the state's cap where that is less.
    pub on_signing: Dollars,
    /// Once the new panel is energized.
    pub on_energizing: Dollars,
    /// After the final inspection.
    pub after_inspection: Dollars,
    /// The state's cap on the first payment, where the book has one.
    pub cap: Option<Dollars>,
}

pub(super) fn payments<'a>(
    report: &Report<'_>,
    pricer: &Pricer<'a>,
    total: &Amount,
) -> Payments<'a> {
    let state = report.job.place.state.as_str();
    let of_state = |t: &&Term| t.state == state;
    let terms: Vec<&'a Term> = pricer.book.terms.iter().filter(of_state).collect();
    let prices = match total {
        Amount::Exact(price) => vec![*price],
        Amount::Between { low, high, .. } => vec![*low, *high],
        Amount::Incomplete { .. } => Vec::new(),
    };
    let schedules = prices
        .into_iter()
        .map(|price| schedule(price, &terms, pricer));
    Payments {
        schedules: schedules.collect(),
        valid_days: pricer.rates.valid_days(),
        terms,
    }
}

/// The middle payment is what is left, so that the three always add up to the price.
fn schedule(price: Dollars, terms: &[&Term], pricer: &Pricer<'_>) -> Schedule {
    let caps = terms.iter().filter(|t| t.kind == TermKind::DepositCap);
    let cap = caps.filter_map(|t| t.cap(price)).min();
    let wish = pricer.rates.deposit().of(price);
    let on_signing = cap.map_or(wish, |cap| wish.min(cap));
    let after_inspection = pricer.rates.holdback().of(price).min(price - on_signing);
    Schedule {
        price,
        on_signing,
        on_energizing: price - on_signing - after_inspection,
        after_inspection,
        cap,
    }
}
