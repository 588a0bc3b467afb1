//! Does the crew pack say what cut-over, take-off, schedule and torque tables say, in both languages, and nothing in English in the Spanish one?
//! Compared with: the engine's answers number by number, the shop's labour table, a list of English function words.

mod common;

use std::collections::BTreeSet;

use common::{EXAMPLES, cells_of, material_from, material_of, printed, setting, text_of};
use engine::cutover::{Seconds, Step};
use engine::price::What;
use papers::{Language, Material, Paper, Setting, Size};

/// The pack in a language, as one line of words.
fn pack(material: &Material<'_>) -> String {
    cells_of(&printed(Paper::Crew, material).pdf)
}

fn spanish(example: &str) -> Material<'static> {
    material_of(example).printed_as(Setting {
        language: Language::Spanish,
        ..setting()
    })
}

/// White space and places to break do not count: a cell breaks its text anywhere.
fn squeezed(text: &str) -> String {
    text.split_whitespace().collect()
}

/// Every one of these stands in the text.
fn check(example: &str, text: &str, all: impl IntoIterator<Item = String>) {
    let text = squeezed(text);
    for wanted in all {
        assert!(
            text.contains(&squeezed(&wanted)),
            "{example}: no `{wanted}`"
        );
    }
}

#[test]
fn every_gate_task_and_dark_circuit_of_the_plan_is_printed() {
    for example in EXAMPLES {
        let material = material_of(example);
        let text = pack(&material);
        let Ok(cut) = &material.cut else {
            panic!("{example} has a plan")
        };
        check(
            example,
            &text,
            cut.gates.iter().map(|g| g.words.to_string()),
        );
        check(
            example,
            &text,
            cut.tasks.iter().map(|t| t.words.to_string()),
        );
        check(
            example,
            &text,
            cut.locks.iter().map(|l| l.words.to_string()),
        );
        check(example, &text, cut.warnings.iter().map(ToString::to_string));
        check(example, &text, cut.notices.iter().map(ToString::to_string));
        let clock = engine::cutover::Clock(cut.plan.start);
        check(example, &text, cut.gates.iter().map(|g| clock.at(g.at)));
        check(example, &text, [clock.at(cut.end)]);
        for circuit in &cut.circuits {
            check(
                example,
                &text,
                [circuit.id.to_owned(), circuit.longest().to_string()],
            );
        }
    }
}

#[test]
fn every_part_of_the_take_off_is_on_the_pick_list_with_its_count() {
    for example in EXAMPLES {
        let material = material_of(example);
        let text = text_of(&printed(Paper::Crew, &material).pdf);
        let mut names: BTreeSet<&str> = BTreeSet::new();
        for line in &material.price.lines {
            if let What::Part(name) = &line.what {
                names.insert(name);
            }
        }
        for name in names {
            let lines = material.price.lines.iter();
            let mine = lines.filter(|l| matches!(&l.what, What::Part(n) if n == name));
            let count: shop::Count = mine.map(|l| l.count).sum();
            let part = material.book.parts.get(name).unwrap();
            let unit = match part.unit {
                shop::parts::PartUnit::Each => "each",
                shop::parts::PartUnit::Foot => "ft",
            };
            // A long name goes on below; its count stands beside its beginning.
            let begins: String = part.what.chars().take(22).collect();
            let counted = squeezed(&format!("{count} {unit}"));
            let stands = |line: &str| {
                line.trim_start().starts_with(&begins) && squeezed(line).contains(&counted)
            };
            assert!(
                text.lines().any(stands),
                "{example}: {} x {count} {unit}",
                part.what
            );
        }
    }
}

#[test]
fn nothing_is_priced_on_the_pack() {
    for example in EXAMPLES {
        let text = pack(&material_of(example));
        assert!(!text.contains('$'), "{example}");
    }
}

/// Each torque of this job's cut-over stands in a task of its own, so that their times count the terminations. Source: labour.csv.
#[test]
fn the_torque_sheet_has_a_cell_for_each_termination_that_the_plan_gives_time_to() {
    let material = material_of("swap-clean");
    let cut = material.cut.as_ref().unwrap();
    let one = material.book.labour.minutes("torque-termination").unwrap();
    let spent: Seconds = cut
        .tasks
        .iter()
        .filter(|t| t.step == Step::Torque)
        .map(|t| t.end - t.start)
        .sum();
    let by_time = (spent.hours().0 / one.hours().0).round();
    let text = pack(&material);
    let (before, _) = text.split_once(" terminations on this pack").unwrap();
    let counted: f64 = before.rsplit(' ').next().unwrap().parse().unwrap();
    // The plan gives no time of its own to the service's bonding jumper and electrode conductors.
    let electrodes = material.report.job.after.grounding.electrodes.known();
    let service = material.faces.keys().any(|b| {
        material
            .report
            .tree
            .node(b)
            .is_some_and(|n| n.role == engine::tree::Role::Service)
    });
    let more = if service {
        1 + electrodes.map_or(0, Vec::len)
    } else {
        0
    };
    // Service conductors bring no equipment ground; the plan counts four to each end of a feeder.
    let no_ground = cut
        .feeders
        .iter()
        .filter(|f| {
            let feeder = &material.report.job.after.feeders[f.feeder];
            feeder.from == "utility" || feeder.wires.get() == Some(3)
        })
        .count();
    assert_eq!(counted, by_time + more as f64 - no_ground as f64);
}

/// Source of the values: `torque_screws.csv`, as the rulebook's own tests read it.
#[test]
fn default_torques_are_those_of_the_published_table() {
    let text = text_of(&printed(Paper::Crew, &material_of("ranch-subpanel")).pdf);
    for row in ["14AWG203575", "2AWG4050150"] {
        assert!(text.lines().any(|line| squeezed(line) == row), "{row}");
    }
    check("ranch-subpanel", &text, ["Informative Annex I".to_owned()]);
}

/// Words that no Spanish sentence has. Source: the commonest function words of English, those that are Spanish words too left out.
const ENGLISH: [&str; 40] = [
    "the", "and", "with", "from", "which", "that", "this", "what", "when", "where", "not", "known",
    "board", "breaker", "circuit", "circuits", "wire", "ground", "dead", "lock", "open", "close",
    "every", "each", "all", "into", "must", "off", "its", "their", "for", "feeder", "space",
    "spaces", "panel", "torque", "cover", "work", "of", "by",
];

/// Everything that a user or the shop wrote, and names of the job.
fn written(material: &Material<'_>) -> String {
    let mut all = material.job_text.to_owned();
    let identity = &material.book.identity;
    all.push_str(&format!(" {} {} ", identity.name, identity.licence));
    // Names of the code and of its standards stay as they are.
    all.push_str(" NEC National Electrical Code Informative Annex ");
    all.to_lowercase()
}

#[test]
fn no_english_word_stands_on_the_spanish_pack_besides_what_was_written_by_the_user() {
    for example in EXAMPLES {
        let material = spanish(example);
        let text = pack(&material);
        let written = written(&material);
        let split = |t: &str| -> Vec<String> {
            let words = t
                .split(|c: char| !c.is_alphabetic())
                .filter(|w| !w.is_empty());
            words.map(str::to_lowercase).collect()
        };
        let theirs: BTreeSet<String> = split(&written).into_iter().collect();
        for word in split(&text) {
            let english = ENGLISH.contains(&word.as_str());
            assert!(!english || theirs.contains(&word), "{example}: `{word}`");
        }
        // A user's sentence has several of them; the program's own sentences would bring them in numbers.
        let count = split(&text)
            .iter()
            .filter(|w| ENGLISH.contains(&w.as_str()))
            .count();
        let mine = split(&pack(&material_of(example)));
        let english = mine
            .iter()
            .filter(|w| ENGLISH.contains(&w.as_str()))
            .count();
        assert!(count * 5 < english, "{example}: {count} of {english}");
    }
}

/// Every number that stands in a text; plain ones that count pages are left out.
fn numbers(text: &str) -> BTreeSet<String> {
    let inner = |c: char| c.is_ascii_digit() || matches!(c, ':' | '.' | '/');
    let runs = text.split(|c: char| !inner(c));
    let trimmed = runs.map(|run| run.trim_matches([':', '.', '/']));
    let pages = |n: &&str| n.parse::<u32>().is_ok_and(|n| n < 40);
    trimmed
        .filter(|n| !n.is_empty() && !pages(n))
        .map(str::to_owned)
        .collect()
}

#[test]
fn both_languages_say_the_same_numbers() {
    for example in EXAMPLES {
        let (english, spanish) = (pack(&material_of(example)), pack(&spanish(example)));
        assert_eq!(numbers(&english), numbers(&spanish), "{example}");
        let counts = |text: &str, end: &str| -> String {
            let (before, _) = text.split_once(end).unwrap();
            before.rsplit(' ').next().unwrap().to_owned()
        };
        assert_eq!(
            counts(&english, " terminations on this pack"),
            counts(&spanish, " terminales en las hojas de este paquete"),
            "{example}"
        );
    }
}

#[test]
fn a_board_of_sixty_six_spaces_and_a_name_of_500_characters_print_in_both_sizes() {
    let long = "w".repeat(500);
    let text = common::job_text("swap-clean");
    let text = text.replace(
        "spaces = { is = 16, by = \"planned\" }",
        "spaces = { is = 66, by = \"planned\" }",
    );
    let text = text.replace("poles_listed = { is = 16,", "poles_listed = { is = 66,");
    let circuit = |n: usize| {
        let serves = if n == 0 {
            long.clone()
        } else {
            format!("outlets of room {n}")
        };
        format!(
            "[after.circuits.more-{n:02}]\nboard = \"L\"\nserves = \"{serves}\"\namps = 20\nprotection = \"none\"\nwire = \"12 Cu\"\nmethod = \"NM\"\nground = true\nlength = 20\n\n"
        )
    };
    let more: String = (0..54).map(circuit).collect();
    let text = format!("{text}\n\n{more}");
    for size in [Size::Letter, Size::A4] {
        for language in [Language::English, Language::Spanish] {
            let material = material_from(&text, &[]).printed_as(Setting {
                size,
                language,
                ..setting()
            });
            let paper = printed(Paper::Crew, &material);
            assert!(paper.pages < 60, "{} pages", paper.pages);
            let words = cells_of(&paper.pdf);
            check("66", &words, ["more-39".to_owned(), long.clone()]);
        }
    }
}
