//! What holds for every condition and every partial knowledge of the facts.

use model::Edition;
use proptest::prelude::*;
use rulebook::{Condition, Constants, Datum, FactDictionary, Kleene, Library};

const FACTS: &str = r#"
[f.a]
kind = "yes or no"
ask = "survey"
meaning = "A"
question = "A?"
[f.b]
kind = "yes or no"
ask = "survey"
meaning = "B"
question = "B?"
[n.x]
kind = "number"
ask = "survey"
meaning = "X"
question = "X?"
[n.y]
kind = "number"
unit = "in"
ask = "survey"
meaning = "Y"
question = "Y?"
[w.role]
kind = "one of"
words = ["red", "green", "blue"]
ask = "survey"
meaning = "Role"
question = "Role?"
[s.areas]
kind = "any of"
words = ["red", "green", "blue"]
ask = "survey"
meaning = "Areas"
question = "Areas?"
"#;

const CONSTANTS: &str = r#"
[COLOURS]
2014-2017 = ["red"]
2020-2026 = ["red", "blue"]
[NUMBERS]
all = [1, 2]
[LEAST]
2014-2020 = 1
2023-2026 = 2
"#;

const LEAVES: [&str; 20] = [
    "f.a",
    "f.b",
    "TRUE",
    "FALSE",
    "edition >= 2020",
    "2017 < edition",
    "n.x = 1",
    "n.x != n.y",
    "n.x * 2 <= n.y",
    "n.y > LEAST",
    "n.x < -0.5",
    "n.x IN NUMBERS",
    "n.y IN [0, 2.5]",
    "w.role = red",
    "w.role != blue",
    "w.role IN COLOURS",
    "w.role IN [green, blue]",
    "s.areas HAS green",
    "s.areas HAS_ANY COLOURS",
    "s.areas HAS_ANY [green, blue]",
];

fn condition() -> impl Strategy<Value = String> {
    let leaf = prop::sample::select(&LEAVES[..]).prop_map(str::to_owned);
    leaf.prop_recursive(5, 40, 4, |inner| {
        prop_oneof![
            inner.clone().prop_map(|part| format!("NOT ({part})")),
            prop::collection::vec(inner.clone(), 2..4)
                .prop_map(|parts| format!("({})", parts.join(" AND "))),
            prop::collection::vec(inner, 2..4)
                .prop_map(|parts| format!("({})", parts.join("\n OR "))),
        ]
    })
}

fn number() -> impl Strategy<Value = Datum> {
    prop::sample::select(&[-1.0, 0.0, 1.0, 2.0, 2.5][..]).prop_map(Datum::Number)
}

/// One value for each fact of the dictionary, in its order.
fn values() -> impl Strategy<Value = Vec<Datum>> {
    let truth = || any::<bool>().prop_map(Datum::Bool);
    (
        truth(),
        truth(),
        number(),
        number(),
        (0u16..3).prop_map(Datum::Word),
        (0u64..8).prop_map(Datum::Set),
    )
        .prop_map(|(a, b, x, y, role, areas)| vec![a, b, x, y, role, areas])
}

fn edition() -> impl Strategy<Value = Edition> {
    prop::sample::select(&Edition::ALL[..])
}

fn known() -> (FactDictionary, Constants) {
    let facts = FactDictionary::parse("facts.toml", FACTS);
    let constants = Constants::parse("constants.toml", CONSTANTS);
    (facts.unwrap_or_default(), constants.unwrap_or_default())
}

fn parsed(text: &str) -> Result<(FactDictionary, Constants, Condition), TestCaseError> {
    let (facts, constants) = known();
    let condition = Condition::parse(text, &facts, &constants)
        .map_err(|e| TestCaseError::fail(format!("{text}: {e}")))?;
    Ok((facts, constants, condition))
}

proptest! {
    #[test]
    fn no_text_makes_the_parser_panic(text in ".{0,200}", soup in prop::collection::vec(
        prop::sample::select(&["(", ")", "NOT", "AND", "OR", "f.a", "n.x", "w.role", "=", "IN", "[", "]", ",", "*", "1", "red", "HAS", "COLOURS", "edition"][..]), 0..20)) {
        let (facts, constants) = known();
        for text in [text, soup.join(" ")] {
            if let Err(error) = Condition::parse(&text, &facts, &constants) {
                prop_assert!(error.offset <= text.len() && error.line >= 1 && error.column >= 1);
                prop_assert!(!error.expected.is_empty() && !error.found.is_empty() && !error.help.is_empty());
            }
        }
    }

    #[test]
    fn what_is_printed_parses_to_the_same_condition(text in condition()) {
        let (facts, constants, condition) = parsed(&text)?;
        let printed = condition.print(&facts);
        prop_assert_eq!(Condition::parse(&printed, &facts, &constants), Ok(condition));
    }

    #[test]
    fn a_decided_condition_stays_so_whatever_else_becomes_known(
        text in condition(), some in values(), others in values(), known in any::<[bool; 6]>(), edition in edition()
    ) {
        let (facts, constants, condition) = parsed(&text)?;
        let compiled = condition.compile(&facts, &constants, edition);
        let slots: Vec<_> = some.iter().zip(known).map(|(d, known)| known.then_some(*d)).collect();
        let before = compiled.eval(&slots);
        let filled: Vec<_> = slots.iter().zip(&others).map(|(s, other)| s.or(Some(*other))).collect();
        let after = compiled.eval(&filled).truth;
        prop_assert!(after.is_decided());
        if before.truth.is_decided() {
            prop_assert_eq!(before.truth, after);
        }
    }

    #[test]
    fn the_missing_facts_are_unknown_ones_and_enough_to_decide(
        text in condition(), some in values(), others in values(), known in any::<[bool; 6]>(), edition in edition()
    ) {
        let (facts, constants, condition) = parsed(&text)?;
        let compiled = condition.compile(&facts, &constants, edition);
        let mut slots: Vec<_> = some.iter().zip(known).map(|(d, known)| known.then_some(*d)).collect();
        let found = compiled.eval(&slots);
        prop_assert_eq!(found.missing.is_empty(), found.truth.is_decided());
        prop_assert!(found.missing.is_subset(&found.read) && found.read.is_subset(&condition.facts()));
        for fact in found.missing.iter() {
            prop_assert!(slots[fact.index()].is_none());
            slots[fact.index()] = Some(others[fact.index()]);
        }
        prop_assert!(compiled.eval(&slots).truth != Kleene::Unknown);
    }

    #[test]
    fn the_explanation_comes_to_the_same_truth(
        text in condition(), some in values(), known in any::<[bool; 6]>(), edition in edition()
    ) {
        let (facts, constants, condition) = parsed(&text)?;
        let slots: Vec<_> = some.iter().zip(known).map(|(d, known)| known.then_some(*d)).collect();
        let evaluated = condition.compile(&facts, &constants, edition).eval(&slots);
        let explained = condition.explain(&slots, &facts, &constants, edition);
        prop_assert_eq!(evaluated.truth, explained.truth);
    }

    #[test]
    fn no_file_makes_the_loader_panic(text in ".{0,300}", cut in 0usize..4000, file in prop::sample::select(
        &["facts.toml", "constants.toml", "sources.toml", "triggers.toml", "adoption.toml", "cascades.toml", "requirements/panel/x.toml", "requirements/y.toml", "requirements/"][..])) {
        let half = FACTS.chars().take(cut).collect::<String>() + &text;
        for text in [text, half] {
            let errors = Library::parse([(file, text.as_str())]).err().unwrap_or_default();
            prop_assert!(!errors.is_empty());
        }
    }
}
