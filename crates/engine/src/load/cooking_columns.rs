//! Columns A and B of the cooking table: a percentage of the nameplates, group by group.
//! NFPA 70 Table 220.55 Note 3 (2014-2023), Table 120.55 (2026). Nameplate VA in, VA out.

use model::units::{Percent, VoltAmperes};
use rulebook::tables::{RangeColumn, TablesIn};
use rulebook::{Check, Lookup, NoValue};

use super::input::CookingReading;
use super::outcome::Alike;
use crate::worksheet::{Line, Text};

/// Works the columns by the reading wanted, and says which reading that was where it matters.
pub(super) fn percentages(
    small: &[Alike],
    medium: &[Alike],
    reading: CookingReading,
    book: &TablesIn<'_>,
) -> Result<(Percentages, Text), NoValue> {
    let own = at_rows(
        small,
        medium,
        (Alike::count(small), Alike::count(medium)),
        book,
    )?;
    let both = Alike::count(small).saturating_add(Alike::count(medium));
    let total = at_rows(small, medium, (both, both), book)?;
    let (chosen, why) = match reading {
        CookingReading::OwnCount => (
            own,
            "each group by its own number: the reading chosen for this authority".into(),
        ),
        CookingReading::TotalCount => (
            total,
            "both groups by the number together: the reading chosen for this authority".into(),
        ),
        CookingReading::Larger if small.is_empty() || medium.is_empty() => {
            (own, Text::Borrowed(""))
        }
        CookingReading::Larger => {
            let why = format!(
                "two readings: each group by its own number gives {}, both by the number together {}; the larger is taken",
                own.value, total.value
            );
            let larger = if own.value >= total.value { own } else { total };
            (larger, why.into())
        }
    };
    Ok((chosen, why))
}

/// Columns A and B worked for one choice of rows.
pub(super) struct Percentages {
    pub(super) value: VoltAmperes,
    pub(super) check: Check,
    pub(super) groups: Vec<Line>,
}

fn at_rows(
    small: &[Alike],
    medium: &[Alike],
    rows: (u32, u32),
    book: &TablesIn<'_>,
) -> Result<Percentages, NoValue> {
    let mut all = Percentages {
        value: VoltAmperes::ZERO,
        check: Check::Arithmetic,
        groups: Vec::new(),
    };
    let mut add = |label, ratings: &[Alike], percent: Lookup<Percent>| {
        let percent = percent?;
        let sum = Alike::sum(ratings);
        let value = sum * percent.value.factor();
        all.value += value;
        all.check = all.check.min(percent.check);
        all.groups.push(
            Line::number(label, value)
                .how("sum of nameplates x percentage")
                .input("sum of nameplates", sum)
                .input("percentage", percent.value)
                .source(&percent),
        );
        Ok::<(), NoValue>(())
    };
    if !small.is_empty() {
        add(
            "Column A",
            small,
            book.range_percent(RangeColumn::A, rows.0),
        )?;
    }
    if !medium.is_empty() {
        add(
            "Column B",
            medium,
            book.range_percent(RangeColumn::B, rows.1),
        )?;
    }
    Ok(all)
}
