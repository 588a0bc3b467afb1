//! The answers that decide: where breakers go, where the panel goes, in which order, for how much.
//! Source: the engine's search for each. They are the larger half of the engine, and a page asks for them later than for the rest; so
//! the engine that a browser loads first is built without them.

use engine::cutover::sheet::sheet;
use engine::cutover::{CannotPlan, Times, plan};
use engine::face::{face_within, usual_board};
use engine::price;
use engine::relocate::{Costing, Request, sweep};
use model::units::Inches;

use crate::Drawn;
use crate::call::Asked;
use crate::question::name;
use crate::wrong::Wrong;

fn drawn<B>(asked: &Asked<'_>, body: B, draw: impl FnOnce() -> String) -> Drawn<B> {
    let drawing = asked.about.drawing.then(draw);
    Drawn { body, drawing }
}

pub(crate) fn face(asked: &Asked<'_>) -> Result<String, Wrong> {
    let report = asked.report();
    let board = asked.about.board.as_deref();
    let board = board.or_else(|| usual_board(&report)).ok_or_else(|| {
        Wrong::with(
            "no board of the job has circuits on it",
            "circuits with a `board`",
        )
    })?;
    let effort = asked.about.effort.map(|steps| steps as usize);
    let face = face_within(&report, board, effort)
        .map_err(|why| Wrong::with(why.to_string(), "the fact that is missing"))?;
    let body = drawn(asked, crate::face::of(&face, &asked.file.job), || {
        pictures::face::draw(&report, &face)
    });
    Ok(asked.answer(name::Face::Face, body))
}

pub(crate) fn move_panel(asked: &Asked<'_>) -> Result<String, Wrong> {
    let job = &asked.file.job;
    let request = Request {
        board: asked.about.board.clone(),
        step: asked.about.step_in.map(Inches),
    };
    let costing = Costing::new(asked.shop, job, &job.offer);
    let moved = sweep(job, asked.book, &request, &costing)
        .map_err(|why| Wrong::with(why.to_string(), why.expected()))?;
    let body = drawn(asked, crate::relocate::of(&moved), || {
        pictures::relocate::draw(job, &moved)
    });
    Ok(asked.answer(name::Move::Move, body))
}

pub(crate) fn cutover(asked: &Asked<'_>) -> Result<String, Wrong> {
    let job = &asked.file.job;
    let times = Times::of(&asked.shop.labour)
        .map_err(|missing| Wrong::with(missing.to_string(), "its line in labour.csv"))?;
    match plan(job, &times) {
        Ok(cut) => {
            let sheet = sheet(&cut, asked.book.edition());
            let planned = crate::cutover::of(job, &cut, &sheet);
            let body = drawn(asked, planned, || pictures::cutover::draw(job, &cut));
            Ok(asked.answer(name::Cutover::Cutover, body))
        }
        Err(nothing @ CannotPlan::Nothing) => {
            let body = Drawn {
                body: crate::cutover::nothing(nothing.to_string()),
                drawing: None,
            };
            Ok(asked.answer(name::Cutover::Cutover, body))
        }
        Err(why) => Err(Wrong::with(why.to_string(), "another `plan.approach`")),
    }
}

pub(crate) fn price(asked: &Asked<'_>) -> Result<String, Wrong> {
    let report = asked.report();
    let price = price::price(&report, asked.shop, &asked.file.job.offer);
    let body = crate::price::of(&price, asked.about.customer, &asked.desk());
    Ok(asked.answer(name::Price::Price, body))
}
