//! Every published example on conductors, grounding, fill, fault current and busbars, in every edition it holds for.
//! The cases are data: `data/conductor/published.toml` and `known_wrong_in_print.toml`, each with its source.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at the first surprise"
)]

mod published;

use published::{Example, ask, read};

const PUBLISHED: &str = include_str!("data/conductor/published.toml");
const WRONG: &str = include_str!("data/conductor/known_wrong_in_print.toml");

/// Asks the engine the example's question in every edition it holds for, and compares every expected value.
fn check(example: &Example) {
    for edition in &example.editions {
        let answer = ask(example, *edition);
        for (name, expected) in &example.expect {
            let found = answer
                .get(name)
                .unwrap_or_else(|| panic!("{}, {edition}: no answer called {name}", example.id));
            assert!(
                example.agrees(name, expected, found),
                "{} ({}), edition {edition}, printed by {}: {name} should be {expected}, is {found}",
                example.id,
                example.title,
                example.source
            );
        }
    }
}

#[test]
fn published_examples_come_out_as_printed() {
    let examples = read(PUBLISHED);
    assert!(
        examples.len() >= 39,
        "only {} examples were read",
        examples.len()
    );
    examples.iter().for_each(check);
}

#[test]
fn examples_that_are_wrong_in_print_come_out_right() {
    let examples = read(WRONG);
    examples.iter().for_each(check);
}

#[test]
fn what_is_printed_wrong_is_not_what_the_engine_says() {
    let mut seen = 0;
    for example in read(WRONG) {
        for edition in &example.editions {
            let answer = ask(&example, *edition);
            for (name, printed) in &example.printed {
                seen += 1;
                assert!(
                    !example.agrees(name, printed, &answer[name]),
                    "{}: {name} is as printed, {printed}",
                    example.id
                );
            }
        }
    }
    assert!(seen > 0);
}
