//! Do whole situations come to the expected verdicts in every edition?
//! Cases: `data/scenarios.toml`, each finding with its verdict by edition and the facts that stay unknown.

use model::Edition;
use rulebook::{Datum, FactDictionary, Library};
use toml::{Table, Value};

const SCENARIOS: &str = include_str!("data/scenarios.toml");

/// Puts the facts of a table, written `subject.name = value`, into their slots.
fn put(slots: &mut [Option<Datum>], facts: &FactDictionary, table: Option<&Value>) {
    let subjects = table.and_then(Value::as_table).into_iter().flatten();
    for (subject, names) in subjects {
        for (name, value) in names.as_table().into_iter().flatten() {
            let full = format!("{subject}.{name}");
            let text = match value {
                Value::Array(words) => {
                    let words: Vec<&str> = words.iter().filter_map(Value::as_str).collect();
                    words.join(", ")
                }
                Value::String(word) => word.clone(),
                other => other.to_string(),
            };
            let id = facts.find(&full);
            let datum = id.and_then(|id| facts.get(id)?.parse(&text).ok());
            assert!(datum.is_some(), "`{full} = {text}` is no value of a fact");
            if let Some(id) = id {
                slots[id.index()] = datum;
            }
        }
    }
}

/// What differs between a finding as written and as judged in an edition; nothing when they agree.
fn check(library: &Library, scenario: &Table, finding: &Table, edition: Edition) -> Vec<String> {
    let year = edition.to_string();
    let text = |key: &str| finding.get(key).and_then(Value::as_str).unwrap_or_default();
    let book = library.rulebook(edition, &[], None);
    let (rule, facts) = (text("rule"), library.facts());
    let judged = book.ok().and_then(|book| {
        let mut slots = facts.unknown();
        put(&mut slots, facts, scenario.get("facts"));
        put(&mut slots, facts, finding.get("facts"));
        let changed = finding.get("facts_by_edition").and_then(|f| f.get(&year));
        put(&mut slots, facts, changed);
        Some(book.requirement(rule)?.judge(&slots))
    });
    let Some(judged) = judged else {
        return vec![format!("no requirement `{rule}`")];
    };
    let mut missing: Vec<&str> = judged.missing.iter().map(|id| facts.name(id)).collect();
    missing.sort_unstable();
    let expected = finding.get("expected").and_then(|e| e.get(&year));
    let expected = expected.and_then(Value::as_str).unwrap_or("nothing");
    let unknown = finding.get("unknown").and_then(Value::as_array);
    let mut unknown: Vec<&str> = unknown
        .into_iter()
        .flatten()
        .filter_map(Value::as_str)
        .collect();
    unknown.sort_unstable();
    let mut wrong = Vec::new();
    if judged.verdict.code().to_string() != expected {
        let verdict = judged.verdict;
        wrong.push(format!("{rule} in {year}: {verdict}, expected {expected}"));
    }
    let undecided = !missing.is_empty();
    if undecided && missing != unknown {
        wrong.push(format!(
            "{rule} in {year}: missing {missing:?}, expected {unknown:?}"
        ));
    }
    wrong
}

#[test]
fn every_finding_of_every_situation_comes_out_in_every_edition() {
    let library = Library::built_in().unwrap();
    let file: Table = SCENARIOS.parse().unwrap();
    let mut wrong = Vec::new();
    let mut findings = 0;
    for scenario in file["scenario"].as_array().unwrap() {
        let scenario = scenario.as_table().unwrap();
        for finding in scenario["finding"].as_array().unwrap() {
            let finding = finding.as_table().unwrap();
            findings += 1;
            for edition in Edition::ALL {
                let more = check(&library, scenario, finding, edition);
                wrong.extend(more.into_iter().map(|w| format!("{}: {w}", scenario["n"])));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(findings >= 60, "only {findings} findings");
}
