//! Does the one-line diagram name everything that carries current, and is each drawing well-formed? Read with an independent XML reader (roxmltree).
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use std::path::Path;

use engine::check::Report;
use model::JobFile;
use rulebook::Library;

const EXAMPLES: [&str; 6] = [
    "apartment-208",
    "big-house-42",
    "ranch-subpanel",
    "swap-clean",
    "three-level-service",
    "workshop-three-wire",
];

fn text_of(example: &str) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    std::fs::read_to_string(root.join(format!("{example}.toml"))).unwrap()
}

fn with_report(text: &str, look: impl FnOnce(&Report<'_>)) {
    let file = JobFile::read(text).unwrap_or_else(|e| panic!("{e}"));
    let place = &file.job.place;
    let library = Library::built_in().expect("the library");
    let rules = library.rulebook(place.edition, &[], place.permit_date);
    let rules = rules.expect("a rulebook");
    look(&engine::check(&file.job, &rules));
}

/// Every text of a drawing, joined; it must be well-formed and hold nothing out of its view.
fn words(svg: &str) -> String {
    let document = roxmltree::Document::parse(svg).expect("well-formed");
    let root = document.root_element();
    let view: Vec<f64> = root
        .attribute("viewBox")
        .unwrap()
        .split(' ')
        .map(|n| n.parse().unwrap())
        .collect();
    let number = |n: roxmltree::Node<'_, '_>, name: &str| -> f64 {
        n.attribute(name)
            .and_then(|v| v.parse().ok())
            .unwrap_or(0.0)
    };
    let mut all = String::new();
    for node in root.descendants().filter(|n| n.has_tag_name("text")) {
        let (x, y) = (number(node, "x"), number(node, "y"));
        assert!(x >= view[0] && x <= view[0] + view[2], "{x} of {view:?}");
        assert!(y >= view[1] && y <= view[1] + view[3], "{y} of {view:?}");
        all.push_str(node.text().unwrap_or(""));
        all.push(' ');
    }
    all
}

#[test]
fn the_diagram_names_every_board_feeder_source_and_electrode() {
    for example in EXAMPLES {
        with_report(&text_of(example), |report| {
            let words = words(&pictures::one_line::draw(report));
            let house = &report.job.after;
            for (id, board) in &house.boards {
                assert!(
                    words.contains(&format!("{id}: {}", board.name)),
                    "{example}: {id}: {words}"
                );
            }
            for (id, feeder) in &house.feeders {
                assert!(words.contains(&format!("{id}:")), "{example}: {id}");
                let legs = feeder
                    .wire
                    .known()
                    .map_or("legs not known".to_owned(), |w| format!("legs {w}"));
                assert!(words.contains(&legs), "{example}: {legs} of {id}");
            }
            for id in house.sources.keys() {
                assert!(words.contains(&format!("Source {id}:")), "{example}: {id}");
            }
            let electrodes = house.grounding.electrodes.known().map_or(0, Vec::len);
            assert_eq!(
                words.matches("electrode conductor").count(),
                electrodes,
                "{example}"
            );
        });
    }
}

#[test]
fn what_nobody_knows_is_not_drawn_as_known() {
    let text = text_of("ranch-subpanel").replace(
        "neutral_bonded = { is = false, by = \"planned\" }",
        "neutral_bonded = \"unknown\"",
    );
    with_report(&text, |report| {
        let words = words(&pictures::one_line::draw(report));
        assert!(
            words.contains("neutral bonded or not: not known"),
            "{words}"
        );
        assert!(words.contains("Transformer: not known"), "{words}");
    });
}

#[test]
fn new_and_replaced_parts_say_so() {
    with_report(&text_of("three-level-service"), |report| {
        let words = words(&pictures::one_line::draw(report));
        for mark in [
            "NEW; service disconnect",
            "REPLACED; fed by a feeder",
            "KEPT; fed by a feeder",
            "(NEW)",
            "(REPLACED)",
        ] {
            assert!(words.contains(mark), "{mark}: {words}");
        }
    });
}

#[test]
fn names_of_500_characters_and_markup_neither_break_nor_leave_the_drawing() {
    let long = "W&<".repeat(166);
    let text = text_of("ranch-subpanel")
        .replace("name = \"subpanel, hall\"", &format!("name = \"{long}\""))
        .replace("return-air duct", &long);
    with_report(&text, |report| {
        let words = words(&pictures::one_line::draw(report));
        assert!(
            words.contains("Q: W&<W&<") || words.contains("W&<W&<"),
            "{words}"
        );
        words_of_walls(report);
    });
}

fn words_of_walls(report: &Report<'_>) -> String {
    let mut all = pictures::wall_sketch::plan(report).map_or(String::new(), |svg| words(&svg));
    for wall in pictures::wall_sketch::elevations(report) {
        all.push_str(&words(&wall.svg));
        all.push_str(&wall.words);
    }
    all
}

#[test]
fn walls_show_the_board_as_it_was_and_as_it_will_be_with_its_distances() {
    with_report(&text_of("ranch-subpanel"), |report| {
        let words = words_of_walls(report);
        // By the job file: the old panel 10 in along and 38 in up the closet wall, the new one 154 in along and 34 in up the hall.
        for mark in [
            "Q old",
            "10 in",
            "3 ft 2 in",
            "12 ft 10 in",
            "2 ft 10 in",
            "linen cabinet",
        ] {
            assert!(words.contains(mark), "{mark}: {words}");
        }
    });
}

#[test]
fn a_job_without_walls_has_no_sketch() {
    with_report(&text_of("three-level-service"), |report| {
        assert_eq!(pictures::wall_sketch::plan(report), None);
        assert!(pictures::wall_sketch::elevations(report).is_empty());
    });
}

#[test]
fn a_chain_of_many_boards_stays_on_the_drawing() {
    let mut text = text_of("swap-clean");
    let mut from = "L".to_owned();
    for i in 0..9 {
        text.push_str(&format!(
            "\n[after.boards.X{i}]\nname = \"further board {i}\"\nmain = \"main_lugs\"\n[after.feeders.X{i}-feeder]\nfrom = \"{from}\"\nto = \"X{i}\"\n"
        ));
        from = format!("X{i}");
    }
    with_report(&text, |report| {
        let words = words(&pictures::one_line::draw(report));
        assert!(words.contains("X8"), "{words}");
    });
}
