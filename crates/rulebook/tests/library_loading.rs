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

/// Loads with one passage replaced and expects exactly one mistake in that file, printed as given.
fn check(file: &str, text: &str, old: &str, new: &str, expected: &str) {
    assert!(text.contains(old), "`{old}` is not in the sample");
    let changed = text.replacen(old, new, 1);
    let errors = load(&[(file, &changed)]).err().unwrap_or_default();
    let there = errors.iter().filter(|e| e.file == file);
    let printed: Vec<String> = there.map(ToString::to_string).collect();
    let printed = printed.join("\n");
    assert_eq!(printed, expected);
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
fn names_that_nothing_declares_are_told_with_the_nearest() {
    check_rule(
        "AND circuit.areas",
        "AND circuit.arees",
        "requirements/panel/depth.toml:11:5: expected the name of a fact, found `circuit.arees`; did you mean `circuit.areas`?",
    );
    check_rule(
        "LIVING",
        "LIVIN",
        "requirements/panel/depth.toml:11:27: expected the name of a constant, found `LIVIN`; did you mean `LIVING`?",
    );
    check_rule(
        "sources = [\"page\"]",
        "sources = [\"pag\"]",
        "requirements/panel/depth.toml:8:13: expected a name declared in sources.toml, found `pag`; did you mean `page`?",
    );
    check_rule(
        "[\"panel_changeout\"]",
        "[\"panel_changeot\"]",
        "requirements/panel/depth.toml:4:14: expected a name declared in triggers.toml, found `panel_changeot`; did you mean `panel_changeout`?",
    );
    check_rule(
        "kind = \"new work\"",
        "kind = \"new worck\"",
        "requirements/panel/depth.toml:3:9: expected `kind` to be one of new work, replacement clause, extension clause, carryover, not triggered, existing hazard, local, note, found `new worck`; did you mean `new work`?",
    );
    check_rule(
        "bites = \"signing\"",
        "bites = \"sining\"",
        "requirements/panel/depth.toml:5:10: expected `bites` to be one of signing, cut-over, inspection, found `sining`; did you mean `signing`?",
    );
    check_rule(
        "missing = [\"circuit.areas\"]",
        "missing = [\"circuit.area\"]",
        "requirements/panel/depth.toml:44:11: expected the name of a fact, found `circuit.area`; did you mean `circuit.areas`?",
    );
    check_rule(
        "exceptions = []",
        "exeptions = []",
        "requirements/panel/depth.toml:16:1: expected a key of a requirement, found `exeptions`; did you mean `exceptions`?",
    );
    check(
        "cascades.toml",
        CASCADES,
        "\"depth\"",
        "\"dept\"",
        "cascades.toml:3:13: expected the id of a requirement, found `dept`; did you mean `depth`?",
    );
    check(
        "adoption.toml",
        ADOPTION,
        "[\"page\"]",
        "[\"pge\"]",
        "adoption.toml:12:13: expected a name declared in sources.toml, found `pge`; did you mean `page`?",
    );
}

#[test]
fn clashes_of_kinds_are_told() {
    check_rule(
        "panel.depth >= DEPTH_IN",
        "panel.depth >= job.dwelling",
        "requirements/panel/depth.toml:13:31: expected a number, found `job.dwelling`, which is true or false; compare numbers with numbers",
    );
    check_rule(
        "panel.depth >= DEPTH_IN",
        "panel.depth",
        "requirements/panel/depth.toml:13:27: expected one of = != < <= > >= after a number, found the end of the condition; compare the number with another",
    );
    check_rule(
        "panel.depth >= DEPTH_IN",
        "panel.depth IN LIVING",
        "requirements/panel/depth.toml:13:31: expected a list for `panel.depth`, a number (in), found `LIVING`: a list of words; use a constant of the fact's kind",
    );
    check_rule(
        "panel.depth = 30",
        "panel.depth = \"30\"",
        "requirements/panel/depth.toml:32:75: expected `panel.depth` to be a number (in), found the text `30`; correct the value",
    );
    check_rule(
        "[\"kitchen\"]",
        "[\"kitchn\"]",
        "requirements/panel/depth.toml:32:48: expected `circuit.areas` to be a list of bedroom, kitchen, garage, found `kitchn`; correct the value",
    );
    check_rule(
        "danger = 2",
        "danger = 4",
        "requirements/panel/depth.toml:6:10: expected 0, 1, 2 or 3, found 4; 0 is none, 3 is grave danger of shock or fire",
    );
    check_rule(
        "low = 0",
        "low = -1",
        "requirements/panel/depth.toml:25:7: expected an amount of dollars, none below 0, found -1; write US dollars, for example 45 or 12.50",
    );
    check_rule(
        "low = 0",
        "low = 1000",
        "requirements/panel/depth.toml:25:7: expected a cost range from low to high, found $1,000 to $900.50; swap the two",
    );
    check_rule(
        "check = \"memory\"",
        "check = \"certain\"",
        "requirements/panel/depth.toml:7:10: expected `check` to be one of memory, 1 source, 2+ sources, not found, arithmetic, found `certain`; choose one of these",
    );
}

#[test]
fn editions_must_each_be_spoken_of_once() {
    check_rule(
        "2014 = \"none\"\n",
        " ",
        "requirements/panel/depth.toml:18:1: expected every edition: 2014, 2017, 2020, 2023, 2026, found nothing for 2014; add a line, for example `2026 = \"none\"`",
    );
    check_rule(
        "2017-2026 = \"110",
        "2014-2026 = \"110",
        "requirements/panel/depth.toml:20:1: expected each edition once, found 2014 a second time in `2014-2026`; let the ranges not overlap",
    );
    check_rule(
        "2017-2026 = \"110",
        "2026-2017 = \"110",
        "requirements/panel/depth.toml:20:1: expected editions such as `2014-2020` or `2023`, of 2014, 2017, 2020, 2023, 2026, found `2026-2017` runs backwards; name known editions, oldest first",
    );
    check_rule(
        "2014 = \"none\"",
        "2011 = \"none\"",
        "requirements/panel/depth.toml:19:1: expected editions such as `2014-2020` or `2023`, of 2014, 2017, 2020, 2023, 2026, found `2011` is not a known edition: expected one of 2014, 2017, 2020, 2023, 2026; name known editions, oldest first",
    );
    check_rule(
        "edition = 2017",
        "edition = 2018",
        "requirements/panel/depth.toml:41:11: expected an edition: 2014, 2017, 2020, 2023, 2026, found `2018`; editions are named, never guessed",
    );
    check_rule(
        "confirmed = [2023]",
        "confirmed = [2024]",
        "requirements/panel/depth.toml:21:14: expected an edition: 2014, 2017, 2020, 2023, 2026, found `2024`; editions are named, never guessed",
    );
    check(
        "constants.toml",
        CONSTANTS,
        "2014-2020",
        "2014-2017",
        "constants.toml:2:1: expected every edition: 2014, 2017, 2020, 2023, 2026, found nothing for 2020; add a line, for example `2026 = \"none\"`",
    );
    check(
        "constants.toml",
        CONSTANTS,
        "[\"bedroom\"]",
        "[15]",
        "constants.toml:2:1: expected a list of numbers in every edition, found a list of words; give every edition the same sort of value",
    );
}

#[test]
fn absent_keys_and_facts_told_twice_are_told() {
    check_rule(
        "why = \"Room to step back.\"\n",
        " ",
        "requirements/panel/depth.toml:1:1: expected `why` in a requirement, found none; add `why` with text in quotes",
    );
    check_rule(
        "title = \"Depth in front of the panel\"",
        "title = \" \"",
        "requirements/panel/depth.toml:1:9: expected some text, found nothing; write it or remove the key",
    );
    check(
        "facts.toml",
        FACTS,
        "words = [\"service\", \"subpanel\"]\n",
        "",
        "facts.toml:15:1: expected `words` with 1 to 64 entries, found 0 words; correct `words` or `kind`",
    );
    check(
        "facts.toml",
        FACTS,
        "\"bedroom\", \"kitchen\"",
        "\"kitchen\", \"kitchen\"",
        "facts.toml:24:9: expected different words of letters, digits and underscores, none a joining word, found `kitchen`; rename or remove the word",
    );
    check(
        "facts.toml",
        FACTS,
        "ask = \"survey\"",
        "ask = \"nobody\"",
        "facts.toml:4:8: expected `ask` to be one of survey, office, authority, utility, derived, found `nobody`; choose one of these",
    );
    check(
        "adoption.toml",
        ADOPTION,
        "[state.OH]",
        "[state.Ohio]",
        "adoption.toml:7:1: expected two capital letters, found `Ohio`; use the postal letters",
    );
    check(
        "adoption.toml",
        ADOPTION,
        "edition = 2023\n",
        " ",
        "adoption.toml:7:1: expected `edition` in adoption.toml, found none; add `edition` with an edition",
    );
    check_rule(
        "danger = 2",
        "danger = ",
        "requirements/panel/depth.toml:6:10: expected a well-formed TOML file, found something else; string values must be quoted, expected literal string",
    );
}

#[test]
fn the_same_requirement_in_two_folders_is_told() {
    let errors = load(&[("requirements/feeder/depth.toml", DEPTH)]).unwrap_err();
    assert_eq!(errors.len(), 1);
    let printed = errors[0].to_string();
    assert_eq!(
        printed,
        "requirements/feeder/depth.toml:1:1: expected each requirement once, found another `depth`; rename or remove one of the two files"
    );
}

#[test]
fn a_folder_that_is_no_subject_is_told() {
    let errors = load(&[("requirements/pannel/width.toml", DEPTH)]).unwrap_err();
    assert_eq!(errors.len(), 1);
    assert_eq!(errors[0].help, "did you mean `panel`?");
}

#[test]
fn every_mistake_is_told_not_only_the_first() {
    let rule = DEPTH
        .replace("why =", "wy =")
        .replace("HAS_ANY LIVING", "HAS attic")
        .replace("danger = 2", "danger = 9");
    let constants = CONSTANTS.replace("all = 36", "all = \"deep\"");
    let errors = load(&[
        ("requirements/panel/depth.toml", &rule),
        ("constants.toml", &constants),
    ])
    .unwrap_err();
    let places: Vec<String> = errors
        .iter()
        .map(|e| format!("{}:{}", e.file, e.line))
        .collect();
    let expected = [
        "constants.toml:7",
        "requirements/panel/depth.toml:1",
        "requirements/panel/depth.toml:2",
        "requirements/panel/depth.toml:6",
        "requirements/panel/depth.toml:11",
        "requirements/panel/depth.toml:13",
    ];
    let mut sorted = places.clone();
    sorted.sort();
    sorted.dedup();
    for place in expected {
        assert!(
            sorted.iter().any(|p| p == place),
            "{place} not in {places:?}"
        );
    }
}

#[test]
fn a_missing_file_is_told() {
    let mut files = files(&[]);
    files.retain(|(file, _)| *file != "facts.toml");
    let errors = Library::parse(files).unwrap_err();
    assert_eq!(
        errors[0].to_string(),
        "facts.toml:1:1: expected the file to be there, found no such file; add it to the data folder"
    );
}
