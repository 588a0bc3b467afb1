//! Does a wrong book say what is wrong, and where?
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use model::Dollars;
use shop::Book;
use shop::parts::PanelSize;

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
    let last = text.lines().count() as u64;
    check("labour.csv", &text, (last, ""), &["again", "line 28"]);
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
fn a_part_that_a_remedy_names_and_no_line_has_is_named_where_it_is_used() {
    let text = changed("parts.csv", "gfci-receptacle,each", "gfci-recept,each");
    check("remedies.csv", "", (0, ""), &["empty"]);
    let mistakes = Book::read([("parts.csv", text.as_str())]).unwrap_err();
    let line = |wanted: &str| {
        let (_, text) = shop::BUILT_IN
            .iter()
            .find(|(n, _)| *n == "remedies.csv")
            .unwrap();
        1 + text.lines().position(|l| l.starts_with(wanted)).unwrap() as u64
    };
    let at = line("gfci-new-receptacle");
    assert!(
        mistakes
            .iter()
            .any(|m| (m.file.as_str(), m.line) == ("remedies.csv", at)
                && m.found == "`gfci-receptacle`"),
        "{mistakes:?}"
    );
}

#[test]
fn a_part_that_nothing_counts_is_told_with_the_likeliest_name() {
    let text = changed(
        "parts.csv",
        "fire-sealant,each",
        "staples,each,1,connector,own\nfire-sealant,each",
    );
    let line = 1 + text.lines().position(|l| l.starts_with("staples")).unwrap() as u64;
    check(
        "parts.csv",
        &text,
        (line, "part"),
        &["did you mean `staple`"],
    );
}

#[test]
fn an_option_may_exclude_only_what_there_is() {
    let text = changed("options.csv", ",controllable,", ",controlable,");
    check(
        "options.csv",
        &text,
        (5, "excludes"),
        &["did you mean `controllable`"],
    );
}

#[test]
fn remedies_and_terms_are_read_strictly() {
    let text = changed(
        "remedies.csv",
        "afci-extension,afci,circuit,,",
        "afci-extension,afci,circuit,label-set,",
    );
    check("remedies.csv", &text, (2, "parts"), &["only `lines`"]);
    let text = changed("remedies.csv", "nail-plate x 4", "nail-plate x four");
    check("remedies.csv", &text, (7, "parts"), &["nail-plate x four"]);
    let text = changed("terms.csv", "md-deposit,MD", "md-deposit,Md");
    check("terms.csv", &text, (3, "state"), &["two capital letters"]);
}

#[test]
fn a_part_may_stand_without_a_price_and_says_so_when_it_is_asked() {
    let text = changed("parts.csv", "breaker-1p-15,each,8.4", "breaker-1p-15,each,");
    let book = Book::read([("parts.csv", text.as_str())]).unwrap();
    let missing = book.parts.price("breaker-1p-15").unwrap_err();
    assert_eq!(missing.line, book.parts.get("breaker-1p-15").unwrap().line);
    assert!(missing.to_string().contains("has no value"), "{missing}");
    assert!(
        book.parts
            .price("breaker-9p-15")
            .unwrap_err()
            .to_string()
            .contains("add a line")
    );
}

/// Source: guidance of the state licensing board and two law articles: at most 10 % or $1,000, whichever is less; elsewhere one third.
#[test]
fn payment_caps_are_those_that_were_published() {
    let book = Book::built_in().unwrap();
    let cap = |state: &str, dollars: i64| {
        let price = Dollars::from_cents(dollars * 100);
        let caps = book.terms.iter().filter(|t| t.state == state);
        caps.filter_map(|t| t.cap(price)).min()
    };
    let dollars = |n: i64| Some(Dollars::from_cents(n));
    assert_eq!(cap("CA", 4_000), dollars(40_000));
    assert_eq!(cap("CA", 24_000), dollars(100_000));
    assert_eq!(cap("MD", 3_000), dollars(99_990));
    assert_eq!(
        (cap("PA", 5_000), cap("PA", 6_000)),
        (None, dollars(199_980))
    );
    assert_eq!(cap("OH", 6_000), None);
}

/// No panel of exactly this size is in the book: the next larger one is taken, with the same sort of main.
#[test]
fn the_smallest_panel_that_is_large_enough_is_taken() {
    let book = Book::built_in().unwrap();
    let wanted = PanelSize {
        spaces: 26,
        amperes: 100,
        main_breaker: false,
    };
    assert_eq!(book.parts.panel(wanted).unwrap().0, "panel-30-125-lugs");
    let wanted = PanelSize {
        spaces: 90,
        ..wanted
    };
    assert!(book.parts.panel(wanted).is_none());
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
    fn no_text_panics(
        at in 0..shop::BUILT_IN.len(),
        text in ".{0,200}",
        lines in proptest::collection::vec("[a-z0-9,.\"-]{0,40}", 0..8),
    ) {
        let (file, built_in) = shop::BUILT_IN[at];
        let _ = Book::read([(file, text.as_str())]);
        let header = built_in.lines().next().unwrap();
        let table = format!("{header}\n{}", lines.join("\n"));
        let _ = Book::read([(file, table.as_str())]);
    }
}
