//! Boxes: printed conductor counts from volume over allowance, and volume against outside dimensions.
//! Laws: count = whole part of volume / allowance, against a public reprint of the counts; the inside is 74 to 94 % of the outside.

use crate::cells::{Cells, Row, n};

/// Conductors of 18, 16, 14, 12, 10, 8, 6 AWG, as reprinted.
const COUNTS: [(&str, [f64; 7]); 12] = [
    (
        "4 x 1-1/4 round or octagonal",
        [8.0, 7.0, 6.0, 5.0, 5.0, 5.0, 2.0],
    ),
    (
        "4 x 1-1/2 round or octagonal",
        [10.0, 8.0, 7.0, 6.0, 6.0, 5.0, 3.0],
    ),
    (
        "4 x 2-1/8 round or octagonal",
        [14.0, 12.0, 10.0, 9.0, 8.0, 7.0, 4.0],
    ),
    ("4 x 1-1/4 square", [12.0, 10.0, 9.0, 8.0, 7.0, 6.0, 3.0]),
    ("4 x 1-1/2 square", [14.0, 12.0, 10.0, 9.0, 8.0, 7.0, 4.0]),
    (
        "4 x 2-1/8 square",
        [20.0, 17.0, 15.0, 13.0, 12.0, 10.0, 6.0],
    ),
    (
        "4-11/16 x 1-1/4 square",
        [17.0, 14.0, 12.0, 11.0, 10.0, 8.0, 5.0],
    ),
    (
        "4-11/16 x 1-1/2 square",
        [19.0, 16.0, 14.0, 13.0, 11.0, 9.0, 5.0],
    ),
    (
        "4-11/16 x 2-1/8 square",
        [28.0, 24.0, 21.0, 18.0, 16.0, 14.0, 8.0],
    ),
    ("3 x 2 x 1-1/2 device", [5.0, 4.0, 3.0, 3.0, 3.0, 2.0, 1.0]),
    ("3 x 2 x 2 device", [6.0, 5.0, 5.0, 4.0, 4.0, 3.0, 2.0]),
    ("3 x 2 x 2-1/4 device", [7.0, 6.0, 5.0, 4.0, 4.0, 3.0, 2.0]),
];

pub(crate) fn outliers(cells: &Cells) -> Vec<String> {
    let mut out = Vec::new();
    let allowances: Vec<&Row> = cells.rows("box_allowances").collect();
    for (name, printed) in COUNTS {
        let volume = cells
            .rows("box_volumes")
            .find(|r| r["box"] == name)
            .map(|r| n(r, "volume_in3"));
        for (allowance, printed) in allowances.iter().zip(printed) {
            let count = (volume.unwrap() / n(allowance, "volume_in3") + 1e-9).floor();
            if count != printed {
                out.push(format!(
                    "{name}, {} AWG: {printed} printed, {count} by volume",
                    allowance["size"]
                ));
            }
        }
    }
    for row in cells
        .rows("box_volumes")
        .filter(|r| !r["outside_in"].is_empty())
    {
        let mut sides: Vec<f64> = row["outside_in"].split(" x ").map(inches).collect();
        if sides.len() == 2 {
            let face = if row["box"].contains("octagonal") {
                0.828
            } else {
                1.0
            };
            sides.push(sides[0] * face);
        }
        let share = n(row, "volume_in3") / sides.iter().product::<f64>();
        if !(0.74..=0.94).contains(&share) {
            out.push(format!("{}: {share:.2} of the outside", row["box"]));
        }
    }
    out
}

/// `2-1/8` is two and one eighth.
fn inches(text: &str) -> f64 {
    text.split('-')
        .map(|part| match part.split_once('/') {
            Some((over, under)) => over.parse::<f64>().unwrap() / under.parse::<f64>().unwrap(),
            None => part.parse().unwrap(),
        })
        .sum()
}

/// The known one stands in a single public copy; the volume decides.
#[test]
fn boxes_hold_as_many_conductors_as_their_volume_allows() {
    crate::check(
        outliers(&Cells::built_in()),
        &["4 x 1-1/4 round or octagonal, 8 AWG: 5 printed, 4 by volume"],
    );
}
