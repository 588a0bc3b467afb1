//! What every handler shares, and the few things they all do.

use std::sync::Arc;
use std::time::{SystemTime, UNIX_EPOCH};

use axum::extract::{FromRequestParts, RawPathParams};
use axum::http::request::Parts;
use axum::http::{HeaderMap, StatusCode, Uri, header};
use model::JobFile;
use serde_json::{Map, Value};
use store::{JobId, Moment, Store};
use tokio::sync::Semaphore;

use crate::metrics::Metrics;
use crate::plugs::Plugs;
use crate::problem::Problem;

/// What every handler shares.
pub(crate) struct App {
    pub(crate) store: Store,
    pub(crate) plugs: Plugs,
    pub(crate) metrics: Metrics,
    /// So many plugged-in answers are worked out at once; the others wait.
    pub(crate) workers: Arc<Semaphore>,
    /// So many job files are read at once; in their order, or a late one would wait for all that came after it.
    readers: Semaphore,
}

impl App {
    pub(crate) fn new(store: Store, plugs: Plugs) -> Self {
        let cores = std::thread::available_parallelism().map_or(2, usize::from);
        Self {
            store,
            plugs,
            metrics: Metrics::default(),
            workers: Arc::new(Semaphore::new(cores)),
            readers: Semaphore::new(cores),
        }
    }
}

/// The job a path names, and the rest of the path if it has one.
pub(crate) struct At {
    pub(crate) id: JobId,
    pub(crate) name: String,
}

impl<S: Send + Sync> FromRequestParts<S> for At {
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        let missing = || Problem::not_found("job with this id");
        let params = RawPathParams::from_request_parts(parts, state)
            .await
            .map_err(|_| missing())?;
        let mut values = params.iter().map(|(_, value)| value);
        Ok(Self {
            id: values
                .next()
                .and_then(|v| v.parse().ok())
                .ok_or_else(missing)?,
            name: values.next().unwrap_or_default().to_owned(),
        })
    }
}

/// The query as an object of texts.
pub(crate) fn query(uri: &Uri) -> Result<Map<String, Value>, Problem> {
    axum::extract::Query::try_from_uri(uri)
        .map(|axum::extract::Query(map)| map)
        .map_err(|_| Problem::bad("The query cannot be read.", "name=value&name=value"))
}

/// The revision a change is based on, from `If-Match`.
pub(crate) fn based_on(headers: &HeaderMap) -> Result<u32, Problem> {
    let Some(value) = headers.get(header::IF_MATCH) else {
        return Err(Problem::new(
            StatusCode::PRECONDITION_REQUIRED,
            "The change does not say which revision it is based on.",
            "the header `If-Match` with the revision, as `If-Match: \"7\"`",
            "Read the job, and send its `revision` along; nothing was changed.",
        ));
    };
    value
        .to_str()
        .ok()
        .map(|v| v.trim().trim_matches('"'))
        .and_then(|v| v.parse().ok())
        .filter(|n| *n > 0)
        .ok_or_else(|| Problem::bad("`If-Match` is no revision.", "a number from 1, as `\"7\"`"))
}

/// Text of up to so many bytes is read where the request is answered: a millisecond or two. Handing it to another thread made saves slower (measured).
const READ_IN_PLACE: usize = 48_000;

/// The title of the job in this text, or every mistake of it.
pub(crate) async fn title_of(app: &App, text: &str) -> Result<String, Problem> {
    let title = |text: &str| JobFile::read(text).map(|file| file.job.title);
    let read = if text.len() <= READ_IN_PLACE {
        title(text)
    } else {
        let _turn = app.readers.acquire().await;
        let text = text.to_owned();
        tokio::task::spawn_blocking(move || title(&text))
            .await
            .map_err(|_| Problem::internal())?
    };
    read.map_err(|mistakes| Problem::job_text(&mistakes))
}

pub(crate) fn now() -> Moment {
    let since = SystemTime::now()
        .duration_since(UNIX_EPOCH)
        .unwrap_or_default();
    Moment(i64::try_from(since.as_millis()).unwrap_or(i64::MAX))
}
