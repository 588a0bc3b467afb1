//! The whole report of a job, as JSON, and how much of it is missing.

use engine::check::{Report, Status};
use model::Said;
use rulebook::Datum;
use serde_json::{Value, json};

/// Everything that a check works out, without the head.
#[must_use]
pub fn of(report: &Report<'_>) -> Value {
    json!({
        "scope": crate::scope::of(&report.scope),
        "supply": crate::supply::of(&report.tree),
        "load": crate::load::of(&report.sheets),
        "conductors": crate::conductors::of(&report.sheets),
        "fault_current": crate::fault::of(&report.sheets),
        "disagreements": disagreements(report),
        "findings": crate::findings::of(&report.findings, &report.facts, report.book.facts()),
        "questions": crate::findings::questions(&report.questions),
        "worksheets": report.sheets.worksheets().collect::<Vec<_>>(),
    })
}

/// Whether something is missing, and how much: what stands after the head.
#[must_use]
pub fn status(report: &Report<'_>) -> Value {
    let missing = missing(report);
    let status = match missing {
        (0, 0) => Status::NothingMissing,
        _ => Status::SomethingMissing,
    };
    json!({
        "status": status,
        "required_and_missing": missing.0,
        "calculations_that_fail": missing.1,
    })
}

/// The documented form.
#[must_use]
pub fn disagreements(report: &Report<'_>) -> Value {
    let one = |d: &engine::facts::Disagreement<'_>| {
        json!({
            "fact": report.book.facts().name(d.fact),
            "place": d.place,
            "stated": told(report, d.fact, d.stated),
            "derived": told(report, d.fact, d.derived),
        })
    };
    report.disagreements().iter().map(one).collect()
}

/// A value of a fact with who said it, in words.
#[must_use]
pub fn told(report: &Report<'_>, fact: rulebook::FactId, (datum, said): (Datum, Said)) -> String {
    let value = report.book.facts().get(fact).map(|e| e.print(datum));
    format!("{} ({said})", value.unwrap_or_default())
}

/// Required things that are not there: findings by place, and calculations that fail whatever the unknown facts are.
#[must_use]
pub fn missing(report: &Report<'_>) -> (usize, usize) {
    let findings = report.findings.missing().map(|f| f.instances.len()).sum();
    (findings, crate::conductors::failing(&report.sheets))
}
