//! A mistake in a table file is named with file, line, column, what was expected and what was found.
//! Source: the carried files, each test changing one line of one of them.

#![allow(clippy::unwrap_used, clippy::panic)]

use rulebook::tables::Tables;

/// Loads the carried files with `from` replaced by `to` in one of them, and compares the messages.
fn check(file: &str, from: &str, to: &str, expected: &[&str]) {
    let (_, text) = rulebook::data::FILES
        .iter()
        .find(|(path, _)| *path == file)
        .unwrap();
    assert!(text.contains(from), "{file} does not contain `{from}`");
    let changed = text.replace(from, to);
    let files = rulebook::data::FILES.iter().map(|(path, text)| {
        (
            *path,
            if *path == file {
                changed.as_str()
            } else {
                *text
            },
        )
    });
    let messages: Vec<String> = match Tables::parse(files) {
        Ok(_) => Vec::new(),
        Err(errors) => errors.iter().map(ToString::to_string).collect(),
    };
    assert_eq!(messages, expected);
}

#[test]
fn a_bad_number_is_named_with_its_cell() {
    check(
        "tables/equipment_grounding.csv",
        "\n100,8,6,",
        "\n1o0,8,6,",
        &[
            "tables/equipment_grounding.csv line 5, column `device_to_A`: expected a number that is not negative, \
           found `1o0`; write digits with a point, or leave the cell empty",
        ],
    );
}

#[test]
fn an_unknown_column_gets_the_nearest_name() {
    check(
        "tables/bundling.csv",
        "from,to,percent",
        "from,to,per_cent",
        &[
            "tables/bundling.csv line 1, column `per_cent`: expected one of the columns from, to, percent, editions, \
             source, check, found `per_cent`; did you mean `percent`?",
        ],
    );
}

#[test]
fn a_missing_count_is_named() {
    check(
        "tables/multifamily_demand.csv",
        "\n11,11,42,",
        "\n12,12,42,",
        &[
            "tables/multifamily_demand.csv line 5, column `from`: expected 11, so that every count stands once, found 12; add the missing row, or correct the range or its editions",
            "tables/multifamily_demand.csv line 6, column `from`: expected 13, so that every count stands once, found 12; add the missing row, or correct the range or its editions",
        ],
    );
}

#[test]
fn overlapping_editions_are_named_with_both_lines() {
    check(
        "tables/flags.csv",
        "dwelling-83-feeder-208y120,no,dwelling-83-rule,2014,",
        "dwelling-83-feeder-208y120,no,dwelling-83-rule,2014-2017,",
        &[
            "tables/flags.csv line 3, column `editions`: expected editions that no other row on the same thing holds for, \
           found an overlap with line 2 on `dwelling-83-feeder-208y120`; narrow one of the two ranges",
        ],
    );
}

#[test]
fn a_missing_size_is_named() {
    check(
        "tables/ampacity.csv",
        "\n2,Cu,",
        "\n16,Cu,",
        &[
            "tables/ampacity.csv line 12, column `editions`: expected editions that no other row on the same thing holds for, found an overlap with line 3 on `16, Cu`; narrow one of the two ranges",
            "tables/ampacity.csv line 12, column `size`: expected one row per size and edition, found a second row for 16 AWG; remove one, or narrow the sizes or editions",
            "tables/ampacity.csv line 0: expected a row for 2 AWG Cu, found none in 2014, 2017, 2020, 2023, 2026; add it, with check `not found` if nobody could confirm a value",
        ],
    );
}

#[test]
fn an_edition_that_does_not_exist_is_refused() {
    check(
        "tables/ambient.csv",
        "10,1.29,1.20,1.15,2014-2026,",
        "10,1.29,1.20,1.15,2014-2025,",
        &[
            "tables/ambient.csv line 2, column `editions`: expected editions such as 2014-2026, 2020 or `2014 2020-2023`, found `2025` is not a known edition: expected one of 2014, 2017, 2020, 2023, 2026; correct the range",
        ],
    );
}

#[test]
fn a_check_status_that_does_not_exist_is_refused() {
    check(
        "tables/bundling.csv",
        "(buildmyowncabin.com),1 source\n41,",
        "(buildmyowncabin.com),sure\n41,",
        &[
            "tables/bundling.csv line 7, column `check`: expected memory, 1 source, 2+ sources or not found, found `sure`; say how far the value was checked",
            "tables/bundling.csv line 8, column `from`: expected 31, so that every count stands once, found 41; add the missing row, or correct the range or its editions",
        ],
    );
}

#[test]
fn a_missing_limit_is_named() {
    check(
        "tables/limits.csv",
        "\nbusbar-source-factor,",
        "\nbusbar-source-facto,",
        &[
            "tables/limits.csv line 0: expected a row for `busbar-source-factor`, found none; add it; did you mean `busbar-source-facto`?",
        ],
    );
}

#[test]
fn a_limit_in_another_unit_is_refused() {
    check(
        "tables/limits.csv",
        "\nunit-load,3,VA/ft2,",
        "\nunit-load,3,W/ft2,",
        &[
            "tables/limits.csv line 2, column `unit`: expected `VA/ft2`, found `W/ft2`; convert the value and write the expected unit",
        ],
    );
}

#[test]
fn a_subject_without_sections_is_named() {
    check(
        "sections.csv",
        "\nstandard-load,",
        "\nstandard-loads,",
        &[
            "sections.csv line 2, column `subject`: expected a subject that calculations cite, found `standard-loads`; did you mean `standard-load`?",
            "sections.csv line 0: expected a row for `standard-load`, found none; add it",
        ],
    );
}

#[test]
fn a_row_with_too_few_cells_is_named() {
    check(
        "tables/torque_sockets.csv",
        "1/8,45,2014-2026,",
        "1/8,45,",
        &[
            "tables/torque_sockets.csv line 2: expected 5 cells, found 4; put a comma for each empty cell, and quotes around a cell with commas",
        ],
    );
}
