//! What is required, what cannot be told, what is met: grouped by the moment by which it must be known.
//! Costs are US dollars of material; places are named as in the job file.

use engine::facts::Place;
use engine::findings::{Finding, Findings};
use model::Dollars;
use rulebook::requirement::Bites;
use rulebook::{AskedOf, FactDictionary, Verdict};

use crate::page::Page;

/// Writes all groups, then the notes.
pub(crate) fn write(page: &mut Page, findings: &Findings<'_>, facts: &FactDictionary) {
    page.heading("Findings");
    page.paragraph(
        "",
        "MISSING: required, and the facts say it is not there. OPEN: nobody can tell yet. DO: required, and only a person can see that it is done.",
    );
    let counts = &findings.counts;
    page.paragraph(
        "",
        &format!(
            "Counted by place: {} required, {} open, {} required and met, {} not required.",
            counts.required,
            counts.cannot_tell_if_met + counts.cannot_tell_if_applies,
            counts.met,
            counts.not_required,
        ),
    );
    for bites in Bites::ALL {
        let here = |f: &&Finding<'_>| f.requirement.requirement().bites == *bites && !f.is_note();
        let (open, decided): (Vec<_>, Vec<_>) = findings
            .findings
            .iter()
            .filter(here)
            .partition(|f| f.is_open());
        page.subheading(match bites {
            Bites::Signing => "Before signing",
            Bites::CutOver => "Before cut-over",
            Bites::Inspection => "Before inspection",
        });
        let (missing, to_do): (Vec<_>, Vec<_>) = decided
            .iter()
            .copied()
            .filter(|f| f.verdict == Verdict::Required)
            .partition(|f| f.is_missing());
        for finding in &missing {
            one(page, "MISSING", finding, facts);
        }
        for finding in &open {
            one(page, "OPEN", finding, facts);
        }
        for finding in &to_do {
            one(page, "DO", finding, facts);
        }
        if missing.is_empty() && to_do.is_empty() && open.is_empty() {
            page.line("Nothing is required that is not there, and nothing is open.");
        }
        let met: Vec<&str> = decided
            .iter()
            .filter(|f| f.verdict == Verdict::Met)
            .map(|f| f.id())
            .collect();
        if !met.is_empty() {
            page.paragraph("met       ", &met.join(", "));
        }
    }
    let notes: Vec<_> = findings
        .findings
        .iter()
        .filter(|f| f.is_note() && !f.is_open())
        .collect();
    if !notes.is_empty() {
        page.subheading("Good to know");
        for note in notes {
            let requirement = note.requirement.requirement();
            page.paragraph("- ", &format!("{} [{}]", requirement.title, requirement.id));
            page.paragraph("  ", &requirement.why);
        }
    }
}

fn one(page: &mut Page, word: &str, finding: &Finding<'_>, facts: &FactDictionary) {
    let requirement = finding.requirement.requirement();
    let section = finding
        .requirement
        .cite()
        .map_or_else(|| "no section".to_owned(), |c| c.section.to_string());
    page.paragraph(
        &format!("{word:<10}"),
        &format!("{} [{}]  {section}", requirement.title, requirement.id),
    );
    let indent = " ".repeat(10);
    page.paragraph(
        &format!("{indent}at "),
        &places(finding.instances.iter().map(|i| i.place)),
    );
    match finding.verdict {
        Verdict::CannotTellIfApplies => {
            let text = format!("cannot tell if it applies. {}", missing(finding, facts));
            page.paragraph(&indent, &text);
        }
        Verdict::CannotTellIfMet => {
            let missing = missing(finding, facts);
            let text = format!("applies; cannot tell if it is met. {missing}");
            page.paragraph(&indent, &text);
        }
        _ => page.paragraph(&format!("{indent}do "), &requirement.remedy),
    }
    let mut tail = format!(
        "danger {} of 3; checked: {}",
        requirement.danger, requirement.check
    );
    if let (Some((low, high)), Some(cost)) = (finding.cost(), &requirement.cost) {
        let count = finding.instances.len();
        let all = if count > 1 {
            format!("; all {count}: {}", range(low, high))
        } else {
            String::new()
        };
        tail = format!(
            "material {} per {}{all} ({}); {tail}",
            range(cost.low, cost.high),
            cost.per,
            cost.check
        );
    }
    page.paragraph(&indent, &tail);
}

/// Two amounts, or one where they are the same.
pub(crate) fn range(low: Dollars, high: Dollars) -> String {
    if low == high {
        low.to_string()
    } else {
        format!("{low} to {high}")
    }
}

/// What to find out, as the questions put it; a fact that is worked out waits for its inputs.
fn missing(finding: &Finding<'_>, facts: &FactDictionary) -> String {
    let all = finding
        .instances
        .iter()
        .fold(rulebook::FactSet::EMPTY, |all, i| all.union(&i.missing));
    let entries = all.iter().filter_map(|f| facts.get(f));
    let questions = entries.map(|entry| match entry.asked_of {
        AskedOf::Derived => format!("Waits for what it is worked out from: {}.", entry.meaning),
        _ => entry.question.clone(),
    });
    questions.collect::<Vec<_>>().join(" ")
}

/// A longer list of names than this is cut after the first few; JSON holds all of them.
const MOST_NAMES: usize = 16;
const SOME_NAMES: usize = 6;

/// Places in words, sorts together: `board P; circuits c1, c2`.
pub(crate) fn places<'a>(places: impl Iterator<Item = Place<'a>>) -> String {
    let mut sorts: Vec<(&'static str, Vec<String>)> = Vec::new();
    for place in places {
        match sorts.iter_mut().find(|(sort, _)| *sort == place.sort()) {
            Some((_, names)) => names.push(place.name().to_owned()),
            None => sorts.push((place.sort(), vec![place.name().to_owned()])),
        }
    }
    let words = sorts.iter().map(|(sort, names)| match names.as_slice() {
        [one] if one.is_empty() => format!("the {sort}"),
        [one] => format!("{sort} {one}"),
        many if many.len() > MOST_NAMES => {
            let (first, rest) = many.split_at(SOME_NAMES);
            format!(
                "{} {sort}s: {} and {} more",
                many.len(),
                first.join(", "),
                rest.len()
            )
        }
        many => format!("{} {sort}s: {}", many.len(), many.join(", ")),
    });
    words.collect::<Vec<_>>().join("; ")
}
