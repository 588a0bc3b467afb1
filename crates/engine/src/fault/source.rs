//! What stands behind the service: a transformer, or a fault current that the utility states.
//! Source: transformer nameplate or utility letter. kVA, percent and amperes.

use model::Fact;
use model::units::{Amperes, KilovoltAmperes, Percent};
use serde::Serialize;

/// What the fault current comes from.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub enum Source {
    /// The utility's transformer, by nameplate. For 208Y/120 V a three-phase bank with its neutral grounded.
    Transformer {
        /// Size.
        size: Fact<KilovoltAmperes>,
        /// Impedance as printed on the nameplate.
        impedance: Fact<Percent>,
        /// Manufacturing tolerance on the impedance; taken off, so that the current is the larger.
        tolerance: Percent,
        /// Reactance over resistance.
        x_over_r: Fact<f64>,
    },
    /// A current stated at the first board or at the transformer.
    Stated {
        /// Leg to leg.
        line_to_line: Fact<Amperes>,
        /// Leg to neutral, where stated.
        line_to_neutral: Fact<Amperes>,
        /// Reactance over resistance.
        x_over_r: Fact<f64>,
    },
}
