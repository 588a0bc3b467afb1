//! How much impedance does a run of conductors have?
//! Source: NFPA 70 Chapter 9 Table 9 (resistance at 75 C, reactance), Table 8 note (resistance at another temperature).
//! Feet one way; ohms of one conductor, parallel sets taken together.

use model::units::{Celsius, Feet, Ohms};
use model::{Material, Wire, WiringMethod};
use rulebook::tables::{Conduit, TablesIn, limit};
use rulebook::{NoValue, Sourced};
use serde::Serialize;

use super::phasor::Phasor;

/// One run from board to board: the legs, the neutral, and how they go.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Run {
    /// One leg.
    pub leg: Wire,
    /// The neutral, where there is one.
    pub neutral: Option<Wire>,
    /// Parallel sets; one where there is no other.
    pub sets: u32,
    /// How the conductors are run.
    pub method: WiringMethod,
    /// Length, one way.
    pub length: Feet,
}

/// Resistance and reactance of one conductor of a run.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Impedance {
    /// Resistance.
    pub resistance: Ohms,
    /// Reactance.
    pub reactance: Ohms,
}

impl Impedance {
    pub(crate) fn phasor(self) -> Phasor {
        Phasor::new(self.resistance.0, self.reactance.0)
    }
}

/// The column of the impedance and fault tables that a wiring method belongs to: steel around the conductors, or not.
/// Armored and metal-clad cable may have steel or aluminum armor; steel has the larger reactance and is taken.
#[must_use]
pub const fn conduit(method: WiringMethod) -> Conduit {
    match method {
        WiringMethod::EMT
        | WiringMethod::RMC
        | WiringMethod::FMC
        | WiringMethod::AC
        | WiringMethod::MC => Conduit::Steel,
        _ => Conduit::Nonmagnetic,
    }
}

/// Impedance of `wire` over the run, with the conductor at `temperature`.
pub fn impedance(
    run: &Run,
    wire: Wire,
    temperature: Celsius,
    book: &TablesIn<'_>,
) -> Result<Sourced<Impedance>, NoValue> {
    let row = book.impedance(wire.size, wire.material, conduit(run.method))?;
    let coefficient = book.limit(match wire.material {
        Material::Copper => limit::RESISTANCE_CHANGE_COPPER,
        Material::Aluminum | Material::CopperClad => limit::RESISTANCE_CHANGE_ALUMINUM,
    })?;
    let base = book.limit(limit::RESISTANCE_TABLE_TEMPERATURE)?;
    let warmth = 1.0 + coefficient.value * (temperature - base.value).0;
    let length = run.length / f64::from(run.sets.max(1));
    Ok(Sourced {
        value: Impedance {
            resistance: row.value.resistance * length * warmth,
            reactance: row.value.reactance * length,
        },
        check: row.check.min(coefficient.check),
        cite: row.cite,
    })
}
