//! What load each board carries, by every method that may be used, and which one to build on.
//! VA and amperes; a sum with a gap is a least value with the gap named.

use engine::Quantity;
use engine::load::{Outcome, Standing, Told};
use engine::sheets::Sheets;
use engine::sheets::load::BoardLoad;
use model::units::Unit;

use crate::page::{Page, columns};

/// Writes every board's load.
pub(crate) fn write(page: &mut Page, sheets: &Sheets<'_>) {
    page.heading("Load");
    let mut readings: Vec<&str> = Vec::new();
    for load in &sheets.loads {
        board(page, load);
        for reading in &load.comparison.readings {
            if !readings.contains(&&**reading) {
                readings.push(reading);
            }
        }
    }
    if !readings.is_empty() {
        page.subheading("Readings taken where a rule can be read in two ways");
        for reading in readings {
            page.paragraph("- ", reading);
        }
    }
}

fn board(page: &mut Page, load: &BoardLoad<'_>) {
    page.subheading(&format!("Board {}", load.board));
    let rows: Vec<Vec<String>> = load
        .comparison
        .outcomes
        .iter()
        .map(|o| {
            let best = o.method == load.comparison.recommended;
            vec![
                if best { ">".to_owned() } else { String::new() },
                o.method.name().to_owned(),
                told(&o.demand),
                told(&o.rounded),
                told(&o.neutral),
                standing(o).0.to_owned(),
                o.worksheet.check().to_string(),
            ]
        })
        .collect();
    let header = [
        "",
        "method",
        "demand",
        "amperes",
        "neutral",
        "may be used",
        "checked",
    ];
    columns(page, "", &header, &rows);
    page.paragraph(
        "> ",
        &format!(
            "build on the {}: {}",
            load.comparison.recommended, load.comparison.why
        ),
    );
    for outcome in &load.comparison.outcomes {
        let (word, reasons) = standing(outcome);
        if !reasons.is_empty() {
            page.paragraph(
                "  ",
                &format!("{}: {word}: {}", outcome.method, reasons.join("; ")),
            );
        }
    }
    if let Some(outcome) = load.outcome() {
        let missing = outcome.demand.missing_text();
        if !missing.is_empty() {
            page.paragraph("  at least, because unknown: ", &missing);
        }
    }
    for said in &load.said {
        page.paragraph("! ", said);
    }
}

fn standing(outcome: &Outcome) -> (&'static str, Vec<&str>) {
    match &outcome.standing {
        Standing::Applies => ("yes", Vec::new()),
        Standing::DoesNotApply(why) => ("no", why.iter().map(|w| &**w).collect()),
        Standing::CannotTell(why) => ("cannot tell", why.iter().map(|w| &**w).collect()),
    }
}

/// A value that may only be a lower bound.
fn told<U: Unit>(value: &Told<U>) -> String {
    let quantity = Quantity::from(value.lower_bound());
    let rounded = Quantity {
        value: quantity.value.round(),
        ..quantity
    };
    match value.exact() {
        Some(_) => rounded.to_string(),
        None => format!("at least {rounded}"),
    }
}
