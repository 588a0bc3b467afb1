//! One question in, one answer out, both as JSON text: the door that server and browser share.
//! A question names its `command`, the `job` (text of a job file, or the same as a JSON object), and what the command takes besides.
//! An answer is the documented JSON, with the drawing as SVG where there is one; what is wrong with the job comes as `mistakes`, each with its place.

use std::sync::OnceLock;

use engine::check::Report;
use engine::cutover::{CannotPlan, Times, plan};
use engine::face::{face_within, usual_board};
use engine::price;
use engine::relocate::{Costing, Request, sweep};
use model::units::Inches;
use model::{Edition, JobFile, Mistake, Mistakes};
use rulebook::{Library, Rulebook};
use serde::Deserialize;
use serde_json::{Value, json};
use shop::Book;

use crate::merge;

/// A question.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Question {
    command: Command,
    job: Source,
    /// Another edition than the job's.
    #[serde(default)]
    edition: Option<Edition>,
    /// Of a face or a move: the board.
    #[serde(default)]
    board: Option<String>,
    /// Of a face: most steps of search.
    #[serde(default)]
    effort: Option<u32>,
    /// Of a move: step along a wall, inches.
    #[serde(default)]
    step_in: Option<f64>,
    /// Of a price: the customer's view, without cost.
    #[serde(default)]
    customer: bool,
    /// The drawing as well.
    #[serde(default)]
    drawing: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Command {
    Check,
    Face,
    Move,
    Cutover,
    Price,
}

impl Command {
    const fn name(self) -> &'static str {
        match self {
            Self::Check => "check",
            Self::Face => "face",
            Self::Move => "move",
            Self::Cutover => "cutover",
            Self::Price => "price",
        }
    }
}

#[derive(Debug, Deserialize)]
#[serde(untagged)]
enum Source {
    Text(String),
    Object(serde_json::Map<String, Value>),
}

/// Answers a question. Never fails: what is wrong is an answer too.
#[must_use]
pub fn call(question: &str) -> String {
    if let Some(answer) = crate::edits::answer(question) {
        return answer;
    }
    let answer = match serde_json::from_str::<Question>(question) {
        Ok(question) => answer(&question).unwrap_or_else(|wrong| wrong),
        Err(why) => unreadable(&why),
    };
    answer.to_string()
}

pub(crate) fn unreadable(why: &serde_json::Error) -> Value {
    mistake(
        &format!("the question cannot be read: {why}"),
        "a question as docs/json-output.md describes it",
    )
}

fn answer(question: &Question) -> Result<Value, Value> {
    let text = text_of(&question.job)?;
    let mut file = JobFile::read(&text).map_err(|m| mistakes(&m, &text))?;
    if let Some(edition) = question.edition {
        file.job.place.edition = edition;
    }
    let shop = prices()?;
    let book = bound(library()?, &file)?;
    let wrong = wrong_words_by(&file, &book, shop);
    if !wrong.is_empty() {
        return Err(mistakes(&Mistakes::new(wrong, &text), &text));
    }
    let report = engine::check(&file.job, &book);
    let notices = not_applied(&file);
    let mut value = crate::head::of(question.command.name(), &file.job, &book, &notices);
    merge(&mut value, decide(question, &file, &report, shop)?);
    merge(&mut value, json!({ "cautions": crate::CAUTIONS }));
    Ok(value)
}

/// Facts and options that the dictionary and the price book do not have.
pub(crate) fn wrong_words(file: &JobFile) -> Result<Vec<Mistake>, Value> {
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

/// The part of the answer that the command is about.
fn decide(
    question: &Question,
    file: &JobFile,
    report: &Report<'_>,
    shop: &Book,
) -> Result<Value, Value> {
    let job = &file.job;
    let drawn = |draw: &dyn Fn() -> String| question.drawing.then(draw);
    match question.command {
        Command::Check => {
            let mut value = crate::whole::status(report);
            merge(&mut value, crate::whole::of(report));
            Ok(value)
        }
        Command::Face => {
            let board = question.board.as_deref().or_else(|| usual_board(report));
            let board = board.ok_or_else(|| {
                mistake(
                    "no board of the job has circuits on it",
                    "circuits with a `board`",
                )
            })?;
            let effort = question.effort.map(|steps| steps as usize);
            let face = face_within(report, board, effort)
                .map_err(|why| mistake(&why.to_string(), "the fact that is missing"))?;
            let mut value = crate::face::of(&face);
            merge(
                &mut value,
                json!({ "drawing": drawn(&|| pictures::face::draw(report, &face)) }),
            );
            Ok(value)
        }
        Command::Move => {
            let request = Request {
                board: question.board.clone(),
                step: question.step_in.map(Inches),
            };
            let costing = Costing::new(shop, job, &job.offer);
            let moved = sweep(job, report.book, &request, &costing)
                .map_err(|why| mistake(&why.to_string(), &why.expected()))?;
            Ok(json!({
                "move": moved.sweep,
                "worksheets": [&moved.worksheet],
                "drawing": drawn(&|| pictures::relocate::draw(job, &moved)),
            }))
        }
        Command::Cutover => {
            let times = Times::of(&shop.labour)
                .map_err(|missing| mistake(&missing.to_string(), "its line in labour.csv"))?;
            match plan(job, &times) {
                Ok(cut) => {
                    let mut value = crate::cutover::of(job, &cut);
                    merge(
                        &mut value,
                        json!({ "drawing": drawn(&|| pictures::cutover::draw(job, &cut)) }),
                    );
                    Ok(value)
                }
                Err(nothing @ CannotPlan::Nothing) => {
                    Ok(json!({ "cutover": null, "why": nothing.to_string() }))
                }
                Err(why) => Err(mistake(&why.to_string(), "another `plan.approach`")),
            }
        }
        Command::Price => {
            let price = price::price(report, shop, &job.offer);
            Ok(crate::price::of(&price, question.customer))
        }
    }
}

/// The job file's text. An object is written as one; what is null there is left out.
fn text_of(source: &Source) -> Result<String, Value> {
    match source {
        Source::Text(text) => Ok(text.clone()),
        Source::Object(object) => {
            let mut value = Value::Object(object.clone());
            leave_out_nulls(&mut value);
            toml::to_string(&value).map_err(|why| {
                mistake(
                    &format!("the job cannot be written as a file: {why}"),
                    "objects, lists, texts, numbers",
                )
            })
        }
    }
}

fn leave_out_nulls(value: &mut Value) {
    match value {
        Value::Object(entries) => {
            entries.retain(|_, v| !v.is_null());
            entries.values_mut().for_each(leave_out_nulls);
        }
        Value::Array(all) => {
            all.retain(|v| !v.is_null());
            all.iter_mut().for_each(leave_out_nulls);
        }
        _ => {}
    }
}

pub(crate) fn library() -> Result<&'static Library, Value> {
    static LIBRARY: OnceLock<Result<Library, String>> = OnceLock::new();
    let library = LIBRARY.get_or_init(|| {
        Library::without_cases().map_err(|errors| format!("{} mistakes", errors.len()))
    });
    library.as_ref().map_err(|why| {
        mistake(
            &format!("the rulebook cannot be read: {why}"),
            "a whole program",
        )
    })
}

fn prices() -> Result<&'static Book, Value> {
    static BOOK: OnceLock<Result<Book, String>> = OnceLock::new();
    let book = BOOK.get_or_init(|| Book::built_in().map_err(|m| format!("{} mistakes", m.len())));
    book.as_ref().map_err(|why| {
        mistake(
            &format!("the price book cannot be read: {why}"),
            "a whole program",
        )
    })
}

pub(crate) fn bound(library: &Library, file: &JobFile) -> Result<Rulebook, Value> {
    let place = &file.job.place;
    library
        .rulebook(place.edition, &[], place.permit_date)
        .map_err(|errors| {
            mistake(
                &format!("the rulebook cannot be bound: {} mistakes", errors.len()),
                "a whole program",
            )
        })
}

fn mistake(found: &str, expected: &str) -> Value {
    json!({ "format": 1, "command": "error", "mistakes": [{ "line": 0, "column": 0, "found": found, "expected": expected }] })
}

pub(crate) fn mistakes(all: &Mistakes, text: &str) -> Value {
    let each = all.all().iter().map(|m| {
        let (line, column) = m.position(text);
        let excerpt = text.lines().nth(line.saturating_sub(1)).unwrap_or_default();
        json!({ "line": line, "column": column, "found": m.found, "expected": m.expected, "excerpt": excerpt })
    });
    json!({ "format": 1, "command": "error", "mistakes": each.collect::<Vec<_>>() })
}
