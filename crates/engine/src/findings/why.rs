//! Why does a requirement come to its verdict at a place? Down to each fact's value and who said it.
//! Source: the requirement's conditions in words, the bound facts. Values with the dictionary's units.

use model::Said;
use rulebook::condition::{Explanation, Kleene};
use rulebook::requirement::Verdict;
use rulebook::{Cite, FactDictionary, FactId, FactSet, Rulebook};
use serde::Serialize;

use crate::facts::{Bound, Place};

/// A verdict with its reasons.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Why<'a> {
    /// Id of the requirement.
    pub requirement: String,
    /// Its title.
    pub title: String,
    /// What it is judged at.
    pub place: Place<'a>,
    /// The verdict.
    pub verdict: Verdict,
    /// The section in force; `None` where the edition has none.
    pub cite: Option<Cite>,
    /// Why it applies or not.
    pub applies: Part<'a>,
    /// Why it is met or not; `None` when only a person can tell.
    pub satisfied: Option<Part<'a>>,
}

/// One part of a condition.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Part<'a> {
    /// In words.
    pub text: String,
    /// As the rulebook writes it.
    pub condition: String,
    /// `true`, `false` or `null` when it cannot be told.
    pub truth: Option<bool>,
    /// Facts this part reads.
    pub facts: Vec<FactUsed<'a>>,
    /// The parts it is made of.
    pub parts: Vec<Self>,
}

/// A fact as a verdict used it.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
pub struct FactUsed<'a> {
    /// Dictionary name.
    pub fact: String,
    /// What it is about.
    pub of: Place<'a>,
    /// Value with unit; `None` when nobody knows.
    pub value: Option<String>,
    /// Who said it.
    pub said: Option<Said>,
    /// Where its answer goes in the job file, when nobody knows.
    pub answer: Option<String>,
}

/// Explains a requirement at a place of the job; `None` when there is no such requirement or place.
/// A feeder, an old cabinet and a building are judged with their board.
#[must_use]
pub fn explain<'a>(
    bound: &Bound<'a>,
    book: &Rulebook,
    requirement: &str,
    place: Place<'_>,
) -> Option<Why<'a>> {
    let requirement = book.requirement(requirement)?;
    let row = bound.row_at(place)?;
    let reasons = requirement.explain(bound.slots(row));
    let facts = book.facts();
    Some(Why {
        requirement: requirement.requirement().id.clone(),
        title: requirement.requirement().title.clone(),
        place: bound.place(row),
        verdict: reasons.judgement.verdict,
        cite: reasons.cite,
        applies: part(&reasons.applies, bound, row, facts),
        satisfied: reasons.satisfied.map(|s| part(&s, bound, row, facts)),
    })
}

/// Facts of a set as an instance has them, in order of the dictionary.
#[must_use]
pub fn facts_used<'a>(
    bound: &Bound<'a>,
    row: usize,
    set: &FactSet,
    facts: &FactDictionary,
) -> Vec<FactUsed<'a>> {
    set.iter().map(|id| used(bound, row, id, facts)).collect()
}

fn part<'a>(
    explanation: &Explanation,
    bound: &Bound<'a>,
    row: usize,
    facts: &FactDictionary,
) -> Part<'a> {
    Part {
        text: explanation.text.clone(),
        condition: explanation.condition.clone(),
        truth: match explanation.truth {
            Kleene::True => Some(true),
            Kleene::False => Some(false),
            Kleene::Unknown => None,
        },
        facts: explanation
            .facts
            .iter()
            .map(|(id, _)| used(bound, row, *id, facts))
            .collect(),
        parts: explanation
            .children
            .iter()
            .map(|child| part(child, bound, row, facts))
            .collect(),
    }
}

fn used<'a>(bound: &Bound<'a>, row: usize, id: FactId, facts: &FactDictionary) -> FactUsed<'a> {
    let value = bound.value(row, id);
    let print = |datum| facts.get(id).map(|e| e.print(datum));
    FactUsed {
        fact: facts.name(id).to_owned(),
        of: bound.owner(row, id),
        value: value.and_then(|(datum, _)| print(datum)),
        said: value.map(|(_, said)| said),
        answer: value.is_none().then(|| bound.answer_path(row, id, facts)),
    }
}
