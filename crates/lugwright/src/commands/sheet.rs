//! `sheet`: one worksheet of a job, line by line, or the list of them.

use serde_json::json;

use super::setting::open;
use crate::Answer;
use crate::args::{Format, JobArgs};
use crate::page::Page;
use crate::problem::Failure;
use crate::report::{cautions, head, sheet};

/// The worksheet of this name, or all names.
pub(crate) fn run(of: &JobArgs, id: Option<&str>, format: Format) -> Result<Answer, Failure> {
    let setting = open(of)?;
    let (job, book) = (&setting.file.job, &setting.book);
    let sheets = engine::check(job, book).sheets;
    let chosen: Vec<_> = match id {
        None => sheets.worksheets().collect(),
        Some(id) => {
            let found = sheets.find(id).ok_or_else(|| {
                let ids = || sheets.worksheets().map(|w| w.id.as_str());
                let otherwise = format!("worksheets here: {}", model::nearest::list(ids()));
                let what = model::nearest::advice(id, ids(), &otherwise);
                Failure::new(format!("the job has no worksheet `{id}`"), what)
            })?;
            vec![found]
        }
    };
    if format == Format::Json {
        let entries = match id {
            Some(_) => json!({ "worksheets": chosen }),
            None => json!({ "ids": chosen.iter().map(|w| &w.id).collect::<Vec<_>>() }),
        };
        let value = answers::Answer::new("sheet", job, book, &setting.notices, entries);
        return Ok(Answer::json(&value));
    }
    let mut page = Page::new();
    head::write(&mut page, job, book, &setting.notices);
    match (id, chosen.as_slice()) {
        (Some(_), [one]) => sheet::write(&mut page, one),
        _ => {
            page.heading("Worksheets");
            sheet::list(&mut page, chosen.into_iter());
        }
    }
    cautions::write(&mut page);
    Ok(Answer::plain(page.finish()))
}
