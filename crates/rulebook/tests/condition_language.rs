//! Do conditions read, evaluate and fail as `docs/condition-language.md` says?

use model::Edition;
use rulebook::condition::{MAX_DEPTH, MAX_TEXT};
use rulebook::{Condition, Constants, Datum, FactDictionary, Kleene};

const FACTS: &str = r#"
[a.one]
kind = "yes or no"
ask = "survey"
meaning = "One holds"
question = "Does one hold?"

[a.two]
kind = "yes or no"
ask = "survey"
meaning = "Two holds"
question = "Does two hold?"

[a.three]
kind = "yes or no"
ask = "survey"
meaning = "Three holds"
question = "Does three hold?"

[panel.depth]
kind = "number"
unit = "in"
ask = "survey"
meaning = "Depth"
question = "How deep?"

[panel.width]
kind = "number"
unit = "in"
ask = "survey"
meaning = "Width"
question = "How wide?"

[panel.role]
kind = "one of"
words = ["service", "subpanel", "other"]
ask = "survey"
meaning = "Role"
question = "Which role?"

[circuit.areas]
kind = "any of"
words = ["bedroom", "kitchen", "garage"]
ask = "survey"
meaning = "Areas"
question = "Which areas?"
"#;

const CONSTANTS: &str = r#"
[LIVING]
2014-2017 = ["bedroom"]
2020-2026 = ["bedroom", "kitchen"]

[SIZES]
all = [15, 20]

[LEAST_DEPTH]
2014-2020 = 30
2023-2026 = 36
"#;

fn facts() -> FactDictionary {
    FactDictionary::parse("facts.toml", FACTS).unwrap_or_default()
}

fn constants() -> Constants {
    Constants::parse("constants.toml", CONSTANTS).unwrap_or_default()
}

/// Evaluates in 2023 with facts written `name=value; ...` and compares truth and the names of missing facts.
fn check(text: &str, known: &str, truth: Kleene, missing: &[&str]) {
    check_in(Edition::Y2023, text, known, truth, missing);
}

fn check_in(edition: Edition, text: &str, known: &str, truth: Kleene, missing: &[&str]) {
    let (facts, constants) = (facts(), constants());
    let mut slots = facts.unknown();
    for pair in known.split(';').filter(|p| !p.trim().is_empty()) {
        let (name, value) = pair.split_once('=').unwrap_or((pair, ""));
        let id = facts.find(name.trim());
        let datum = id.and_then(|id| facts.get(id)?.parse(value).ok());
        assert!(datum.is_some(), "`{pair}` is no value of a fact");
        if let Some(id) = id {
            slots[id.index()] = datum;
        }
    }
    let condition = Condition::parse(text, &facts, &constants);
    assert!(condition.is_ok(), "{condition:?}");
    let Ok(condition) = condition else { return };
    let found = condition.compile(&facts, &constants, edition).eval(&slots);
    let names: Vec<&str> = found.missing.iter().map(|id| facts.name(id)).collect();
    assert_eq!((found.truth, names.as_slice()), (truth, missing), "{text}");
}

fn check_error(text: &str, expected: &str) {
    let error = Condition::parse(text, &facts(), &constants()).err();
    let printed = error.map(|e| e.to_string()).unwrap_or_default();
    assert_eq!(printed, expected, "{text}");
}

use Kleene::{False, True, Unknown};

#[test]
fn not_binds_before_and_and_before_or() {
    check(
        "a.one OR a.two AND a.three",
        "a.one=true; a.two=true; a.three=false",
        True,
        &[],
    );
    check(
        "(a.one OR a.two) AND a.three",
        "a.one=true; a.two=true; a.three=false",
        False,
        &[],
    );
    check("NOT a.one AND a.two", "a.one=true; a.two=false", False, &[]);
    check(
        "NOT (a.one AND a.two)",
        "a.one=true; a.two=false",
        True,
        &[],
    );
}

#[test]
fn a_part_that_settles_the_whole_leaves_nothing_missing() {
    check("a.one AND a.two", "a.two=false", False, &[]);
    check("a.one OR a.two", "a.two=true", True, &[]);
    check(
        "(a.one OR panel.depth > 3) AND a.two",
        "a.two=false",
        False,
        &[],
    );
}

#[test]
fn an_undecided_condition_names_only_the_facts_of_its_undecided_parts() {
    check(
        "a.one AND a.two AND a.three",
        "a.one=true",
        Unknown,
        &["a.two", "a.three"],
    );
    check(
        "a.one AND (a.two OR a.three)",
        "a.three=true",
        Unknown,
        &["a.one"],
    );
    check(
        "panel.depth < panel.width",
        "panel.depth=3",
        Unknown,
        &["panel.width"],
    );
    check("NOT a.one", "", Unknown, &["a.one"]);
}

#[test]
fn numbers_compare_at_their_edges() {
    for (text, truth) in [
        ("panel.depth = 36", True),
        ("panel.depth != 36", False),
        ("panel.depth < 36", False),
        ("panel.depth <= 36", True),
        ("panel.depth > 36", False),
        ("panel.depth >= 36", True),
        ("36 <= panel.depth", True),
        ("panel.depth IN [30, 36]", True),
        ("panel.depth IN SIZES", False),
        ("panel.depth = panel.width * 1.5", True),
        ("panel.depth * 2 > panel.width * 3", False),
    ] {
        check(text, "panel.depth=36; panel.width=24", truth, &[]);
    }
}

#[test]
fn words_and_sets_compare_with_their_vocabulary() {
    check("panel.role = service", "panel.role=service", True, &[]);
    check("panel.role != service", "panel.role=subpanel", True, &[]);
    check(
        "panel.role IN [service, other]",
        "panel.role=subpanel",
        False,
        &[],
    );
    check(
        "circuit.areas HAS garage",
        "circuit.areas=garage, kitchen",
        True,
        &[],
    );
    check(
        "circuit.areas HAS_ANY [bedroom, garage]",
        "circuit.areas=kitchen",
        False,
        &[],
    );
    check("circuit.areas HAS_ANY LIVING", "circuit.areas=", False, &[]);
}

#[test]
fn the_edition_is_a_number_and_chooses_the_constants() {
    for (edition, newer, living, deep) in [
        (Edition::Y2017, False, False, True),
        (Edition::Y2020, True, True, True),
        (Edition::Y2026, True, True, False),
    ] {
        check_in(edition, "edition >= 2020", "", newer, &[]);
        let kitchen = "circuit.areas=kitchen; panel.depth=33";
        check_in(
            edition,
            "circuit.areas HAS_ANY LIVING",
            kitchen,
            living,
            &[],
        );
        check_in(edition, "panel.depth >= LEAST_DEPTH", kitchen, deep, &[]);
    }
}

#[test]
fn what_the_edition_settles_asks_for_no_fact() {
    check("edition < 2020 AND a.one", "", False, &[]);
    check("edition >= 2020 OR a.one", "", True, &[]);
    check("TRUE AND a.one", "", Unknown, &["a.one"]);
}

#[test]
fn a_value_that_is_not_finite_or_of_another_kind_reads_as_unknown() {
    let (facts, constants) = (facts(), constants());
    let depth = facts.find("panel.depth").unwrap();
    let text = "panel.depth > 3 OR panel.depth IN SIZES";
    let condition = Condition::parse(text, &facts, &constants).unwrap();
    let compiled = condition.compile(&facts, &constants, Edition::Y2020);
    for odd in [
        Datum::Number(f64::NAN),
        Datum::Number(f64::INFINITY),
        Datum::Bool(true),
    ] {
        let mut slots = facts.unknown();
        slots[depth.index()] = Some(odd);
        assert_eq!(compiled.eval(&slots).truth, Unknown);
    }
    assert_eq!(compiled.eval(&[]).truth, Unknown);
}

#[test]
fn mistakes_are_told_with_line_column_and_the_nearest_name() {
    check_error(
        "a.one\nAND panel.dept > 3",
        "line 2, column 5: expected the name of a fact, found `panel.dept`; did you mean `panel.depth`?",
    );
    check_error(
        "panel.role = servise",
        "line 1, column 14: expected a word of `panel.role`, found `servise`; did you mean `service`?",
    );
    check_error(
        "circuit.areas HAS_ANY LIVNG",
        "line 1, column 23: expected the name of a constant, found `LIVNG`; did you mean `LIVING`?",
    );
    check_error(
        "a.one = TRUE",
        "line 1, column 7: expected no comparison: the fact is true or false, found `=`; write `a.one` or `NOT a.one`",
    );
    check_error(
        "panel.depth > panel.role",
        "line 1, column 15: expected a number, found `panel.role`, which is one of service, subpanel, other; compare numbers with numbers",
    );
    check_error(
        "panel.depth",
        "line 1, column 12: expected one of = != < <= > >= after a number, found the end of the condition; compare the number with another",
    );
    check_error(
        "a.one a.two",
        "line 1, column 7: expected AND, OR or the end of the condition, found `a.two`; join the two parts",
    );
    check_error(
        "(a.one",
        "line 1, column 7: expected `)` to close the one opened before, found the end of the condition; add `)` here or before",
    );
    check_error(
        "a.one & a.two",
        "line 1, column 7: expected a name, a number or one of = != < <= > >= ( ) [ ] , *, found `& a.two`; remove or replace this character",
    );
    check_error(
        "circuit.areas HAS_ANY SIZES",
        "line 1, column 23: expected a list for `circuit.areas`, a list of bedroom, kitchen, garage, found `SIZES`: a list of numbers; use a constant of the fact's kind",
    );
    check_error(
        "",
        "line 1, column 1: expected a fact, found the end of the condition; start a part with a fact, NOT or `(`",
    );
}

#[test]
fn conditions_too_long_or_too_deep_are_refused() {
    let deep = format!("{}a.one", "NOT ".repeat(MAX_DEPTH + 1));
    let open = "(".repeat(MAX_TEXT - 10);
    let long = "a.one AND ".repeat(MAX_TEXT);
    for text in [deep, open, long] {
        let error = Condition::parse(&text, &facts(), &constants()).unwrap_err();
        assert!(error.expected.starts_with("at most") || error.expected.contains("at most"));
    }
    let fits = format!("{}a.one", "NOT ".repeat(MAX_DEPTH));
    assert!(Condition::parse(&fits, &facts(), &constants()).is_ok());
}

#[test]
fn an_explanation_shows_every_part_in_words() {
    let (facts, constants) = (facts(), constants());
    let mut slots = facts.unknown();
    let one = facts.find("a.one").unwrap();
    slots[one.index()] = Some(Datum::Bool(false));
    let text = "a.one AND NOT panel.depth >= LEAST_DEPTH";
    let condition = Condition::parse(text, &facts, &constants).unwrap();
    let why = condition.explain(&slots, &facts, &constants, Edition::Y2023);
    assert_eq!((why.text.as_str(), why.truth), ("all of these:", False));
    assert_eq!(why.condition, text);
    assert_eq!(why.children[0].text, "One holds");
    assert_eq!(why.children[0].facts, [(one, Some(Datum::Bool(false)))]);
    let depth = &why.children[1].children[0];
    assert_eq!(depth.text, "Depth is at least 36 in");
    assert_eq!(depth.truth, Unknown);
    assert_eq!(depth.facts, [(facts.find("panel.depth").unwrap(), None)]);
}
