//! One question in, one answer out, both as JSON text: the door that server and browser share.
//! A question names its `command`, the `job` (text of a job file, or the same as a JSON object), and what the command takes besides.
//! An answer is the documented JSON, with the drawing as SVG where there is one; what is wrong with the job comes as `mistakes`, each with its place.
//! Answers are written straight from what the engine worked out: nothing is copied into a tree of values first.

use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use editing::question::Desk;
use engine::check::Report;
use engine::price;
use model::{Edition, JobFile, Mistake, Mistakes};
use rulebook::{Library, Rulebook};
use serde::Serialize;
use shop::Book;

#[cfg(feature = "decisions")]
use crate::decisions;
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
        #[cfg(feature = "decisions")]
        Question::Face(about) => about_job(about, decisions::face),
        #[cfg(feature = "decisions")]
        Question::Move(about) => about_job(about, decisions::move_panel),
        #[cfg(feature = "decisions")]
        Question::Cutover(about) => about_job(about, decisions::cutover),
        #[cfg(feature = "decisions")]
        Question::Price(about) => about_job(about, decisions::price),
        #[cfg(not(feature = "decisions"))]
        _ => Err(elsewhere()),
    }
}

/// The answer of an engine that was built without the decisions.
#[cfg(not(feature = "decisions"))]
pub(crate) fn elsewhere() -> Wrong {
    Wrong::with(
        "this part of the engine reads, changes and checks jobs, and no more",
        "a question for the whole engine",
    )
}

/// What a question about a job is answered from.
#[cfg_attr(not(feature = "decisions"), expect(dead_code))]
pub(crate) struct Asked<'a> {
    pub(crate) about: &'a AboutJob,
    pub(crate) file: &'a JobFile,
    pub(crate) book: &'a Rulebook,
    pub(crate) shop: &'a Book,
    notices: &'a [String],
}

impl<'a> Asked<'a> {
    /// The answer's text: the head, then `body`, then the cautions.
    pub(crate) fn answer<C: Serialize, B: Serialize>(&self, command: C, body: B) -> String {
        let body = Cautioned::new(body);
        written(&Answer::new(
            command,
            &self.file.job,
            self.book,
            self.notices,
            body,
        ))
    }

    pub(crate) fn desk(&self) -> Desk<'a> {
        Desk::of(self.file, self.book.facts())
    }

    pub(crate) fn report(&self) -> Report<'a> {
        engine::check(&self.file.job, self.book)
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

/// The rulebook as the job's place has it. Bound once for each edition: no amendment can be seen from here.
pub(crate) fn bound(library: &Library, file: &JobFile) -> Result<Rulebook, Wrong> {
    static BOUND: Mutex<Vec<(Edition, Rulebook)>> = Mutex::new(Vec::new());
    let place = &file.job.place;
    let mut bound = BOUND.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some((_, book)) = bound.iter().find(|(e, _)| *e == place.edition) {
        return Ok(book.clone());
    }
    let book = library.rulebook(place.edition, &[], place.permit_date);
    let book = book.map_err(|errors| {
        let found = format!("the rulebook cannot be bound: {} mistakes", errors.len());
        Wrong::with(found, "a whole program")
    })?;
    bound.push((place.edition, book.clone()));
    Ok(book)
}

pub(crate) fn mistakes(all: &Mistakes, text: &str) -> Wrong {
    Wrong::in_text(all, text)
}
