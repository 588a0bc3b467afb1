//! One thing the inspector looks for: requirement in our words, section, where, what satisfies it, and the evidence: photo or reading.
//! Source: the requirement and the facts of the report. Units as the dictionary has them.

use engine::facts::Place;
use engine::findings::{Finding, Instance};
use rulebook::requirement::{Bites, BoundRequirement, Kind, Verdict};
use rulebook::{FactId, Kleene, facts::Datum};
use serde_json::{Value, json};

use super::places::Group;
use crate::material::Material;
use crate::words::say;

/// Names of places that are written out; more are counted.
const NAMED: usize = 8;

/// Everything in one place. `photos` counts through the whole paper.
pub(super) fn group(material: &Material<'_>, group: &Group<'_>, photos: &mut usize) -> Value {
    let language = material.setting.language;
    let title = match group.board {
        None => say(language, "inspection-job", &[]),
        Some(id) => {
            let board = material.report.job.after.boards.get(id);
            let name = board.map_or("", |b| b.name.as_str());
            let name = if name.is_empty() {
                id.to_owned()
            } else {
                format!("{id}, {name}")
            };
            say(language, "inspection-board", &[("board", &name)])
        }
    };
    let (met, todo): (Vec<_>, Vec<_>) = group
        .findings
        .iter()
        .partition(|(f, _)| f.verdict == Verdict::Met);
    let todo: Vec<Value> = todo
        .into_iter()
        .map(|(f, instances)| {
            *photos += 1;
            item(material, f, instances, Some(*photos))
        })
        .collect();
    let met: Vec<Value> = met
        .into_iter()
        .map(|(f, instances)| item(material, f, instances, None))
        .collect();
    json!({ "title": title, "todo": todo, "met": met })
}

fn item(
    material: &Material<'_>,
    finding: &Finding<'_>,
    instances: &[Instance<'_>],
    photo: Option<usize>,
) -> Value {
    let language = material.setting.language;
    let requirement = finding.requirement.requirement();
    let state = match finding.verdict {
        Verdict::Met => "inspection-met",
        Verdict::CannotTellIfMet => "inspection-open",
        Verdict::CannotTellIfApplies => "inspection-perhaps",
        _ if finding.is_work() => "inspection-do",
        _ => "inspection-missing",
    };
    let when = match requirement.bites {
        Bites::CutOver => say(language, "inspection-while-open", &[]),
        Bites::Signing | Bites::Inspection => String::new(),
    };
    json!({
        "title": requirement.title,
        "section": finding.requirement.cite().map_or_else(String::new, |c| c.section.to_string()),
        "where": places(material, instances),
        "looks": requirement.inspector.as_deref().unwrap_or(""),
        "satisfied": requirement.satisfied_by.join("; "),
        "when": when,
        "state": say(language, state, &[]),
        "check": requirement.check.to_string(),
        "photo": photo,
        "readings": readings(material, finding, instances),
    })
}

/// Places of one sort together: `circuits bath, laundry`.
fn places(material: &Material<'_>, instances: &[Instance<'_>]) -> String {
    let language = material.setting.language;
    let mut groups: Vec<(&str, Vec<&str>)> = Vec::new();
    for instance in instances {
        let (sort, name) = match &instance.place {
            Place::Job => ("inspection-the-job", ""),
            Place::Board(_) => ("inspection-the-board", ""),
            Place::OldCabinet(_) => ("inspection-old-cabinet", ""),
            Place::Feeder(id) => ("inspection-feeders", id.as_str()),
            Place::Building(id) => ("inspection-buildings", id.as_str()),
            Place::Source(id) => ("inspection-sources", id.as_str()),
            Place::Circuit(id) => ("inspection-circuits", id.as_str()),
            Place::Outlet(id) => ("inspection-outlets", id.as_str()),
        };
        match groups.iter_mut().find(|(s, _)| *s == sort) {
            Some((_, names)) => names.push(name),
            None => groups.push((sort, vec![name])),
        }
    }
    let each = groups.into_iter().map(|(sort, mut names)| {
        let more = names.len().saturating_sub(NAMED);
        names.truncate(NAMED);
        let mut names = names.join(", ");
        if more > 0 {
            let values = [("places", names.as_str()), ("more", &more.to_string())];
            names = say(language, "permit-and-more", &values);
        }
        say(language, sort, &[("names", &names)])
    });
    each.collect::<Vec<_>>().join("; ")
}

/// Numbers that the requirement is held against: what is asked, what is known, room for what is read on the day.
fn readings(
    material: &Material<'_>,
    finding: &Finding<'_>,
    instances: &[Instance<'_>],
) -> Vec<Value> {
    let report = material.report;
    let Some(satisfied) = &finding.requirement.requirement().satisfied else {
        return Vec::new();
    };
    let [first, ..] = instances else {
        return Vec::new();
    };
    let mut all = Vec::new();
    for fact in satisfied.facts().iter() {
        let limits = finding.requirement.thresholds(fact);
        let Some(entry) = report.book.facts().get(fact) else {
            continue;
        };
        if limits.is_empty() || entry.unit.is_none() {
            continue;
        }
        let unit = entry.unit.as_deref().unwrap_or("");
        let with_unit = |n: f64| format!("{n} {unit}");
        let limits: Vec<String> = limits.into_iter().map(with_unit).collect();
        let known = value(material, first.row, fact).map(with_unit);
        let known = known.unwrap_or_else(|| say(material.setting.language, "permit-unknown", &[]));
        all.push(json!({ "what": entry.meaning, "limit": limits.join(", "), "known": known }));
    }
    all
}

fn value(material: &Material<'_>, row: usize, fact: FactId) -> Option<f64> {
    match material.report.facts.value(row, fact)?.0 {
        Datum::Number(n) => Some(n),
        _ => None,
    }
}

/// Beliefs that come up on the day and ask for nothing here, each with why: records of them, where their conditions hold somewhere.
pub(super) fn notes(material: &Material<'_>) -> Vec<Value> {
    let report = material.report;
    let holds = |r: &&BoundRequirement| {
        let mut rows = 0..report.facts.len();
        r.requirement().kind == Kind::NotTriggered
            && rows.any(|row| r.explain(report.facts.slots(row)).applies.truth == Kleene::True)
    };
    let records = report.book.requirements().iter().filter(holds);
    let each = records.map(|r| {
        let requirement = r.requirement();
        json!({
            "title": requirement.title,
            "why": requirement.note.as_deref().unwrap_or(&requirement.why),
            "section": r.cite().map_or_else(String::new, |c| c.section.to_string()),
        })
    });
    each.collect()
}
