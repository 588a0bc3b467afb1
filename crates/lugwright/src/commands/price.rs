//! `price`: what the job costs the shop, and what it is offered for.

use std::path::Path;

use answers::Desk;
use engine::price;

use super::setting::open;
use super::{book, decisions};
use crate::Answer;
use crate::args::{Format, JobArgs};
use crate::page::Page;
use crate::problem::Failure;
use crate::report::{cautions, head, price as report};

/// The private cost sheet, or the customer's page.
pub(crate) fn run(
    of: &JobArgs,
    folder: Option<&Path>,
    customer: bool,
    format: Format,
) -> Result<Answer, Failure> {
    let setting = open(of)?;
    let book = book::open(folder)?;
    let (file, rules) = (&setting.file, &setting.book);
    decisions::offer_is_sound(&setting, of, &book)?;
    let checked = engine::check(&file.job, rules);
    let price = price::price(&checked, &book, &file.job.offer);
    if format == Format::Json {
        let body = answers::price::of(&price, customer, &Desk::of(file, rules.facts()));
        let value = answers::Answer::new("price", &file.job, rules, &setting.notices, body);
        return Ok(Answer::json(&value));
    }
    let mut page = Page::new();
    head::write(&mut page, &file.job, rules, &setting.notices);
    if customer {
        report::customer(&mut page, &price);
    } else {
        report::private(&mut page, &price);
    }
    cautions::write(&mut page);
    Ok(Answer::plain(page.finish()))
}
