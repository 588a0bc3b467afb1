//! Three-valued logic is sound on whole jobs: more knowledge never overturns a verdict.

#![allow(clippy::unwrap_used, clippy::panic)]

mod jobs_in_text;

use engine::facts::Bound;
use engine::findings::{Findings, judge};
use jobs_in_text::{book, house, read};
use model::Edition;
use proptest::prelude::*;
use rulebook::requirement::Verdict;
use rulebook::{Datum, FactEntry, FactKind, Rulebook};

const PLANS: [&str; 3] = [
    "",
    "[after.boards.Q]\nreplaced = true\nold_cabinet = \"splice_box\"\nposition = { wall = \"north\", x = 118, y = 60 }",
    "[after.boards.S]\nreplaced = true\nbus = 225\n[after.circuits.new]\nboard = \"S\"\npoles = 2\namps = 50\npurpose = \"vehicle_charging\"",
];

/// Some value of a fact, chosen by `seed`.
fn any_value(entry: &FactEntry, seed: u64) -> Datum {
    let words = entry.words.len().max(1) as u64;
    match entry.kind {
        FactKind::Bool => Datum::Bool(seed.is_multiple_of(2)),
        FactKind::Number => Datum::Number([0.0, 3.0, 6.0, 72.0, 100.0, 240.0][seed as usize % 6]),
        FactKind::Word => Datum::Word((seed % words) as u16),
        FactKind::Set => Datum::Set(seed & ((1 << words) - 1)),
    }
}

/// A cheap sequence of numbers from a seed.
fn next(seed: &mut u64) -> u64 {
    *seed = seed
        .wrapping_mul(6_364_136_223_846_793_005)
        .wrapping_add(1_442_695_040_888_963_407);
    *seed >> 33
}

/// Judges every instance again with some share of its unknown facts filled in, and hands both verdicts to `look`.
fn check(
    plan: &str,
    edition: Edition,
    seed: u64,
    share: u64,
    look: impl Fn(&str, Verdict, Verdict),
) {
    let file = read(&house("2023", "", plan));
    let book: Rulebook = book(edition);
    let report = engine::check(&file.job, &book);
    let (bound, findings): (&Bound<'_>, Findings<'_>) =
        (&report.facts, judge(&report.facts, &book));
    assert!(findings.counts.not_required > 0);
    let mut seed = seed;
    for row in 0..bound.len() {
        let mut slots = bound.slots(row).to_vec();
        for (id, entry) in book.facts().iter() {
            let known = slots[id.index()].is_some();
            if !known && next(&mut seed) % 100 < share {
                slots[id.index()] = Some(any_value(entry, next(&mut seed)));
            }
        }
        for requirement in book.requirements() {
            let before = requirement.judge(bound.slots(row)).verdict;
            let after = requirement.judge(&slots).verdict;
            look(&requirement.requirement().id, before, after);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn a_decided_verdict_is_the_same_whatever_the_unknown_facts_are(
        plan in 0..3_usize, edition in 0..5_usize, seed in any::<u64>()
    ) {
        check(PLANS[plan], Edition::ALL[edition], seed, 100, |id, before, after| {
            let decided = matches!(before, Verdict::Required | Verdict::Met | Verdict::NotRequired);
            assert!(!decided || before == after, "{id}: {before} became {after}");
        });
    }

    #[test]
    fn a_known_fact_never_turns_a_decided_verdict_into_cannot_tell(
        plan in 0..3_usize, edition in 0..5_usize, seed in any::<u64>(), share in 1..60_u64
    ) {
        check(PLANS[plan], Edition::ALL[edition], seed, share, |id, before, after| {
            let open = |v| matches!(v, Verdict::CannotTellIfMet | Verdict::CannotTellIfApplies);
            assert!(open(before) || !open(after), "{id}: {before} became {after}");
            let applies = before == Verdict::CannotTellIfMet;
            assert!(!applies || after != Verdict::NotRequired, "{id}: {before} became {after}");
        });
    }
}
