//! One question in, one answer out, both as JSON text: the door that server and browser share.
//! A question names its `command`, the `job` (text of a job file, or the same as a JSON object), and what the command takes besides.
//! An answer is the documented JSON, with the drawing as SVG where there is one; what is wrong with the job comes as `mistakes`, each with its place.
//! Answers are written straight from what the engine worked out: nothing is copied into a tree of values first.

use std::sync::{Arc, OnceLock};

use editing::question::Desk;
use engine::check::Report;
use engine::cutover::sheet::sheet;
use engine::cutover::{CannotPlan, Times, plan};
use engine::face::{face_within, usual_board};
use engine::price;
use engine::relocate::{Costing, Request, sweep};
use model::units::Inches;
use model::{JobFile, Mistake, Mistakes};
use rulebook::{Library, Rulebook};
use serde::Serialize;
use shop::Book;

use crate::question::{AboutJob, Question, name};
use crate::text::written;
use crate::whole::{Stands, Whole};
use crate::wrong::Wrong;
use crate::{Answer, Cautioned, Drawn};

/// The answer to `check`.
pub type CheckAnswer<'a> = Answer<'a, name::Check, Cautioned<Stands<Whole<'a>>>>;
/// The answer to `face`.
pub type FaceAnswer<'a> = Answer<'a, name::Face, Cautioned<Drawn<crate::face::FaceOfBoard<'a>>>>;
/// The answer to `move`.
pub type MoveAnswer<'a> = Answer<'a, name::Move, Cautioned<Drawn<crate::relocate::Places<'a>>>>;
/// The answer to `cutover`.
pub type CutoverAnswer<'a> =
    Answer<'a, name::Cutover, Cautioned<Drawn<crate::cutover::Planned<'a>>>>;
/// The answer to `price`.
pub type PriceAnswer<'a> = Answer<'a, name::Price, Cautioned<crate::price::PriceOfJob<'a>>>;

/// Answers a question. Never fails: what is wrong is an answer too.
#[must_use]
pub fn call(question: &str) -> String {
    if let Some(answer) = crate::edits::answer(question) {
        return answer;
    }
    let answer = match serde_json::from_str::<Question>(question) {
        Ok(question) => answer(&question),
        Err(why) => Err(unreadable(&why)),
    };
    answer.unwrap_or_else(|wrong| written(&wrong))
}

pub(crate) fn unreadable(why: &serde_json::Error) -> Wrong {
    Wrong::with(
        format!("the question cannot be read: {why}"),
        "a question as docs/json-output.md describes it",
    )
}

fn answer(question: &Question) -> Result<String, Wrong> {
    match question {
        Question::Check(about) => about_job(about, check),
        Question::Face(about) => about_job(about, face),
        Question::Move(about) => about_job(about, move_panel),
        Question::Cutover(about) => about_job(about, cutover),
        Question::Price(about) => about_job(about, price),
    }
}

/// What a question about a job is answered from.
struct Asked<'a> {
    about: &'a AboutJob,
    file: &'a JobFile,
    book: &'a Rulebook,
    shop: &'a Book,
    notices: &'a [String],
}

impl<'a> Asked<'a> {
    /// The answer's text: the head, then `body`, then the cautions.
    fn answer<C: Serialize, B: Serialize>(&self, command: C, body: B) -> String {
        let body = Cautioned::new(body);
        written(&Answer::new(
            command,
            &self.file.job,
            self.book,
            self.notices,
            body,
        ))
    }

    fn desk(&self) -> Desk<'a> {
        Desk::of(self.file, self.book.facts())
    }

    fn report(&self) -> Report<'a> {
        engine::check(&self.file.job, self.book)
    }

    fn drawn<B>(&self, body: B, draw: impl FnOnce() -> String) -> Drawn<B> {
        let drawing = self.about.drawing.then(draw);
        Drawn { body, drawing }
    }
}

/// Reads the job, and hands it on with the rulebook and the price book.
fn about_job(
    about: &AboutJob,
    then: impl FnOnce(&Asked<'_>) -> Result<String, Wrong>,
) -> Result<String, Wrong> {
    let text = about.job.text()?;
    let read = crate::reading::job_file(&text)?;
    let file = match about.edition {
        Some(edition) if edition != read.job.place.edition => {
            let mut other = JobFile::clone(&read);
            other.job.place.edition = edition;
            &Arc::new(other)
        }
        _ => &read,
    };
    let shop = prices()?;
    let book = bound(library()?, file)?;
    let wrong = wrong_words_by(file, &book, shop);
    if !wrong.is_empty() {
        return Err(mistakes(&Mistakes::new(wrong, &text), &text));
    }
    then(&Asked {
        about,
        file,
        book: &book,
        shop,
        notices: &not_applied(file),
    })
}

/// Facts and options that the dictionary and the price book do not have.
pub(crate) fn wrong_words(file: &JobFile) -> Result<Vec<Mistake>, Wrong> {
    let book = bound(library()?, file)?;
    Ok(wrong_words_by(file, &book, prices()?))
}

fn wrong_words_by(file: &JobFile, book: &Rulebook, shop: &Book) -> Vec<Mistake> {
    let stated = engine::facts::check_stated(file, book.facts());
    stated
        .into_iter()
        .chain(price::check_offer(file, shop))
        .collect()
}

/// Amendments are files beside the job file, which nobody can see from here.
fn not_applied(file: &JobFile) -> Vec<String> {
    let named = file.job.place.amendments.iter();
    named
        .map(|name| format!("Amendment NOT applied: `{name}` is a file beside the job file; this answer is without it."))
        .collect()
}

fn check(asked: &Asked<'_>) -> Result<String, Wrong> {
    let report = asked.report();
    let body = Stands::new(&report, crate::whole::of(&report, &asked.desk()));
    Ok(asked.answer(name::Check::Check, body))
}

fn face(asked: &Asked<'_>) -> Result<String, Wrong> {
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
    let body = asked.drawn(crate::face::of(&face, &asked.file.job), || {
        pictures::face::draw(&report, &face)
    });
    Ok(asked.answer(name::Face::Face, body))
}

fn move_panel(asked: &Asked<'_>) -> Result<String, Wrong> {
    let job = &asked.file.job;
    let request = Request {
        board: asked.about.board.clone(),
        step: asked.about.step_in.map(Inches),
    };
    let costing = Costing::new(asked.shop, job, &job.offer);
    let moved = sweep(job, asked.book, &request, &costing)
        .map_err(|why| Wrong::with(why.to_string(), why.expected()))?;
    let body = asked.drawn(crate::relocate::of(&moved), || {
        pictures::relocate::draw(job, &moved)
    });
    Ok(asked.answer(name::Move::Move, body))
}

fn cutover(asked: &Asked<'_>) -> Result<String, Wrong> {
    let job = &asked.file.job;
    let times = Times::of(&asked.shop.labour)
        .map_err(|missing| Wrong::with(missing.to_string(), "its line in labour.csv"))?;
    match plan(job, &times) {
        Ok(cut) => {
            let sheet = sheet(&cut, asked.book.edition());
            let planned = crate::cutover::of(job, &cut, &sheet);
            let body = asked.drawn(planned, || pictures::cutover::draw(job, &cut));
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

fn price(asked: &Asked<'_>) -> Result<String, Wrong> {
    let report = asked.report();
    let price = price::price(&report, asked.shop, &asked.file.job.offer);
    let body = crate::price::of(&price, asked.about.customer, &asked.desk());
    Ok(asked.answer(name::Price::Price, body))
}

pub(crate) fn library() -> Result<&'static Library, Wrong> {
    static LIBRARY: OnceLock<Result<Library, String>> = OnceLock::new();
    let library = LIBRARY.get_or_init(|| {
        Library::without_cases().map_err(|errors| format!("{} mistakes", errors.len()))
    });
    library.as_ref().map_err(|why| {
        Wrong::with(
            format!("the rulebook cannot be read: {why}"),
            "a whole program",
        )
    })
}

fn prices() -> Result<&'static Book, Wrong> {
    static BOOK: OnceLock<Result<Book, String>> = OnceLock::new();
    let book = BOOK.get_or_init(|| Book::built_in().map_err(|m| format!("{} mistakes", m.len())));
    book.as_ref().map_err(|why| {
        Wrong::with(
            format!("the price book cannot be read: {why}"),
            "a whole program",
        )
    })
}

pub(crate) fn bound(library: &Library, file: &JobFile) -> Result<Rulebook, Wrong> {
    let place = &file.job.place;
    library
        .rulebook(place.edition, &[], place.permit_date)
        .map_err(|errors| {
            let found = format!("the rulebook cannot be bound: {} mistakes", errors.len());
            Wrong::with(found, "a whole program")
        })
}

pub(crate) fn mistakes(all: &Mistakes, text: &str) -> Wrong {
    Wrong::in_text(all, text)
}
