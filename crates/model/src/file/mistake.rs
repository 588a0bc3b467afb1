//! A mistake in a text the user wrote: where it is, what was found, what was expected, what to do.
//! Lines and columns count from 1; columns count characters.

use std::fmt;
use std::ops::Range;

use super::reader::Wrong;
use crate::nearest::nearest;

/// One mistake.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mistake {
    /// Bytes of the text it concerns.
    pub span: Range<usize>,
    /// What was found.
    pub found: String,
    /// What was expected, or what to do.
    pub expected: String,
}

impl Mistake {
    /// A mistake at these bytes.
    #[must_use]
    pub fn new(span: Range<usize>, found: impl Into<String>, expected: impl Into<String>) -> Self {
        Self {
            span,
            found: found.into(),
            expected: expected.into(),
        }
    }

    /// From the TOML reader, with its list of valid names turned into the nearest one.
    pub(super) fn from_toml(error: &toml::de::Error) -> Self {
        let (found, expected) = reword(error.message());
        Self::new(error.span().unwrap_or(0..0), found, expected)
    }

    /// From the reader of tables, in the house's words.
    pub(super) fn from_reader(wrong: &Wrong) -> Self {
        let (found, expected) = reword(&wrong.message);
        Self::new(wrong.span.clone().unwrap_or(0..0), found, expected)
    }

    /// The same mistake, placed at `span` when it had no place of its own.
    pub(super) fn or_at(mut self, span: Range<usize>) -> Self {
        if self.span == (0..0) {
            self.span = span;
        }
        self
    }

    /// The only mistake of a text.
    #[must_use]
    pub fn alone(self, text: &str) -> Mistakes {
        Mistakes::new(vec![self], text)
    }

    /// Line and column of its start.
    #[must_use]
    pub fn position(&self, text: &str) -> (usize, usize) {
        let mut start = self.span.start.min(text.len());
        while !text.is_char_boundary(start) {
            start -= 1;
        }
        let before = &text[..start];
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().map_or(0, |l| l.chars().count()) + 1;
        (line, column)
    }
}

/// Turns "unknown field `x`, expected one of `a`, `b`" into a nearest name; other messages pass through.
fn reword(message: &str) -> (String, String) {
    let message = message.replace('\n', "; ");
    let (found, expected) = message.split_once(", expected ").unwrap_or((&message, ""));
    let words = found.starts_with("unknown field") || found.starts_with("unknown variant");
    if words {
        let quoted: Vec<&str> = expected.split('`').skip(1).step_by(2).collect();
        let wrong = found.split('`').nth(1).unwrap_or("");
        let found = found
            .replace("unknown field", "unknown name")
            .replace("unknown variant", "unknown word");
        let near = nearest(wrong, quoted.iter().copied())
            .map(|n| format!("did you mean `{n}`? "))
            .unwrap_or_default();
        return (found, format!("{near}valid here: {}", quoted.join(", ")));
    }
    let found = found
        .replace("missing field", "there is no")
        .replace("invalid type:", "found");
    (found, expected.to_owned())
}

/// Mistakes of one text, in the order they stand in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mistakes {
    mistakes: Vec<Mistake>,
    text: String,
}

impl std::error::Error for Mistakes {}

impl Mistakes {
    /// Mistakes of `text`.
    #[must_use]
    pub fn new(mut mistakes: Vec<Mistake>, text: &str) -> Self {
        mistakes.sort_by_key(|m| m.span.start);
        Self {
            mistakes,
            text: text.to_owned(),
        }
    }

    /// All of them, at least one.
    #[must_use]
    pub fn all(&self) -> &[Mistake] {
        &self.mistakes
    }

    /// The text they are in.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }
}

impl fmt::Display for Mistakes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, mistake) in self.mistakes.iter().enumerate() {
            if i > 0 {
                writeln!(f)?;
            }
            let (line, column) = mistake.position(&self.text);
            write!(f, "line {line}, column {column}: {}", mistake.found)?;
            if !mistake.expected.is_empty() {
                write!(f, " (expected: {})", mistake.expected)?;
            }
        }
        Ok(())
    }
}
