//! Alternating-current impedance, fault-current constants and transformers.
//! Laws: skin effect of a round conductor (IEC 60287); steel reactance 1.25 times nonmagnetic; Z at power factor 0.85 = 0.85 R + 0.527 X;
//! C = 1000 / |Z| with resistance at 25 C, its ratio to the table running without a step.

use std::collections::BTreeMap;

use crate::cells::{Cells, Row, area, last_place, n};

/// Ratio of alternating- to direct-current resistance at 60 Hz, from ohms per 1000 ft.
fn skin(ohms: f64) -> f64 {
    let x4 = (8.0 * std::f64::consts::PI * 60.0 / (ohms / 304.8) * 1e-7).powi(2);
    1.0 + x4 / (192.0 + 0.8 * x4)
}

fn direct(cells: &Cells, size: &str, metal: &str) -> f64 {
    let row = cells
        .rows("conductor_properties")
        .filter(|r| r["size"] == size)
        .last()
        .unwrap();
    n(
        row,
        if metal == "Cu" {
            "cu_ohm_per_kft"
        } else {
            "al_ohm_per_kft"
        },
    )
}

fn reactance(cells: &Cells, size: &str, conduit: &str) -> f64 {
    let mut rows = cells.rows("impedance");
    n(
        rows.find(|r| r["size"] == size && r["conduit"] == conduit)
            .unwrap(),
        "reactance_ohm_per_kft",
    )
}

pub(crate) fn outliers(cells: &Cells) -> Vec<String> {
    let mut out = Vec::new();
    for row in cells.rows("impedance") {
        let name = format!("{} {} {}", row["size"], row["material"], row["conduit"]);
        let (r, x) = (
            n(row, "resistance_ohm_per_kft"),
            n(row, "reactance_ohm_per_kft"),
        );
        let place = last_place(row, "resistance_ohm_per_kft");
        let dc = direct(cells, &row["size"], &row["material"]);
        let law = dc * skin(dc);
        let eddy = if area(&row["size"]) < 100_000.0 {
            1.06
        } else {
            1.36
        };
        let off = row["conduit"] == "PVC" && (r - law).abs() > 0.05 * law + 0.6 * place;
        if off || r < law * 0.97 - 0.6 * place || r > law * eddy + 0.6 * place {
            out.push(format!("{name}: resistance {r}"));
        }
        let z = n(row, "effective_pf85_ohm_per_kft");
        let law = 0.85 * r + 0.527 * x;
        if (z - law).abs() > (0.05 * law).max(1.1 * last_place(row, "effective_pf85_ohm_per_kft")) {
            out.push(format!("{name}: effective impedance {z}"));
        }
        let nonmagnetic = reactance(cells, &row["size"], "PVC");
        let ratio = if row["conduit"] == "steel" { 1.25 } else { 1.0 };
        if (x / nonmagnetic / ratio - 1.0).abs() > if ratio > 1.0 { 0.025 } else { 0.0 } {
            out.push(format!("{name}: reactance {x}"));
        }
    }
    constants(cells, &mut out);
    transformers(cells, &mut out);
    out
}

fn constants(cells: &Cells, out: &mut Vec<String>) {
    let mut last: BTreeMap<(String, String), (f64, f64)> = BTreeMap::new();
    for row in cells.rows("fault_constants") {
        let name = format!(
            "C of {} {} {}",
            row["size"], row["material"], row["conduit"]
        );
        let zero = if row["material"] == "Cu" {
            234.5
        } else {
            228.1
        };
        let cold = direct(cells, &row["size"], &row["material"]) * (zero + 25.0) / (zero + 75.0);
        let conduit = if row["conduit"] == "steel" {
            "steel"
        } else {
            "PVC"
        };
        let law = 1000.0 / (cold * skin(cold)).hypot(reactance(cells, &row["size"], conduit));
        let c = n(row, "c_A_ft_per_V");
        let ratio = c / law;
        let key = (row["material"].clone(), row["conduit"].clone());
        if let Some((smaller, earlier)) = last.insert(key, (c, ratio)) {
            if c <= smaller {
                out.push(format!("{name}: does not rise"));
            }
            if (ratio / earlier - 1.0).abs() > 0.035 {
                out.push(format!("{name}: step against impedance"));
            }
        }
        if (ratio - 1.0).abs() > 0.25 {
            out.push(format!("{name}: far from 1 / impedance"));
        }
    }
    let of = |conduit: &str| -> Vec<&Row> {
        cells
            .rows("fault_constants")
            .filter(|r| r["conduit"] == conduit)
            .collect()
    };
    for (steel, plain) in of("steel").iter().zip(of("nonmagnetic")) {
        if n(plain, "c_A_ft_per_V") < n(steel, "c_A_ft_per_V") {
            out.push(format!(
                "C of {} {}: steel above nonmagnetic",
                steel["size"], steel["material"]
            ));
        }
    }
}

fn transformers(cells: &Cells, out: &mut Vec<String>) {
    let rows: Vec<&Row> = cells.rows("transformers").collect();
    for pair in rows.windows(2) {
        if n(pair[1], "x_over_r") <= n(pair[0], "x_over_r") {
            out.push(format!("{} kVA: X/R does not rise", pair[1]["size_kVA"]));
        }
    }
    for row in &rows {
        let (low, high) = (
            n(row, "impedance_low_percent"),
            n(row, "impedance_high_percent"),
        );
        let worst = crate::cells::number(row, "impedance_worst_case_percent").unwrap_or(low);
        if !(low <= worst && worst < high) {
            out.push(format!("{} kVA: order of impedances", row["size_kVA"]));
        }
    }
}

/// The known one includes the proximity effect of large conductors, which the skin formula leaves out.
#[test]
fn impedance_is_resistance_with_skin_effect_and_reactance_of_the_raceway() {
    crate::check(
        outliers(&Cells::built_in()),
        &["1000 Cu PVC: resistance 0.015"],
    );
}
