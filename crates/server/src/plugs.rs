//! What the server does not do itself: the engine's answers, the papers, the files of the web app, the jobs that an empty folder begins with.

use std::borrow::Cow;
use std::sync::Arc;

use serde_json::{Value, json};

/// A document to download.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paper {
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// Its media type, as `application/pdf`.
    pub content_type: &'static str,
    /// The name to save it under; letters, digits, dots and hyphens are kept, the rest becomes a hyphen.
    pub file_name: String,
}

/// A file of the web app.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asset {
    /// Its bytes.
    pub bytes: Cow<'static, [u8]>,
    /// The same, compressed with Brotli, where that was prepared.
    pub brotli: Option<Cow<'static, [u8]>>,
    /// The same, compressed with gzip, where that was prepared.
    pub gzip: Option<Cow<'static, [u8]>>,
}

/// Answers a command about a job: command, text of the job, options (an object of texts); or says what is wrong, as JSON.
type AnswerFn = dyn Fn(&str, &str, Value) -> Result<Value, Value> + Send + Sync;

/// Makes a paper: name, text of the job, options; `Ok(None)` when there is no paper of this name.
type PaperFn = dyn Fn(&str, &str, Value) -> Result<Option<Paper>, Value> + Send + Sync;

/// Gives the file at this path (no leading slash, never empty).
type AssetFn = dyn Fn(&str) -> Option<Asset> + Send + Sync;

/// Gives the jobs that a folder without any begins with; the last one is listed first.
type FirstJobsFn = dyn Fn() -> Vec<store::Edit> + Send + Sync;

/// What the server does not do itself. All of it may be slow and may run many times at once.
#[derive(Clone)]
pub struct Plugs {
    /// The engine.
    pub answers: Arc<AnswerFn>,
    /// The papers.
    pub papers: Arc<PaperFn>,
    /// The web app.
    pub assets: Arc<AssetFn>,
    /// The first jobs.
    pub first_jobs: Arc<FirstJobsFn>,
}

impl Default for Plugs {
    /// Nothing plugged in: every command is refused, there are no papers, no files and no first jobs.
    fn default() -> Self {
        Self {
            answers: Arc::new(|command, _, _| {
                Err(json!({ "error": format!("`{command}` is not part of this build") }))
            }),
            papers: Arc::new(|_, _, _| Ok(None)),
            assets: Arc::new(|_| None),
            first_jobs: Arc::new(Vec::new),
        }
    }
}
