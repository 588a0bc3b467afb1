//! Do local amendments bind only where and when they are in force, and is every mistake in them told?

use model::Edition;
use rulebook::{Amendment, Check, Datum, Library, Rulebook, Standing, Verdict};

const SAMPLE: &str = include_str!("../data/amendments/example-city.toml");
const FILE: &str = "example-city.toml";

fn library() -> Library {
    let library = Library::built_in();
    assert!(library.is_ok(), "{library:?}");
    library.unwrap_or_else(|_| unreachable!())
}

fn bound(edition: Edition, permit: Option<&str>) -> (Rulebook, Standing) {
    let library = library();
    let amendment = Amendment::parse(FILE, SAMPLE, &library);
    assert!(amendment.is_ok(), "{amendment:?}");
    let amendments = Vec::from_iter(amendment);
    let permit = permit.and_then(|day| day.parse().ok());
    let book = library.rulebook(edition, &amendments, permit);
    assert!(book.is_ok(), "{book:?}");
    let book = book.unwrap_or_else(|_| unreachable!());
    let standing = book.amendments()[0].standing;
    (book, standing)
}

/// Replaces one passage of the sample and expects the first mistake to print as given.
fn check(old: &str, new: &str, expected: &str) {
    assert!(SAMPLE.contains(old), "`{old}` is not in the sample");
    let text = SAMPLE.replacen(old, new, 1);
    let errors = Amendment::parse(FILE, &text, &library()).err();
    let printed = errors.and_then(|e| e.first().map(ToString::to_string));
    let printed = printed.unwrap_or_default();
    assert_eq!(printed, expected);
}

#[test]
fn an_amendment_in_force_switches_off_replaces_and_adds() {
    let (book, standing) = bound(Edition::Y2023, Some("2026-11-25"));
    assert_eq!(standing, Standing::InForce);
    assert!(book.requirement("emergency-disconnect").is_none());
    assert_eq!(
        book.switched_off()[0].requirement.id,
        "emergency-disconnect"
    );

    let mut slots = book.facts().unknown();
    for name in ["job.dwelling", "panel.new_or_replaced"] {
        slots[book.facts().find(name).unwrap().index()] = Some(Datum::Bool(true));
    }
    let spd = book.requirement("service-spd").unwrap();
    assert_eq!(spd.judge(&slots).verdict, Verdict::CannotTellIfMet);
    let cite = spd.cite().unwrap();
    assert_eq!(cite.to_string(), "NEC 2023 230.67 as amended, 1301.04(B)");
    assert_eq!(cite.check, Check::Memory);
    assert_eq!(
        spd.requirement().amended[0].because,
        "There, a subpanel replacement asks for surge protection as well."
    );

    let added = book.requirement("roof-ladder-mark").unwrap();
    let marked = book.facts().find("local.roof_ladder_marked").unwrap();
    assert_eq!(
        added.judge(&slots).missing.iter().collect::<Vec<_>>(),
        [marked]
    );
    assert_eq!(
        added
            .requirement()
            .failing_cases(book.facts(), book.constants()),
        []
    );
}

#[test]
fn a_replaced_constant_holds_in_every_condition_that_names_it() {
    let (amended, _) = bound(Edition::Y2023, Some("2026-11-25"));
    let plain = library().rulebook(Edition::Y2023, &[], None).unwrap();
    let verdict = |book: &Rulebook| {
        let mut slots = book.facts().unknown();
        let amps = book.facts().find("circuit.amps").unwrap();
        slots[amps.index()] = Some(Datum::Number(10.0));
        book.requirement("afci-extension")
            .unwrap()
            .judge(&slots)
            .verdict
    };
    assert_eq!(verdict(&plain), Verdict::CannotTellIfApplies);
    assert_eq!(verdict(&amended), Verdict::NotRequired);
}

#[test]
fn an_amendment_binds_only_in_its_edition_and_between_its_days() {
    let day = |text: &str| text.parse().unwrap();
    for (edition, permit, expected) in [
        (Edition::Y2020, Some("2026-11-25"), Standing::OtherEdition),
        (
            Edition::Y2023,
            Some("2025-12-31"),
            Standing::NotYet {
                from: day("2026-01-01"),
            },
        ),
        (Edition::Y2023, Some("2026-01-01"), Standing::InForce),
        (Edition::Y2023, Some("2027-12-31"), Standing::InForce),
        (
            Edition::Y2023,
            Some("2028-01-01"),
            Standing::Over {
                to: day("2027-12-31"),
            },
        ),
        (Edition::Y2023, None, Standing::DateUnknown),
    ] {
        let (book, standing) = bound(edition, permit);
        assert_eq!(standing, expected, "{edition} {permit:?}");
        let applied = book.requirement("roof-ladder-mark").is_some();
        assert_eq!(applied, expected == Standing::InForce);
    }
}

#[test]
fn the_library_stays_as_it_was_under_an_amendment() {
    let library = library();
    let amendment = Amendment::parse(FILE, SAMPLE, &library).unwrap();
    let permit = "2026-11-25".parse().ok();
    let before = library.requirements().len();
    library
        .rulebook(Edition::Y2023, &[amendment], permit)
        .unwrap();
    let plain = library.rulebook(Edition::Y2023, &[], permit).unwrap();
    assert_eq!(plain.requirements().len(), before);
    assert!(plain.requirement("emergency-disconnect").is_some());
}

#[test]
fn two_amendments_that_clash_are_refused_with_the_second_one_named() {
    let library = library();
    let amendment = Amendment::parse(FILE, SAMPLE, &library).unwrap();
    let twice = [amendment.clone(), amendment];
    let errors = library
        .rulebook(Edition::Y2023, &twice, "2026-11-25".parse().ok())
        .unwrap_err();
    let printed: Vec<String> = errors.iter().map(ToString::to_string).collect();
    assert!(
        printed
            .iter()
            .any(|e| e.contains("another fact `local.roof_ladder_marked`")),
        "{printed:?}"
    );
    assert!(
        printed
            .iter()
            .any(|e| e.contains("another `roof-ladder-mark`")),
        "{printed:?}"
    );
}

#[test]
fn mistakes_are_told_with_their_place() {
    check(
        "state = \"OH\"",
        "state = \"OX\"",
        "example-city.toml:3:10: expected the two letters of a state, found `OX`; use the two letters of the postal service",
    );
    check(
        "editions = [2023]",
        "editions = [2022]",
        "example-city.toml:4:13: expected an edition: 2014, 2017, 2020, 2023, 2026, found `2022`; editions are named, never guessed",
    );
    check(
        "to = 2027-12-31",
        "to = 2025-12-31",
        "example-city.toml:6:6: expected a day not before 2026-01-01, found 2025-12-31; swap `from` and `to`",
    );
    check(
        "from = 2026-01-01\n",
        " ",
        "example-city.toml:1:1: expected `from` in an amendment, found none; add the first day it is in force",
    );
    check(
        "AFCI_AMPS = [15, 20]",
        "AFCI_AMP = [15, 20]",
        "example-city.toml:11:1: expected the name of a constant, found `AFCI_AMP`; did you mean `AFCI_AMPS`?",
    );
    check(
        "AFCI_AMPS = [15, 20]",
        "AFCI_AMPS = [\"kitchen\"]",
        "example-city.toml:11:13: expected `AFCI_AMPS` to be a list of numbers, found a list; correct the value",
    );
    check(
        "requirement = \"service-spd\"",
        "requirement = \"servce-spd\"",
        "example-city.toml:28:16: expected the id of a requirement in force, found `servce-spd`; did you mean `service-spd`?",
    );
    check(
        "job.service_equipment_new OR",
        "job.service_equipmnt_new OR",
        "example-city.toml:33:40: expected the name of a fact, found `job.service_equipmnt_new`; did you mean `job.service_equipment_new`?",
    );
    check(
        "because = \"The fire",
        "becuase = \"The fire",
        "example-city.toml:23:1: expected `because` in an amendment, found none; add `because` with text in quotes",
    );
    check(
        "id = \"roof-ladder-mark\"",
        "id = \"service-spd\"",
        "example-city.toml:37:6: expected each requirement once, found another `service-spd`; rename it, or use [[replace]]",
    );
    check(
        "check = \"memory\"",
        "check = \"sure\"",
        "example-city.toml:7:10: expected `check` to be one of memory, 1 source, 2+ sources, not found, arithmetic, found `sure`; choose one of these",
    );
    check(
        "subject = \"local\"",
        "subject = \"locl\"",
        "example-city.toml:38:12: expected `subject` to be one of branch-circuit, feeder, panel, service, grounding, location, termination, document, local, found `locl`; did you mean `local`?",
    );
}
