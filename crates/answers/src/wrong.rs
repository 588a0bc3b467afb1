//! What is wrong with a question or its job: mistakes, each with its place in the job's text. Lines and columns from 1; 0 means the whole.

use model::Mistakes;
use schemars::JsonSchema;
use serde::Serialize;

use crate::question::name;

/// The answer when something is wrong.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(rename = "ErrorAnswer")]
pub struct Wrong {
    /// Number of the form, 1.
    format: u32,
    command: name::Error,
    /// At least one.
    mistakes: Vec<WrongHere>,
}

/// One mistake.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(rename = "Mistake")]
pub struct WrongHere {
    line: usize,
    /// In characters.
    column: usize,
    found: String,
    /// What was expected, or what to do.
    expected: String,
    /// The line itself, where the mistake is in the job's text.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "String")]
    excerpt: Option<String>,
}

impl Wrong {
    /// One mistake that has no place in the text.
    #[must_use]
    pub fn with(found: impl Into<String>, expected: impl Into<String>) -> Self {
        Self::of(vec![WrongHere {
            line: 0,
            column: 0,
            found: found.into(),
            expected: expected.into(),
            excerpt: None,
        }])
    }

    /// Mistakes in a job's text.
    #[must_use]
    pub fn in_text(all: &Mistakes, text: &str) -> Self {
        let each = all.all().iter().map(|m| {
            let (line, column) = m.position(text);
            let excerpt = text.lines().nth(line.saturating_sub(1)).unwrap_or_default();
            WrongHere {
                line,
                column,
                found: m.found.clone(),
                expected: m.expected.clone(),
                excerpt: Some(excerpt.to_owned()),
            }
        });
        Self::of(each.collect())
    }

    fn of(mistakes: Vec<WrongHere>) -> Self {
        Self {
            format: crate::FORMAT,
            command: name::Error::Error,
            mistakes,
        }
    }
}
