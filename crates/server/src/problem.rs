//! Every answer that is not a yes: what is wrong, what was expected, what to do, with the right status.
//! Nothing of the database or the file system is told.

use axum::Json;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use model::Mistakes;
use serde_json::{Map, Value, json};
use store::Stale;

use crate::photos;

/// What went wrong.
#[derive(Clone, Debug)]
pub(crate) struct Problem {
    status: StatusCode,
    body: Map<String, Value>,
}

impl Problem {
    pub(crate) fn new(
        status: StatusCode,
        error: impl Into<String>,
        expected: impl Into<String>,
        advice: impl Into<String>,
    ) -> Self {
        let mut body = Map::new();
        body.insert("error".to_owned(), Value::String(error.into()));
        body.insert("expected".to_owned(), Value::String(expected.into()));
        body.insert("advice".to_owned(), Value::String(advice.into()));
        Self { status, body }
    }

    /// The request itself is wrong.
    pub(crate) fn bad(error: impl Into<String>, expected: impl Into<String>) -> Self {
        let advice = "Correct the request; nothing was changed.";
        Self::new(StatusCode::BAD_REQUEST, error, expected, advice)
    }

    /// Something failed here that the caller cannot mend.
    pub(crate) fn internal() -> Self {
        Self::new(
            StatusCode::INTERNAL_SERVER_ERROR,
            "The server could not do it.",
            "",
            "Try again; when it stays so, start the program again and look at its messages.",
        )
    }

    pub(crate) fn not_found(what: &str) -> Self {
        Self::new(
            StatusCode::NOT_FOUND,
            format!("There is no {what}."),
            "",
            "Look it up in the list of jobs or in /api/v1/openapi.json.",
        )
    }

    fn with(mut self, name: &str, value: Value) -> Self {
        self.body.insert(name.to_owned(), value);
        self
    }

    /// The text does not read as a job file.
    pub(crate) fn job_text(mistakes: &Mistakes) -> Self {
        let all: Vec<Value> = mistakes
            .all()
            .iter()
            .map(|m| {
                let whole = m.span == (0..0);
                let (line, column) = if whole { (0, 0) } else { m.position(mistakes.text()) };
                json!({ "line": line, "column": column, "found": m.found, "expected": m.expected, "advice": "" })
            })
            .collect();
        Self::new(
            StatusCode::UNPROCESSABLE_ENTITY,
            format!("The job file has {}.", counted(all.len())),
            "a job file as docs/job-file.md describes it",
            "Correct what `mistakes` lists, each with its line and column; nothing was saved.",
        )
        .with("mistakes", Value::Array(all))
    }

    /// The engine or the papers refused.
    pub(crate) fn refused(details: Value) -> Self {
        Self::new(
            StatusCode::UNPROCESSABLE_ENTITY,
            "This cannot be answered for the job as it is.",
            "",
            "Mend what `details` names.",
        )
        .with("details", details)
    }

    /// Another save came first. Both versions go back, so that nothing is lost.
    pub(crate) fn stale(stale: &Stale, your_text: Option<&str>) -> Self {
        let mut yours = Map::new();
        yours.insert("based_on".to_owned(), json!(stale.yours));
        if let Some(text) = your_text {
            yours.insert("text".to_owned(), json!(text));
        }
        Self::new(
            StatusCode::PRECONDITION_FAILED,
            format!(
                "The job is at revision {}, this change is based on revision {}.",
                stale.theirs, stale.yours
            ),
            "a change based on the newest revision",
            "Lay both versions side by side, merge, and save based on the newest revision; nothing was changed.",
        )
        .with("yours", Value::Object(yours))
        .with(
            "theirs",
            json!({ "revision": stale.theirs, "by": stale.by, "at": stale.at.0, "text": stale.text }),
        )
    }

    /// What the store said, in the caller's words.
    pub(crate) fn of_store(error: &store::Error, your_text: Option<&str>) -> Self {
        use store::Error as E;
        match error {
            E::NoSuchJob => Self::not_found("job with this id"),
            E::NoSuchRevision(n) => Self::not_found(&format!("revision {n} of this job")),
            E::Removed => Self::new(
                StatusCode::GONE,
                "The job is removed.",
                "a job that is in the list",
                "Restore it with POST /api/v1/jobs/{id}/restore, then save again.",
            ),
            E::Exists => Self::new(
                StatusCode::CONFLICT,
                "There is a job with this id already.",
                "an id of its own for each new job",
                "If this request was sent before, it has worked: read the job. Otherwise leave the id out.",
            ),
            E::Stale(stale) => Self::stale(stale, your_text),
            E::NoSuchPhoto => Self::not_found("such photo of this job"),
            E::OtherPhoto(there) => Self::new(
                StatusCode::PRECONDITION_FAILED,
                "Another photo has this name by now.",
                "the `ETag` of the photo that has the name",
                "Look at that one first; nothing was changed.",
            )
            .with("theirs", photos::shape(there)),
            E::PhotoGone => Self::new(
                StatusCode::NOT_FOUND,
                "The file of this photo is gone from the data folder.",
                "the folder of photos beside the jobs",
                "Bring that folder back from a copy of the data folder, or send the photo again.",
            ),
            E::Disk(why) if why.kind() == std::io::ErrorKind::StorageFull => Self::new(
                StatusCode::INSUFFICIENT_STORAGE,
                "There is no room left on the disk of the program.",
                "",
                "Free some room there, then send it again; nothing was changed.",
            ),
            E::BadCursor => Self::bad("`after` is not a cursor.", "what `next` of a page said"),
            E::Closed => Self::new(
                StatusCode::SERVICE_UNAVAILABLE,
                "The server is stopping.",
                "",
                "Send it again when the program runs.",
            ),
            _ => Self::internal(),
        }
    }
}

impl From<store::Error> for Problem {
    fn from(error: store::Error) -> Self {
        Self::of_store(&error, None)
    }
}

fn counted(mistakes: usize) -> String {
    if mistakes == 1 {
        "one mistake".to_owned()
    } else {
        format!("{mistakes} mistakes")
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        (self.status, Json(Value::Object(self.body))).into_response()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_fails_inside_is_not_told_outside() {
        let errors = [
            store::Error::Folder {
                folder: "/home/ada/secret".into(),
                why: std::io::Error::other("secret"),
            },
            store::Error::Unreadable {
                file: "/home/ada/secret".into(),
                why: "secret".to_owned(),
            },
            store::Error::NoRandom("secret".to_owned()),
            store::Error::Disk(std::io::Error::other("/home/ada/secret")),
        ];
        for error in errors {
            let problem = Problem::from(error);
            assert_eq!(problem.status, StatusCode::INTERNAL_SERVER_ERROR);
            let text = Value::Object(problem.body).to_string();
            assert!(
                !text.contains("secret") && !text.contains("/home"),
                "{text}"
            );
        }
    }
}
