//! How much room does a conductor need between its terminal and the wall it faces?
//! Source: NFPA 70 312.6(A), 312.6(B), by edition. Inches.

use model::WireSize;
use model::house::Leaves;
use model::units::Inches;
use rulebook::Lookup;
use rulebook::tables::TablesIn;

use crate::conductor::Verdict;
use crate::worksheet::{Line, Worksheet};

/// Room needed against room there is. Below the smallest size the table has a number for, none is asked and any room is enough.
pub fn bending_space(
    id: &str,
    size: WireSize,
    wires_per_terminal: u32,
    leaves: Leaves,
    compact: bool,
    room: Option<Inches>,
    book: &TablesIn<'_>,
) -> (Worksheet, Option<Inches>, Verdict) {
    let mut sheet = Worksheet::new(
        format!("{id}.wire-bending"),
        "Wire-bending space",
        book.edition(),
    );
    let asked = |size| match leaves {
        Leaves::Turning => book.wire_bending_same_wall(size, wires_per_terminal),
        Leaves::Opposite => book.wire_bending_opposite_wall(size, compact, wires_per_terminal),
    };
    let needed = match asked(size) {
        Ok(needed) => needed,
        Err(_) if wires_per_terminal == 1 && is_below_the_table(size, asked) => {
            sheet.push(Line::text("Room needed", "none specified for this size"));
            return (sheet, None, Verdict::Pass);
        }
        Err(why) => {
            sheet.push(Line::no_value("Room needed", &why));
            return (sheet, None, Verdict::CannotTell);
        }
    };
    sheet.push(
        Line::number("Room needed", needed.value)
            .input_text("size", size.to_string())
            .source(&needed),
    );
    let verdict = room.map_or(Verdict::CannotTell, |room| {
        Verdict::from_bool(room >= needed.value)
    });
    let value = verdict.value("room between the terminal and the wall");
    let mut line = Line::new("Room for the bend", value);
    if let Some(room) = room {
        line = line.input("room", room);
    }
    sheet.push(line.source(&needed));
    (sheet, Some(needed.value), verdict)
}

/// Larger sizes have a number, smaller ones have none.
fn is_below_the_table(size: WireSize, asked: impl Fn(WireSize) -> Lookup<Inches>) -> bool {
    let has_number = |s: WireSize| asked(s).is_ok();
    WireSize::all().filter(|s| *s > size).any(has_number)
        && !WireSize::all().filter(|s| *s < size).any(has_number)
}
