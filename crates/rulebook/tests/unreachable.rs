//! Is an outcome that a requirement's file calls unreachable really out of reach, and is every other outcome shown by a case?

use model::Edition;
use rulebook::{BoundRequirement, Datum, FactDictionary, FactId, FactKind, Library, Outcome};

const TRIES: usize = 4_000;

/// Every value at which a condition over the fact can turn, and unknown.
fn values(rule: &BoundRequirement, fact: FactId, facts: &FactDictionary) -> Vec<Option<Datum>> {
    let Some(entry) = facts.get(fact) else {
        return vec![None];
    };
    let count = entry.words.len();
    let known: Vec<Datum> = match entry.kind {
        FactKind::Bool => vec![Datum::Bool(true), Datum::Bool(false)],
        FactKind::Word => (0..count).map(|w| Datum::Word(w as u16)).collect(),
        FactKind::Set => (0..count)
            .map(|w| Datum::Set(1 << w))
            .chain([Datum::Set(0), Datum::Set((1 << count) - 1)])
            .collect(),
        FactKind::Number => rule
            .thresholds(fact)
            .into_iter()
            .chain([0.0])
            .flat_map(|n| [n - 0.5, n, n + 0.5])
            .map(Datum::Number)
            .collect(),
    };
    known.into_iter().map(Some).chain([None]).collect()
}

/// Facts under which the requirement comes to the outcome, looked for by seeded trial.
fn reach(rule: &BoundRequirement, facts: &FactDictionary, outcome: Outcome) -> bool {
    let choices: Vec<(FactId, Vec<Option<Datum>>)> = rule
        .facts()
        .iter()
        .map(|fact| (fact, values(rule, fact, facts)))
        .collect();
    let mut state = 7;
    let mut slots = facts.unknown();
    (0..TRIES).any(|_| {
        for (fact, values) in &choices {
            let pick = next(&mut state) as usize % values.len();
            slots[fact.index()] = values[pick];
        }
        rule.judge(&slots).verdict.outcome() == Some(outcome)
    })
}

/// A seeded sequence, so that every run tries the same facts.
fn next(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let mixed = (*state ^ (*state >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    mixed ^ (mixed >> 31)
}

#[test]
fn no_facts_reach_what_a_file_calls_unreachable() {
    let library = Library::built_in().unwrap();
    for edition in Edition::ALL {
        let book = library.rulebook(edition, &[], None).unwrap();
        for rule in book.requirements() {
            for claim in &rule.requirement().unreachable {
                let reached = reach(rule, library.facts(), claim.outcome);
                assert!(!reached, "{}: {}", rule.requirement().id, claim.outcome);
            }
        }
    }
}

#[test]
fn every_outcome_of_every_requirement_has_a_case_or_is_called_unreachable() {
    let library = Library::built_in().unwrap();
    for rule in library.requirements() {
        for outcome in Outcome::ALL {
            let shown = rule
                .cases
                .iter()
                .any(|c| c.verdict.outcome() == Some(*outcome));
            let excused = rule.unreachable.iter().any(|u| u.outcome == *outcome);
            assert!(shown != excused, "{}: {outcome}", rule.id);
        }
    }
}

#[test]
fn the_search_does_find_what_is_in_reach() {
    let library = Library::built_in().unwrap();
    let book = library.rulebook(Edition::Y2023, &[], None).unwrap();
    let rule = book
        .requirement("panel-sccr")
        .or(book.requirements().first());
    let found = rule.is_some_and(|r| reach(r, library.facts(), Outcome::Required));
    assert!(found);
}
