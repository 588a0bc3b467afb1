//! The proposal: what the customer is offered, why the code asks for it, what it costs, what would settle the price, and how it is accepted.
//! Source: job, findings, price, cut-over. US dollars at the customer's price; cost, hours of work, overhead and margin never come in here.

pub(super) mod money;

use std::collections::BTreeMap;
use std::sync::LazyLock;

use engine::price::{Because, Gap};
use model::Dollars;
use serde_json::{Value, json};
use shop::Book;

use super::dark::dark;
use super::head::head;
use super::location::location;
use super::{plain, works};
use crate::material::Material;
use crate::paper::Paper;
use crate::problem::Problem;
use crate::sheet::Sheet;
use crate::words::say;

/// Places named in one cell.
pub(super) const PLACES: usize = 6;

pub(super) fn sheet(material: &Material<'_>) -> Result<Sheet, Problem> {
    let (job, language) = (material.report.job, material.setting.language);
    if material.report.scope.is_empty() {
        return Err(Problem::Nothing {
            paper: Paper::Proposal.name(),
            what: "the house is the same before and after, so there is nothing to offer".to_owned(),
        });
    }
    let (place, drawings) = location(material);
    let shop = &material.book.identity;
    let shop_lines = [
        &shop.name,
        &shop.licence,
        &shop.address,
        &shop.phone,
        &shop.email,
    ];
    Ok(Sheet {
        paper: Paper::Proposal,
        setting: material.setting,
        data: json!({
            "head": head(material, "proposal"),
            "shop": shop_lines.iter().filter(|l| !l.is_empty()).collect::<Vec<_>>(),
            "reason": job.reason,
            "work": works::promised(material),
            "code": code(material),
            "location": place,
            "price": money::price(material),
            "options": money::options(material),
            "allowances": money::allowances(material),
            "payments": money::payments(material),
            "exclusions": material.price.exclusions,
            "dark": dark(material),
            "warranty": shop.warranty,
            "gaps": gaps(&material.price.gaps),
            "plan_first": plan_first(material),
            "demo_prices": demo_prices(material).then(|| say(language, "demo-prices", &[])),
        }),
        drawings,
        enclosed: Vec::new(),
    })
}

/// The parts or rates are those that the program carries, which are invented.
pub(super) fn demo_prices(material: &Material<'_>) -> bool {
    static BUILT_IN: LazyLock<Option<Book>> = LazyLock::new(|| Book::built_in().ok());
    let same = |b: &Book| b.parts == material.book.parts || b.rates == material.book.rates;
    BUILT_IN.as_ref().is_some_and(same)
}

/// What the code asks for and the work pays for: each requirement once, with why, where, section, and its own part of the price.
fn code(material: &Material<'_>) -> Value {
    let (price, language) = (&material.price, material.setting.language);
    let mut own: BTreeMap<&str, Dollars> = BTreeMap::new();
    for line in &price.lines {
        if let Because::Requirement(r) = line.because {
            *own.entry(r.requirement().id.as_str()).or_default() += line.cost.price();
        }
    }
    let mut asked: Vec<_> = price.exposure.iter().collect();
    asked.sort_by_key(|e| std::cmp::Reverse(own.get(e.requirement).copied()));
    let rows = asked.iter().map(|e| {
        let bound = material.report.book.requirement(e.requirement);
        let (why, check) = bound.map_or_else(Default::default, |b| {
            let r = b.requirement();
            (r.why.clone(), r.check.to_string())
        });
        json!({
            "title": e.title,
            "why": why,
            "section": plain::told(language, &e.section),
            "check": check,
            "where": plain::places(material, PLACES, e.places.iter().copied()),
            "price": own.get(e.requirement).map_or_else(
                || say(language, "with-other-work", &[]),
                ToString::to_string,
            ),
        })
    });
    rows.collect()
}

/// What is still missing, without the advice that is the shop's own.
fn gaps(gaps: &[Gap]) -> Vec<&str> {
    gaps.iter().map(|g| g.what.as_str()).collect()
}

fn plan_first(material: &Material<'_>) -> Value {
    let each = material.price.plan_first.iter().map(|p| {
        let places = plain::places(material, PLACES, p.places.iter().copied());
        json!([p.requirement.requirement().title, places, p.what])
    });
    each.collect()
}
