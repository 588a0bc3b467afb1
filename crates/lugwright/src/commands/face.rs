//! `face`: which circuit goes in which space of a board.

use std::path::Path;

use engine::face::{Unfit, face_within, usual_board};

use super::setting::open;
use super::svg;
use crate::Answer;
use crate::args::{Format, JobArgs};
use crate::page::Page;
use crate::problem::Failure;
use crate::reading;
use crate::report::{self, cautions, head};

/// The face of one board.
pub(crate) fn run(
    of: &JobArgs,
    board: Option<&str>,
    drawing: Option<&Path>,
    effort: Option<u32>,
    format: Format,
) -> Result<Answer, Failure> {
    let setting = open(of)?;
    let (job, book) = (&setting.file.job, &setting.book);
    let checked = engine::check(job, book);
    let board = match board.or_else(|| usual_board(&checked)) {
        Some(board) => board,
        None => {
            return Err(Failure::new(
                "no board of the job has circuits on it",
                "give the circuits a `board`",
            ));
        }
    };
    let effort = effort.map(|steps| steps as usize);
    let found = face_within(&checked, board, effort).map_err(|why| unfit(&why, job))?;
    if let Some(path) = drawing {
        svg::write(path, &pictures::face::draw(&checked, &found))?;
    }
    let missing = found.layout.is_err();
    let text = match format {
        Format::Json => {
            let body = answers::Cautioned::new(answers::face::of(&found, job));
            answers::pretty(&answers::Answer::new(
                "face",
                job,
                book,
                &setting.notices,
                body,
            ))
        }
        Format::Text => {
            let mut page = Page::new();
            head::write(&mut page, job, book, &setting.notices);
            let spaces = ["after", "boards", board, "spaces"];
            let at = setting
                .file
                .mistake_at(&spaces, String::new(), String::new());
            let (line, column) = at.position(setting.file.text());
            let place = format!("{}:{line}:{column}", reading::name(&of.job));
            report::face::write(&mut page, &found, &place);
            cautions::write(&mut page);
            page.finish()
        }
    };
    Ok(Answer { text, missing })
}

fn unfit(why: &Unfit, job: &model::Job) -> Failure {
    let advice = match why {
        Unfit::NoBoard(board) => {
            let names = || job.after.boards.keys().map(|b| b.as_str());
            let otherwise = format!("boards here: {}", model::nearest::list(names()));
            model::nearest::advice(board, names(), &otherwise)
        }
        Unfit::Unknown {
            fact: "leg_rows",
            board,
        } => format!(
            "read it off the label of the board, row by row from the top, and write `leg_rows = \"AB\"` under `after.boards.{board}`"
        ),
        Unfit::Unknown { fact, board } => {
            format!("write `{fact}` under `after.boards.{board}`")
        }
        Unfit::ThreePoles(_) => "leave 3-pole circuits to a board of their own".to_owned(),
        Unfit::NoSpace { .. } => {
            "take the fixed place out, or name a space of the board".to_owned()
        }
    };
    Failure::new(why.to_string(), advice)
}
