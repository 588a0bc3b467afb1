//! Why a requirement comes to its verdict at one place: its condition as a tree, down to each fact and who said it.

use engine::findings::{FactUsed, Part, Why};

use crate::page::Page;

/// Writes one explanation.
pub(crate) fn write(page: &mut Page, why: &Why<'_>) {
    page.heading(&format!("{} [{}]", why.title, why.requirement));
    page.paragraph(
        "at       ",
        &format!("{} {}", why.place.sort(), why.place.name()),
    );
    page.paragraph("verdict  ", &why.verdict.name().replace('_', " "));
    let section = why.cite.as_ref().map_or_else(
        || "none in this edition".to_owned(),
        |c| format!("{c} (number checked: {})", c.check),
    );
    page.paragraph("section  ", &section);
    page.subheading("Does it apply?");
    part(page, &why.applies, 0);
    page.subheading("Is it met?");
    match &why.satisfied {
        Some(satisfied) => part(page, satisfied, 0),
        None => page.line("Only a person can tell; `lugwright rule` says what satisfies it."),
    }
}

fn part(page: &mut Page, part: &Part<'_>, depth: usize) {
    let truth = match part.truth {
        Some(true) => "yes     ",
        Some(false) => "no      ",
        None => "unknown ",
    };
    let indent = "  ".repeat(depth.min(20));
    page.paragraph(&format!("{truth}{indent}"), &part.text);
    for fact in &part.facts {
        page.paragraph(&format!("        {indent}  . "), &fact_line(fact));
    }
    for inner in &part.parts {
        self::part(page, inner, depth + 1);
    }
}

fn fact_line(fact: &FactUsed<'_>) -> String {
    let of = format!("{} {}", fact.of.sort(), fact.of.name());
    let name = format!("{} of {}", fact.fact, of.trim_end());
    match (&fact.value, &fact.said, &fact.answer) {
        (Some(value), Some(said), _) => format!("{name}: {value} ({said})"),
        (Some(value), None, _) => format!("{name}: {value}"),
        (None, _, Some(path)) if !path.is_empty() => {
            format!("{name}: unknown; the answer goes to {path}")
        }
        (None, _, _) => format!("{name}: unknown"),
    }
}
