//! How much of the price hangs on each open question?
//! Source: the trees of open lines, added up under each answer. US dollars at the customer's price.

use std::collections::{BTreeMap, BTreeSet};

use model::Dollars;

use super::cost::Pricer;
use super::offer::PricedQuestion;
use super::open::{Answer, Tree, Unknown};
use super::sum::Sum;
use super::take_off::TakeOff;
use crate::check::Report;
use crate::facts::Place;

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

pub(super) fn questions<'a>(
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
