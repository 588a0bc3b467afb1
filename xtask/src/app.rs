//! The web app: engine for the browser, libraries, web build, and everything packed for the program that carries it.

use std::fs;
use std::path::Path;

use crate::engine;
use crate::shell::{self, Outcome};

/// Is everything there that the app needs?
pub(crate) fn tools() -> Outcome {
    let major = shell::quiet_output("node", &["--version"]).and_then(|v| {
        v.trim()
            .trim_start_matches('v')
            .split('.')
            .next()?
            .parse()
            .ok()
    });
    match major {
        Some(20u32..) if shell::is_there("npm", &["--version"]) => Ok(()),
        Some(20u32..) => Err("npm is missing: install it beside Node.js".to_owned()),
        Some(old) => Err(format!("Node.js {old} is too old: install 20 or newer")),
        None => Err("Node.js is missing: install 20 or newer, with npm".to_owned()),
    }
}

/// Builds the app; the program built after this carries it.
pub(crate) fn build() -> Outcome {
    tools()?;
    engine::build()?;
    libraries()?;
    npm(&["run", "build"])?;
    shell::run("node", &["web/scripts/pack.mjs"])
}

/// Builds it with every check it has.
pub(crate) fn test() -> Outcome {
    tools()?;
    libraries()?;
    npm(&["run", "check"])?;
    npm(&["run", "test"])?;
    build()
}

/// The whole job in a real browser, against the program that carries the app.
pub(crate) fn end_to_end(program: &Path) -> Outcome {
    in_browser("e2e", program)
}

/// Sizes and times in a real browser, as JSON.
pub(crate) fn measure(program: &Path) -> Result<String, String> {
    in_browser("measure", program)?;
    let results = shell::root().join("web/e2e/results/measured.json");
    fs::read_to_string(&results).map_err(|e| format!("{}: {e}", results.display()))
}

fn in_browser(script: &str, program: &Path) -> Outcome {
    let browser = std::env::var("CHROMIUM").unwrap_or_else(|_| "/usr/bin/chromium".to_owned());
    if !shell::is_there(&browser, &["--version"]) {
        return Err(format!(
            "no browser at {browser}: install Chromium, or name it in CHROMIUM"
        ));
    }
    let env = [
        ("LUGWRIGHT_BIN", shell::text(program)?),
        ("CHROMIUM", browser.as_str()),
    ];
    shell::run_with("npm", &["--prefix", "web", "run", script], &env)
}

/// npm in the folder of the app.
pub(crate) fn npm(args: &[&str]) -> Outcome {
    let mut all = vec!["--prefix", "web"];
    all.extend(args);
    shell::run("npm", &all)
}

/// Installs the libraries when their list is another than the one they were installed from.
fn libraries() -> Outcome {
    let list = shell::root().join("web/package-lock.json");
    let stamp = shell::root().join("web/node_modules/.installed.json");
    let wanted = fs::read(&list).map_err(|e| format!("{}: {e}", list.display()))?;
    if fs::read(&stamp).is_ok_and(|installed| installed == wanted) {
        return Ok(());
    }
    npm(&["ci", "--no-audit", "--no-fund"])?;
    fs::write(&stamp, wanted).map_err(|e| format!("{}: {e}", stamp.display()))
}
