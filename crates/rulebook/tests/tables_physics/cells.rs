//! The table files as cells of text, those that hold in edition 2023.
//! Source: the data files the crate carries.

use std::collections::BTreeMap;

pub(crate) type Row = BTreeMap<String, String>;

#[derive(Clone)]
pub(crate) struct Cells(pub(crate) BTreeMap<String, Vec<Row>>);

impl Cells {
    pub(crate) fn built_in() -> Self {
        let mut tables = BTreeMap::new();
        for (path, text) in rulebook::data::under("tables/") {
            let mut csv = csv::Reader::from_reader(text.as_bytes());
            let rows: Vec<Row> = csv.deserialize().map(Result::unwrap).collect();
            let rows = rows
                .into_iter()
                .filter(|r: &Row| holds_in_2023(&r["editions"]))
                .collect();
            let name = path.trim_start_matches("tables/").trim_end_matches(".csv");
            tables.insert(name.to_owned(), rows);
        }
        Self(tables)
    }

    pub(crate) fn rows(&self, table: &str) -> impl Iterator<Item = &Row> {
        self.0[table].iter().filter(|r| r["check"] != "not found")
    }
}

fn holds_in_2023(editions: &str) -> bool {
    editions.split_whitespace().any(|part| {
        let (from, to) = part.split_once('-').unwrap_or((part, part));
        (from.parse::<u16>().unwrap()..=to.parse::<u16>().unwrap()).contains(&2023)
    })
}

/// A number, if the cell has one.
pub(crate) fn number(row: &Row, column: &str) -> Option<f64> {
    let text = row.get(column).unwrap_or_else(|| panic!("column {column}"));
    (!text.is_empty()).then(|| {
        text.parse()
            .unwrap_or_else(|_| panic!("{column}: `{text}`"))
    })
}

/// A number that must be there.
pub(crate) fn n(row: &Row, column: &str) -> f64 {
    number(row, column).unwrap_or_else(|| panic!("{column} is empty in {row:?}"))
}

/// One unit in the last printed place.
pub(crate) fn last_place(row: &Row, column: &str) -> f64 {
    row[column]
        .split_once('.')
        .map_or(1.0, |(_, decimals)| 10f64.powi(-(decimals.len() as i32)))
}

/// Circular mils of a size.
pub(crate) fn area(size: &str) -> f64 {
    size.parse::<model::WireSize>().unwrap().area().0
}

/// True where `value` is within a share of `expected`, or an absolute distance.
pub(crate) fn near(value: f64, expected: f64, share: f64, distance: f64) -> bool {
    (value - expected).abs() <= (share * expected).max(distance)
}
