//! Demand tables: factors fall, totals rise, formulas meet without a jump, every count stands once.
//! Laws: column C is 5 + 3n to five ranges, 15 + n to forty, 25 + 0.75n above; dryers fall one point, then half a point, each.

use crate::cells::{Cells, Row, n, number};

pub(crate) fn outliers(cells: &Cells) -> Vec<String> {
    let mut out = Vec::new();
    for column in ["A", "B", "C"] {
        let rows: Vec<&Row> = cells
            .rows("range_demand")
            .filter(|r| r["column"] == column)
            .collect();
        gaps(&rows, 1, &format!("ranges {column}"), &mut out);
        for row in &rows {
            let from = n(row, "from");
            for count in [from, number(row, "to").unwrap_or(from + 9.0)] {
                let law = match count {
                    c if c <= 5.0 => 5.0 + 3.0 * c,
                    c if c <= 40.0 => 15.0 + c,
                    c => 25.0 + 0.75 * c,
                };
                let demand = |r: &Row| n(r, "base_kW") + n(r, "each_kW") * count;
                if column == "C" && demand(row) != law {
                    out.push(format!("column C at {count}"));
                }
            }
        }
        for pair in rows.windows(2).filter(|_| column != "C") {
            if n(pair[1], "percent") > n(pair[0], "percent") {
                out.push(format!("column {column} rises at {}", pair[1]["from"]));
            }
        }
    }
    let of = |column: &str| -> Vec<f64> {
        cells
            .rows("range_demand")
            .filter(|r| r["column"] == column)
            .map(|r| n(r, "percent"))
            .collect()
    };
    for (i, (a, b)) in of("A").into_iter().zip(of("B")).enumerate() {
        if b > a {
            out.push(format!("column B above A in row {}", i + 1));
        }
    }
    dryers(cells, &mut out);
    let units: Vec<&Row> = cells.rows("multifamily_demand").collect();
    gaps(&units, 3, "multifamily", &mut out);
    for pair in units.windows(2) {
        let fall = n(pair[0], "percent") - n(pair[1], "percent");
        if fall != 1.0 {
            out.push(format!(
                "multifamily falls by {fall} at {}",
                pair[1]["from"]
            ));
        }
    }
    let lighting: Vec<f64> = cells
        .rows("lighting_demand")
        .map(|r| n(r, "percent"))
        .collect();
    if lighting.first() != Some(&100.0) || !lighting.windows(2).all(|w| w[1] < w[0]) {
        out.push("lighting demand does not fall from 100 %".to_owned());
    }
    out
}

fn gaps(rows: &[&Row], first: u32, name: &str, out: &mut Vec<String>) {
    let mut next = f64::from(first);
    for row in rows {
        if n(row, "from") != next {
            out.push(format!("{name}: {} where {next} was due", row["from"]));
        }
        next = number(row, "to").unwrap_or(f64::INFINITY) + 1.0;
    }
}

fn dryers(cells: &Cells, out: &mut Vec<String>) {
    let rows: Vec<&Row> = cells.rows("dryer_demand").collect();
    gaps(&rows, 1, "dryers", out);
    let percent = |dryers: f64| {
        let row = rows.iter().rev().find(|r| n(r, "from") <= dryers).unwrap();
        let less = number(row, "less_per_dryer_percent").unwrap_or_default();
        n(row, "percent") - less * (dryers - number(row, "counted_from").unwrap_or_default())
    };
    for count in 2..60 {
        let (before, now) = (percent(f64::from(count - 1)), percent(f64::from(count)));
        if !(0.0..=15.0).contains(&(before - now)) || (count > 11 && before - now > 1.0) {
            out.push(format!("dryers: {before} % then {now} % at {count}"));
        }
    }
}

#[test]
fn demand_factors_fall_without_gap_or_jump() {
    crate::check(outliers(&Cells::built_in()), &[]);
}
