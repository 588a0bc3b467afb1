//! What values may a fact take, and how are they written?
//! Source: `data/facts.toml`. A number is in the unit its fact names.

use super::dictionary::FactEntry;
use model::nearest;

/// What sort of value a fact takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FactKind {
    /// True or false.
    Bool,
    /// A finite number, in the fact's unit.
    Number,
    /// One word of the fact's vocabulary.
    Word,
    /// Any words of the fact's vocabulary, none included.
    Set,
}

impl FactKind {
    /// As data files write it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Bool => "yes or no",
            Self::Number => "number",
            Self::Word => "one of",
            Self::Set => "any of",
        }
    }

    pub(crate) const ALL: [Self; 4] = [Self::Bool, Self::Number, Self::Word, Self::Set];
}

/// A known value of a fact. Unknown is the absence of one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Datum {
    /// True or false.
    Bool(bool),
    /// A number in the fact's unit. One that is not finite reads as unknown.
    Number(f64),
    /// Place of the word in the fact's vocabulary.
    Word(u16),
    /// One bit per word of the fact's vocabulary.
    Set(u64),
}

impl Datum {
    /// The sort of value it is.
    #[must_use]
    pub const fn kind(self) -> FactKind {
        match self {
            Self::Bool(_) => FactKind::Bool,
            Self::Number(_) => FactKind::Number,
            Self::Word(_) => FactKind::Word,
            Self::Set(_) => FactKind::Set,
        }
    }
}

/// The text or value does not suit the fact.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{fact}` takes {expected}, found {found}; {help}")]
pub struct BadDatum {
    /// Name of the fact.
    pub fact: String,
    /// What it takes.
    pub expected: String,
    /// What was given.
    pub found: String,
    /// What to do.
    pub help: String,
}

impl FactEntry {
    /// Reads a value from text: `true`, `72`, `service`, `bedroom, kitchen`.
    ///
    /// # Errors
    /// When the text does not suit the fact, with the nearest word.
    pub fn parse(&self, text: &str) -> Result<Datum, BadDatum> {
        let text = text.trim();
        match self.kind {
            FactKind::Bool => match text {
                "true" | "yes" => Ok(Datum::Bool(true)),
                "false" | "no" => Ok(Datum::Bool(false)),
                _ => Err(self.refuse(text, "write true or false")),
            },
            FactKind::Number => text
                .parse()
                .ok()
                .and_then(|n| self.number(n).ok())
                .ok_or_else(|| self.refuse(text, "write a plain number")),
            FactKind::Word => self.word(text),
            FactKind::Set => {
                let inner = text.trim_start_matches('[').trim_end_matches(']');
                self.set(inner.split(',').map(str::trim).filter(|w| !w.is_empty()))
            }
        }
    }

    /// A finite number as a value of this fact.
    ///
    /// # Errors
    /// When the fact takes no number, or the number is not finite.
    pub fn number(&self, number: f64) -> Result<Datum, BadDatum> {
        if self.kind != FactKind::Number || !number.is_finite() {
            return Err(self.refuse(&number.to_string(), "write a value of that kind"));
        }
        Ok(Datum::Number(number))
    }

    /// A word as a value of this fact.
    ///
    /// # Errors
    /// When the fact takes no single word, or not that one.
    pub fn word(&self, word: &str) -> Result<Datum, BadDatum> {
        if self.kind != FactKind::Word {
            return Err(self.refuse(word, "write a value of that kind"));
        }
        self.word_index(word)
            .map(Datum::Word)
            .ok_or_else(|| self.refuse_word(word))
    }

    /// Words as a value of this fact; none at all is a value too.
    ///
    /// # Errors
    /// When the fact takes no set of words, or not one of those.
    pub fn set<'a>(&self, words: impl IntoIterator<Item = &'a str>) -> Result<Datum, BadDatum> {
        let mut bits = 0;
        for word in words {
            if self.kind != FactKind::Set {
                return Err(self.refuse(word, "write a value of that kind"));
            }
            let index = self
                .word_index(word)
                .ok_or_else(|| self.refuse_word(word))?;
            bits |= 1 << index;
        }
        if self.kind != FactKind::Set {
            return Err(self.refuse("a list", "write a value of that kind"));
        }
        Ok(Datum::Set(bits))
    }

    /// Place of a word in the vocabulary.
    #[must_use]
    pub fn word_index(&self, word: &str) -> Option<u16> {
        self.words.iter().position(|w| w == word).map(|i| i as u16)
    }

    /// The value in words, with its unit: `72 in`, `service`, `bedroom, kitchen`.
    #[must_use]
    pub fn print(&self, datum: Datum) -> String {
        let word = |i: usize| self.words.get(i).map_or("?", String::as_str);
        match datum {
            Datum::Bool(true) => "true".to_owned(),
            Datum::Bool(false) => "false".to_owned(),
            Datum::Number(n) => match &self.unit {
                Some(unit) => format!("{n} {unit}"),
                None => n.to_string(),
            },
            Datum::Word(i) => word(i.into()).to_owned(),
            Datum::Set(0) => "none".to_owned(),
            Datum::Set(bits) => (0..64)
                .filter(|i| bits & (1 << i) != 0)
                .map(word)
                .collect::<Vec<_>>()
                .join(", "),
        }
    }

    /// What the fact takes, in words.
    #[must_use]
    pub fn takes(&self) -> String {
        let words = || nearest::list(self.words.iter().map(String::as_str));
        match self.kind {
            FactKind::Bool => "true or false".to_owned(),
            FactKind::Number => match &self.unit {
                Some(unit) => format!("a number ({unit})"),
                None => "a number".to_owned(),
            },
            FactKind::Word => format!("one of {}", words()),
            FactKind::Set => format!("a list of {}", words()),
        }
    }

    fn refuse_word(&self, word: &str) -> BadDatum {
        let words = self.words.iter().map(String::as_str);
        self.refuse(
            word,
            &nearest::advice(word, words, "choose a word of the list"),
        )
    }

    fn refuse(&self, found: &str, help: &str) -> BadDatum {
        BadDatum {
            fact: self.name.clone(),
            expected: self.takes(),
            found: format!("`{found}`"),
            help: help.to_owned(),
        }
    }
}
