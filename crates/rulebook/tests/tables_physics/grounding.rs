//! Grounding tables: order, trade sizes, aluminum beside copper, bonding jumpers beside electrode conductors.
//! Laws: a larger device or service never has a smaller conductor; aluminum is one or two gauge numbers above copper (area ratio 1.2 to 1.8);
//! bonding jumpers equal electrode conductors up to the last printed size.

use crate::cells::{Cells, Row, area, n};

pub(crate) fn outliers(cells: &Cells) -> Vec<String> {
    let mut out = Vec::new();
    for table in ["equipment_grounding", "grounding_electrode"] {
        let rows: Vec<&Row> = cells.rows(table).collect();
        for (i, row) in rows.iter().enumerate() {
            let (cu, al) = (area(&row["cu_size"]), area(&row["al_size"]));
            if !(1.2..=1.8).contains(&(al / cu)) {
                out.push(format!(
                    "{table} row {}: aluminum to copper {:.2}",
                    i + 1,
                    al / cu
                ));
            }
            if let (Some(cu), Some(al)) = (gauge(&row["cu_size"]), gauge(&row["al_size"])) {
                let steps = al - cu;
                if steps != if cu <= 4 { 1 } else { 2 } && table == "equipment_grounding" {
                    out.push(format!("{table} row {}: gauge steps {steps}", i + 1));
                }
            }
        }
        for pair in rows.windows(2) {
            for column in ["cu_size", "al_size"] {
                if area(&pair[1][column]) < area(&pair[0][column]) {
                    out.push(format!("{table}: {column} falls at {}", pair[1][column]));
                }
            }
        }
    }
    let devices: Vec<f64> = cells
        .rows("equipment_grounding")
        .map(|r| n(r, "device_to_A"))
        .collect();
    let standard: Vec<f64> = cells
        .rows("standard_ratings")
        .map(|r| n(r, "rating_A"))
        .collect();
    for device in devices.iter().filter(|d| !standard.contains(d)) {
        out.push(format!("{device} A is not a standard rating"));
    }
    for (gec, jumper) in cells
        .rows("grounding_electrode")
        .zip(cells.rows("bonding_jumpers"))
    {
        for column in ["service_cu_to", "service_al_to"] {
            if gec[column] != jumper[column] {
                out.push(format!("bonding jumpers: {column} {}", jumper[column]));
            }
        }
        let share = jumper["area_percent"] == "12.5" && jumper["cu_size"].is_empty();
        let sizes = gec["cu_size"] == jumper["cu_size"] && gec["al_size"] == jumper["al_size"];
        if !(share || sizes) {
            out.push(format!(
                "bonding jumpers: sizes to {}",
                jumper["service_cu_to"]
            ));
        }
    }
    ratings(cells, &mut out);
    out
}

fn ratings(cells: &Cells, out: &mut Vec<String>) {
    let table: Vec<f64> = cells
        .rows("standard_ratings")
        .filter(|r| r["kind"] == "table")
        .map(|r| n(r, "rating_A"))
        .collect();
    for pair in table.windows(2) {
        if !(pair[1] > pair[0] && pair[1] / pair[0] <= 1.5) || pair[1] % 5.0 != 0.0 {
            out.push(format!("standard rating {} after {}", pair[1], pair[0]));
        }
    }
    for row in cells
        .rows("dwelling_conductors")
        .filter(|r| !table.contains(&n(r, "rating_A")))
    {
        out.push(format!(
            "dwelling rating {} is not standard",
            row["rating_A"]
        ));
    }
}

/// Place in the gauge, 14 being 0; sizes in kcmil have none.
fn gauge(size: &str) -> Option<i32> {
    [
        "14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0",
    ]
    .iter()
    .position(|s| *s == size)
    .map(|i| i as i32)
}

#[test]
fn grounding_conductors_grow_with_what_they_protect() {
    crate::check(outliers(&Cells::built_in()), &[]);
}
