//! Which column of the ampacity table does an insulation belong to?
//! Source: NFPA 70 Table 310.4 (conductor properties; Table 310.104(A) to 2017), recalled; degrees C.

use model::Insulation;
use rulebook::tables::Column;

/// Column for correction and adjustment. Insulation that is 90 C only when dry is taken at 75 C in a wet place.
#[must_use]
pub const fn column(insulation: Insulation, wet: bool) -> Column {
    match insulation {
        Insulation::TW | Insulation::UF | Insulation::NM => Column::C60,
        Insulation::THW | Insulation::THWN | Insulation::RHW => Column::C75,
        Insulation::THHN | Insulation::XHHW if wet => Column::C75,
        Insulation::THHN
        | Insulation::XHHW
        | Insulation::THWN2
        | Insulation::XHHW2
        | Insulation::USE2
        | Insulation::NMB
        | Insulation::RHW2 => Column::C90,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dry_insulation_loses_a_column_in_a_wet_place() {
        assert_eq!(column(Insulation::XHHW, false), Column::C90);
        assert_eq!(column(Insulation::XHHW, true), Column::C75);
        assert_eq!(column(Insulation::XHHW2, true), Column::C90);
    }
}
