//! What does an hour without this circuit weigh for the household? The plan's table, our own judgement where it says nothing.
//! A circuit that falls into two kinds counts as the heavier one. Pure numbers.

use model::house::{Circuit, House, LoadKind, Purpose};
use model::plan::Plan;

/// Kind of circuit in the table of weights, in words.
#[must_use]
pub fn kind(circuit: &Circuit, house: &House) -> &'static str {
    use LoadKind as K;
    let loads = || circuit.loads.iter().filter_map(|l| house.loads.get(l));
    let keeps = |k| {
        matches!(
            k,
            K::Refrigerator
                | K::WellPump
                | K::SumpPump
                | K::Blower
                | K::SpaceHeat
                | K::StorageHeat
                | K::HeatPump
                | K::SupplementalHeat
        )
    };
    let waits = |k| matches!(k, K::VehicleCharger | K::Spa);
    if circuit.critical.is_some() {
        "critical"
    } else if circuit.purpose == Purpose::SmokeAlarms {
        "alarms"
    } else if loads().any(|l| keeps(l.kind)) {
        "keeping"
    } else if matches!(circuit.purpose, Purpose::VehicleCharging | Purpose::Spare)
        || (loads().next().is_some() && loads().all(|l| waits(l.kind)))
    {
        "can_wait"
    } else {
        "ordinary"
    }
}

/// Weight of one circuit.
#[must_use]
pub fn weight(id: &str, circuit: &Circuit, house: &House, plan: &Plan) -> u64 {
    let table = &plan.weights;
    let by_kind = match kind(circuit, house) {
        "critical" => table.critical,
        "alarms" => table.alarms,
        "keeping" => table.keeping,
        "can_wait" => table.can_wait,
        _ => table.ordinary,
    };
    u64::from(plan.weight_of.get(id).copied().unwrap_or(by_kind))
}
