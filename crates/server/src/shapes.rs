//! How jobs look as JSON. Times in milliseconds since 1970 UTC, money in US dollars, days as year-month-day.

use axum::Json;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde_json::{Map, Value, json};
use store::{Entry, Job, Listed, PriceRange, Revision};

pub(crate) fn listed(job: &Listed) -> Value {
    let card = &job.card;
    json!({
        "id": job.id.as_str(),
        "revision": job.revision,
        "title": card.title,
        "address": card.address,
        "customer": card.customer,
        "stage": card.stage.word(),
        "next_date": card.next_date.map(|d| d.to_string()),
        "price": price(card.price),
        "updated_at": job.updated_at.0,
        "removed": job.is_removed,
    })
}

pub(crate) fn job(job: &Job) -> Value {
    with_text(listed(&job.listed), &job.text)
}

pub(crate) fn entry(entry: &Entry) -> Value {
    json!({
        "number": entry.number,
        "at": entry.change.at.0,
        "by": entry.change.by,
        "note": entry.change.note,
        "title": entry.title,
        "price": price(entry.price),
    })
}

pub(crate) fn revision(revision: &Revision) -> Value {
    with_text(entry(&revision.entry), &revision.text)
}

/// The body with the revision as its tag, ready for the next `If-Match`.
pub(crate) fn tagged(status: StatusCode, revision: u32, body: Value) -> Response {
    let mut response = (status, Json(body)).into_response();
    if let Ok(tag) = HeaderValue::try_from(format!("\"{revision}\"")) {
        response.headers_mut().insert(header::ETAG, tag);
    }
    response
}

fn with_text(value: Value, text: &str) -> Value {
    let mut map = match value {
        Value::Object(map) => map,
        _ => Map::new(),
    };
    map.insert("text".to_owned(), json!(text));
    Value::Object(map)
}

fn price(range: Option<PriceRange>) -> Value {
    range.map_or(Value::Null, |r| json!({ "low": r.low, "high": r.high }))
}
