//! Does a wrong book say what is wrong, and where?
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use shop::Book;

/// The built-in table with one line changed.
fn changed(file: &str, from: &str, to: &str) -> String {
    let (_, text) = shop::BUILT_IN.iter().find(|(n, _)| *n == file).unwrap();
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1)
}

fn check(file: &str, text: &str, place: (u64, &str), words: &[&str]) {
    let mistakes = Book::read([(file, text)]).expect_err(text);
    let found = mistakes
        .iter()
        .find(|m| (m.line, m.column.as_str()) == place && m.file == file);
    let found = found.unwrap_or_else(|| panic!("{mistakes:?}"));
    for word in words {
        assert!(found.to_string().contains(word), "{found}");
    }
}

#[test]
fn negative_hours_are_refused_at_their_line() {
    let text = changed(
        "labour.csv",
        "tag-circuit,circuit,5",
        "tag-circuit,circuit,-5",
    );
    check(
        "labour.csv",
        &text,
        (3, "minutes"),
        &["`-5`", "not negative"],
    );
}

#[test]
fn a_number_that_is_none_a_second_line_and_a_wrong_unit_are_all_told_at_once() {
    let text = changed(
        "labour.csv",
        "test-dead,board,20",
        "test-dead,board,about 20",
    );
    let text = text.replacen("reland-circuit,circuit", "reland-circuit,board", 1);
    let text = format!("{text}clean-up,job,5,again,memory\n");
    check("labour.csv", &text, (5, "minutes"), &["about 20"]);
    check("labour.csv", &text, (14, "unit"), &["circuit"]);
    check("labour.csv", &text, (37, ""), &["again", "line 28"]);
    let mistakes = Book::read([("labour.csv", text.as_str())]).unwrap_err();
    assert_eq!(mistakes.len(), 3, "{mistakes:?}");
}

#[test]
fn a_missing_item_is_named() {
    let text = changed("labour.csv", "splice-set,piece", "splice-sett,piece");
    check("labour.csv", &text, (0, "item"), &["splice-set"]);
}

#[test]
fn an_unknown_setting_and_a_margin_of_the_whole_are_refused() {
    let text = changed("rates.csv", "margin,17", "margin,100");
    check("rates.csv", &text, (9, "value"), &["at most 90"]);
    let text = changed("rates.csv", "holdback,10", "holdbak,10");
    check(
        "rates.csv",
        &text,
        (17, "setting"),
        &["did you mean `holdback`"],
    );
}

#[test]
fn a_file_that_no_book_has_and_an_empty_one_are_refused() {
    check("labor.csv", "", (0, ""), &["did you mean `labour.csv`"]);
    check("rates.csv", "", (0, ""), &["empty"]);
    check("rates.csv", "a,b\n", (1, ""), &["the columns"]);
}

#[test]
fn a_table_left_out_is_the_built_in_one() {
    let rates = changed("rates.csv", "labour-wage,36", "labour-wage,50.5");
    let book = Book::read([("rates.csv", rates.as_str())]).unwrap();
    assert_eq!(book.rates.wage().cents(), 5050);
    assert_eq!(book.labour, Book::built_in().unwrap().labour);
}

proptest::proptest! {
    #[test]
    fn no_text_panics(text in ".{0,200}", lines in proptest::collection::vec("[a-z0-9,.\"-]{0,40}", 0..8)) {
        for file in ["labour.csv", "rates.csv"] {
            let _ = Book::read([(file, text.as_str())]);
            let header = shop::BUILT_IN.iter().find(|(n, _)| *n == file).unwrap().1.lines().next().unwrap();
            let table = format!("{header}\n{}", lines.join("\n"));
            let _ = Book::read([(file, table.as_str())]);
        }
    }
}
