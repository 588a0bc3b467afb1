//! Raceways and conductors: circles, percentages, pipe walls, insulation walls, and published conductor counts.
//! Laws: area = pi/4 d^2; iron-pipe outside diameters less two minimum walls; product-standard insulation walls in mils;
//! counts as reprinted in the 2018 IRC, Tables E3904.6(1) and (9), a fraction of 0.8 or more counting as one more.

use crate::cells::{Cells, Row, area, n, near, number};

/// Trade size, iron-pipe outside diameter, schedule 40 wall, schedule 80 wall; inches.
#[allow(clippy::approx_constant)] // a wall of 0.318 in has nothing to do with pi
const PIPES: [(&str, f64, f64, f64); 10] = [
    ("1/2", 0.840, 0.109, 0.147),
    ("3/4", 1.050, 0.113, 0.154),
    ("1", 1.315, 0.133, 0.179),
    ("1-1/4", 1.660, 0.140, 0.191),
    ("1-1/2", 1.900, 0.145, 0.200),
    ("2", 2.375, 0.154, 0.218),
    ("2-1/2", 2.875, 0.203, 0.276),
    ("3", 3.500, 0.216, 0.300),
    ("3-1/2", 4.000, 0.226, 0.318),
    ("4", 4.500, 0.237, 0.337),
];

const COUNT_SIZES: [&str; 6] = ["1/2", "3/4", "1", "1-1/4", "1-1/2", "2"];

/// XHHW in PVC schedule 80.
const XHHW_COUNTS: [(&str, [u32; 6]); 11] = [
    ("14", [6, 11, 20, 35, 49, 82]),
    ("12", [5, 9, 15, 27, 38, 63]),
    ("10", [3, 6, 11, 20, 28, 47]),
    ("8", [1, 3, 6, 11, 15, 26]),
    ("6", [1, 2, 4, 8, 11, 19]),
    ("4", [1, 1, 3, 6, 8, 14]),
    ("3", [1, 1, 3, 5, 7, 12]),
    ("2", [1, 1, 2, 4, 6, 10]),
    ("1", [0, 1, 1, 3, 4, 7]),
    ("1/0", [0, 1, 1, 2, 3, 6]),
    ("2/0", [0, 1, 1, 1, 3, 5]),
];

/// Covered RHH and RHW in EMT: size, area in square inches, counts.
const RHW_COUNTS: [(&str, f64, [u32; 6]); 11] = [
    ("14", 0.0293, [4, 7, 11, 20, 27, 46]),
    ("12", 0.0353, [3, 6, 9, 17, 23, 38]),
    ("10", 0.0437, [2, 5, 8, 13, 18, 30]),
    ("8", 0.0835, [1, 2, 4, 7, 9, 16]),
    ("6", 0.1041, [1, 1, 3, 5, 8, 13]),
    ("4", 0.1333, [1, 1, 2, 4, 6, 10]),
    ("3", 0.1521, [1, 1, 1, 4, 5, 9]),
    ("2", 0.1750, [1, 1, 1, 3, 4, 7]),
    ("1", 0.2660, [0, 1, 1, 1, 3, 5]),
    ("1/0", 0.3039, [0, 1, 1, 1, 2, 4]),
    ("2/0", 0.3505, [0, 1, 1, 1, 2, 4]),
];

pub(crate) fn outliers(cells: &Cells) -> Vec<String> {
    let mut out = Vec::new();
    for row in cells.rows("raceways") {
        let name = format!("{} {}", row["raceway"], row["trade_size"]);
        let total = n(row, "total_in2");
        if !near(total, circle(n(row, "bore_in")), 0.004, 0.0012) {
            out.push(format!("{name}: area of the bore"));
        }
        for (column, share) in [
            ("one_wire_in2", 0.53),
            ("two_wires_in2", 0.31),
            ("over_two_wires_in2", 0.40),
        ] {
            if !near(n(row, column), share * total, 0.003, 0.0012) {
                out.push(format!("{name}: {column}"));
            }
        }
    }
    bores(cells, &mut out);
    walls(cells, &mut out);
    counts(cells, &mut out);
    let fill: Vec<&str> = cells
        .rows("raceway_fill")
        .map(|r| r["percent"].as_str())
        .collect();
    if fill != ["53", "31", "40"] {
        out.push("fill percentages are not those of the area columns".to_owned());
    }
    out
}

fn circle(diameter: f64) -> f64 {
    std::f64::consts::FRAC_PI_4 * diameter * diameter
}

fn bore(cells: &Cells, raceway: &str, size: &str) -> Option<f64> {
    let mut rows = cells.rows("raceways");
    rows.find(|r| r["raceway"] == raceway && r["trade_size"] == size)
        .map(|r| n(r, "bore_in"))
}

fn bores(cells: &Cells, out: &mut Vec<String>) {
    let rows: Vec<&Row> = cells.rows("raceways").collect();
    for pair in rows
        .windows(2)
        .filter(|p| p[0]["raceway"] == p[1]["raceway"])
    {
        if n(pair[1], "bore_in") <= n(pair[0], "bore_in") {
            out.push(format!(
                "{} {}: bore does not rise",
                pair[1]["raceway"], pair[1]["trade_size"]
            ));
        }
    }
    for (size, outside, wall40, wall80) in PIPES {
        for (raceway, wall) in [("PVC-40", wall40), ("PVC-80", wall80)] {
            let less = outside - 2.0 * wall - bore(cells, raceway, size).unwrap();
            if !(0.010..=0.041).contains(&less) {
                out.push(format!("{raceway} {size}: bore against pipe walls"));
            }
        }
        let [p80, p40, rigid] = ["PVC-80", "PVC-40", "RMC"].map(|r| bore(cells, r, size).unwrap());
        if !(p80 < p40 && p40 < rigid) {
            out.push(format!("{size}: order of bores"));
        }
    }
}

/// Walls in mils: nylon-jacketed thermoplastic, cross-linked.
fn standard_walls(size: &str) -> (f64, f64) {
    match size.parse::<model::WireSize>().unwrap().area().0 {
        a if a < 7_000.0 => (19.0, 30.0),
        a if a < 11_000.0 => (24.0, 30.0),
        a if a < 27_000.0 => (35.0, 45.0),
        a if a < 67_000.0 => (46.0, 45.0),
        a if a < 212_000.0 => (57.0, 55.0),
        a if a <= 500_000.0 => (68.0, 65.0),
        _ => (79.0, 80.0),
    }
}

fn walls(cells: &Cells, out: &mut Vec<String>) {
    for row in cells.rows("conductor_dimensions") {
        let (family, size) = (row["insulation"].split(' ').next().unwrap(), &row["size"]);
        let name = format!("{size} {family} {}", row["construction"]);
        let diameter = n(row, "diameter_in");
        if !near(n(row, "area_in2"), circle(diameter), 0.005, 0.00012) {
            out.push(format!("{name}: area of its circle"));
        }
        let (nylon, crosslinked) = standard_walls(size);
        let wall = if family == "THHN" { nylon } else { crosslinked };
        let compact = row["construction"] == "compact";
        let bare = if compact {
            cells
                .rows("compact_bare")
                .find(|r| r["size"] == *size)
                .map(|r| n(r, "diameter_in"))
        } else {
            let stranded = cells
                .rows("conductor_properties")
                .filter(|r| r["size"] == *size);
            stranded.last().map(|r| n(r, "diameter_in"))
        };
        let found = 500.0 * (diameter - bare.unwrap());
        let tolerance = if compact { 5.5 } else { 1.6 };
        if (!compact || family == "XHHW") && (found - wall).abs() > tolerance {
            out.push(format!("{name}: wall {found:.1} mil, standard {wall}"));
        }
    }
    for row in cells.rows("compact_bare") {
        let ratio = 1000.0 * n(row, "diameter_in") / area(&row["size"]).sqrt();
        if !(1.03..=1.12).contains(&ratio) {
            out.push(format!("{} compact: bare diameter", row["size"]));
        }
    }
}

fn counts(cells: &Cells, out: &mut Vec<String>) {
    for (size, published) in XHHW_COUNTS {
        let mut rows = cells.rows("conductor_dimensions");
        let row = rows.find(|r| {
            r["insulation"].starts_with("XHHW")
                && r["construction"] == "standard"
                && r["size"] == size
        });
        compare(
            cells,
            "PVC-80",
            size,
            n(row.unwrap(), "area_in2"),
            published,
            out,
        );
    }
    for (size, wire, published) in RHW_COUNTS {
        compare(cells, "EMT", size, wire, published, out);
    }
}

fn compare(
    cells: &Cells,
    raceway: &str,
    size: &str,
    wire: f64,
    published: [u32; 6],
    out: &mut Vec<String>,
) {
    for (trade_size, published) in COUNT_SIZES.into_iter().zip(published) {
        let mut rows = cells.rows("raceways");
        let row = rows
            .find(|r| r["raceway"] == raceway && r["trade_size"] == trade_size)
            .unwrap();
        let ratio = |column: &str| number(row, column).unwrap() / wire;
        let whole = |r: f64| (r + 0.2 + 1e-9).floor() as u32;
        let [many, two, one] = ["over_two_wires_in2", "two_wires_in2", "one_wire_in2"].map(ratio);
        let (count, of) = match (whole(many), whole(two), whole(one)) {
            (m, _, _) if m >= 3 => (m, many),
            (_, t, _) if t >= 2 => (2, two),
            (_, _, o) => (o.min(1), one),
        };
        if count != published {
            let edge = if (of.fract() - 0.8).abs() < 0.03 {
                "edge of rounding"
            } else {
                "wrong"
            };
            out.push(format!(
                "{size} in {raceway} {trade_size}: {published} published, {count} computed, {edge}"
            ));
        }
    }
}

/// Walls: compact dimensions are generous nominals. Counts: the fraction stands at 0.78 to 0.81, where metric columns decide.
#[test]
fn raceways_and_conductors_are_circles_with_standard_walls() {
    crate::check(
        outliers(&Cells::built_in()),
        &[
            "300 XHHW compact: wall 72.5 mil, standard 65",
            "350 XHHW compact: wall 72.0 mil, standard 65",
            "500 XHHW compact: wall 72.0 mil, standard 65",
            "700 XHHW compact: wall 86.5 mil, standard 80",
            "750 XHHW compact: wall 91.0 mil, standard 80",
            "14 in PVC-80 1: 20 published, 19 computed, edge of rounding",
            "12 in PVC-80 1-1/2: 38 published, 37 computed, edge of rounding",
            "14 in EMT 1: 11 published, 12 computed, edge of rounding",
            "12 in EMT 1: 9 published, 10 computed, edge of rounding",
        ],
    );
}
