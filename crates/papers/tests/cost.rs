//! Does the cost sheet add up, and say the same as the proposal?
//! Compared with the engine's price in the text that `pdftotext` reads; sums are added again here, in cents.
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod common;

use common::{
    EXAMPLES, amounts_in, job_text, material_from, material_of, printed, text_of, words_of,
    words_off_the_page,
};
use engine::price::Cost;
use model::Dollars;
use papers::{Paper, Setting, Size};

#[test]
fn every_page_says_that_it_is_private() {
    let paper = printed(Paper::Cost, &material_of("ranch-subpanel"));
    let said = words_of(&paper.pdf)
        .matches("PRIVATE: for the shop alone")
        .count();
    assert_eq!(said, paper.pages);
    let proposal = printed(Paper::Proposal, &material_of("ranch-subpanel"));
    assert!(!words_of(&proposal.pdf).contains("PRIVATE"));
}

#[test]
fn every_line_sum_step_and_stake_is_there() {
    for example in EXAMPLES {
        let material = material_of(example);
        let text = words_of(&printed(Paper::Cost, &material).pdf);
        let (shown, price) = (amounts_in(&text), &material.price);
        let has = |amount: Dollars| {
            assert!(shown.contains(&amount.to_string()), "{example}: {amount}");
        };
        for line in &price.lines {
            has(line.cost.price());
            for part in [line.cost.material, line.cost.labour, line.cost.fees] {
                if part != Dollars::ZERO {
                    has(part);
                }
            }
        }
        let certain = &price.certain;
        for step in [
            certain.direct(),
            certain.overhead,
            certain.handling,
            certain.contingency,
            certain.profit,
            certain.tax_paid,
            certain.price(),
        ] {
            has(step);
        }
        let (low, high) = price.span();
        has(low);
        has(high);
        for p in &price.perhaps {
            has(p.low);
            has(p.high);
        }
        for e in &price.exposure {
            has(e.work + e.trip);
        }
        for gap in &price.gaps {
            assert!(
                text.contains(&gap.what) && text.contains(&gap.advice),
                "{example}"
            );
        }
        let hours = format!("{:.2} h", certain.minutes.hours().0);
        assert!(text.contains(&hours), "{example}: {hours}");
        assert!(text.contains("Markup on cost") && text.contains("Margin on price"));
    }
}

/// Dollars of a cell, in cents.
fn cents(cell: &str) -> i64 {
    let digits: String = cell
        .chars()
        .filter(|c| c.is_ascii_digit() || *c == '.')
        .collect();
    let (whole, part) = digits.split_once('.').unwrap_or((&digits, "0"));
    whole.parse::<i64>().unwrap() * 100 + part.parse::<i64>().unwrap()
}

#[test]
fn totals_are_the_sums_of_the_printed_lines() {
    for example in EXAMPLES {
        let material = material_of(example);
        let text = text_of(&printed(Paper::Cost, &material).pdf);
        let start = text.find("Take-off").expect("the take-off");
        let end = text.find("From cost to price, by group").expect("its end");
        // The price is the last cell of a line, and the sum of a group the last cell of its own.
        let (mut lines, mut sums, mut open) = (0, 0, 0);
        for line in text[start..end].lines().filter(|l| !l.contains("edition")) {
            let Some(last) = line
                .split_whitespace()
                .last()
                .filter(|w| w.starts_with('$'))
            else {
                continue;
            };
            if line.trim_start().starts_with("Sum") {
                assert_eq!(open, cents(last), "{example}: {line}");
                sums += cents(last);
                open = 0;
            } else {
                open += cents(last);
                lines += cents(last);
            }
        }
        let certain = material.price.certain.price().cents();
        assert_eq!((lines, sums), (certain, certain), "{example}");
        let added: Cost = material.price.lines.iter().map(|l| l.cost).sum();
        assert_eq!(added, material.price.certain);
    }
}

#[test]
fn proposal_and_cost_sheet_name_the_same_price() {
    for example in ["ranch-subpanel", "workshop-three-wire"] {
        let material = material_of(example);
        let (low, high) = material.price.span();
        for paper in [Paper::Proposal, Paper::Cost] {
            let shown = amounts_in(&words_of(&printed(paper, &material).pdf));
            for end in [low, high] {
                assert!(
                    shown.contains(&end.to_string()),
                    "{example}, {paper}: {end}"
                );
            }
        }
    }
}

#[test]
fn nothing_runs_off_the_page_on_the_largest_and_the_smallest_job() {
    for example in ["big-house-42", "swap-clean"] {
        for size in [Size::Letter, Size::A4] {
            let material = material_of(example);
            let setting = Setting {
                size,
                ..material.setting
            };
            let material = material.printed_as(setting);
            for paper in [Paper::Proposal, Paper::Cost, Paper::HandOver] {
                let printed = printed(paper, &material);
                let off = words_off_the_page(&printed.pdf);
                assert!(off.is_empty(), "{example}, {paper}: {off:?}");
                assert!(printed.pages <= 12, "{example}, {paper}: {}", printed.pages);
                assert!(printed.warnings.is_empty(), "{:?}", printed.warnings);
            }
        }
    }
}

#[test]
fn labels_of_500_characters_wrap_on_all_three_papers() {
    let long = "refrigerator in the kitchen ".repeat(17);
    let job = job_text("ranch-subpanel")
        .replace(
            "serves = \"refrigerator\"",
            &format!("serves = \"{}\"", long.trim()),
        )
        .replace(
            "serves = \"dishwasher\"",
            &format!("serves = \"{}\"", "w".repeat(500)),
        );
    let material = material_from(&job, &[]);
    for paper in [Paper::Proposal, Paper::Cost, Paper::HandOver] {
        let pdf = printed(paper, &material).pdf;
        assert!(words_off_the_page(&pdf).is_empty(), "{paper}");
        assert!(
            words_of(&pdf).contains("refrigerator in the kitchen refrigerator"),
            "{paper}"
        );
    }
}
