//! Which options may the customer choose, who asks for each, and what does each add to the price?
//! Source: `options.csv` of the price book, the findings. An option whose requirement bites is code, and already in the price.

use model::scope::Change;
use model::{JobFile, Mistake, Offer};
use rulebook::requirement::Verdict;
use serde::Serialize;
use shop::options::{Options, Per};
use shop::{AskedBy, Book, ShopOption};

use super::cost::{Cost, Pricer};
use super::line::Lines;
use super::take_off::Context;
use super::wants::{self, Want, Wish};
use crate::check::Report;
use crate::facts::Place;

/// An option as it stands on this job.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Offered {
    /// Its name in the book.
    pub name: String,
    /// As the customer reads it.
    pub title: String,
    /// Who asks for it here.
    pub asked_by: AskedBy,
    /// Section of the requirement that asks for it, where one does.
    pub section: String,
    /// A requirement that may turn out to bite asks for it.
    pub perhaps_code: bool,
    /// The customer chose it.
    pub chosen: bool,
    /// What it adds: cost and price. Nothing where the price has it already; `None` where a part has no price.
    pub adds: Option<Cost>,
    /// Options it cannot go with.
    pub excludes: Vec<String>,
    /// A remark of the book.
    pub note: String,
}

/// Wishes of the chosen options that the book has. [`check_offer`] tells of the others.
pub(super) fn wishes<'a>(book: &'a Book, offer: &Offer, context: &Context<'a>) -> Vec<Wish<'a>> {
    let chosen = book
        .options
        .iter()
        .filter(|o| offer.options.contains(&o.name));
    chosen.flat_map(|option| of(option, context)).collect()
}

fn of<'a>(option: &'a ShopOption, context: &Context<'a>) -> Vec<Wish<'a>> {
    let wish = |place| Wish {
        want: Want::Option(option, place),
        because: None,
    };
    match option.per {
        Per::Job => vec![wish(Place::Job)],
        Per::Board => {
            let boards = context.scope.boards.iter().filter(|(_, change)| {
                matches!(change.change, Change::New | Change::Replaced) || change.relocated
            });
            let after = &context.job.after.boards;
            boards
                .filter_map(|(id, _)| Some(wish(Place::Board(after.get_key_value(id)?.0))))
                .collect()
        }
    }
}

/// Every option of the book on this job.
#[must_use]
pub fn offered<'a>(report: &'a Report<'a>, book: &'a Book, offer: &'a Offer) -> Vec<Offered> {
    let pricer = Pricer::new(book, offer);
    let context = Context::of(report);
    let all = book.options.iter().map(|option| {
        let covers = |verdict: &dyn Fn(Verdict) -> bool| {
            let covering = option.covers.iter().flat_map(|id| report.findings.of(id));
            covering
                .filter(|f| verdict(f.verdict))
                .find_map(|f| f.requirement.cite())
        };
        let required = covers(&|v| v == Verdict::Required);
        let perhaps =
            covers(&|v| matches!(v, Verdict::CannotTellIfMet | Verdict::CannotTellIfApplies));
        let mut lines = Lines::new();
        if required.is_none() {
            let wishes = of(option, &context);
            let wishes: Vec<&Wish<'a>> = wishes.iter().collect();
            wants::lines(&wishes, &pricer, &context, &Default::default(), &mut lines);
        }
        let adds: Result<Vec<Cost>, _> = lines.all.iter().map(|l| pricer.cost(l)).collect();
        Offered {
            name: option.name.clone(),
            title: option.title.clone(),
            asked_by: if required.is_some() {
                AskedBy::Code
            } else {
                option.asked_by
            },
            section: required
                .or(perhaps.clone())
                .map(|c| c.section.to_string())
                .unwrap_or_default(),
            perhaps_code: perhaps.is_some(),
            chosen: offer.options.contains(&option.name),
            adds: adds.ok().map(|costs| costs.into_iter().sum()),
            excludes: option.excludes.clone(),
            note: option.note.clone(),
        }
    });
    all.collect()
}

/// Options and settings of a job file that the book does not have, that do not suit, or that exclude each other.
#[must_use]
pub fn check_offer(file: &JobFile, book: &Book) -> Vec<Mistake> {
    let offer = &file.job.offer;
    let mut mistakes = Vec::new();
    let names = || book.options.iter().map(|o| o.name.as_str());
    let path = ["offer", "options"];
    for (i, name) in offer.options.iter().enumerate() {
        let Some(option) = book.options.get(name) else {
            let otherwise = format!("options of the book: {}", model::nearest::list(names()));
            let expected = model::nearest::advice(name, names(), &otherwise);
            let found = format!("the price book has no option `{name}`");
            mistakes.push(file.mistake_at(&path, found, expected));
            continue;
        };
        if offer.options[..i].contains(name) {
            let found = format!("option `{name}` is chosen twice");
            mistakes.push(file.mistake_at(&path, found, "each option once".to_owned()));
        }
        let earlier = offer.options[..i]
            .iter()
            .filter_map(|o| book.options.get(o));
        for other in earlier.filter(|o| Options::exclude_each_other(option, o)) {
            let found = format!("options `{}` and `{name}` cannot go together", other.name);
            let file_name = shop::options::FILE;
            let expected = format!(
                "one of the two: {file_name} lines {} and {}",
                other.line, option.line
            );
            mistakes.push(file.mistake_at(&path, found, expected));
        }
    }
    let mut rates = book.rates.clone();
    for (name, value) in &offer.settings {
        let value = value.to_string();
        if let Err(expected) = rates.set(name, &value) {
            let found = format!("`{name} = {value}`");
            mistakes.push(file.mistake_at(&["offer", "settings", name], found, expected));
        }
    }
    mistakes
}
