//! The whole price: printed lines, what is open with its span, questions with their swing, exposure, options, allowances, payments.
//! Source: the take-off and the price book. US dollars; totals are sums of the printed lines.

use std::collections::{BTreeMap, BTreeSet};

use model::{Dollars, Offer};
use serde::Serialize;
use shop::{Book, Count, Missing};

use super::cost::{Cost, Pricer};
use super::line::{Because, Gap, Group, Line, Name, What};
use super::open::{Answer, Tree, Unknown};
use super::options::{Offered, offered};
use super::payment::{Payments, payments};
use super::take_off::{PlanFirst, TakeOff, Triggered, take_off};
use super::wants;
use crate::check::Report;
use crate::facts::Place;
use crate::worksheet::Worksheet;

/// A total, as far as it can be told. Never a number that hides something missing.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
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

/// The offer with everything behind it.
#[derive(Clone, Debug)]
pub struct Price<'a> {
    /// Certain lines.
    pub lines: Vec<Printed<'a>>,
    /// Sum of the certain lines.
    pub certain: Cost,
    /// What may come on top.
    pub perhaps: Vec<Perhaps<'a>>,
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

/// Sums prices, and remembers what had none.
struct Sum<'p, 'b> {
    pricer: &'p Pricer<'b>,
    missing: BTreeSet<Missing>,
}

impl<'p, 'b> Sum<'p, 'b> {
    const fn new(pricer: &'p Pricer<'b>) -> Self {
        Self {
            pricer,
            missing: BTreeSet::new(),
        }
    }

    fn line(&mut self, line: &Line<'_>) -> Dollars {
        match self.pricer.cost(line) {
            Ok(cost) => cost.price(),
            Err(missing) => {
                self.missing.insert(missing);
                Dollars::ZERO
            }
        }
    }

    fn lines(&mut self, lines: &[Line<'_>]) -> Dollars {
        lines.iter().map(|line| self.line(line)).sum()
    }

    /// Least and most of a tree; with one unknown answered, where `given` says so.
    fn tree(&mut self, tree: &Tree<'_>, given: Option<(usize, Answer)>) -> (Dollars, Dollars) {
        match tree {
            Tree::Lines(lines) => {
                let sum = self.lines(lines);
                (sum, sum)
            }
            Tree::Between(least, most) => {
                let (one, other) = (self.lines(least), self.lines(most));
                (one.min(other), one.max(other))
            }
            Tree::All(trees) => {
                let (mut low, mut high) = (Dollars::ZERO, Dollars::ZERO);
                for tree in trees {
                    let (least, most) = self.tree(tree, given);
                    low += least;
                    high += most;
                }
                (low, high)
            }
            Tree::By(unknown, branches) => {
                let open =
                    |answer: &Answer| given.is_none_or(|(u, a)| u != *unknown || a == *answer);
                let mut span: Option<(Dollars, Dollars)> = None;
                for (answer, branch) in branches {
                    if !open(answer) {
                        continue;
                    }
                    let (least, most) = self.tree(branch, given);
                    let (low, high) = span.unwrap_or((least, most));
                    span = Some((low.min(least), high.max(most)));
                }
                span.unwrap_or_default()
            }
        }
    }
}

fn gap_of(missing: &Missing) -> Gap {
    let (what, advice) = match missing.line {
        0 => (
            format!("{} has no line for `{}`", missing.file, missing.item),
            "add the line".to_owned(),
        ),
        line => (
            format!(
                "{} line {line}: `{}` has no price",
                missing.file, missing.item
            ),
            "write its price there".to_owned(),
        ),
    };
    Gap { what, advice }
}

fn print<'a, 'l>(
    lines: impl Iterator<Item = &'l Line<'a>>,
    pricer: &Pricer<'a>,
    gaps: &mut Vec<Gap>,
) -> Vec<Printed<'a>>
where
    'a: 'l,
{
    let mut printed: Vec<Printed<'a>> = Vec::new();
    let mut places: BTreeMap<(Group, (u8, &str), What<'a>), usize> = BTreeMap::new();
    for line in lines {
        let cost = match pricer.cost(line) {
            Ok(cost) => cost,
            Err(missing) => {
                gaps.push(gap_of(&missing));
                continue;
            }
        };
        let key = (line.group, line.because.key(), line.what.clone());
        match places.get(&key) {
            Some(at) => {
                let known: &mut Printed<'a> = &mut printed[*at];
                known.count += line.count;
                known.cost += cost;
                if !known.places.contains(&line.place) {
                    known.places.push(line.place);
                }
            }
            None => {
                places.insert(key, printed.len());
                let (text, unit) = words(&line.what, pricer.book);
                printed.push(Printed {
                    group: line.group,
                    what: line.what.clone(),
                    text,
                    unit,
                    count: line.count,
                    because: line.because,
                    places: vec![line.place],
                    cost,
                });
            }
        }
    }
    printed.sort_by_key(|line| line.group);
    printed
}

/// What a line says, and the unit it counts.
fn words(what: &What<'_>, book: &Book) -> (String, String) {
    match what {
        What::Part(name) => {
            let part = book.parts.get(name);
            let unit = part.map_or("", |p| match p.unit {
                shop::parts::PartUnit::Each => "each",
                shop::parts::PartUnit::Foot => "ft",
            });
            let text = part.map_or_else(|| name.to_string(), |p| p.what.clone());
            (text, unit.to_owned())
        }
        What::Work(item) => {
            let unit = book.labour.task(item).map(|t| t.unit.to_string());
            (item.replace('-', " "), unit.unwrap_or_default())
        }
        What::Fee(super::line::Fee::Permit) => ("permit fee".to_owned(), "each".to_owned()),
        What::Fee(super::line::Fee::Utility) => ("utility fee".to_owned(), "each".to_owned()),
    }
}

/// Open trees with the same reasons stand on one line; their ends add up.
fn perhaps<'a>(take: &TakeOff<'a>, pricer: &Pricer<'a>, gaps: &mut Vec<Gap>) -> Vec<Perhaps<'a>> {
    let mut all: BTreeMap<Vec<String>, Perhaps<'a>> = BTreeMap::new();
    let mut sum = Sum::new(pricer);
    for tree in &take.open {
        let mut lines = Vec::new();
        leaves(tree, &mut lines);
        let reasons: BTreeMap<(u8, String), Because<'a>> = lines
            .iter()
            .filter(|l| match l.because {
                Because::Work(words) => [wants::AS_BEFORE, wants::TRACED].contains(&words),
                _ => true,
            })
            .map(|l| {
                let (sort, id) = l.because.key();
                ((sort, id.to_owned()), l.because)
            })
            .collect();
        let lengthened = lines.iter().any(|l| l.group == Group::Circuits);
        let mut because: Vec<String> = reasons.values().map(Because::text).collect();
        if lengthened {
            because.push("how far circuits are lengthened".to_owned());
        }
        let requirements = reasons.values().filter_map(Because::requirement);
        let requirements: Vec<String> = requirements.map(str::to_owned).collect();
        let (low, high) = sum.tree(tree, None);
        let entry = all.entry(because.clone()).or_insert_with(|| Perhaps {
            because,
            requirements,
            places: Vec::new(),
            low: Dollars::ZERO,
            high: Dollars::ZERO,
        });
        entry.low += low;
        entry.high += high;
        for line in lines {
            if !entry.places.contains(&line.place) {
                entry.places.push(line.place);
            }
        }
    }
    gaps.extend(sum.missing.iter().map(gap_of));
    let mut all: Vec<Perhaps<'a>> = all.into_values().collect();
    all.sort_by_key(|p| std::cmp::Reverse(p.high - p.low));
    all
}

fn leaves<'t, 'a>(tree: &'t Tree<'a>, into: &mut Vec<&'t Line<'a>>) {
    match tree {
        Tree::Lines(lines) => into.extend(lines),
        Tree::Between(_, most) => into.extend(most),
        Tree::All(trees) => trees.iter().for_each(|t| leaves(t, into)),
        Tree::By(_, branches) => branches.iter().for_each(|(_, t)| leaves(t, into)),
    }
}

/// Answers to an unknown that a tree tells apart.
fn answers(tree: &Tree<'_>, unknown: usize, into: &mut Vec<Answer>) {
    match tree {
        Tree::Lines(_) | Tree::Between(..) => {}
        Tree::All(trees) => trees.iter().for_each(|t| answers(t, unknown, into)),
        Tree::By(by, branches) => {
            for (answer, branch) in branches {
                if *by == unknown && !into.contains(answer) {
                    into.push(*answer);
                }
                answers(branch, unknown, into);
            }
        }
    }
}

fn unknowns_of(tree: &Tree<'_>, into: &mut BTreeSet<usize>) {
    match tree {
        Tree::Lines(_) | Tree::Between(..) => {}
        Tree::All(trees) => trees.iter().for_each(|t| unknowns_of(t, into)),
        Tree::By(by, branches) => {
            into.insert(*by);
            branches.iter().for_each(|(_, t)| unknowns_of(t, into));
        }
    }
}

fn questions<'a>(
    report: &'a Report<'a>,
    take: &TakeOff<'a>,
    pricer: &Pricer<'a>,
) -> Vec<PricedQuestion<'a>> {
    let mut all: BTreeMap<String, PricedQuestion<'a>> = BTreeMap::new();
    let mut sum = Sum::new(pricer);
    for tree in &take.open {
        let mut among = BTreeSet::new();
        unknowns_of(tree, &mut among);
        for unknown in among {
            let mut tried = Vec::new();
            answers(tree, unknown, &mut tried);
            let spans: Vec<(Dollars, Dollars)> = tried
                .iter()
                .map(|answer| sum.tree(tree, Some((unknown, *answer))))
                .collect();
            let width = |end: &dyn Fn(&(Dollars, Dollars)) -> Dollars| {
                let ends = || spans.iter().map(end);
                ends().max().unwrap_or_default() - ends().min().unwrap_or_default()
            };
            let swing = width(&|s| s.0).max(width(&|s| s.1));
            let Some(unknown) = take.unknowns.get(unknown).filter(|_| swing > Dollars::ZERO) else {
                continue;
            };
            let (name, text, place, path) = asked(report, *unknown);
            let entry = all.entry(name.clone()).or_insert_with(|| PricedQuestion {
                name,
                text,
                places: Vec::new(),
                swing: Dollars::ZERO,
            });
            entry.swing += swing;
            entry.places.push((place, path, swing));
        }
    }
    let mut all: Vec<PricedQuestion<'a>> = all.into_values().collect();
    all.sort_by_key(|q| std::cmp::Reverse(q.swing));
    all
}

/// Name, question, place, and the field of the job file that answers it.
fn asked<'a>(report: &'a Report<'a>, unknown: Unknown<'a>) -> (String, String, Place<'a>, String) {
    match unknown {
        Unknown::Fact(fact, place) => {
            let facts = report.book.facts();
            let row = report.facts.row_at(place).unwrap_or(0);
            let text = facts.get(fact).map(|entry| entry.question.clone());
            let path = report.facts.answer_path(row, fact, facts);
            (
                facts.name(fact).to_owned(),
                text.unwrap_or_default(),
                place,
                path,
            )
        }
        Unknown::Added(circuit) => (
            "slack".to_owned(),
            "How much spare conductor has the circuit in the old cabinet, in inches?".to_owned(),
            Place::Circuit(circuit),
            format!("circuits.{circuit}.slack"),
        ),
        Unknown::Traced(circuit) => (
            "rooms".to_owned(),
            "Can somebody tell what the circuit supplies, so that nobody need trace it?".to_owned(),
            Place::Circuit(circuit),
            format!("circuits.{circuit}.rooms"),
        ),
        Unknown::ProtectionAt(circuit) => (
            "protection_at".to_owned(),
            "Does the protection of the circuit sit in its breaker, or in an outlet?".to_owned(),
            Place::Circuit(circuit),
            format!("circuits.{circuit}.protection_at"),
        ),
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
