//! Single numbers and yes-or-no rules of the code, by name.
//! Source: `data/tables/limits.csv` and `data/tables/flags.csv`; each row names its unit and the subject it is cited under.

use std::collections::HashMap;

use model::Edition;

use super::TablesIn;
use super::entry::{Entry, found};
use super::keys::{FLAGS, Flag, LIMITS, Limit, Quantity};
use super::reader::{Cells, Reader, nearest};
use super::subject::Subject;
use crate::source::{Lookup, NoValue};

const LIMITS_FILE: &str = "tables/limits.csv";
const FLAGS_FILE: &str = "tables/flags.csv";

/// Limits and rules of one edition: by slot for the program, by name for readers.
#[derive(Clone, Debug, Default)]
pub(crate) struct Limits {
    numbers: Vec<Slot<f64>>,
    flags: Vec<Slot<bool>>,
    by_name: HashMap<String, (Entry<f64>, Subject, String)>,
}

/// The row of a name, or where to look for the rule that the edition does not have.
type Slot<T> = Result<(Entry<T>, Subject), Subject>;

struct Limited {
    key: String,
    unit: String,
    subject: Subject,
    value: Option<f64>,
}

struct Held {
    key: String,
    subject: Subject,
    value: Option<bool>,
}

pub(crate) fn load(reader: &mut Reader<'_>) -> [Limits; 5] {
    let numbers = reader.rows(
        LIMITS_FILE,
        &["key", "value", "unit", "subject"],
        1,
        |cells| {
            let value = cells.number("value", |n| n);
            Some(Limited {
                key: cells.text("key").to_owned(),
                unit: cells.text("unit").to_owned(),
                subject: subject(cells)?,
                value,
            })
        },
    );
    let flags = reader.rows(FLAGS_FILE, &["key", "holds", "subject"], 1, |cells| {
        let value = yes_or_no(cells, "holds");
        Some(Held {
            key: cells.text("key").to_owned(),
            subject: subject(cells)?,
            value,
        })
    });
    for row in &numbers {
        if let Some((_, unit)) = LIMITS.iter().find(|(name, _)| *name == row.value.key)
            && *unit != row.value.unit
        {
            let found = format!("`{}`", row.value.unit);
            let advice = "convert the value and write the expected unit";
            reader.wrong(
                LIMITS_FILE,
                row.line,
                Some("unit"),
                format!("`{unit}`"),
                found,
                advice,
            );
        }
    }
    for (name, _) in LIMITS {
        if !numbers.iter().any(|r| r.value.key == *name) {
            let near = nearest(name, numbers.iter().map(|r| r.value.key.as_str()));
            reader.wrong(
                LIMITS_FILE,
                0,
                None,
                format!("a row for `{name}`"),
                "none",
                format!("add it; {near}"),
            );
        }
    }
    for name in FLAGS {
        if !flags.iter().any(|r| r.value.key == *name) {
            let near = nearest(name, flags.iter().map(|r| r.value.key.as_str()));
            reader.wrong(
                FLAGS_FILE,
                0,
                None,
                format!("a row for `{name}`"),
                "none",
                format!("add it; {near}"),
            );
        }
    }
    let number_subjects: Vec<Subject> = LIMITS.iter().map(|(n, _)| first_subject(n)).collect();
    let flag_subjects: Vec<Subject> = FLAGS.iter().map(|n| first_subject(n)).collect();
    Edition::ALL.map(|edition| {
        let by_name: HashMap<_, _> = numbers
            .iter()
            .filter(|r| r.holds_in(edition))
            .map(|r| {
                let entry = Entry {
                    value: r.value.value,
                    check: r.check,
                    section: None,
                };
                (
                    r.value.key.clone(),
                    (entry, r.value.subject, r.value.unit.clone()),
                )
            })
            .collect();
        let held: HashMap<_, _> = flags
            .iter()
            .filter(|r| r.holds_in(edition))
            .map(|r| {
                let entry = Entry {
                    value: r.value.value,
                    check: r.check,
                    section: None,
                };
                (r.value.key.as_str(), (entry, r.value.subject))
            })
            .collect();
        Limits {
            numbers: LIMITS
                .iter()
                .zip(&number_subjects)
                .map(|((name, _), absent)| {
                    let row = by_name.get(*name).map(|(e, s, _)| (e.clone(), *s));
                    row.ok_or(*absent)
                })
                .collect(),
            flags: FLAGS
                .iter()
                .zip(&flag_subjects)
                .map(|(name, absent)| held.get(name).cloned().ok_or(*absent))
                .collect(),
            by_name,
        }
    })
}

/// The subject a row is cited under.
pub(crate) fn subject(cells: &mut Cells<'_>) -> Option<Subject> {
    let text = cells.text("subject").to_owned();
    let subject = Subject::ALL.iter().copied().find(|s| s.key() == text);
    if subject.is_none() {
        let near = nearest(&text, Subject::ALL.iter().map(|s| s.key()));
        cells.wrong(
            "subject",
            "a subject of sections.csv",
            format!("`{text}`"),
            near,
        );
    }
    subject
}

/// A cell that answers a question; `None` where it is empty.
pub(crate) fn yes_or_no(cells: &mut Cells<'_>, column: &str) -> Option<bool> {
    match cells.text(column) {
        "yes" => Some(true),
        "no" => Some(false),
        "" => None,
        other => {
            let found = format!("`{other}`");
            cells.wrong(column, "yes or no", found, "correct the cell");
            None
        }
    }
}

impl TablesIn<'_> {
    /// A single number of the code, in its unit. `NoEntry` where the edition has no such rule.
    pub fn limit<U: Quantity>(&self, limit: Limit<U>) -> Lookup<U> {
        let held = self.tables.limits.numbers.get(limit.slot);
        let wanted = || format!("`{}`", limit.name);
        match held {
            Some(Ok((entry, subject))) => found(
                Some(entry.map(|n| Some(U::of(n)))),
                self.cite(*subject),
                wanted,
            ),
            Some(Err(absent)) => Err(self.no_rule(*absent, wanted())),
            None => Err(self.no_rule(first_subject(limit.name), wanted())),
        }
    }

    /// Whether a yes-or-no rule holds. `NoEntry` where the edition has no such rule.
    pub fn flag(&self, flag: Flag) -> Lookup<bool> {
        let held = self.tables.limits.flags.get(flag.slot);
        let wanted = || format!("`{}`", flag.name);
        match held {
            Some(Ok((entry, subject))) => found(Some(entry.clone()), self.cite(*subject), wanted),
            Some(Err(absent)) => Err(self.no_rule(*absent, wanted())),
            None => Err(self.no_rule(first_subject(flag.name), wanted())),
        }
    }

    fn no_rule(&self, subject: Subject, wanted: String) -> NoValue {
        let cite = self.cite(subject);
        NoValue::NoEntry { cite, wanted }
    }

    /// A single number by its name in the data file, with its unit as text. `None`: no edition-bound row has that name.
    #[must_use]
    pub fn limit_named(&self, name: &str) -> Option<(Lookup<f64>, &str)> {
        let (entry, subject, unit) = self.tables.limits.by_name.get(name)?;
        let value = found(Some(entry.clone()), self.cite(*subject), || {
            format!("`{name}`")
        });
        Some((value, unit))
    }

    /// Names of all single numbers of the edition.
    pub fn limit_names(&self) -> impl Iterator<Item = &str> {
        self.tables.limits.by_name.keys().map(String::as_str)
    }
}

/// The subject to cite for a rule that this edition does not have: the one whose name is nearest.
fn first_subject(name: &str) -> Subject {
    Subject::ALL
        .iter()
        .copied()
        .filter(|s| name.starts_with(s.key()))
        .max_by_key(|s| s.key().len())
        .unwrap_or(Subject::StandardLoad)
}
