//! Is a verdict sound under partial knowledge, and is what a file calls unreachable really out of reach?

use model::Edition;
use rulebook::{
    BoundRequirement, Datum, FactDictionary, FactId, FactKind, Library, Outcome, Verdict,
};

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

type Choices = Vec<(FactId, Vec<Option<Datum>>)>;

fn choices(rule: &BoundRequirement, facts: &FactDictionary) -> Choices {
    rule.facts()
        .iter()
        .map(|fact| (fact, values(rule, fact, facts)))
        .collect()
}

/// Gives every fact of the choices a value, or leaves it unknown.
fn draw(choices: &Choices, slots: &mut [Option<Datum>], state: &mut u64) {
    for (fact, values) in choices {
        slots[fact.index()] = values[next(state) as usize % values.len()];
    }
}

/// Are there facts under which the requirement comes to the outcome? Looked for by seeded trial.
fn reach(rule: &BoundRequirement, facts: &FactDictionary, outcome: Outcome) -> bool {
    let choices = choices(rule, facts);
    let mut state = 7;
    let mut slots = facts.unknown();
    (0..TRIES).any(|_| {
        draw(&choices, &mut slots, &mut state);
        rule.judge(&slots).verdict.outcome() == Some(outcome)
    })
}

/// Judges drawn facts, then the same with every unknown one filled in, and says what is unsound.
fn check(rule: &BoundRequirement, facts: &FactDictionary, state: &mut u64) -> Option<String> {
    let choices = choices(rule, facts);
    let mut slots = facts.unknown();
    draw(&choices, &mut slots, state);
    let before = rule.judge(&slots);
    let unknown_only = before.missing.iter().all(|f| slots[f.index()].is_none());
    for (fact, values) in &choices {
        let slot = &mut slots[fact.index()];
        *slot = slot.or(values[next(state) as usize % (values.len() - 1)]);
    }
    let after = rule.judge(&slots);
    let sound = match before.verdict {
        Verdict::CannotTellIfMet => matches!(after.verdict, Verdict::Required | Verdict::Met),
        Verdict::CannotTellIfApplies => true,
        decided => after.verdict == decided && before.missing.is_empty(),
    };
    let open = before.verdict.outcome() == Some(Outcome::CannotTell);
    let right = sound
        && unknown_only
        && open != before.missing.is_empty()
        && after.missing.is_empty()
        && before.read.is_subset(&rule.facts());
    let id = &rule.requirement().id;
    (!right).then(|| format!("{id}: {} became {}", before.verdict, after.verdict))
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
    let rule = book.requirement("panel-sccr").unwrap();
    let found = reach(rule, library.facts(), Outcome::Required);
    assert!(found);
}

#[test]
fn a_decided_verdict_stays_whatever_else_becomes_known() {
    let library = Library::built_in().unwrap();
    let mut state = 11;
    for edition in Edition::ALL {
        let book = library.rulebook(edition, &[], None).unwrap();
        for rule in book.requirements() {
            for _ in 0..100 {
                assert_eq!(check(rule, library.facts(), &mut state), None, "{edition}");
            }
        }
    }
}

#[test]
fn threads_share_a_rulebook_and_agree() {
    let library = Library::built_in().unwrap();
    let book = library.rulebook(Edition::Y2020, &[], None).unwrap();
    let unknown = library.facts().unknown();
    let verdicts = || -> Vec<Verdict> {
        let judge = |r: &BoundRequirement| r.judge(&unknown).verdict;
        book.requirements().iter().map(judge).collect()
    };
    let (one, two) = std::thread::scope(|scope| {
        let (one, two) = (scope.spawn(verdicts), scope.spawn(verdicts));
        (one.join().unwrap(), two.join().unwrap())
    });
    assert_eq!(one, two);
    assert_eq!(one.len(), library.requirements().len());
}
