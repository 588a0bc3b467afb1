//! `cargo xtask run`: build the tool, print the report of the demo job, and its papers as PDF.
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
    let tool = shell::text(&tool)?;
    match shell::status(tool, &["check", DEMO])? {
        0 => {}
        1 => shell::say("\nexit code 1: something required is missing, as the demo means to show"),
        code => return Err(format!("the report of {DEMO} ended with {code}")),
    }
    let papers = shell::target().join("papers");
    let out = shell::text(&papers)?;
    match shell::quiet(tool, &["papers", DEMO, "--out", out])? {
        0 => {
            shell::say(&format!("the papers of the job are printed to {out}"));
            Ok(())
        }
        code => Err(format!("printing the papers of {DEMO} ended with {code}")),
    }
}
