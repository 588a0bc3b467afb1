//! The price, as JSON. US dollars.

use engine::price::{Price, Printed};
use serde_json::{Value, json};

/// The documented form; the customer's has no cost.
#[must_use]
pub fn of(price: &Price<'_>, customer: bool) -> Value {
    let line = |l: &Printed<'_>| {
        let mut value = json!({
            "group": l.group,
            "what": l.what,
            "text": l.text,
            "count": l.count,
            "unit": l.unit,
            "because": l.because.text(),
            "requirement": l.because.requirement(),
            "places": l.places,
            "price": l.cost.price(),
        });
        if !customer && let Value::Object(entries) = &mut value {
            entries.insert("cost".to_owned(), json!(l.cost));
        }
        value
    };
    let perhaps = price.perhaps.iter().map(|p| {
        json!({
            "because": p.because,
            "requirements": p.requirements,
            "places": p.places,
            "low": p.low,
            "high": p.high,
        })
    });
    let question = price.questions.iter().map(|q| {
        let places = q
            .places
            .iter()
            .map(|(place, path, swing)| json!({ "place": place, "answer": path, "swing": swing }));
        json!({
            "fact": q.name,
            "question": q.text,
            "swing": q.swing,
            "places": places.collect::<Vec<_>>(),
        })
    });
    let options = price.options.iter().map(|o| {
        json!({
            "option": o.name,
            "title": o.title,
            "asked_by": o.asked_by,
            "perhaps_code": o.perhaps_code,
            "section": o.section,
            "chosen": o.chosen,
            "adds": o.adds.map(|c| c.price()),
            "excludes": o.excludes,
            "note": o.note,
        })
    });
    let allowances = price
        .allowances
        .iter()
        .map(|a| json!({ "what": a.what, "unit": a.unit, "price": a.price, "likely": a.likely }));
    let mut value = json!({
        "lines": price.lines.iter().map(line).collect::<Vec<_>>(),
        "open_lines": perhaps.collect::<Vec<_>>(),
        "certain": price.certain.price(),
        "total": price.total,
        "incomplete_without": price.gaps,
        "options": options.collect::<Vec<_>>(),
        "allowances": allowances.collect::<Vec<_>>(),
        "payments": price.payments,
        "exclusions": price.exclusions,
    });
    if !customer && let Value::Object(entries) = &mut value {
        let exposure = price.exposure.iter().map(|e| {
            json!({
                "requirement": e.requirement,
                "title": e.title,
                "section": e.section,
                "places": e.places,
                "work": e.work,
                "trip": e.trip,
            })
        });
        let plan = price.plan_first.iter().map(|p| {
            json!({
                "requirement": p.requirement.requirement().id,
                "places": p.places,
                "what": p.what,
            })
        });
        entries.insert("cost".to_owned(), json!(price.certain));
        entries.insert("questions".to_owned(), question.collect());
        entries.insert("exposure".to_owned(), exposure.collect());
        entries.insert("plan_must_change".to_owned(), plan.collect());
        entries.insert("worksheet".to_owned(), json!(price.worksheet));
    }
    value
}
