//! What does the picture tell about one fact, and who said it?
//! Source: the job's own fields. Numbers are in the unit of the dictionary fact they answer.

use model::units::Unit;
use model::{Fact, Said};
use rulebook::{Datum, FactEntry};

/// A value on its way into a slot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Value<'j> {
    Bool(bool),
    Number(f64),
    Word(&'static str),
    Tags(&'j [String]),
}

/// A value with its witness, or nothing known.
pub(super) type Told<'j> = Option<(Value<'j>, Said)>;

impl Value<'_> {
    /// As the dictionary holds it; nothing when the fact takes another kind or does not know the word.
    pub(super) fn datum(self, entry: &FactEntry) -> Option<Datum> {
        match self {
            Self::Bool(truth) => {
                (entry.kind == rulebook::FactKind::Bool).then_some(Datum::Bool(truth))
            }
            Self::Number(number) => entry.number(number).ok(),
            Self::Word(word) => entry.word_index(word).map(Datum::Word),
            Self::Tags(tags) => entry.set(tags.iter().map(String::as_str)).ok(),
        }
    }
}

/// A surveyed yes or no.
pub(super) fn yes(fact: &Fact<bool>) -> Told<'static> {
    with(fact, |truth| Value::Bool(*truth))
}

/// A surveyed quantity, in the unit its type is named for.
pub(super) fn quantity<U: Unit>(fact: &Fact<U>) -> Told<'static> {
    with(fact, |q| Value::Number(q.get()))
}

/// A surveyed count.
pub(super) fn count<N: Copy + Into<u32>>(fact: &Fact<N>) -> Told<'static> {
    with(fact, |n| Value::Number(f64::from((*n).into())))
}

/// Surveyed tags of the dictionary.
pub(super) fn tags(fact: &Fact<Vec<String>>) -> Told<'_> {
    match fact {
        Fact::Known { is, by } => Some((Value::Tags(is), *by)),
        Fact::Unknown => None,
    }
}

/// A surveyed fact seen as a value.
pub(super) fn with<'j, T>(fact: &Fact<T>, value: impl FnOnce(&T) -> Value<'j>) -> Told<'j> {
    match fact {
        Fact::Known { is, by } => Some((value(is), *by)),
        Fact::Unknown => None,
    }
}

/// Worked out, and certain.
pub(super) fn is(truth: bool) -> Told<'static> {
    Some((Value::Bool(truth), Said::Derived))
}

/// Worked out, or not to be told.
pub(super) fn maybe(truth: Option<bool>) -> Told<'static> {
    truth.and_then(is)
}

/// A number worked out, or not to be told.
pub(super) fn number(number: Option<f64>) -> Told<'static> {
    number.map(|n| (Value::Number(n), Said::Derived))
}

/// A word worked out, or not to be told.
pub(super) fn word(word: Option<&'static str>) -> Told<'static> {
    word.map(|w| (Value::Word(w), Said::Derived))
}

/// Both; false as soon as one is.
pub(super) fn and(a: Option<bool>, b: Option<bool>) -> Option<bool> {
    match (a, b) {
        (Some(false), _) | (_, Some(false)) => Some(false),
        (Some(true), Some(true)) => Some(true),
        _ => None,
    }
}

/// Either; true as soon as one is.
pub(super) fn or(a: Option<bool>, b: Option<bool>) -> Option<bool> {
    match (a, b) {
        (Some(true), _) | (_, Some(true)) => Some(true),
        (Some(false), Some(false)) => Some(false),
        _ => None,
    }
}

/// True as soon as one is, false when all are.
pub(super) fn any(all: impl IntoIterator<Item = Option<bool>>) -> Option<bool> {
    all.into_iter().fold(Some(false), or)
}

/// Does the set hold the tag? Unknown while the set is.
pub(super) fn has(fact: &Fact<Vec<String>>, tag: &str) -> Option<bool> {
    fact.known().map(|tags| tags.iter().any(|t| t == tag))
}
