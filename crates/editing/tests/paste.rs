//! Are the circuits of a spreadsheet read as their author meant them, and is nothing half-pasted?
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use editing::paste::{Pasted, Picture, paste};
use model::{Fact, JobFile, Said};
use proptest::prelude::*;
use serde_json::{Value, json};

const JOB: &str = r#"format = 1
title = "list"
[place]
state = "OH"
edition = "2023"
[before.boards.P]
spaces = 12
[before.circuits]
porch = { board = "P", spaces = ["9"] }
"#;

fn library() -> &'static rulebook::Library {
    static LIBRARY: std::sync::OnceLock<rulebook::Library> = std::sync::OnceLock::new();
    LIBRARY.get_or_init(|| rulebook::Library::without_cases().unwrap())
}

fn pasted(rows: &str, picture: Picture) -> Pasted {
    let library = library();
    let book = library.rulebook(model::Edition::Y2023, &[], None).unwrap();
    paste(JOB, "P", picture, rows, book.facts()).unwrap_or_else(|m| panic!("{m}"))
}

fn check(rows: &str, expected: Value) {
    let pasted = pasted(rows, Picture::Before);
    let found: Vec<Value> = pasted
        .rows
        .iter()
        .map(|r| json!([r.id, r.fields]))
        .collect();
    assert_eq!(Value::from(found), expected, "{rows}");
    assert!(
        pasted.rows.iter().all(|r| r.mistakes.is_empty()),
        "{:?}",
        pasted.rows
    );
    let job = JobFile::read(&pasted.job.unwrap()).unwrap().job;
    assert_eq!(job.before.circuits.len(), pasted.rows.len() + 1);
}

#[test]
fn the_columns_may_have_many_names_and_any_order() {
    check(
        "Ckt\tDescription\tBreaker\tWire\tType\tRoom\tNotes\n1\tKitchen counter\t20A\t12 cu\tGFCI\tKitchen\tlong\n2/4\tRange\t50/2\t6 Cu\t-\t\t\n",
        json!([
            ["Kitchen-counter", { "spaces": ["1"], "serves": "Kitchen counter", "amps": 20, "wire": "12 Cu", "protection": "gfci", "rooms": ["kitchen"] }],
            ["Range", { "spaces": ["2", "4"], "serves": "Range", "amps": 50, "poles": 2, "wire": "6 Cu", "protection": "none" }],
        ]),
    );
    check(
        "AMPS;Poles;Serves;Space\n30;2-pole;dryer;5\n?;1;dryer;8A\n",
        json!([
            ["dryer", { "amps": 30, "poles": 2, "serves": "dryer", "spaces": ["5", "7"] }],
            ["dryer-2", { "amps": "unknown", "poles": 1, "serves": "dryer", "spaces": ["8A"] }],
        ]),
    );
    check(
        "serves,rooms,method,ground,outlets\n\"bedrooms, north\",\"Bedroom 2, Bedroom 3 and hallway\",nm,yes,9\n",
        json!([["bedrooms-north", {
            "serves": "bedrooms, north", "rooms": ["bedroom", "hallway"], "method": "NM", "ground": true, "outlets": 9
        }]]),
    );
}

#[test]
fn what_is_pasted_into_the_house_as_it_will_be_is_planned() {
    let pasted = pasted("serves,amps,poles\ncharger,50,2\n", Picture::After);
    let job = JobFile::read(&pasted.job.unwrap()).unwrap().job;
    let planned = Fact::Known {
        is: model::units::Amperes(50.0),
        by: Said::Planned,
    };
    assert_eq!(job.after.circuits["charger"].amps, planned);
    assert!(!job.before.circuits.contains_key("charger"));
}

fn wrong(rows: &str, row: usize, column: &str, says: &str) {
    let pasted = pasted(rows, Picture::Before);
    assert_eq!(pasted.job, None, "{rows}");
    let found = pasted
        .rows
        .iter()
        .flat_map(|r| r.mistakes.iter().map(move |m| (r.row, m)));
    let found: Vec<_> = found.collect();
    let hit = found.iter().any(|(at, m)| {
        *at == row && m.column == column && format!("{} {}", m.found, m.expected).contains(says)
    });
    assert!(hit, "{found:?}");
}

#[test]
fn a_cell_that_cannot_be_read_is_told_by_row_and_column_and_nothing_is_pasted() {
    let head = "space,serves,amps,wire,rooms,type\n1,a,20,12 Cu,kitchen,none\n";
    wrong(&format!("{head}2,b,2o,,,\n"), 3, "amps", "`2o`");
    wrong(
        &format!("{head}\n2,b,20,12,,\n"),
        4,
        "wire",
        "a size and a metal",
    );
    wrong(
        &format!("{head}2,b,20,,kitchn,\n"),
        3,
        "rooms",
        "did you mean `kitchen`",
    );
    wrong(&format!("{head}2,b,20,,,magic\n"), 3, "type", "gfci");
    wrong(&format!("{head}999,b,20,,,\n"), 3, "space", "`999`");
    wrong(
        &format!("{head}9,b,20,,,\n"),
        3,
        "spaces",
        "taken by `porch`",
    );
    wrong(&format!("{head}1,b,20,,,\n"), 3, "spaces", "taken by `a`");
    wrong(&format!("{head}2,b,20,,,,,\n"), 3, "", "6 cells");
}

#[test]
fn what_is_no_list_of_circuits_is_refused() {
    let library = library();
    let book = library.rulebook(model::Edition::Y2023, &[], None).unwrap();
    let says = |board: &str, rows: &str| {
        paste(JOB, board, Picture::Before, rows, book.facts())
            .unwrap_err()
            .to_string()
    };
    assert!(says("Q", "serves\nx").contains("no board `Q`"));
    assert!(says("P", "").contains("no rows"));
    assert!(says("P", "foo,bar\n1,2").contains("no column of the header"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn whatever_is_pasted_is_read_or_told(rows in "(space|serves|amps|rooms)?[,;\t](serves|wire|poles|x)\n([0-9A-Za-z\"/ ]{0,8}[,;\t][0-9A-Za-z\"? ]{0,8}\n){0,5}") {
        let library = library();
        let book = library.rulebook(model::Edition::Y2023, &[], None).unwrap();
        if let Ok(pasted) = paste(JOB, "P", Picture::Before, &rows, book.facts())
            && let Some(job) = pasted.job
        {
            let read = JobFile::read(&job).unwrap().job;
            prop_assert_eq!(read.before.circuits.len(), pasted.rows.len() + 1);
        }
    }
}
