//! `validate`: is a rulebook folder, a requirement, an amendment or a job file sound, and do the requirements' own cases come out?
//! Without a file the built-in rulebook is checked.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use rulebook::requirement::Topic;
use rulebook::{Library, data};
use serde_json::json;

use super::library;
use crate::Answer;
use crate::args::Format;
use crate::problem::{Failure, Problem};
use crate::reading;

/// Checks each path, or the built-in rulebook.
pub(crate) fn run(paths: &[PathBuf], format: Format) -> Result<Answer, Failure> {
    let mut good = Vec::new();
    let mut bad = Vec::new();
    let checked: Vec<Result<String, Failure>> = if paths.is_empty() {
        vec![library::built_in().and_then(|l| whole("the built-in rulebook", &l, |_| None))]
    } else {
        paths.iter().map(|path| check(path)).collect()
    };
    for outcome in checked {
        match outcome {
            Ok(line) => good.push(line),
            Err(failure) => bad.extend(failure.0),
        }
    }
    if !bad.is_empty() {
        return Err(Failure(bad));
    }
    Ok(match format {
        Format::Json => Answer::json(&json!({ "format": 1, "command": "validate", "sound": good })),
        Format::Text => Answer::plain(good.iter().map(|line| format!("{line}\n")).collect()),
    })
}

/// One path, by what it is.
fn check(path: &Path) -> Result<String, Failure> {
    if path.is_dir() {
        return folder(path);
    }
    let text = reading::text(path)?;
    let has = |start: &str| {
        text.lines()
            .any(|line| line.trim_start().starts_with(start))
    };
    if has("[place]") {
        let library = library::built_in()?;
        super::setting::stated(&reading::job(path)?, library.facts(), path)?;
        Ok(format!("{}: a sound job file", path.display()))
    } else if has("authority") {
        let amendment = library::amendment(path, &library::built_in()?)?;
        Ok(format!(
            "{}: a sound amendment, {}",
            path.display(),
            amendment.title
        ))
    } else if has("applies") {
        requirement(path, &text)
    } else {
        let mut failure = Failure::new(
            "this is no job, amendment or requirement",
            "name a file with `[place]` (a job), `authority` (an amendment) or `applies` (a requirement), or a rulebook folder",
        );
        for problem in &mut failure.0 {
            problem.file = reading::name(path);
        }
        Err(failure)
    }
}

/// A requirement file, laid into the built-in rulebook in place of the one of its name.
fn requirement(path: &Path, text: &str) -> Result<String, Failure> {
    let part =
        |p: Option<&std::ffi::OsStr>| p.and_then(|n| n.to_str()).unwrap_or_default().to_owned();
    let (name, folder) = (
        part(path.file_name()),
        part(path.parent().and_then(Path::file_name)),
    );
    if !Topic::ALL.iter().any(|t| t.name() == folder) {
        let folders: Vec<&str> = Topic::ALL.iter().map(|t| t.name()).collect();
        return Err(Failure(vec![Problem {
            file: reading::name(path),
            found: format!("a requirement in the folder `{folder}`"),
            expected: format!("a folder named by its subject: {}", folders.join(", ")),
            advice: "move the file".to_owned(),
            ..Problem::default()
        }]));
    }
    let place = format!("requirements/{folder}/{name}");
    let same =
        |file: &str| file.starts_with("requirements/") && file.ends_with(&format!("/{name}"));
    let others = data::FILES.iter().copied().filter(|(file, _)| !same(file));
    let mine = |file: &str| (file == place).then_some(text);
    let library = Library::parse(others.chain([(place.as_str(), text)]))
        .map_err(|errors| renamed(Failure::of_data(&errors, mine), &place, path))?;
    whole("the rulebook with it", &library, mine).map_err(|f| renamed(f, &place, path))?;
    Ok(format!("{}: a sound requirement", path.display()))
}

fn renamed(mut failure: Failure, from: &str, to: &Path) -> Failure {
    for problem in &mut failure.0 {
        if problem.file == from {
            problem.file = reading::name(to);
        }
    }
    failure
}

/// A folder laid out as the built-in data folder is.
fn folder(path: &Path) -> Result<String, Failure> {
    let mut files = BTreeMap::new();
    walk(path, "", &mut files, 0)?;
    let text_of = |file: &str| files.get(file).map(String::as_str);
    let all = files
        .iter()
        .map(|(file, text)| (file.as_str(), text.as_str()));
    let library = Library::parse(all).map_err(|errors| Failure::of_data(&errors, text_of))?;
    whole(&reading::name(path), &library, text_of)
}

/// Deepest folder and most files that are read.
const DEEPEST: usize = 8;
const MOST: usize = 5000;

fn walk(
    folder: &Path,
    under: &str,
    files: &mut BTreeMap<String, String>,
    depth: usize,
) -> Result<(), Failure> {
    let unreadable = |e: std::io::Error| {
        Failure::new(
            format!("cannot read the folder {}: {e}", folder.display()),
            "check its name and permissions",
        )
    };
    if depth > DEEPEST || files.len() > MOST {
        return Err(Failure::new(
            format!(
                "{} is deeper than {DEEPEST} folders or holds more than {MOST} files",
                folder.display()
            ),
            "name the data folder of a rulebook",
        ));
    }
    for entry in std::fs::read_dir(folder).map_err(unreadable)? {
        let path = entry.map_err(unreadable)?.path();
        let Some(name) = path.file_name().and_then(|n| n.to_str()) else {
            continue;
        };
        let inner = if under.is_empty() {
            name.to_owned()
        } else {
            format!("{under}/{name}")
        };
        if path.is_dir() {
            walk(&path, &inner, files, depth + 1)?;
        } else if name.ends_with(".toml") || name.ends_with(".csv") {
            files.insert(inner, reading::text(&path)?);
        }
    }
    Ok(())
}

/// The requirements' own cases, and a line of counts.
fn whole<'t>(
    name: &str,
    library: &Library,
    text_of: impl Fn(&str) -> Option<&'t str>,
) -> Result<String, Failure> {
    let mut problems = Vec::new();
    let mut cases = 0;
    for requirement in library.requirements() {
        cases += requirement.cases.len();
        for (case, judged) in requirement.failing_cases(library.facts(), library.constants()) {
            let missing: Vec<&str> = judged
                .missing
                .iter()
                .map(|f| library.facts().name(f))
                .collect();
            let line =
                text_of(&requirement.file).and_then(|t| t.lines().nth(case.line.checked_sub(1)?));
            problems.push(Problem {
                file: requirement.file.clone(),
                line: case.line,
                column: 0,
                found: format!(
                    "the case comes out as `{}`, missing: {}",
                    judged.verdict,
                    missing.join(", ")
                ),
                expected: format!("`{}`, as the case says", case.verdict),
                advice: "correct the condition or the case".to_owned(),
                excerpt: line.map(|l| (l.to_owned(), 1)),
            });
        }
    }
    if !problems.is_empty() {
        return Err(Failure(problems));
    }
    Ok(format!(
        "{name}: sound; {} requirements with {cases} cases, {} facts, {} sources, {} states",
        library.requirements().len(),
        library.facts().len(),
        library.publications().len(),
        library.adoption().states().len(),
    ))
}
