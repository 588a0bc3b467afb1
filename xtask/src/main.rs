//! The commands of the house: `cargo xtask run`, `cargo xtask test`, `cargo xtask bench`.
//! Each does all its own set-up and says every command it runs, so that any of them can be repeated by hand.

mod app;
mod bench;
mod demo;
mod engine;
mod examples;
mod shell;
mod test;

use std::process::ExitCode;

const HELP: &str = "\
usage: cargo xtask COMMAND

  run     build the tool and the app, print the report of the demo job and its papers, then serve the app until Ctrl-C;
          --no-app leaves the app out and ends after the papers
  app     build the app alone: the engine for the browser, the web build, both packed for the program
  test    format, lints, all tests, the app, comparison with power-system libraries and an exact solver, every example job
  bench   measure speed; results as JSON on standard output and in target/bench.json";

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(2).collect();
    let command = std::env::args().nth(1).unwrap_or_default();
    let outcome = match command.as_str() {
        "run" => demo::run(&args),
        "app" => app::build(),
        "test" => test::run(),
        "bench" => bench::run(),
        other => Err(format!("no command `{other}`\n\n{HELP}")),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            shell::say(&format!("failed: {message}"));
            ExitCode::FAILURE
        }
    }
}
