//! What does the plan come to for each circuit, and what is wrong with it? Dark spans against limits, nights, shifts, the utility's window.
//! Source: the diary. Hours in words.

use model::Job;
use model::plan::Plan;

use super::diary::{Diary, Step};
use super::time::Seconds;
use super::work::Work;
use super::{DarkCircuit, Limit, weight, words};
use crate::saying::{Pattern, Saying};

pub(super) fn dark_circuits<'j>(
    job: &'j Job,
    work: &Work<'j>,
    diary: &Diary<'j>,
    plan: &Plan,
) -> Vec<DarkCircuit<'j>> {
    let one = |(id, circuit): (&'j model::id::CircuitId, &'j model::house::Circuit)| {
        let dark = diary.dark.get(id.as_str())?;
        let longest = dark.iter().map(|d| d.length()).max().unwrap_or_default();
        let limit = match &circuit.critical {
            None => Limit::None,
            Some(critical) => match critical.longest_dark.get() {
                None => Limit::Unknown,
                Some(most) if longest <= Seconds::of(most) => Limit::Kept(most),
                Some(most) => Limit::Broken(most),
            },
        };
        Some(DarkCircuit {
            id: id.as_str(),
            serves: &circuit.serves,
            rooms: &circuit.rooms,
            kind: weight::kind(circuit, &job.before),
            weight: work.weights.get(id.as_str()).copied().unwrap_or(0),
            temporary: plan.temporary_power.contains(id),
            dark: dark.clone(),
            critical: circuit.critical.as_ref().map(|c| c.why.as_str()),
            limit,
        })
    };
    job.before.circuits.iter().filter_map(one).collect()
}

pub(super) fn warnings(
    plan: &Plan,
    work: &Work<'_>,
    diary: &Diary<'_>,
    circuits: &[DarkCircuit<'_>],
) -> Vec<Saying> {
    let mut warnings = Vec::new();
    let dark = |pattern: Pattern, c: &DarkCircuit<'_>| {
        let why = c.critical.unwrap_or_default();
        let said = pattern.with("circuit", c.id).with("why", why);
        said.with("time", c.longest())
    };
    for c in circuits {
        match c.limit {
            Limit::Broken(most) => {
                warnings.push(dark(words::LIMIT_BROKEN, c).with("most", most));
            }
            Limit::Unknown => warnings.push(dark(words::LIMIT_UNKNOWN, c)),
            _ => {}
        }
    }
    let overnight: Vec<&str> = circuits
        .iter()
        .filter(|c| c.dark.iter().any(|d| d.is_overnight()))
        .map(|c| c.id)
        .collect();
    if !overnight.is_empty() {
        warnings.push(words::OVERNIGHT.with("circuits", overnight.join(", ")));
    }
    let days = diary.now().0.saturating_sub(1) / Seconds::DAY.0 + 1;
    if days > 1 {
        warnings.push(words::DAYS.with("days", days));
    }
    let shift = Seconds::of(plan.shift);
    let over = diary.tasks.iter().map(|t| {
        let from = Diary::of_day(t.start);
        (from + (t.end - t.start)) - shift
    });
    if let Some(over) = over.max().filter(|o| *o > Seconds::ZERO) {
        warnings.push(
            words::SHIFT_OVER
                .with("shift", plan.shift)
                .with("over", over),
        );
    }
    if work.needs_utility() {
        match words::window(plan) {
            None => warnings.push(words::BOOK_UTILITY.into()),
            Some((_, to)) => {
                let proofs = diary.tasks.iter().filter(|t| t.step == Step::Prove);
                if proofs.map(|t| Diary::of_day(t.start)).any(|at| at > to) {
                    warnings.push(words::WINDOW_CLOSED.into());
                }
            }
        }
    }
    warnings
}
