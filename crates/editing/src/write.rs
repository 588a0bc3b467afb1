//! How is a value written in a job file?
//! Source: TOML 1.0. Numbers and texts as they come; no units.

use serde_json::{Map, Value};

use crate::shape::{has_header, is_passed_through};

/// A value on one line; what is null in it is left out.
pub(crate) fn value(value: &Value) -> String {
    match value {
        Value::Null => "\"unknown\"".to_owned(),
        Value::Bool(b) => b.to_string(),
        Value::Number(n) => number(n),
        Value::String(s) => text(s),
        Value::Array(all) => {
            let each: Vec<String> = all
                .iter()
                .filter(|v| !v.is_null())
                .map(self::value)
                .collect();
            format!("[{}]", each.join(", "))
        }
        Value::Object(entries) => braces(entries),
    }
}

/// Beyond this a TOML integer ends, and a float begins to skip whole numbers.
const LARGEST_WHOLE: f64 = 9e15;

fn number(n: &serde_json::Number) -> String {
    match n.as_f64() {
        // 30.0 is 30: a browser has no other whole numbers.
        Some(x) if n.is_f64() && x.fract() == 0.0 && x.abs() < LARGEST_WHOLE => {
            format!("{x:.0}")
        }
        Some(x) if n.is_f64() => format!("{x:?}"),
        _ => match n.as_i64() {
            Some(whole) => whole.to_string(),
            None => format!("{:?}", n.as_f64().unwrap_or(f64::MAX)),
        },
    }
}

fn braces(entries: &Map<String, Value>) -> String {
    let each: Vec<String> = entries
        .iter()
        .filter(|(_, v)| !v.is_null())
        .map(|(k, v)| format!("{} = {}", key(k), value(v)))
        .collect();
    if each.is_empty() {
        "{}".to_owned()
    } else {
        format!("{{ {} }}", each.join(", "))
    }
}

/// A name, in quotes where it has to be.
pub(crate) fn key(name: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    if !name.is_empty() && name.chars().all(plain) {
        name.to_owned()
    } else {
        text(name)
    }
}

/// Names joined by dots.
pub(crate) fn keys(names: &[String]) -> String {
    let each: Vec<String> = names.iter().map(|n| key(n)).collect();
    each.join(".")
}

/// A text in double quotes, on one line.
pub(crate) fn text(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            '\t' => out.push_str("\\t"),
            c if c.is_control() => out.push_str(&format!("\\u{:04X}", u32::from(c))),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// A table as sections, each line by line, without a line end after the last; empty when there is nothing to write.
pub(crate) fn sections(path: &[String], entries: &Map<String, Value>, line_end: &str) -> String {
    let mut out = Vec::new();
    write_section(path, entries, line_end, &mut out);
    out.join(&format!("{line_end}{line_end}"))
}

fn write_section(
    path: &[String],
    entries: &Map<String, Value>,
    line_end: &str,
    out: &mut Vec<String>,
) {
    let mut lines = Vec::new();
    let mut below = Vec::new();
    for (name, value) in entries.iter().filter(|(_, v)| !v.is_null()) {
        let at: Vec<String> = path.iter().chain([name]).cloned().collect();
        match value {
            Value::Object(inner) if has_header(&at) || is_passed_through(&at) => {
                below.push((at, inner));
            }
            _ => lines.push(format!("{} = {}", key(name), self::value(value))),
        }
    }
    if !is_passed_through(path) && (!lines.is_empty() || below.is_empty()) {
        lines.insert(0, format!("[{}]", keys(path)));
        out.push(lines.join(line_end));
    }
    for (at, inner) in below {
        write_section(&at, inner, line_end, out);
    }
}
