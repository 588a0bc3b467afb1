//! How is a requirement's file read, with every mistake told?
//! Source: `docs/add-a-rule.md` describes the form. Costs in US dollars.

use std::collections::BTreeSet;

use model::{Dollars, Edition};

use super::case::{cases, unreachable};
use super::words::{Bites, Kind, Topic};
use super::{Cost, Requirement};
use crate::condition::{Condition, Constants};
use crate::editions::by_edition;
use crate::facts::FactDictionary;
use crate::reader::{Fields, Located, describe};
use crate::source::{Check, Cite};
use model::nearest;

/// What a requirement may refer to.
pub(crate) struct Known<'a> {
    pub(crate) facts: &'a FactDictionary,
    pub(crate) constants: &'a Constants,
    pub(crate) sources: &'a BTreeSet<String>,
    pub(crate) triggers: &'a BTreeSet<String>,
}

/// Reads a requirement from its own file, `requirements/<subject>/<id>.toml`.
pub(crate) fn file(fields: &mut Fields<'_>, known: &Known<'_>) -> Option<Requirement> {
    let path = fields.file();
    let mut parts = path.rsplit('/');
    let id = parts.next().and_then(|name| name.strip_suffix(".toml"));
    let folder = parts.next().unwrap_or_default();
    let subject = Topic::ALL.iter().copied().find(|t| t.name() == folder);
    if subject.is_none() {
        let names = || Topic::ALL.iter().map(|t| t.name());
        let expected = format!("a folder named {}", nearest::list(names()));
        let help = nearest::advice(folder, names(), "move the file");
        fields.fail(0, &expected, &format!("`{folder}`"), &help);
    }
    let id = id.unwrap_or_default().to_owned();
    requirement(fields, id, subject, known)
}

/// Reads a requirement that an amendment adds: the same form, with `id` and `subject` inside.
pub(crate) fn inline(fields: &mut Fields<'_>, known: &Known<'_>) -> Option<Requirement> {
    let id = fields.text("id");
    let subject = fields.one_of("subject", &Topic::choices());
    requirement(fields, id.unwrap_or_default(), subject, known)
}

fn requirement(
    fields: &mut Fields<'_>,
    id: String,
    subject: Option<Topic>,
    known: &Known<'_>,
) -> Option<Requirement> {
    let plain = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-';
    if id.is_empty() || !id.bytes().all(plain) {
        let at = fields.place("id");
        let expected = "a name of small letters, digits and hyphens";
        fields.fail(at, expected, &format!("`{id}`"), "rename the requirement");
    }
    let title = fields.text("title");
    let why = fields.text("why");
    let kind = fields.one_of("kind", &Kind::choices());
    let triggers = names(fields, "triggers", known.triggers, "triggers.toml");
    let bites = fields.one_of("bites", &Bites::choices());
    let danger = danger(fields);
    let check = fields.check("check");
    let sources = names(fields, "sources", known.sources, "sources.toml");
    let applies = condition(fields, "applies", known);
    fields.allow("satisfied");
    let told = fields.has("satisfied");
    let satisfied = told.then(|| condition(fields, "satisfied", known));
    let satisfied_by = fields.optional_texts("satisfied_by");
    let exceptions = fields.optional_texts("exceptions");
    let changes = fields.optional_text("changes");
    let interpretation = fields.optional_text("interpretation");
    let note = fields.optional_text("note");
    let inspector = fields.optional_text("inspector");
    let remedy = remedy(fields);
    let sections = sections(fields);
    let cases = cases(fields, known.facts);
    let unreachable = unreachable(fields);
    let (remedy, cost) = remedy?;
    Some(Requirement {
        id,
        title: title?,
        why: why?,
        subject: subject?,
        kind: kind?,
        triggers,
        sections: sections?,
        applies: applies?,
        satisfied: match satisfied {
            Some(read) => Some(read?),
            None => None,
        },
        satisfied_by,
        exceptions,
        changes,
        interpretation,
        note,
        remedy,
        cost,
        inspector,
        bites: bites?,
        danger: danger?,
        check: check?,
        sources,
        cases,
        unreachable,
        file: fields.file().to_owned(),
        amended: Vec::new(),
    })
}

/// Reads a condition; its mistakes are placed in the file.
pub(crate) fn condition(
    fields: &mut Fields<'_>,
    key: &'static str,
    known: &Known<'_>,
) -> Option<Condition> {
    let Located { text, start, exact } = fields.located(key)?;
    Condition::parse(text, known.facts, known.constants)
        .map_err(|e| {
            let at = start + if exact { e.offset } else { 0 };
            fields.fail(at, &e.expected, &e.found, &e.help);
        })
        .ok()
}

fn names(
    fields: &mut Fields<'_>,
    key: &'static str,
    known: &BTreeSet<String>,
    file: &str,
) -> Vec<String> {
    if !fields.has(key) {
        let at = fields.start();
        let expected = format!("`{key}` in a requirement");
        let help = format!("add `{key}` with names declared in {file}");
        fields.fail(at, &expected, "none", &help);
    }
    let names = fields.located_texts(key);
    for name in &names {
        if known.contains(name.text) {
            continue;
        }
        let otherwise = format!("declare it in {file}");
        let help = nearest::advice(name.text, known.iter().map(String::as_str), &otherwise);
        let expected = format!("a name declared in {file}");
        fields.fail(name.start, &expected, &format!("`{}`", name.text), &help);
    }
    names.into_iter().map(|n| n.text.to_owned()).collect()
}

fn danger(fields: &mut Fields<'_>) -> Option<u8> {
    let number = fields.number("danger")?;
    let danger = [0u8, 1, 2, 3].into_iter().find(|d| f64::from(*d) == number);
    if danger.is_none() {
        let at = fields.place("danger");
        let help = "0 is none, 3 is grave danger of shock or fire";
        fields.fail(at, "0, 1, 2 or 3", &number.to_string(), help);
    }
    danger
}

/// What is usually done, and what its material costs where someone gave a figure.
fn remedy(fields: &mut Fields<'_>) -> Option<(String, Option<Cost>)> {
    let mut inner = fields.table("remedy")?;
    let text = inner.text("text");
    let keys = ["low", "high", "per", "check"];
    let told = keys.iter().any(|key| inner.has(key));
    let cost = told.then(|| cost(&mut inner)).flatten();
    for key in keys {
        inner.allow(key);
    }
    fields.absorb(inner);
    Some((text?, cost))
}

fn cost(fields: &mut Fields<'_>) -> Option<Cost> {
    let low = amount(fields, "low");
    let high = amount(fields, "high");
    let per = fields.text("per");
    let check = fields.check("check");
    if let (Some(low), Some(high)) = (low, high)
        && low > high
    {
        let at = fields.place("low");
        let found = format!("{low} to {high}");
        fields.fail(at, "a cost range from low to high", &found, "swap the two");
    }
    Some(Cost {
        low: low?,
        high: high?,
        per: per?,
        check: check?,
    })
}

fn amount(fields: &mut Fields<'_>, key: &'static str) -> Option<Dollars> {
    let number = fields.number(key)?;
    let amount = Dollars::from_amount(number).filter(|d| *d >= Dollars::ZERO);
    if amount.is_none() {
        let at = fields.place(key);
        let help = "write US dollars, for example 45 or 12.50";
        fields.fail(
            at,
            "an amount of dollars, none below 0",
            &number.to_string(),
            help,
        );
    }
    amount
}

fn sections(fields: &mut Fields<'_>) -> Option<[Option<Cite>; 5]> {
    let mut inner = fields.table("section")?;
    let confirmed = inner.editions("confirmed");
    let sections = by_edition(&mut inner, |fields, key, value| {
        let text = value.get_ref().as_str().filter(|t| !t.trim().is_empty());
        if text.is_none() {
            let expected = format!("`{key}` to be a section, or \"none\"");
            let found = describe(value.get_ref());
            fields.fail(
                value.span().start,
                &expected,
                &found,
                "write the section in quotes",
            );
        }
        text.map(str::to_owned)
    });
    fields.absorb(inner);
    let sections = sections?;
    Some(Edition::ALL.map(|edition| {
        let section = sections[edition.index()].as_str();
        (section != "none").then(|| Cite {
            edition,
            section: section.into(),
            check: if confirmed.contains(&edition) {
                Check::OneSource
            } else {
                Check::Memory
            },
        })
    }))
}
