//! `cargo xtask run`: build the tool and print the report of the demo job.
//! The ordinary profile is used: it builds several times faster and the report comes just as promptly.

use crate::shell::{self, Outcome};

/// The job that the README shows.
const DEMO: &str = "examples/ranch-subpanel.toml";

/// Builds and runs the main job. The report ending in "something required is missing" is the expected outcome of the demo.
pub(crate) fn run() -> Outcome {
    shell::run(
        &shell::cargo(),
        &["build", "--quiet", "--package", "lugwright"],
    )?;
    let tool = shell::target().join("debug").join("lugwright");
    match shell::status(shell::text(&tool)?, &["check", DEMO])? {
        0 => Ok(()),
        1 => {
            shell::say("\nexit code 1: something required is missing, as the demo means to show");
            Ok(())
        }
        code => Err(format!("the report of {DEMO} ended with {code}")),
    }
}
