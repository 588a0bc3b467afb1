//! The demo jobs that an empty folder begins with: a made-up county, made-up customers, invented prices.
//! Prices are worked out by the engine; stage and next date are made up, counted from today.

use std::time::{SystemTime, UNIX_EPOCH};

use model::{Date, Dollars, JobFile};
use serde_json::{Value, json};
use store::{Card, Change, Edit, Moment, PriceRange, Stage};

use super::answers::answer;
use crate::commands::papers::today;

/// Text, stage, days until the next date. The last one is listed first.
const JOBS: [(&str, Stage, Option<u64>); 6] = [
    (
        include_str!("../../../../../examples/apartment-208.toml"),
        Stage::Offer,
        Some(12),
    ),
    (
        include_str!("../../../../../examples/swap-clean.toml"),
        Stage::CutOver,
        Some(1),
    ),
    (
        include_str!("../../../../../examples/workshop-three-wire.toml"),
        Stage::Signed,
        None,
    ),
    (
        include_str!("../../../../../examples/three-level-service.toml"),
        Stage::Permit,
        Some(5),
    ),
    (
        include_str!("../../../../../examples/big-house-42.toml"),
        Stage::Offer,
        Some(3),
    ),
    (
        include_str!("../../../../../examples/ranch-subpanel.toml"),
        Stage::WalkThrough,
        Some(7),
    ),
];

/// All of them. One that does not read would be left out; a test holds that none is.
pub(super) fn jobs() -> Vec<Edit> {
    let now = SystemTime::now()
        .duration_since(UNIX_EPOCH)
        .map_or(0, |d| d.as_millis());
    let now = i64::try_from(now).unwrap_or(i64::MAX);
    let at = (now - JOBS.len() as i64..).map(Moment);
    JOBS.iter()
        .zip(at)
        .filter_map(|((text, stage, days), at)| {
            let next = days.map(|days| today().later(days));
            Some(Edit {
                change: Change {
                    at,
                    by: "Lugwright".to_owned(),
                    note: "Demo job".to_owned(),
                },
                card: card(text, *stage, next)?,
                text: (*text).to_owned(),
            })
        })
        .collect()
}

fn card(text: &str, stage: Stage, next_date: Option<Date>) -> Option<Card> {
    let file = JobFile::read(text).ok()?;
    let place = &file.job.place;
    let parts = [&place.address, &place.city, &place.state];
    let parts: Vec<&str> = parts.into_iter().map(String::as_str).collect();
    Some(Card {
        title: file.job.title.clone(),
        address: parts
            .into_iter()
            .filter(|p| !p.is_empty())
            .collect::<Vec<_>>()
            .join(", "),
        customer: place.customer.clone(),
        stage,
        next_date,
        price: price(text),
    })
}

/// The price of the whole job; `None` where something in it has no price yet, since less than the whole is no price.
fn price(text: &str) -> Option<PriceRange> {
    let price = answer("price", text, json!({ "customer": true })).ok()?;
    let total = &price["total"];
    let dollars = |value: &Value| Dollars::from_amount(value.as_f64()?);
    if let Some(exact) = dollars(&total["exact"]) {
        return Some(PriceRange {
            low: exact,
            high: exact,
        });
    }
    let between = &total["between"];
    Some(PriceRange {
        low: dollars(&between["low"])?,
        high: dollars(&between["high"])?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_demo_job_reads_and_the_main_one_comes_last() {
        let all = jobs();
        assert_eq!(all.len(), JOBS.len());
        assert!(all.iter().all(|e| !e.card.address.is_empty()));
        assert!(
            all.windows(2)
                .all(|two| two[0].change.at < two[1].change.at)
        );
        let last = &all[JOBS.len() - 1].card;
        assert!(last.title.contains("Closet subpanel"), "{}", last.title);
        let price = last.price.unwrap();
        assert!(price.low < price.high);
    }
}
