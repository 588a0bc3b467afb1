//! Does the general lighting on the schedules come to the floor area times the unit load, as the load calculation has it?
//! Source: the worksheet's line against the sum of the circuits that share it. VA; each circuit is printed in whole VA.

use engine::face::Basis;

use super::agree::{Agreed, Compared};
use crate::words::say;

/// Line of the load worksheets that is compared.
const LINE: &str = "General lighting and receptacles";

/// Compares the two.
pub(super) fn check(all: &Compared<'_>, agreed: &mut Agreed) {
    let material = all.material;
    let language = material.setting.language;
    let report = material.report;
    let what = say(language, "permit-general-lighting", &[]);
    let units = report.job.after.dwelling.units.get();
    if units.is_some_and(|n| n > 1) {
        agreed.open(material, "permit-several-units", &[("what", &what)]);
        return;
    }
    // A record of what was really drawn has no such line; the standard calculation always has.
    let outcomes = report.sheets.service_load().map(|c| &c.outcomes);
    let line = |o: &engine::load::Outcome| o.worksheet.number(LINE);
    let Some(calculated) = outcomes.and_then(|all| all.iter().find_map(line)) else {
        agreed.open(material, "permit-not-calculated", &[("what", &what)]);
        return;
    };
    let sharing: Vec<&str> = all
        .loads
        .iter()
        .filter(|(_, l)| l.basis == Basis::Share)
        .map(|(id, _)| id.as_str())
        .collect();
    let printed: Option<Vec<f64>> = sharing.iter().map(|id| all.printed(id)).collect();
    match printed {
        Some(each) if !each.is_empty() => {
            let here = say(language, "permit-in-calculation", &[]);
            let there = say(language, "permit-in-schedules", &[]);
            let slack = each.len() as f64 * 0.5 + 0.5;
            let sum: f64 = each.iter().sum();
            agreed.same(material, &what, (&here, calculated), (&there, sum), slack);
        }
        Some(_) => agreed.open(material, "permit-no-general", &[]),
        None => {
            let lost = sharing.iter().filter(|id| all.printed(id).is_none());
            let lost: Vec<&str> = lost.copied().collect();
            agreed.open(
                material,
                "permit-general-unplaced",
                &[("circuits", &lost.join(", "))],
            );
        }
    }
}
