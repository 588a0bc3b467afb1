//! The cut-over, as JSON. Hours from the crew's arrival.

use engine::cutover::customer::{advice, rooms};
use engine::cutover::{CutOver, Dark, Limit, Seconds};
use model::Job;
use serde_json::{Value, json};

/// The documented form. Moments in hours from the crew's arrival, nights included.
#[must_use]
pub fn of(job: &Job, cut: &CutOver<'_>) -> Value {
    let h = |s: Seconds| s.hours().0;
    let spans = |dark: &[Dark]| -> Value {
        dark.iter()
            .map(|d| json!({ "from_h": h(d.from), "to_h": h(d.to) }))
            .collect()
    };
    let tasks = cut.tasks.iter().map(|t| {
        json!({
            "step": t.step, "subject": t.subject, "what": t.words, "worker": t.worker,
            "from_h": h(t.start), "to_h": h(t.end), "circuits": t.circuits,
        })
    });
    let gates = cut
        .gates
        .iter()
        .map(|g| json!({ "gate": g.kind, "at_h": h(g.at), "what": g.words }));
    let circuits = cut.circuits.iter().map(|c| {
        let (kept, most) = match c.limit {
            Limit::None | Limit::Unknown => (None, None),
            Limit::Kept(most) => (Some(true), Some(most.0)),
            Limit::Broken(most) => (Some(false), Some(most.0)),
        };
        json!({
            "id": c.id, "serves": c.serves, "rooms": c.rooms, "kind": c.kind, "weight": c.weight,
            "temporary_power": c.temporary, "dark": spans(&c.dark), "dark_h": h(c.total()),
            "longest_h": h(c.longest()), "critical": c.critical, "longest_allowed_h": most, "kept": kept,
        })
    });
    let told = rooms(cut);
    let told = told
        .iter()
        .map(|r| json!({ "room": r.room, "dark": spans(&r.dark), "circuits": r.circuits }));
    let ways = cut.ways.iter().map(|w| {
        json!({
            "change": w.words, "keeps_all": w.keeps_all, "longest_h": h(w.longest),
            "weighted_dark_h": w.dark_hours, "end_h": h(w.end),
        })
    });
    json!({ "cutover": {
        "approach": cut.plan.approach,
        "workers": cut.plan.workers,
        "start": cut.plan.start,
        "shift_h": cut.plan.shift.0,
        "needs_utility": cut.needs_utility,
        "locks": cut.locks,
        "weighted_dark_h": cut.score.dark_hours(),
        "cannot_be_less_than_h": cut.score.least_hours(),
        "gap": cut.score.gap(),
        "proven_least": cut.score.is_optimal(),
        "proof": cut.score.proof,
        "tasks": tasks.collect::<Vec<_>>(),
        "gates": gates.collect::<Vec<_>>(),
        "circuits": circuits.collect::<Vec<_>>(),
        "new_circuits": cut.new_circuits,
        "left_off": cut.left_off,
        "rooms": told.collect::<Vec<_>>(),
        "advice": advice(job, cut),
        "warnings": cut.warnings,
        "ways": ways.collect::<Vec<_>>(),
        "notices": cut.notices,
        "end_h": h(cut.end),
    } })
}
