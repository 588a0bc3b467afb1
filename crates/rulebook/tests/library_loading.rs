//! Does a library load whole files and tell every mistake with its place?

use model::Edition;
use rulebook::{Datum, Kleene, Library, LoadError, Verdict};

const FACTS: &str = r#"
[job.dwelling]
kind = "yes or no"
ask = "survey"
meaning = "The work serves a dwelling"
question = "Does the work serve a dwelling?"

[panel.depth]
kind = "number"
unit = "in"
ask = "survey"
meaning = "Clear depth in front of the panel"
question = "How deep is the clear space in front of the panel?"

[panel.role]
kind = "one of"
words = ["service", "subpanel"]
ask = "survey"
meaning = "What the panel is"
question = "Is it the service panel or a subpanel?"

[circuit.areas]
kind = "any of"
words = ["bedroom", "kitchen", "garage"]
ask = "survey"
meaning = "Rooms that the circuit supplies"
question = "Which rooms does the circuit supply?"
"#;

const CONSTANTS: &str = r#"
[LIVING]
2014-2020 = ["bedroom"]
2023-2026 = ["bedroom", "kitchen"]

[DEPTH_IN]
all = 36
"#;

const SOURCES: &str = "[page]\ntitle = \"A page\"\n";
const TRIGGERS: &str = "panel_changeout = \"A panelboard is replaced.\"\n";
const ADOPTION: &str = r#"
warning = "Ask the permit office."
method = "Invented."
newest_edition = "Nobody."
amendments_warning = "Look them up."

[state.OH]
name = "Ohio"
edition = 2023
scope = "statewide"
confidence = "low"
sources = ["page"]
"#;
const CASCADES: &str = "[[cascade]]\nwhen = \"a panel moves\"\nlook_at = [\"depth\"]\n";

const DEPTH: &str = r#"title = "Depth in front of the panel"
why = "Room to step back."
kind = "new work"
triggers = ["panel_changeout"]
bites = "signing"
danger = 2
check = "memory"
sources = ["page"]
applies = """
job.dwelling
AND circuit.areas HAS_ANY LIVING
"""
satisfied = """panel.depth >= DEPTH_IN"""
changes = "None."
satisfied_by = ["36 in of clear floor"]
exceptions = []

[section]
2014 = "none"
2017-2026 = "110.26(A)(1)"
confirmed = [2023]

[remedy]
text = "Move the panel."
low = 0
high = 900.50
per = "panel"
check = "memory"

[[case]]
edition = 2023
facts = { job.dwelling = true, circuit.areas = ["kitchen"], panel.depth = 30 }
verdict = "required"

[[case]]
edition = 2023
facts = { job.dwelling = false }
verdict = "not required"

[[case]]
edition = 2017
facts = { job.dwelling = true }
verdict = "cannot tell if it applies"
missing = ["circuit.areas"]
"#;

fn files<'a>(changed: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let mut files: Vec<(&str, &str)> = rulebook::data::FILES
        .iter()
        .copied()
        .filter(|(file, _)| file.ends_with(".csv"))
        .collect();
    files.extend([
        ("facts.toml", FACTS),
        ("constants.toml", CONSTANTS),
        ("sources.toml", SOURCES),
        ("triggers.toml", TRIGGERS),
        ("adoption.toml", ADOPTION),
        ("cascades.toml", CASCADES),
        ("requirements/panel/depth.toml", DEPTH),
    ]);
    for (file, text) in changed {
        files.retain(|(name, _)| name != file);
        files.push((file, text));
    }
    files
}

fn load(changed: &[(&str, &str)]) -> Result<Library, Vec<LoadError>> {
    Library::parse(files(changed))
}

/// Loads with one passage replaced and expects exactly one mistake, printed as given.
fn check(file: &str, text: &str, old: &str, new: &str, expected: &str) {
    assert!(text.contains(old), "`{old}` is not in the sample");
    let changed = text.replacen(old, new, 1);
    let errors = load(&[(file, &changed)]).err().unwrap_or_default();
    let printed: Vec<String> = errors.iter().map(ToString::to_string).collect();
    assert_eq!(printed, [expected]);
}

fn check_rule(old: &str, new: &str, expected: &str) {
    check("requirements/panel/depth.toml", DEPTH, old, new, expected);
}

#[test]
fn a_library_binds_to_an_edition_and_judges() {
    let library = load(&[]).unwrap();
    let facts = library.facts();
    let book = library.rulebook(Edition::Y2023, &[], None).unwrap();
    let rule = book.requirement("depth").unwrap();
    let mut slots = facts.unknown();
    let depth = facts.find("panel.depth").unwrap();
    let areas = facts.find("circuit.areas").unwrap();
    slots[facts.find("job.dwelling").unwrap().index()] = Some(Datum::Bool(true));
    slots[areas.index()] = Some(facts.get(areas).unwrap().set(["kitchen"]).unwrap());
    let judged = rule.judge(&slots);
    assert_eq!(judged.verdict, Verdict::CannotTellIfMet);
    assert_eq!(judged.missing.iter().collect::<Vec<_>>(), [depth]);
    slots[depth.index()] = Some(Datum::Number(36.0));
    assert_eq!(rule.judge(&slots).verdict, Verdict::Met);
    assert_eq!(rule.thresholds(depth), [36.0]);
    let why = rule.explain(&slots);
    assert_eq!(why.applies.truth, Kleene::True);
    assert_eq!(
        why.satisfied.unwrap().text,
        "Clear depth in front of the panel is at least 36 in"
    );
    assert_eq!(rule.cite().unwrap().to_string(), "NEC 2023 110.26(A)(1)");
    assert_eq!(rule.requirement().section(Edition::Y2014), None);
    assert_eq!(rule.facts().len(), 3);
}

#[test]
fn a_requirement_absent_from_the_edition_is_not_required() {
    let library = load(&[]).unwrap();
    let book = library.rulebook(Edition::Y2014, &[], None).unwrap();
    let judged = book.requirements()[0].judge(&library.facts().unknown());
    assert_eq!(judged.verdict, Verdict::NotRequired);
}

#[test]
fn cases_of_the_sample_come_out_as_it_says() {
    let library = load(&[]).unwrap();
    let rule = &library.requirements()[0];
    assert_eq!(rule.failing_cases(library.facts(), library.constants()), []);
}

#[test]
fn an_unknown_fact_is_named_with_line_column_and_the_nearest() {
    check_rule(
        "AND circuit.areas",
        "AND circuit.arees",
        "requirements/panel/depth.toml:11:5: expected the name of a fact, found `circuit.arees`; did you mean `circuit.areas`?",
    );
}
