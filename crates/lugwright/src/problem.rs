//! What is wrong with the input: where, what was found, what was expected, what to do.
//! Rendered for people with the line itself and a mark under the place, or as JSON for programs. Lines and columns count from 1.

use std::fmt::Write;

use model::Mistakes;
use serde::Serialize;

/// One thing wrong with the input.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub(crate) struct Problem {
    /// File, as the user named it; empty for the command line itself.
    pub(crate) file: String,
    /// Line, 0 when the whole file or no file is meant.
    pub(crate) line: usize,
    /// Column in characters, 0 when the whole line is meant.
    pub(crate) column: usize,
    /// What is there.
    pub(crate) found: String,
    /// What belongs there.
    pub(crate) expected: String,
    /// What to do about it.
    pub(crate) advice: String,
    /// The line itself and how many characters of it are meant.
    #[serde(skip)]
    pub(crate) excerpt: Option<(String, usize)>,
}

/// The input is wrong; nothing was worked out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Failure(pub(crate) Vec<Problem>);

impl Failure {
    /// A problem without a place in a file.
    pub(crate) fn new(found: impl Into<String>, advice: impl Into<String>) -> Self {
        Self(vec![Problem {
            found: found.into(),
            advice: advice.into(),
            ..Problem::default()
        }])
    }

    /// Mistakes of a job file.
    pub(crate) fn of_job(file: &str, mistakes: &Mistakes) -> Self {
        let text = mistakes.text();
        Self(
            mistakes
                .all()
                .iter()
                .map(|mistake| {
                    let whole = mistake.span == (0..0);
                    let (line, column) = mistake.position(text);
                    let length = text
                        .get(mistake.span.clone())
                        .map_or(1, |t| t.lines().next().unwrap_or("").chars().count());
                    Problem {
                        file: file.to_owned(),
                        line: if whole { 0 } else { line },
                        column: if whole { 0 } else { column },
                        found: mistake.found.clone(),
                        expected: mistake.expected.clone(),
                        advice: String::new(),
                        excerpt: (!whole)
                            .then(|| text.lines().nth(line - 1).map(|l| (l.to_owned(), length)))
                            .flatten(),
                    }
                })
                .collect(),
        )
    }

    /// For people.
    pub(crate) fn text(&self) -> String {
        let mut out = String::new();
        for problem in &self.0 {
            problem.write(&mut out);
        }
        if self.0.len() > 1 {
            let _ = writeln!(out, "{} mistakes; nothing was worked out", self.0.len());
        }
        out
    }

    /// For programs.
    pub(crate) fn json(&self) -> serde_json::Value {
        serde_json::json!({ "format": 1, "command": "error", "mistakes": self.0 })
    }
}

/// Longest part of a line that is shown.
const LONGEST_EXCERPT: usize = 90;

impl Problem {
    fn write(&self, out: &mut String) {
        let _ = writeln!(out, "error: {}", shown(&self.found));
        match (self.file.as_str(), self.line, self.column) {
            ("", _, _) => {}
            (file, 0, _) => {
                let _ = writeln!(out, "  in {file}");
            }
            (file, line, 0) => {
                let _ = writeln!(out, "  at {file}:{line}");
            }
            (file, line, column) => {
                let _ = writeln!(out, "  at {file}:{line}:{column}");
            }
        }
        if let Some((text, length)) = &self.excerpt {
            self.write_excerpt(text, *length, out);
        }
        for (word, what) in [("expected", &self.expected), ("do", &self.advice)] {
            if !what.is_empty() {
                let _ = writeln!(out, "  {word}: {}", shown(what));
            }
        }
        out.push('\n');
    }

    /// The line with a mark under the place; a long line is cut around it.
    fn write_excerpt(&self, text: &str, length: usize, out: &mut String) {
        let before = self.column.saturating_sub(1);
        let skip = before.saturating_sub(LONGEST_EXCERPT / 2);
        let part: String = text.chars().skip(skip).take(LONGEST_EXCERPT).collect();
        let part = part.replace('\t', " ");
        let number = self.line.to_string();
        let gap = " ".repeat(number.len());
        let room = LONGEST_EXCERPT.saturating_sub(before - skip).max(1);
        let _ = writeln!(out, " {gap} |");
        let _ = writeln!(out, " {number} | {}", shown(&part));
        if self.column > 0 {
            let _ = writeln!(
                out,
                " {gap} | {}{}",
                " ".repeat(before - skip),
                "^".repeat(length.clamp(1, room))
            );
        }
    }
}

/// Text from a file, safe to print on a terminal.
fn shown(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() { '\u{fffd}' } else { c })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::Mistake;

    fn check(text: &str, span: std::ops::Range<usize>, expected: &str) {
        let mistakes = Mistake::new(span, "found", "wanted").alone(text);
        assert_eq!(Failure::of_job("a.toml", &mistakes).text(), expected);
    }

    #[test]
    fn a_mistake_is_shown_under_its_own_line() {
        check(
            "one\ntwo = 3\n",
            10..11,
            "error: found\n  at a.toml:2:7\n   |\n 2 | two = 3\n   |       ^\n  expected: wanted\n\n",
        );
    }

    #[test]
    fn a_mistake_of_the_whole_file_shows_no_line() {
        check(
            "one\n",
            0..0,
            "error: found\n  in a.toml\n  expected: wanted\n\n",
        );
    }

    #[test]
    fn columns_count_characters_and_control_characters_are_not_printed() {
        check(
            "\u{e9}\u{1b}x",
            3..4,
            "error: found\n  at a.toml:1:3\n   |\n 1 | \u{e9}\u{fffd}x\n   |   ^\n  expected: wanted\n\n",
        );
    }

    #[test]
    fn a_place_past_the_end_of_a_text_is_harmless() {
        check(
            "x",
            40..90,
            "error: found\n  at a.toml:1:2\n   |\n 1 | x\n   |  ^\n  expected: wanted\n\n",
        );
    }
}
