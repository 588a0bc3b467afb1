use super::*;
use crate::fact::{Fact, Said};
use crate::units::Amperes;

const SMALL: &str = r#"
format = 1
title = "small"
[place]
state = "OH"
edition = "2023"

[before.boards.P]
bus = 125
main = "main_lugs"
[before.boards.Q]
bus = { is = 100, by = "label" }
[before.feeders.F]
from = "P"
to = "Q"
[before.circuits]
c1 = { board = "Q", amps = 15, wire = "14 Cu", rooms = ["bedroom"] }
c2 = { board = "Q", amps = 20 }

[after.boards.Q]
bus = { is = 125, by = "planned" }
[after.circuits]
c2 = { gone = true }
c3 = { board = "Q", amps = 20 }
"#;

fn mistake(text: &str) -> String {
    JobFile::read(text).unwrap_err().to_string()
}

fn check(find: &str, put: &str, says: &[&str]) {
    assert!(SMALL.contains(find), "{find}");
    let message = mistake(&SMALL.replacen(find, put, 1));
    for part in says {
        assert!(message.contains(part), "expected `{part}` in:\n{message}");
    }
}

#[test]
fn after_is_before_with_its_changes_laid_over() {
    let job = JobFile::read(SMALL).unwrap().job;
    let bus = |house: &House| house.boards["Q"].bus.clone();
    assert_eq!(
        bus(&job.before),
        Fact::Known {
            is: Amperes(100.0),
            by: Said::Label
        }
    );
    assert_eq!(
        bus(&job.after),
        Fact::Known {
            is: Amperes(125.0),
            by: Said::Planned
        }
    );
    let names = |house: &House| {
        house
            .circuits
            .keys()
            .map(|c| c.as_str().to_owned())
            .collect::<Vec<_>>()
    };
    assert_eq!(names(&job.before), ["c1", "c2"]);
    assert_eq!(names(&job.after), ["c1", "c3"]);
    assert_eq!(job.after.circuits["c1"], job.before.circuits["c1"]);
}

#[test]
fn a_wrong_name_gets_line_column_and_the_nearest_valid_one() {
    check(
        "c2 = { board = \"Q\", amps = 20 }",
        "c2 = { board = \"Q\", ampz = 20 }",
        &["line 18, column 21", "`ampz`", "did you mean `amps`"],
    );
    check(
        "main = \"main_lugs\"",
        "main = \"main_lug\"",
        &["line 10", "did you mean `main_lugs`"],
    );
    check(
        "to = \"Q\"",
        "to = \"R\"",
        &["line 15", "`R`", "not in this picture"],
    );
}

#[test]
fn a_wrong_type_or_range_is_told_with_what_was_expected() {
    check(
        "bus = 125\n",
        "bus = \"wide\"\n",
        &["line 9, column 7", "a number (in A)"],
    );
    check("bus = 125\n", "bus = -5\n", &["line 9", "1 to 6000 A"]);
    check(
        "wire = \"14 Cu\"",
        "wire = \"5 Cu\"",
        &["line 17", "is not a conductor size"],
    );
    check("bus = 125\n", "bus = nan\n", &["finite"]);
}

#[test]
fn an_edition_is_never_assumed() {
    check(
        "edition = \"2023\"",
        "edition = \"2019\"",
        &[
            "line 6",
            "unknown word `2019`",
            "2014, 2017, 2020, 2023, 2026",
        ],
    );
    check("edition = \"2023\"", "", &["there is no `edition`"]);
}

#[test]
fn syntax_errors_are_placed() {
    check("[before.boards.P]", "[before.boards.P", &["line 8"]);
}

#[test]
fn a_shared_neutral_must_be_said_by_both() {
    check(
        "c2 = { board = \"Q\", amps = 20 }",
        "c2 = { board = \"Q\", shared_with = \"c1\" }",
        &["shares its neutral with `c1`"],
    );
}

#[test]
fn the_schema_knows_every_field_of_a_circuit() {
    let schema = schema();
    let text = format!("{:?}", schema.as_value());
    for word in [
        "added_outside",
        "shared_with",
        "short_circuit_rating",
        "main_lugs",
    ] {
        assert!(text.contains(word), "{word}");
    }
}

#[test]
fn a_board_that_moves_forgets_what_was_seen_at_its_old_place() {
    let text = SMALL.replace("[after.boards.Q]", "[before.boards.Q.working_space]\ndepth = 40\nwidth = 30\n[before.boards.Q.facts]\nws_lit = true\n[after.boards.Q]\nroute_from_old = 80\nworking_space = { depth = 36 }");
    let job = JobFile::read(&text).unwrap().job;
    let after = &job.after.boards["Q"];
    assert_eq!(after.working_space.depth.get().map(|d| d.0), Some(36.0));
    assert!(after.working_space.width.is_unknown());
    assert!(after.facts.is_empty());
    assert!(!job.before.boards["Q"].facts.is_empty());
}

#[test]
fn a_board_that_is_replaced_in_its_place_forgets_the_old_hardware_and_keeps_its_place() {
    let seen = "[before.boards.Q.working_space]\ndepth = 40\n[before.boards.Q.facts]\nws_lit = true\nneutrals_doubled = true\ndirectory_complete = false\n";
    let planned =
        "[after.boards.Q]\nreplaced = true\nterminals = 75\nfacts = { directory_complete = true }";
    let text = SMALL.replace("[after.boards.Q]", &format!("{seen}{planned}"));
    let job = JobFile::read(&text).unwrap().job;
    let (before, after) = (&job.before.boards["Q"], &job.after.boards["Q"]);
    assert_eq!(after.working_space, before.working_space);
    assert_eq!(after.facts.get("ws_lit"), before.facts.get("ws_lit"));
    assert!(!after.facts.contains_key("neutrals_doubled"));
    assert_ne!(
        after.facts.get("directory_complete"),
        before.facts.get("directory_complete")
    );
    assert_eq!(after.terminals.get().map(|t| t.0), Some(75.0));
    assert!(after.short_circuit_rating.is_unknown() && after.neutral_bonded.is_unknown());
    assert_eq!(after.spaces, before.spaces);
}

proptest::proptest! {
    #[test]
    fn no_text_panics(text in "\\PC{0,200}") {
        let _ = JobFile::read(&text);
    }

    #[test]
    fn no_cut_or_changed_byte_panics(cut in 0..SMALL.len(), byte in proptest::num::u8::ANY) {
        let mut bytes = SMALL.as_bytes().to_vec();
        bytes[cut] = byte;
        if let Ok(text) = String::from_utf8(bytes) {
            let _ = JobFile::read(&text);
        }
        let _ = JobFile::read(&SMALL[..cut]);
    }
}

fn check_plan(plan: &str, says: &[&str]) {
    let message = mistake(&format!("{SMALL}\n[plan]\n{plan}\n"));
    for part in says {
        assert!(message.contains(part), "expected `{part}` in:\n{message}");
    }
}

#[test]
fn a_plan_out_of_range_is_named_with_its_line() {
    let line = format!("line {},", SMALL.lines().count() + 3);
    for (plan, found) in [
        ("workers = 0", "`workers` is 0"),
        ("workers = 4", "`workers` is 4"),
        ("shift = 0", "`shift` is 0 h"),
        ("shift = -2", "`shift` is -2 h"),
        ("restore_round = -1", "`restore_round` is -1 h"),
        ("start = \"25:00\"", "not a time of day"),
        ("weights = { critical = 5000 }", "`critical` weighs 5000"),
        ("temporary_power = [\"c9\"]", "`c9` is not a circuit"),
        (
            "follows = { c1 = \"c2\", c2 = \"c1\" }",
            "`c1` follows itself",
        ),
        (
            "utility_window = { from = \"08:00\", to = \"12:00\" }",
            "no `start`",
        ),
    ] {
        check_plan(plan, &[&line, found]);
    }
    check_plan(
        "start = \"07:00\"\nutility_window = { from = \"12:00\", to = \"08:00\" }",
        &["ends at 08:00, begins at 12:00"],
    );
}

#[test]
fn a_job_without_a_plan_has_the_usual_one() {
    assert_eq!(JobFile::read(SMALL).unwrap().job.plan, Plan::default());
}

const WALLED: &str = r#"
format = 1
title = "walls"
[place]
state = "OH"
edition = "2023"
[candidates]
board = "P"
walls = ["hall"]
step = 3
[before.boards.P]
position = { wall = "hall", x = 10, y = 40 }
cabinet = { width = 14 }
[before.circuits]
c = { board = "P", home_run = { wall = "hall", x = 20, y = 96 } }
[before.walls.hall]
length = 120
height = 96
obstacles = [
  { what = "window", from = 30, to = 60, bottom = 36, top = 80 },
  { what = "door", from = 80, to = 112 },
]
"#;

/// One change to the walls, and where the mistake is and what it says.
fn check_wall(find: &str, put: &str, line: usize, says: &str) {
    assert!(JobFile::read(WALLED).is_ok());
    assert!(WALLED.contains(find), "{find}");
    let message = mistake(&WALLED.replacen(find, put, 1));
    assert!(message.contains(&format!("line {line},")), "{message}");
    assert!(message.contains(says), "expected `{says}` in:\n{message}");
}

#[test]
fn a_wall_has_a_length_and_what_is_on_it_stays_on_it() {
    check_wall("length = 120", "length = 0", 17, "wall `hall` is 0 in long");
    check_wall(
        "length = 120",
        "from = { x = 0, y = 0 }",
        16,
        "only one end",
    );
    check_wall(
        "to = 112",
        "to = 121",
        21,
        "obstacle `door` runs from 80 in to 121 in along wall `hall`",
    );
    check_wall("from = 30", "from = 61", 20, "`from` below `to`");
    check_wall("bottom = 36", "bottom = 90", 20, "`bottom` at 0 or above");
    check_wall("height = 96", "height = -1", 18, "`height` is -1 in");
}

#[test]
fn a_position_stands_on_a_wall_of_the_picture_and_not_off_it() {
    check_wall(
        r#"wall = "hall", x = 10"#,
        r#"wall = "hal", x = 10"#,
        12,
        "did you mean `hall`",
    );
    check_wall(
        "x = 10",
        "x = 107",
        12,
        "14 in wide: it ends beyond wall `hall`",
    );
    check_wall("x = 20", "x = 130", 15, "beyond wall `hall`");
    check_wall("y = 96 }", "y = 97 }", 15, "`y` is 97 in");
}

#[test]
fn a_sweep_has_a_step_and_knows_its_board_and_walls() {
    check_wall("step = 3", "step = 0", 10, "`step` is 0 in");
    check_wall(
        r#"board = "P""#,
        r#"board = "Q""#,
        8,
        "not a board of the after picture",
    );
    check_wall(
        r#"walls = ["hall"]"#,
        r#"walls = ["attic"]"#,
        9,
        "`attic` is not a wall here",
    );
}

#[test]
fn what_is_gone_takes_along_what_hangs_on_it() {
    let text = SMALL
        .replace("c2 = { board = \"Q\", amps = 20 }", "c2 = { board = \"Q\", amps = 20, shared_with = \"c1\", loads = [\"l\"] }")
        .replace("rooms = [\"bedroom\"] }", "rooms = [\"bedroom\"], shared_with = \"c2\", loads = [\"m\"] }\n[before.outlets]\no = { circuit = \"c2\" }\n[before.loads]\nl = { kind = \"dryer\" }\nm = { kind = \"spa\" }")
        .replace("c3 = {", "c1 = { amps = 20 }\nc3 = {");
    let text = text + "[after.loads]\nm = { gone = true }\n";
    let text = move_circuits_up(&text);
    let job = JobFile::read(&text).unwrap().job;
    assert_eq!(
        job.before.circuits["c1"]
            .shared_with
            .as_ref()
            .unwrap()
            .as_str(),
        "c2"
    );
    assert_eq!(job.after.circuits["c1"].shared_with, None);
    assert!(job.after.circuits["c1"].loads.is_empty() && job.after.outlets.is_empty());
    assert_eq!(job.before.outlets.len(), 1);
}

/// The second circuit stands below the tables that were put between: back to its own.
fn move_circuits_up(text: &str) -> String {
    let line = text
        .lines()
        .find(|l| l.starts_with("c2 = { board"))
        .unwrap();
    let without = text.replacen(&format!("{line}\n"), "", 1);
    without.replacen(
        "[before.circuits]\n",
        &format!("[before.circuits]\n{line}\n"),
        1,
    )
}
