//! What the engine says about a job, and its papers. Both are plugged in, may be slow, and run away from the network.

use std::sync::Arc;

use axum::Json;
use axum::extract::State;
use axum::http::{HeaderValue, StatusCode, Uri, header};
use axum::response::{IntoResponse, Response};
use serde_json::Value;

use crate::app::{App, At, query};
use crate::problem::Problem;

/// The questions that can be asked about a job; docs/json-output.md has their answers.
pub const COMMANDS: [&str; 5] = ["check", "face", "move", "cutover", "price"];

/// Longest name of a paper.
const LONGEST_NAME: usize = 60;

pub(crate) async fn answer(
    State(app): State<Arc<App>>,
    at: At,
    uri: Uri,
) -> Result<Json<Value>, Problem> {
    let Some(command) = COMMANDS.into_iter().find(|c| *c == at.name) else {
        let expected = format!("one of {}", COMMANDS.join(", "));
        return Err(Problem::new(
            StatusCode::NOT_FOUND,
            "There is no such question about a job.",
            expected,
            "Ask one of these.",
        ));
    };
    let options = Value::Object(query(&uri)?);
    let text = app.store.get(&at.id).await?.text;
    let call = Arc::clone(&app.plugs.answers);
    away(&app, move || call(command, &text, options))
        .await
        .map(Json)
}

pub(crate) async fn paper(
    State(app): State<Arc<App>>,
    at: At,
    uri: Uri,
) -> Result<Response, Problem> {
    let missing = || Problem::not_found("paper of this name");
    let right = |b: u8| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'_' | b'.');
    if at.name.len() > LONGEST_NAME || !at.name.bytes().all(right) || at.name.starts_with('.') {
        return Err(missing());
    }
    let options = Value::Object(query(&uri)?);
    let text = app.store.get(&at.id).await?.text;
    let make = Arc::clone(&app.plugs.papers);
    let paper = away(&app, move || make(&at.name, &text, options))
        .await?
        .ok_or_else(missing)?;
    let name: String = paper
        .file_name
        .chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() || c == '.' {
                c
            } else {
                '-'
            }
        })
        .collect();
    let disposition = HeaderValue::try_from(format!("attachment; filename=\"{name}\""))
        .map_err(|_| Problem::internal())?;
    let headers = [
        (
            header::CONTENT_TYPE,
            HeaderValue::from_static(paper.content_type),
        ),
        (header::CONTENT_DISPOSITION, disposition),
    ];
    Ok((headers, paper.bytes).into_response())
}

/// Works it out on a thread of its own, when one is free. A caller who goes away does not free it early.
async fn away<T: Send + 'static>(
    app: &App,
    work: impl FnOnce() -> Result<T, Value> + Send + 'static,
) -> Result<T, Problem> {
    let permit = Arc::clone(&app.workers)
        .acquire_owned()
        .await
        .map_err(|_| Problem::internal())?;
    tokio::task::spawn_blocking(move || {
        let answer = work();
        drop(permit);
        answer
    })
    .await
    .map_err(|_| Problem::internal())?
    .map_err(Problem::refused)
}
