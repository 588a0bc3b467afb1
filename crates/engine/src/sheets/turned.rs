//! Which calculations end otherwise in another picture of the same house?
//! Source: the verdicts of both pictures' sheets. No units.

use serde::Serialize;

use super::Sheets;
use crate::conductor::Verdict;

/// A calculation that ends otherwise with a change.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "TurnedVerdict")]
pub struct Turned {
    /// What is judged, in words.
    pub what: String,
    /// As planned; `null` where it is not made.
    pub now: Option<Verdict>,
    /// With the change; `null` where it is no longer made.
    pub then: Option<Verdict>,
}

/// Calculations whose verdict in `then` is another than in `now`, beside the load of `board`.
pub(super) fn turned(now: &Sheets<'_>, then: &Sheets<'_>, board: &str) -> Vec<Turned> {
    let (was, is) = (judged(now, board), judged(then, board));
    let of = |all: &[(String, Verdict)], what: &str| {
        let found = all.iter().find(|(other, _)| other == what);
        found.map(|(_, verdict)| *verdict)
    };
    let gone = was.iter().filter(|(what, _)| of(&is, what).is_none());
    is.iter()
        .chain(gone)
        .map(|(what, _)| Turned {
            what: what.clone(),
            now: of(&was, what),
            then: of(&is, what),
        })
        .filter(|t| t.now != t.then)
        .collect()
}

fn judged(sheets: &Sheets<'_>, board: &str) -> Vec<(String, Verdict)> {
    let mut all = Vec::new();
    for load in sheets.loads.iter().filter(|l| l.board != board) {
        all.push((format!("load of `{}`", load.board), load.fits()));
    }
    for feeder in &sheets.feeders {
        let mut part = |name: &str, verdict: Option<Verdict>| {
            all.extend(verdict.map(|v| (format!("`{}`: {name}", feeder.id), v)));
        };
        part("conductors and device", Some(feeder.check.verdict));
        part("neutral", feeder.neutral.as_ref().map(|s| s.verdict));
        part(
            "equipment ground",
            feeder.ground.as_ref().map(|s| s.verdict),
        );
        part("raceway fill", feeder.raceway.as_ref().map(|r| r.1));
    }
    for (n, sheet) in sheets.grounding.iter().enumerate() {
        let title = &sheet.worksheet.title;
        all.push((format!("{title} ({})", n + 1), sheet.verdict));
    }
    for fault in &sheets.faults {
        let what = format!("fault current at `{}`", fault.board);
        all.push((what, fault.fault.verdict));
    }
    for bus in &sheets.buses {
        all.push((format!("bus of `{}`", bus.board), bus.check.verdict));
    }
    for splice in &sheets.splices {
        let what = format!("fill of the old cabinet of `{}`", splice.board);
        all.push((what, splice.verdict));
    }
    for circuit in &sheets.circuits {
        let what = format!("breaker and conductors of `{}`", circuit.id);
        all.push((what, circuit.verdict));
    }
    all
}
