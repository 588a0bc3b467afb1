//! Direct-current resistance from resistivity and area; strands and diameters from geometry; the wire-gauge law.
//! Laws: copper 10.371 ohm-cmil/ft at 20 C (100 % IACS), aluminum 17.002 (61 % IACS), 0.00393 and 0.00404 per C, 2 % for the lay of strands.

use crate::cells::{Cells, area, last_place, n, number};

pub(crate) const COPPER_75: f64 = 10.371 * (1.0 + 0.00393 * 55.0);
pub(crate) const ALUMINUM_75: f64 = 17.002 * (1.0 + 0.00404 * 55.0);

pub(crate) fn outliers(cells: &Cells) -> Vec<String> {
    let mut out = Vec::new();
    for row in cells.rows("conductor_properties") {
        let size = &row["size"];
        let (mils, strands) = (n(row, "area_cmil"), n(row, "strands"));
        if mils != area(size) {
            out.push(format!("{size}: area {mils} is not that of the size"));
        }
        let lay = if strands > 1.0 { 1.02 } else { 1.0 };
        for (k, column) in [
            (COPPER_75, "cu_ohm_per_kft"),
            (ALUMINUM_75, "al_ohm_per_kft"),
        ] {
            let expected = 1000.0 * k * lay / mils;
            let tolerance = 0.0045 * expected + 0.5 * last_place(row, column);
            if (n(row, column) - expected).abs() > tolerance {
                out.push(format!("{size} x {strands}: {column}"));
            }
        }
        if let Some(strand) = number(row, "strand_diameter_in") {
            let from_strands = strands * (1000.0 * strand).powi(2);
            if (from_strands / mils - 1.0).abs() > 0.03 {
                out.push(format!("{size}: strands of {strand} in"));
            }
        }
        let overall = std::f64::consts::FRAC_PI_4 * n(row, "diameter_in").powi(2);
        if (overall - n(row, "area_in2")).abs() > 0.006 * overall + 0.0006 {
            out.push(format!("{size} x {strands}: overall area"));
        }
        if let Some(gauge) = gauge(size) {
            let law = (5.0 * 92f64.powf((36.0 - gauge) / 39.0)).powi(2);
            if (law / mils - 1.0).abs() > 0.003 {
                out.push(format!("{size}: gauge law"));
            }
        }
    }
    out
}

fn gauge(size: &str) -> Option<f64> {
    match size.split_once('/') {
        Some((zeros, _)) => zeros.parse::<f64>().ok().map(|z| 1.0 - z),
        None => size.parse::<f64>().ok().filter(|s| *s < 250.0),
    }
}

/// The two known ones: strand and area of 12 AWG are printed coarsely (0.0305 in and 0.0066 in2 by geometry).
#[test]
fn resistance_is_resistivity_over_area_and_geometry_agrees() {
    crate::check(
        outliers(&Cells::built_in()),
        &["12: strands of 0.03 in", "12 x 7: overall area"],
    );
}
