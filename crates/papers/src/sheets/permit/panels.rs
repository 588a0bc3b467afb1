//! Do schedules, feeder sheets and one-line diagram agree on devices, sums and spaces?
//! Source: what each of them prints. Amperes, whole VA.

use std::collections::BTreeMap;

use engine::schedule::What;
use engine::tree::Role;

use super::agree::{Agreed, Compared};
use crate::words::say;

/// Each feeder's device: on the schedule it leaves, on its own sheet; the service's main against the service sheet.
pub(super) fn devices(all: &Compared<'_>, agreed: &mut Agreed) {
    let material = all.material;
    let report = material.report;
    let language = material.setting.language;
    for node in report.tree.nodes.iter().filter(|n| n.role != Role::Unfed) {
        let Some((id, feeder)) = node.feeder else {
            continue;
        };
        let Some(sheet) = report.sheets.feeder(id) else {
            continue;
        };
        let what = say(language, "permit-device-of", &[("feeder", id)]);
        let here = say(language, "permit-in-feeder-sheet", &[]);
        let (place, printed) = if node.role == Role::Service {
            (
                say(language, "permit-in-one-line", &[]),
                node.protected_by.get(),
            )
        } else {
            let rows = all
                .schedules
                .iter()
                .filter(|s| s.board == feeder.from)
                .flat_map(|s| &s.rows);
            let mut mine = rows.filter_map(|r| match r.what {
                What::Feeder(f, feeder) if f == id => Some(feeder.breaker.get()),
                _ => None,
            });
            let place = say(
                language,
                "permit-in-schedule-of",
                &[("board", &feeder.from)],
            );
            match mine.next() {
                Some(breaker) => (place, breaker),
                None => {
                    agreed.open(
                        material,
                        "permit-feeder-unplaced",
                        &[("feeder", id), ("board", &feeder.from)],
                    );
                    continue;
                }
            }
        };
        match (sheet.input.device.get(), printed) {
            (Some(a), Some(b)) => agreed.same(material, &what, (&here, a.0), (&place, b.0), 0.0),
            _ => agreed.open(material, "permit-device-unknown", &[("feeder", id)]),
        }
    }
}

/// The rows of each schedule against the sums under it.
pub(super) fn totals(all: &Compared<'_>, agreed: &mut Agreed) {
    let material = all.material;
    let language = material.setting.language;
    for schedule in &all.schedules {
        let Some(legs) = &schedule.legs else {
            agreed.open(
                material,
                "permit-legs-unknown",
                &[("board", schedule.board)],
            );
            continue;
        };
        let rows: i64 = schedule.rows.iter().map(|r| r.load.0).sum();
        let what = say(language, "permit-rows-of", &[("board", schedule.board)]);
        let here = say(language, "permit-in-rows", &[]);
        let there = say(language, "permit-in-legs", &[]);
        let sum = legs.load[0] + legs.load[1];
        agreed.same(
            material,
            &what,
            (&here, rows as f64),
            (&there, sum as f64),
            0.0,
        );
        if schedule.unplaced.is_empty() {
            let there = say(language, "permit-in-total", &[]);
            agreed.same(
                material,
                &what,
                (&here, rows as f64),
                (&there, schedule.total.0 as f64),
                0.0,
            );
        }
    }
}

/// Every breaker has a space of its own, and as many as it has poles.
pub(super) fn places(all: &Compared<'_>, agreed: &mut Agreed) {
    let material = all.material;
    let language = material.setting.language;
    for (board, face) in &material.faces {
        let why = match face {
            Err(why) => Some(why.to_string()),
            Ok(face) => face.layout.as_ref().err().map(ToString::to_string),
        };
        if let Some(why) = why {
            let values = [("board", *board), ("why", why.as_str())];
            agreed.open(material, "permit-not-laid-out", &values);
        }
    }
    for schedule in &all.schedules {
        let mut taken: BTreeMap<String, f64> = BTreeMap::new();
        for row in schedule.rows.iter().filter(|r| r.pole > 0) {
            *taken.entry(row.space()).or_default() += 1.0;
        }
        for (space, count) in taken.into_iter().filter(|(_, n)| *n > 1.0) {
            let values = [("space", space.as_str()), ("board", schedule.board)];
            let what = say(language, "permit-space-of", &values);
            let here = say(language, "permit-in-schedules", &[]);
            let there = say(language, "permit-in-panel", &[]);
            agreed.same(material, &what, (&here, count), (&there, 1.0), 0.0);
        }
        if !schedule.unplaced.is_empty() {
            let circuits = schedule.unplaced.join(", ");
            let values = [("circuits", circuits.as_str()), ("board", schedule.board)];
            agreed.open(material, "permit-unplaced", &values);
        }
    }
}
