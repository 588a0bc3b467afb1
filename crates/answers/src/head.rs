//! What every answer about a job begins with.

use model::{Edition, Job};
use rulebook::Rulebook;
use rulebook::amendment::StandingOf;
use schemars::JsonSchema;
use serde::Serialize;

// `C` names the command, `B` is the rest, whose entries stand beside these.
/// An answer about a job: what every answer begins with, then what was asked.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(rename = "{C}Answer")]
pub struct Answer<'a, C, B> {
    /// Number of the form, 1.
    format: u32,
    /// The command that was asked.
    command: C,
    /// One line for lists and papers, as the job file has it.
    title: &'a str,
    /// Why the customer called.
    reason: &'a str,
    /// Where, and under which code.
    place: &'a model::Place,
    /// The edition the job was looked at under.
    edition: Edition,
    /// Amendments that were handed in, and whether they bind.
    amendments: &'a [StandingOf],
    /// Sentences a reader must see first.
    notices: &'a [String],
    /// What was asked.
    #[serde(flatten)]
    body: B,
}

impl<'a, C, B> Answer<'a, C, B> {
    /// The answer to `command`.
    pub fn new(
        command: C,
        job: &'a Job,
        book: &'a Rulebook,
        notices: &'a [String],
        body: B,
    ) -> Self {
        Self {
            format: crate::FORMAT,
            command,
            title: &job.title,
            reason: &job.reason,
            place: &job.place,
            edition: book.edition(),
            amendments: book.amendments(),
            notices,
            body,
        }
    }
}

/// What every report ends with.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Cautioned<B> {
    /// What stands before it.
    #[serde(flatten)]
    body: B,
    /// What a reader must heed: one sentence each.
    cautions: [&'static str; 4],
}

impl<B> Cautioned<B> {
    /// Ends with the cautions.
    pub const fn new(body: B) -> Self {
        Self {
            body,
            cautions: crate::CAUTIONS,
        }
    }
}

/// With the drawing, where it was asked for.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Drawn<B> {
    /// What is drawn.
    #[serde(flatten)]
    pub body: B,
    /// The drawing as SVG; `null` when it was not asked for.
    pub drawing: Option<String>,
}
