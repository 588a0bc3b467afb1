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

/// Without white space: where a line breaks is no matter.
fn plain(text: &str) -> String {
    text.split_whitespace().collect()
}

/// Every line of the worksheet follows in order: its words, then its value, then its section.
fn has_worksheet(stream: &str, sheet: &Worksheet, example: &str) {
    let start = stream.find(&plain(&format!("[{}]", sheet.id)));
    let mut rest =
        &stream[start.unwrap_or_else(|| panic!("{example}: {} is not printed", sheet.id))..];
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
        for part in std::iter::once(line.label.to_string())
            .chain(inputs)
            .chain([value, section])
        {
            let part = plain(&part);
            let at = rest.find(&part).unwrap_or_else(|| {
                let near: String = rest.chars().take(300).collect();
                panic!("{example}: {}: `{part}` after {near}", sheet.id)
            });
            rest = &rest[at + part.len()..];
        }
    }
}

fn has_worksheets(material: &Material<'_>, stream: &str, example: &str) {
    let sheets = &material.report.sheets;
    let service = sheets.loads.first().expect("a service");
    let loads = service.comparison.outcomes.iter().map(|o| &o.worksheet);
    let others = loads
        .chain(sheets.feeders.iter().flat_map(|f| f.worksheets()))
        .chain(sheets.grounding.iter().map(|g| &g.worksheet))
        .chain(&sheets.fault_worksheets)
        .chain(sheets.buses.iter().map(|b| &b.check.worksheet))
        .chain(sheets.splices.iter().map(|s| &s.worksheet))
        .chain(sheets.bends.iter().map(|b| &b.worksheet));
    for sheet in others {
        has_worksheet(stream, sheet, example);
    }
}

fn has_schedules(material: &Material<'_>, stream: &str, example: &str) {
    for node in &material.report.tree.nodes {
        let Some(schedule) = material.schedule_after(node.id) else {
            continue;
        };
        let title = format!("After the work: {}", node.id);
        let at = stream
            .find(&plain(&title))
            .unwrap_or_else(|| panic!("{example}: {title}"));
        let volts = match material.report.job.after.dwelling.system.get() {
            Some(model::house::System::TwoLegs208Y120) => "208Y/120 V",
            _ => "120/240 V",
        };
        let head: String = stream[at..].chars().take(300).collect();
        assert!(head.contains(&plain(volts)), "{example}: {head}");
        let mut sums = vec![("Total, VA ", schedule.total.0)];
        for row in &schedule.rows {
            if let engine::schedule::What::Circuit(id, circuit) = row.what {
                assert!(
                    stream[at..].contains(&plain(&circuit.serves)),
                    "{example}: {id}"
                );
                if row.load.0 > 0 {
                    let load = plain(&written(row.load.0 as f64, ""));
                    assert!(stream[at..].contains(&load), "{example}: {id}: {load}");
                }
            }
        }
        if let Some(legs) = &schedule.legs {
            // The sums as printed are the sums of the rows, added up here.
            let rows: i64 = schedule.rows.iter().map(|r| r.load.0).sum();
            assert_eq!(rows, legs.load[0] + legs.load[1], "{example}: {}", node.id);
            sums.extend([("Leg A, VA ", legs.load[0]), ("Leg B, VA ", legs.load[1])]);
        }
        for (name, sum) in sums {
            let sum = plain(&format!("{name}{}", written(sum as f64, "")));
            assert!(
                stream[at..].contains(&sum),
                "{example}: {sum} of {}",
                node.id
            );
        }
    }
}

fn has_cover(material: &Material<'_>, stream: &str, pages: usize, example: &str) {
    let report = material.report;
    let edition = format!("edition {}", report.book.edition());
    let method = report.sheets.service_load().unwrap().recommended.name();
    let last = format!("page {pages} of {pages}");
    let place = &report.job.place;
    for mark in [
        report.job.title.as_str(),
        &place.authority,
        &edition,
        method,
        "2026-11-25",
        &last,
    ] {
        assert!(stream.contains(&plain(mark)), "{example}: {mark}");
    }
    for sheet in [
        "Scope of work",
        "Load calculation",
        "Feeders and service conductors",
        "Panel schedules",
        "One-line diagram",
        "Sketch of the walls",
    ] {
        let count = stream.matches(&plain(sheet)).count();
        assert!(
            count >= 2,
            "{example}: {sheet} in the list and on its sheet"
        );
    }
    for node in &report.tree.nodes {
        let name = plain(&format!("{}: {}", node.id, node.board.name));
        assert!(
            stream.contains(&name),
            "{example}: {name} on the one-line diagram"
        );
    }
}

#[test]
fn every_sheet_says_what_the_engine_worked_out_and_stays_on_its_page() {
    for example in EXAMPLES {
        let material = material_of(example);
        let printed = printed(Paper::Permit, &material);
        let stream = plain(&stream_of(&printed.pdf));
        has_worksheets(&material, &stream, example);
        has_schedules(&material, &stream, example);
        has_cover(&material, &stream, printed.pages, example);
        assert!(!stream.contains('{'), "{example}: a slot without its value");
        assert_eq!(outside(&printed.pdf), Vec::<String>::new(), "{example}");
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

#[test]
fn a_board_that_cannot_be_laid_out_says_so_on_the_cover() {
    // Thirty poles have no room in ten spaces without tandems.
    let text = changed(
        "ranch-subpanel",
        "spaces = { is = 30, by = \"planned\" }",
        "spaces = { is = 10, by = \"planned\" }",
    );
    let material = material_from(&text, &[]);
    let words = words_of(&printed(Paper::Permit, &material).pdf);
    assert!(
        words.contains("Board Q: its breakers could not be laid out anew ("),
        "{words}"
    );
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
fn the_set_prints_in_spanish_and_on_the_other_size_too() {
    let material = material_of("apartment-208");
    let setting = Setting {
        language: Language::Spanish,
        size: Size::A4,
        ..material.setting
    };
    let material: Material<'_> = material.printed_as(setting);
    let pdf = printed(Paper::Permit, &material).pdf;
    let words = words_of(&pdf);
    assert!(words.contains("Alcance del trabajo") && words.contains("Diagrama unifilar"));
    assert_eq!(outside(&pdf), Vec::<String>::new());
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
