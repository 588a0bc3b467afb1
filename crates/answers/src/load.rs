//! Loads of each board by every method, as JSON. Volt-amperes, amperes.

use engine::load::{Outcome, Told};
use engine::sheets::Sheets;
use engine::sheets::load::BoardLoad;
use model::units::Unit;
use serde_json::{Value, json};

/// The documented form; the worksheets stand apart.
#[must_use]
pub fn of(sheets: &Sheets<'_>) -> Value {
    let outcome = |o: &Outcome| {
        json!({
            "method": o.method,
            "standing": o.standing,
            "demand_va": bound(&o.demand),
            "amperes": bound(&o.current),
            "rounded_a": bound(&o.rounded),
            "neutral_a": bound(&o.neutral),
            "rating_a": bound(&o.rating),
            "check": o.worksheet.check(),
            "worksheet": o.worksheet.id,
        })
    };
    let one = |load: &BoardLoad<'_>| {
        json!({
            "board": load.board,
            "recommended": load.comparison.recommended,
            "why": load.comparison.why,
            "methods": load.comparison.outcomes.iter().map(outcome).collect::<Vec<_>>(),
            "readings": load.comparison.readings,
            "taken": load.said,
        })
    };
    sheets.loads.iter().map(one).collect()
}

fn bound<U: Unit>(value: &Told<U>) -> Value {
    json!({
        "value": value.lower_bound().get(),
        "exact": value.exact().is_some(),
        "missing": value.missing(),
    })
}
