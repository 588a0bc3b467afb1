//! Does the span of a price hold every price that the answers lead to, and no more?
//! Source: brute force: the same facts written into the job file, the whole engine run again, and the price worked out anew.

#![allow(clippy::unwrap_used, clippy::panic)]

mod jobs_in_text;

use engine::price::{Amount, price, quick};
use engine::price::{Pricer, take_off};
use jobs_in_text::{book, house, read};
use model::{Dollars, Edition, JobFile, Offer};
use proptest::prelude::*;
use rulebook::{FactKind, Rulebook};
use shop::Book;
use toml::{Table, Value};

const EXAMPLES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples");

/// A question's field and what may stand there.
struct Asked {
    path: String,
    kind: Option<FactKind>,
    words: Vec<String>,
}

fn asked(job: &JobFile, rules: &Rulebook, shop: &Book) -> Vec<Asked> {
    let report = engine::check(&job.job, rules);
    let price = price(&report, shop, &job.job.offer);
    let questions = price.questions.iter();
    let one = |q: &engine::price::PricedQuestion<'_>| {
        let entry = rules
            .facts()
            .find(&q.name)
            .and_then(|id| rules.facts().get(id));
        let kind = entry.map(|e| e.kind);
        let words: Vec<String> = entry.map(|e| e.words.clone()).unwrap_or_default();
        let places = q.places.iter();
        places
            .map(|(_, path, _)| Asked {
                path: path.clone(),
                kind,
                words: words.clone(),
            })
            .collect::<Vec<_>>()
    };
    questions.flat_map(one).collect()
}

fn span(job: &JobFile, rules: &Rulebook, shop: &Book) -> (Dollars, Dollars) {
    let report = engine::check(&job.job, rules);
    price(&report, shop, &job.job.offer).span()
}

/// The job file with an answer at a path; `None` where that field does not take it.
fn answered(text: &str, path: &str, value: Value) -> Option<JobFile> {
    let mut root: Table = text.parse().unwrap();
    let (first, rest) = path.split_once('.').unwrap();
    let mut steps: Vec<&str> = match first {
        "place" => vec!["place"],
        _ => vec!["after", first],
    };
    match rest.split_once(".facts.") {
        Some((before, name)) => {
            steps.extend(before.split('.'));
            steps.extend(["facts", name]);
        }
        None => match rest.strip_prefix("facts.") {
            Some(name) => steps.extend(["facts", name]),
            None => steps.extend(rest.split('.')),
        },
    }
    let (last, tables) = steps.split_last().unwrap();
    let mut at = &mut root;
    for step in tables {
        let entry = at
            .entry((*step).to_owned())
            .or_insert_with(|| Value::Table(Table::new()));
        at = entry.as_table_mut()?;
    }
    at.insert((*last).trim_matches('"').to_owned(), value);
    JobFile::read(&root.to_string()).ok()
}

fn value(asked: &Asked, pick: u64) -> Value {
    let word = |i: u64| asked.words[(i as usize) % asked.words.len()].clone();
    match asked.kind {
        Some(FactKind::Bool) => Value::Boolean(pick & 1 == 0),
        Some(FactKind::Word) => Value::String(word(pick)),
        Some(FactKind::Set) => {
            let some = (0..pick % 3).map(|i| Value::String(word(pick / 3 + i * 5)));
            Value::Array(some.collect())
        }
        Some(FactKind::Number) => Value::Float((pick % 40_000) as f64 / 2.0),
        // The two questions of the price itself.
        None if asked.path.ends_with("slack") => Value::Float((pick % 200) as f64),
        None => Value::String(["breaker", "outlet"][(pick % 2) as usize].to_owned()),
    }
}

/// Whatever the answers are, one by one and in any order, the price stays within the span that was told before, and the span never grows.
#[test]
fn answers_only_narrow_the_span() {
    let (rules, shop) = (book(Edition::Y2023), Book::built_in().unwrap());
    let mut text = std::fs::read_to_string(format!("{EXAMPLES}/ranch-subpanel.toml")).unwrap();
    // The clothes closet has its cabinet removed: slack counts, and is unknown for three circuits.
    text = text.replace(
        "old_cabinet = { is = \"splice_box\", by = \"planned\" }",
        "old_cabinet = \"removed\"",
    );
    let mut seed = 0x2545_F491_4F6C_DD1D_u64;
    let mut next = move || {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        seed >> 8
    };
    let mut taken = 0;
    for _ in 0..3 {
        let mut job = read(&text);
        let (mut low, mut high) = span(&job, &rules, &shop);
        assert!(low < high);
        let mut open = asked(&job, &rules, &shop);
        while !open.is_empty() {
            // A few at a time: a run of the whole engine follows each.
            let mut told = Vec::new();
            for _ in 0..16.min(open.len()) {
                let one = open.remove((next() as usize) % open.len());
                if let Some(answer) = answered(job.text(), &one.path, value(&one, next())) {
                    job = answer;
                    told.push(one.path);
                }
            }
            let (new_low, new_high) = span(&job, &rules, &shop);
            assert!(
                new_low >= low && new_high <= high,
                "{told:?}: {new_low} to {new_high} was {low} to {high}"
            );
            (low, high) = (new_low, new_high);
            taken += told.len();
        }
    }
    assert!(taken > 100, "{taken} answers taken");
}

/// Every combination of answers, tried one by one: the least and the most of them are the ends of the span.
#[test]
fn the_ends_of_the_span_are_reached() {
    let shop = Book::built_in().unwrap();
    let after = "[after.boards.Q]\nreplaced = true\nspaces = 20\nold_cabinet = \"splice_box\"\nmake_up = 30\nposition = { wall = \"north\", x = 90, y = 60 }\n[after.circuits.new]\nboard = \"Q\"\namps = 20\nwire = \"12 Cu\"\nmethod = \"NM\"\nlength = 20\nprotection = \"none\"\nground = true\nrooms = [\"garage\"]\n[after.feeders.QF]\nlength = 25\n";
    for edition in [Edition::Y2023, Edition::Y2017] {
        let rules = book(edition);
        let text = house(edition.to_string().as_str(), "", after).replace(
            "wire = \"4 Cu\"",
            "wire = \"4 Cu\"\nmethod = \"NM\"\nlength = 20",
        );
        let job = read(&text);
        let report = engine::check(&job.job, &rules);
        let told = price(&report, &shop, &job.job.offer);
        assert!(told.gaps.is_empty(), "{:?}", told.gaps);
        let all = asked(&job, &rules, &shop);
        let fields: Vec<&Asked> = all
            .iter()
            .filter(|a| a.kind == Some(FactKind::Bool))
            .collect();
        // Others are answered first, so that only yes and no are left.
        let others = all
            .iter()
            .filter(|a| a.kind != Some(FactKind::Bool))
            .count();
        assert!(fields.len() >= 5, "{}", fields.len());
        let tried = &fields[..fields.len().min(8)];
        let mut ends: Option<(Dollars, Dollars)> = None;
        for answers in 0..1_u32 << tried.len() {
            let mut job = read(&text);
            for (i, field) in tried.iter().enumerate() {
                let yes = answers >> i & 1 == 1;
                if let Some(next) = answered(job.text(), &field.path, Value::Boolean(yes)) {
                    job = next;
                }
            }
            let (low, high) = span(&job, &rules, &shop);
            let (least, most) = ends.unwrap_or((low, high));
            ends = Some((least.min(low), most.max(high)));
        }
        assert_eq!(ends, Some(told.span()), "{edition}, {others} others");
    }
}

/// Source: the definition: the total is the sum of the printed lines, whatever the book.
#[test]
fn the_total_is_the_sum_of_the_printed_lines_on_every_demo() {
    let shop = Book::built_in().unwrap();
    for entry in std::fs::read_dir(EXAMPLES).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|e| e != "toml") {
            continue;
        }
        let job = read(&std::fs::read_to_string(&path).unwrap());
        let rules = book(job.job.place.edition);
        check_sums(&job, &rules, &shop, &job.job.offer);
    }
}

fn check_sums(job: &JobFile, rules: &Rulebook, shop: &Book, offer: &Offer) {
    let report = engine::check(&job.job, rules);
    let told = price(&report, shop, offer);
    let certain: Dollars = told.lines.iter().map(|l| l.cost.price()).sum();
    assert_eq!(certain, told.certain.price());
    let low: Dollars = told.perhaps.iter().map(|p| p.low).sum();
    let high: Dollars = told.perhaps.iter().map(|p| p.high).sum();
    let span = told.span();
    assert_eq!((certain + low, certain + high), span);
    for line in &told.lines {
        let c = line.cost;
        let parts = c.material + c.tax_paid + c.labour + c.fees + c.overhead + c.handling;
        assert_eq!(parts + c.contingency + c.profit + c.tax_charged, c.price());
    }
    let take = take_off(&report, shop, offer);
    let quickly = quick(&take, &Pricer::new(shop, offer));
    assert_eq!(quickly, told.total);
    match told.total {
        Amount::Exact(_) => assert_eq!(span.0, span.1),
        Amount::Between { .. } => assert!(span.0 < span.1),
        Amount::Incomplete { .. } => assert!(!told.gaps.is_empty()),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn the_total_is_the_sum_of_the_printed_lines_whatever_the_book(
        wage in 0..30_000_i64,
        percents in proptest::array::uniform6(0..8_000_i64),
        tax_on in 0..3_usize,
        factor in 1..300_i64,
        demo in 0..3_usize,
        monitoring in any::<bool>(),
    ) {
        let demos = ["ranch-subpanel.toml", "swap-clean.toml", "big-house-42.toml"];
        let text = std::fs::read_to_string(format!("{EXAMPLES}/{}", demos[demo])).unwrap();
        let job = read(&text);
        let decimal = |n: i64| format!("{}.{:02}", n / 100, n % 100);
        let mut offer = job.job.offer.clone();
        let names = ["labour-burden", "material-markup", "contingency", "margin", "wire-waste", "labour-difficulty"];
        for (name, percent) in names.iter().zip(percents) {
            let number = decimal(percent).parse().unwrap();
            offer.settings.insert((*name).to_owned(), model::offer::Setting::Number(number));
        }
        offer.settings.insert("labour-wage".to_owned(), model::offer::Setting::Number(decimal(wage).parse().unwrap()));
        let tax = ["none", "cost", "price"][tax_on].to_owned();
        offer.settings.insert("sales-tax-on".to_owned(), model::offer::Setting::Word(tax));
        if monitoring {
            offer.options = vec!["monitoring".to_owned()];
        }
        // Every price of the book times some factor.
        let (_, parts) = shop::BUILT_IN.iter().find(|(n, _)| *n == "parts.csv").unwrap();
        let mut lines = parts.lines();
        let mut scaled = format!("{}\n", lines.next().unwrap());
        for line in lines {
            let cells: Vec<&str> = line.splitn(4, ',').collect();
            let cents = (cells[2].parse::<f64>().unwrap() * 100.0).round() as i64 * factor / 100;
            scaled.push_str(&format!("{},{},{},{}\n", cells[0], cells[1], decimal(cents), cells[3]));
        }
        let shop = Book::read([("parts.csv", scaled.as_str())]).unwrap();
        check_sums(&job, &book(job.job.place.edition), &shop, &offer);
    }
}
