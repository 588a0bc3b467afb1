//! Cutting and pasting in a text, by bytes.
//! Source: none. Line ends are kept as the text has them.

use std::ops::Range;

/// The text with these bytes replaced.
pub(crate) fn splice(text: &str, at: Range<usize>, by: &str) -> String {
    let mut out = String::with_capacity(text.len() + by.len());
    out.push_str(&text[..at.start]);
    out.push_str(by);
    out.push_str(&text[at.end..]);
    out
}

/// How its lines end.
pub(crate) fn line_end_of(text: &str) -> &'static str {
    if text.contains("\r\n") { "\r\n" } else { "\n" }
}

/// Where the line begins in which `at` is.
pub(crate) fn line_start(text: &str, at: usize) -> usize {
    text[..at].rfind('\n').map_or(0, |n| n + 1)
}

/// Where the next line begins.
pub(crate) fn next_line(text: &str, at: usize) -> usize {
    text[at..].find('\n').map_or(text.len(), |n| at + n + 1)
}
