//! A worksheet as rows of a paper: every line with what went in, what came out, its section and how far its value was checked.
//! Source: [`engine::Worksheet`]. Units stand beside every number.

use engine::worksheet::Input;
use engine::{Line, Quantity, Value as Worth, Worksheet};
use serde_json::{Value, json};

use crate::material::Language;
use crate::words::say;

/// The whole worksheet.
pub(super) fn worksheet(sheet: &Worksheet, language: Language) -> Value {
    let lines = sheet.lines.iter().map(|l| line(l, language));
    json!({
        "id": sheet.id,
        "title": sheet.title,
        "check": sheet.check().to_string(),
        "lines": lines.collect::<Vec<_>>(),
    })
}

fn line(line: &Line, language: Language) -> Value {
    let why = match &line.value {
        Worth::CannotTell(why) => why.as_ref(),
        _ => "",
    };
    let inputs: Vec<String> = line.inputs.iter().map(|i| input(i, language)).collect();
    json!({
        "label": line.label,
        "value": value(&line.value, language),
        "result": !matches!(line.value, Worth::Text(_)),
        "why": why,
        "how": line.how,
        "inputs": inputs.join("; "),
        "note": line.note.as_deref().unwrap_or(""),
        "section": line.cite.as_ref().map_or("", |c| &*c.section),
        "check": line.check.to_string(),
    })
}

fn input(input: &Input, language: Language) -> String {
    format!("{} {}", input.name, value(&input.value, language))
}

/// A value in words, with its unit.
pub(super) fn value(value: &Worth, language: Language) -> String {
    match value {
        Worth::Number(quantity) => quantity.to_string(),
        Worth::Text(text) => text.to_string(),
        Worth::Passes(true) => say(language, "permit-yes", &[]),
        Worth::Passes(false) => say(language, "permit-no", &[]),
        Worth::CannotTell(_) => say(language, "permit-cannot-tell", &[]),
    }
}

/// Whole volt-amperes with thousands set apart, without their unit.
pub(super) fn whole(va: i64) -> String {
    Quantity::number(va as f64).to_string()
}
