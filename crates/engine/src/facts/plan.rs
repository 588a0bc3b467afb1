//! Which fact goes into which slot, and where in a job file is it answered?
//! Source: the tables of the sibling modules, looked up in a dictionary once per job. No units.

use rulebook::{Datum, FactDictionary, FactEntry, FactId};

use super::place::{Place, Subject};
use super::told::{Told, Value};
use super::{Rule, board, circuit, feeder, job, outlet, source};

/// The tables with their slots.
pub(super) struct Plan<'f> {
    pub(super) job: Vec<Slot<'f, job::Rule>>,
    pub(super) board: Vec<Slot<'f, board::Rule>>,
    pub(super) feeder: Vec<Slot<'f, feeder::Rule>>,
    pub(super) circuit: Vec<Slot<'f, circuit::Rule>>,
    pub(super) outlet: Vec<Slot<'f, outlet::Rule>>,
    pub(super) source: Vec<Slot<'f, source::Rule>>,
}

/// A rule of a table with the slot it fills.
pub(super) struct Slot<'f, R: 'static> {
    pub(super) fact: FactId,
    pub(super) entry: &'f FactEntry,
    pub(super) rule: &'static R,
}

impl<'f> Plan<'f> {
    pub(super) fn of(facts: &'f FactDictionary) -> Self {
        Self {
            job: slots(job::RULES, facts),
            board: slots(board::RULES, facts),
            feeder: slots(feeder::RULES, facts),
            circuit: slots(circuit::RULES, facts),
            outlet: slots(outlet::RULES, facts),
            source: slots(source::RULES, facts),
        }
    }
}

/// A dictionary that lacks a fact is one whose rules cannot ask for it, so the rule is left out.
fn slots<'f, F>(rules: &'static [Rule<F>], facts: &'f FactDictionary) -> Vec<Slot<'f, Rule<F>>> {
    rules
        .iter()
        .filter_map(|rule| {
            let fact = facts.find(rule.fact)?;
            let entry = facts.get(fact)?;
            Some(Slot { fact, entry, rule })
        })
        .collect()
}

impl<R> Slot<'_, R> {
    pub(super) fn datum(&self, told: Told<'_>) -> Option<(Datum, model::Said)> {
        let (value, said): (Value<'_>, _) = told?;
        Some((value.datum(self.entry)?, said))
    }
}

/// Where the answer to a fact goes: the model's own field when it has one, else the `facts` table of the thing it is about.
pub(super) fn answer_path(owner: Place<'_>, fact: &str) -> String {
    // A calculated current is answered at its root, with the utility.
    if matches!(fact, "panel.afc_a" | "service.afc_a") {
        return "supply.fault_current".to_owned();
    }
    let field = field_of(fact).unwrap_or("");
    let key = fact.split_once('.').map_or(fact, |(_, key)| key);
    let subject = Subject::of_fact(fact);
    let table = match owner {
        Place::Job => {
            return match subject {
                _ if !field.is_empty() => field.to_owned(),
                Subject::Service => format!("supply.facts.{key}"),
                Subject::Ground => format!("grounding.facts.{key}"),
                _ => format!("place.facts.\"{fact}\""),
            };
        }
        Place::Board(_) | Place::OldCabinet(_) => "boards",
        Place::Feeder(_) => "feeders",
        Place::Building(_) => "buildings",
        Place::Source(_) => "sources",
        Place::Circuit(_) => "circuits",
        Place::Outlet(_) => "outlets",
    };
    let thing = owner.name();
    match (field, subject, owner) {
        // A board without a feeder or building of its own has no place for their facts.
        (_, Subject::Feeder, Place::Board(_)) => format!("feeders (the one to board {thing})"),
        (_, Subject::Building, Place::Board(_)) => format!("boards.{thing}.building"),
        ("", Subject::Outlet, _) => format!("{table}.{thing}.facts.\"{fact}\""),
        ("", ..) => format!("{table}.{thing}.facts.{key}"),
        (field, ..) => format!("{table}.{thing}.{field}"),
    }
}

/// The field that answers a fact, below the thing it is about.
pub(super) fn field_of(fact: &str) -> Option<&'static str> {
    every_rule()
        .find(|(name, _)| *name == fact)
        .map(|(_, field)| field)
}

/// Name and field of every rule.
pub(super) fn every_rule() -> impl Iterator<Item = (&'static str, &'static str)> {
    fn names<F>(rules: &'static [Rule<F>]) -> impl Iterator<Item = (&'static str, &'static str)> {
        rules.iter().map(|r| (r.fact, r.field))
    }
    names(job::RULES)
        .chain(names(board::RULES))
        .chain(names(feeder::RULES))
        .chain(names(circuit::RULES))
        .chain(names(outlet::RULES))
        .chain(names(source::RULES))
}

#[cfg(test)]
mod tests {
    use rulebook::Library;

    use super::*;

    #[test]
    fn every_rule_answers_a_fact_of_the_dictionary_once() {
        let library = Library::built_in().unwrap();
        let mut seen = std::collections::BTreeSet::new();
        for (name, _) in every_rule() {
            assert!(library.facts().find(name).is_some(), "no fact `{name}`");
            assert!(seen.insert(name), "`{name}` is told twice");
        }
    }
}
