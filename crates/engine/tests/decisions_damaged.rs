//! The demo jobs with a line missing or a number turned around: whatever still reads as a job is checked, laid out, planned, swept and priced
//! without a panic, and a price stays in order. Source: none needed, it is a promise of the program.
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use std::collections::BTreeMap;
use std::sync::LazyLock;

use engine::cutover::{Times, plan};
use engine::face::{face_within, usual_board};
use engine::price::price;
use model::{Edition, JobFile};
use rulebook::{Library, Rulebook};
use shop::Book;

static RULES: LazyLock<BTreeMap<Edition, Rulebook>> = LazyLock::new(|| {
    let library = Library::without_cases().unwrap();
    let bound = |e| (e, library.rulebook(e, &[], None).unwrap());
    Edition::ALL.map(bound).into()
});
static BOOK: LazyLock<Book> = LazyLock::new(|| Book::built_in().unwrap());

/// Every so many lines one is damaged: all of them would take minutes.
const STRIDE: usize = 9;

/// Decides everything about a text that still reads as a job.
fn decide(text: &str) -> bool {
    let Ok(file) = JobFile::read(text) else {
        return false;
    };
    let rules = &RULES[&file.job.place.edition];
    let report = engine::check(&file.job, rules);
    if let Some(board) = usual_board(&report) {
        let _ = face_within(&report, board, Some(50));
    }
    let _ = plan(&file.job, &Times::of(&BOOK.labour).unwrap());
    let (low, high) = price(&report, &BOOK, &file.job.offer).span();
    assert!(low <= high, "{low} {high}");
    true
}

fn examples() -> Vec<(String, String)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples");
    let mut all: Vec<(String, String)> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml"))
        .map(|path| {
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            (name, std::fs::read_to_string(&path).unwrap())
        })
        .collect();
    all.sort();
    all
}

fn damage(every: impl Fn(&str) -> Option<String>) {
    let (mut tried, mut read) = (0, 0);
    for (_, text) in examples() {
        let lines: Vec<&str> = text.lines().collect();
        for at in (0..lines.len()).step_by(STRIDE) {
            let Some(other) = every(lines[at]) else {
                continue;
            };
            let mut damaged: Vec<&str> = lines.clone();
            damaged[at] = &other;
            tried += 1;
            read += usize::from(decide(&damaged.join("\n")));
        }
    }
    assert!(read > 30 && read <= tried, "{read} of {tried}");
}

#[test]
fn a_job_with_a_line_missing_is_decided_or_refused() {
    damage(|_| Some(String::new()));
}

#[test]
fn a_job_with_a_number_made_large_is_decided_or_refused() {
    damage(|line| {
        let at = line.find("= ").or_else(|| line.find(char::is_numeric))?;
        let (head, rest) = line.split_at(at);
        let digit = rest.find(char::is_numeric)?;
        Some(format!("{head}{}9{}", &rest[..digit], &rest[digit..]))
    });
}

#[test]
fn a_job_with_a_known_fact_made_unknown_is_decided_or_refused() {
    damage(|line| {
        let (head, rest) = line.split_once("{ is = ")?;
        let (_, tail) = rest.split_once('}')?;
        Some(format!("{head}\"unknown\"{tail}"))
    });
}
