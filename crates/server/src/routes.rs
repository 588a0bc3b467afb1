//! The table of all routes.

use std::sync::Arc;

use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, delete, get, post, put};
use axum::{Json, Router, middleware};
use serde_json::json;

use crate::app::App;
use crate::problem::Problem;
use crate::{answers, assets, gate, history, jobs, photos};

/// The routes for programs: OpenAPI 3.1, as JSON.
pub const OPENAPI: &str = include_str!("../openapi.json");

struct Route {
    method: &'static str,
    path: &'static str,
    handler: MethodRouter<Arc<App>>,
}

/// Method and path of every route, as the OpenAPI document spells them.
#[must_use]
pub fn route_names() -> Vec<(&'static str, &'static str)> {
    table().iter().map(|r| (r.method, r.path)).collect()
}

pub(crate) fn router(app: Arc<App>) -> Router {
    table()
        .into_iter()
        .fold(Router::new(), |router, r| router.route(r.path, r.handler))
        .fallback(assets::file)
        .method_not_allowed_fallback(assets::wrong_method)
        .layer(middleware::from_fn_with_state(Arc::clone(&app), gate::pass))
        .with_state(app)
}

fn table() -> Vec<Route> {
    let route = |method, path, handler| Route {
        method,
        path,
        handler,
    };
    vec![
        route("GET", "/api/v1/jobs", get(jobs::list)),
        route("POST", "/api/v1/jobs", post(jobs::create)),
        route("GET", "/api/v1/jobs/{id}", get(jobs::get)),
        route("PUT", "/api/v1/jobs/{id}", put(jobs::save)),
        route("DELETE", "/api/v1/jobs/{id}", delete(jobs::remove)),
        route("POST", "/api/v1/jobs/{id}/restore", post(jobs::restore)),
        route("GET", "/api/v1/jobs/{id}/history", get(history::list)),
        route(
            "GET",
            "/api/v1/jobs/{id}/revisions/{number}",
            get(history::revision),
        ),
        route("POST", "/api/v1/jobs/{id}/undo", post(history::undo)),
        route(
            "GET",
            "/api/v1/jobs/{id}/papers/{name}",
            get(answers::paper),
        ),
        route("GET", "/api/v1/jobs/{id}/photos", get(photos::list)),
        route("GET", "/api/v1/jobs/{id}/photos/{name}", get(photos::get)),
        route("PUT", "/api/v1/jobs/{id}/photos/{name}", put(photos::put)),
        route(
            "DELETE",
            "/api/v1/jobs/{id}/photos/{name}",
            delete(photos::remove),
        ),
        route("GET", "/api/v1/jobs/{id}/{command}", get(answers::answer)),
        route("GET", "/api/v1/openapi.json", get(openapi)),
        route("GET", "/health", get(health)),
        route("GET", "/metrics", get(metrics)),
    ]
}

async fn openapi() -> Response {
    ([(header::CONTENT_TYPE, "application/json")], OPENAPI).into_response()
}

async fn health(State(app): State<Arc<App>>) -> Result<Response, Problem> {
    app.store.list("", 1, None).await.map_err(|_| {
        Problem::new(
            StatusCode::SERVICE_UNAVAILABLE,
            "The jobs cannot be read.",
            "",
            "Start the program again and look at its messages.",
        )
    })?;
    let version = env!("CARGO_PKG_VERSION");
    Ok(Json(json!({ "status": "ok", "version": version })).into_response())
}

async fn metrics(State(app): State<Arc<App>>) -> Response {
    let kind = "text/plain; version=0.0.4; charset=utf-8";
    ([(header::CONTENT_TYPE, kind)], app.metrics.text()).into_response()
}
