//! `schema`: the JSON Schema of the job file, whatever the form asked for.

use crate::Answer;

/// The schema as JSON.
pub(crate) fn run() -> Answer {
    Answer::json(model::file::schema().as_value())
}
