//! `adoption`: which edition has a state adopted, as far as published lists tell?
//! Advice only: the edition of a job is always named in the job.

use model::Edition;
use rulebook::adoption::Confidence;
use rulebook::{Adoption, StateAdoption};
use serde_json::{Value, json};

use super::library;
use crate::Answer;
use crate::args::Format;
use crate::page::{Page, columns};
use crate::problem::Failure;

/// One state, or the list.
pub(crate) fn run(state: Option<&str>, format: Format) -> Result<Answer, Failure> {
    let library = library::built_in()?;
    let adoption = library.adoption();
    let states: Vec<&StateAdoption> = match state {
        Some(text) => {
            let found = adoption.state(text);
            vec![found.map_err(|e| Failure::new(format!("`{}` is not a state", e.found), e.help))?]
        }
        None => adoption.states().iter().collect(),
    };
    Ok(match format {
        Format::Json => Answer::json(&json!({
            "format": 1,
            "command": "adoption",
            "warning": adoption.warning,
            "states": states.iter().map(|s| as_json(s)).collect::<Vec<_>>(),
        })),
        Format::Text => Answer::plain(match states.as_slice() {
            [one] => one_state(adoption, one),
            all => list(adoption, all),
        }),
    })
}

fn edition(state: &StateAdoption) -> String {
    let text = state.edition.as_ref().map(Edition::to_string);
    text.unwrap_or_else(|| "local".to_owned())
}

/// How much an entry may be trusted, in a word.
pub(crate) fn confidence(state: &StateAdoption) -> &'static str {
    match state.confidence {
        Confidence::Low => "low",
        Confidence::Medium => "medium",
        Confidence::High => "high",
    }
}

fn list(adoption: &Adoption, states: &[&StateAdoption]) -> String {
    let mut page = Page::new();
    page.heading("Adopted editions by state");
    page.paragraph("", &adoption.warning);
    page.gap();
    let row = |s: &&StateAdoption| {
        vec![
            s.code.clone(),
            edition(s),
            s.effective.clone().unwrap_or_default(),
            confidence(s).to_owned(),
            s.scope.clone(),
        ]
    };
    let rows: Vec<Vec<String>> = states.iter().map(row).collect();
    columns(
        &mut page,
        "",
        &["", "edition", "since", "confidence", "scope"],
        &rows,
    );
    page.finish()
}

fn one_state(adoption: &Adoption, state: &StateAdoption) -> String {
    let mut page = Page::new();
    page.heading(&format!("{} ({})", state.name, state.code));
    let edition = match state.edition {
        Some(edition) => edition.to_string(),
        None => "chosen by each city or county".to_owned(),
    };
    page.paragraph("Edition     ", &edition);
    if let Some(since) = &state.effective {
        page.paragraph("Since       ", since);
    }
    page.paragraph("Scope       ", &state.scope);
    page.paragraph("Confidence  ", confidence(state));
    if let Some(note) = &state.note {
        page.paragraph("Note        ", note);
    }
    if !state.sources.is_empty() {
        page.paragraph("Sources     ", &state.sources.join(", "));
    }
    if !state.amendments.is_empty() {
        page.subheading("State amendments that a page speaks of");
        page.paragraph("", &adoption.amendments_warning);
        for hint in &state.amendments {
            page.paragraph("- ", &format!("{} ({})", hint.says, hint.as_of));
            page.paragraph("  ", &hint.effect);
        }
    }
    page.gap();
    page.paragraph("", &adoption.warning);
    page.finish()
}

fn as_json(state: &StateAdoption) -> Value {
    json!({
        "state": state.code,
        "name": state.name,

        "edition": state.edition,
        "effective": state.effective,
        "scope": state.scope,
        "confidence": state.confidence,
        "note": state.note,
        "sources": state.sources,
        "amendments": state.amendments,
    })
}
