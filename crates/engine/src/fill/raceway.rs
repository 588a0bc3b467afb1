//! How full is a raceway, which is the smallest that will do, and how many conductors of one size fit?
//! Source: NFPA 70 Chapter 9 Table 1 with notes 4 (nipples) and 7 (rounding of the count), Tables 4, 5 and 5A. Square inches.

use model::units::SquareInches;
use model::{Insulation, TradeSize, WireSize, WiringMethod};
use rulebook::NoValue;
use rulebook::tables::{Raceway, Subject, TablesIn, limit};
use serde::Serialize;

use crate::conductor::Verdict;
use crate::worksheet::{Line, Quantity, Worksheet};

/// Conductors of one kind in a raceway.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Conductor {
    /// Trade size.
    pub size: WireSize,
    /// Insulation.
    pub insulation: Insulation,
    /// Compact-stranded aluminum.
    pub compact: bool,
    /// How many.
    pub count: u32,
}

/// How a raceway is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Use {
    /// A run.
    Run,
    /// A nipple not longer than the table's limit between two enclosures.
    Nipple,
}

/// Area of all conductors.
pub(super) fn area(
    conductors: &[Conductor],
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<SquareInches, NoValue> {
    let mut total = SquareInches::ZERO;
    for conductor in conductors {
        let each = book.conductor_area(conductor.insulation, conductor.size, conductor.compact)?;
        let sum = each.value.area * f64::from(conductor.count);
        sheet.push(
            Line::number(
                format!("Area of {} x {}", conductor.count, conductor.size),
                sum,
            )
            .how("count x area of one")
            .input("area of one", each.value.area)
            .source(&each),
        );
        total += sum;
    }
    sheet.push(Line::number("Area of all conductors", total));
    Ok(total)
}

/// Area that `count` conductors may take of this raceway.
pub fn allowed(
    raceway: &Raceway,
    count: u32,
    used: Use,
    book: &TablesIn<'_>,
) -> Result<SquareInches, NoValue> {
    Ok(match (used, count) {
        (Use::Nipple, _) => {
            let share = book.limit(limit::NIPPLE_FILL)?;
            raceway.total * (share.value.factor())
        }
        (Use::Run, 0 | 1) => raceway.one_wire,
        (Use::Run, 2) => raceway.two_wires,
        (Use::Run, _) => raceway.over_two_wires,
    })
}

/// Do these conductors fit in this raceway?
pub fn raceway_fill(
    id: &str,
    method: WiringMethod,
    trade_size: TradeSize,
    conductors: &[Conductor],
    used: Use,
    book: &TablesIn<'_>,
) -> (Worksheet, Verdict) {
    let mut sheet = Worksheet::new(format!("{id}.raceway-fill"), "Raceway fill", book.edition());
    match fits(method, trade_size, conductors, used, book, &mut sheet) {
        Ok(verdict) => (sheet, verdict),
        Err(why) => {
            sheet.push(Line::no_value("Conductors fit in the raceway", &why));
            (sheet, Verdict::CannotTell)
        }
    }
}

fn fits(
    method: WiringMethod,
    trade_size: TradeSize,
    conductors: &[Conductor],
    used: Use,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<Verdict, NoValue> {
    let needed = area(conductors, book, sheet)?;
    let raceway = book.raceway(method, trade_size)?;
    let count = total(conductors);
    let room = allowed(&raceway.value, count, used, book)?;
    sheet.push(
        Line::number("Area they may take", room)
            .how("column of the table for the number of conductors, or the nipple share of the whole bore")
            .input_text("trade size", trade_size.name())
            .input("conductors", Quantity::number(f64::from(count)))
            .source(&raceway),
    );
    let mut passes = needed <= room;
    let mut line =
        Line::passes("Conductors fit in the raceway", passes).cite(book.cite(Subject::RacewayFill));
    if let ([one], false) = (conductors, passes) {
        let rounded = rounded_count(room, needed / f64::from(one.count.max(1)), book)?;
        if rounded >= one.count {
            passes = true;
            line = Line::passes("Conductors fit in the raceway", true)
                .cite(book.cite(Subject::RacewayFill))
                .note("All of one size: a fraction of the count at or above the table's limit counts as one more.");
        }
    }
    sheet.push(line);
    Ok(Verdict::from_bool(passes))
}

fn total(conductors: &[Conductor]) -> u32 {
    conductors
        .iter()
        .map(|c| c.count)
        .fold(0, u32::saturating_add)
}

/// How many conductors of `each` square inches fit in `room`; a large enough fraction counts as one more.
fn rounded_count(
    room: SquareInches,
    each: SquareInches,
    book: &TablesIn<'_>,
) -> Result<u32, NoValue> {
    let limit = book.limit(limit::CONDUCTOR_COUNT_ROUND_UP_FROM)?;
    if each.0 <= 0.0 {
        return Ok(0);
    }
    let count = room / each;
    let whole = count.floor();
    Ok((if count - whole >= limit.value {
        whole + 1.0
    } else {
        whole
    }) as u32)
}

/// How many conductors of one size and insulation fit, as a run.
pub fn most_of_one_size(
    id: &str,
    method: WiringMethod,
    trade_size: TradeSize,
    one: Conductor,
    book: &TablesIn<'_>,
) -> (Worksheet, Option<u32>) {
    let mut sheet = Worksheet::new(
        format!("{id}.raceway-count"),
        "Conductors of one size in a raceway",
        book.edition(),
    );
    let counted = || -> Result<u32, NoValue> {
        let each = book.conductor_area(one.insulation, one.size, one.compact)?;
        let raceway = book.raceway(method, trade_size)?;
        // Three columns, three counts: the table for one and two wires is met only by one and two wires.
        let by_column = |column: SquareInches| rounded_count(column, each.value.area, book);
        let many = by_column(raceway.value.over_two_wires)?;
        let count = if many > 2 {
            many
        } else if by_column(raceway.value.two_wires)? >= 2 {
            2
        } else {
            by_column(raceway.value.one_wire)?.min(1)
        };
        sheet.push(
            Line::number(format!("Conductors of {} that fit", one.size), Quantity::number(f64::from(count)))
                .how("area allowed / area of one; a fraction at or above the table's limit counts as one more")
                .input("area of one", each.value.area)
                .input("area allowed for more than two", raceway.value.over_two_wires)
                .source(&raceway)
                .checked(each.check),
        );
        Ok(count)
    }();
    match counted {
        Ok(count) => (sheet, Some(count)),
        Err(why) => {
            sheet.push(Line::no_value("Conductors that fit", &why));
            (sheet, None)
        }
    }
}

/// Trade size of the smallest raceway of this kind in which the conductors fit.
pub fn smallest_raceway(
    id: &str,
    method: WiringMethod,
    conductors: &[Conductor],
    used: Use,
    book: &TablesIn<'_>,
) -> (Worksheet, Option<TradeSize>) {
    let mut last = Worksheet::new(format!("{id}.raceway-fill"), "Raceway fill", book.edition());
    for (size, _) in book.raceways(method) {
        let (sheet, verdict) = raceway_fill(id, method, size, conductors, used, book);
        last = sheet;
        match verdict {
            Verdict::Pass => return (last, Some(size)),
            Verdict::Fail => {}
            Verdict::CannotTell => return (last, None),
        }
    }
    last.push(Line::cannot_tell(
        "Smallest raceway",
        "a raceway large enough, or a raceway at all, in the tables",
    ));
    (last, None)
}
