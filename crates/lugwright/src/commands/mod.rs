//! One module per question; each takes its arguments and gives an [`Answer`] or what is wrong with the input.

mod adoption;
mod library;
mod rule;
mod schema;
mod table;
mod validate;

use crate::Answer;
use crate::args::{Args, Command};
use crate::problem::Failure;

/// Answers the question on the command line.
pub(crate) fn run(args: &Args) -> Result<Answer, Failure> {
    let format = args.format;
    match &args.command {
        Command::Table { name, edition } => table::run(name.as_deref(), *edition, format),
        Command::Rule { name, edition } => rule::run(name.as_deref(), *edition, format),
        Command::Validate { files } => validate::run(files, format),
        Command::Schema => Ok(schema::run()),
        Command::Adoption { state } => adoption::run(state.as_deref(), format),
    }
}
