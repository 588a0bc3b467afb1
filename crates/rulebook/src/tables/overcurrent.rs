//! Standard ratings of breakers and fuses, and what a small conductor may be protected at.
//! Source: NFPA 70 Table 240.6(A) and 240.4(D) (`standard_ratings.csv`, `small_conductors.csv`). Amperes.

use std::sync::Arc;

use model::units::Amperes;
use model::{Edition, Material, WireSize};

use super::TablesIn;
use super::ampacity::materials;
use super::entry::{BySize, Entry, found};
use super::reader::Reader;
use super::subject::Subject;
use crate::source::{Check, Lookup};

#[derive(Clone, Debug, Default)]
pub(crate) struct Overcurrent {
    ratings: Vec<(Amperes, Check)>,
    fuses: Vec<(Amperes, Check)>,
    small: [BySize<Amperes>; 3],
}

pub(crate) fn load(reader: &mut Reader<'_>) -> [Overcurrent; 5] {
    const RATINGS: &str = "tables/standard_ratings.csv";
    let ratings = reader.rows(RATINGS, &["rating_A", "kind"], 2, |cells| {
        let rating = cells.number("rating_A", Amperes);
        let rating = cells.needed("rating_A", rating)?;
        match cells.text("kind") {
            "table" => Some((rating, true)),
            "additional fuse" => Some((rating, false)),
            other => {
                let found = format!("`{other}`");
                cells.wrong(
                    "kind",
                    "table or additional fuse",
                    found,
                    "correct the cell",
                );
                None
            }
        }
    });
    const SMALL: &str = "tables/small_conductors.csv";
    let small = reader.rows(
        SMALL,
        &["size", "material", "limit_A", "section"],
        2,
        |cells| {
            let limit = cells.number("limit_A", Amperes);
            let section: Arc<str> = Arc::from(cells.text("section"));
            Some((cells.sizes("size")?, materials(cells)?, limit, section))
        },
    );
    Edition::ALL.map(|edition| {
        let of_kind = |table: bool| {
            let mut list: Vec<_> = ratings
                .iter()
                .filter(|r| r.holds_in(edition) && r.value.1 == table)
                .map(|r| (r.value.0, r.check))
                .collect();
            list.sort_by(|a, b| a.0.0.total_cmp(&b.0.0));
            list
        };
        let mut limits: [BySize<Amperes>; 3] = Default::default();
        for row in small.iter().filter(|r| r.holds_in(edition)) {
            let (sizes, materials, value, section) = &row.value;
            for material in materials {
                let entry = Entry {
                    value: *value,
                    check: row.check,
                    section: Some(section.clone()),
                };
                limits[*material as usize].put(*sizes, entry, (SMALL, row.line), reader);
            }
        }
        if of_kind(true).is_empty() {
            let found = format!("none in edition {edition}");
            reader.wrong(RATINGS, 0, None, "standard ratings", found, "add the rows");
        }
        Overcurrent {
            ratings: of_kind(true),
            fuses: of_kind(false),
            small: limits,
        }
    })
}

impl TablesIn<'_> {
    /// Standard ratings of breakers and fuses, lowest first.
    pub fn standard_ratings(&self) -> impl Iterator<Item = Amperes> {
        self.tables
            .overcurrent
            .ratings
            .iter()
            .map(|(rating, _)| *rating)
    }

    /// Ratings that only fuses come in besides, lowest first.
    pub fn additional_fuse_ratings(&self) -> impl Iterator<Item = Amperes> {
        self.tables
            .overcurrent
            .fuses
            .iter()
            .map(|(rating, _)| *rating)
    }

    /// Smallest standard rating that is not below `amperes`. `NoEntry` above the largest.
    pub fn next_standard_rating(&self, amperes: Amperes) -> Lookup<Amperes> {
        let ratings = &self.tables.overcurrent.ratings;
        let i = ratings.partition_point(|(rating, _)| *rating < amperes);
        self.rating(ratings.get(i), || format!("a rating of {amperes} or more"))
    }

    /// Largest standard rating that is not above `amperes`. `NoEntry` below the smallest.
    pub fn standard_rating_not_above(&self, amperes: Amperes) -> Lookup<Amperes> {
        let ratings = &self.tables.overcurrent.ratings;
        let i = ratings.partition_point(|(rating, _)| *rating <= amperes);
        let at = i.checked_sub(1).and_then(|i| ratings.get(i));
        self.rating(at, || format!("a rating of {amperes} or less"))
    }

    fn rating(
        &self,
        rating: Option<&(Amperes, Check)>,
        wanted: impl FnOnce() -> String,
    ) -> Lookup<Amperes> {
        let entry = rating.map(|(a, c)| Entry {
            value: Some(*a),
            check: *c,
            section: None,
        });
        found(entry, self.cite(Subject::StandardRatings), wanted)
    }

    /// Largest breaker or fuse for a small conductor. `NoEntry` for sizes that have no such limit.
    pub fn small_conductor_limit(&self, size: WireSize, material: Material) -> Lookup<Amperes> {
        let entry = self.tables.overcurrent.small[material as usize].get(size);
        found(entry.cloned(), self.cite(Subject::SmallConductors), || {
            format!("{size} {material}")
        })
    }
}
