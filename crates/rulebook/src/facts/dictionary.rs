//! Which facts are there? Name, kind, unit, words, meaning, who answers, and the question to ask.
//! Source: `data/facts.toml`, and the `[fact]` tables of amendments. Units are named by each fact.

use rustc_hash::FxHashMap;

use super::datum::{Datum, FactKind};
use super::set::{FactId, MAX_FACTS};
use crate::LoadError;
use crate::condition::KEYWORDS;
use crate::reader::{Fields, Source};
use model::nearest;

/// The most words that one fact's vocabulary may hold.
pub(crate) const MAX_WORDS: usize = 64;

/// Who can answer what a fact asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AskedOf {
    /// Seen or measured at the house.
    Survey,
    /// Decided at the desk: load, plan, scope.
    Office,
    /// The authority having jurisdiction.
    Authority,
    /// The utility.
    Utility,
    /// Nobody: the engine works it out.
    Derived,
}

impl schemars::JsonSchema for AskedOf {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "AskedOf".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let names = Self::ALL.map(Self::name);
        schemars::json_schema!({ "type": "string", "enum": names })
    }
}

impl AskedOf {
    const ALL: [Self; 5] = [
        Self::Survey,
        Self::Office,
        Self::Authority,
        Self::Utility,
        Self::Derived,
    ];

    /// As data files write it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Survey => "survey",
            Self::Office => "office",
            Self::Authority => "authority",
            Self::Utility => "utility",
            Self::Derived => "derived",
        }
    }
}

/// One fact of the dictionary.
#[derive(Clone, Debug, PartialEq)]
pub struct FactEntry {
    /// `subject.name`, for example `circuit.ext_outside_in`.
    pub name: String,
    /// What sort of value it takes.
    pub kind: FactKind,
    /// Unit of a number, for example `in`; none for a count.
    pub unit: Option<String>,
    /// Vocabulary of a word or set.
    pub words: Vec<String>,
    /// Who answers.
    pub asked_of: AskedOf,
    /// What it means, as a statement.
    pub meaning: String,
    /// What to find out, as a question.
    pub question: String,
}

/// All facts, each with a slot.
#[derive(Clone, Debug, Default)]
pub struct FactDictionary {
    entries: Vec<FactEntry>,
    by_name: FxHashMap<String, FactId>,
    by_bare_name: FxHashMap<String, Vec<FactId>>,
}

impl FactDictionary {
    /// The fact of that name.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<FactId> {
        self.by_name.get(name).copied()
    }

    /// Facts of that name without their prefix: `location` finds `panel.location`.
    #[must_use]
    pub fn with_bare_name(&self, bare: &str) -> &[FactId] {
        self.by_bare_name.get(bare).map_or(&[], Vec::as_slice)
    }

    /// The entry of a fact; `None` when the id belongs to another dictionary.
    #[must_use]
    pub fn get(&self, fact: FactId) -> Option<&FactEntry> {
        self.entries.get(fact.index())
    }

    /// Name of a fact, `?` when the id belongs to another dictionary.
    #[must_use]
    pub fn name(&self, fact: FactId) -> &str {
        self.get(fact).map_or("?", |e| &e.name)
    }

    /// How many facts there are: the length of a slice of values.
    #[must_use]
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    /// Is it empty?
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// A slice of values in which nothing is known yet.
    #[must_use]
    pub fn unknown(&self) -> Vec<Option<Datum>> {
        vec![None; self.entries.len()]
    }

    /// All facts in order of their slots.
    pub fn iter(&self) -> impl Iterator<Item = (FactId, &FactEntry)> {
        self.entries
            .iter()
            .enumerate()
            .map(|(i, e)| (FactId(i as u16), e))
    }

    /// The valid name most like a wrong one.
    #[must_use]
    pub fn nearest(&self, name: &str) -> Option<&str> {
        nearest::nearest(name, self.entries.iter().map(|e| e.name.as_str()))
    }

    /// Adds a fact; `None` when its name is taken or the dictionary is full.
    pub(crate) fn add(&mut self, entry: FactEntry) -> Option<FactId> {
        if self.entries.len() >= MAX_FACTS || self.by_name.contains_key(&entry.name) {
            return None;
        }
        let id = FactId(self.entries.len() as u16);
        self.by_name.insert(entry.name.clone(), id);
        if let Some((_, bare)) = entry.name.split_once('.') {
            let same = self.by_bare_name.entry(bare.to_owned()).or_default();
            same.push(id);
        }
        self.entries.push(entry);
        Some(id)
    }
}

/// Adds every `[subject.name]` table to the dictionary.
pub(crate) fn load(root: &mut Fields<'_>, dictionary: &mut FactDictionary) {
    for (subject, mut names) in root.every_table() {
        for (name, fields) in names.every_table() {
            let full = format!("{subject}.{name}");
            add(&full, fields, dictionary, root);
        }
        root.absorb(names);
    }
}

fn add(name: &str, mut fields: Fields<'_>, dictionary: &mut FactDictionary, root: &mut Fields<'_>) {
    let at = fields.start();
    if let Some(entry) = entry(name, &mut fields)
        && dictionary.add(entry).is_none()
    {
        let (expected, help) = if dictionary.len() >= MAX_FACTS {
            (
                format!("at most {MAX_FACTS} facts"),
                "remove facts that nothing reads",
            )
        } else {
            (
                "each fact once".to_owned(),
                "rename or remove one of the two",
            )
        };
        fields.fail(at, &expected, &format!("another fact `{name}`"), help);
    }
    root.absorb(fields);
}

fn entry(name: &str, fields: &mut Fields<'_>) -> Option<FactEntry> {
    let bad = |c: char| !(c.is_ascii_alphanumeric() || c == '_' || c == '.');
    if name.contains(bad) || name.starts_with(|c: char| !c.is_ascii_alphabetic()) {
        let at = fields.start();
        fields.fail(
            at,
            "a fact name of letters, digits and underscores, `subject.name`",
            &format!("`{name}`"),
            "rename the fact",
        );
        return None;
    }
    let kind = fields.one_of("kind", &FactKind::ALL.map(|k| (k.name(), k)));
    let asked_of = fields.one_of("ask", &AskedOf::ALL.map(|a| (a.name(), a)));
    let words = fields.optional_texts("words");
    let unit = fields.optional_text("unit");
    let meaning = fields.text("meaning");
    let question = fields.text("question");
    let kind = kind?;
    let at = fields.start();
    let takes_words = matches!(kind, FactKind::Word | FactKind::Set);
    if takes_words != (1..=MAX_WORDS).contains(&words.len()) {
        let expected = if takes_words {
            format!("`words` with 1 to {MAX_WORDS} entries")
        } else {
            format!("no `words` for a fact of kind `{}`", kind.name())
        };
        fields.fail(
            at,
            &expected,
            &format!("{} words", words.len()),
            "correct `words` or `kind`",
        );
        return None;
    }
    for (i, word) in words.iter().enumerate() {
        let name = |b: u8| b.is_ascii_alphanumeric() || b == b'_';
        let plain = word.bytes().all(name) && word.starts_with(|c: char| c.is_ascii_alphabetic());
        if !plain || KEYWORDS.contains(&word.as_str()) || words[..i].contains(word) {
            let place = fields.place("words");
            fields.fail(
                place,
                "different words of letters, digits and underscores, none a joining word",
                &format!("`{word}`"),
                "rename or remove the word",
            );
            return None;
        }
    }
    Some(FactEntry {
        name: name.to_owned(),
        kind,
        unit,
        words,
        asked_of: asked_of?,
        meaning: meaning?,
        question: question?,
    })
}

impl FactDictionary {
    /// Reads a dictionary from the text of one file, in the form of `data/facts.toml`.
    ///
    /// # Errors
    /// Every mistake in the file.
    pub fn parse(file: &str, text: &str) -> Result<Self, Vec<LoadError>> {
        let source = Source { file, text };
        let mut dictionary = Self::default();
        source.read("the facts", |root| load(root, &mut dictionary))?;
        Ok(dictionary)
    }
}
