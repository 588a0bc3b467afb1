//! One module per question; each takes its arguments and gives an [`Answer`] or what is wrong with the input.

mod adoption;
mod book;
mod cutover;
mod decisions;
mod explain;
mod face;
mod job;
mod library;
mod papers;
mod price;
mod relocate;
mod rule;
mod schema;
#[cfg(feature = "serve")]
mod serve;
mod setting;
mod sheet;
mod svg;
mod table;
mod validate;

use crate::Answer;
use crate::args::{Args, Command};
use crate::problem::Failure;

/// Answers the question on the command line.
pub(crate) fn run(args: &Args) -> Result<Answer, Failure> {
    let format = args.format;
    match &args.command {
        Command::Check { of, book } => job::check(of, book.as_deref(), format),
        Command::Sheet { of, id } => sheet::run(of, id.as_deref(), format),
        Command::Findings(of) => job::findings(of, format),
        Command::Explain {
            of,
            requirement,
            place,
        } => explain::run(of, requirement, place.as_deref(), format),
        Command::Ask(of) => job::ask(of, format),
        Command::Price { of, book, customer } => price::run(of, book.as_deref(), *customer, format),
        Command::Compare { of, with } => job::compare(of, *with, format),
        Command::Move(args) => relocate::run(args, format),
        Command::Cutover(args) => cutover::run(args, format),
        Command::Face {
            of,
            board,
            svg,
            effort,
        } => face::run(of, board.as_deref(), svg.as_deref(), *effort, format),
        Command::Papers(args) => papers::run(args, format),
        #[cfg(feature = "serve")]
        Command::Serve(args) => serve::run(args, format),
        Command::Table { name, edition } => table::run(name.as_deref(), *edition, format),
        Command::Rule { name, edition } => rule::run(name.as_deref(), *edition, format),
        Command::Validate { files } => validate::run(files, format),
        Command::Schema { of } => Ok(schema::run(*of)),
        Command::Adoption { state } => adoption::run(state.as_deref(), format),
    }
}
