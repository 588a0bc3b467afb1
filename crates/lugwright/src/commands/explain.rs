//! `explain`: why does a requirement apply, or not, at a place of the job?

use engine::facts::Place;
use engine::findings::{Why, explain};
use serde_json::json;

use super::setting::open;
use crate::Answer;
use crate::args::{Format, JobArgs};
use crate::page::Page;
use crate::problem::Failure;
use crate::report::{explain as page_of, head};

/// Explains at one named place, or wherever the requirement has a verdict of its own.
pub(crate) fn run(
    of: &JobArgs,
    requirement: &str,
    place: Option<&str>,
    format: Format,
) -> Result<Answer, Failure> {
    let setting = open(of)?;
    let (job, book) = (&setting.file.job, &setting.book);
    if book.requirement(requirement).is_none() {
        let what = match book.nearest(requirement) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "`lugwright rule` lists all requirements".to_owned(),
        };
        return Err(Failure::new(
            format!("there is no requirement `{requirement}`"),
            what,
        ));
    }
    let report = engine::check(job, book);
    let bound = &report.facts;
    let all: Vec<Place<'_>> = (0..bound.len()).map(|row| bound.place(row)).collect();
    let places: Vec<Place<'_>> = match place {
        Some(name) => {
            let named: Vec<_> = all
                .iter()
                .copied()
                .filter(|p| p.name() == name || p.to_string() == name)
                .collect();
            if named.is_empty() {
                let names = || all.iter().map(|p| p.name()).filter(|n| !n.is_empty());
                let otherwise = format!("places here: {}", model::nearest::list(names()));
                let what = model::nearest::advice(name, names(), &otherwise);
                return Err(Failure::new(
                    format!("the job has no board, circuit, source or outlet `{name}`"),
                    what,
                ));
            }
            named
        }
        None => {
            let findings = report.findings.of(requirement);
            let touched: Vec<_> = findings
                .flat_map(|f| f.instances.iter().map(|i| i.place))
                .collect();
            if touched.is_empty() {
                vec![Place::Job]
            } else {
                touched
            }
        }
    };
    let whys: Vec<Why<'_>> = places
        .into_iter()
        .filter_map(|place| explain(bound, book, requirement, place))
        .collect();
    Ok(match format {
        Format::Json => {
            let body = json!({ "explanations": whys });
            Answer::json(&answers::Answer::new(
                "explain",
                job,
                book,
                &setting.notices,
                body,
            ))
        }
        Format::Text => {
            let mut page = Page::new();
            head::write(&mut page, job, book, &setting.notices);
            for why in &whys {
                page_of::write(&mut page, why);
            }
            Answer::plain(page.finish())
        }
    })
}
