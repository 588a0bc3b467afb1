//! Household cooking appliances: their demand on a feeder or service.
//! NFPA 70 Table 220.55 with Notes 1 to 3 (2014-2023), Table 120.55 (2026). Nameplate VA in, VA out.

use model::units::{Percent, VoltAmperes};
use rulebook::tables::{Subject, TablesIn, limit};
use rulebook::{Check, NoValue, Sourced};

use super::cooking_columns as columns;
use super::input::CookingReading;
use super::outcome::{Alike, Step, weakest};
use crate::worksheet::{Line, Quantity};

/// Label of the line that carries the demand on cooking appliances.
pub const DEMAND: &str = "Demand on household cooking appliances";
/// Label of the line that carries the maximum demand of column C, before any raise.
pub const COLUMN_C: &str = "Column C, maximum demand";
/// Label of the line that carries the raise in percent.
pub const RAISE: &str = "Raise for larger ratings";
/// Label of the line that carries column C raised for ratings over those it is made for.
pub const RAISED: &str = "Column C raised for larger ratings";

/// Demand that these appliances put on a feeder or service.
/// Each rating is one appliance's nameplate; those too small for the table count in full.
///
/// # Errors
/// A percentage or demand that the edition's table needs was not found.
pub fn feeder(
    ratings: &[Alike],
    reading: CookingReading,
    book: &TablesIn<'_>,
) -> Result<Step, NoValue> {
    let bounds = Bounds::of(book)?;
    let mut lines = Vec::new();
    let pick = |from: &dyn Fn(VoltAmperes) -> bool| -> Vec<Alike> {
        ratings
            .iter()
            .copied()
            .filter(|r| r.count > 0 && from(r.va))
            .collect()
    };
    let below = pick(&|va| va <= bounds.least.value);
    let above = pick(&|va| va > bounds.most.value);
    let listed = pick(&|va| va > bounds.least.value && va <= bounds.most.value);

    let mut total = listed_demand(&listed, reading, &bounds, book, &mut lines)?;
    total += at_nameplate(
        &below,
        "Cooking appliances too small for the table, in full",
        &mut lines,
        book,
    );
    total += at_nameplate(
        &above,
        "Cooking appliances too large for the table, in full",
        &mut lines,
        book,
    );
    lines.push(
        Line::number(DEMAND, total)
            .cite(book.cite(Subject::Ranges))
            .checked(weakest(&lines)),
    );
    Ok(Step {
        value: total,
        lines,
    })
}

/// Where the columns of the table begin and end.
struct Bounds {
    least: Sourced<VoltAmperes>,
    small: Sourced<VoltAmperes>,
    medium: Sourced<VoltAmperes>,
    full: Sourced<VoltAmperes>,
    most: Sourced<VoltAmperes>,
    raise: Sourced<Percent>,
}

impl Bounds {
    fn of(book: &TablesIn<'_>) -> Result<Self, NoValue> {
        Ok(Self {
            least: book.limit(limit::RANGE_TABLE_OVER)?,
            small: book.limit(limit::RANGE_COLUMN_A_BELOW)?,
            medium: book.limit(limit::RANGE_COLUMN_B_TO)?,
            full: book.limit(limit::RANGE_INCREASE_OVER)?,
            most: book.limit(limit::RANGE_INCREASE_TO)?,
            raise: book.limit(limit::RANGE_INCREASE_PER_KW)?,
        })
    }

    fn check(&self) -> Check {
        self.least
            .check
            .min(self.small.check)
            .min(self.medium.check)
            .min(self.full.check)
            .min(self.most.check)
    }
}

fn listed_demand(
    listed: &[Alike],
    reading: CookingReading,
    bounds: &Bounds,
    book: &TablesIn<'_>,
    lines: &mut Vec<Line>,
) -> Result<VoltAmperes, NoValue> {
    if listed.is_empty() {
        return Ok(VoltAmperes::ZERO);
    }
    let column_c = column_c(listed, bounds, book, lines)?;
    let pick = |from: &dyn Fn(VoltAmperes) -> bool| -> Vec<Alike> {
        listed.iter().copied().filter(|r| from(r.va)).collect()
    };
    let small = pick(&|r| r < bounds.small.value);
    let medium = pick(&|r| r >= bounds.small.value && r <= bounds.medium.value);
    let large = pick(&|r| r > bounds.medium.value);
    if small.is_empty() && medium.is_empty() {
        return Ok(column_c);
    }

    let mut unseen = Vec::new();
    let beside = if large.is_empty() {
        VoltAmperes::ZERO
    } else {
        self::column_c(&large, bounds, book, &mut unseen)?
    };
    let (chosen, why) = columns::percentages(&small, &medium, reading, book)?;
    for group in &chosen.groups {
        lines.push(group.clone());
    }
    let note_3 = chosen.value + beside;
    let mut line = Line::number("Columns A and B", note_3)
        .how("sum of nameplates x percentage, group by group")
        .cite(book.cite(Subject::Ranges))
        .checked(chosen.check.min(bounds.check()));
    if beside > VoltAmperes::ZERO {
        line = line.input("larger appliances, by column C", beside);
    }
    if !why.is_empty() {
        line = line.note(why);
    }
    lines.push(line);
    if note_3 > column_c {
        lines.push(
            Line::number("Not more than column C", column_c)
                .how("columns A and B are permitted instead of column C, never required")
                .cite(book.cite(Subject::Ranges)),
        );
    }
    Ok(note_3.min(column_c))
}

/// Column C with the raise of Notes 1 and 2: the average, where a smaller rating counts as
/// the one the column is made for, raises the whole column by so much per kW and major fraction.
fn column_c(
    ratings: &[Alike],
    bounds: &Bounds,
    book: &TablesIn<'_>,
    lines: &mut Vec<Line>,
) -> Result<VoltAmperes, NoValue> {
    let count = Alike::count(ratings);
    let base = book.range_column_c(count)?;
    lines.push(
        Line::number(COLUMN_C, base.value)
            .input("appliances", Quantity::number(f64::from(count)))
            .source(&base)
            .checked(bounds.check()),
    );
    let counted: VoltAmperes = ratings
        .iter()
        .map(|r| r.va.max(bounds.full.value) * f64::from(r.count))
        .sum();
    let average = counted / f64::from(count);
    let over = average - bounds.full.value;
    // A major fraction is one half or more; the small term keeps 0.5 on its side after division.
    let kilowatts = (over.0 / 1000.0 + 0.5 + 1e-9).floor();
    if kilowatts < 1.0 {
        return Ok(base.value);
    }
    let raise = Percent(bounds.raise.value.0 * kilowatts);
    let value = base.value * (1.0 + raise.factor());
    let alike = ratings.windows(2).all(|pair| pair[0].va == pair[1].va);
    lines.push(
        Line::number(RAISE, raise)
            .how("percentage for each kW, or major fraction, over the rating column C is made for")
            .input("rating column C is made for", bounds.full.value)
            .input(
                if alike {
                    "rating of each"
                } else {
                    "average rating, smaller ones counted at that rating"
                },
                average,
            )
            .input("whole kW over", Quantity::number(kilowatts))
            .source(&bounds.raise),
    );
    lines.push(
        Line::number(RAISED, value)
            .how("column C x (100 % + raise)")
            .source(&base)
            .checked(bounds.raise.check),
    );
    Ok(value)
}

fn at_nameplate(
    ratings: &[Alike],
    label: &'static str,
    lines: &mut Vec<Line>,
    book: &TablesIn<'_>,
) -> VoltAmperes {
    if ratings.is_empty() {
        return VoltAmperes::ZERO;
    }
    let sum = Alike::sum(ratings);
    lines.push(
        Line::number(label, sum)
            .how("sum of nameplates")
            .cite(book.cite(Subject::Ranges)),
    );
    sum
}
