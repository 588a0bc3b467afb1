//! `move`: where to put the new panel, as text, JSON and a drawing of the walls with the price along them.
//! Something is missing when no place is possible, or when the plan's own place is not.

use engine::relocate::{CannotSweep, Costing, Legality, Moved, Request, sweep};
use model::JobFile;
use model::units::Inches;

use super::setting::open;
use super::{book, decisions, svg};
use crate::Answer;
use crate::args::{Format, MoveArgs};
use crate::page::Page;
use crate::problem::Failure;
use crate::reading;
use crate::report::{cautions, head, relocate};

/// Sweeps the walls.
pub(crate) fn run(args: &MoveArgs, format: Format) -> Result<Answer, Failure> {
    let setting = open(&args.of)?;
    let book = book::open(args.book.as_deref())?;
    let (file, rules) = (&setting.file, &setting.book);
    let job = &file.job;
    decisions::offer_is_sound(&setting, &args.of, &book)?;
    let request = Request {
        board: args.board.clone(),
        step: args.step.map(Inches),
    };
    let costing = Costing::new(&book, job, &job.offer);
    let moved = sweep(job, rules, &request, &costing).map_err(|e| refused(&e, args, file))?;
    if let Some(path) = &args.svg {
        svg::write(path, &pictures::relocate::draw(job, &moved))?;
    }
    let missing = is_missing(&moved, job);
    if format == Format::Json {
        let body = answers::Cautioned::new(answers::relocate::of(&moved));
        let value = answers::Answer::new("move", job, rules, &setting.notices, body);
        let mut answer = Answer::json(&value);
        answer.missing = missing;
        return Ok(answer);
    }
    let mut page = Page::new();
    head::write(&mut page, job, rules, &setting.notices);
    relocate::write(&mut page, job, &moved);
    cautions::write(&mut page);
    Ok(Answer {
        text: page.finish(),
        missing,
    })
}

fn is_missing(moved: &Moved, job: &model::Job) -> bool {
    let planned = relocate::planned(job, &moved.sweep);
    let refused = planned.is_some_and(|p| matches!(p.legality, Legality::No(_)));
    moved.sweep.best.is_none() || refused
}

/// At its line, where the job file has one; else about the command line.
fn refused(cannot: &CannotSweep, args: &MoveArgs, file: &JobFile) -> Failure {
    let of_command_line = match cannot {
        CannotSweep::Step(_) => args.step.is_some(),
        CannotSweep::NoSuchBoard(..) => args.board.is_some(),
        _ => false,
    };
    if of_command_line {
        return Failure::new(cannot.to_string(), format!("give {}", cannot.expected()));
    }
    let mistake = file.mistake_at(&cannot.path(), cannot.to_string(), cannot.expected());
    Failure::of_job(&reading::name(&args.of.job), &mistake.alone(file.text()))
}
