//! What every answer about a job begins with, as JSON.

use model::Job;
use rulebook::Rulebook;
use serde_json::{Value, json};

/// The documented form: what every JSON answer about a job begins with.
#[must_use]
pub fn of(command: &str, job: &Job, book: &Rulebook, notices: &[String]) -> Value {
    json!({
        "format": 1,
        "command": command,
        "title": job.title,
        "reason": job.reason,
        "place": job.place,
        "edition": book.edition(),
        "amendments": book.amendments(),
        "notices": notices,
    })
}
