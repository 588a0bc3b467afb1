//! Which characters of a user's text may stand in a drawing, and how much of it fits?
//! Source: XML 1.0 section 2.2. Widths are estimates for a sans-serif font, in drawing units: a drawing cannot measure fonts.

use std::fmt::Write;

/// Adds the text with the characters of markup escaped. What cannot be shown, or would turn the reading direction, is dropped.
pub(crate) fn escape_into(out: &mut String, text: &str) {
    for c in text.chars().filter(|c| can_be_shown(*c)) {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
}

fn can_be_shown(c: char) -> bool {
    let turns_direction =
        matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    !c.is_control() && !turns_direction && (c as u32) & 0xfffe != 0xfffe
}

/// A number with at most three decimals; what is not finite becomes 0, so that the drawing stays readable.
pub(crate) fn number_into(out: &mut String, value: f64) {
    let value = if value.is_finite() { value } else { 0.0 };
    let start = out.len();
    let _ = write!(out, "{value:.3}");
    while out.ends_with('0') {
        out.pop();
    }
    if out.ends_with('.') {
        out.pop();
    }
    if &out[start..] == "-0" {
        out.truncate(start);
        out.push('0');
    }
}

/// Estimated width of a text in letters of this size.
#[must_use]
pub fn width_of(text: &str, size: f64) -> f64 {
    let ems: f64 = text.chars().filter(|c| can_be_shown(*c)).map(em).sum();
    ems * size
}

fn em(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | 't' | 'f' | 'I' | '.' | ',' | ':' | ';' | '\'' | '|' | ' ' | '('
        | ')' => 0.3,
        'm' | 'w' | 'M' | 'W' | '@' | '%' => 0.86,
        'A'..='Z' => 0.65,
        c if (c as u32) >= 0x1100 => 1.05,
        _ => 0.55,
    }
}

/// The text when it fits in `room`, else its beginning and an ellipsis.
#[must_use]
pub fn fitted(text: &str, size: f64, room: f64) -> String {
    let shown: String = text.chars().filter(|c| can_be_shown(*c)).collect();
    if width_of(&shown, size) <= room {
        return shown;
    }
    let room = room - size * 0.8;
    let mut width = 0.0;
    let mut short = String::new();
    for c in shown.chars() {
        width += em(c) * size;
        if width > room {
            break;
        }
        short.push(c);
    }
    let mut short = short.trim_end().to_owned();
    short.push('\u{2026}');
    short
}
