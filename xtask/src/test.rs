//! `cargo xtask test`: everything that must hold before a change lands.
//! Format, lints, the app, tests, engine in the browser against engine here, the comparison with power-system libraries,
//! the example jobs, the built-in rulebook. A tool that is missing is a failure, never a test less.

use std::path::Path;

use crate::app;
use crate::engine;
use crate::examples;
use crate::shell::{self, Outcome};

/// Runs all of it, cheapest first, and stops at the first failure.
pub(crate) fn run() -> Outcome {
    let cargo = shell::cargo();
    shell::run(&cargo, &["fmt", "--all", "--check"])?;
    shell::run(
        &cargo,
        &[
            "clippy",
            "--quiet",
            "--workspace",
            "--all-targets",
            "--",
            "-D",
            "warnings",
        ],
    )?;
    app::test()?;
    tests(&cargo)?;
    parity()?;
    power_system(&cargo)?;
    faces(&cargo)?;
    // The tests have built the tool; building it alone would build the typesetting again with other features.
    let tool = shell::target().join("debug").join("lugwright");
    app::end_to_end(&tool)?;
    shell::run(shell::text(&tool)?, &["validate"])?;
    examples::check(&tool)?;
    shell::say("all passed");
    Ok(())
}

/// nextest where it is installed, and the examples in the documentation, which nextest leaves out.
fn tests(cargo: &str) -> Outcome {
    if shell::is_there(cargo, &["nextest", "--version"]) {
        shell::run(cargo, &["nextest", "run", "--workspace", "--no-fail-fast"])?;
        shell::run(cargo, &["test", "--quiet", "--workspace", "--doc"])
    } else {
        shell::run(cargo, &["test", "--quiet", "--workspace", "--no-fail-fast"])
    }
}

/// The engine in the browser and the engine here give the same answers, byte for byte.
fn parity() -> Outcome {
    // Built along with the tests.
    let native = shell::target().join("debug/examples/call");
    let [first, whole] = engine::ENGINES.map(|(name, _)| format!("web/public/{name}"));
    shell::run(
        "node",
        &[
            "tests/parity/parity.mjs",
            &first,
            &whole,
            shell::text(&native)?,
        ],
    )
}

/// Voltage drop and fault current against two independent libraries, in a Python environment of their own.
fn power_system(cargo: &str) -> Outcome {
    let python = reference_python()?;
    let results = shell::output(
        cargo,
        &[
            "run",
            "--quiet",
            "--package",
            "lugwright-engine",
            "--example",
            "reference_feeders",
            "--",
            "tests/reference/feeders.toml",
        ],
    )?;
    let path = shell::target().join("reference.json");
    std::fs::write(&path, results).map_err(|e| format!("{}: {e}", path.display()))?;
    shell::run(
        &python,
        &["tests/reference/compare.py", shell::text(&path)?],
    )
}

/// Layouts of a hundred boards against an exact solver, level by level, in the same environment.
fn faces(cargo: &str) -> Outcome {
    let python = reference_python()?;
    let path = boards(cargo, &[])?;
    shell::run(&python, &["tests/reference/face.py", shell::text(&path)?])
}

/// The boards of `reference_face` with the engine's layouts, in a file.
pub(crate) fn boards(cargo: &str, profile: &[&str]) -> Result<std::path::PathBuf, String> {
    let mut args = vec!["run", "--quiet"];
    args.extend(profile);
    args.extend([
        "--package",
        "lugwright-engine",
        "--example",
        "reference_face",
    ]);
    let boards = shell::output(cargo, &args)?;
    let path = shell::target().join("reference-face.json");
    std::fs::write(&path, boards).map_err(|e| format!("{}: {e}", path.display()))?;
    Ok(path)
}

/// The Python of the environment, made when it is missing or its list of libraries has changed.
pub(crate) fn reference_python() -> Result<String, String> {
    const LIST: &str = "tests/reference/requirements.txt";
    let venv = shell::target().join("reference-venv");
    let python = venv.join("bin/python");
    let stamp = venv.join("installed.txt");
    let list = shell::root().join(LIST);
    let wanted = std::fs::read_to_string(&list).map_err(|e| format!("{}: {e}", list.display()))?;
    if !is_installed(&stamp, &wanted) {
        shell::run("python3", &["-m", "venv", "--clear", shell::text(&venv)?])?;
        shell::run(
            shell::text(&python)?,
            &[
                "-m",
                "pip",
                "install",
                "--quiet",
                "--disable-pip-version-check",
                "-r",
                LIST,
            ],
        )?;
        std::fs::write(&stamp, wanted).map_err(|e| format!("{}: {e}", stamp.display()))?;
    }
    Ok(shell::text(&python)?.to_owned())
}

fn is_installed(stamp: &Path, wanted: &str) -> bool {
    std::fs::read_to_string(stamp).is_ok_and(|installed| installed == wanted)
}
