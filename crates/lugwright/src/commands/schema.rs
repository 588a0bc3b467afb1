//! `schema`: the JSON Schema of the job file, or of questions and answers, whatever the form asked for.

use crate::Answer;
use crate::args::SchemaOf;

/// The schema as JSON.
pub(crate) fn run(of: SchemaOf) -> Answer {
    match of {
        SchemaOf::Job => Answer::json(model::file::schema().as_value()),
        SchemaOf::Answers => Answer::json(&answers::schema::schema()),
    }
}
