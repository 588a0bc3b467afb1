//! Does the permit set say what the worksheets and schedules say, number by number, and does it refuse to print where two numbers contradict?
//! Compared with the engine's own worksheets and schedules, read back from the PDF with poppler-utils.

#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod common;

use common::{
    EXAMPLES, PRESS, job_text, material_from, material_of, outside, printed, stream_of, text_of,
    words_of,
};
use engine::{Value, Worksheet};
use papers::{Language, Material, Paper, Problem, Setting, Size};

/// Thousands set apart, at most three decimals, none of them idle: written anew here, so that the paper's own way is checked.
fn written(value: f64, unit: &str) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    let (whole, rest) = text
        .split_once('.')
        .map_or((text, String::new()), |(w, r)| (w, format!(".{r}")));
    let digits: Vec<char> = whole.trim_start_matches('-').chars().rev().collect();
    let groups: Vec<String> = digits.chunks(3).map(|c| c.iter().rev().collect()).collect();
    let sign = if whole.starts_with('-') { "-" } else { "" };
    let grouped: Vec<String> = groups.into_iter().rev().collect();
    format!("{sign}{}{rest} {unit}", grouped.join(","))
        .trim_end()
        .to_owned()
}

/// Every line of the worksheet follows in order: its words, then its value, then its section.
fn find_all(stream: &str, sheet: &Worksheet, example: &str) {
    let start = stream.find(&format!("[{}]", sheet.id));
    let mut at = start.unwrap_or_else(|| panic!("{example}: {} is not printed", sheet.id));
    for line in &sheet.lines {
        let value = match &line.value {
            Value::Number(q) => written(q.value, q.unit),
            Value::Passes(true) => "yes".to_owned(),
            Value::Passes(false) => "NO".to_owned(),
            Value::CannotTell(_) => "cannot tell".to_owned(),
            Value::Text(text) => text.to_string(),
        };
        let section = line
            .cite
            .as_ref()
            .map_or(String::new(), |c| c.section.to_string());
        let inputs = line.inputs.iter().filter_map(|i| match &i.value {
            Value::Number(q) => Some(format!("{} {}", i.name, written(q.value, q.unit))),
            _ => None,
        });
        let label = line.label.to_string();
        for part in std::iter::once(label).chain(inputs).chain([value, section]) {
            // Where a line breaks inside a word, the reader puts a space.
            let part = part.split_whitespace().collect::<Vec<_>>().join(" ");
            let found = find(&stream[at..], &part);
            let found = found.unwrap_or_else(|| {
                panic!(
                    "{example}: {}: `{part}` after {}",
                    sheet.id,
                    &stream[at..(at + 400).min(stream.len())]
                )
            });
            at += found;
        }
    }
}

/// End of the first place where the text stands, spaces left out of account.
fn find(stream: &str, part: &str) -> Option<usize> {
    let wanted: Vec<char> = part.chars().filter(|c| !c.is_whitespace()).collect();
    if wanted.is_empty() {
        return Some(0);
    }
    let here: Vec<(usize, char)> = stream
        .char_indices()
        .filter(|(_, c)| !c.is_whitespace())
        .collect();
    let at = here
        .windows(wanted.len())
        .position(|w| w.iter().map(|(_, c)| c).eq(&wanted))?;
    let (last, c) = here[at + wanted.len() - 1];
    Some(last + c.len_utf8())
}

#[test]
fn every_line_of_every_worksheet_is_on_paper() {
    for example in EXAMPLES {
        let material = material_of(example);
        let stream = stream_of(&printed(Paper::Permit, &material).pdf);
        let sheets = &material.report.sheets;
        let service = sheets.loads.first().expect("a service");
        for outcome in &service.comparison.outcomes {
            find_all(&stream, &outcome.worksheet, example);
        }
        let others = sheets.feeders.iter().flat_map(|f| f.worksheets());
        let others = others
            .chain(sheets.grounding.iter().map(|g| &g.worksheet))
            .chain(&sheets.fault_worksheets)
            .chain(sheets.buses.iter().map(|b| &b.check.worksheet))
            .chain(sheets.splices.iter().map(|s| &s.worksheet))
            .chain(sheets.bends.iter().map(|b| &b.worksheet));
        for sheet in others {
            find_all(&stream, sheet, example);
        }
    }
}

#[test]
fn schedules_print_every_circuit_with_its_space_and_the_sums_of_the_legs() {
    for example in EXAMPLES {
        let material = material_of(example);
        let pdf = printed(Paper::Permit, &material).pdf;
        let (text, stream) = (text_of(&pdf), stream_of(&pdf));
        for node in &material.report.tree.nodes {
            let Some(schedule) = material.schedule_after(node.id) else {
                continue;
            };
            for row in &schedule.rows {
                if let engine::schedule::What::Circuit(id, circuit) = row.what {
                    assert!(find(&stream, &circuit.serves).is_some(), "{example}: {id}");
                }
            }
            let Some(legs) = &schedule.legs else { continue };
            // The sums as printed are the sums of the rows, added up here.
            let rows: i64 = schedule.rows.iter().map(|r| r.load.0).sum();
            assert_eq!(rows, legs.load[0] + legs.load[1], "{example}: {}", node.id);
            for sum in legs.load.into_iter().chain([schedule.total.0]) {
                let sum = written(sum as f64, "");
                assert!(text.contains(&sum), "{example}: {sum} of {}", node.id);
            }
        }
    }
}

#[test]
fn the_cover_says_job_authority_edition_method_and_every_sheet() {
    for example in EXAMPLES {
        let material = material_of(example);
        let printed = printed(Paper::Permit, &material);
        let words = words_of(&printed.pdf);
        let report = material.report;
        let edition = format!("edition {}", report.book.edition());
        let method = report.sheets.service_load().unwrap().recommended.name();
        let pages = format!("page {} of {}", printed.pages, printed.pages);
        for mark in [
            report.job.title.as_str(),
            &report.job.place.authority,
            &edition,
            method,
            "2026-11-25",
            &pages,
        ] {
            assert!(words.contains(mark), "{example}: {mark}");
        }
        for sheet in [
            "Scope of work",
            "Load calculation",
            "Feeders and service conductors",
            "Panel schedules",
            "One-line diagram",
            "Sketch of the walls",
        ] {
            assert!(
                words.matches(sheet).count() >= 2,
                "{example}: {sheet} in the list and on its sheet"
            );
        }
        for node in &report.tree.nodes {
            assert!(
                find(&words, &format!("{}: {}", node.id, node.board.name)).is_some(),
                "{example}: {}",
                node.id
            );
        }
    }
}

/// The permit set of a changed job must refuse, and name all of this.
fn refused(text: &str, marks: &[&str]) {
    let material = material_from(text, &[]);
    match papers::print(Paper::Permit, &material, &PRESS) {
        Err(Problem::Disagreement {
            paper: "permit",
            what,
        }) => {
            for mark in marks {
                assert!(what.contains(mark), "{mark}: {what}");
            }
        }
        other => panic!(
            "printed, or refused otherwise: {:?}",
            other.map(|p| p.pages)
        ),
    }
}

/// The job file with one change that must bite.
fn changed(example: &str, from: &str, to: &str) -> String {
    let text = job_text(example);
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1)
}

#[test]
fn a_load_without_a_circuit_refuses_with_both_numbers() {
    // 4,500 VA by the nameplate in the job file.
    let text = changed("ranch-subpanel", "loads = [\"water-heater\"], ", "");
    refused(
        &text,
        &["load water-heater, VA: 4,500 in the load calculation, but 0 on the panel schedules"],
    );
}

#[test]
fn a_circuit_taken_away_refuses_with_both_counts() {
    let text = job_text("ranch-subpanel");
    let kept = |line: &&str| !line.starts_with("laundry = {");
    let text: Vec<&str> = text.lines().filter(kept).collect();
    let text = text.join("\n").replace("[after.loads]", "[after.unused]");
    let text = text.replace("[after.unused]", "[after.loads]");
    refused(
        &text,
        &["laundry circuits: 1 in the load calculation, but 0 on the panel schedules"],
    );
}

#[test]
fn changed_volt_amperes_refuse_with_both_numbers() {
    // The plate of the dryer says 5,200 VA.
    let text = changed(
        "ranch-subpanel",
        "loads = [\"dryer\"], ",
        "loads = [\"dryer\"], load_va = 6000, ",
    );
    refused(
        &text,
        &["circuit dryer, VA: 5,200 in the load calculation, but 6,000 on the panel schedules"],
    );
}

#[test]
fn a_load_on_two_circuits_refuses() {
    let text = changed(
        "ranch-subpanel",
        "loads = [\"microwave\"]",
        "loads = [\"microwave\", \"dryer\"]",
    );
    refused(
        &text,
        &["load dryer, VA: 5,200 in the load calculation, but 10,400 on the panel schedules"],
    );
}

#[test]
fn what_cannot_be_told_is_listed_and_does_not_refuse() {
    let text = changed("ranch-subpanel", "small_appliance_circuits = 2\n", "");
    let material = material_from(&text, &[]);
    let words = words_of(&printed(Paper::Permit, &material).pdf);
    assert!(words.contains("small-appliance circuits: their number is not known"));
    assert!(words.contains("Circuits whose load is not known and counts as none: alarms, shop"));
}

/// A house with one board of so many spaces, each but two taken.
fn board_of(spaces: u32) -> String {
    let mut text = format!(
        "format = 1\ntitle = \"Board of {spaces} spaces\"\nreason = \"test\"\n[place]\nstate = \"OH\"\nedition = \"2023\"\n[plan]\nworkers = 1\n\
         [before.dwelling]\nkind = \"one_family\"\narea = 2000\nsystem = \"120/240\"\nsmall_appliance_circuits = 0\nlaundry_circuits = 0\nunits = 1\n\
         [before.boards.P]\nname = \"main panel\"\nbus = 225\nmain = \"main_breaker\"\nmain_amps = 200\nspaces = {spaces}\nleg_rows = \"AB\"\n\
         [before.feeders.service]\nfrom = \"utility\"\nto = \"P\"\nwire = \"4/0 Al\"\n[before.circuits]\n"
    );
    for i in 1..=spaces.saturating_sub(2).max(1) {
        text.push_str(&format!(
            "c{i} = {{ board = \"P\", serves = \"receptacles along the wall of room number {i}, upper floor\", spaces = [\"{i}\"], amps = 20, protection = \"dual\", wire = \"12 Cu\", method = \"NM\", ground = true, outlets = 4 }}\n"
        ));
    }
    text.push_str("[after.boards.P]\nname = \"main panel\"\n");
    text
}

#[test]
fn the_largest_board_fits_on_one_page_and_nothing_leaves_a_page() {
    for (spaces, size) in [(66, Size::Letter), (66, Size::A4), (2, Size::Letter)] {
        let material = material_from(&board_of(spaces), &[]);
        let setting = Setting {
            size,
            ..material.setting
        };
        let material = material.printed_as(setting);
        let pdf = printed(Paper::Permit, &material).pdf;
        assert_eq!(outside(&pdf), Vec::<String>::new(), "{spaces} spaces");
        let text = text_of(&pdf);
        let pages: Vec<&str> = text.split('\u{c}').collect();
        let schedule = pages
            .iter()
            .find(|p| p.contains("After the work: P"))
            .expect("the schedule");
        let last = spaces.saturating_sub(2).max(1);
        for room in 1..=last {
            let words: String = schedule.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(
                words.contains(&format!("number {room}, "))
                    || words.contains(&format!(" {room}, upper"))
                    || words.contains(&format!("{room},")),
                "{room} of {spaces}"
            );
        }
        assert!(
            schedule.contains("Total, VA"),
            "the sums stand under the schedule: {schedule}"
        );
    }
}

#[test]
fn nothing_leaves_a_page_of_any_demo_job_on_either_size() {
    for example in EXAMPLES {
        for size in [Size::Letter, Size::A4] {
            let material = material_of(example);
            let setting = Setting {
                size,
                ..material.setting
            };
            let material = material.printed_as(setting);
            let pdf = printed(Paper::Permit, &material).pdf;
            assert_eq!(outside(&pdf), Vec::<String>::new(), "{example}");
        }
    }
}

#[test]
fn the_set_prints_in_spanish_too() {
    let material = material_of("apartment-208");
    let setting = Setting {
        language: Language::Spanish,
        ..material.setting
    };
    let material: Material<'_> = material.printed_as(setting);
    let words = words_of(&printed(Paper::Permit, &material).pdf);
    assert!(words.contains("Alcance del trabajo") && words.contains("Diagrama unifilar"));
}

#[test]
fn long_names_and_template_code_in_a_job_are_printed_as_they_stand() {
    let hostile = format!("#panic() $x$ ] *b* {}", "w".repeat(460));
    let text = job_text("ranch-subpanel").replace("gas furnace blower", &hostile);
    let text = text
        .replace("subpanel, hall", &hostile)
        .replace("return-air duct", &hostile);
    let material = material_from(&text, &[]);
    let pdf = printed(Paper::Permit, &material).pdf;
    assert!(words_of(&pdf).contains("#panic() $x$ ] *b*"));
    assert_eq!(outside(&pdf), Vec::<String>::new());
}
