//! `cutover`: the order of work with the least dark time, as text, JSON and a drawn timeline.
//! Something is missing when a circuit is dark for longer than the job says it can bear.

use engine::cutover::{CannotPlan, Limit, plan_as, sheet};
use model::plan;

use super::setting::open;
use super::{book, decisions, svg};
use crate::Answer;
use crate::args::{Approach, CutoverArgs, Format};
use crate::page::Page;
use crate::problem::Failure;
use crate::reading;
use crate::report::{cautions, cutover, head};

/// Plans the cut-over.
pub(crate) fn run(args: &CutoverArgs, format: Format) -> Result<Answer, Failure> {
    let setting = open(&args.of)?;
    let book = book::open(args.book.as_deref())?;
    let times = decisions::times(&book)?;
    let job = &setting.file.job;
    let mut plan = job.plan.clone();
    if let Some(workers) = args.workers {
        plan.workers = workers;
    }
    if let Some(approach) = args.approach {
        plan.approach = match approach {
            Approach::InPlace => plan::Approach::InPlace,
            Approach::NewPanelFirst => plan::Approach::NewPanelFirst,
        };
    }
    let cut = match plan_as(job, &plan, &times) {
        Ok(cut) => cut,
        Err(nothing @ CannotPlan::Nothing) => return Ok(nothing_dark(&setting, &nothing, format)),
        Err(cannot) => return Err(refused(&cannot, args, &setting.file)),
    };
    let sheet = sheet::sheet(&cut, setting.book.edition());
    if let Some(path) = &args.svg {
        svg::write(path, &pictures::cutover::draw(job, &cut))?;
    }
    let missing = cut
        .circuits
        .iter()
        .any(|c| matches!(c.limit, Limit::Broken(_)));
    if format == Format::Json {
        let body = answers::Cautioned::new(answers::cutover::of(job, &cut, &sheet));
        let value = answers::Answer::new("cutover", job, &setting.book, &setting.notices, body);
        let mut answer = Answer::json(&value);
        answer.missing = missing;
        return Ok(answer);
    }
    let mut page = Page::new();
    head::write(&mut page, job, &setting.book, &setting.notices);
    cutover::write(&mut page, job, &cut);
    cautions::write(&mut page);
    Ok(Answer {
        text: page.finish(),
        missing,
    })
}

fn nothing_dark(setting: &super::setting::Setting, nothing: &CannotPlan, format: Format) -> Answer {
    let job = &setting.file.job;
    if format == Format::Json {
        let body = answers::cutover::nothing(nothing.to_string());
        let (book, notices) = (&setting.book, &setting.notices);
        return Answer::json(&answers::Answer::new("cutover", job, book, notices, body));
    }
    let mut page = Page::new();
    head::write(&mut page, job, &setting.book, &setting.notices);
    page.heading("Cut-over");
    page.line("Nothing goes dark: the difference of the two pictures opens no board.");
    cautions::write(&mut page);
    Answer::plain(page.finish())
}

/// The approach does not suit the job: at its line, where the job file asks for it.
fn refused(cannot: &CannotPlan, args: &CutoverArgs, file: &model::JobFile) -> Failure {
    let what = "`in_place`, or the facts that make the other possible";
    if args.approach.is_some() {
        return Failure::new(cannot.to_string(), format!("use {what}"));
    }
    let mistake = file.mistake_at(&["plan", "approach"], cannot.to_string(), what.to_owned());
    Failure::of_job(&reading::name(&args.of.job), &mistake.alone(file.text()))
}
