//! Which characters may stand on paper? What a user wrote is printed as far as the fonts go, and never breaks a page.
//! Source: Unicode categories by hand: controls, direction marks, joiners; coverage is asked of the fonts.

use serde_json::Value;

/// Longest text of one field on paper, in characters; the job file keeps all of it.
const LONGEST: usize = 1_000;
/// Words longer than this may be broken anywhere after so many characters.
const LONG_WORD: usize = 24;
const BREAK: char = '\u{200b}';

/// Marks that turn the direction of text or join characters: they could hide what follows.
const fn is_hidden(c: char) -> bool {
    matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
        | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e0fff}')
}

/// The text with every character that no font has written as its number, for example `[U+1F50C]`; controls become spaces, hidden marks go.
#[must_use]
pub fn covered(text: &str, has: &dyn Fn(char) -> bool) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\n' | '\t' => out.push(c),
            c if c.is_control() => out.push(' '),
            c if is_hidden(c) => {}
            c if c.is_ascii() || has(c) => out.push(c),
            c => out.push_str(&format!("[U+{:04X}]", u32::from(c))),
        }
    }
    out
}

/// The same for one field: on one line, with places to break in long words, and cut where it would fill a page.
#[must_use]
pub fn printable(text: &str, has: &dyn Fn(char) -> bool) -> String {
    let text = covered(text, has);
    let mut out = String::with_capacity(text.len());
    let mut run = 0;
    for (count, c) in text.chars().enumerate() {
        if count == LONGEST {
            out.push('…');
            break;
        }
        if c.is_whitespace() {
            run = 0;
            out.push(' ');
            continue;
        }
        if run == LONG_WORD {
            run = 0;
            out.push(BREAK);
        }
        run += 1;
        out.push(c);
    }
    out
}

/// Makes every text of a value printable, names of fields excepted.
pub(crate) fn make_printable(value: &mut Value, has: &dyn Fn(char) -> bool) {
    match value {
        Value::String(text) => *text = printable(text, has),
        Value::Array(all) => all.iter_mut().for_each(|v| make_printable(v, has)),
        Value::Object(all) => all.values_mut().for_each(|v| make_printable(v, has)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, expected: &str) {
        assert_eq!(
            printable(text, &|c| c.is_alphabetic() || c == '…'),
            expected
        );
    }

    #[test]
    fn what_no_font_has_is_written_as_a_number() {
        check("plug \u{1f50c}\u{fe0f} here", "plug [U+1F50C] here");
    }

    #[test]
    fn controls_and_marks_of_direction_cannot_hide_anything() {
        check("a\u{1b}[31mb\u{202e}c\r\nd", "a [31mbc  d");
    }

    #[test]
    fn a_long_word_can_be_broken() {
        let out = printable(&"w".repeat(100), &|_| true);
        assert!(out.split('\u{200b}').all(|part| part.len() <= LONG_WORD));
        assert_eq!(out.replace('\u{200b}', ""), "w".repeat(100));
    }

    #[test]
    fn a_text_that_would_fill_pages_is_cut_and_says_so() {
        let out = printable(&"word ".repeat(1000), &|_| true);
        assert!(out.ends_with('…') && out.chars().count() <= LONGEST + 1);
    }
}
