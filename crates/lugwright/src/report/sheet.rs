//! A worksheet as a page: one step per line, with its value, section and how far the published value was checked.
//! Source: [`engine::Worksheet`]. Units stand beside every number.

use engine::worksheet::Input;
use engine::{Line, Value, Worksheet};
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
        Value::Number(quantity) => quantity.to_string(),
        Value::Text(text) => text.to_string(),
        Value::Passes(true) => "yes".to_owned(),
        Value::Passes(false) => "NO".to_owned(),
        Value::CannotTell(why) => format!("cannot tell: {why}"),
    }
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
