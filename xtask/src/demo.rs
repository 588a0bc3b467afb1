//! `cargo xtask run`: build the app and the tool, print the report of the demo job and its papers as PDF, and open the doors of the app.
//! The ordinary profile is used: it builds several times faster and the report comes just as promptly.

use std::net::TcpListener;
use std::path::Path;

use crate::app;
use crate::shell::{self, Outcome};

/// The job that the README shows.
const DEMO: &str = "examples/ranch-subpanel.toml";

/// Where the app is when nothing else is there.
const PORT: u16 = 4780;

/// Builds and runs the main job, then the app until Ctrl-C. The report ending in "something required is missing" is the expected outcome of the demo.
pub(crate) fn run(args: &[String]) -> Outcome {
    let with_app = match args {
        [] => true,
        [only] if only == "--no-app" => false,
        _ => {
            return Err(format!(
                "`run` takes `--no-app` and nothing else, not {args:?}"
            ));
        }
    };
    if with_app {
        match app::tools() {
            Ok(()) => app::build()?,
            Err(why) => shell::say(&format!(
                "{why}\nwithout it the server runs, but has no screens to show"
            )),
        }
    }
    shell::run(
        &shell::cargo(),
        &["build", "--quiet", "--package", "lugwright"],
    )?;
    let tool = shell::target().join("debug").join("lugwright");
    report(&tool)?;
    papers(&tool)?;
    if with_app { serve(&tool) } else { Ok(()) }
}

fn report(tool: &Path) -> Outcome {
    match shell::status(shell::text(tool)?, &["check", DEMO])? {
        0 => Ok(()),
        1 => {
            shell::say("\nexit code 1: something required is missing, as the demo means to show");
            Ok(())
        }
        code => Err(format!("the report of {DEMO} ended with {code}")),
    }
}

fn papers(tool: &Path) -> Outcome {
    let papers = shell::target().join("papers");
    let out = shell::text(&papers)?;
    match shell::quiet(shell::text(tool)?, &["papers", DEMO, "--out", out])? {
        0 => {
            shell::say(&format!("the papers of the job are printed to {out}"));
            Ok(())
        }
        code => Err(format!("printing the papers of {DEMO} ended with {code}")),
    }
}

/// Until Ctrl-C; the jobs stay in the target folder from one time to the next.
fn serve(tool: &Path) -> Outcome {
    let data = shell::target().join("app-data");
    let is_free = TcpListener::bind(("127.0.0.1", PORT)).is_ok();
    let port = if is_free { PORT } else { 0 }.to_string();
    let data = shell::text(&data)?;
    shell::run(
        shell::text(tool)?,
        &["serve", "--data", data, "--port", &port],
    )
}
