//! `cargo xtask bench`: how fast is the engine, and beside a general power-system library?
//! Medians of many runs after a warm-up, built for release; JSON on standard output and in `target/bench.json`.

use crate::shell::{self, Outcome};
use crate::test;

/// Builds and runs the benchmark program, then the library's timing of the same feeders.
pub(crate) fn run() -> Outcome {
    let cargo = shell::cargo();
    let engine = shell::output(
        &cargo,
        &[
            "run",
            "--quiet",
            "--release",
            "--package",
            "lugwright-engine",
            "--example",
            "bench",
        ],
    )?;
    let engine = String::from_utf8(engine).map_err(|e| e.to_string())?;
    let library = library().unwrap_or_else(|why| {
        shell::say(&format!("the library is left out: {why}"));
        "null".to_owned()
    });
    let json = format!(
        "{{\"engine\":{},\"library\":{}}}\n",
        engine.trim(),
        library.trim()
    );
    let path = shell::target().join("bench.json");
    std::fs::write(&path, &json).map_err(|e| format!("{}: {e}", path.display()))?;
    shell::print(&json)
}

fn library() -> Result<String, String> {
    let python = test::reference_python()?;
    let out = shell::output(&python, &["tests/reference/bench.py"])?;
    String::from_utf8(out).map_err(|e| e.to_string())
}
