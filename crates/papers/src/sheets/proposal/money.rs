//! The money of a proposal: price and range, what would settle it, options, unit prices, payments, validity.
//! Source: the price. US dollars at the customer's price; totals are sums of the printed rows.

use engine::price::offer::PricedQuestion;
use engine::price::{Amount, Group, Offered, Price};
use model::Dollars;
use serde_json::{Value, json};
use shop::AskedBy;
use shop::offer::{Term, TermKind};

use super::PLACES;
use crate::material::{Language, Material};
use crate::sheets::plain;
use crate::words::say;

/// Groups of a price with what each comes to, certain lines only.
pub(in crate::sheets) fn groups(price: &Price<'_>) -> Vec<(Group, Dollars)> {
    let mut all: Vec<(Group, Dollars)> = Vec::new();
    for line in &price.lines {
        let more = line.cost.price();
        match all.iter_mut().find(|(g, _)| *g == line.group) {
            Some((_, sum)) => *sum += more,
            None => all.push((line.group, more)),
        }
    }
    all
}

/// Name of a group in the catalogue.
pub(in crate::sheets) const fn group(group: Group) -> &'static str {
    match group {
        Group::Boards => "group-boards",
        Group::Feeders => "group-feeders",
        Group::Circuits => "group-circuits",
        Group::Breakers => "group-breakers",
        Group::Required => "group-required",
        Group::SafetyAndTests => "group-safety",
        Group::Permit => "group-permit",
        Group::Options => "group-options",
    }
}

/// Rows of the price table, its total, and the questions behind a range.
pub(super) fn price(material: &Material<'_>) -> Value {
    let (price, language) = (&material.price, material.setting.language);
    let (low, high) = price.span();
    let certain = price.certain.price();
    let mut rows: Vec<Value> = groups(price)
        .into_iter()
        .map(|(g, sum)| {
            json!([
                say(language, group(g), &[]),
                sum.to_string(),
                sum.to_string()
            ])
        })
        .collect();
    if !price.perhaps.is_empty() {
        let open = say(language, "price-open", &[]);
        rows.push(json!([
            open,
            (low - certain).to_string(),
            (high - certain).to_string()
        ]));
    }
    let (kind, words) = match &price.total {
        Amount::Exact(total) => (
            "exact",
            say(language, "price-exact", &[("price", &total.to_string())]),
        ),
        Amount::Between { bound, .. } => {
            let name = if *bound {
                "price-bound"
            } else {
                "price-between"
            };
            let ends = (low.to_string(), high.to_string());
            (
                "between",
                say(language, name, &[("low", &ends.0), ("high", &ends.1)]),
            )
        }
        Amount::Incomplete { .. } => ("incomplete", say(language, "price-incomplete", &[])),
    };
    let questions = price.questions.iter().map(|q: &PricedQuestion<'_>| {
        let at = q.places.iter().map(|(place, ..)| *place);
        json!([
            q.text,
            plain::places(material, PLACES, at),
            q.swing.to_string()
        ])
    });
    json!({
        "kind": kind,
        "words": words,
        "rows": rows,
        "low": low.to_string(),
        "high": high.to_string(),
        "questions": questions.collect::<Vec<_>>(),
    })
}

/// Who asks for an option, in words.
pub(in crate::sheets) fn asked_by(language: Language, option: &Offered) -> String {
    match (option.asked_by, option.perhaps_code) {
        (AskedBy::Code, _) => say(language, "asked-code", &[("section", &option.section)]),
        (_, true) => say(language, "asked-perhaps", &[("section", &option.section)]),
        (AskedBy::Insurer, _) => say(language, "asked-insurer", &[]),
        (AskedBy::Wish, _) => say(language, "asked-wish", &[]),
    }
}

/// What an option adds, in words.
pub(in crate::sheets) fn adds(language: Language, option: &Offered) -> String {
    match (option.asked_by, option.adds, option.chosen) {
        (AskedBy::Code, ..) => say(language, "in-the-price", &[]),
        (_, None, _) => say(language, "not-priced", &[]),
        (_, Some(cost), true) => say(
            language,
            "adds-chosen",
            &[("price", &cost.price().to_string())],
        ),
        (_, Some(cost), false) => format!("+{}", cost.price()),
    }
}

/// Titles of the options that one cannot go with.
pub(in crate::sheets) fn not_with(material: &Material<'_>, option: &Offered) -> String {
    let all = &material.price.options;
    let titles = option.excludes.iter().map(|name| {
        let other = all.iter().find(|o| o.name == *name);
        other.map_or(name.as_str(), |o| o.title.as_str())
    });
    let titles: Vec<&str> = titles.collect();
    if titles.is_empty() {
        return String::new();
    }
    let language = material.setting.language;
    say(language, "not-together", &[("others", &titles.join(", "))])
}

pub(super) fn options(material: &Material<'_>) -> Value {
    let language = material.setting.language;
    let each = material.price.options.iter().map(|o| {
        let state = match (o.asked_by, o.chosen) {
            (AskedBy::Code, _) => "code",
            (_, true) => "chosen",
            (_, false) => "open",
        };
        json!({
            "title": o.title,
            "asked": asked_by(language, o),
            "adds": adds(language, o),
            "state": state,
            "not_with": not_with(material, o),
            "note": o.note,
        })
    });
    each.collect()
}

pub(in crate::sheets) fn allowances(material: &Material<'_>) -> Value {
    let language = material.setting.language;
    let each = material.price.allowances.iter().map(|a| {
        let price = a
            .price
            .map_or_else(|| say(language, "not-priced", &[]), |p| p.to_string());
        let likely = a.likely.iter().map(|id| plain::circuit(material, id));
        json!([
            a.what,
            price,
            a.unit,
            plain::first(language, PLACES, likely)
        ])
    });
    each.collect()
}

/// Payments, what the state says about them, and until when the offer holds.
pub(in crate::sheets) fn payments(material: &Material<'_>) -> Value {
    let (payments, language) = (&material.price.payments, material.setting.language);
    let rows = payments.schedules.iter().map(|s| {
        let cap = s
            .cap
            .map_or_else(|| say(language, "no-cap-known", &[]), |c| c.to_string());
        json!([
            s.price.to_string(),
            s.on_signing.to_string(),
            s.on_energizing.to_string(),
            s.after_inspection.to_string(),
            cap
        ])
    });
    let terms = payments
        .terms
        .iter()
        .map(|t: &&Term| json!([t.text, t.source, t.check, t.caveat]));
    let state = material.report.job.place.state.as_str();
    let cancel = payments.terms.iter().any(|t| t.kind == TermKind::Cancel);
    // A part of a day holds no longer than the day before.
    let days = (payments.valid_days.hundredths() / 100).max(0) as u64;
    let last = material.setting.date.later(days);
    json!({
        "rows": rows.collect::<Vec<_>>(),
        "terms": terms.collect::<Vec<_>>(),
        "verify": say(language, "terms-verify", &[("state", state)]),
        "no_terms": payments.terms.is_empty().then(|| say(language, "terms-none", &[("state", state)])),
        "no_cancel": (!cancel).then(|| say(language, "cancel-none", &[("state", state)])),
        "valid": say(language, "valid-until", &[("last", &last.to_string()), ("days", &payments.valid_days.to_string())]),
        "how": material.book.identity.payment,
    })
}
