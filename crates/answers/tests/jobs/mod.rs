//! The demo jobs, and the door at which questions about them are asked.
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use std::path::Path;

use serde_json::{Value, json};

/// Every demo job with its name.
pub(crate) fn demo_jobs() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let files = std::fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().path());
    let mut jobs: Vec<_> = files
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .map(|p| {
            let name = p.file_stem().unwrap().to_string_lossy().into_owned();
            (name, std::fs::read_to_string(&p).unwrap())
        })
        .collect();
    jobs.sort();
    assert_eq!(jobs.len(), 6);
    jobs
}

/// The answer to a question.
pub(crate) fn asked(question: &Value) -> Value {
    serde_json::from_str(&answers::call::call(&question.to_string())).unwrap()
}

/// The job with edits made that must be accepted.
pub(crate) fn edited(job: &str, edits: &Value) -> String {
    let answer = asked(&json!({ "command": "edit", "job": job, "edits": edits }));
    assert_eq!(answer["command"], "edit", "{answer}");
    answer["job"].as_str().unwrap().to_owned()
}
