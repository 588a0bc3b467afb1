//! Feeders and what else conductors are held to, as JSON. Amperes.

use engine::conductor::Verdict;
use engine::sheets::Sheets;
use engine::sheets::feeder::{FeederSheet, SizeSheet};
use serde_json::{Value, json};

/// The documented form; the worksheets stand apart.
#[must_use]
pub fn of(sheets: &Sheets<'_>) -> Value {
    let size = |s: &Option<SizeSheet>| {
        s.as_ref().map(|s| {
            json!({
                "smallest": s.smallest,
                "verdict": s.verdict,
                "worksheet": s.worksheet.id,
            })
        })
    };
    let one = |f: &FeederSheet<'_>| {
        json!({
            "feeder": f.id,
            "board": f.board,
            "verdict": f.check.verdict,
            "carries_load": f.check.carries_load,
            "protected": f.check.protected,
            "dwelling_rule": f.check.dwelling_rule_applies,
            "ampacity_a": f.check.ampacity,
            "needed_a": f.check.needed,
            "largest_device_a": f.check.largest_device,
            "changes": f.changes.iter().map(|c| json!({ "change": c, "text": c.describe() })).collect::<Vec<_>>(),
            "neutral": size(&f.neutral),
            "ground": size(&f.ground),
            "voltage_drop": f.drop.as_ref().map(|(w, d)| json!({ "drops": d, "worksheet": w.id })),
            "raceway": f.raceway.as_ref().map(|(w, v)| json!({ "verdict": v, "worksheet": w.id })),
            "taken": f.said,
            "worksheet": f.check.worksheet.id,
        })
    };
    let others = rest(sheets)
        .map(|(id, verdict, title)| json!({ "worksheet": id, "verdict": verdict, "title": title }));
    let circuits = sheets
        .circuits
        .iter()
        .map(|c| json!({ "circuit": c.id, "verdict": c.verdict, "worksheet": c.worksheet.id }));
    json!({
        "feeders": sheets.feeders.iter().map(one).collect::<Vec<_>>(),
        "others": others.collect::<Vec<_>>(),
        "circuits": circuits.collect::<Vec<_>>(),
    })
}

/// Calculations that belong to no feeder and no circuit: id, verdict, title.
pub fn rest<'s>(sheets: &'s Sheets<'_>) -> impl Iterator<Item = (&'s str, Verdict, &'s str)> {
    let grounding = sheets.grounding.iter().map(|g| (&g.worksheet, g.verdict));
    let buses = sheets
        .buses
        .iter()
        .map(|b| (&b.check.worksheet, b.check.verdict));
    let splices = sheets.splices.iter().map(|s| (&s.worksheet, s.verdict));
    let all = grounding.chain(buses).chain(splices);
    all.map(|(sheet, verdict)| (sheet.id.as_str(), verdict, sheet.title.as_str()))
}

/// How many calculations fail whatever the unknown facts are.
#[must_use]
pub fn failing(sheets: &Sheets<'_>) -> usize {
    let fails = |v: &Verdict| *v == Verdict::Fail;
    let feeders = sheets.feeders.iter().flat_map(|f| {
        let sizes = [&f.neutral, &f.ground]
            .into_iter()
            .flatten()
            .map(|s| s.verdict);
        let raceway = f.raceway.as_ref().map(|r| r.1);
        sizes.chain(raceway).chain([f.check.verdict])
    });
    feeders.filter(fails).count()
        + rest(sheets).filter(|(_, v, _)| fails(v)).count()
        + sheets.circuits.iter().filter(|c| fails(&c.verdict)).count()
        + sheets
            .faults
            .iter()
            .filter(|b| fails(&b.fault.verdict))
            .count()
}
