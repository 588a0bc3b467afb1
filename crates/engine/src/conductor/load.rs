//! What must a conductor and its device carry for a load?
//! Source: NFPA 70 215.2(A), 215.3 (feeders); continuous load counts at the factor of the tables. Amperes.

use model::units::Amperes;
use rulebook::NoValue;
use rulebook::tables::{Subject, TablesIn, limit};
use serde::Serialize;

use crate::worksheet::Line;

/// Load of a feeder or circuit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Load {
    /// Expected to run three hours or more.
    pub continuous: Amperes,
    /// The rest.
    pub noncontinuous: Amperes,
}

impl Load {
    /// A load that is not continuous.
    #[must_use]
    pub const fn noncontinuous(amperes: Amperes) -> Self {
        Self {
            continuous: Amperes::ZERO,
            noncontinuous: amperes,
        }
    }

    /// Both together, at face value.
    #[must_use]
    pub fn total(self) -> Amperes {
        self.continuous + self.noncontinuous
    }
}

/// Noncontinuous load plus continuous load at its factor: what the device and the uncorrected ampacity must reach.
pub fn weighted(load: Load, book: &TablesIn<'_>) -> Result<Amperes, NoValue> {
    let factor = book.limit(limit::CONTINUOUS_LOAD_FACTOR)?;
    Ok(steady(
        load.noncontinuous + load.continuous * factor.value.factor(),
    ))
}

/// [`weighted`] as a worksheet line.
#[must_use]
pub fn weighted_line(load: Load, book: &TablesIn<'_>) -> Line {
    const LABEL: &str = "Load with continuous part weighted";
    match book.limit(limit::CONTINUOUS_LOAD_FACTOR) {
        Err(why) => Line::no_value(LABEL, &why),
        Ok(factor) => {
            let percent = factor.value;
            Line::number(
                LABEL,
                steady(load.noncontinuous + load.continuous * percent.factor()),
            )
            .how("noncontinuous + continuous x factor")
            .input("noncontinuous", load.noncontinuous)
            .input("continuous", load.continuous)
            .input("factor", percent)
            .checked(factor.check)
            .cite(book.cite(Subject::FeederSize))
        }
    }
}

/// Takes the dust of binary fractions off a product, so that 100 A x 1.15 is 115 A when it is compared.
#[must_use]
pub(crate) fn steady(amperes: Amperes) -> Amperes {
    Amperes((amperes.0 * 1e6).round() / 1e6)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn products_compare_as_on_paper() {
        assert!(Amperes(100.0) * 1.15 < Amperes(115.0));
        assert_eq!(steady(Amperes(100.0) * 1.15), Amperes(115.0));
    }
}
