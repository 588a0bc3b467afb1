//! Tables, requirements, states and the schema, asked for as a user does.

#![allow(clippy::expect_used, reason = "a test may stop")]

mod run;

use run::lugwright;

fn check(words: &[&str], code: i32, says: &[&str]) {
    let ran = lugwright(words);
    let all = format!("{}{}", ran.out, ran.err);
    assert_eq!(ran.code, code, "{words:?}\n{all}");
    for part in says {
        assert!(all.contains(part), "{words:?}: no `{part}` in\n{all}");
    }
}

fn json(words: &[&str]) -> serde_json::Value {
    let ran = lugwright(&[words, &["--format", "json"]].concat());
    assert_eq!(ran.code, 0, "{words:?}\n{}", ran.err);
    serde_json::from_str(&ran.out).expect("one JSON value")
}

#[test]
fn a_table_shows_the_rows_of_one_edition_with_source_and_check_status() {
    check(
        &["table", "ampacity", "--edition", "2023"],
        0,
        &["c75_A", "2+ sources", "edition 2023"],
    );
    let rows = |edition: &str| {
        let table = json(&["table", "small_conductors", "--edition", edition]);
        table["rows"].as_array().expect("rows").len()
    };
    assert!(rows("2026") > 0);
    let all = json(&["table", "small_conductors"]);
    assert!(all["rows"].as_array().expect("rows").len() >= rows("2014"));
}

#[test]
fn a_value_that_was_not_found_is_shown_as_such() {
    check(
        &["table", "ampacity", "--edition", "2026"],
        0,
        &["not found"],
    );
}

#[test]
fn a_wrong_table_name_gets_the_nearest_one() {
    check(&["table", "ampcity"], 2, &["did you mean `ampacity`?"]);
}

#[test]
fn an_edition_that_does_not_exist_is_an_error() {
    check(
        &["table", "ampacity", "--edition", "2019"],
        2,
        &["2014, 2017, 2020, 2023, 2026"],
    );
}

#[test]
fn the_schema_is_json_and_names_the_fields_of_a_job() {
    let schema = json(&["schema"]);
    for field in ["format", "title", "place", "before", "after"] {
        assert!(schema["properties"][field].is_object(), "{field}");
    }
}

#[test]
fn the_schema_of_answers_names_every_command_that_can_be_asked_by_json() {
    let schema = json(&["schema", "answers"]);
    let answers = schema["$defs"]["Answer"]["anyOf"]
        .as_array()
        .expect("answers");
    for command in [
        "Check", "Face", "Move", "Cutover", "Price", "Read", "Edit", "Error",
    ] {
        let reference = format!("#/$defs/{command}Answer");
        assert!(answers.iter().any(|a| a["$ref"] == reference), "{command}");
    }
    check(&["schema", "answer"], 2, &["job, answers"]);
}

#[test]
fn every_table_fits_in_100_columns() {
    let tables = json(&["table"]);
    for name in tables["tables"].as_array().expect("a list") {
        let name = name.as_str().expect("a name");
        let page = lugwright(&["table", name]).out;
        for line in page.lines() {
            assert!(line.chars().count() <= 100, "{name}: {line}");
        }
    }
}

#[test]
fn help_texts_carry_an_example_each() {
    let help = lugwright(&["--help"]);
    let commands: Vec<&str> = help
        .out
        .lines()
        .skip_while(|l| !l.starts_with("Commands:"))
        .skip(1)
        .take_while(|l| l.starts_with("  "))
        .filter_map(|l| l.split_whitespace().next())
        .filter(|c| *c != "help")
        .collect();
    assert!(commands.len() >= 5, "{}", help.out);
    for command in commands {
        check(&[command, "--help"], 0, &["Example"]);
    }
}

#[test]
fn a_requirement_shows_its_section_by_edition_and_how_far_it_was_checked() {
    check(
        &["rule", "afci-extension"],
        0,
        &[
            "2023  210.12(E)",
            "Applies when",
            "circuit.ext_outside_in <= 72",
            "2+ sources",
        ],
    );
    let rule = json(&["rule", "afci-extension"]);
    assert_eq!(
        rule["requirements"][0]["sections"][3]["section"],
        "210.12(E)"
    );
}

#[test]
fn a_word_searches_the_requirements_and_an_unknown_one_is_an_error() {
    check(&["rule", "surge"], 0, &["service-spd", "feeder-spd"]);
    check(
        &["rule", "afci-extention"],
        2,
        &["did you mean `afci-extension`?"],
    );
}

#[test]
fn requirements_that_an_edition_does_not_have_are_left_out_of_its_list() {
    let count = |edition: &str| {
        let list = json(&["rule", "--edition", edition]);
        list["requirements"].as_array().expect("a list").len()
    };
    assert!(count("2014") < count("2023"));
}

#[test]
fn a_state_comes_with_its_warning_and_an_unknown_one_is_an_error() {
    check(
        &["adoption", "OH"],
        0,
        &["Ohio", "2023", "Always ask the permit office"],
    );
    check(&["adoption", "Ohoi"], 2, &["did you mean OH (Ohio)?"]);
}
