//! What a job once was: its revisions, one of them, and the way back.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Request, State};
use axum::response::Response;
use serde_json::{Value, json};
use store::Undo;

use crate::app::{App, At, based_on, now};
use crate::body;
use crate::jobs::{as_it_is, change};
use crate::problem::Problem;
use crate::shapes;

pub(crate) async fn list(State(app): State<Arc<App>>, at: At) -> Result<Json<Value>, Problem> {
    let history = app.store.history(&at.id).await?;
    let revisions: Vec<Value> = history.iter().map(shapes::entry).collect();
    Ok(Json(json!({ "revisions": revisions })))
}

pub(crate) async fn revision(State(app): State<Arc<App>>, at: At) -> Result<Json<Value>, Problem> {
    let number = at
        .name
        .parse()
        .map_err(|_| Problem::not_found("such revision; revisions are numbered from 1"))?;
    let revision = app.store.revision(&at.id, number).await?;
    Ok(Json(shapes::revision(&revision)))
}

pub(crate) async fn undo(
    State(app): State<Arc<App>>,
    at: At,
    request: Request,
) -> Result<Response, Problem> {
    let based_on = based_on(request.headers())?;
    let mut fields = body::object(request).await?;
    let undo = Undo {
        based_on,
        to: fields.revision("to")?,
        change: change(&mut fields, now())?,
    };
    fields.finish()?;
    match app.store.undo_to(&at.id, undo).await {
        Ok(_) => {
            app.metrics.saved();
            as_it_is(&app, &at.id).await
        }
        Err(error) => {
            if matches!(error, store::Error::Stale(_)) {
                app.metrics.conflicted();
            }
            Err(error.into())
        }
    }
}
