//! How much of a fault current is left after a run, by the point-to-point method?
//! Source: published handbook method; C values (one over the impedance per foot) from the tables.
//! Amperes, volts and feet in, amperes out.

use model::units::{Amperes, Feet, Volts};
use serde::Serialize;

/// Which conductors the fault joins.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Joins {
    /// Two legs: out and back over two leg conductors.
    LineToLine,
    /// A leg and the neutral.
    LineToNeutral,
    /// All three phases.
    ThreePhase,
}

/// One step of the method.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Step {
    /// The method's f: impedance of the run over impedance of what lies before it. A pure number.
    pub f: f64,
    /// The method's M: share of the current that is left, 1 / (1 + f). A pure number.
    pub m: f64,
    /// Current at the far end.
    pub current: Amperes,
}

/// Current left at the end of a run of `length` one way, with `sets` parallel sets.
/// `volts` is the voltage between the joined conductors (leg to leg for three phases). `c` and `c_return` are the C values, in
/// amperes times feet per volt, of the conductor out and the conductor back; for three phases only `c` counts.
#[must_use]
pub fn step(
    joins: Joins,
    volts: Volts,
    source: Amperes,
    length: Feet,
    c: f64,
    c_return: f64,
    sets: u32,
) -> Step {
    let per_c = match joins {
        Joins::LineToLine => 2.0 / c,
        Joins::LineToNeutral => 1.0 / c + 1.0 / c_return,
        Joins::ThreePhase => 3f64.sqrt() / c,
    };
    let f = length.0 * source.0 * per_c / (f64::from(sets.max(1)) * volts.0);
    let m = 1.0 / (1.0 + f);
    Step {
        f,
        m,
        current: source * m,
    }
}
