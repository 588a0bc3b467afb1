//! `rule`: what does a requirement say, where does it stand in each edition, and how far was it checked?
//! Source: the requirement files of the rulebook, in our own words.

use model::Edition;
use model::nearest::advice;
use rulebook::{Library, Requirement};
use serde_json::{Value, json};

use super::library;
use crate::Answer;
use crate::args::Format;
use crate::page::{Page, columns};
use crate::problem::Failure;

/// One requirement, those that hold a word, or all.
pub(crate) fn run(
    name: Option<&str>,
    edition: Option<Edition>,
    format: Format,
) -> Result<Answer, Failure> {
    let library = library::built_in()?;
    let stands = |r: &&Requirement| edition.is_none_or(|e| r.section(e).is_some());
    let all = || library.requirements().iter().map(|r| &**r);
    let word = name.unwrap_or_default();
    if let Some(one) = all().find(|r| r.id == word) {
        return Ok(match format {
            Format::Json => Answer::json(&json!({
                "format": 1, "command": "rule", "requirements": [as_json(&library, one)]
            })),
            Format::Text => Answer::plain(one_rule(&library, one, edition)),
        });
    }
    let lower = word.to_lowercase();
    let holds = |r: &&Requirement| {
        [&r.id, &r.title, &r.why]
            .iter()
            .any(|t| t.to_lowercase().contains(&lower))
    };
    let found: Vec<&Requirement> = all().filter(holds).filter(stands).collect();
    if found.is_empty() {
        let ids = all().map(|r| r.id.as_str());
        let what = advice(word, ids, "`lugwright rule` lists all requirements");
        return Err(Failure::new(
            format!("no requirement is named `{word}` or speaks of it"),
            what,
        ));
    }
    Ok(match format {
        Format::Json => Answer::json(&json!({
            "format": 1,
            "command": "rule",
            "requirements": found.iter().map(|r| as_json(&library, r)).collect::<Vec<_>>(),
        })),
        Format::Text => Answer::plain(list(&found, edition)),
    })
}

fn list(found: &[&Requirement], edition: Option<Edition>) -> String {
    let mut page = Page::new();
    let count = match found.len() {
        1 => "1 requirement".to_owned(),
        n => format!("{n} requirements"),
    };
    page.heading(&match edition {
        Some(edition) => format!("{count}, edition {edition}"),
        None => count,
    });
    let row = |r: &&Requirement| {
        vec![
            r.id.clone(),
            edition
                .and_then(|e| r.section(e))
                .unwrap_or_default()
                .to_owned(),
            r.title.clone(),
        ]
    };
    let rows: Vec<Vec<String>> = found.iter().map(row).collect();
    let section = if edition.is_some() { "section" } else { "" };
    columns(&mut page, "", &["id", section, "what it asks"], &rows);
    page.finish()
}

fn one_rule(library: &Library, rule: &Requirement, edition: Option<Edition>) -> String {
    let mut page = Page::new();
    page.heading(&rule.title);
    page.paragraph("", &rule.why);
    page.gap();
    page.paragraph("Id          ", &rule.id);
    page.paragraph(
        "Sorted as   ",
        &format!(
            "{}, {}, seen before {}",
            rule.subject, rule.kind, rule.bites
        ),
    );
    page.paragraph(
        "Danger      ",
        &format!(
            "{} of 3, our own judgement of what happens if it is missed",
            rule.danger
        ),
    );
    page.paragraph("Checked     ", &rule.check.to_string());
    page.subheading("Section by edition");
    for e in Edition::ALL
        .into_iter()
        .filter(|e| edition.is_none_or(|only| only == *e))
    {
        let text = match rule.cite(e) {
            Some(cite) => format!("{} (number checked: {})", cite.section, cite.check),
            None => "does not exist in this edition".to_owned(),
        };
        page.paragraph(&format!("{e}  "), &text);
    }
    page.subheading("Applies when");
    page.paragraph("  ", &rule.applies.print(library.facts()));
    if let Some(satisfied) = &rule.satisfied {
        page.subheading("Met when");
        page.paragraph("  ", &satisfied.print(library.facts()));
    }
    items(&mut page, "What satisfies it", &rule.satisfied_by);
    items(&mut page, "Exceptions", &rule.exceptions);
    for (title, text) in [
        ("What changed between editions", &rule.changes),
        ("Where readings differ", &rule.interpretation),
        ("Note", &rule.note),
        ("What the inspector looks for", &rule.inspector),
    ] {
        if let Some(text) = text {
            page.subheading(title);
            page.paragraph("  ", text);
        }
    }
    page.subheading("Remedy");
    page.paragraph("  ", &rule.remedy);
    if let Some(cost) = &rule.cost {
        let range = format!(
            "Material {} to {} per {} (checked: {})",
            cost.low, cost.high, cost.per, cost.check
        );
        page.paragraph("  ", &range);
    }
    page.subheading("Sources");
    for id in &rule.sources {
        let line = match library.publications().get(id) {
            Some(p) => [Some(p.title.clone()), p.publisher.clone(), p.date.clone()]
                .into_iter()
                .flatten()
                .collect::<Vec<_>>()
                .join(", "),
            None => id.clone(),
        };
        page.paragraph("  - ", &line);
    }
    page.finish()
}

fn items(page: &mut Page, title: &str, items: &[String]) {
    if !items.is_empty() {
        page.subheading(title);
        for item in items {
            page.paragraph("  - ", item);
        }
    }
}

fn as_json(library: &Library, rule: &Requirement) -> Value {
    let facts = library.facts();
    let sections = Edition::ALL.map(|e| {
        let cite = rule.cite(e);
        json!({ "edition": e, "section": rule.section(e), "check": cite.map(|c| c.check) })
    });
    json!({
        "id": rule.id,
        "title": rule.title,
        "why": rule.why,
        "subject": rule.subject,
        "kind": rule.kind,
        "bites": rule.bites,
        "danger": rule.danger,
        "check": rule.check,
        "sections": sections,
        "applies": rule.applies.print(facts),
        "satisfied": rule.satisfied.as_ref().map(|c| c.print(facts)),
        "satisfied_by": rule.satisfied_by,
        "exceptions": rule.exceptions,
        "changes": rule.changes,
        "interpretation": rule.interpretation,
        "note": rule.note,
        "remedy": rule.remedy,
        "cost": rule.cost.as_ref().map(|c| json!({
            "low": c.low, "high": c.high, "per": c.per, "check": c.check
        })),
        "inspector": rule.inspector,
        "sources": rule.sources,
    })
}
