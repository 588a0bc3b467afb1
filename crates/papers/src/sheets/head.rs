//! What stands at the head and foot of every paper: which job, where, under which edition, by whom, and the cautions.

use model::units::Amperes;
use serde_json::{Value, json};

use crate::material::Material;
use crate::words::say;

/// The cautions, by their names in the catalogue.
const CAUTIONS: [&str; 4] = [
    "caution-dead",
    "caution-line-side",
    "caution-verify",
    "caution-licensed",
];

/// The head of a paper with this title.
pub(super) fn head(material: &Material<'_>, title: &str) -> Value {
    let job = material.report.job;
    let place = &job.place;
    let where_to = [&place.address, &place.city, &place.state];
    let setting = &material.setting;
    let language = setting.language;
    json!({
        "title": say(language, title, &[]),
        "job": job.title,
        "reason": job.reason,
        "address": joined(where_to.map(String::as_str)),
        "street": place.address,
        "customer": place.customer,
        "authority": place.authority,
        "utility": place.utility,
        "permit_number": place.permit_number,
        "permit_date": place.permit_date.map(|d| d.to_string()),
        "edition": material.report.book.edition().to_string(),
        "amendments": material.report.book.amendments(),
        "date": setting.date.to_string(),
        "language": language.code(),
        "paper": setting.size.name(),
        "shop": material.book.identity,
        "notices": material.notices,
        "cautions": CAUTIONS.map(|c| say(language, c, &[])),
    })
}

/// Those that say something, with commas between.
pub(super) fn joined<'t>(parts: impl IntoIterator<Item = &'t str>) -> String {
    let known: Vec<&str> = parts.into_iter().filter(|p| !p.is_empty()).collect();
    known.join(", ")
}

/// Whole amperes, or with the fraction they have.
pub(super) fn amperes(amps: Amperes) -> String {
    format!("{} A", amps.0)
}
