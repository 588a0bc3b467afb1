//! Do the demo jobs read, and does a damaged copy of one still end in an answer rather than a crash?
//! Source: the files of `examples/`. No figures of their own are asserted here.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::path::PathBuf;

use model::file::JobFile;
use model::house::House;
use model::job::Job;
use model::place::Place;
use model::scope::Scope;

/// Every demo job: file name and text.
fn examples() -> Vec<(String, String)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut files: Vec<(String, String)> = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml"))
        .map(|path| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, std::fs::read_to_string(path).unwrap())
        })
        .collect();
    files.sort();
    files
}

/// Applies `check` to the name, text and job of every demo.
fn check(check: impl Fn(&str, &str, &Job)) {
    let examples = examples();
    assert!(examples.len() >= 6, "{} demo jobs", examples.len());
    for (name, text) in &examples {
        check(name, text, &read(name, text));
    }
}

fn read(name: &str, text: &str) -> Job {
    match JobFile::read(text) {
        Ok(file) => file.job,
        Err(mistakes) => panic!("{name}:\n{mistakes}"),
    }
}

/// What a job file says before any plan is made.
#[derive(serde::Serialize)]
struct Survey<'a> {
    format: u32,
    title: &'a str,
    place: &'a Place,
    before: &'a House,
}

#[test]
fn every_demo_job_reads_without_mistakes_and_has_something_to_do() {
    check(|name, _, job| {
        assert!(!Scope::of(job).is_empty(), "{name} plans nothing");
        assert!(!job.title.is_empty() && !job.reason.is_empty(), "{name}");
        assert!(!job.before.circuits.is_empty(), "{name}");
    });
}

#[test]
fn every_demo_job_tells_its_story_in_its_first_lines() {
    check(|name, text, _| {
        let story = text.lines().take_while(|l| l.starts_with('#')).count();
        assert!((3..=5).contains(&story), "{name}: {story} lines");
    });
}

#[test]
fn a_survey_written_out_reads_back_the_same_and_plans_nothing() {
    check(|name, _, job| {
        let survey = Survey {
            format: job.format,
            title: &job.title,
            place: &job.place,
            before: &job.before,
        };
        let again = read(name, &toml::to_string(&survey).unwrap());
        assert_eq!(again.before, job.before, "{name}");
        assert_eq!(again.place, job.place, "{name}");
        assert_eq!(again.after, again.before, "{name}");
        assert!(Scope::of(&again).is_empty(), "{name}");
    });
}

#[test]
fn an_after_picture_written_out_reads_back_the_same() {
    check(|name, _, job| {
        let again: House = toml::from_str(&toml::to_string(&job.after).unwrap()).unwrap();
        assert_eq!(again, job.after, "{name}");
    });
}

#[test]
fn a_demo_job_with_any_one_line_missing_never_panics() {
    check(|_, text, _| {
        let lines: Vec<&str> = text.lines().collect();
        for missing in 0..lines.len() {
            look_through(
                &[&lines[..missing], &lines[missing + 1..]]
                    .concat()
                    .join("\n"),
            );
        }
    });
}

#[test]
fn a_demo_job_with_any_one_number_negated_never_panics() {
    check(|_, text, _| {
        for at in number_starts(text) {
            let (head, tail) = text.split_at(at);
            look_through(&format!("{head}-{tail}"));
        }
    });
}

/// Reads a damaged file; if it still reads, takes the difference of its pictures, else renders what is wrong.
fn look_through(text: &str) {
    match JobFile::read(text) {
        Ok(file) => {
            let _ = Scope::of(&file.job);
        }
        Err(mistakes) => assert!(!mistakes.to_string().is_empty()),
    }
}

/// Byte places where a bare number starts: a digit after a space or a bracket, outside comments and text.
fn number_starts(text: &str) -> Vec<usize> {
    let mut starts = Vec::new();
    let (mut in_text, mut in_comment, mut before) = (false, false, '\n');
    for (at, c) in text.char_indices() {
        match c {
            '\n' => (in_text, in_comment) = (false, false),
            '"' if !in_comment => in_text = !in_text,
            '#' if !in_text => in_comment = true,
            _ => {}
        }
        if c.is_ascii_digit() && matches!(before, ' ' | '[') && !in_text && !in_comment {
            starts.push(at);
        }
        before = c;
    }
    starts
}
