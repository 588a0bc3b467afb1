//! The message catalogue of papers: every word that a template or a sheet says by itself, by name, in each language.
//! Source: `words/*.json`. What a user wrote is never translated.

use std::collections::BTreeMap;
use std::sync::LazyLock;

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
