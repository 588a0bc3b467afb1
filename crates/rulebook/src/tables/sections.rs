//! Where each subject stands in each edition, and how far that number was checked.
//! Source: `data/sections.csv`; an empty cell means the edition has no such section, `not found` that nobody confirmed it.

use std::sync::Arc;

use model::Edition;

use super::editions::Editions;
use super::reader::{Reader, check_status, nearest};
use super::subject::Subject;
use crate::source::{Check, Cite};

const FILE: &str = "sections.csv";
const HEADER: [&str; 7] = [
    "subject", "ed2014", "ed2017", "ed2020", "ed2023", "ed2026", "check",
];

/// Sections of every subject in one edition, in the order of [`Subject::ALL`].
#[derive(Clone, Debug, Default)]
pub(crate) struct Sections(Vec<Place>);

#[derive(Clone, Debug)]
struct Place {
    cite: Cite,
    exists: bool,
}

impl Sections {
    pub(crate) fn cite(&self, subject: Subject, edition: Edition) -> Cite {
        self.0.get(subject as usize).map_or_else(
            || Cite {
                edition,
                section: Arc::from(subject.key()),
                check: Check::NotFound,
            },
            |p| p.cite.clone(),
        )
    }

    pub(crate) fn exists(&self, subject: Subject) -> bool {
        self.0.get(subject as usize).is_some_and(|p| p.exists)
    }
}

/// Reads the file; every subject must have one row, and every row a known subject.
pub(crate) fn load(reader: &mut Reader<'_>) -> [Sections; 5] {
    let records = reader.records(FILE, &HEADER);
    let mut rows: Vec<Option<[Place; 5]>> = vec![None; Subject::ALL.len()];
    for record in &records {
        let line = record.line;
        let cell = |i: usize| record.cell(i);
        let Some(subject) = Subject::ALL.iter().find(|s| s.key() == cell(0)) else {
            let near = nearest(cell(0), Subject::ALL.iter().map(|s| s.key()));
            let found = format!("`{}`", cell(0));
            reader.wrong(
                FILE,
                line,
                Some("subject"),
                "a subject that calculations cite",
                found,
                near,
            );
            continue;
        };
        let Some(checks) = checks(cell(6), line, reader) else {
            continue;
        };
        let texts = [cell(1), cell(2), cell(3), cell(4), cell(5)];
        let places = Edition::ALL.map(|e| place(e, &texts, checks.get(e.index()).copied()));
        if let Some(slot) = rows.get_mut(*subject as usize) {
            if slot.is_some() {
                let found = format!("a second row for `{subject}`");
                reader.wrong(
                    FILE,
                    line,
                    Some("subject"),
                    "one row per subject",
                    found,
                    "remove one",
                );
            }
            *slot = Some(places);
        }
    }
    for (subject, row) in Subject::ALL.iter().zip(&rows) {
        if row.is_none() && !records.is_empty() {
            reader.wrong(
                FILE,
                0,
                None,
                format!("a row for `{subject}`"),
                "none",
                "add it",
            );
        }
    }
    Edition::ALL.map(|e| {
        let in_edition = |row: &Option<[Place; 5]>| {
            row.as_ref()
                .and_then(|r| r.get(e.index()).cloned())
                .unwrap_or_else(|| Place {
                    cite: Cite {
                        edition: e,
                        section: Arc::from(""),
                        check: Check::NotFound,
                    },
                    exists: false,
                })
        };
        Sections(rows.iter().map(in_edition).collect())
    })
}

fn place(edition: Edition, texts: &[&str; 5], check: Option<Check>) -> Place {
    let text = texts.get(edition.index()).copied().unwrap_or_default();
    let check = check.unwrap_or(Check::NotFound);
    let (section, check) = match text {
        "" => ("(no section in this edition)".to_owned(), check),
        "not found" => {
            let earlier = Edition::ALL.iter().rev().find_map(|e| {
                texts
                    .get(e.index())
                    .filter(|t| *e < edition && !t.is_empty() && **t != "not found")
                    .map(|t| format!("(place not found; {t} in {e})"))
            });
            (
                earlier.unwrap_or_else(|| "(place not found)".to_owned()),
                Check::NotFound,
            )
        }
        section => (section.to_owned(), check),
    };
    Place {
        cite: Cite {
            edition,
            section: Arc::from(section),
            check,
        },
        exists: !text.is_empty(),
    }
}

/// A status for all editions, then exceptions: `2+ sources; 2023-2026: memory`.
fn checks(text: &str, line: u64, reader: &mut Reader<'_>) -> Option<[Check; 5]> {
    let mut parts = text.split(';').map(str::trim);
    let mut all = [check_status(parts.next().unwrap_or_default()); 5];
    for part in parts {
        let read = part.split_once(':').and_then(|(editions, status)| {
            Some((
                Editions::parse(editions).ok()?,
                check_status(status.trim())?,
            ))
        });
        let Some((editions, status)) = read else {
            all = [None; 5];
            break;
        };
        for (e, slot) in Edition::ALL.into_iter().zip(&mut all) {
            if editions.contains(e) {
                *slot = Some(status);
            }
        }
    }
    let [Some(a), Some(b), Some(c), Some(d), Some(e)] = all else {
        let expected = "a status, then exceptions, such as `2+ sources; 2023-2026: memory`";
        reader.wrong(
            FILE,
            line,
            Some("check"),
            expected,
            format!("`{text}`"),
            "correct the cell",
        );
        return None;
    };
    Some([a, b, c, d, e])
}
