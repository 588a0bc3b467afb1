//! What a user sees of a price: the cost sheet, the customer's page, and what is wrong with a book or an offer.

#![allow(clippy::expect_used, reason = "a test may stop")]

mod run;

use run::{file, lugwright, root};

const RANCH: &str = "examples/ranch-subpanel.toml";

/// A folder of the test run with one table of the built-in book, changed.
fn book(folder: &str, table: &str, from: &str, to: &str) -> String {
    let text = std::fs::read_to_string(root().join("crates/shop/data").join(table))
        .expect("the built-in table");
    assert!(text.contains(from), "{from}");
    let path = file(
        &format!("{folder}-{table}"),
        text.replacen(from, to, 1).as_bytes(),
    );
    let folder = std::path::Path::new(&path).with_file_name(folder);
    std::fs::create_dir_all(&folder).expect("a folder");
    std::fs::copy(&path, folder.join(table)).expect("a copy");
    folder.to_string_lossy().into_owned()
}

fn refused(words: &[&str], says: &[&str]) {
    let ran = lugwright(words);
    assert_eq!(ran.code, 2, "{}{}", ran.out, ran.err);
    for part in says {
        assert!(ran.err.contains(part), "no `{part}` in\n{}", ran.err);
    }
}

#[test]
fn the_private_sheet_shows_cost_and_margin_and_the_customers_page_neither() {
    let private = lugwright(&["price", RANCH]);
    assert_eq!(private.code, 0, "{}", private.err);
    for part in [
        "Cost sheet, private",
        "Margin on price",
        "Exposure",
        "TOTAL",
        "De-energize",
    ] {
        assert!(
            private.out.contains(part),
            "no `{part}` in\n{}",
            private.out
        );
    }
    let customer = lugwright(&["price", RANCH, "--customer"]);
    assert_eq!(customer.code, 0, "{}", customer.err);
    for part in ["TOTAL", "Not included", "Payments"] {
        assert!(
            customer.out.contains(part),
            "no `{part}` in\n{}",
            customer.out
        );
    }
    for part in ["argin", "arkup", "overhead", "Exposure", "rofit"] {
        assert!(
            !customer.out.contains(part),
            "`{part}` in\n{}",
            customer.out
        );
    }
}

#[test]
fn the_json_of_the_customer_holds_no_cost_and_its_lines_add_up() {
    for (words, private) in [
        (vec!["price", RANCH, "--format", "json"], true),
        (
            vec!["price", RANCH, "--customer", "--format", "json"],
            false,
        ),
    ] {
        let ran = lugwright(&words);
        let value: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
        assert_eq!(value.get("cost").is_some(), private);
        assert_eq!(ran.out.contains("\"profit\""), private);
        let cents = |v: &serde_json::Value| (v.as_f64().expect("a number") * 100.0).round() as i64;
        let lines = value["lines"].as_array().expect("lines");
        let sum: i64 = lines.iter().map(|l| cents(&l["price"])).sum();
        assert_eq!(sum, cents(&value["certain"]));
        let open = value["open_lines"].as_array().expect("open lines");
        let high: i64 = sum + open.iter().map(|l| cents(&l["high"])).sum::<i64>();
        assert_eq!(high, cents(&value["total"]["between"]["high"]));
    }
}

#[test]
fn negative_hours_are_refused_with_file_line_and_column() {
    let folder = book(
        "negative",
        "labour.csv",
        "tag-circuit,circuit,5",
        "tag-circuit,circuit,-5",
    );
    refused(
        &["price", RANCH, "--book", &folder],
        &[
            "labour.csv:3",
            "`-5`, in column `minutes`",
            "3 | tag-circuit,circuit,-5",
            "not negative",
        ],
    );
}

#[test]
fn a_part_that_a_remedy_names_and_the_book_lacks_is_refused_where_it_is_named() {
    let folder = book(
        "lacking",
        "parts.csv",
        "fire-sealant,each",
        "fire-sealnt,each",
    );
    refused(
        &["price", RANCH, "--book", &folder],
        &[
            "remedies.csv of the built-in price book",
            "`fire-sealant`",
            "did you mean `fire-sealnt`?",
        ],
    );
}

#[test]
fn a_part_without_a_price_makes_the_total_incomplete_on_both_pages() {
    let folder = book(
        "priceless",
        "parts.csv",
        "breaker-1p-15-afci,each,54,",
        "breaker-1p-15-afci,each,,",
    );
    for words in [
        vec!["price", RANCH, "--book", &folder],
        vec!["price", RANCH, "--book", &folder, "--customer"],
    ] {
        let ran = lugwright(&words);
        assert_eq!(ran.code, 0, "{}", ran.err);
        assert!(ran.out.contains("TOTAL          INCOMPLETE"), "{}", ran.out);
    }
    let ran = lugwright(&["price", RANCH, "--book", &folder]);
    assert!(
        ran.out.contains("`breaker-1p-15-afci` has no price"),
        "{}",
        ran.out
    );
}

#[test]
fn options_that_exclude_each_other_are_refused_at_the_line_of_the_job() {
    let text = std::fs::read_to_string(root().join(RANCH)).expect("the demo");
    let line = text
        .lines()
        .position(|l| l.starts_with("options = "))
        .expect("an offer")
        + 1;
    let old = text.lines().nth(line - 1).expect("that line").to_owned();
    let path = file(
        "both.toml",
        text.replacen(&old, "options = [\"monitoring\", \"controllable\"]", 1)
            .as_bytes(),
    );
    refused(
        &["price", &path],
        &[
            &format!("both.toml:{line}:"),
            "options `monitoring` and `controllable` cannot go together",
            "options.csv lines",
        ],
    );
    let path = file(
        "unknown.toml",
        text.replacen(&old, "options = [\"monitorng\"]", 1)
            .as_bytes(),
    );
    refused(
        &["price", &path],
        &[
            &format!("unknown.toml:{line}:"),
            "did you mean `monitoring`?",
        ],
    );
}

#[test]
fn a_folder_that_holds_no_book_is_refused() {
    refused(
        &["price", RANCH, "--book", "docs"],
        &["no file of a price book", "labour.csv"],
    );
    refused(
        &["price", RANCH, "--book", "nowhere"],
        &["cannot open the folder", "nowhere"],
    );
}
