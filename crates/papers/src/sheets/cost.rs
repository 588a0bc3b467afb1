//! The cost sheet, for the shop alone: take-off line by line, the way from cost to price, what may come on top, what is open, what is at stake.
//! Source: the price. US dollars and hours; every sum is the sum of the rows printed above it.

use engine::price::{Because, Cost, Printed};
use engine::worksheet::{Quantity, Value as SheetValue};
use model::Dollars;
use model::units::Percent;
use serde_json::{Value, json};

use super::head::head;
use super::plain;
use super::proposal::{demo_prices, money};
use crate::material::Material;
use crate::paper::Paper;
use crate::problem::Problem;
use crate::sheet::Sheet;
use crate::words::say;

/// Places named in one cell.
const PLACES: usize = 8;

pub(super) fn sheet(material: &Material<'_>) -> Result<Sheet, Problem> {
    let (price, language) = (&material.price, material.setting.language);
    if material.report.scope.is_empty() {
        return Err(Problem::Nothing {
            paper: Paper::Cost.name(),
            what: "the house is the same before and after, so there is nothing to price".to_owned(),
        });
    }
    let (low, high) = price.span();
    let (total, words) = match &price.total {
        engine::price::Amount::Exact(total) => (total.to_string(), ""),
        engine::price::Amount::Between { bound, .. } => (
            format!("{low} – {high}"),
            if *bound {
                "cost-bound"
            } else {
                "cost-exact-ends"
            },
        ),
        engine::price::Amount::Incomplete { .. } => (
            say(language, "cost-incomplete", &[]),
            "cost-incomplete-words",
        ),
    };
    Ok(Sheet {
        paper: Paper::Cost,
        setting: material.setting,
        data: json!({
            "head": head(material, "cost"),
            "total": total,
            "total_words": if words.is_empty() { String::new() } else { say(language, words, &[]) },
            "certain": price.certain.price().to_string(),
            "low": low.to_string(),
            "high": high.to_string(),
            "demo_prices": demo_prices(material).then(|| say(language, "demo-prices", &[])),
            "groups": groups(material),
            "build": build(material),
            "perhaps": perhaps(material),
            "gaps": price.gaps.iter().map(|g| json!([g.what, g.advice])).collect::<Vec<_>>(),
            "plan_first": price.plan_first.iter().map(|p| json!([
                p.requirement.requirement().title,
                plain::places(material, PLACES, p.places.iter().copied()),
                p.what,
            ])).collect::<Vec<_>>(),
            "worksheet": worksheet(material),
            "questions": questions(material),
            "exposure": exposure(material),
            "options": options(material),
            "allowances": money::allowances(material),
            "payments": money::payments(material),
        }),
        drawings: Vec::new(),
        enclosed: Vec::new(),
    })
}

/// Nothing is an empty cell, so that the eye finds what is there.
fn or_blank(amount: Dollars) -> String {
    match amount {
        Dollars::ZERO => String::new(),
        amount => amount.to_string(),
    }
}

fn hours(cost: &Cost) -> String {
    let hours = cost.minutes.hours().0;
    if hours > 0.0 {
        format!("{hours:.2}")
    } else {
        String::new()
    }
}

/// Hours, material, labour, fees, price.
fn cells(cost: &Cost) -> [String; 5] {
    [
        hours(cost),
        or_blank(cost.material),
        or_blank(cost.labour),
        or_blank(cost.fees),
        cost.price().to_string(),
    ]
}

/// Each group: its reasons with their lines, and its sum.
fn groups(material: &Material<'_>) -> Value {
    let (price, language) = (&material.price, material.setting.language);
    let each = money::groups(price).into_iter().map(|(group, _)| {
        let lines: Vec<&Printed<'_>> = price.lines.iter().filter(|l| l.group == group).collect();
        let mut reasons: Vec<Because<'_>> = Vec::new();
        for line in &lines {
            if !reasons.contains(&line.because) {
                reasons.push(line.because);
            }
        }
        let reasons = reasons.into_iter().map(|reason| {
            let mine: Vec<&&Printed<'_>> = lines.iter().filter(|l| l.because == reason).collect();
            let mut at = Vec::new();
            for place in mine.iter().flat_map(|l| &l.places) {
                if !at.contains(place) {
                    at.push(*place);
                }
            }
            let rows = mine.iter().map(|l| {
                let [hours, material, labour, fees, price] = cells(&l.cost);
                json!([l.text, format!("{} {}", l.count, l.unit), hours, material, labour, fees, price])
            });
            json!({
                "why": reason.text(),
                "where": plain::places(material, PLACES, at),
                "rows": rows.collect::<Vec<_>>(),
            })
        });
        let reasons: Vec<Value> = reasons.collect();
        let sum: Cost = lines.iter().map(|l| l.cost).sum();
        json!({ "title": say(language, money::group(group), &[]), "reasons": reasons, "sum": cells(&sum) })
    });
    each.collect()
}

/// Each group's way from cost to price, and the sum of all.
fn build(material: &Material<'_>) -> Value {
    let (price, language) = (&material.price, material.setting.language);
    let row = |title: String, cost: &Cost| {
        json!([
            title,
            cost.material.to_string(),
            cost.tax_paid.to_string(),
            cost.labour.to_string(),
            cost.fees.to_string(),
            cost.overhead.to_string(),
            cost.handling.to_string(),
            cost.contingency.to_string(),
            cost.profit.to_string(),
            cost.tax_charged.to_string(),
            cost.price().to_string(),
        ])
    };
    let mut all: Vec<Value> = Vec::new();
    for (group, _) in money::groups(price) {
        let lines = price.lines.iter().filter(|l| l.group == group);
        let sum: Cost = lines.map(|l| l.cost).sum();
        all.push(row(say(language, money::group(group), &[]), &sum));
    }
    all.push(row(say(language, "cost-certain", &[]), &price.certain));
    Value::Array(all)
}

fn perhaps(material: &Material<'_>) -> Value {
    let each = material.price.perhaps.iter().map(|p| {
        let places = plain::places(material, PLACES, p.places.iter().copied());
        json!([
            p.because.join("; "),
            places,
            p.low.to_string(),
            p.high.to_string()
        ])
    });
    each.collect()
}

fn quantity(value: &Quantity) -> String {
    match value.unit {
        "USD" => Dollars::from_amount(value.value).map_or_else(String::new, |d| d.to_string()),
        unit if unit == <Percent as model::units::Unit>::SYMBOL => format!("{:.1} %", value.value),
        unit => format!("{:.2} {unit}", value.value),
    }
}

fn value(value: &SheetValue) -> String {
    match value {
        SheetValue::Number(number) => quantity(number),
        SheetValue::Text(text) | SheetValue::CannotTell(text) => text.to_string(),
        SheetValue::Passes(yes) => yes.to_string(),
    }
}

/// Lines of the way from cost to price, with markup and margin side by side.
fn worksheet(material: &Material<'_>) -> Value {
    let each = material.price.worksheet.lines.iter().map(|line| {
        let inputs = line
            .inputs
            .iter()
            .map(|i| format!("{}: {}", i.name, value(&i.value)));
        let mut how: Vec<String> = vec![line.how.to_string()];
        how.extend(inputs);
        how.retain(|h| !h.is_empty());
        json!([line.label, value(&line.value), how.join("; ")])
    });
    each.collect()
}

fn questions(material: &Material<'_>) -> Value {
    let each = material.price.questions.iter().map(|q| {
        let at = q.places.iter().map(|(place, ..)| *place);
        json!([
            q.text,
            q.name,
            plain::places(material, PLACES, at),
            q.swing.to_string()
        ])
    });
    each.collect()
}

fn exposure(material: &Material<'_>) -> Value {
    let language = material.setting.language;
    let each = material.price.exposure.iter().map(|e| {
        json!([
            e.title,
            plain::told(language, &e.section),
            plain::places(material, PLACES, e.places.iter().copied()),
            e.work.to_string(),
            e.trip.to_string(),
            (e.work + e.trip).to_string(),
        ])
    });
    each.collect()
}

fn options(material: &Material<'_>) -> Value {
    let language = material.setting.language;
    let each = material.price.options.iter().map(|o| {
        let not_with = money::not_with(material, o);
        let title = [o.title.as_str(), &not_with].map(str::to_owned);
        let cost = o
            .adds
            .map_or_else(String::new, |c| or_blank(c.before_profit()));
        json!([
            title
                .iter()
                .filter(|t| !t.is_empty())
                .cloned()
                .collect::<Vec<_>>()
                .join("; "),
            o.name,
            money::asked_by(language, o),
            cost,
            money::adds(language, o),
        ])
    });
    each.collect()
}
