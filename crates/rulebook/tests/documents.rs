//! Do the examples in the documents load as they stand?

use rulebook::{Condition, Library};

const LANGUAGE: &str = include_str!("../../../docs/condition-language.md");
const RULES: &str = include_str!("../../../docs/add-a-rule.md");

/// The texts between ```` ```kind ```` and ```` ``` ````.
fn blocks<'a>(document: &'a str, kind: &str) -> Vec<&'a str> {
    document
        .split(&format!("```{kind}\n"))
        .skip(1)
        .filter_map(|rest| rest.split("```").next())
        .collect()
}

#[test]
fn every_condition_of_the_language_document_parses() {
    let library = Library::built_in().unwrap();
    let conditions = blocks(LANGUAGE, "condition");
    assert_eq!(conditions.len(), 4);
    for text in conditions {
        let parsed = Condition::parse(text, library.facts(), library.constants());
        assert_eq!(parsed.err(), None, "{text}");
    }
}

#[test]
fn the_requirement_and_the_fact_of_the_document_load_and_prove_themselves() {
    let toml = blocks(RULES, "toml");
    let [requirement, fact] = toml[..] else {
        panic!("expected two examples, found {}", toml.len());
    };
    let mut files = rulebook::data::FILES.to_vec();
    let facts = files
        .iter()
        .find(|(file, _)| *file == "facts.toml")
        .unwrap()
        .1;
    let facts = format!("{facts}\n{fact}");
    files.retain(|(file, _)| *file != "facts.toml");
    let mut files: Vec<(&str, &str)> = files;
    files.push(("facts.toml", &facts));
    files.push(("requirements/location/room-to-work.toml", requirement));
    let library = Library::parse(files).unwrap();
    let added = library
        .requirements()
        .iter()
        .find(|r| r.id == "room-to-work")
        .unwrap();
    assert_eq!(added.cases.len(), 3);
    assert_eq!(
        added.failing_cases(library.facts(), library.constants()),
        []
    );
    assert!(library.facts().find("panel.door_swings_clear").is_some());
}
