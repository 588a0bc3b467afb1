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
        Worth::Number(quantity) => number(quantity),
        Worth::Text(text) => text.to_string(),
        Worth::Passes(true) => say(language, "permit-yes", &[]),
        Worth::Passes(false) => say(language, "permit-no", &[]),
        Worth::CannotTell(_) => say(language, "permit-cannot-tell", &[]),
    }
}

/// A number with its unit: thousands set apart, at most three decimals, none of them idle.
pub(super) fn number(quantity: &Quantity) -> String {
    let plain = format!("{:.3}", quantity.value);
    let (whole, decimals) = plain.split_once('.').unwrap_or((&plain, ""));
    let (sign, digits) = match whole.strip_prefix('-') {
        Some(digits) => ("-", digits),
        None => ("", whole),
    };
    let mut grouped = String::new();
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    let decimals = decimals.trim_end_matches('0');
    let point = if decimals.is_empty() { "" } else { "." };
    format!("{sign}{grouped}{point}{decimals} {}", quantity.unit)
        .trim_end()
        .to_owned()
}

/// Whole volt-amperes with thousands set apart, without their unit.
pub(super) fn whole(va: i64) -> String {
    number(&Quantity::number(va as f64))
}
