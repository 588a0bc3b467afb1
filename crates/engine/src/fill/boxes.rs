//! Is an outlet or junction box large enough for what is in it?
//! Source: NFPA 70 314.16(A) and (B), counting rules by edition from the tables. Cubic inches.

use model::units::CubicInches;
use model::{Fact, WireSize};
use rulebook::NoValue;
use rulebook::tables::{BoxItem, TablesIn};
use serde::Serialize;

use crate::conductor::Verdict;
use crate::worksheet::{Line, Quantity, Worksheet};

/// Conductors of one size.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Counted {
    /// Trade size.
    pub size: WireSize,
    /// How many.
    pub count: u32,
}

/// A device on its yoke.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Yoke {
    /// Largest conductor on the device.
    pub size: WireSize,
    /// Gangs it takes; more than one for a device wider than one gang.
    pub gangs: u32,
}

/// What is in the box. Pigtails that stay inside do not count and are left out.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct BoxContents {
    /// Volume of box, rings and extensions, as stamped.
    pub volume: Fact<CubicInches>,
    /// Conductors that come in and end or are spliced here.
    pub ending: Vec<Counted>,
    /// Conductors that pass through without a splice or a long loop.
    pub passing: Vec<Counted>,
    /// Conductors that pass through with a loop of at least twice the free length.
    pub looped: Vec<Counted>,
    /// Cable clamps inside the box.
    pub internal_clamps: bool,
    /// Kinds of support fittings: luminaire stud, hickey.
    pub support_fittings: u32,
    /// Devices.
    pub yokes: Vec<Yoke>,
    /// Equipment grounding conductors and jumpers.
    pub grounds: Vec<Counted>,
    /// A separate set of isolated equipment grounding conductors.
    pub isolated_grounds: Vec<Counted>,
    /// Largest conductor on each terminal block.
    pub terminal_blocks: Vec<WireSize>,
}

/// Volume that the contents need, against the box. The volume comes back even when the box's own is unknown.
pub fn box_fill(
    id: &str,
    contents: &BoxContents,
    book: &TablesIn<'_>,
) -> (Worksheet, Option<CubicInches>, Verdict) {
    let mut sheet = Worksheet::new(format!("{id}.box-fill"), "Box fill", book.edition());
    let needed = match needed(contents, book, &mut sheet) {
        Ok(needed) => needed,
        Err(why) => {
            sheet.push(Line::no_value("Volume needed", &why));
            return (sheet, None, Verdict::CannotTell);
        }
    };
    sheet.push(Line::number("Volume needed", needed).how("sum of the allowances"));
    let volume = contents.volume.get();
    let verdict = volume.map_or(Verdict::CannotTell, |v| Verdict::from_bool(needed <= v));
    let mut line = Line::new(
        "Box is large enough",
        verdict.value("volume of the box, as stamped"),
    );
    if let Some(volume) = volume {
        line = line.input("volume of the box", volume);
    }
    sheet.push(line);
    (sheet, Some(needed), verdict)
}

fn needed(
    it: &BoxContents,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<CubicInches, NoValue> {
    let mut sum = CubicInches::ZERO;
    for (item, label, conductors) in [
        (
            BoxItem::ConductorEnding,
            "Conductors that end here",
            &it.ending,
        ),
        (
            BoxItem::ConductorPassing,
            "Conductors that pass through",
            &it.passing,
        ),
        (
            BoxItem::ConductorLooped,
            "Conductors that pass through with a loop",
            &it.looped,
        ),
    ] {
        for c in conductors {
            sum += allowance(item, label, c.count, c.size, book, sheet)?;
        }
    }
    if let Some(largest) = largest_in_box(it) {
        let clamps = u32::from(it.internal_clamps);
        sum += allowance(
            BoxItem::InternalClamps,
            "Internal cable clamps",
            clamps,
            largest,
            book,
            sheet,
        )?;
        sum += allowance(
            BoxItem::SupportFitting,
            "Support fittings",
            it.support_fittings,
            largest,
            book,
            sheet,
        )?;
    }
    for yoke in &it.yokes {
        sum += allowance(
            BoxItem::DeviceYoke,
            "Device",
            yoke.gangs.max(1),
            yoke.size,
            book,
            sheet,
        )?;
    }
    for (item, label, grounds) in [
        (
            BoxItem::EquipmentGrounding,
            "Equipment grounding conductors",
            &it.grounds,
        ),
        (
            BoxItem::IsolatedGrounding,
            "Isolated grounding conductors",
            &it.isolated_grounds,
        ),
    ] {
        let count = grounds.iter().map(|g| g.count).fold(0, u32::saturating_add);
        if let Some(largest) = grounds.iter().filter(|g| g.count > 0).map(|g| g.size).max() {
            sum += allowance(item, label, count, largest, book, sheet)?;
        }
    }
    for &size in &it.terminal_blocks {
        sum += allowance(
            BoxItem::TerminalBlock,
            "Terminal block",
            1,
            size,
            book,
            sheet,
        )?;
    }
    Ok(sum)
}

fn largest_in_box(it: &BoxContents) -> Option<WireSize> {
    [
        &it.ending,
        &it.passing,
        &it.looped,
        &it.grounds,
        &it.isolated_grounds,
    ]
    .into_iter()
    .flatten()
    .filter(|c| c.count > 0)
    .map(|c| c.size)
    .max()
}

fn allowance(
    item: BoxItem,
    label: &'static str,
    count: u32,
    size: WireSize,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<CubicInches, NoValue> {
    if count == 0 {
        return Ok(CubicInches::ZERO);
    }
    let rule = book.box_count(item)?;
    let each = book.box_allowance(size)?;
    let allowances = rule.value.allowances_for(count);
    let volume = each.value * allowances;
    sheet.push(
        Line::number(label, volume)
            .how("allowances x volume of one")
            .input("how many", Quantity::number(f64::from(count)))
            .input("allowances", Quantity::number(allowances))
            .input("volume of one", each.value)
            .input_text("size", size.to_string())
            .checked(each.check)
            .source(&rule),
    );
    Ok(volume)
}
