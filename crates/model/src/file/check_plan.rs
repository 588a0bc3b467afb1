//! Is the plan of the cut-over sensible? Numbers in range, windows that end after they begin, circuits that exist.
//! Source: common sense of the trade. Each finding points into the text.

use toml::Spanned;
use toml::de::DeTable;

use super::merge::locate;
use super::mistake::Mistake;
use crate::job::Job;
use crate::nearest::{advice, list};
use crate::plan::MOST_WORKERS;

/// Heaviest weight; keeps every sum exact.
const HEAVIEST: u32 = 1000;

/// Every mistake of the plan.
pub(super) fn plan(job: &Job, table: &Spanned<DeTable<'_>>) -> Vec<Mistake> {
    let mut mistakes = Vec::new();
    let mut add = |path: &[&str], found: String, expected: String| {
        let span = locate(table.get_ref(), path).unwrap_or_else(|| table.span());
        mistakes.push(Mistake::new(span, found, expected));
    };
    let plan = &job.plan;
    if !(1..=MOST_WORKERS).contains(&plan.workers) {
        let found = format!("`workers` is {}", plan.workers);
        add(&["workers"], found, format!("1 to {MOST_WORKERS} people"));
    }
    if !(1.0..=16.0).contains(&plan.shift.0) {
        let found = format!("`shift` is {}", plan.shift);
        add(&["shift"], found, "1 to 16 h of work on one day".to_owned());
    }
    if let Some(pause) = plan.restore_round
        && !(0.0..=8.0).contains(&pause.0)
    {
        let found = format!("`restore_round` is {pause}");
        add(&["restore_round"], found, "a pause of 0 to 8 h".to_owned());
    }
    if let Some(window) = plan.utility_window {
        if window.to <= window.from {
            let found = format!(
                "the window ends at {}, begins at {}",
                window.to, window.from
            );
            add(
                &["utility_window", "to"],
                found,
                "a window of one day that ends after it begins".to_owned(),
            );
        }
        if plan.start.is_none() {
            add(
                &["utility_window"],
                "a utility window, but no `start`".to_owned(),
                "the time of day the crew arrives, for example `start = \"07:30\"`".to_owned(),
            );
        } else if plan.start.is_some_and(|start| window.to <= start) {
            add(
                &["utility_window", "to"],
                format!("the window ends at {}, before the crew arrives", window.to),
                "a window after `start`".to_owned(),
            );
        }
    }
    let weights = &plan.weights;
    for (name, weight) in [
        ("critical", weights.critical),
        ("alarms", weights.alarms),
        ("keeping", weights.keeping),
        ("ordinary", weights.ordinary),
        ("can_wait", weights.can_wait),
    ] {
        if weight > HEAVIEST {
            let found = format!("`{name}` weighs {weight}");
            add(&["weights", name], found, format!("0 to {HEAVIEST}"));
        }
    }
    for (id, weight) in &plan.weight_of {
        if *weight > HEAVIEST {
            let found = format!("`{id}` weighs {weight}");
            add(
                &["weight_of", id.as_str()],
                found,
                format!("0 to {HEAVIEST}"),
            );
        }
    }
    names(job, &mut add);
    mistakes
}

/// Circuits the plan names are in one of the two pictures; nobody follows in a circle.
fn names(job: &Job, add: &mut impl FnMut(&[&str], String, String)) {
    let plan = &job.plan;
    let known =
        |id: &str| job.before.circuits.contains_key(id) || job.after.circuits.contains_key(id);
    let what = |id: &str| {
        let names = || job.before.circuits.keys().map(|c| c.as_str());
        advice(id, names(), &format!("circuits here: {}", list(names())))
    };
    let mut check = |path: &[&str], id: &str| {
        if !known(id) {
            add(
                path,
                format!("`{id}` is not a circuit of this job"),
                what(id),
            );
        }
    };
    for id in &plan.temporary_power {
        check(&["temporary_power"], id.as_str());
    }
    for id in plan.weight_of.keys() {
        check(&["weight_of", id.as_str()], id.as_str());
    }
    for (id, before) in &plan.follows {
        check(&["follows", id.as_str()], id.as_str());
        check(&["follows", id.as_str()], before.as_str());
    }
    for id in plan.follows.keys() {
        let mut at = id;
        for _ in 0..=plan.follows.len() {
            match plan.follows.get(at) {
                Some(next) if next == id => {
                    add(
                        &["follows", id.as_str()],
                        format!("`{id}` follows itself"),
                        "circuits that follow one another without a circle".to_owned(),
                    );
                    break;
                }
                Some(next) => at = next,
                None => break,
            }
        }
    }
}
