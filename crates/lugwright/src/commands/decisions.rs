//! The four decisions at the end of the whole report, each in brief; its own command has all of it.

use std::path::Path;

use engine::check::Report;
use engine::cutover::{CannotPlan, Times, plan};
use engine::face::{face, usual_board};
use engine::price;
use engine::relocate::{CannotSweep, Costing, Request, sweep};
use model::{JobFile, Mistakes};
use shop::Book;

use super::setting::Setting;
use crate::args::JobArgs;
use crate::page::Page;
use crate::problem::Failure;
use crate::reading;
use crate::report;

/// Options the job chose that the price book does not have, or that exclude one another.
pub(crate) fn offer_is_sound(setting: &Setting, of: &JobArgs, book: &Book) -> Result<(), Failure> {
    offered(&setting.file, &of.job, book)
}

/// The same of a job that was read before.
pub(crate) fn offered(file: &JobFile, path: &Path, book: &Book) -> Result<(), Failure> {
    let mistakes = price::check_offer(file, book);
    if mistakes.is_empty() {
        return Ok(());
    }
    let mistakes = Mistakes::new(mistakes, file.text());
    Err(Failure::of_job(&reading::name(path), &mistakes))
}

/// Times of the cut-over's tasks, from the shop's labour table.
pub(crate) fn times(book: &Book) -> Result<Times, Failure> {
    Times::of(&book.labour)
        .map_err(|missing| Failure::new(missing.to_string(), "add its line to labour.csv"))
}

/// Writes them. A job that plans nothing has none.
pub(crate) fn write(page: &mut Page, checked: &Report<'_>, book: &Book, times: &Times) {
    if checked.scope.is_empty() {
        return;
    }
    let job = checked.job;
    if let Some(board) = usual_board(checked) {
        match face(checked, board) {
            Ok(found) => report::face::brief(page, &found),
            Err(why) => {
                page.heading(&format!("Face of board {board}"));
                page.paragraph("cannot be laid out yet: ", &why.to_string());
            }
        }
    }
    place(page, checked, book);
    match plan(job, times) {
        Ok(cut) => report::cutover::brief(page, &cut),
        Err(CannotPlan::Nothing) => {}
        Err(why) => {
            page.heading("Cut-over");
            page.paragraph("cannot be planned yet: ", &why.to_string());
        }
    }
    report::price::brief(page, &price::price(checked, book, &job.offer));
}

/// Where the panel might go; silent for a job that moves none, or whose walls nobody drew.
fn place(page: &mut Page, checked: &Report<'_>, book: &Book) {
    let job = checked.job;
    let costing = Costing::new(book, job, &job.offer);
    match sweep(job, checked.book, &Request::default(), &costing) {
        Ok(moved) => report::relocate::brief(page, job, &moved),
        Err(CannotSweep::NoWalls | CannotSweep::WhichBoard(..)) => {}
        Err(why) => {
            page.heading("Where to put the panel");
            page.paragraph("cannot be told yet: ", &why.to_string());
        }
    }
}
