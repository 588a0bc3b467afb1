//! A worksheet as a page: one step per line, with its value, section and how far the published value was checked.
//! Source: [`engine::Worksheet`]. Units stand beside every number.

use engine::worksheet::Input;
use engine::{Line, Quantity, Value, Worksheet};
use rulebook::Check;

use crate::page::{Page, columns};

/// Writes the whole worksheet.
pub(crate) fn write(page: &mut Page, sheet: &Worksheet) {
    page.heading(&format!("{}  [{}]", sheet.title, sheet.id));
    page.line(&format!(
        "Edition {}. Weakest check of its values: {}.",
        sheet.edition,
        check(sheet.check())
    ));
    page.gap();
    for line in &sheet.lines {
        step(page, line);
    }
}

fn step(page: &mut Page, line: &Line) {
    let section = line.cite.as_ref().map_or("", |c| &*c.section);
    let row = [
        line.label.to_string(),
        value(&line.value),
        section.to_owned(),
        check(line.check),
    ];
    let (words, why) = match &line.value {
        Value::CannotTell(why) => ("cannot tell", Some(why)),
        _ => ("", None),
    };
    let shown = if words.is_empty() {
        row[1].clone()
    } else {
        words.to_owned()
    };
    page.fixed(&[(&row[0], 44), (&shown, 22), (section, 18), (&row[3], 11)]);
    if let Some(why) = why {
        page.paragraph("      ", why);
    }
    if !line.how.is_empty() {
        page.paragraph("      = ", &line.how);
    }
    if !line.inputs.is_empty() {
        let inputs: Vec<String> = line.inputs.iter().map(input).collect();
        page.paragraph("      ", &inputs.join("; "));
    }
    if let Some(note) = &line.note {
        page.paragraph("      ! ", note);
    }
}

fn input(input: &Input) -> String {
    format!("{} {}", input.name, value(&input.value))
}

/// A value in words, with its unit.
pub(crate) fn value(value: &Value) -> String {
    match value {
        Value::Number(quantity) => number(quantity),
        Value::Text(text) => text.to_string(),
        Value::Passes(true) => "yes".to_owned(),
        Value::Passes(false) => "NO".to_owned(),
        Value::CannotTell(why) => format!("cannot tell: {why}"),
    }
}

/// A number with its unit: thousands set apart, at most three decimals, none of them idle.
pub(crate) fn number(quantity: &Quantity) -> String {
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

/// How far a value was checked, in a word.
pub(crate) fn check(check: Check) -> String {
    check.to_string()
}

/// The list of worksheets: id, title, weakest check.
pub(crate) fn list<'s>(page: &mut Page, sheets: impl Iterator<Item = &'s Worksheet>) {
    let rows: Vec<Vec<String>> = sheets
        .map(|s| vec![s.id.clone(), check(s.check()), s.title.clone()])
        .collect();
    columns(page, "", &["worksheet", "checked", "title"], &rows);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check_number(value: f64, unit: &'static str, expected: &str) {
        assert_eq!(number(&Quantity { value, unit }), expected);
    }

    #[test]
    fn numbers_are_set_apart_by_thousands_and_keep_no_idle_decimals() {
        check_number(12500.0, "VA", "12,500 VA");
        check_number(0.83, "", "0.83");
        check_number(-1234567.5, "W", "-1,234,567.5 W");
        check_number(90.0, "A", "90 A");
        check_number(0.0004, "ohm", "0 ohm");
    }
}
