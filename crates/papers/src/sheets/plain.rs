//! What are things called by a reader who never saw the job file? Names for boards, circuits and places; unknown is said.
//! Source: the names and words of the job. No units.

use engine::facts::Place;
use model::house::UTILITY;
use model::{Fact, Said};

use crate::material::{Language, Material};
use crate::words::say;

/// A tag of the fact dictionary as words.
pub(super) fn tag(tag: &str) -> String {
    tag.replace('_', " ")
}

/// Tags as words; not known where nobody knows.
pub(super) fn tags(language: Language, tags: &Fact<Vec<String>>) -> String {
    fact(language, tags, |all| {
        let all: Vec<String> = all.iter().map(|t| tag(t)).collect();
        all.join(", ")
    })
}

/// A fact in words, or that it is not known.
pub(super) fn fact<T>(
    language: Language,
    fact: &Fact<T>,
    words: impl FnOnce(&T) -> String,
) -> String {
    match fact.known() {
        Some(is) => words(is),
        None => say(language, "not-known", &[]),
    }
}

/// The same, saying so where it is only planned or assumed.
pub(super) fn claimed<T>(
    language: Language,
    of: &Fact<T>,
    words: impl FnOnce(&T) -> String,
) -> String {
    let value = fact(language, of, words);
    match of.said() {
        Some(Said::Planned) => say(language, "planned", &[("value", &value)]),
        Some(Said::Assumed) => say(language, "assumed", &[("value", &value)]),
        _ => value,
    }
}

/// The text, or that it is not known where it is empty.
pub(super) fn told(language: Language, text: &str) -> String {
    match text {
        "" => say(language, "not-known", &[]),
        text => text.to_owned(),
    }
}

fn named<'t>(name: &'t str, id: &'t str) -> &'t str {
    if name.is_empty() { id } else { name }
}

/// A board, as it will be called; as it was called where it goes.
pub(super) fn board(material: &Material<'_>, id: &str) -> String {
    let job = material.report.job;
    let known = job.after.boards.get(id).or(job.before.boards.get(id));
    match id {
        UTILITY => say(material.setting.language, "the-utility", &[]),
        id => named(known.map_or("", |b| b.name.as_str()), id).to_owned(),
    }
}

/// What a circuit serves.
pub(super) fn circuit(material: &Material<'_>, id: &str) -> String {
    let job = material.report.job;
    let known = job.after.circuits.get(id).or(job.before.circuits.get(id));
    named(known.map_or("", |c| c.serves.as_str()), id).to_owned()
}

/// A feeder, by the board at its end.
pub(super) fn feeder(material: &Material<'_>, id: &str) -> String {
    let job = material.report.job;
    let known = job.after.feeders.get(id).or(job.before.feeders.get(id));
    let language = material.setting.language;
    match known {
        Some(f) if f.from == UTILITY => say(language, "service-conductors", &[]),
        Some(f) => say(
            language,
            "feeder-to",
            &[("board", &board(material, f.to.as_str()))],
        ),
        None => id.to_owned(),
    }
}

/// A place.
pub(super) fn place(material: &Material<'_>, place: Place<'_>) -> String {
    let language = material.setting.language;
    match place {
        Place::Job => say(language, "whole-job", &[]),
        Place::Board(id) => board(material, id.as_str()),
        Place::OldCabinet(id) => say(
            language,
            "old-cabinet-of",
            &[("board", &board(material, id.as_str()))],
        ),
        Place::Feeder(id) => feeder(material, id.as_str()),
        Place::Circuit(id) => circuit(material, id.as_str()),
        Place::Outlet(id) => {
            let outlet = material.report.job.after.outlets.get(id.as_str());
            named(outlet.map_or("", |o| o.name.as_str()), id.as_str()).to_owned()
        }
        Place::Building(_) | Place::Source(_) => place.name().to_owned(),
    }
}

/// The first so many, and how many more there are.
pub(super) fn first(
    language: Language,
    most: usize,
    all: impl IntoIterator<Item = String>,
) -> String {
    let mut all: Vec<String> = all.into_iter().collect();
    let more = all.len().saturating_sub(most);
    all.truncate(most);
    let shown = all.join("; ");
    match more {
        0 => shown,
        more => say(
            language,
            "and-more",
            &[("first", &shown), ("more", &more.to_string())],
        ),
    }
}

/// Places, the first of them by name.
pub(super) fn places<'p>(
    material: &Material<'_>,
    most: usize,
    all: impl IntoIterator<Item = Place<'p>>,
) -> String {
    let names = all.into_iter().map(|p| place(material, p));
    first(material.setting.language, most, names)
}
