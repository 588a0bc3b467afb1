//! The price. US dollars.

use engine::facts::Place;
use engine::price::offer::UnitPrice;
use engine::price::payment::Payments;
use engine::price::{
    Amount, Cost, Exposure, Gap, Group, Offered, Price, PricedQuestion, Printed, What,
};
use engine::worksheet::Worksheet;
use model::Dollars;
use schemars::JsonSchema;
use serde::Serialize;
use shop::{AskedBy, Count};

use crate::Desk;
use crate::findings::PlaceOfQuestion;

/// What the job is offered for, and, not for the customer, what it costs.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PriceOfJob<'r> {
    /// Certain lines.
    lines: Vec<PriceLine<'r>>,
    /// What hangs on unknown facts.
    open_lines: Vec<OpenLine<'r>>,
    /// Sum of the certain lines.
    certain: Dollars,
    total: &'r Amount,
    /// What is not priced or not counted: with any of it the total is not complete.
    incomplete_without: &'r [Gap],
    options: Vec<OptionOffered<'r>>,
    /// Unit prices for what nobody can see yet.
    allowances: Vec<AllowanceOffered<'r>>,
    /// When is paid what, and what the state says.
    payments: &'r Payments<'r>,
    /// What is not included.
    exclusions: &'r [String],
    /// What is for the shop's own eyes; left out for the customer.
    #[serde(flatten)]
    private: Option<Private<'r>>,
}

/// What is for the shop's own eyes.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Private<'r> {
    /// The certain lines' way from cost to price.
    cost: &'r Cost,
    /// Open questions, with what hangs on each at the customer's price.
    questions: Vec<PricedOpenQuestion<'r>>,
    /// What missing each requirement would have cost, the dearest first.
    exposure: Vec<ExposureTo<'r>>,
    /// What is required and needs another plan first.
    plan_must_change: Vec<PlanMustChange<'r>>,
    /// From cost to price, line by line.
    worksheet: &'r Worksheet,
}

/// The same thing for the same reason, over all its places.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PriceLine<'r> {
    group: Group,
    what: &'r What<'r>,
    /// What it is, in the words of the book.
    text: &'r str,
    count: Count,
    /// Of what unit.
    unit: &'r str,
    /// Why, in words.
    because: String,
    /// The requirement behind it, where there is one.
    requirement: Option<&'r str>,
    places: &'r [Place<'r>],
    price: Dollars,
    /// Its way from cost to price; left out for the customer.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Cost")]
    cost: Option<&'r Cost>,
}

/// What may come on top.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct OpenLine<'r> {
    /// Why, in words.
    because: &'r [String],
    requirements: &'r [String],
    places: &'r [Place<'r>],
    low: Dollars,
    high: Dollars,
}

/// An open question with what hangs on it at the customer's price.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PricedOpenQuestion<'r> {
    fact: &'r str,
    question: &'r str,
    swing: Dollars,
    places: Vec<PlaceOfQuestion<'r>>,
}

/// An option as it stands on this job.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct OptionOffered<'r> {
    option: &'r str,
    title: &'r str,
    /// Who asks for it here.
    asked_by: AskedBy,
    /// A requirement that may turn out to bite asks for it.
    perhaps_code: bool,
    /// Section of the requirement that asks for it, where one does.
    section: &'r str,
    /// The customer chose it.
    chosen: bool,
    /// What it adds; `null` where a part has no price.
    adds: Option<Dollars>,
    /// Options it cannot go with.
    excludes: &'r [String],
    note: &'r str,
}

/// A unit price for what nobody can see yet.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct AllowanceOffered<'r> {
    what: &'r str,
    /// One of what.
    unit: &'r str,
    /// `null` where a part has no price.
    price: Option<Dollars>,
    /// Circuits that show the hazard behind it.
    likely: &'r [&'r str],
}

/// What missing a requirement would have cost.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ExposureTo<'r> {
    requirement: &'r str,
    title: &'r str,
    /// Section in force.
    section: &'r str,
    places: &'r [Place<'r>],
    /// Material and labour at cost.
    work: Dollars,
    /// A trip back at cost, and the inspection again.
    trip: Dollars,
}

/// What is required and needs another plan first.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlanMustChange<'r> {
    requirement: &'r str,
    places: &'r [Place<'r>],
    /// What usually helps.
    what: &'r str,
}

/// The documented form; the customer's has no cost.
#[must_use]
pub fn of<'r>(price: &'r Price<'_>, customer: bool, desk: &Desk<'_>) -> PriceOfJob<'r> {
    let open_lines = price.perhaps.iter().map(|p| OpenLine {
        because: &p.because,
        requirements: &p.requirements,
        places: &p.places,
        low: p.low,
        high: p.high,
    });
    PriceOfJob {
        lines: price.lines.iter().map(|l| line(l, customer)).collect(),
        open_lines: open_lines.collect(),
        certain: price.certain.price(),
        total: &price.total,
        incomplete_without: &price.gaps,
        options: price.options.iter().map(option).collect(),
        allowances: price.allowances.iter().map(allowance).collect(),
        payments: &price.payments,
        exclusions: price.exclusions,
        private: (!customer).then(|| private(price, desk)),
    }
}

fn private<'r>(price: &'r Price<'_>, desk: &Desk<'_>) -> Private<'r> {
    let plan = price.plan_first.iter().map(|p| PlanMustChange {
        requirement: &p.requirement.requirement().id,
        places: &p.places,
        what: p.what,
    });
    Private {
        cost: &price.certain,
        questions: price.questions.iter().map(|q| question(q, desk)).collect(),
        exposure: price.exposure.iter().map(exposure).collect(),
        plan_must_change: plan.collect(),
        worksheet: &price.worksheet,
    }
}

fn line<'r>(l: &'r Printed<'_>, customer: bool) -> PriceLine<'r> {
    PriceLine {
        group: l.group,
        what: &l.what,
        text: &l.text,
        count: l.count,
        unit: &l.unit,
        because: l.because.text(),
        requirement: l.because.requirement(),
        places: &l.places,
        price: l.cost.price(),
        cost: (!customer).then_some(&l.cost),
    }
}

fn question<'r>(q: &'r PricedQuestion<'_>, desk: &Desk<'_>) -> PricedOpenQuestion<'r> {
    let places = q.places.iter().map(|(place, answer, swing)| {
        PlaceOfQuestion::new(&q.name, (*place, answer, *swing), desk)
    });
    PricedOpenQuestion {
        fact: &q.name,
        question: &q.text,
        swing: q.swing,
        places: places.collect(),
    }
}

fn option(o: &Offered) -> OptionOffered<'_> {
    OptionOffered {
        option: &o.name,
        title: &o.title,
        asked_by: o.asked_by,
        perhaps_code: o.perhaps_code,
        section: &o.section,
        chosen: o.chosen,
        adds: o.adds.map(|c| c.price()),
        excludes: &o.excludes,
        note: &o.note,
    }
}

fn allowance<'r>(a: &'r UnitPrice<'_>) -> AllowanceOffered<'r> {
    AllowanceOffered {
        what: a.what,
        unit: a.unit,
        price: a.price,
        likely: &a.likely,
    }
}

fn exposure<'r>(e: &'r Exposure<'_>) -> ExposureTo<'r> {
    ExposureTo {
        requirement: e.requirement,
        title: e.title,
        section: &e.section,
        places: &e.places,
        work: e.work,
        trip: e.trip,
    }
}
