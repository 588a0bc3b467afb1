//! The questions about one job: `check`, `findings`, `ask`, `compare`.
//! Each opens the job, asks the engine once, and lays the answer out.

use std::path::Path;

use answers::Desk;
use answers::whole::Stands;
use engine::check::{Difference, Report, Status};
use model::Edition;
use serde::Serialize;
use serde_json::json;

use super::setting::{Setting, bind, open};
use super::{book, decisions};
use crate::Answer;
use crate::args::{Format, JobArgs};
use crate::page::Page;
use crate::problem::Failure;
use crate::report::{
    self, cautions, fault, feeders, findings, head, load, questions, scope, supply,
};

/// Questions shown in the whole report; `ask` shows all.
const FIRST_QUESTIONS: usize = 12;

/// `check`: everything, and the four decisions in brief.
pub(crate) fn check(
    of: &JobArgs,
    folder: Option<&Path>,
    format: Format,
) -> Result<Answer, Failure> {
    let setting = open(of)?;
    let book = book::open(folder)?;
    decisions::offer_is_sound(&setting, of, &book)?;
    let times = decisions::times(&book)?;
    let text = |page: &mut Page, report: &Report<'_>| {
        scope::write(page, report.job, &report.scope);
        supply::write(page, &report.tree);
        load::write(page, &report.sheets);
        feeders::write(page, &report.sheets);
        fault::write(page, &report.sheets);
        report::disagreements(page, report);
        findings::write(page, &report.findings, report.book.facts());
        questions::write(page, &report.questions, FIRST_QUESTIONS);
        decisions::write(page, report, &book, &times);
    };
    let json = |head: &Head<'_>, report: &Report<'_>| {
        head.with(report, answers::whole::of(report, &head.desk()))
    };
    Ok(answer(&setting, format, "check", text, json))
}

/// `findings`: the findings alone.
pub(crate) fn findings(of: &JobArgs, format: Format) -> Result<Answer, Failure> {
    let text = |page: &mut Page, report: &Report<'_>| {
        report::disagreements(page, report);
        findings::write(page, &report.findings, report.book.facts());
    };
    let json = |head: &Head<'_>, report: &Report<'_>| {
        let found = answers::findings::of(&report.findings, &report.facts, report.book.facts());
        let body =
            json!({ "disagreements": answers::whole::disagreements(report), "findings": found });
        head.with(report, body)
    };
    Ok(answer(&open(of)?, format, "findings", text, json))
}

/// `ask`: every open question.
pub(crate) fn ask(of: &JobArgs, format: Format) -> Result<Answer, Failure> {
    let text = |page: &mut Page, report: &Report<'_>| {
        questions::write(page, &report.questions, usize::MAX);
    };
    let json = |head: &Head<'_>, report: &Report<'_>| {
        let questions = answers::findings::questions(&report.questions, &head.desk());
        head.with(report, json!({ "questions": questions }))
    };
    Ok(answer(&open(of)?, format, "ask", text, json))
}

/// What a JSON answer begins with.
struct Head<'a> {
    setting: &'a Setting,
    command: &'a str,
}

impl Head<'_> {
    /// Where answers go.
    fn desk(&self) -> Desk<'_> {
        Desk::of(&self.setting.file, self.setting.book.facts())
    }

    /// The whole answer: how the job stands, then `body`, then the cautions.
    fn with(&self, report: &Report<'_>, body: impl Serialize) -> String {
        let body = answers::Cautioned::new(Stands::new(report, body));
        let Setting {
            file,
            book,
            notices,
            ..
        } = self.setting;
        answers::pretty(&answers::Answer::new(
            self.command,
            &file.job,
            book,
            notices,
            body,
        ))
    }
}

/// Checks, lays out; the exit code is the verdict on the whole job.
fn answer(
    setting: &Setting,
    format: Format,
    command: &str,
    text: impl Fn(&mut Page, &Report<'_>),
    json: impl Fn(&Head<'_>, &Report<'_>) -> String,
) -> Answer {
    let Setting {
        file,
        book,
        notices,
        ..
    } = setting;
    let report = engine::check(&file.job, book);
    let missing = answers::whole::missing(&report);
    let status = match missing {
        (0, 0) => Status::NothingMissing,
        _ => Status::SomethingMissing,
    };
    let text = match format {
        Format::Text => {
            let mut page = Page::new();
            head::write(&mut page, &file.job, book, notices);
            text(&mut page, &report);
            cautions::write(&mut page);
            report::outcome(&mut page, missing, report.questions.len());
            page.finish()
        }
        Format::Json => {
            let head = Head { setting, command };
            json(&head, &report)
        }
    };
    Answer {
        text,
        missing: status == Status::SomethingMissing,
    }
}

/// `compare`: which verdicts another edition changes. Nothing is judged missing: the exit code is 0.
pub(crate) fn compare(of: &JobArgs, with: Edition, format: Format) -> Result<Answer, Failure> {
    let setting = open(of)?;
    let Setting {
        file,
        book,
        notices,
        library,
        amendments,
    } = &setting;
    let mut other_file = file.clone();
    other_file.job.place.edition = with;
    let other = bind(library, &other_file, amendments)?;
    let differences = engine::compare(&file.job, book, &other);
    Ok(Answer::plain(match format {
        Format::Json => {
            let body = json!({ "with": with, "differences": differences });
            answers::pretty(&answers::Answer::new(
                "compare", &file.job, book, notices, body,
            ))
        }
        Format::Text => {
            let mut page = Page::new();
            head::write(&mut page, &file.job, book, notices);
            report_differences(&mut page, &differences, book.edition(), with);
            cautions::write(&mut page);
            page.finish()
        }
    }))
}

fn report_differences(
    page: &mut Page,
    differences: &[Difference<'_>],
    first: Edition,
    second: Edition,
) {
    page.heading(&format!(
        "What edition {second} would say differently from {first}"
    ));
    if differences.is_empty() {
        page.line("Nothing.");
    }
    for d in differences {
        let section = |cite: &Option<rulebook::Cite>| {
            cite.as_ref()
                .map_or_else(|| "none".to_owned(), |c| c.section.to_string())
        };
        page.gap();
        page.paragraph("", &format!("{} [{}]", d.title, d.requirement));
        page.paragraph(
            "  ",
            &format!(
                "{first}: {} ({}); {second}: {} ({})",
                d.first.name().replace('_', " "),
                section(&d.first_cite),
                d.second.name().replace('_', " "),
                section(&d.second_cite),
            ),
        );
        page.paragraph("  at ", &findings::places(d.places.iter().copied()));
    }
}
