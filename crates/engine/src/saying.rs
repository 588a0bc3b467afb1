//! A sentence that the engine says: which one, and what stands in it, so that it can be said in another language as well.
//! Source: the lists of [`Pattern`]s beside the calculations, in English. Whoever has words of another language looks them up by name.

use std::fmt;

use serde::{Serialize, Serializer};

/// A sentence with places for values.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pattern {
    /// Its name in a catalogue of words.
    pub name: &'static str,
    /// In English; `{key}` stands for a value.
    pub english: &'static str,
}

/// Words of a language for each pattern.
pub type Words<'w> = &'w dyn Fn(Pattern) -> &'static str;

/// The English ones.
#[must_use]
pub const fn english(pattern: Pattern) -> &'static str {
    pattern.english
}

/// What stands in a place of a sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Part {
    /// A name, a number, what somebody wrote: the same in every language.
    Text(String),
    /// Sentences, with a semicolon between them.
    Sayings(Vec<Saying>),
}

/// A sentence with its values.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Saying {
    /// Which sentence.
    pub pattern: Pattern,
    /// What stands in its places.
    pub parts: Vec<(&'static str, Part)>,
}

impl Saying {
    /// The sentence with a value more.
    #[must_use]
    pub fn with(mut self, key: &'static str, value: impl fmt::Display) -> Self {
        self.parts.push((key, Part::Text(value.to_string())));
        self
    }

    /// The sentence with another one in it.
    #[must_use]
    pub fn with_saying(self, key: &'static str, saying: Self) -> Self {
        self.with_all(key, vec![saying])
    }

    /// The sentence with others in it.
    #[must_use]
    pub fn with_all(mut self, key: &'static str, sayings: Vec<Self>) -> Self {
        self.parts.push((key, Part::Sayings(sayings)));
        self
    }

    /// Said with the words that are found for each pattern.
    pub fn in_words(&self, words: Words<'_>) -> String {
        let pattern = words(self.pattern);
        let mut text = String::with_capacity(pattern.len());
        // What stands in a place is never searched for places again.
        for (i, piece) in pattern.split('{').enumerate() {
            let place = (i > 0).then(|| piece.split_once('}')).flatten();
            let part = place.and_then(|(key, rest)| {
                let (_, part) = self.parts.iter().find(|(known, _)| *known == key)?;
                Some((part, rest))
            });
            match part {
                Some((part, rest)) => {
                    text.push_str(&part.in_words(words));
                    text.push_str(rest);
                }
                None => {
                    text.push_str(if i > 0 { "{" } else { "" });
                    text.push_str(piece);
                }
            }
        }
        text
    }
}

impl Part {
    fn in_words(&self, words: Words<'_>) -> String {
        match self {
            Self::Text(text) => text.clone(),
            Self::Sayings(all) => {
                let each: Vec<String> = all.iter().map(|s| s.in_words(words)).collect();
                each.join("; ")
            }
        }
    }
}

impl From<Pattern> for Saying {
    fn from(pattern: Pattern) -> Self {
        Self {
            pattern,
            parts: Vec::new(),
        }
    }
}

impl Pattern {
    /// The sentence with a value.
    #[must_use]
    pub fn with(self, key: &'static str, value: impl fmt::Display) -> Saying {
        Saying::from(self).with(key, value)
    }
}

impl fmt::Display for Saying {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.in_words(&english))
    }
}

impl schemars::JsonSchema for Saying {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Saying".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "string" })
    }
}

impl Serialize for Saying {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

/// Declares patterns: a constant for each, and a list of all.
#[macro_export]
macro_rules! patterns {
    ($($(#[$doc:meta])* $constant:ident $name:literal $english:literal;)*) => {
        $($(#[$doc])* pub(crate) const $constant: $crate::saying::Pattern = $crate::saying::Pattern {
            name: $name,
            english: $english,
        };)*

        /// All of them.
        pub const ALL: &[$crate::saying::Pattern] = &[$($constant),*];
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    const OUTER: Pattern = Pattern {
        name: "outer",
        english: "first {what}; then {name}",
    };
    const INNER: Pattern = Pattern {
        name: "inner",
        english: "open {name}",
    };

    #[test]
    fn a_sentence_is_said_in_the_words_that_are_given_for_it() {
        let saying = Saying::from(OUTER)
            .with_all(
                "what",
                vec![INNER.with("name", "S"), INNER.with("name", "Q")],
            )
            .with("name", "go");
        assert_eq!(saying.to_string(), "first open S; open Q; then go");
        let other = |p: Pattern| match p.name {
            "inner" => "abra {name}",
            _ => "{name} después de: {what}",
        };
        assert_eq!(saying.in_words(&other), "go después de: abra S; abra Q");
    }
}
