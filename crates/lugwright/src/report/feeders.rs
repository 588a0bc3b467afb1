//! Does each feeder carry its load, is it protected, and if not, what is the least that would make it so?
//! Amperes; sizes as the trade writes them.

use engine::conductor::{Found, Verdict};
use engine::sheets::Sheets;
use engine::sheets::feeder::{FeederSheet, SizeSheet};
use engine::{Quantity, Value as SheetValue};
use model::units::Amperes;

use super::sheet::value;
use crate::page::{Page, columns};

/// Writes each feeder, then grounding, busbars, old cabinets and the circuits that fail.
pub(crate) fn write(page: &mut Page, sheets: &Sheets<'_>) {
    page.heading("Feeders and service conductors");
    for feeder in &sheets.feeders {
        one(page, feeder);
    }
    let rest: Vec<Vec<String>> = answers::conductors::rest(sheets)
        .map(|(id, verdict, title)| vec![word(verdict).to_owned(), id.to_owned(), title.to_owned()])
        .collect();
    if !rest.is_empty() {
        page.subheading("Grounding, busbars, old cabinets");
        columns(page, "", &["", "worksheet", ""], &rest);
    }
    let failing: Vec<_> = sheets
        .circuits
        .iter()
        .filter(|c| c.verdict == Verdict::Fail)
        .collect();
    let open = sheets
        .circuits
        .iter()
        .filter(|c| c.verdict == Verdict::CannotTell)
        .count();
    page.subheading("Breaker against conductor, branch circuits");
    page.line(&format!(
        "{} circuits: {} within limits, {} NOT, {open} that nobody can tell",
        sheets.circuits.len(),
        sheets.circuits.len() - failing.len() - open,
        failing.len(),
    ));
    for circuit in failing {
        page.paragraph(
            "FAILS    ",
            &format!(
                "circuit {}: see `lugwright sheet JOB {}`",
                circuit.id, circuit.worksheet.id
            ),
        );
    }
}

/// A verdict in a word.
pub(crate) const fn word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Pass => "passes",
        Verdict::Fail => "FAILS",
        Verdict::CannotTell => "cannot tell",
    }
}

fn one(page: &mut Page, feeder: &FeederSheet<'_>) {
    let check = &feeder.check;
    page.subheading(&format!(
        "{} to board {}: {}",
        feeder.id,
        feeder.board,
        word(check.verdict)
    ));
    let needed = check.needed.map_or("unknown".to_owned(), amperes);
    page.paragraph(
        "  ",
        &format!(
            "ampacity {}; load and device ask for {needed}; largest device by the general rule {}",
            found(&check.ampacity),
            found(&check.largest_device),
        ),
    );
    // The answers, from the worksheet itself; the whole of it is one command away.
    for line in check.worksheet.lines.iter().filter(|l| answers(&l.value)) {
        let section = line.cite.as_ref().map_or("", |c| &*c.section);
        let shown = match &line.value {
            SheetValue::CannotTell(_) => "cannot tell".to_owned(),
            other => value(other),
        };
        let checked = line.check.to_string();
        page.fixed(&[
            ("", 0),
            (&line.label, 52),
            (&shown, 11),
            (section, 16),
            (&checked, 10),
        ]);
        if let SheetValue::CannotTell(why) = &line.value {
            page.paragraph("      ", why);
        }
    }
    for (name, size) in [
        ("neutral", &feeder.neutral),
        ("equipment ground", &feeder.ground),
    ] {
        if let Some(size) = size {
            sized(page, name, size);
        }
    }
    if let Some((sheet, drops)) = &feeder.drop {
        let text = match drops {
            Some(drops) => format!("voltage drop {:.1} % at the calculated load", drops.worst.0),
            None => "voltage drop: cannot tell".to_owned(),
        };
        page.paragraph("  ", &format!("{text} [{}]", sheet.id));
    }
    if let Some((sheet, verdict)) = &feeder.raceway {
        page.paragraph(
            "  ",
            &format!("raceway fill: {} [{}]", word(*verdict), sheet.id),
        );
    }
    for said in &feeder.said {
        page.paragraph("! ", said);
    }
    if !feeder.changes.is_empty() {
        page.line("Any one of these makes it pass, each tried by the same check:");
        for change in &feeder.changes {
            page.paragraph("  - ", &change.describe());
        }
    }
    page.line(&format!("  whole worksheet: {}", check.worksheet.id));
}

const fn answers(value: &SheetValue) -> bool {
    matches!(value, SheetValue::Passes(_) | SheetValue::CannotTell(_))
}

fn amperes(amperes: Amperes) -> String {
    Quantity::from(Amperes(amperes.0.round())).to_string()
}

/// A value between bounds, in whole amperes.
pub(crate) fn found(value: &Found<Amperes>) -> String {
    match (value.low, value.high) {
        (Some(low), Some(high)) if low == high => amperes(low),
        (Some(low), Some(high)) => format!("{} to {}", amperes(low), amperes(high)),
        (None, Some(high)) => format!("at most {}", amperes(high)),
        (Some(low), None) => format!("at least {}", amperes(low)),
        (None, None) => "unknown".to_owned(),
    }
}

fn sized(page: &mut Page, name: &str, size: &SizeSheet) {
    let least = size
        .smallest
        .map_or("cannot tell".to_owned(), |wire| format!("at least {wire}"));
    page.paragraph(
        "  ",
        &format!(
            "{name}: {least}; the one there: {} [{}]",
            word(size.verdict),
            size.worksheet.id
        ),
    );
}
