//! Does the hand-over book hold what the job holds, and claim nothing else?
//! Compared with the job, its schedule and its findings in the text that `pdftotext` reads; the enclosed file is taken out by `pdfdetach`.
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod common;

use common::{
    EXAMPLES, enclosed_in, job_text, material_from, material_of, printed, text_of, words_of,
};
use engine::schedule::What;
use papers::{Material, Paper};

fn text(material: &Material<'_>) -> String {
    words_of(&printed(Paper::HandOver, material).pdf)
}

/// The text row by row, cells apart by one space.
fn rows(material: &Material<'_>) -> String {
    let text = text_of(&printed(Paper::HandOver, material).pdf);
    let squeezed = |line: &str| line.split_whitespace().collect::<Vec<_>>().join(" ");
    text.lines().map(squeezed).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_job_file_comes_out_again_as_it_went_in() {
    for example in EXAMPLES {
        let pdf = printed(Paper::HandOver, &material_of(example)).pdf;
        assert_eq!(
            enclosed_in(&pdf),
            job_text(example).into_bytes(),
            "{example}"
        );
        let raw = String::from_utf8_lossy(&pdf);
        assert!(raw.contains("/AFRelationship/Source") || raw.contains("/AFRelationship /Source"));
    }
}

#[test]
fn every_circuit_of_every_schedule_is_there() {
    for example in EXAMPLES {
        let material = material_of(example);
        let text = text(&material);
        let mut rows = 0;
        for board in material.boards_after() {
            let schedule = material.schedule_after(board).expect("a schedule");
            for row in &schedule.rows {
                if let What::Circuit(_, circuit) = row.what
                    && circuit.purpose != model::house::Purpose::Spare
                {
                    assert!(
                        text.contains(&circuit.serves),
                        "{example}: {}",
                        circuit.serves
                    );
                    rows += 1;
                }
            }
        }
        assert!(rows > 3, "{example}");
    }
}

#[test]
fn what_the_job_does_not_show_as_done_is_said_and_makes_the_letter_a_draft() {
    let material = material_of("ranch-subpanel");
    let text = text(&material);
    let missing: Vec<_> = material.report.findings.missing().collect();
    assert!(missing.len() > 2);
    for finding in missing {
        assert!(text.contains(&finding.requirement.requirement().title));
    }
    assert!(text.contains("DRAFT, not to be sent"));
    // No reading and no test is claimed: every field of the records is empty.
    for claim in ["passed", "tested dead and", "tightened to its marked value"] {
        assert!(!text.to_lowercase().contains(claim), "{claim}");
    }
    assert!(text.contains("Empty fields claim nothing"));
}

#[test]
fn the_letter_and_the_rebate_facts_are_those_of_the_job() {
    let material = material_of("ranch-subpanel");
    let text = rows(&material);
    // Read off examples/ranch-subpanel.toml by hand: 24 spaces, all taken, 125 A bus on a 100 A device; afterwards 30 spaces.
    assert!(text.contains("Rating of the bus 125 A 125 A"));
    assert!(text.contains("Device that protects it 100 A 100 A"));
    let free = |schedule: Option<engine::schedule::Schedule<'_>>| {
        let schedule = schedule.expect("a schedule");
        schedule
            .rows
            .iter()
            .filter(|r| r.what == What::Free)
            .count()
    };
    let open = (
        free(material.schedule_before("Q")),
        free(material.schedule_after("Q")),
    );
    assert_eq!(open.0, 0);
    assert!(text.contains(&format!("Open spaces {} {}", open.0, open.1)));
    // 100 A at 240 V less the calculated load.
    let load = material
        .report
        .sheets
        .load("Q")
        .and_then(|l| l.outcome())
        .expect("a load");
    let demand = load.demand.exact().expect("known").0;
    assert!(text.contains(&format!("{demand:.0} VA")));
    assert!(text.contains(&format!("{:.0} VA", 100.0 * 240.0 - demand)));
}

#[test]
fn what_is_not_known_is_said_and_not_left_blank() {
    let job = job_text("swap-clean");
    let at = job.find("[after").expect("an after picture");
    let known = "bus = ";
    let line = job[..at].find(known).expect("a bus");
    let end = line + job[line..].find('\n').expect("its end");
    let unknown = format!("{}bus = \"unknown\"{}", &job[..line], &job[end..]);
    let count = |job: &str| {
        text(&material_from(job, &[]))
            .matches("not known: find out")
            .count()
    };
    assert!(count(&unknown) > count(&job));
}

#[test]
fn hazards_left_and_boards_untouched_are_named() {
    let material = material_of("ranch-subpanel");
    let text = text(&material);
    assert!(text.contains("living room: no equipment ground, insulation that cracks when moved"));
    assert!(text.contains("its circuits were not touched: air conditioner; range"));
}

#[test]
fn a_warranty_of_the_shop_is_printed_and_a_line_where_there_is_none() {
    let shop = "field,value\nname,Wrenmoor Panel & Service (invented)\nwarranty,One year on our work (invented)\n";
    let with = material_from(&job_text("swap-clean"), &[("shop.csv", shop)]);
    for paper in [Paper::Proposal, Paper::HandOver] {
        assert!(words_of(&printed(paper, &with).pdf).contains("One year on our work (invented)"));
    }
    assert!(
        text(&material_of("swap-clean")).contains("Warranty of the contractor: what it covers")
    );
}

#[test]
fn a_board_without_circuits_has_its_record_too() {
    let text = text(&material_of("three-level-service"));
    for board in [
        "service disconnect, outside beside the meter",
        "panel, basement utility room",
    ] {
        assert!(text.contains(&format!("Record: {board}")), "{board}");
    }
}
