//! Findings and questions, as JSON.

use engine::facts::Bound;
use engine::findings::{Finding, Findings, facts_used};
use engine::questions::Question;
use rulebook::FactDictionary;
use serde_json::{Value, json};

/// The documented form.
#[must_use]
pub fn of(findings: &Findings<'_>, bound: &Bound<'_>, facts: &FactDictionary) -> Value {
    let one = |finding: &Finding<'_>| {
        let requirement = finding.requirement.requirement();
        let instances: Vec<Value> = finding
            .instances
            .iter()
            .map(|i| {
                json!({
                    "place": i.place,
                    "facts": facts_used(bound, i.row, &i.read, facts),
                    "missing": i.missing.iter().map(|f| facts.name(f)).collect::<Vec<_>>(),
                })
            })
            .collect();
        json!({
            "requirement": requirement.id,
            "title": requirement.title,
            "verdict": finding.verdict,
            "missing": finding.is_missing(),
            "work": finding.is_work(),
            "note": finding.is_note(),
            "bites": requirement.bites,
            "danger": requirement.danger,
            "section": finding.requirement.cite(),
            "check": requirement.check,
            "remedy": requirement.remedy,
            "cost": requirement.cost.as_ref().map(|c| json!({
                "low": c.low, "high": c.high, "per": c.per, "check": c.check
            })),
            "places": instances,
        })
    };
    json!({
        "counts": findings.counts,
        "findings": findings.findings.iter().map(one).collect::<Vec<_>>(),
    })
}

/// The documented form.
#[must_use]
pub fn questions(questions: &[Question<'_>]) -> Value {
    let one = |q: &Question<'_>| {
        let places = q
            .places
            .iter()
            .map(|p| json!({ "place": p.place, "answer": p.path, "swing": p.swing }));
        json!({
            "fact": q.name,
            "question": q.text,
            "asked_of": q.asked_of.name(),
            "danger": q.danger,
            "swing": q.swing,
            "places": places.collect::<Vec<_>>(),
            "requirements": q.requirements,
            "worksheets": q.worksheets,
        })
    };
    questions.iter().map(one).collect()
}
