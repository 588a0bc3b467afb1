//! Ampacity: order, steps of 5 A, copper against aluminum, column ratios, smoothness; dwelling sizes; ambient factors.
//! Laws: heat balance I^2 R = (Tc - Ta) / thermal resistance, so currents go as the square root of temperature rise over resistance;
//! dwelling sizes are the smallest whose 75 C ampacity reaches 83 % of the rating.

use std::collections::BTreeMap;

use crate::cells::{Cells, Row, area, n, number};

const COLUMNS: [(&str, f64); 3] = [("c60_A", 60.0), ("c75_A", 75.0), ("c90_A", 90.0)];
const METALS: [(&str, f64); 2] = [("Cu", 234.5), ("Al/CCA", 228.1)];

fn sizes<'c>(cells: &'c Cells, metal: &str) -> Vec<&'c Row> {
    let rows = cells.rows("ampacity").filter(|r| r["material"] == metal);
    rows.filter(|r| r["size"] != "18" && r["size"] != "16")
        .collect()
}

/// Ratio of the current at `hot` to that at `base`, in the same surroundings at 30 C.
fn column_ratio(hot: f64, base: f64, zero_resistance: f64) -> f64 {
    ((hot - 30.0) / (base - 30.0) * (zero_resistance + base) / (zero_resistance + hot)).sqrt()
}

pub(crate) fn outliers(cells: &Cells) -> Vec<String> {
    let mut out = Vec::new();
    for (metal, zero) in METALS {
        let rows = sizes(cells, metal);
        for (column, hot) in COLUMNS {
            order(&rows, metal, column, &mut out);
            for row in rows.iter().filter(|_| column != "c75_A") {
                let (base, value) = (n(row, "c75_A"), n(row, column));
                let law = column_ratio(hot, 75.0, zero);
                let (low, high) = ((value - 2.5) / (base + 2.5), (value + 2.5) / (base - 2.5));
                if high < law * 0.96 || low > law * 1.04 {
                    out.push(format!("{} {metal} {column}: ratio to 75 C", row["size"]));
                }
            }
        }
        for row in &rows {
            if !(n(row, "c60_A") < n(row, "c75_A") && n(row, "c75_A") < n(row, "c90_A")) {
                out.push(format!("{} {metal}: columns do not rise", row["size"]));
            }
        }
    }
    copper_against_aluminum(cells, &mut out);
    dwelling(cells, &mut out);
    ambient(cells, &mut out);
    let bundling: Vec<f64> = cells.rows("bundling").map(|r| n(r, "percent")).collect();
    if !bundling.windows(2).all(|w| w[1] < w[0]) {
        out.push("bundling does not fall".to_owned());
    }
    for row in cells.rows("ampacity_old_charts") {
        let column = format!("c{}_A", row["column"]);
        let now = sizes(cells, &row["material"])
            .into_iter()
            .find(|r| r["size"] == row["size"]);
        let zero = METALS.iter().find(|m| m.0 == row["material"]).unwrap().1;
        let now = now.unwrap();
        let law = n(now, "c75_A") * column_ratio(n(row, "column"), 75.0, zero);
        let nearer = (n(row, "newer_A") - law).abs() < (n(row, "older_A") - law).abs();
        if n(now, &column) != n(row, "newer_A") || !nearer {
            out.push(format!(
                "old chart: {} {} {column}",
                row["size"], row["material"]
            ));
        }
    }
    out
}

fn order(rows: &[&Row], metal: &str, column: &str, out: &mut Vec<String>) {
    for row in rows.iter().filter(|r| n(r, column) % 5.0 != 0.0) {
        out.push(format!(
            "{} {metal} {column}: not a multiple of 5 A",
            row["size"]
        ));
    }
    for pair in rows
        .windows(2)
        .filter(|p| n(p[1], column) <= n(p[0], column))
    {
        out.push(format!(
            "{} {metal} {column}: does not rise",
            pair[1]["size"]
        ));
    }
    for three in rows.windows(3) {
        let [a0, a1, a2] = [0, 1, 2].map(|i: usize| area(&three[i]["size"]).ln());
        let [i0, i1, i2] = [0, 1, 2].map(|i: usize| n(three[i], column));
        let w = (a1 - a0) / (a2 - a0);
        let between = ((1.0 - w) * i0.ln() + w * i2.ln()).exp();
        if (i1 - between).abs() > 0.04 * between + 2.5 {
            out.push(format!(
                "{} {metal} {column}: off the curve",
                three[1]["size"]
            ));
        }
    }
}

fn copper_against_aluminum(cells: &Cells, out: &mut Vec<String>) {
    let law = (21.2f64 / 12.9).sqrt();
    let copper = sizes(cells, "Cu");
    for al in sizes(cells, "Al/CCA") {
        let cu = copper.iter().find(|r| r["size"] == al["size"]).unwrap();
        for (column, _) in COLUMNS {
            let (x, y) = (n(cu, column), n(al, column));
            if (x + 2.5) / (y - 2.5) < law * 0.93 || (x - 2.5) / (y + 2.5) > law * 1.07 {
                out.push(format!("{} {column}: copper to aluminum", al["size"]));
            }
        }
    }
}

fn dwelling(cells: &Cells, out: &mut Vec<String>) {
    for (metal, column) in [("Cu", "cu_size"), ("Al/CCA", "al_size")] {
        let rows = sizes(cells, metal);
        for row in cells.rows("dwelling_conductors") {
            let need = 0.83 * n(row, "rating_A");
            let smallest = rows
                .iter()
                .find(|r| n(r, "c75_A") >= need)
                .map(|r| &r["size"]);
            if smallest != Some(&row[column]) {
                out.push(format!(
                    "dwelling {} {metal}: {}",
                    row["rating_A"], row[column]
                ));
            }
        }
    }
}

fn ambient(cells: &Cells, out: &mut Vec<String>) {
    for row in cells.rows("ambient") {
        let to = n(row, "to_C");
        for (column, hot) in [
            ("c60_factor", 60.0),
            ("c75_factor", 75.0),
            ("c90_factor", 90.0f64),
        ] {
            let law = if hot - to >= 5.0 {
                ((hot - to) / (hot - 30.0)).sqrt()
            } else {
                0.0
            };
            let fits = match number(row, column) {
                Some(factor) => (factor - law).abs() <= 0.006,
                None => law == 0.0,
            };
            if !fits {
                out.push(format!("ambient to {to} {column}"));
            }
        }
    }
}

#[test]
fn ampacities_obey_heat_balance_and_dwelling_sizes_are_83_percent() {
    crate::check(outliers(&Cells::built_in()), &[]);
}

#[test]
fn the_table_has_every_size_once() {
    let cells = Cells::built_in();
    let mut seen = BTreeMap::new();
    for row in cells.rows("ampacity") {
        *seen
            .entry((row["size"].clone(), row["material"].clone()))
            .or_insert(0) += 1;
    }
    assert_eq!((seen.len(), seen.values().max()), (49, Some(&1)));
}
