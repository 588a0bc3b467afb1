//! `cargo xtask bench`: how fast is the engine, and beside a general power-system library?
//! Medians of many runs after a warm-up, built for release; JSON on standard output and in `target/bench.json`.

use crate::app;
use crate::shell::{self, Outcome};
use crate::test;

/// Builds and runs the benchmark programs, then the library's timing of the same feeders.
pub(crate) fn run() -> Outcome {
    let engine = example("bench", &["examples"])?;
    let feeders = example(
        "reference_feeders",
        &["tests/reference/feeders.toml", "--time"],
    )?;
    let beside = beside(&feeders).unwrap_or_else(|why| {
        shell::say(&format!("the library is left out: {why}"));
        format!("{{\"engine\":{}}}", feeders.trim())
    });
    let faces = example("reference_face", &["--time"])?;
    let face_beside = face_beside().unwrap_or_else(|why| {
        shell::say(&format!("the exact solver is left out: {why}"));
        "null".to_owned()
    });
    let papers = papers()?;
    let server = server()?;
    let app = app().unwrap_or_else(|why| {
        shell::say(&format!("the app is left out: {why}"));
        "null".to_owned()
    });
    let json = format!(
        "{{\"engine\":{},\"feeders\":{},\"face\":{},\"face_beside\":{},\"papers\":{},\"server\":{},\"app\":{}}}\n",
        engine.trim(),
        beside.trim(),
        faces.trim(),
        face_beside.trim(),
        papers.trim(),
        server.trim(),
        app.trim()
    );
    let path = shell::target().join("bench.json");
    std::fs::write(&path, &json).map_err(|e| format!("{}: {e}", path.display()))?;
    shell::print(&json)
}

/// Output of an example program of the engine, built for release.
fn example(name: &str, args: &[&str]) -> Result<String, String> {
    let mut all = vec![
        "run",
        "--quiet",
        "--release",
        "--package",
        "lugwright-engine",
    ];
    all.extend(["--example", name, "--"]);
    all.extend(args);
    let out = shell::output(&shell::cargo(), &all)?;
    String::from_utf8(out).map_err(|e| format!("{name}: {e}"))
}

/// Times of the papers of the demo job.
fn papers() -> Result<String, String> {
    let out = shell::output(
        &shell::cargo(),
        &[
            "run",
            "--quiet",
            "--release",
            "--package",
            "lugwright-papers",
            "--example",
            "bench_papers",
            "--",
            "examples/ranch-subpanel.toml",
        ],
    )?;
    String::from_utf8(out).map_err(|e| e.to_string())
}

/// Times of saves by many at once, and of a long list.
fn server() -> Result<String, String> {
    let args = [
        "run",
        "--quiet",
        "--release",
        "--package",
        "lugwright-server",
        "--example",
        "bench_server",
    ];
    let out = shell::output(&shell::cargo(), &args)?;
    String::from_utf8(out).map_err(|e| e.to_string())
}

/// Size of the app, and its times in a real browser.
fn app() -> Result<String, String> {
    app::build()?;
    shell::run(
        &shell::cargo(),
        &["build", "--quiet", "--release", "--package", "lugwright"],
    )?;
    app::measure(&shell::target().join("release/lugwright"))
}

/// Time of an exact solver on the same boards over the engine's, for as many boards as it proves in a minute.
fn face_beside() -> Result<String, String> {
    let python = test::reference_python()?;
    let boards = test::boards(&shell::cargo(), &["--release"])?;
    let boards = shell::text(&boards)?;
    let out = shell::output(
        &python,
        &["tests/reference/face.py", boards, "60", "--time"],
    )?;
    String::from_utf8(out).map_err(|e| e.to_string())
}

fn beside(feeders: &str) -> Result<String, String> {
    let python = test::reference_python()?;
    let path = shell::target().join("reference-time.json");
    std::fs::write(&path, feeders).map_err(|e| format!("{}: {e}", path.display()))?;
    let out = shell::output(&python, &["tests/reference/bench.py", shell::text(&path)?])?;
    String::from_utf8(out).map_err(|e| e.to_string())
}
