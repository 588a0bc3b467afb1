//! The permit set: what the permit office wants to see, all from one job value: scope, load calculation, feeder sheets, schedules old and
//! new, one-line diagram, sketch of the walls. Source: the report; nothing prints while [`agree`] finds two numbers that contradict.

mod agree;
mod facts;
mod lighting;
mod load;
mod panels;
mod schedule;
mod scope;

use engine::Worksheet;
use model::scope::Change;
use serde_json::{Value, json};

use super::head::head;
use super::worksheet::worksheet;
use crate::material::Material;
use crate::paper::Paper;
use crate::problem::Problem;
use crate::sheet::Sheet;
use crate::words::say;

pub(super) fn sheet(material: &Material<'_>) -> Result<Sheet, Problem> {
    let report = material.report;
    let agreed = agree::check(material);
    if !agreed.against.is_empty() {
        return Err(Problem::Disagreement {
            paper: Paper::Permit.name(),
            what: agreed.against.join("; "),
        });
    }
    let language = material.setting.language;
    let mut drawings = vec![("one-line.svg".to_owned(), pictures::one_line::draw(report))];
    let plan = pictures::wall_sketch::plan(report);
    let has_plan = plan.is_some();
    drawings.extend(plan.map(|svg| ("plan.svg".to_owned(), svg)));
    let mut walls = Vec::new();
    for (i, wall) in pictures::wall_sketch::elevations(report)
        .into_iter()
        .enumerate()
    {
        let file = format!("wall-{}.svg", i + 1);
        walls.push(json!({ "file": file, "words": wall.words }));
        drawings.push((file, wall.svg));
    }
    let data = json!({
        "head": head(material, "permit"),
        "scope": scope::lines(material),
        "changes": scope::counts(material),
        "facts": facts::of_job(material),
        "agreed": agreed.sure,
        "open": agreed.open,
        "questions": questions(material),
        "loads": load::sheets(material),
        "readings": readings(material),
        "feeders": feeders(material),
        "others": others(material),
        "before": schedule::before(material),
        "after": schedule::after(material),
        "one_line": {
            "file": "one-line.svg",
            "alt": report.tree.lines().join("; "),
            "tall": pictures::one_line::proportion(report) > 1.25,
        },
        "plan": has_plan.then_some("plan.svg"),
        "walls": walls,
        "checks": say(language, "permit-checks", &[]),
    });
    Ok(Sheet {
        paper: Paper::Permit,
        setting: material.setting,
        data,
        drawings,
        enclosed: Vec::new(),
    })
}

/// What must still be found out and bears on the permit: what a requirement or a worksheet waits for, the weightiest first.
fn questions(material: &Material<'_>) -> Vec<Value> {
    let grave = |q: &&engine::questions::Question<'_>| q.danger > 0 || !q.worksheets.is_empty();
    let all = material.report.questions.iter().filter(grave);
    let each = all.map(|q| {
        let mut places: Vec<String> = q.places.iter().map(|p| p.place.to_string()).collect();
        let more = places.len().saturating_sub(4);
        places.truncate(4);
        let mut places = places.join(", ");
        if more > 0 {
            let more = more.to_string();
            places = say(
                material.setting.language,
                "permit-and-more",
                &[("places", &places), ("more", &more)],
            );
        }
        json!({ "text": q.text, "places": places })
    });
    each.collect()
}

fn readings(material: &Material<'_>) -> Vec<String> {
    let service = material.report.sheets.service_load();
    service.map_or_else(Vec::new, |c| {
        c.readings.iter().map(ToString::to_string).collect()
    })
}

fn feeders(material: &Material<'_>) -> Vec<Value> {
    let language = material.setting.language;
    let report = material.report;
    let each = report.sheets.feeders.iter().map(|f| {
        let change = match report.scope.feeder(f.id) {
            Some(Change::New) => "permit-new",
            Some(Change::Replaced) => "permit-replaced",
            _ => "permit-kept",
        };
        let verdict = match f.check.verdict {
            engine::conductor::Verdict::Pass => "permit-passes",
            engine::conductor::Verdict::Fail => "permit-fails",
            engine::conductor::Verdict::CannotTell => "permit-cannot-tell",
        };
        let sheets: Vec<Value> = f.worksheets().map(|w| worksheet(w, language)).collect();
        let title = say(language, "permit-feeder-title", &[("feeder", f.id), ("board", f.board)]);
        json!({
            "title": title,
            "change": say(language, change, &[]),
            "verdict": say(language, verdict, &[]),
            "said": f.said,
            "changes": f.changes.iter().map(engine::conductor::Change::describe).collect::<Vec<_>>(),
            "sheets": sheets,
        })
    });
    each.collect()
}

/// Grounding, fault current, busbars, splice boxes, bends.
fn others(material: &Material<'_>) -> Vec<Value> {
    let sheets = &material.report.sheets;
    let language = material.setting.language;
    let mut groups: Vec<(&str, Vec<&Worksheet>)> = vec![
        (
            "permit-grounding",
            sheets.grounding.iter().map(|g| &g.worksheet).collect(),
        ),
        ("permit-fault", sheets.fault_worksheets.iter().collect()),
        (
            "permit-busbar",
            sheets.buses.iter().map(|b| &b.check.worksheet).collect(),
        ),
        (
            "permit-splice",
            sheets.splices.iter().map(|s| &s.worksheet).collect(),
        ),
        (
            "permit-bending",
            sheets.bends.iter().map(|b| &b.worksheet).collect(),
        ),
    ];
    groups.retain(|(_, all)| !all.is_empty());
    let each = groups.into_iter().map(|(title, all)| {
        let sheets: Vec<Value> = all.into_iter().map(|w| worksheet(w, language)).collect();
        json!({ "title": say(language, title, &[]), "sheets": sheets })
    });
    each.collect()
}
