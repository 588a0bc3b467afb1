//! Wire-bending space and working space: order.
//! Laws: space never falls with size; through the opposite wall it is never less than along the same one; two conductors need no less than one;
//! values are whole half inches; depth never falls from condition 1 to 3 or with voltage.

use crate::cells::{Cells, Row, area, n, number};

pub(crate) fn outliers(cells: &Cells) -> Vec<String> {
    let mut out = Vec::new();
    for construction in ["standard", "compact AA-8000"] {
        let rows: Vec<&Row> = cells
            .rows("wire_bending_opposite_wall")
            .filter(|r| r["construction"] == construction)
            .collect();
        rising(&rows, &["one_wire_in", "two_wires_in"], &mut out);
    }
    let same: Vec<&Row> = cells.rows("wire_bending_same_wall").collect();
    rising(
        &same,
        &["one_wire_in", "two_wires_in", "three_wires_in"],
        &mut out,
    );
    for row in &same {
        let size = first(row);
        let mut opposite = cells.rows("wire_bending_opposite_wall");
        let at = opposite.find(|r| r["construction"] == "standard" && first(r) == size);
        let through = at.and_then(|r| number(r, "one_wire_in"));
        if number(row, "one_wire_in")
            .zip(through)
            .is_some_and(|(along, through)| along > through)
        {
            out.push(format!("{size}: along the wall above through it"));
        }
    }
    paired(cells, &mut out);
    let reductions: Vec<&Row> = cells.rows("wire_bending_reductions").collect();
    rising(&reductions, &["reduction_in"], &mut out);
    let depth: Vec<&Row> = cells.rows("working_space").collect();
    let conditions = ["condition_1_ft", "condition_2_ft", "condition_3_ft"];
    for row in &depth {
        if !conditions
            .map(|c| n(row, c))
            .windows(2)
            .all(|w| w[0] <= w[1])
            || n(row, conditions[0]) != 3.0
        {
            out.push(format!("depth to {} V", row["volts_to_ground_to_V"]));
        }
    }
    for pair in depth.windows(2) {
        if conditions.iter().any(|c| n(pair[1], c) < n(pair[0], c)) {
            out.push(format!(
                "depth falls at {} V",
                pair[1]["volts_to_ground_to_V"]
            ));
        }
    }
    out
}

fn first(row: &Row) -> &str {
    row["size"].split(" to ").next().unwrap()
}

/// A compact conductor stands beside a standard one of a smaller size with the same space.
fn paired(cells: &Cells, out: &mut Vec<String>) {
    let of = |construction: &str| -> Vec<&Row> {
        let rows = cells.rows("wire_bending_opposite_wall");
        rows.filter(|r| r["construction"] == construction)
            .skip(1)
            .collect()
    };
    for (standard, compact) in of("standard").into_iter().zip(of("compact AA-8000")) {
        let ratio = area(first(compact)) / area(first(standard));
        let same = standard["one_wire_in"] == compact["one_wire_in"];
        if !(1.25..=1.68).contains(&ratio) || !same {
            out.push(format!(
                "{} compact beside {}",
                first(compact),
                first(standard)
            ));
        }
    }
}

fn rising(rows: &[&Row], columns: &[&str], out: &mut Vec<String>) {
    for column in columns {
        let mut last = 0.0;
        for row in rows {
            let Some(space) = number(row, column) else {
                continue;
            };
            if space < last || (space * 2.0).fract() != 0.0 {
                out.push(format!("{} {column}: {space}", row["size"]));
            }
            last = space;
        }
    }
    for row in rows {
        let spaces: Vec<f64> = columns.iter().filter_map(|c| number(row, c)).collect();
        if !spaces
            .windows(2)
            .all(|w| w[0] <= w[1] && w[1] <= w[0] + 4.0)
        {
            out.push(format!("{}: more conductors, less space", row["size"]));
        }
    }
}

#[test]
fn space_grows_with_conductor_size_count_and_voltage() {
    crate::check(outliers(&Cells::built_in()), &[]);
}
