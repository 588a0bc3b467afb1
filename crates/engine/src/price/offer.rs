//! The whole price: printed lines, what is open with its span, questions with their swing, exposure, options, allowances, payments.
//! Source: the take-off and the price book. US dollars; totals are sums of the printed lines.

use model::{Dollars, Offer};
use serde::Serialize;
use shop::{Book, Count, Missing};

use super::cost::{Cost, Pricer};
use super::line::{Because, Gap, Group, Line, Name, What};
use super::options::{Offered, offered};
use super::payment::{Payments, payments};
use super::printed::{open_parts, perhaps, print};
use super::questions::questions;
use super::sum::Sum;
use super::take_off::{PlanFirst, TakeOff, Triggered, take_off};
use crate::check::Report;
use crate::facts::Place;
use crate::worksheet::Worksheet;

/// A total, as far as it can be told. Never a number that hides something missing.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "PriceTotal")]
#[serde(rename_all = "snake_case")]
pub enum Amount {
    /// This much.
    Exact(Dollars),
    /// Between the two, over every combination of answers; both ends are reached unless `bound` says that they only bound it.
    Between {
        /// Least.
        low: Dollars,
        /// Most.
        high: Dollars,
        /// Too many combinations to try: no less and no more, and perhaps narrower.
        bound: bool,
    },
    /// Something has no price or no count: what is priced comes to this, and the total to more.
    Incomplete {
        /// Least of what is priced.
        priced_low: Dollars,
        /// Most of what is priced.
        priced_high: Dollars,
    },
}

/// One printed line: the same thing for the same reason, over all its places.
#[derive(Clone, Debug, PartialEq)]
pub struct Printed<'a> {
    /// Part of the offer.
    pub group: Group,
    /// What.
    pub what: What<'a>,
    /// What it is, in the words of the book.
    pub text: String,
    /// How many in all.
    pub count: Count,
    /// Of what unit.
    pub unit: String,
    /// Why.
    pub because: Because<'a>,
    /// Where, each once.
    pub places: Vec<Place<'a>>,
    /// Cost and price.
    pub cost: Cost,
}

/// What may come on top.
#[derive(Clone, Debug, PartialEq)]
pub struct Perhaps<'a> {
    /// Why, in words.
    pub because: Vec<String>,
    /// Requirements, by id.
    pub requirements: Vec<String>,
    /// Where.
    pub places: Vec<Place<'a>>,
    /// Least that it adds.
    pub low: Dollars,
    /// Most that it adds.
    pub high: Dollars,
}

/// An open question with what hangs on it at the customer's price.
#[derive(Clone, Debug, PartialEq)]
pub struct PricedQuestion<'a> {
    /// Name of the fact, or of the field that answers it.
    pub name: String,
    /// The question in plain words.
    pub text: String,
    /// Where it is asked, with the field of the job file that answers it, and the swing there.
    pub places: Vec<(Place<'a>, String, Dollars)>,
    /// Dearest answers less cheapest answers, over all places.
    pub swing: Dollars,
}

/// What missing a requirement would have cost.
#[derive(Clone, Debug, PartialEq)]
pub struct Exposure<'a> {
    /// Its id.
    pub requirement: &'a str,
    /// Its title.
    pub title: &'a str,
    /// Section in force.
    pub section: String,
    /// Where it bites.
    pub places: Vec<Place<'a>>,
    /// Material and labour at cost, less what they take the place of.
    pub work: Dollars,
    /// A trip back at cost, and the inspection again.
    pub trip: Dollars,
}

/// A unit price for what nobody can see yet.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitPrice<'a> {
    /// As the customer reads it.
    pub what: &'a str,
    /// One of what.
    pub unit: &'a str,
    /// Price of one; `None` where a part has no price.
    pub price: Option<Dollars>,
    /// Circuits that show the hazard behind it.
    pub likely: Vec<&'a str>,
}

/// A part that is needed only if an open question is answered so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenPart<'a> {
    /// Name in the parts table.
    pub name: Name<'a>,
    /// Most that any answers can ask for.
    pub most: Count,
    /// Where, each once.
    pub places: Vec<Place<'a>>,
}

/// The offer with everything behind it.
#[derive(Clone, Debug)]
pub struct Price<'a> {
    /// Certain lines.
    pub lines: Vec<Printed<'a>>,
    /// Sum of the certain lines.
    pub certain: Cost,
    /// What may come on top.
    pub perhaps: Vec<Perhaps<'a>>,
    /// Parts that may be needed on top.
    pub open_parts: Vec<OpenPart<'a>>,
    /// The total.
    pub total: Amount,
    /// What is not priced or not counted.
    pub gaps: Vec<Gap>,
    /// What is required and needs another plan first.
    pub plan_first: Vec<PlanFirst<'a>>,
    /// Open questions, the dearest first.
    pub questions: Vec<PricedQuestion<'a>>,
    /// What each triggered requirement would have cost, the dearest first.
    pub exposure: Vec<Exposure<'a>>,
    /// Options.
    pub options: Vec<Offered>,
    /// Unit prices.
    pub allowances: Vec<UnitPrice<'a>>,
    /// What is not included.
    pub exclusions: &'a [String],
    /// When is paid what, and what the state says.
    pub payments: Payments<'a>,
    /// From cost to price, line by line.
    pub worksheet: Worksheet,
}

impl Price<'_> {
    /// Least and most of what is priced.
    #[must_use]
    pub fn span(&self) -> (Dollars, Dollars) {
        match self.total {
            Amount::Exact(price) => (price, price),
            Amount::Between { low, high, .. } => (low, high),
            Amount::Incomplete {
                priced_low,
                priced_high,
            } => (priced_low, priced_high),
        }
    }
}

/// Prices a job.
#[must_use]
pub fn price<'a>(report: &'a Report<'a>, book: &'a Book, offer: &'a Offer) -> Price<'a> {
    let pricer = Pricer::new(book, offer);
    let take = take_off(report, book, offer);
    let mut gaps = take.gaps.clone();
    let lines = print(take.certain(), &pricer, &mut gaps);
    let certain: Cost = lines.iter().map(|l| l.cost).sum();
    let perhaps = perhaps(&take, &pricer, &mut gaps);
    gaps.sort();
    gaps.dedup();
    let low = certain.price() + perhaps.iter().map(|p| p.low).sum();
    let high = certain.price() + perhaps.iter().map(|p| p.high).sum();
    let total = amount(low, high, take.exact, gaps.is_empty());
    Price {
        certain,
        payments: payments(report, &pricer, &total),
        worksheet: super::sheet::build_up(&certain, &pricer, (low, high), report.book.edition()),
        open_parts: open_parts(&take),
        questions: questions(report, &take, &pricer),
        exposure: exposure(&take, &pricer),
        options: offered(report, book, offer),
        allowances: allowances(report, &pricer),
        exclusions: &book.exclusions,
        plan_first: take.plan_first,
        lines,
        perhaps,
        total,
        gaps,
    }
}

/// The span of a take-off alone, for going through many of them.
#[must_use]
pub fn quick(take: &TakeOff<'_>, pricer: &Pricer<'_>) -> Amount {
    let mut sum = Sum::new(pricer);
    let certain: Dollars = take.certain().map(|line| sum.line(line)).sum();
    let (mut low, mut high) = (certain, certain);
    for tree in &take.open {
        let (least, most) = sum.tree(tree, None);
        low += least;
        high += most;
    }
    amount(
        low,
        high,
        take.exact,
        take.gaps.is_empty() && sum.missing.is_empty(),
    )
}

fn amount(low: Dollars, high: Dollars, exact: bool, complete: bool) -> Amount {
    match (complete, low == high) {
        (false, _) => Amount::Incomplete {
            priced_low: low,
            priced_high: high,
        },
        (true, true) => Amount::Exact(low),
        (true, false) => Amount::Between {
            low,
            high,
            bound: !exact,
        },
    }
}

fn exposure<'a>(take: &TakeOff<'a>, pricer: &Pricer<'a>) -> Vec<Exposure<'a>> {
    let again = What::Work(Name::Borrowed("second-trip"));
    let trip = pricer
        .cost_of(&again, Count::whole(1))
        .map_or(Dollars::ZERO, |c| c.direct());
    let trip = trip + pricer.rates.reinspection_fee();
    let direct = |lines: &[Line<'a>]| -> Dollars {
        let costs = lines.iter().filter_map(|l| pricer.cost(l).ok());
        costs.map(|c| c.direct()).sum()
    };
    let mut all: Vec<Exposure<'a>> = take
        .triggered
        .iter()
        .map(|t: &Triggered<'a>| Exposure {
            requirement: &t.requirement.requirement().id,
            title: &t.requirement.requirement().title,
            section: t
                .requirement
                .cite()
                .map(|c| c.section.to_string())
                .unwrap_or_default(),
            places: t.places.clone(),
            work: direct(&t.lines) - direct(&t.instead_of),
            trip,
        })
        .collect();
    all.sort_by_key(|e| std::cmp::Reverse(e.work));
    all
}

fn allowances<'a>(report: &'a Report<'a>, pricer: &Pricer<'a>) -> Vec<UnitPrice<'a>> {
    let one = |allowance: &'a shop::offer::Allowance| {
        let parts = allowance
            .parts
            .iter()
            .map(|c| (What::Part(Name::Borrowed(&c.item)), c.count));
        let labour = allowance
            .labour
            .iter()
            .map(|c| (What::Work(Name::Borrowed(&c.item)), c.count));
        let costs: Result<Vec<Cost>, Missing> = parts
            .chain(labour)
            .map(|(what, count)| pricer.cost_of(&what, count))
            .collect();
        let shows = |circuit: &model::house::Circuit| {
            let mut hazards = circuit.hazards.iter();
            hazards.any(|h| h.word() == allowance.hazard)
        };
        let circuits = report.job.after.circuits.iter();
        UnitPrice {
            what: &allowance.what,
            unit: &allowance.unit,
            price: costs.ok().map(|all| all.iter().map(Cost::price).sum()),
            likely: circuits
                .filter(|(_, c)| shows(c))
                .map(|(id, _)| id.as_str())
                .collect(),
        }
    };
    pricer.book.allowances.iter().map(one).collect()
}
