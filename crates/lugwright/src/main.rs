//! The command line of a panel job. Data takes one way through it:
//! - [`args`] reads the command line; [`reading`] reads the files; [`problem`] tells what is wrong with either;
//! - [`commands`] ask the engine; [`report`] and [`page`] lay its answer out.
//!
//! Exit codes: 0 nothing required is missing, 1 something is, 2 the input is wrong.

mod args;
mod commands;
mod page;
mod problem;
mod reading;
mod report;

use std::io::Write;
use std::process::ExitCode;

use clap::Parser;

use args::{Args, Format};

/// What a command has to say.
pub(crate) struct Answer {
    /// Everything it prints.
    pub(crate) text: String,
    /// Something required is missing.
    pub(crate) missing: bool,
}

impl Answer {
    /// An answer that asks nothing of the reader.
    pub(crate) fn plain(text: String) -> Self {
        Self {
            text,
            missing: false,
        }
    }

    /// A JSON answer, one value and a line end.
    pub(crate) fn json(value: &impl serde::Serialize) -> Self {
        Self::plain(answers::pretty(value))
    }
}

/// Worksheets are many small texts; this allocator takes a fifth off a check.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    let args = Args::parse();
    match commands::run(&args) {
        Ok(answer) => {
            print(&answer.text);
            ExitCode::from(u8::from(answer.missing))
        }
        Err(failure) => {
            if args.format == Format::Json {
                print(&format!("{:#}\n", failure.json()));
            }
            // Nothing is left to tell a reader who closed both pipes.
            let _ = std::io::stderr().write_all(failure.text().as_bytes());
            ExitCode::from(2)
        }
    }
}

/// A reader who closes the pipe early, such as `head`, has seen enough; the exit code still tells the outcome.
fn print(text: &str) {
    let mut out = std::io::stdout().lock();
    let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
}
