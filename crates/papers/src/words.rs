//! The message catalogue of papers: every word that a template or a sheet says by itself, by name, in each language.
//! Source: `words/*.json`. What a user wrote is never translated.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use engine::saying::Pattern;

use crate::material::Language;

/// File of each language.
pub(crate) const ENGLISH: &str = include_str!("../words/en.json");
pub(crate) const SPANISH: &str = include_str!("../words/es.json");

static CATALOGUES: LazyLock<[BTreeMap<String, String>; 2]> = LazyLock::new(|| {
    // A test keeps both files readable and complete.
    [ENGLISH, SPANISH].map(|text| serde_json::from_str(text).unwrap_or_default())
});

/// The catalogue of a language.
#[must_use]
pub fn catalogue(language: Language) -> &'static BTreeMap<String, String> {
    &CATALOGUES[match language {
        Language::English => 0,
        Language::Spanish => 1,
    }]
}

/// What the engine says, in Spanish: sentence by name.
pub(crate) const ENGINE_SPANISH: &str = include_str!("../words/engine.es.json");
/// Parts of the built-in price book in Spanish, by their words there.
pub(crate) const PARTS_SPANISH: &str = include_str!("../words/parts.es.json");

static SENTENCES: LazyLock<BTreeMap<String, String>> =
    LazyLock::new(|| serde_json::from_str(ENGINE_SPANISH).unwrap_or_default());
static PARTS: LazyLock<BTreeMap<String, String>> =
    LazyLock::new(|| serde_json::from_str(PARTS_SPANISH).unwrap_or_default());

/// The words of a language for a sentence of the engine.
#[must_use]
pub fn sentence(language: Language, pattern: Pattern) -> &'static str {
    match language {
        Language::English => pattern.english,
        Language::Spanish => SENTENCES
            .get(pattern.name)
            .map_or(pattern.english, String::as_str),
    }
}

/// What a part of the price book is called; a part that the shop describes in words of its own keeps them.
#[must_use]
pub fn part(language: Language, what: &str) -> &str {
    match language {
        Language::English => what,
        Language::Spanish => PARTS.get(what).map_or(what, String::as_str),
    }
}

/// The words of this name, with `{key}` replaced by its value; the name itself where there are none.
#[must_use]
pub fn say(language: Language, name: &str, values: &[(&str, &str)]) -> String {
    let found = catalogue(language).get(name);
    let mut text = found.map_or_else(|| name.to_owned(), String::clone);
    for (key, value) in values {
        text = text.replace(&format!("{{{key}}}"), value);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn slots(text: &str) -> Vec<&str> {
        let mut all: Vec<&str> = text
            .split('{')
            .skip(1)
            .filter_map(|part| part.split('}').next())
            .collect();
        all.sort_unstable();
        all
    }

    #[test]
    fn whatever_the_engine_says_is_said_in_spanish_with_the_same_slots() {
        let spanish: BTreeMap<String, String> = serde_json::from_str(ENGINE_SPANISH).unwrap();
        let lists = [
            engine::cutover::SAYINGS,
            pictures::cutover::ALL,
            pictures::face::ALL,
        ];
        let all: Vec<Pattern> = lists.concat();
        for pattern in &all {
            let words = spanish.get(pattern.name);
            let words = words.unwrap_or_else(|| panic!("{} has no Spanish", pattern.name));
            assert_eq!(slots(pattern.english), slots(words), "{}", pattern.name);
        }
        assert_eq!(spanish.len(), all.len());
    }

    #[test]
    fn every_part_of_the_built_in_book_has_a_spanish_name() {
        let book = shop::Book::built_in().unwrap();
        for (name, part) in book.parts.iter() {
            assert_ne!(
                super::part(Language::Spanish, &part.what),
                part.what,
                "{name}"
            );
        }
    }

    #[test]
    fn both_languages_have_the_same_words_with_the_same_slots() {
        let read = |text: &str| -> BTreeMap<String, String> { serde_json::from_str(text).unwrap() };
        let (english, spanish) = (read(ENGLISH), read(SPANISH));
        assert_eq!(
            english.keys().collect::<Vec<_>>(),
            spanish.keys().collect::<Vec<_>>()
        );
        for (name, text) in &english {
            assert_eq!(slots(text), slots(&spanish[name]), "{name}");
            assert!(!text.is_empty() && !spanish[name].is_empty(), "{name}");
        }
    }
}
