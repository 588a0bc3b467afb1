//! Prints demo jobs, and reads what a PDF says with tools that are not ours: `pdftotext`, `pdfdetach` and `pdffonts` of poppler-utils.

#![allow(
    clippy::expect_used,
    clippy::panic,
    dead_code,
    unreachable_pub,
    reason = "tests may stop; each test file uses what it needs"
)]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::LazyLock;
use std::sync::atomic::{AtomicUsize, Ordering};

use engine::check::Report;
use model::JobFile;
use papers::{Language, Material, Paper, Press, Printed, Setting, Size};
use rulebook::Library;
use shop::Book;

/// Every demo job.
pub const EXAMPLES: [&str; 6] = [
    "apartment-208",
    "big-house-42",
    "ranch-subpanel",
    "swap-clean",
    "three-level-service",
    "workshop-three-wire",
];

/// How tests print unless they say otherwise.
pub fn setting() -> Setting {
    Setting {
        language: Language::English,
        size: Size::Letter,
        date: "2026-11-25".parse().expect("a date"),
    }
}

/// Text of a demo job's file.
pub fn job_text(example: &str) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    std::fs::read_to_string(root.join(format!("{example}.toml"))).expect("a demo job")
}

/// Everything that papers of a demo job are made of. It is kept until the test ends.
pub fn material_of(example: &str) -> Material<'static> {
    material_from(&job_text(example), &[])
}

/// The same from the text of a job file, with files laid over the built-in price book.
pub fn material_from(text: &str, book: &[(&str, &str)]) -> Material<'static> {
    let file: &'static JobFile = keep(match JobFile::read(text) {
        Ok(file) => file,
        Err(mistakes) => panic!("{mistakes}"),
    });
    let library = Library::built_in().expect("the library");
    let place = &file.job.place;
    let rules = library.rulebook(place.edition, &[], place.permit_date);
    let rules = keep(rules.expect("a rulebook"));
    let report: &'static Report<'static> = keep(engine::check(&file.job, rules));
    let book: &'static Book = keep(Book::read(book.iter().copied()).expect("a price book"));
    Material::gather(report, book, file.text(), &[], setting()).expect("every time is there")
}

fn keep<T>(value: T) -> &'static T {
    Box::leak(Box::new(value))
}

/// The built-in templates.
pub static PRESS: LazyLock<Press> = LazyLock::new(|| Press::new([]).expect("templates and fonts"));

/// Prints a paper that must come out.
pub fn printed(paper: Paper, material: &Material<'_>) -> Printed {
    match papers::print(paper, material, &PRESS) {
        Ok(printed) => printed,
        Err(why) => panic!("{why}"),
    }
}

/// Text of a PDF as a reader sees it, columns kept apart, places to break in long words left out.
pub fn text_of(pdf: &[u8]) -> String {
    let text = tool("pdftotext", &["-layout"], pdf, &["-"]);
    text.replace('\u{200b}', "")
}

/// The same text with every run of white space made one space: what a sentence reads like, however it was broken over lines of one column.
pub fn words_of(pdf: &[u8]) -> String {
    let text = tool("pdftotext", &[], pdf, &["-"]);
    let text = text.replace('\u{200b}', "");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The same in the order in which it was set: row by row, cell by cell.
pub fn stream_of(pdf: &[u8]) -> String {
    let text = tool("pdftotext", &["-raw"], pdf, &["-"]);
    let text = text.replace('\u{200b}', "");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Words that stand less than a fifth of an inch from an edge of their page, or beyond it.
pub fn outside(pdf: &[u8]) -> Vec<String> {
    const LEAST: f64 = 14.4;
    let number = |line: &str, name: &str| -> f64 {
        let rest = line.split(&format!("{name}=\"")).nth(1);
        let value = rest.and_then(|r| r.split('"').next());
        value.and_then(|v| v.parse().ok()).expect("a number")
    };
    let (mut width, mut height) = (0.0, 0.0);
    let mut out = Vec::new();
    for line in tool("pdftotext", &["-bbox"], pdf, &["-"]).lines() {
        let line = line.trim();
        if line.starts_with("<page") {
            (width, height) = (number(line, "width"), number(line, "height"));
        } else if line.starts_with("<word") {
            let fits = number(line, "xMin") >= LEAST
                && number(line, "yMin") >= LEAST
                && number(line, "xMax") <= width - LEAST
                && number(line, "yMax") <= height - LEAST;
            if !fits {
                out.push(line.to_owned());
            }
        }
    }
    out
}

/// The same in the order in which it was set: cell by cell, however cells stand beside each other.
pub fn cells_of(pdf: &[u8]) -> String {
    let text = tool("pdftotext", &["-raw"], pdf, &["-"]);
    let text = text.replace('\u{200b}', "");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Fonts as `pdffonts` lists them: a row each, its second column from the right but three says whether it is embedded.
pub fn fonts_of(pdf: &[u8]) -> String {
    tool("pdffonts", &[], pdf, &[])
}

/// The first file enclosed in a PDF.
pub fn enclosed_in(pdf: &[u8]) -> Vec<u8> {
    let out = scratch("out");
    tool("pdfdetach", &["-save", "1", "-o", &text(&out)], pdf, &[]);
    std::fs::read(out).expect("the enclosed file")
}

/// Runs a tool on a PDF; says what to install when it is not there.
pub fn tool(name: &str, before: &[&str], pdf: &[u8], after: &[&str]) -> String {
    let file = scratch("pdf");
    std::fs::write(&file, pdf).expect("the scratch folder can be written");
    let run = Command::new(name)
        .args(before)
        .arg(&file)
        .args(after)
        .output();
    let output = run.unwrap_or_else(|e| {
        panic!("{name} cannot be run ({e}): install poppler-utils and qpdf, which .ci/run does")
    });
    assert!(
        output.status.success(),
        "{name}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn scratch(ending: &str) -> PathBuf {
    static COUNT: AtomicUsize = AtomicUsize::new(0);
    let count = COUNT.fetch_add(1, Ordering::Relaxed);
    let name = format!("{}-{count}.{ending}", std::process::id());
    Path::new(env!("CARGO_TARGET_TMPDIR")).join(name)
}

fn text(path: &Path) -> String {
    path.to_string_lossy().into_owned()
}

/// Every amount of dollars in a text, each once.
pub fn amounts_in(text: &str) -> BTreeSet<String> {
    let starts = text.match_indices('$').map(|(at, _)| &text[at..]);
    let amount = |rest: &str| {
        let is_part = |c: char| c.is_ascii_digit() || matches!(c, '$' | ',' | '.');
        let end = rest.find(|c| !is_part(c)).unwrap_or(rest.len());
        rest[..end].trim_end_matches(['.', ',']).to_owned()
    };
    starts.map(amount).filter(|a| a.len() > 1).collect()
}

/// Words that stand outside their page, as `pdftotext -bbox` places them.
pub fn words_off_the_page(pdf: &[u8]) -> Vec<String> {
    let boxes = tool("pdftotext", &["-bbox"], pdf, &["-"]);
    let number = |line: &str, name: &str| -> f64 {
        let start = line.find(&format!("{name}=\"")).expect("a bound") + name.len() + 2;
        let end = line[start..].find('"').expect("its end");
        line[start..start + end].parse().expect("a number")
    };
    let (mut width, mut height, mut off, mut words) = (0.0, 0.0, Vec::new(), 0);
    for line in boxes.lines() {
        if line.contains("<page ") {
            (width, height) = (number(line, "width"), number(line, "height"));
        } else if line.contains("<word ") {
            words += 1;
            // A quarter of an inch that no printer reaches.
            let inside = number(line, "xMin") >= 18.0
                && number(line, "xMax") <= width - 18.0
                && number(line, "yMin") >= 18.0
                && number(line, "yMax") <= height - 18.0;
            if !inside {
                off.push(line.trim().to_owned());
            }
        }
    }
    assert!(words > 50, "only {words} words in it");
    off
}
