//! What load does each circuit put on its leg?
//! Source: the survey; else nameplates; else the dwelling's unit load spread over its general circuits and the fixed amount of each small-appliance
//! and laundry circuit (NFPA 70 Article 220 Part III; 120 in 2026). Spreading it is common practice without a source. Whole VA.

use std::collections::BTreeMap;

use model::House;
use model::house::{Circuit, Load, LoadKind, Purpose};
use model::units::VoltAmperes;
use rulebook::tables::{TablesIn, limit};
use serde::Serialize;

use super::problem::WholeVa;

/// Where a circuit's load comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "LoadBasis")]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// The job states it.
    Stated,
    /// Nameplates of the loads on it.
    Nameplates,
    /// The fixed amount of a small-appliance or laundry circuit.
    FixedAmount,
    /// Its share of the dwelling's unit load.
    Share,
    /// Nobody knows: none is taken.
    Unknown,
}

/// A circuit's load.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct CircuitLoad {
    /// In all, on every pole together.
    pub load: WholeVa,
    /// Part of it that is continuous.
    pub continuous: WholeVa,
    /// Where it comes from.
    pub basis: Basis,
}

/// Load of every circuit of a picture, by name.
#[must_use]
pub(crate) fn of_house(house: &House, book: &TablesIn<'_>) -> BTreeMap<String, CircuitLoad> {
    let share = Share::of(house, book);
    let each = house.circuits.iter();
    each.map(|(id, circuit)| {
        (
            id.as_str().to_owned(),
            of_circuit(circuit, house, &share, book),
        )
    })
    .collect()
}

/// The dwelling's unit load for one outlet of a general circuit.
struct Share {
    per_outlet: Option<f64>,
    usual_outlets: f64,
}

impl Share {
    fn of(house: &House, book: &TablesIn<'_>) -> Self {
        let general: Vec<Option<u32>> = house
            .circuits
            .values()
            .filter(|c| is_general(c))
            .map(|c| c.outlets.get().filter(|n| *n > 0))
            .collect();
        let known: Vec<u32> = general.iter().flatten().copied().collect();
        let usual = if known.is_empty() {
            1.0
        } else {
            known.iter().map(|n| f64::from(*n)).sum::<f64>() / known.len() as f64
        };
        let outlets: f64 = general.iter().map(|n| n.map_or(usual, f64::from)).sum();
        let area = house.dwelling.area.get().map(|a| a.0);
        let unit = book.limit(limit::UNIT_LOAD).ok().map(|u| u.value.0);
        Self {
            per_outlet: area
                .zip(unit)
                .filter(|_| outlets > 0.0)
                .map(|(area, unit)| area * unit / outlets),
            usual_outlets: usual,
        }
    }
}

fn is_general(circuit: &Circuit) -> bool {
    let shares = matches!(
        circuit.purpose,
        Purpose::General | Purpose::Bathroom | Purpose::Garage
    );
    shares && circuit.loads.is_empty() && circuit.load_va.is_unknown() && circuit.poles == 1
}

fn of_circuit(circuit: &Circuit, house: &House, share: &Share, book: &TablesIn<'_>) -> CircuitLoad {
    let (load, basis) = base(circuit, house, share, book);
    let load = whole(load);
    let continuous = match circuit.continuous_va.get() {
        Some(va) => whole(va),
        None => whole(runs_long(circuit, house)),
    };
    CircuitLoad {
        load,
        continuous: continuous.min(load),
        basis,
    }
}

fn base(
    circuit: &Circuit,
    house: &House,
    share: &Share,
    book: &TablesIn<'_>,
) -> (VoltAmperes, Basis) {
    if let Some(va) = circuit.load_va.get() {
        return (va, Basis::Stated);
    }
    if !circuit.loads.is_empty() {
        let plates: Option<Vec<VoltAmperes>> = loads(circuit, house).map(plate).collect();
        return match plates {
            Some(plates) => (plates.into_iter().sum(), Basis::Nameplates),
            None => (VoltAmperes::ZERO, Basis::Unknown),
        };
    }
    let fixed = match circuit.purpose {
        Purpose::SmallAppliance => book.limit(limit::SMALL_APPLIANCE_CIRCUIT).ok(),
        Purpose::Laundry => book.limit(limit::LAUNDRY_CIRCUIT).ok(),
        _ => None,
    };
    if let Some(fixed) = fixed {
        return (fixed.value, Basis::FixedAmount);
    }
    match share.per_outlet.filter(|_| is_general(circuit)) {
        Some(each) => {
            let outlets = circuit.outlets.get().filter(|n| *n > 0);
            let count = outlets.map_or(share.usual_outlets, f64::from);
            (VoltAmperes(each * count), Basis::Share)
        }
        None => (VoltAmperes::ZERO, Basis::Unknown),
    }
}

fn loads<'h>(circuit: &'h Circuit, house: &'h House) -> impl Iterator<Item = &'h Load> {
    circuit.loads.iter().filter_map(|l| house.loads.get(l))
}

fn plate(load: &Load) -> Option<VoltAmperes> {
    let one = load.nameplate().get()?;
    Some(one * f64::from(load.count))
}

/// Loads that are known to run for hours: those said to, vehicle chargers, and water heaters where nobody says otherwise.
fn runs_long(circuit: &Circuit, house: &House) -> VoltAmperes {
    let long = loads(circuit, house).filter(|l| {
        let usually = matches!(l.kind, LoadKind::VehicleCharger | LoadKind::WaterHeater);
        l.continuous.get().unwrap_or(usually)
    });
    long.filter_map(plate).sum()
}

fn whole(va: VoltAmperes) -> WholeVa {
    WholeVa(va.0.round().clamp(0.0, 1e7) as i64)
}
