//! Lists and numbers that conditions name and editions change.
//! Source: `data/constants.toml`; amendments may replace them. A number is in the unit its note names.

use std::collections::BTreeMap;

use model::Edition;
use toml::de::DeValue;

use crate::LoadError;
use crate::editions::by_edition;
use crate::facts::{FactEntry, FactKind};
use crate::reader::{Fields, Source, number};
use crate::source::Check;
use model::nearest;

/// What a constant holds in one edition.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A list of words, for IN and HAS_ANY.
    Words(Vec<String>),
    /// A list of numbers, for IN.
    Numbers(Vec<f64>),
    /// One number, for comparisons.
    Number(f64),
}

impl Value {
    /// What it is, in words.
    pub(crate) const fn sort(&self) -> &'static str {
        match self {
            Self::Words(_) => "a list of words",
            Self::Numbers(_) => "a list of numbers",
            Self::Number(_) => "a number",
        }
    }
}

/// A named list or number, by edition.
#[derive(Clone, Debug, PartialEq)]
pub struct Constant {
    /// `CAPITAL_LETTERS`.
    pub name: String,
    /// What it means, where the file says so.
    pub meaning: Option<String>,
    /// How far it was checked, where the file says so.
    pub check: Option<Check>,
    /// One value per edition, in order of [`Edition::ALL`].
    pub(crate) values: [Value; 5],
}

impl Constant {
    /// The value in an edition.
    #[must_use]
    pub fn value(&self, edition: Edition) -> &Value {
        &self.values[edition.index()]
    }

    /// Any edition's value, for its sort: all are alike.
    pub(crate) fn sample(&self) -> &Value {
        &self.values[0]
    }

    /// The same constant with one value in every edition.
    pub(crate) fn with(&self, value: Value) -> Self {
        Self {
            values: [(); 5].map(|()| value.clone()),
            ..self.clone()
        }
    }

    /// May the fact be looked for in it? Otherwise expected, found and what to do.
    pub(crate) fn suits(&self, entry: &FactEntry) -> Result<(), (String, String, String)> {
        self.values.iter().try_for_each(|value| match value {
            Value::Numbers(_) if entry.kind == FactKind::Number => Ok(()),
            Value::Words(words) if entry.kind != FactKind::Number => words
                .iter()
                .find(|word| entry.word_index(word).is_none())
                .map_or(Ok(()), |word| {
                    let names = entry.words.iter().map(String::as_str);
                    Err((
                        format!("words of `{}`", entry.name),
                        format!("`{word}`"),
                        nearest::advice(word, names, &entry.takes()),
                    ))
                }),
            other => Err((
                format!("a list for `{}`, {}", entry.name, entry.takes()),
                other.sort().to_owned(),
                "use a constant of the fact's kind".to_owned(),
            )),
        })
    }
}

/// All constants by name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Constants(BTreeMap<String, Constant>);

impl Constants {
    /// The constant of that name.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<&Constant> {
        self.0.get(name)
    }

    /// All names, sorted.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.0.keys().map(String::as_str)
    }

    /// All constants, by name.
    pub fn iter(&self) -> impl Iterator<Item = &Constant> {
        self.0.values()
    }

    /// Reads constants from the text of one file, in the form of `data/constants.toml`.
    ///
    /// # Errors
    /// Every mistake in the file.
    pub fn parse(file: &str, text: &str) -> Result<Self, Vec<LoadError>> {
        let mut constants = Self::default();
        Source { file, text }.read("the constants", |root| load(root, &mut constants))?;
        Ok(constants)
    }

    /// Puts a constant in, in place of one of the same name.
    pub(crate) fn put(&mut self, constant: Constant) {
        self.0.insert(constant.name.clone(), constant);
    }
}

/// Reads every `[NAME]` table.
pub(crate) fn load(root: &mut Fields<'_>, constants: &mut Constants) {
    for (name, mut fields) in root.every_table() {
        let at = fields.start();
        if !name.starts_with(|c: char| c.is_ascii_uppercase())
            || !name
                .bytes()
                .all(|b| b.is_ascii_uppercase() || b.is_ascii_digit() || b == b'_')
        {
            fields.fail(
                at,
                "the name of a constant in capital letters, digits and underscores",
                &format!("`{name}`"),
                "rename the constant",
            );
        }
        if let Some(constant) = constant(name, &mut fields) {
            constants.put(constant);
        }
        root.absorb(fields);
    }
}

fn constant(name: &str, fields: &mut Fields<'_>) -> Option<Constant> {
    let meaning = fields.optional_text("meaning");
    let check = fields.optional_check("check");
    let at = fields.start();
    let values = by_edition(fields, |fields, key, value| {
        let read = read_value(value.get_ref());
        if read.is_none() {
            let kind = "a number, a list of numbers or a list of words";
            fields.wrong_kind(value, value.get_ref(), key, kind);
        }
        read
    })?;
    let sorts = values.each_ref().map(Value::sort);
    if let Some(other) = sorts.iter().find(|s| **s != sorts[0]) {
        let expected = format!("{} in every edition", sorts[0]);
        fields.fail(
            at,
            &expected,
            other,
            "give every edition the same sort of value",
        );
        return None;
    }
    Some(Constant {
        name: name.to_owned(),
        meaning,
        check,
        values,
    })
}

/// A value as a data file writes it.
pub(crate) fn read_value(value: &DeValue<'_>) -> Option<Value> {
    let DeValue::Array(items) = value else {
        return number(value).map(Value::Number);
    };
    let numbers: Option<Vec<f64>> = items.iter().map(|i| number(i.get_ref())).collect();
    match numbers {
        Some(numbers) if !numbers.is_empty() => Some(Value::Numbers(numbers)),
        _ => items
            .iter()
            .map(|i| i.get_ref().as_str().map(str::to_owned))
            .collect::<Option<Vec<_>>>()
            .map(Value::Words),
    }
}
