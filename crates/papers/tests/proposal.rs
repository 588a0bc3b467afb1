//! Does the proposal say what the price says, and nothing of what stands behind it?
//! Compared with the engine's price, number by number, in the text that `pdftotext` reads.
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod common;

use std::collections::{BTreeMap, BTreeSet};

use common::{EXAMPLES, amounts_in, job_text, material_from, material_of, printed, words_of};
use engine::price::{Amount, Because, Group};
use model::Dollars;
use papers::{Material, Paper};

fn text(material: &Material<'_>) -> String {
    words_of(&printed(Paper::Proposal, material).pdf)
}

/// Every amount that a customer may see, straight from the price.
fn public(material: &Material<'_>) -> BTreeSet<String> {
    let price = &material.price;
    let (low, high) = price.span();
    let certain = price.certain.price();
    let mut all = vec![low, high, low - certain, high - certain];
    let mut groups: BTreeMap<Group, Dollars> = BTreeMap::new();
    let mut requirements: BTreeMap<&str, Dollars> = BTreeMap::new();
    for line in &price.lines {
        *groups.entry(line.group).or_default() += line.cost.price();
        if let Because::Requirement(r) = line.because {
            *requirements.entry(&r.requirement().id).or_default() += line.cost.price();
        }
    }
    all.extend(groups.into_values());
    all.extend(requirements.into_values());
    all.extend(price.questions.iter().map(|q| q.swing));
    all.extend(price.options.iter().filter_map(|o| Some(o.adds?.price())));
    all.extend(price.allowances.iter().filter_map(|a| a.price));
    for s in &price.payments.schedules {
        all.extend([s.price, s.on_signing, s.on_energizing, s.after_inspection]);
        all.extend(s.cap);
    }
    let mut words: BTreeSet<String> = all.iter().map(ToString::to_string).collect();
    for term in &price.payments.terms {
        words.extend(amounts_in(&format!("{} {}", term.text, term.caveat)));
    }
    words
}

#[test]
fn every_amount_on_it_is_one_that_the_customer_may_see() {
    for example in EXAMPLES {
        let material = material_of(example);
        let (shown, public) = (amounts_in(&text(&material)), public(&material));
        let strange: Vec<_> = shown.difference(&public).collect();
        assert!(strange.is_empty(), "{example}: {strange:?}");
        let certain = &material.price.certain;
        for private in [
            certain.direct(),
            certain.material,
            certain.labour,
            certain.overhead,
            certain.handling,
            certain.contingency,
            certain.profit,
            certain.tax_paid,
            certain.before_profit(),
            material.book.rates.burdened(),
            material.book.rates.overhead(),
        ] {
            assert!(
                !shown.contains(&private.to_string()),
                "{example}: {private}"
            );
        }
    }
}

#[test]
fn no_word_of_it_speaks_of_cost_or_margin() {
    for example in ["ranch-subpanel", "apartment-208"] {
        let material = material_of(example);
        let text = text(&material);
        let lower = text.to_lowercase();
        for word in [
            "markup",
            "margin",
            "contingency",
            "profit",
            "labour",
            "wage",
        ] {
            assert!(!lower.contains(word), "{example}: {word}");
        }
        let hours = material.price.certain.minutes.hours().0;
        let hours = format!("{hours:.2}");
        assert!(!text.split(' ').any(|w| w == hours), "{example}: {hours}");
    }
}

#[test]
fn price_options_allowances_payments_and_questions_are_all_there() {
    for example in EXAMPLES {
        let material = material_of(example);
        let (text, price) = (text(&material), &material.price);
        let shown = amounts_in(&text);
        let has = |amount: Dollars| {
            assert!(shown.contains(&amount.to_string()), "{example}: {amount}");
        };
        let (low, high) = price.span();
        has(low);
        has(high);
        for option in &price.options {
            assert!(text.contains(&option.title), "{example}: {}", option.title);
            if option.asked_by != shop::AskedBy::Code {
                has(option.adds.expect("a price").price());
            }
        }
        for allowance in &price.allowances {
            has(allowance.price.expect("a price"));
        }
        for question in &price.questions {
            has(question.swing);
        }
        for s in &price.payments.schedules {
            assert_eq!(s.on_signing + s.on_energizing + s.after_inspection, s.price);
            for amount in [s.price, s.on_signing, s.on_energizing, s.after_inspection] {
                has(amount);
            }
        }
        for exclusion in price.exclusions {
            assert!(text.contains(exclusion.as_str()), "{example}: {exclusion}");
        }
    }
}

#[test]
fn each_requirement_that_the_work_pays_for_stands_with_why_and_section() {
    let material = material_of("ranch-subpanel");
    // A cell may be broken after a hyphen, which `pdftotext` then leaves out: spaces and hyphens do not matter here.
    let bare = |text: &str| text.replace([' ', '-'], "");
    let text = bare(&text(&material));
    assert!(material.price.exposure.len() > 10);
    for exposure in &material.price.exposure {
        let bound = material
            .report
            .book
            .requirement(exposure.requirement)
            .unwrap();
        for words in [exposure.title, &exposure.section, &bound.requirement().why] {
            assert!(text.contains(&bare(words)), "{words}");
        }
    }
}

#[test]
fn an_incomplete_price_is_no_offer_and_cannot_be_signed() {
    let material = material_of("workshop-three-wire");
    assert!(matches!(material.price.total, Amount::Incomplete { .. }));
    let text = text(&material);
    assert!(text.contains("This is no offer yet"));
    assert!(text.contains("cannot be accepted yet"));
    assert!(!text.contains("Customer: signature"));
    assert!(!text.contains("This offer holds"));
    for gap in &material.price.gaps {
        assert!(text.contains(&gap.what), "{}", gap.what);
    }
    let complete = words_of(&printed(Paper::Proposal, &material_of("swap-clean")).pdf);
    assert!(complete.contains("Customer: signature") && !complete.contains("no offer yet"));
}

#[test]
fn the_offer_holds_as_long_as_the_shop_says() {
    let text = text(&material_of("swap-clean"));
    // `date -d "2026-11-25 + 30 days"` of GNU coreutils.
    assert!(text.contains("holds for 30 days, until 2026-12-25"));
}

#[test]
fn dark_rooms_and_what_stays_on_are_those_of_the_plan() {
    let material = material_of("ranch-subpanel");
    let text = text(&material);
    let cut = material.cut.as_ref().expect("a plan");
    let dark = engine::cutover::customer::rooms(cut);
    assert!(dark.len() > 5);
    for room in dark {
        let total: engine::cutover::Seconds = room.dark.iter().map(|d| d.length()).sum();
        let name = room
            .room
            .map_or("not known which room".to_owned(), |r| r.replace('_', " "));
        assert!(
            text.contains(&name) && text.contains(&total.to_string()),
            "{name}"
        );
    }
    assert!(text.contains("air conditioner; range"));
    for line in engine::cutover::customer::advice(material.report.job, cut) {
        assert!(text.contains(&line.to_string()), "{line}");
    }
}

#[test]
fn a_cap_of_the_state_is_kept_and_said_with_its_source() {
    let job = job_text("ranch-subpanel").replace("state = \"OH\"", "state = \"CA\"");
    let material = material_from(&job, &[]);
    let schedule = material.price.payments.schedules.last().expect("payments");
    let cap = schedule.cap.expect("a cap");
    assert_eq!(schedule.on_signing, cap);
    let text = text(&material);
    for term in &material.price.payments.terms {
        assert!(
            text.contains(&term.text) && text.contains(&term.source),
            "{}",
            term.name
        );
    }
    assert!(text.contains("verify them with the state"));
    assert!(amounts_in(&text).contains(&cap.to_string()));
}

#[test]
fn a_job_without_work_is_no_proposal() {
    let job = job_text("swap-clean");
    let before = &job[..job.find("[after").expect("an after picture")];
    let material = material_from(before, &[]);
    for paper in [Paper::Proposal, Paper::Cost] {
        let refused = papers::print(paper, &material, &common::PRESS);
        assert!(
            matches!(refused, Err(papers::Problem::Nothing { .. })),
            "{paper}"
        );
    }
}

#[test]
fn a_plan_that_must_change_first_is_said_and_cannot_be_signed() {
    let built_in = shop::BUILT_IN
        .iter()
        .find(|(name, _)| *name == "remedies.csv");
    let (_, text_of_book) = built_in.expect("remedies");
    let row = text_of_book
        .lines()
        .find(|l| l.starts_with("smoke-alarms-local,"))
        .expect("a row");
    let book = text_of_book.replace(
        row,
        "smoke-alarms-local,plan,place,,,put alarms on the plan",
    );
    let material = material_from(&job_text("ranch-subpanel"), &[("remedies.csv", &book)]);
    assert_eq!(material.price.plan_first.len(), 1);
    let text = text(&material);
    assert!(text.contains("The plan must change in these points"));
    assert!(text.contains("the plan must change first") && !text.contains("Customer: signature"));
}
