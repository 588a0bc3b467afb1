//! What load each board carries, by every method that may be used, and which one to build on.
//! VA and amperes; a sum with a gap is a least value with the gap named.

use engine::Quantity;
use engine::conductor::Verdict;
use engine::load::{Outcome, Standing, Told};
use engine::sheets::Sheets;
use engine::sheets::load::BoardLoad;
use model::units::Unit;

use super::feeders::word;
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
    fits(page, load);
}

/// What is said when the load is more than what holds it, and what would help.
fn fits(page: &mut Page, load: &BoardLoad<'_>) {
    let (Verdict::Fail, Some(outcome), Some(held_to)) =
        (load.fits(), load.outcome(), load.held_to.get())
    else {
        return;
    };
    page.paragraph(
        "TOO MUCH  ",
        &format!(
            "{} calculated, and {held_to} holds it",
            told(&outcome.rounded)
        ),
    );
    if load.remedies.is_empty() {
        page.line("  No single change that was tried makes it fit.");
        return;
    }
    page.line("Any one of these makes it fit, each tried by the same calculation:");
    for remedy in &load.remedies {
        let to = &remedy.comes_to;
        let cites: Vec<String> = remedy.cites.iter().map(ToString::to_string).collect();
        page.paragraph(
            "  - ",
            &format!(
                "{}: {} against {} [{}; checked: {}]",
                remedy.text,
                to.load_a,
                to.held_to_a,
                cites.join(", "),
                remedy.check
            ),
        );
        for turned in &remedy.verdicts {
            let say = |v: Option<Verdict>| v.map_or("not made", word);
            let (now, then) = (say(turned.now), say(turned.then));
            page.paragraph("    ", &format!("{}: {now}, then {then}", turned.what));
        }
        for board in &remedy.still_over {
            page.paragraph(
                "    ",
                &format!("`{board}` is still too small for its load"),
            );
        }
        for note in &remedy.notes {
            page.paragraph("    ", note);
        }
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
